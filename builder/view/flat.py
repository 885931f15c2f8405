"""Curves laid flat: each becomes lines and arcs with a parameter, so that it can be cut where others cross it."""

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from builder.body.contour import Straight
from builder.body.curves import BowLimb, Curve, FaceCurve, Meridian, RingArc, Segment, Traced
from builder.body.vectors import add, dot
from builder.view.cutting import fraction_of
from builder.view.frame import Frame
from builder.words.roles import Role
from builder.words.shapes import Arc, Line, Point, arc_through

_DEEPEST = 7  # times that a curve is halved at most
CHAMFER_FIT = 0.002
SPECK = 0.05  # of the tolerance
_TRIED = 32  # places of a traced curve at which its image may be found to have turned back


class Flat(NamedTuple):
    """A stretch of a curve and its image: exact for lines and circles seen square, an arc through three points else."""

    curve: Curve
    shape: Line | Arc
    frame: Frame
    first: float = 0.0
    last: float = 1.0

    @property
    def backwards(self) -> bool:
        """Tell whether an arc, always counter-clockwise, runs against the curve."""
        if isinstance(self.shape, Line):
            return False
        start = self.frame.flat(self.curve.at(self.first))
        first, last = self.shape.at(self.shape.start), self.shape.at(self.shape.end)
        return math.dist(start, last) < math.dist(start, first)

    def parameters(self, fractions: Sequence[float]) -> list[float]:
        """Return the curve's parameters at fractions of its image, both ascending, ends included."""
        if not any(1e-7 < fraction < 1.0 - 1e-7 for fraction in fractions):
            return [self.first, self.last]
        wanted = [1.0 - f for f in reversed(fractions)] if self.backwards else fractions
        places, slack = [self.first], 1e-7 * (self.last - self.first)
        find = self._finder()
        for fraction in wanted:
            if 1e-7 < fraction < 1.0 - 1e-7:
                t = find(fraction)
                if t - places[-1] > slack and t < self.last - slack:
                    places.append(t)
        places.append(self.last)
        return places

    @property
    def is_exact(self) -> bool:
        """Tell an image that is the curve's and needs no trial."""
        curve = self.curve
        if isinstance(curve, RingArc):
            tilt = abs(dot(curve.place.x, self.frame.toward))
            return tilt < 1e-12 or tilt > 1.0 - 1e-12
        return isinstance(curve, Meridian) and isinstance(curve.contour, Straight)

    def _finder(self) -> Callable[[float], float]:
        """Return what finds a parameter by a fraction: in closed form where the image runs evenly or edge-on."""
        curve = self.curve
        if isinstance(curve, RingArc) and isinstance(self.shape, Line):
            return self._edge_on(curve, self.shape)
        if isinstance(curve, Segment) or self.is_exact:
            return self._proportional
        return self._found

    def _edge_on(self, ring: RingArc, line: Line) -> Callable[[float], float]:
        """Return what finds a parameter of a circle seen edge-on: its image runs as a cosine."""
        dx, dy = line.end.x - line.start.x, line.end.y - line.start.y
        way = add(add((0.0, 0.0, 0.0), self.frame.right, dx), self.frame.up, dy)
        _, y, z = ring.place.local_direction(way)
        sweep = ring.end - ring.start
        first, last = ring.start + sweep * self.first, ring.start + sweep * self.last
        ahead = math.atan2(z, y)  # the angle at which the circle reaches furthest along the line
        low, high = math.cos(first - ahead), math.cos(last - ahead)
        side = math.copysign(1.0, math.sin((first + last) / 2.0 - ahead))

        def find(wanted: float) -> float:
            angle = ahead + side * math.acos(min(1.0, max(-1.0, low + wanted * (high - low))))
            return self.first + ((angle - first + 1e-6) % math.tau - 1e-6) / sweep

        return find

    def _proportional(self, wanted: float) -> float:
        return self.first + wanted * (self.last - self.first)

    def _found(self, wanted: float) -> float:
        """Find a parameter by the regula falsi on the fraction."""
        low, high, f_low, f_high = self.first, self.last, -wanted, 1.0 - wanted
        t, kept = self._proportional(wanted), 0
        backwards = self.backwards
        for _ in range(40):
            fraction = fraction_of(self.shape, self.frame.flat(self.curve.at(t)))
            f = (1.0 - fraction if backwards else fraction) - wanted
            if abs(f) < 1e-11:
                break
            # the end kept twice is halved: the Illinois rule
            if f < 0.0:
                low, f_low, f_high, kept = t, f, f_high / (2.0 if kept > 0 else 1.0), 1
            else:
                high, f_high, f_low, kept = t, f, f_low / (2.0 if kept < 0 else 1.0), -1
            t = (low * f_high - high * f_low) / (f_high - f_low)
        return t

    def part(self, t0: float, t1: float) -> Line | Arc:
        """Return the image between two parameters."""
        if t0 <= self.first and t1 >= self.last:
            return self.shape
        return _image(self.curve, self.frame, t0, t1)


