"""Knots become lines and arcs: the outline that a drafter states by its corners, roundings and arcs."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from builder.words.knot import Knot
from builder.words.meeting import first_meeting
from builder.words.roles import Role
from builder.words.shapes import Arc, Line, Point

_SAME = 1e-9  # of the outline's extent: closer than that is the same place
_STRAIGHT = 1e-9  # sine of a turn that leaves nothing to round


class KnotFault(Exception):
    """Knots that make no outline; `index` counts from 0 and is that of the knot at fault."""

    def __init__(self, index: int, wrong: str, expected: str) -> None:
        super().__init__(index, wrong, expected)
        self.index, self.wrong, self.expected = index, wrong, expected


def outline(knots: Sequence[Knot], closed: bool, role: Role) -> tuple[Line | Arc, ...]:
    """Return the pieces from the first knot on, in order; a closed outline ends where the first piece starts.

    An arc that is run clockwise stands there as its counter-clockwise twin.
    """
    _check_count(knots, closed)
    slack = _SAME * _extent(knots)
    legs = {index: _leg(knots, index, slack) for index in range(0 if closed else 1, len(knots))}
    corners = {index: _corner(knots, index, legs) for index, k in enumerate(knots) if k.radius and not k.arc}
    rounded = {index: corner for index, corner in corners.items() if corner is not None}
    for index, leg in legs.items():
        _check_room(knots, index, leg.length, rounded, slack)
    numbers, pieces = zip(*_pieces(legs, rounded, slack, role), strict=True)
    if met := first_meeting(pieces, closed, slack):
        other, index = sorted(numbers[place] for place in met)
        wrong = f"outline meets itself: the way to knot {index + 1} and that to knot {other + 1} cross or touch"
        raise KnotFault(index, wrong, "expected every way between two knots clear of the others")
    return pieces


@dataclass(frozen=True, slots=True)
class _Leg:
    """The way from one knot to the next: straight where radius is 0, else round a centre, > 0 to the left."""

    start: Point
    end: Point
    centre: Point
    radius: float = 0.0

    @property
    def length(self) -> float:
        if not self.radius:
            return math.dist(self.start, self.end)
        return abs(self.radius) * math.radians(self.sweep(self.end))

    def heading(self, at: Point) -> Point:
        """Return the direction of travel at one of its points, of length 1."""
        if not self.radius:
            return _unit(self.start, self.end)
        return Point(-(at.y - self.centre.y) / self.radius, (at.x - self.centre.x) / self.radius)

    def sweep(self, to: Point) -> float:
        """Return the degrees from the start of an arc to a point on its circle."""
        turn = (_angle(self.centre, to) - _angle(self.centre, self.start)) % 360.0
        return turn if self.radius > 0.0 else -turn % 360.0

    def piece(self, role: Role) -> Line | Arc:
        if not self.radius:
            return Line(self.start, self.end, role)
        first, last = (self.start, self.end) if self.radius > 0.0 else (self.end, self.start)
        begin, finish = _angle(self.centre, first), _angle(self.centre, last)
        return Arc(self.centre, abs(self.radius), begin, finish if finish > begin else finish + 360.0, role)


@dataclass(frozen=True, slots=True)
class _Corner:
    """A rounded corner: its arc, and how much it takes of the legs to and from the knot."""

    arc: _Leg
    before: float
    after: float


def _check_count(knots: Sequence[Knot], closed: bool) -> None:
    least = 2 if not closed or any(knot.arc for knot in knots) else 3
    if len(knots) < least:
        kind = "a closed outline" if closed else "an outline"
        wrong = f"{kind} of {len(knots)} knot{'s' if len(knots) != 1 else ''}"
        raise KnotFault(max(0, len(knots) - 1), wrong, f"expected at least {least}")
    for index in () if closed else (0, len(knots) - 1):
        if knots[index].arc and index == 0:
            raise KnotFault(0, "an arc at the first knot", "expected a corner: an arc starts at the knot before it")
        if knots[index].radius and not knots[index].arc:
            raise KnotFault(index, "an end is rounded", "expected a radius only between two knots, or closed: true")


def _extent(knots: Sequence[Knot]) -> float:
    xs, ys = [knot.x for knot in knots], [knot.y for knot in knots]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def _leg(knots: Sequence[Knot], index: int, slack: float) -> _Leg:
    """Return the way to a knot."""
    knot, before = knots[index], knots[index - 1]
    start, end = Point(before.x, before.y), Point(knot.x, knot.y)
    chord = math.dist(start, end)
    if chord <= slack:
        wrong = f"knot {index + 1} is where knot {(index - 1) % len(knots) + 1} is"
        raise KnotFault(index, wrong, "expected it once; an outline closes by itself")
    if not knot.arc:
        if knot.radius < 0.0:
            raise KnotFault(index, f"corner of radius {knot.radius:g}", "expected 0 or more")
        return _Leg(start, end, end)
    radius = abs(knot.radius)
    if radius < chord / 2.0 - slack:
        wrong = f"arc of radius {knot.radius:g} does not reach over {chord:g} from the knot before"
        raise KnotFault(index, wrong, f"expected at least {chord / 2.0:g}, or -{chord / 2.0:g} turning right")
    radius = max(radius, chord / 2.0)
    ahead = _unit(start, end)
    aside = math.copysign(math.sqrt(max(0.0, radius * radius - chord * chord / 4.0)), knot.radius)
    middle = Point((start.x + end.x) / 2.0, (start.y + end.y) / 2.0)
    centre = middle.plus(-ahead.y * aside, ahead.x * aside)
    return _Leg(start, end, centre, math.copysign(radius, knot.radius))


def _corner(knots: Sequence[Knot], index: int, legs: Mapping[int, _Leg]) -> _Corner | None:
    """Return the rounding of a knot; None where the way leads straight on."""
    before, after = legs[index], legs[(index + 1) % len(knots)]
    at, radius = before.end, knots[index].radius
    ahead, turned = before.heading(at), after.heading(at)
    sine, cosine = ahead.x * turned.y - ahead.y * turned.x, ahead.x * turned.x + ahead.y * turned.y
    if abs(sine) <= _STRAIGHT or cosine <= -1.0:
        if cosine > 0.0:
            return None
        raise KnotFault(index, "corner of an outline that turns right back", "expected radius: 0, or another way on")
    side = math.copysign(radius, sine)
    back = _to_arc(at, ahead, side, after) if after.radius else radius * abs(sine) / (1.0 + cosine)
    if back is None:
        wrong = f"corner of radius {radius:g} does not fit between the line and the arc"
        raise KnotFault(index, wrong, "expected a smaller radius")
    start = at.plus(-ahead.x * back, -ahead.y * back)
    centre = start.plus(-ahead.y * side, ahead.x * side)
    if not after.radius:
        return _Corner(_Leg(start, at.plus(turned.x * back, turned.y * back), centre, side), back, back)
    end = _touch(after, centre)
    return _Corner(_Leg(start, end, centre, side), back, abs(after.radius) * math.radians(after.sweep(end)))


def _to_arc(at: Point, ahead: Point, side: float, arc: _Leg) -> float | None:
    """Return how far before a knot a rounding starts that touches the line up to it and the arc from it."""
    across = Point(at.x - ahead.y * side - arc.centre.x, at.y + ahead.x * side - arc.centre.y)
    reach = arc.radius - side  # from the arc's centre to the rounding's
    along = across.x * ahead.x + across.y * ahead.y
    root = along * along - (across.x * across.x + across.y * across.y) + reach * reach
    if root < 0.0 or reach * arc.radius <= 0.0:
        return None
    whole, backs = arc.sweep(arc.end), (along - math.sqrt(root), along + math.sqrt(root))
    for back in backs:
        end = _touch(arc, Point(arc.centre.x + across.x - ahead.x * back, arc.centre.y + across.y - ahead.y * back))
        if back > 0.0 and arc.sweep(end) <= whole * (1.0 + _SAME):
            return back
    return None


def _touch(arc: _Leg, centre: Point) -> Point:
    """Return where a circle about a centre touches an arc."""
    outward, radius = _unit(arc.centre, centre), abs(arc.radius)
    return arc.centre.plus(outward.x * radius, outward.y * radius)


def _check_room(knots: Sequence[Knot], index: int, length: float, corners: Mapping[int, _Corner], slack: float) -> None:
    """Raise KnotFault where the roundings at both ends of a leg take more than there is of it."""
    first = (index - 1) % len(knots)
    taken = {first: corners[first].after if first in corners else 0.0}
    taken[index] = corners[index].before if index in corners else 0.0
    if sum(taken.values()) <= length + slack:
        return
    worst = max(taken, key=lambda knot: taken[knot])
    shares = f"{taken[worst]:g}" if min(taken.values()) == 0.0 else f"{taken[first]:g} and {taken[index]:g}"
    radius = knots[worst].radius
    wrong = f"corner of radius {radius:g} is too large: {shares} taken of the {length:g} between two knots"
    most = radius * length / sum(taken.values())
    raise KnotFault(worst, wrong, f"expected at most {most:.4g}, or knots further apart")


def _pieces(
    legs: Mapping[int, _Leg], corners: Mapping[int, _Corner], slack: float, role: Role
) -> Iterator[tuple[int, Line | Arc]]:
    """Yield what is left of every leg and the rounding after it, with the index of the knot that it leads to."""
    count = max(legs) + 1
    for place in range(1, len(legs) + 1 if 0 in legs else count):
        index = place % count
        leg, before, corner = legs[index], corners.get(place - 1), corners.get(index)
        taken = (before.after if before else 0.0) + (corner.before if corner else 0.0)
        left = replace(leg, start=before.arc.end if before else leg.start, end=corner.arc.start if corner else leg.end)
        if leg.length - taken > slack:
            yield index, left.piece(role)
        if corner:
            yield index, corner.arc.piece(role)


def _angle(centre: Point, at: Point) -> float:
    degrees = math.degrees(math.atan2(at.y - centre.y, at.x - centre.x)) % 360.0
    return degrees if degrees < 360.0 else 0.0  # what is a hair below 0 rounds up to a whole turn


def _unit(start: Point, end: Point) -> Point:
    length = math.dist(start, end)
    return Point((end.x - start.x) / length, (end.y - start.y) / length)
