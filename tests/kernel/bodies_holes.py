"""Bodies with holes, threads and drives, for the comparison with the kernel: plausible sizes."""

from collections.abc import Mapping
from typing import Any

from kernel.shapes import Profile

Feature = tuple[str, Mapping[str, float], Mapping[str, str], Mapping[str, Profile]]


def _f(kind: str, choices: Mapping[str, str] | None = None, **numbers: Any) -> Feature:
    """State a feature; `start` and `end` stand for from and to."""
    named = {{"start": "from", "end": "to"}.get(name, name): value for name, value in numbers.items()}
    return kind, named, choices or {}, {}


def _round(diameter: float, start: float, end: float) -> Feature:
    return _f("cylinder", diameter=diameter, start=start, end=end)


def _thread(d: float, pitch: float, start: float, end: float, **more: Any) -> Feature:
    return _f("thread", diameter=d, pitch=pitch, start=start, end=end, point_diameter=d - 1.2 * pitch, **more)


BODIES: Mapping[str, list[Feature]] = {
    "socket head cap screw": [
        _round(13.0, -8.0, 0.0),
        _round(8.0, 0.0, 12.0),
        _thread(8.0, 1.25, 12.0, 40.0),
        _f("hexagon_socket", across_flats=6.0, start=-8.0, end=-4.0, point_angle=120.0),
    ],
    "set screw with a cone point": [
        _f("thread", {"chamfer": "both"}, diameter=10.0, pitch=1.5, start=0.0, end=12.0, point_diameter=8.0),
        _f("taper", diameter=8.0, end_diameter=1.0, start=12.0, end=15.0),
        _f("hexagon_socket", across_flats=5.0, start=0.0, end=4.0),
    ],
    "set screw with a dog point and a chamfered mouth": [
        _f("thread", {"chamfer": "both"}, diameter=10.0, pitch=1.5, start=0.0, end=16.0, point_diameter=8.0),
        _round(7.0, 16.0, 20.0),
        _f("hexagon_socket", across_flats=5.0, start=0.0, end=5.0, mouth=6.4),
    ],
    "set screw with a cup point": [
        _thread(10.0, 1.5, 0.0, 16.0),
        _f("countersink", {"side": "from"}, diameter=5.0, bore=0.0, at=16.0, angle=118.0),
        _f("slot", width=1.6, diameter=10.0, start=0.0, end=2.4),
    ],
    "slotted countersunk screw": [
        _f("taper", diameter=15.0, end_diameter=8.0, start=0.0, end=3.5),
        _thread(8.0, 1.25, 3.5, 30.0),
        _f("slot", width=2.0, diameter=15.0, start=0.0, end=1.9),
    ],
    "cheese head with a cross recess": [
        _round(14.0, -5.0, 0.0),
        _thread(8.0, 1.25, 0.0, 20.0),
        _f("cross_recess", diameter=8.0, width=1.5, start=-5.0, end=-1.5),
    ],
    "cylinder head with six lobes": [
        _round(13.0, -8.0, 0.0),
        _thread(8.0, 1.25, 0.0, 20.0),
        _f("six_lobe", diameter=6.65, inner=4.7, start=-8.0, end=-4.5, point_angle=140.0),
    ],
    "button head with six lobes": [
        _f("crown", diameter=14.0, start=-1.0, end=-4.6),
        _round(14.0, -1.0, 0.0),
        _thread(8.0, 1.25, 0.0, 20.0),
        _f("six_lobe", diameter=5.6, inner=3.95, start=-4.6, end=-2.0),
    ],
    "stud": [
        _thread(8.0, 1.25, 0.0, -12.0),
        _round(8.0, 0.0, 10.0),
        _thread(8.0, 1.25, 10.0, 30.0, run_out=3.0),
    ],
    "blind tapped hole": [
        _round(30.0, 0.0, 30.0),
        _f(
            "tapped_bore",
            {"countersink": "from", "bottom": "drill"},
            diameter=10.0,
            pitch=1.5,
            start=0.0,
            end=15.0,
            drill_to=20.0,
        ),
    ],
    "tapped from the far side, with a relief": [
        _round(30.0, 0.0, 30.0),
        _f(
            "tapped_bore",
            {"countersink": "from", "bottom": "flat"},
            diameter=10.0,
            pitch=1.5,
            start=30.0,
            end=15.0,
            undercut_diameter=10.5,
            undercut_width=4.0,
        ),
        _f("bore", {"bottom": "drill"}, diameter=6.0, start=0.0, end=4.0),
    ],
    "counterbored and countersunk": [
        _round(30.0, 0.0, 20.0),
        _f("counterbore", diameter=18.0, start=0.0, end=9.0),
        _f("bore", diameter=11.0, start=9.0, end=18.0),
        _f("countersink", {"side": "from"}, diameter=15.0, bore=11.0, at=20.0),
    ],
    "plug with a square socket": [
        _f("hexagon", {"chamfer": "from"}, across_flats=24.0, start=-6.0, end=0.0),
        _thread(16.0, 1.5, 0.0, 14.0),
        _f("square_socket", across_flats=8.0, start=-6.0, end=-1.0),
    ],
    "reduced shank": [
        _f("hexagon", {"chamfer": "from"}, across_flats=18.0, start=-7.5, end=0.0),
        _round(10.1, 0.0, 25.0),
        _thread(12.0, 1.75, 25.0, 50.0),
    ],
    "pan head with a cross recess": [
        _f("crown", diameter=8.0, start=-2.0, end=-3.1),
        _round(8.0, -2.0, 0.0),
        _thread(4.0, 0.7, 0.0, 16.0),
        _f("cross_recess", diameter=4.4, width=1.1, start=-3.1, end=-0.7),
    ],
    "cross recess from the far end": [
        _round(12.0, 0.0, 8.0),
        _f("cross_recess", diameter=7.0, width=1.8, start=8.0, end=4.4, point_angle=150.0),
    ],
    "set screw with a flat point": [
        _f("thread", {"chamfer": "both"}, diameter=10.0, pitch=1.5, start=12.0, end=0.0, point_diameter=7.0),
        _f("hexagon_socket", across_flats=5.0, start=12.0, end=7.0, point_angle=120.0, mouth=6.2),
    ],
    "oval head, slotted aslant": [
        _f("crown", diameter=15.0, start=0.0, end=-2.0),
        _f("taper", diameter=15.0, end_diameter=8.0, start=0.0, end=3.5),
        _thread(8.0, 1.25, 3.5, 30.0),
        _f("slot", width=2.0, diameter=15.0, start=-2.0, end=1.2, angle=45.0),
    ],
    "cheese head, slotted aslant": [
        _round(13.0, -5.0, 0.0),
        _thread(8.0, 1.25, 0.0, 25.0),
        _f("slot", width=2.0, diameter=13.0, start=-5.0, end=-3.0, angle=30.0),
    ],
    "holes from both sides": [
        _f("hexagon", {"chamfer": "both"}, across_flats=30.0, start=0.0, end=40.0),
        _f(
            "tapped_bore",
            {"countersink": "from", "bottom": "drill", "hand": "left"},
            diameter=12.0,
            pitch=1.75,
            start=40.0,
            end=26.0,
            drill_to=22.0,
            run_out=3.0,
        ),
        _f("countersink", diameter=14.0, bore=9.0, at=0.0, angle=60.0),
        _f("bore", {"bottom": "drill"}, diameter=9.0, start=2.5 * 3.0**0.5, end=14.0, point_angle=140.0),
    ],
    "plug with a drilled square socket": [
        _round(24.0, -6.0, 0.0),
        _thread(16.0, 1.5, 0.0, 14.0),
        _f("square_socket", across_flats=9.0, start=-6.0, end=-1.0, point_angle=118.0),
    ],
    "spotface and a flat blind bore": [
        _round(40.0, 0.0, 25.0),
        _f("counterbore", diameter=26.0, start=25.0, end=24.0),
        _f("bore", {"bottom": "flat"}, diameter=14.0, start=24.0, end=10.0),
    ],
}
