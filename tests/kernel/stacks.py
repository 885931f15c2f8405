"""Random bodies that make sense: cylinders, polygons and a thread end to end, and perhaps a hole. They shrink well."""

import math
from dataclasses import dataclass

from hypothesis import strategies as st

from kernel.parts import bore, cylinder, polygon, tapped, thread
from kernel.solids import Stated

_WIDTHS = st.integers(6, 20).map(float)  # whole numbers: that faces come to lie flush is wanted
# But no cylinder and no chamfer's circle touches a flat: there the kernel shows lines that lie behind the polygon.
_ACROSS = _WIDTHS.map(lambda width: width + 0.3)
_LENGTHS = st.integers(4, 12).map(float)
_ENDS = st.sampled_from(("none", "from", "to", "both"))


@dataclass(frozen=True, slots=True)
class _Stage:
    """A feature with the radii that its faces fill at both its ends, and where it ends."""

    feature: Stated
    first: float
    last: float
    end: float


@st.composite
def stacks(draw: st.DrawFn) -> list[Stated]:
    """Draw the features of a body."""
    stages: list[_Stage] = []
    for _ in range(draw(st.integers(1, 4))):
        start, before = (stages[-1].end, stages[-1].last) if stages else (0.0, 0.0)
        stages.append(draw(st.one_of(_cylinders(start, before), _polygons(start))))
    if draw(st.booleans()):
        stages.append(draw(_threads(stages[-1].end)))
    return [stage.feature for stage in stages] + draw(_holes(stages))


@st.composite
def _cylinders(draw: st.DrawFn, start: float, before: float) -> _Stage:
    width, length, ends = draw(_WIDTHS), draw(_LENGTHS), draw(_ENDS)
    radius, end = width / 2.0, start + length
    fillet = draw(st.sampled_from((0.0, 0.5, 1.0)))
    if ends == "none" and fillet and before >= radius + fillet:
        return _Stage(cylinder(width, start, end, fillet=fillet), radius, radius, end)
    if ends == "none":
        return _Stage(cylinder(width, start, end), radius, radius, end)
    along, angle = draw(st.sampled_from((0.5, 1.0))), draw(st.sampled_from((45.0, 30.0, 60.0)))
    rim = radius - along * math.tan(math.radians(angle))
    made = cylinder(width, start, end, chamfer=ends, chamfer_length=along, chamfer_angle=angle)
    return _Stage(made, rim if ends != "to" else radius, rim if ends != "from" else radius, end)


@st.composite
def _polygons(draw: st.DrawFn, start: float) -> _Stage:
    width, end, ends = draw(_ACROSS), start + draw(_LENGTHS), draw(_ENDS)
    kind = draw(st.sampled_from(("hexagon", "octagon", "twelve_point")))
    angle, circle = draw(st.sampled_from((30.0, 15.0))), width * draw(st.sampled_from((0.95, 0.9, 0.98)))
    made = polygon(width, start, end, ends, kind, chamfer_angle=angle, chamfer_diameter=circle)
    return _Stage(made, circle / 2.0, circle / 2.0, end)


@st.composite
def _threads(draw: st.DrawFn, start: float) -> _Stage:
    diameter, end = draw(_WIDTHS), start + draw(_LENGTHS)
    made = thread(diameter, diameter / 8.0, start, end, pointed=draw(st.booleans()))
    return _Stage(made, diameter / 2.0, (made.numbers["point_diameter"] or diameter) / 2.0, end)


@st.composite
def _holes(draw: st.DrawFn, stages: list[_Stage]) -> list[Stated]:
    """Draw no hole, one right through, one from either end, or a tapped one; with material left around it."""
    end, room = stages[-1].end, 2.0 * min(min(s.first, s.last) for s in stages) - 0.5
    width = room * draw(st.sampled_from((0.5, 0.75)))
    match draw(st.sampled_from(("none", "through", "from", "to", "tapped"))):
        case "through":
            return [bore(width, 0.0, end)]
        case "from":
            return [bore(width, 0.0, end / 2.0)]
        case "to":
            return [bore(width, end / 3.0, end)]
        case "tapped":
            return [tapped(width, width / 8.0, 0.0, end, draw(_ENDS))]
    return []
