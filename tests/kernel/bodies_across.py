"""Bodies with features across or off the axis, for the comparison with the kernel."""

from collections.abc import Mapping
from typing import Any

from kernel.shapes import Knot, Profile

Feature = tuple[str, Mapping[str, float], Mapping[str, str], Mapping[str, Profile]]


def _f(kind: str, profile: Profile | None = None, choices: Mapping[str, str] | None = None, **numbers: Any) -> Feature:
    """State a feature; `start` and `end` stand for from and to."""
    named = {{"start": "from", "end": "to"}.get(name, name): value for name, value in numbers.items()}
    return kind, named, choices or {}, {} if profile is None else {"profile": profile}


def _round(diameter: float, start: float, end: float, **more: Any) -> Feature:
    return _f("cylinder", diameter=diameter, start=start, end=end, **more)


def _slot(length: float, width: float, start: float = 0.0) -> Profile:
    """Return an outline with round ends, in (along, across)."""
    r = width / 2.0
    near, far = start + r, start + length - r
    rounds = (Knot(far + r, 0.0, r, arc=True), Knot(far, r, r, arc=True)), (Knot(near - r, 0.0, r, arc=True),)
    return [Knot(near, -r, r, arc=True), (far, -r), *rounds[0], (near, r), *rounds[1]]


def _beam(height: float, width: float, web: float, flange: float, root: float) -> Profile:
    """Return half of an I section's outline and its mirror image, in (across, up)."""
    h, b, w, t = height / 2.0, width / 2.0, web / 2.0, flange
    right = [(b, -h), (b, -h + t), Knot(w, -h + t, root), Knot(w, h - t, root), (b, h - t), (b, h)]
    left = [(-b, h), (-b, h - t), Knot(-w, h - t, root), Knot(-w, -h + t, root), (-b, -h + t), (-b, -h)]
    return [*right, *left]


def _segment(chord: float, height: float) -> Profile:
    """Return the outline of a Woodruff key: a segment of a circle under its chord, in (along, up)."""
    radius = (chord * chord / 4.0 + height * height) / (2.0 * height)
    half = chord / 2.0
    return [(-half, 0.0), Knot(0.0, -height, radius, arc=True), Knot(half, 0.0, radius, arc=True)]


# A hole of 14 in quarters: the kernel draws the ellipse in which a slope cuts it as a chain of 15 points an arc.
_HOLE = [Knot(7.0 * x, 7.0 * y, 7.0, arc=True) for x, y in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))]
_CASTLE = [
    _f("hexagon", across_flats=18.0, start=0.0, end=10.8, choices={"chamfer": "from"}),
    _round(16.0, 10.8, 15.0),
    _f("tapped_bore", diameter=12.0, pitch=1.75, start=0.0, end=15.0, choices={"countersink": "from"}),
]


def _flange(sizes: tuple[float, ...], count: float) -> list[Feature]:
    """State a flange by D, K, L, d1 (raised face), C (thickness), f and bore; the holes straddle the planes."""
    rim, circle, hole, face, thick, raised, bore = sizes
    return [
        _round(rim, 0.0, thick - raised),
        _round(face, thick - raised, thick),
        _f("bore", diameter=bore, start=0.0, end=thick),
        _f(
            "bolt_holes",
            circle=circle,
            diameter=hole,
            count=count,
            first=180.0 / count,
            start=0.0,
            end=thick - raised,
        ),
    ]


