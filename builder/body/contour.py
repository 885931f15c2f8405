"""Closed contours of straight pieces and circular arcs in a plane (a, b): what a leaf turns or extrudes.

Turned, a is the place on the axis and b the radius; extruded, a and b lie across. Arcs are cut at the quadrants of
their circle, so that every piece runs one way in a and in b.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from builder.body.vectors import Array

TINY = 1e-9
Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight piece from (a0, b0) to (a1, b1)."""

    a0: float
    b0: float
    a1: float
    b1: float

    def at(self, t: float) -> Spot:
        """Return the place at a parameter from 0 to 1."""
        return self.a0 + (self.a1 - self.a0) * t, self.b0 + (self.b1 - self.b0) * t

    def along(self, t: float) -> Spot:
        """Return the direction of travel, of length 1."""
        da, db = self.a1 - self.a0, self.b1 - self.b0
        length = math.sqrt(da * da + db * db)
        return da / length, db / length

    def level(self, a: Array) -> Array:
        """Return b for places a within its reach; only where it is not upright."""
        return self.b0 + (self.b1 - self.b0) / (self.a1 - self.a0) * (a - self.a0)

    def b_at(self, a: float) -> float:
        """Return b at one place; only where it is not upright."""
        return self.b0 + (self.b1 - self.b0) * (a - self.a0) / (self.a1 - self.a0)

    def turned(self) -> float:
        """Return the integral of b squared over a, times pi: signed volume under the piece."""
        return math.pi * (self.a1 - self.a0) * (self.b0**2 + self.b0 * self.b1 + self.b1**2) / 3.0

    def under(self) -> float:
        """Return the integral of b over a: signed area under the piece."""
        return (self.a1 - self.a0) * (self.b0 + self.b1) / 2.0


@dataclass(frozen=True, slots=True)
class Bow:
    """A circular arc within one quadrant, about (ca, cb), from (a0, b0) to (a1, b1)."""

    a0: float
    b0: float
    a1: float
    b1: float
    ca: float
    cb: float
    radius: float

    @property
    def side_a(self) -> float:
        """Return on which side of its centre it lies in a, +1 or -1."""
        return math.copysign(1.0, self.a0 + self.a1 - 2.0 * self.ca)

    @property
    def side_b(self) -> float:
        """Return on which side of its centre it lies in b, +1 or -1."""
        return math.copysign(1.0, self.b0 + self.b1 - 2.0 * self.cb)

    def angles(self) -> Spot:
        """Return the angles of its ends about the centre, radians, less than half a turn apart."""
        first = math.atan2(self.b0 - self.cb, self.a0 - self.ca)
        last = math.atan2(self.b1 - self.cb, self.a1 - self.ca)
        return first, first + (last - first + math.pi) % math.tau - math.pi

    def at(self, t: float) -> Spot:
        """Return the place at a parameter from 0 to 1."""
        first, last = self.angles()
        angle = first + (last - first) * t
        return self.ca + self.radius * math.cos(angle), self.cb + self.radius * math.sin(angle)

    def along(self, t: float) -> Spot:
        """Return the direction of travel, of length 1."""
        first, last = self.angles()
        angle, way = first + (last - first) * t, math.copysign(1.0, last - first)
        return -way * math.sin(angle), way * math.cos(angle)

    def level(self, a: Array) -> Array:
        """Return b for places a within its reach."""
        return self.cb + self.side_b * np.sqrt(np.maximum(0.0, self.radius**2 - (a - self.ca) ** 2))

    def b_at(self, a: float) -> float:
        """Return b at one place."""
        return self.cb + self.side_b * math.sqrt(max(0.0, self.radius**2 - (a - self.ca) ** 2))

    def turned(self) -> float:
        """Return the integral of b squared over a, times pi, in closed form."""
        return math.pi * (self._squares(self.a1 - self.ca) - self._squares(self.a0 - self.ca))

    def _squares(self, u: float) -> float:
        return (self.cb**2 + self.radius**2) * u - u**3 / 3.0 + 2.0 * self.cb * self.side_b * self._root(u)

    def under(self) -> float:
        """Return the integral of b over a."""
        u0, u1 = self.a0 - self.ca, self.a1 - self.ca
        return self.cb * (u1 - u0) + self.side_b * (self._root(u1) - self._root(u0))

    def _root(self, u: float) -> float:
        share = min(1.0, max(-1.0, u / self.radius))
        return (u * math.sqrt(max(0.0, self.radius**2 - u * u)) + self.radius**2 * math.asin(share)) / 2.0


Contour = Straight | Bow
Loop = tuple[Contour, ...]


def upright(piece: Contour) -> bool:
    """Tell a straight piece of constant a."""
    return isinstance(piece, Straight) and abs(piece.a1 - piece.a0) <= TINY


def corners(spots: Sequence[Spot]) -> Loop:
    """Return the closed polygon through places; equal neighbours count once."""
    closed = [*spots, spots[0]]
    return tuple(Straight(*p, *q) for p, q in pairwise(closed) if math.dist(p, q) > TINY)


