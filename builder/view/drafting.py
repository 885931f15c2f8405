"""The sizes that drafting conventions need, in the drawing's unit, and the axes of a view."""

from dataclasses import dataclass

from builder.view.frame import Frame
from builder.words.roles import Role
from builder.words.shapes import Bounds, Line, Point


@dataclass(frozen=True, slots=True)
class Drafting:
    """What the shop standard asks of a view: thread style by name; lengths as drawn, in the drawing's unit."""

    thread_style: str
    thread_gap: float  # least distance between the crest and root lines of a thread (ISO 6410-1)
    axis_overhang: float
    hatch_spacing: tuple[float, float]  # least and most; between them it follows the part's size


def axes(frame: Frame, extent: Bounds, overhang: float) -> tuple[Line, ...]:
    """Return the axis of a side view, or the centre mark of an end view, standing out over the outline."""
    left, right = extent.left - overhang, extent.right + overhang
    level = Line(Point(left, 0.0), Point(right, 0.0), Role.AXIS)
    if not frame.at_end:
        return (level,)
    low, high = extent.bottom - overhang, extent.top + overhang
    return level, Line(Point(0.0, low), Point(0.0, high), Role.AXIS)