BODIES: dict[str, list[Feature]] = {
    "shaft with two keyways": [
        _f("cylinder", diameter=30.0, start=0.0, end=60.0),
        _f("keyway", diameter=30.0, width=8.0, depth=4.0, start=8.0, end=33.0, angle=20.0),
        _f(
            "keyway", choices={"ends": "square"}, diameter=30.0, width=6.0, depth=3.5, start=40.0, end=60.0, angle=200.0
        ),
    ],
    "shaft, two flats": [_round(20.0, 0.0, 50.0), _f("flats", diameter=20.0, across_flats=16.0, start=30.0, end=50.0)],
    "shaft, two flats at 22.5": [
        _round(20.0, 0.0, 50.0, choices={"chamfer": "to"}, chamfer_length=2.0),
        _f("flats", diameter=20.0, across_flats=16.0, start=30.0, end=50.0, first=22.5),
    ],
    "shaft, square with round corners at 45": [
        _round(20.0, 0.0, 50.0),
        _f("flats", diameter=20.0, across_flats=16.0, start=30.0, end=50.0, count=4, first=45.0),
    ],
    "shaft, sharp square at 30": [
        _round(20.0, 0.0, 50.0),
        _f("flats", diameter=20.0, across_flats=13.0, start=10.0, end=30.0, count=4, first=30.0),
    ],
    "shaft, one flat": [
        _round(6.0, 0.0, 15.0),
        _f("flats", diameter=6.0, across_flats=5.5, start=5.0, end=15.0, count=1),
    ],
    "shaft, six flats": [
        _round(20.0, 0.0, 40.0),
        _f("flats", diameter=20.0, across_flats=17.0, start=12.0, end=26.0, count=6),
    ],
    "square shank": [_round(30.0, -10.0, 0.0), _f("square", across_flats=12.0, start=0.0, end=25.0)],
    "square end, chamfered": [
        _round(12.0, 0.0, 20.0),
        _f("square", across_flats=10.0, start=20.0, end=32.0, choices={"chamfer": "to"}),
    ],
    "octagon bar": [_f("octagon", across_flats=24.0, start=0.0, end=60.0, choices={"chamfer": "both"})],
    "twelve point head": [
        _f("twelve_point", across_flats=13.0, start=-10.0, end=0.0, choices={"chamfer": "from"}),
        _round(10.0, 0.0, 30.0),
    ],
    "clevis pin": [
        _round(18.0, -4.0, 0.0),
        _round(12.0, 0.0, 40.0, choices={"chamfer": "to"}, chamfer_length=2.0),
        _f("cross_hole", diameter=3.2, at=34.0, outer=12.0),
    ],
    "clevis pin, two holes rolled": [
        _round(12.0, 0.0, 40.0, choices={"chamfer": "both"}, chamfer_length=2.0),
        _f("cross_hole", diameter=3.2, at=6.0, outer=12.0, angle=22.5),
        _f("cross_hole", diameter=3.2, at=34.0, outer=12.0, angle=45.0),
    ],
    "cross hole, countersunk": [
        _round(20.0, 0.0, 40.0),
        _f("cross_hole", diameter=6.0, at=20.0, outer=20.0, countersink_diameter=8.0),
    ],
    # at 25, 40 and 60 degrees the kernel draws the far mouth visible through solid metal
    "cross hole, countersunk at 10": [
        _round(20.0, 0.0, 40.0),
        _f("cross_hole", diameter=6.0, at=20.0, outer=20.0, countersink_diameter=8.0, angle=10.0),
    ],
    "tube, hole in the near wall": [
        _round(30.0, 0.0, 40.0),
        _f("bore", diameter=20.0, start=0.0, end=40.0),
        _f("cross_hole", diameter=8.0, at=15.0, outer=30.0, angle=60.0, choices={"through": "near"}),
    ],
    "tube, hole through both": [
        _round(30.0, 0.0, 40.0),
        _f("bore", diameter=20.0, start=0.0, end=40.0),
        _f("cross_hole", diameter=8.0, at=15.0, outer=30.0, angle=45.0),
    ],
    "blind hole": [
        _round(20.0, 0.0, 40.0),
        _f("cross_hole", diameter=6.0, at=20.0, outer=20.0, depth=6.0, choices={"through": "near"}),
    ],
    "two holes that cross": [
        _round(20.0, 0.0, 40.0),
        _f("cross_hole", diameter=6.0, at=20.0, outer=20.0),
        _f("cross_hole", diameter=4.0, at=20.0, outer=20.0, angle=90.0),
    ],
    "castle nut": [*_CASTLE, _f("slots", width=3.5, start=15.0, end=10.0, count=6, outer=21.0, inner=8.0)],
    "castle nut, round floors": [
        *_CASTLE,
        _f(
            "slots",
            width=3.5,
            start=15.0,
            end=10.0,
            count=6,
            first=30.0,
            outer=21.0,
            inner=8.0,
            choices={"floor": "round"},
        ),
    ],
    "castle nut, round floors and slots from the axis": [
        *_CASTLE,
        _f("slots", width=3.5, start=15.0, end=10.0, count=4, outer=21.0, choices={"floor": "round"}),
    ],
    "shaft with a round keyway at its end": [
        _round(30.0, 0.0, 60.0),
        _f("pocket", _slot(40.0, 10.0, 35.0), start=9.0, end=20.0, choices={"along": "up"}),
    ],
    "bar with a groove of round section along it": [
        _round(30.0, 0.0, 40.0),
        _f("pocket", [Knot(3.0, 15.0, 3.0, arc=True), Knot(-3.0, 15.0, 3.0, arc=True)], start=-1.0, end=41.0),
    ],
    "hook": [_round(12.0, 0.0, 40.0), _f("bend", diameter=12.0, at=40.0, radius=18.0, angle=135.0, direction=70.0)],
    "elbow with a branch": [
        _round(33.7, -60.0, 0.0),
        _f("bore", diameter=27.3, start=-60.0, end=0.0),
        _f("bend", diameter=33.7, at=0.0, radius=38.0, bore=27.3),
        _f("branch", diameter=21.3, bore=16.0, at=-30.0, length=32.0, angle=110.0),
    ],
    "slotted round nut": [
        _round(45.0, 0.0, 10.0, choices={"chamfer": "both"}, chamfer_length=1.0),
        _f("tapped_bore", diameter=30.0, pitch=1.5, start=0.0, end=10.0, choices={"countersink": "both"}),
        _f("slots", width=5.0, start=0.0, end=10.0, count=4, outer=45.0, inner=40.0, first=45.0),
    ],
    "three dogs": [
        _round(40.0, 0.0, 20.0),
        _f("bore", diameter=16.0, start=0.0, end=20.0),
        _f("slots", width=8.0, start=20.0, end=12.0, count=3, outer=40.0),
    ],
    # of the sizes of EN 1092-1, type 01, PN 16, DN 50 and DN 80, from memory
    "flange, 4 holes": _flange((165.0, 125.0, 18.0, 102.0, 18.0, 2.0, 61.5), 4),
    "flange, 8 holes": _flange((200.0, 160.0, 18.0, 138.0, 20.0, 2.0, 90.5), 8),
    "flange, counterbored": [
        _round(80.0, 0.0, 16.0),
        _f(
            "bolt_holes",
            circle=55.0,
            diameter=9.0,
            count=3,
            start=0.0,
            end=16.0,
            counterbore_diameter=15.0,
            counterbore_depth=8.6,
            choices={"counterbored": "to"},
        ),
    ],
    "parallel key A, plan": [
        _f("prism", _slot(40.0, 10.0), start=-4.0, end=4.0, choices={"along": "up"}),
    ],
    "parallel key A, on its side": [
        _f("prism", _slot(40.0, 10.0), start=-4.0, end=4.0, choices={"along": "across"}),
    ],
    "Woodruff key": [_f("prism", _segment(18.57, 7.5), start=-3.0, end=3.0, choices={"along": "across"})],
    "beam": [_f("prism", _beam(100.0, 100.0, 6.0, 10.0, 12.0), start=0.0, end=300.0)],
    "taper washer": [
        _f(
            "prism",
            [(0.0, -15.0), (4.0, -15.0), (6.4, 15.0), (0.0, 15.0)],
            start=-15.0,
            end=15.0,
            choices={"along": "across", "centred": "yes"},
        ),
        _f("pocket", _HOLE, start=-1.0, end=8.0),
    ],
    "shaft with keyway": [
        _round(30.0, 0.0, 60.0),
        _f("pocket", _slot(32.0, 8.0, 10.0), start=11.0, end=20.0, choices={"along": "up"}),
    ],
    "elbow": [
        _round(33.7, -20.0, 0.0),
        _f("bore", diameter=27.3, start=-20.0, end=0.0),
        _f("bend", diameter=33.7, at=0.0, radius=38.0, bore=27.3, tail=20.0),
    ],
    "elbow of 45 at 30": [
        _round(33.7, -20.0, 0.0),
        _f("bore", diameter=27.3, start=-20.0, end=0.0),
        _f("bend", diameter=33.7, at=0.0, radius=38.0, bore=27.3, tail=20.0, angle=45.0, direction=30.0),
    ],
    "elbow alone": [_f("bend", diameter=33.7, at=0.0, radius=38.0, bore=27.3)],
    "U-bolt": [_round(10.0, 0.0, 60.0), _f("bend", diameter=10.0, at=60.0, radius=30.0, angle=180.0, tail=60.0)],
    "U-bolt at 45": [
        _round(10.0, 0.0, 60.0),
        _f("bend", diameter=10.0, at=60.0, radius=30.0, angle=180.0, tail=60.0, direction=45.0),
    ],
    "reducing tee": [
        _round(60.3, -60.0, 60.0),
        _f("bore", diameter=53.0, start=-60.0, end=60.0),
        _f("branch", diameter=33.7, bore=27.3, at=0.0, length=55.0),
    ],
    "reducing tee at 30": [
        _round(60.3, -60.0, 60.0),
        _f("bore", diameter=53.0, start=-60.0, end=60.0),
        _f("branch", diameter=33.7, bore=27.3, at=0.0, length=55.0, angle=30.0),
    ],
    "equal tee": [
        _round(60.3, -60.0, 60.0),
        _f("bore", diameter=53.0, start=-60.0, end=60.0),
        _f("branch", diameter=60.3, bore=53.0, at=0.0, length=60.0),
    ],
    "lateral": [
        _round(60.3, -60.0, 90.0),
        _f("bore", diameter=53.0, start=-60.0, end=90.0),
        _f("branch", diameter=33.7, bore=27.3, at=0.0, length=90.0, inclination=45.0),
    ],
    "eye bolt": [
        _f("eye", diameter=20.0, section=8.0, at=-14.0),
        _round(8.0, 0.0, 30.0),
    ],
    "eye bolt, thin shank at 22.5": [
        _f("eye", diameter=20.0, section=8.0, at=-14.0, direction=22.5),
        _round(6.0, 0.0, 30.0),
    ],
}