def bows(start: Spot, end: Spot, centre: Spot, left: bool) -> Iterator[Bow]:
    """Return the arc about a centre, turning left (counter-clockwise) or right, cut at the quadrants."""
    radius = math.dist(start, centre)
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    last = math.atan2(end[1] - centre[1], end[0] - centre[0])
    sweep = (last - first) % math.tau if left else -((first - last) % math.tau)
    quarter = math.pi / 2.0
    low, high = sorted((first, first + sweep))
    inner = [quarter * n for n in range(math.ceil(low / quarter), math.floor(high / quarter) + 1)]
    turns = [a for a in sorted(inner, reverse=not left) if min(a - low, high - a) > 1e-9]
    spots = [start, *(_quadrant(centre, radius, round(a / quarter)) for a in turns), end]
    for p, q in pairwise(spots):
        yield Bow(*p, *q, *centre, radius)


def _quadrant(centre: Spot, radius: float, n: int) -> Spot:
    """Return the exact place of a quadrant: sines of multiples of a right angle are not exact."""
    da, db = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[n % 4]
    return centre[0] + radius * da, centre[1] + radius * db


def smooth(before: Contour, after: Contour) -> bool:
    """Tell whether two consecutive pieces meet without an edge."""
    (a, b), (c, d) = before.along(1.0), after.along(0.0)
    return abs(a * d - b * c) < 1e-6 and a * c + b * d > 0.0


def joints(loop: Loop) -> Iterator[tuple[Contour, Contour]]:
    """Return each piece with the one after it, round the loop."""
    return pairwise((*loop, loop[0]))


def area(loop: Loop) -> float:
    """Return the area of a loop."""
    return abs(sum(piece.under() for piece in loop))


def turned_volume(loop: Loop) -> float:
    """Return the volume of a loop turned once about b = 0."""
    return abs(sum(piece.turned() for piece in loop))


def reach(loop: Iterable[Contour]) -> tuple[float, float, float, float]:
    """Return least a, least b, greatest a and greatest b: pieces run one way, so their ends say it."""
    pieces = tuple(loop)
    starts, ends = [(p.a0, p.b0) for p in pieces], [(p.a1, p.b1) for p in pieces]
    spots_a, spots_b = zip(*starts, *ends, strict=True)
    return min(spots_a), min(spots_b), max(spots_a), max(spots_b)


def meets(p: Contour, q: Contour) -> list[Spot]:
    """Return where two pieces cross; none for pieces that lie on each other."""
    if isinstance(p, Straight) and isinstance(q, Straight):
        return _straights(p, q)
    if isinstance(p, Bow) and isinstance(q, Bow):
        found = _circles(p, q)
    else:
        line, bow = (p, q) if isinstance(p, Straight) else (q, p)
        assert isinstance(line, Straight) and isinstance(bow, Bow)
        found = _line_circle(line, bow)
    return [spot for spot in found if on_piece(p, spot) and on_piece(q, spot)]


def on_piece(piece: Contour, spot: Spot) -> bool:
    """Tell whether a place on a piece's line or circle lies on the piece."""
    slack = TINY * (1.0 + abs(spot[0]) + abs(spot[1]))
    low_a, high_a = sorted((piece.a0, piece.a1))
    low_b, high_b = sorted((piece.b0, piece.b1))
    return low_a - slack <= spot[0] <= high_a + slack and low_b - slack <= spot[1] <= high_b + slack


def _straights(p: Straight, q: Straight) -> list[Spot]:
    pa, pb, qa, qb = p.a1 - p.a0, p.b1 - p.b0, q.a1 - q.a0, q.b1 - q.b0
    cross = pa * qb - pb * qa
    if abs(cross) <= TINY * math.hypot(pa, pb) * math.hypot(qa, qb):
        return []
    t = ((q.a0 - p.a0) * qb - (q.b0 - p.b0) * qa) / cross
    spot = p.at(t)
    return [spot] if on_piece(p, spot) and on_piece(q, spot) else []


def _line_circle(line: Straight, bow: Bow) -> list[Spot]:
    da, db = line.along(0.0)
    pa, pb = line.a0 - bow.ca, line.b0 - bow.cb
    near, off = -(pa * da + pb * db), pa * db - pb * da
    square = bow.radius**2 - off * off
    if square < -TINY * bow.radius**2:
        return []
    half = math.sqrt(max(0.0, square))
    return [(line.a0 + t * da, line.b0 + t * db) for t in (near - half, near + half)]


def _circles(p: Bow, q: Bow) -> list[Spot]:
    da, db = q.ca - p.ca, q.cb - p.cb
    apart = math.hypot(da, db)
    if apart < TINY:
        return []
    along = (apart**2 + p.radius**2 - q.radius**2) / (2.0 * apart)
    square = p.radius**2 - along**2
    if square < -TINY * p.radius**2:
        return []
    half = math.sqrt(max(0.0, square))
    a, b = p.ca + along * da / apart, p.cb + along * db / apart
    return [(a - s * half * db / apart, b + s * half * da / apart) for s in (1.0, -1.0)]
