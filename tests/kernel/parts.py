"""Parts to compare: fasteners of published or plausible sizes, and bodies whose faces meet in awkward ways."""

from collections.abc import Mapping, Sequence

from kernel import bodies_across, bodies_holes, bodies_turned
from kernel.ours import stated
from kernel.scene import Part, single
from kernel.solids import Stated


def cylinder(diameter: float, start: float, end: float, fillet: float = 0.0, **chamfer: str | float) -> Stated:
    """State a cylinder; `chamfer` its ends, `chamfer_length`, `chamfer_angle`."""
    numbers = {"diameter": diameter, "from": start, "to": end, "fillet": fillet}
    numbers |= {name: value for name, value in chamfer.items() if isinstance(value, float)}
    return stated("cylinder", numbers, chamfer=str(chamfer.get("chamfer", "none")))


def polygon(across: float, start: float, end: float, chamfer: str = "none", kind: str = "hexagon", **more) -> Stated:
    """State a head of a regular polygon."""
    return stated(kind, {"across_flats": across, "from": start, "to": end, **more}, chamfer=chamfer)


def thread(diameter: float, pitch: float, start: float, end: float, pointed: bool = True) -> Stated:
    """State an external thread, its point chamfered to about the root."""
    point = diameter - 1.2269 * pitch if pointed else 0.0
    return stated("thread", {"diameter": diameter, "pitch": pitch, "from": start, "to": end, "point_diameter": point})


def bore(diameter: float, start: float, end: float) -> Stated:
    """State a plain hole."""
    return stated("bore", {"diameter": diameter, "from": start, "to": end})


def tapped(diameter: float, pitch: float, start: float, end: float, countersink: str = "both") -> Stated:
    """State a tapped hole."""
    numbers = {"diameter": diameter, "pitch": pitch, "from": start, "to": end}
    return stated("tapped_bore", numbers, countersink=countersink)


# M12 x 50, ISO 4014: s 18, k 7.5, b 30 (published); washer face and fillet of plausible size
_BOLT = (
    polygon(18.0, -7.5, -0.6, "from"),
    cylinder(16.63, -0.6, 0.0),
    cylinder(12.0, 0.0, 20.0, fillet=0.6),
    thread(12.0, 1.75, 20.0, 50.0),
)
_NUT = (polygon(18.0, 0.0, 10.8, "both"), tapped(12.0, 1.75, 0.0, 10.8))  # ISO 4032 M12: s 18, m 10.8
_WASHER = (cylinder(24.0, 0.0, 2.5), bore(13.0, 0.0, 2.5))  # ISO 7089 for M12

