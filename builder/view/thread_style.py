"""The contract of a thread style, and what the styles share: which lines stand for a thread in a view."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import product
from typing import Protocol

from builder.body.curves import RingArc, Segment
from builder.body.solid import Surface, ThreadMark
from builder.body.vectors import Vector, add, unit
from builder.view.frame import Frame
from builder.view.offer import Kind, Offer
from builder.words.roles import Role
from builder.words.shapes import Point


class ThreadStyle(Protocol):
    """A module in the threads folder: one standard's way to draw a thread."""

    NAME: str
    CODE: str  # one letter in the block's name
    DOC: str
    UNIFORM: bool  # between a thread's ends only lines along the axis are drawn from beside: longer, it looks alike

    def lines(self, mark: ThreadMark, frame: Frame, gap: float) -> Iterable[Offer]:
        """Offer the lines that stand for the thread in a view."""

    def replaces(self, offer: Offer, mark: ThreadMark, frame: Frame) -> bool:
        """Tell whether the body's own line is left out in favour of the style's."""

    def empty(self, mark: ThreadMark, frame: Frame, x: float, y: float) -> bool:
        """Tell whether the style cuts away a point of the cut plane that the body fills."""


def root_radius(mark: ThreadMark, gap: float) -> float:
    """Return the drawn root of an external thread: true, or further in where the lines would run together.

    ISO 6410-1 asks for a gap of at least 0.7 mm or two wide lines on paper; at most half the radius is given
    to it, so that the root of a very small thread stays off the axis (common practice, no source).
    """
    return min(mark.minor, max(mark.major - gap, mark.major / 2.0))


def is_chamfer_rim(offer: Offer, mark: ThreadMark, frame: Frame) -> bool:
    """Tell a circle of the thread's chamfer in an end view: ISO 6410-1 leaves it out."""
    return frame.at_end and offer.is_rim and offer.surface is Surface.CHAMFER and offer.feature == mark.feature


def where_wide(mark: ThreadMark, radius: float) -> tuple[float, float]:
    """Return from where to where along the axis the thread's surface, chamfers included, holds a radius."""
    inner, outer = (mark.minor, mark.end_radius) if not mark.external else (mark.major, mark.end_radius)
    if abs(inner - outer) < 1e-12:
        return mark.start, mark.end
    share = min(1.0, max(0.0, (outer - radius) / (outer - inner)))
    first = mark.start + (mark.lead_in - mark.start) * share
    return first, mark.end - (mark.end - mark.chamfer_x) * share


def lengthwise(mark: ThreadMark, frame: Frame, radius: float, role: Role) -> Iterator[Offer]:
    """Offer the two lines at a radius beside the axis, cut off by the thread's chamfers."""
    first, last = where_wide(mark, radius)
    for y in (radius, -radius):
        yield straight(mark, frame, Point(first, y), Point(last, y), role)


def straight(mark: ThreadMark, frame: Frame, start: Point, end: Point, role: Role) -> Offer:
    """Offer a line on the drawing: in front of the crests of an external thread, in the axis plane of a bore."""
    depth = mark.major if mark.external else 0.0
    curve = Segment(frame.space(start, depth), frame.space(end, depth))
    return Offer(curve, mark.feature, role=role, kind=Kind.CONVENTION)


def root_lines(
    mark: ThreadMark, frame: Frame, gap: float, role: Role, start: float = 0.0, turn: float = 360.0
) -> Iterator[Offer]:
    """Offer the root in one role: two lines and the thread's limit beside the axis, a circle or arc at an end."""
    root = root_radius(mark, gap) if mark.external else mark.major
    if frame.at_end:
        yield from round_end(mark, frame, root, role, start, turn)
        return
    yield from lengthwise(mark, frame, root, role)
    yield from run_outs(mark, frame, root, role)
    yield from full_thread_limit(mark, frame, root)


def run_outs(mark: ThreadMark, frame: Frame, root: float, role: Role) -> Iterator[Offer]:
    """Offer the sloping lines of incomplete thread, from the root at the limit out to the crests."""
    if mark.run_out:
        crest = mark.major if mark.external else mark.minor
        for x, side in product(mark.limits, (1.0, -1.0)):
            yield straight(mark, frame, Point(x, side * root), Point(x + mark.run_out, side * crest), role)


def full_thread_limit(mark: ThreadMark, frame: Frame, root: float) -> Iterator[Offer]:
    """Offer the lines where the thread's full depth ends: across the crests, from crest to root where they are cut."""
    for x in mark.limits:
        yield from front(mark, frame, Point(x, -mark.major), Point(x, mark.major), Role.OUTLINE)
        for side in (1.0, -1.0) if mark.external and frame.cuts else ():
            yield straight(mark, frame, Point(x, side * root), Point(x, side * mark.major), Role.OUTLINE)


def front(mark: ThreadMark, frame: Frame, start: Point, end: Point, role: Role) -> Iterator[Offer]:
    """Offer a line across a thread: on the crests of an external one, as far as those stand; in the axis plane else."""
    if mark.external:
        curve = OnCrests(frame.space(start), frame.space(end), mark, frame.toward)
        yield Offer(curve, mark.feature, role=role, kind=Kind.LIMB)
    else:
        yield straight(mark, frame, start, end, role)


@dataclass(frozen=True, slots=True)
class OnCrests(Segment):
    """A line straight on the drawing that lies on the near side of an external thread's crests and chamfers."""

    mark: ThreadMark
    toward: Vector

    def at(self, t: float) -> Vector:
        """Return the point at a parameter, within the thread's ends."""
        x, y, z = add(self.start, add(self.end, self.start, -1.0), t)
        slack = 1e-11 * self.mark.pitch  # not to be seen in nine written decimals
        x = min(max(x, self.mark.start + slack), self.mark.end - slack)
        depth = math.sqrt(max(0.0, surface(self.mark, x) ** 2 - y * y - z * z))
        return add((x, y, z), self.toward, depth)

    def normal(self, t: float) -> Vector:
        """Return the direction out of the crests."""
        _, y, z = self.at(t)
        return unit((0.0, y, z))


def surface(mark: ThreadMark, x: float) -> float:
    """Return the radius of the crests at a place, or of the chamfer or countersink there."""
    inner = mark.major if mark.external else mark.minor
    if x > mark.chamfer_x < mark.end:
        return inner + (mark.end_radius - inner) * (x - mark.chamfer_x) / (mark.end - mark.chamfer_x)
    if x < mark.lead_in > mark.start:
        return inner + (mark.end_radius - inner) * (mark.lead_in - x) / (mark.lead_in - mark.start)
    return inner


def round_end(
    mark: ThreadMark, frame: Frame, radius: float, role: Role, start: float = 0.0, turn: float = 360.0
) -> Iterator[Offer]:
    """Offer a circle or arc in an end view, counter-clockwise on the drawing from `start`, in degrees."""
    x = mark.end if frame.toward[0] > 0.0 else mark.start
    for first in (start, start + turn / 2.0):  # a curve runs over half a turn at most
        a, b = first, first + turn / 2.0
        curve = RingArc(x, radius, frame.around(math.radians(a)), frame.around(math.radians(b)))
        yield Offer(curve, mark.feature, role=role, kind=Kind.CONVENTION)
