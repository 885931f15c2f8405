"""A turned leaf: a closed contour turned about the axis of its place, whole or through an angle."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np

from builder.body.contour import TINY, Bow, Contour, Loop, Straight, corners, joints, reach, smooth, upright
from builder.body.contour import turned_volume as loop_volume
from builder.body.curves import BowLimb, Curve, Level, Limb, Meridian, RingArc
from builder.body.faces import Face, Flat, Round
from builder.body.outlines import Outlines
from builder.body.rays import round_roots
from builder.body.vectors import AXIS, Array, Box, Place, Truth, Vector, radial


@dataclass(frozen=True)
class Turned:
    """A solid of revolution about the x axis of its place.

    `loop` is closed, in (place on the axis, radius); pieces on the axis itself are part of it. `turn` limits it to
    the angles between two, radians from the place's y toward its z, second greater than first.
    """

    loop: Loop
    place: Place = AXIS
    turn: tuple[float, float] | None = None

    @cached_property
    def _pieces(self) -> tuple[Contour, ...]:
        return tuple(p for p in self.loop if max(p.b0, p.b1) > TINY)

    @cached_property
    def _outlines(self) -> Outlines:
        return Outlines((self.loop,))

    def leaves(self) -> Sequence["Turned"]:
        """Return itself."""
        return (self,)

    def coaxial(self) -> Loop | None:
        """Return its contour where it is turned whole about the part's own axis."""
        return self.loop if self.place is AXIS and self.turn is None else None

    def profile(self) -> None:
        """Return nothing: it is not extruded."""

    def _ring(self, x: float, radius: float) -> RingArc:
        first, last = self.turn or (0.0, math.tau)
        return RingArc(x, radius, first, last, self.place)

    def edges(self) -> Iterator[Curve]:
        """Offer the circles at the contour's corners; where it is limited, the contour at both limits."""
        for before, after in joints(self.loop):
            if after.b0 > TINY and not smooth(before, after):
                ways = before.along(1.0), after.along(0.0)
                slopes = tuple(db / da for da, db in ways if abs(da) > TINY)
                yield replace(self._ring(after.a0, after.b0), slopes=slopes)
        for angle in self.turn or ():
            yield from (Meridian(piece, angle, self.place) for piece in self.loop)

    def silhouettes(self, toward: Vector) -> Iterator[Limb]:
        """Offer where the surface turns away: meridians, rings where it is level, slanted limbs of arcs."""
        sight = self.place.local_direction(toward)
        beside, ahead = abs(sight[0]) < TINY, math.hypot(sight[1], sight[2]) < TINY
        if beside or ahead:
            yield from self._rings(beside)
        if ahead:
            return
        for piece in self._pieces:
            if isinstance(piece, Straight):
                yield from self._rulings(piece, sight)
            elif beside:
                yield from self._meridians(piece, sight, math.pi / 2.0)
            else:
                yield from self._aslant(piece, sight)

    def _rings(self, beside: bool) -> Iterator[Limb]:
        for before, after in joints(self.loop):
            if not isinstance(before, Bow) | isinstance(after, Bow) or after.b0 <= TINY or not smooth(before, after):
                continue
            along_axis = abs(after.along(0.0)[1]) < 1e-6
            if beside and abs(after.along(0.0)[0]) < 1e-6:
                yield Level(self._ring(after.a0, after.b0))
            elif not beside and along_axis:
                yield self._ring(after.a0, after.b0)

    def _meridians(self, piece: Contour, sight: Vector, off: float) -> Iterator[Limb]:
        front = math.atan2(sight[2], sight[1])
        for angle in (front - off, front + off):
            if self._holds(angle):
                yield Meridian(piece, angle, self.place)

    def _rulings(self, piece: Straight, sight: Vector) -> Iterator[Limb]:
        da, db = piece.along(0.5)
        if abs(da) < TINY:
            return
        share = db * sight[0] / (da * math.hypot(sight[1], sight[2]))
        if abs(share) <= 1.0:
            yield from self._meridians(piece, sight, math.acos(share))

    def _aslant(self, bow: Bow, sight: Vector) -> Iterator[Limb]:
        across = math.hypot(sight[1], sight[2])
        offs = []
        for t in (0.0, 1.0):
            a, b = bow.at(t)
            nx, nr = a - bow.ca, b - bow.cb
            share = -nx * sight[0] / (nr * across) if abs(nr) > TINY * bow.radius else -nx * sight[0] * math.inf
            offs.append(math.acos(min(1.0, max(-1.0, share))))
        if abs(offs[1] - offs[0]) > 1e-9:
            front = math.atan2(sight[2], sight[1])
            for branch in (1.0, -1.0):
                for first, last in self._limited(branch, front, offs[0], offs[1]):
                    yield BowLimb(bow, self.place, sight, branch, first, last)

    def _limited(self, branch: float, front: float, first: float, last: float) -> Iterator[tuple[float, float]]:
        """Return the parts within the limits of what runs from one angle off a front to another."""
        low, high = sorted((first, last))
        inner = ((branch * (limit - front) - low) % math.tau + low for limit in self.turn or ())
        places = [low, *sorted(off for off in inner if low < off < high), high]
        for start, end in pairwise(places):
            if end - start > 1e-9 and self._holds(front + branch * (start + end) / 2.0):
                yield (start, end) if first < last else (end, start)

    def _holds(self, angle: float) -> bool:
        if self.turn is None:
            return True
        first, last = self.turn
        return (angle - first + 1e-9) % math.tau <= last - first + 2e-9

    def faces(self) -> Sequence[Face]:
        """Return flat rings, turned pieces and the limits."""
        return self._faces

    @cached_property
    def _faces(self) -> tuple[Face, ...]:
        return (*(self._face(piece) for piece in self._pieces), *(self._limit(a) for a in self.turn or ()))

    def _face(self, piece: Contour) -> Face:
        if not upright(piece):
            return Round(piece, self.place, self.turn)
        r, world, way = max(piece.b0, piece.b1), self.place.world, self.place.world_direction
        disc = Round(piece, self.place, self.turn)
        return Flat(world((piece.a0, -r, -r)), way((0.0, 2.0 * r, 0.0)), way((0.0, 0.0, 2.0 * r)), disc)

    def _limit(self, angle: float) -> Flat:
        low, _, high, radius = reach(self.loop)
        _, y, z = radial(angle)
        way = self.place.world_direction
        corner = self.place.world((low, 0.0, 0.0))
        return Flat(corner, way((high - low, 0.0, 0.0)), way((0.0, radius * y, radius * z)))

    def contains(self, points: Array) -> Truth:
        """Tell which points are inside."""
        local = self.place.local_points(points)
        y, z = local[:, 1], local[:, 2]
        within: Truth = self._outlines.inside(local[:, 0], np.sqrt(y * y + z * z))[0]
        if self.turn is not None:
            first, last = self.turn
            within &= (np.arctan2(z, y) - first) % math.tau < last - first
        return within

    def roots(self, points: Array, toward: Vector) -> Array:
        """Return how far along the rays they meet the faces."""
        local, sight = self.place.local_points(points), self.place.local_direction(toward)
        found = [round_roots(piece, local, sight) for piece in self._pieces]
        for angle in self.turn or ():
            c, s = math.cos(angle), math.sin(angle)
            rate = sight[2] * c - sight[1] * s
            if abs(rate) > 1e-12:
                found.append(((local[:, 1] * s - local[:, 2] * c) / rate)[:, None])
        return np.concatenate(found, axis=1)

    def box(self) -> Box:
        """Return a box round it."""
        return self._box

    @cached_property
    def _box(self) -> Box:
        place = self.place
        if place is AXIS and self.turn is None:
            low, _, high, radius = reach(self.loop)
            return (low, -radius, -radius), (high, radius, radius)
        extremes = [math.atan2(z, y) for y, z in zip(place.y, place.z, strict=True)]  # along each axis of space
        angles = [a + n * math.pi for a in extremes for n in (0, 1)]
        if self.turn is not None:
            angles = [*self.turn, *(a for a in angles if self._holds(a))]
        spots = [
            place.world((x, r * math.cos(a), r * math.sin(a))) for p in self.loop for x, r in _hull(p) for a in angles
        ]
        xs, ys, zs = zip(*spots, strict=True)
        return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))

    def volume(self) -> float:
        """Return the volume: by Pappus, the integral of the contour."""
        first, last = self.turn or (0.0, math.tau)
        return loop_volume(self.loop) * (last - first) / math.tau


def _hull(piece: Contour) -> list[tuple[float, float]]:
    """Return places round a piece: the ends of a straight one, the corners of an arc's quadrant."""
    if isinstance(piece, Straight):
        return [(piece.a0, piece.b0), (piece.a1, piece.b1)]
    return [(a, b) for a in (piece.a0, piece.a1) for b in (piece.b0, piece.b1)]


def cylinder(start: float, end: float, radius: float, place: Place = AXIS) -> Turned:
    """Return a plain cylinder between two places on an axis."""
    return cone(start, radius, end, radius, place)


def cone(start: float, radius_start: float, end: float, radius_end: float, place: Place = AXIS) -> Turned:
    """Return a frustum between two places on an axis; a radius of 0 is a tip."""
    return Turned(corners([(start, 0.0), (start, radius_start), (end, radius_end), (end, 0.0)]), place)


def ring(start: float, end: float, inner: float, outer: float, place: Place = AXIS) -> Turned:
    """Return a ring of rectangular section."""
    return Turned(corners([(start, inner), (start, outer), (end, outer), (end, inner)]), place)