def lay(curve: Curve, frame: Frame, tolerance: float) -> Iterator[Flat]:
    """Return a curve's image as lines and arcs within a tolerance; nothing where it is seen along itself.

    The hyperbola of a chamfer on a flat is one arc, as drafters draw it, within CHAMFER_FIT of the width across flats.
    """
    if isinstance(curve, Segment):
        yield from _straight(curve, frame, (frame.flat(curve.start), frame.flat(curve.end)))
        return
    if isinstance(curve, Meridian) and isinstance(curve.contour, Straight):
        yield from _straight(curve, frame, (frame.flat(curve.at(0.0)), frame.flat(curve.at(1.0))))
        return
    if isinstance(curve, RingArc) and abs(dot(curve.place.x, frame.toward)) < 1e-12:
        yield from _straight(curve, frame, places=(0.0, *curve.breaks(frame.toward), 1.0))
        return
    if isinstance(curve, FaceCurve):
        tolerance = max(tolerance, CHAMFER_FIT * 2.0 * curve.distance)
    if isinstance(curve, Traced | BowLimb) and _is_speck(curve, SPECK * tolerance):
        return
    for first, last in pairwise(sorted({0.0, *curve.breaks(frame.toward), *_turns(curve, frame), 1.0})):
        yield from _fitted(curve, frame, first, last, tolerance, _DEEPEST)


def _straight(
    curve: Curve, frame: Frame, ends: Sequence[Point] = (), places: Sequence[float] = (0.0, 1.0)
) -> Iterator[Flat]:
    """Return the images of a curve that is straight, or seen edge-on between its breaks."""
    ends = ends or [frame.flat(curve.at(t)) for t in places]
    for (start, first), (end, last) in pairwise(zip(ends, places, strict=True)):
        if math.dist(start, end) > 1e-9:
            yield Flat(curve, Line(start, end, Role.OUTLINE), frame, first, last)


def _is_speck(curve: Curve, least: float) -> bool:
    """Tell a curve that stays at one place, where faces merely touch."""
    start = curve.at(0.0)
    return all(math.dist(start, curve.at(n / 8.0)) < least for n in range(1, 9))


def _turns(curve: Curve, frame: Frame) -> Iterator[float]:
    """Return where the image of a freely traced curve turns back on itself: there it runs along the line of sight."""
    if not isinstance(curve, Traced | BowLimb):
        return
    places = [n / _TRIED for n in range(_TRIED + 1)]
    ways = [frame.flat(curve.along(t)) for t in places]
    for (t0, a), (t1, b) in pairwise(zip(places, ways, strict=True)):
        if a.x * b.x + a.y * b.y < 0.0:
            yield _turn(curve, frame, t0, t1, a)


def _turn(curve: Curve, frame: Frame, low: float, high: float, way: Point) -> float:
    for _ in range(45):
        middle = (low + high) / 2.0
        along = frame.flat(curve.along(middle))
        if along.x * way.x + along.y * way.y > 0.0:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def _fitted(curve: Curve, frame: Frame, first: float, last: float, tolerance: float, deepest: int) -> Iterator[Flat]:
    start, end = frame.flat(curve.at(first)), frame.flat(curve.at(last))
    middle = frame.flat(curve.at((first + last) / 2.0))
    if math.dist(start, end) < 1e-9 and math.dist(start, middle) < 1e-9:
        return  # seen along itself: a point
    if math.dist(start, end) < 1e-9:
        between = (first + last) / 2.0
    else:
        flat = Flat(curve, arc_through(start, middle, end, Role.OUTLINE), frame, first, last)
        if flat.is_exact or _fits(flat, tolerance):
            yield flat
            return
        if deepest == 0:
            yield Flat(curve, Line(start, end, Role.OUTLINE), frame, first, last)
            return
        between = (first + last) / 2.0
    if deepest:
        for a, b in ((first, between), (between, last)):
            yield from _fitted(curve, frame, a, b, tolerance, deepest - 1)


def _fits(flat: Flat, tolerance: float) -> bool:
    points = []
    for share in (0.25, 0.5, 0.75):
        point = flat.frame.flat(flat.curve.at(flat.first + share * (flat.last - flat.first)))
        if _off(flat.shape, point) > tolerance:
            return False
        points.append(point)
    fractions = [fraction_of(flat.shape, point) for point in points]
    if flat.backwards:
        fractions.reverse()
    return all(a < b for a, b in pairwise((0.0, *fractions, 1.0)))


def _off(shape: Line | Arc, point: Point) -> float:
    """Return how far a point lies off a shape's line or circle."""
    if isinstance(shape, Arc):
        return abs(math.dist(shape.centre, point) - shape.radius)
    dx, dy = shape.end.x - shape.start.x, shape.end.y - shape.start.y
    return abs((point.x - shape.start.x) * dy - (point.y - shape.start.y) * dx) / math.hypot(dx, dy)


def _image(curve: Curve, frame: Frame, t0: float, t1: float) -> Line | Arc:
    start, middle, end = (frame.flat(curve.at(t)) for t in (t0, (t0 + t1) / 2.0, t1))
    return arc_through(start, middle, end, Role.OUTLINE)
