"""The kernel's solids of heads of regular polygons, made from what their parameters mean."""

import math
from collections.abc import Callable, Mapping

from OCP.TopoDS import TopoDS_Shape

from kernel.booleans import cut_from, fused, unified
from kernel.shapes import Profile, extrude, regular, revolve

Numbers = Mapping[str, float]
Choices = Mapping[str, str]
Profiles = Mapping[str, Profile]
Made = tuple[list[TopoDS_Shape], list[TopoDS_Shape]]  # added to the body, cut from it


def _at(end: str, choice: str) -> bool:
    return choice in (end, "both")


def _head(n: Numbers, choices: Choices, prism: TopoDS_Shape, corner: float) -> Made:
    """Turn the chamfers onto a prism: cones at an angle to the end face, whose circle there is given."""
    circle, wide = n["chamfer_diameter"] / 2.0, 1.2 * corner
    deep = (wide - circle) * math.tan(math.radians(n["chamfer_angle"]))
    rings = [
        revolve([(n[end], circle), (n[end], wide), (n[end] + way * deep, wide)])
        for end, way in (("from", 1.0), ("to", -1.0))
        if _at(end, choices["chamfer"])
    ]
    return [cut_from(prism, rings)], []


def _polygon(sides: int) -> Callable[[Numbers, Choices, Profiles], Made]:
    def make(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
        outline = regular(sides, n["across_flats"])
        return _head(n, choices, extrude(outline, n["from"], n["to"]), math.hypot(*outline[0]))

    return make


def _twelve_point(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Fuse two hexagons, one with a face up and one with a corner up."""
    outlines = [regular(6, n["across_flats"], turn) for turn in (0.0, 30.0)]
    prism = unified(fused([extrude(outline, n["from"], n["to"]) for outline in outlines]))
    return _head(n, choices, prism, math.hypot(*outlines[0][0]))


KINDS: Mapping[str, Callable[[Numbers, Choices, Profiles], Made]] = {
    "hexagon": _polygon(6),
    "octagon": _polygon(8),
    "square": _polygon(4),
    "twelve_point": _twelve_point,
}