_PLAIN: Mapping[str, Part] = {
    "bolt": single(*_BOLT),
    "screw threaded to the head": single(polygon(8.0, -3.5, 0.0, "from"), thread(5.0, 0.8, 0.0, 16.0)),
    "long bolt": single(polygon(30.0, -12.5, 0.0, "from"), cylinder(20.0, 0.0, 108.0), thread(20.0, 2.5, 108.0, 160.0)),
    "cap screw": single(
        cylinder(18.0, -12.0, 0.0, chamfer="from", chamfer_length=0.6, chamfer_angle=45.0),
        bore(10.0, -12.0, -6.0),
        cylinder(12.0, 0.0, 14.0, fillet=0.6),
        thread(12.0, 1.75, 14.0, 50.0),
    ),
    "set screw": single(thread(8.0, 1.25, 0.0, 12.0), bore(4.0, 0.0, 5.0)),
    "nut": single(*_NUT),
    "thin nut": single(polygon(18.0, 0.0, 6.0, "both"), tapped(12.0, 1.75, 0.0, 6.0)),
    "nut with washer face": single(
        polygon(24.0, 0.0, 13.8, "to"), cylinder(22.5, -0.8, 0.0), tapped(16.0, 2.0, -0.8, 13.8)
    ),
    "hexagon nut on a flange": single(
        polygon(15.0, 3.0, 10.0, "to"), cylinder(21.8, 0.0, 3.0), tapped(10.0, 1.5, 0.0, 10.0, "to")
    ),
    "square nut": single(polygon(13.0, 0.0, 6.5, "to", "square"), tapped(8.0, 1.25, 0.0, 6.5, "none")),
    "square bolt": single(polygon(13.0, -5.5, 0.0, "from", "square"), thread(8.0, 1.25, 0.0, 30.0)),
    "octagon nut": single(polygon(30.0, 0.0, 12.0, "both", "octagon"), tapped(20.0, 2.5, 0.0, 12.0)),
    "twelve-point flange screw": single(
        polygon(12.0, -10.0, -3.0, "from", "twelve_point"), cylinder(20.0, -3.0, 0.0), thread(10.0, 1.5, 0.0, 30.0)
    ),
    "washer": single(*_WASHER),
    "chamfered washer": single(
        cylinder(24.0, 0.0, 3.0, chamfer="to", chamfer_length=0.75, chamfer_angle=45.0), bore(13.0, 0.0, 3.0)
    ),
    "bush with a counterbore": single(
        cylinder(30.0, 0.0, 5.0), cylinder(20.0, 5.0, 25.0), bore(16.0, 0.0, 10.0), bore(12.0, 10.0, 25.0)
    ),
    "pin chamfered at both ends": single(
        cylinder(10.0, 0.0, 40.0, chamfer="both", chamfer_length=2.0, chamfer_angle=15.0)
    ),
    "stepped shank": single(
        cylinder(30.0, -6.0, 0.0),
        cylinder(20.0, 0.0, 20.0, fillet=2.0),
        cylinder(14.0, 20.0, 45.0, fillet=1.0),
        thread(10.0, 1.5, 45.0, 60.0),
    ),
    "shank between two collars": single(cylinder(16.0, 0.0, 4.0), cylinder(8.0, 4.0, 20.0), cylinder(12.0, 20.0, 26.0)),
    "flush cylinders": single(cylinder(12.0, 0.0, 10.0), cylinder(12.0, 10.0, 25.0), thread(12.0, 1.75, 25.0, 40.0)),
    "flush hexagons": single(polygon(12.0, 0.0, 10.0), polygon(12.0, 10.0, 25.0, "to")),
    "hexagon on a slightly larger disc": single(polygon(18.0, 0.0, 8.0, "both"), cylinder(20.0, 8.0, 10.0)),
    "hexagon on a disc across its corners": single(polygon(18.0, 0.0, 8.0), cylinder(36.0 / 3**0.5, 8.0, 12.0)),
    "hexagon on a disc across its flats": single(polygon(18.0, 0.0, 8.0), cylinder(18.0, 8.0, 12.0)),
    "hexagon chamfered to its flats": single(polygon(18.0, 0.0, 12.0, "both", chamfer_diameter=18.0)),
    "hexagon between cylinders": single(
        cylinder(10.0, -20.0, 0.0), polygon(18.0, 0.0, 6.0, "both"), cylinder(14.0, 6.0, 16.0), bore(5.0, -20.0, 16.0)
    ),
    "hexagon on square": single(polygon(16.0, 0.0, 8.0, kind="square"), polygon(17.0, 8.0, 16.0, "to")),
    "bolt through a washer": Part((_BOLT, (cylinder(24.0, 0.0, 2.5), bore(13.5, 0.0, 2.5))), whole=frozenset({0})),
    "nut on a washer": Part(((*_NUT,), (cylinder(24.0, -2.5, 0.0), bore(13.0, -2.5, 0.0)))),
    "rings one in the other": Part(
        ((cylinder(40.0, 0.0, 12.0), bore(30.0, 0.0, 12.0)), (cylinder(22.0, 0.0, 12.0), bore(15.0, 0.0, 12.0)))
    ),
}


def _stated(bodies: Mapping[str, Sequence[bodies_turned.Feature]]) -> dict[str, tuple[Stated, ...]]:
    return {
        name: tuple(stated(kind, numbers, profiles, **choices) for kind, numbers, choices, profiles in features)
        for name, features in bodies.items()
    }


def _parts() -> Mapping[str, Part]:
    turned, holes = _stated(bodies_turned.BODIES), _stated(bodies_holes.BODIES)
    scenes = {name: Part(tuple(turned[n] for n in names)) for name, names in bodies_turned.SCENES.items()}
    parts = {**_PLAIN, **{name: single(*made) for name, made in {**turned, **holes}.items()}, **scenes}
    assert len(parts) == len(_PLAIN) + len(turned) + len(holes) + len(scenes)
    return parts


PARTS: Mapping[str, Part] = _parts()
# The kernel takes long over these: crossings of cylinders, tori.
ACROSS: Mapping[str, Part] = {name: single(*made) for name, made in _stated(bodies_across.BODIES).items()}
