"""Curves in space that a body offers to a view; parameter 0 to 1.

A view needs a point, a direction of travel and the parameters at which the curve's image may turn back on itself.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Protocol

from builder.body.contour import Bow, Contour, Straight
from builder.body.faces import Round
from builder.body.vectors import AXIS, Place, Vector, add, dot


class Curve(Protocol):
    """A curve in space, parameter 0 to 1."""

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""

    def along(self, t: float) -> Vector:
        """Return the direction of travel at a parameter, of any length but 0."""

    def breaks(self, toward: Vector) -> Sequence[float]:
        """Return inner parameters at which to cut it, seen against a direction."""


class Limb(Curve, Protocol):
    """A silhouette: where a surface turns away from the viewer."""

    def normal(self, t: float) -> Vector:
        """Return the direction out of the surface."""


def _difference(at: Callable[[float], Vector], t: float) -> Vector:
    return add(at(min(1.0, t + 1e-5)), at(max(0.0, t - 1e-5)), -1.0)


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight piece."""

    start: Vector
    end: Vector

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        return add(self.start, self.along(t), t)

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        return add(self.end, self.start, -1.0)

    def breaks(self, toward: Vector) -> Sequence[float]:
        """Return nothing: a straight line's image is straight."""
        return ()


@dataclass(frozen=True, slots=True)
class RingArc:
    """An arc round the x axis of a place, between two angles in radians from its y toward its z.

    `slopes` says how steeply the turned faces that meet in it rise, radius over place: each has its own limbs.
    """

    x: float
    radius: float
    start: float = 0.0
    end: float = math.tau
    place: Place = AXIS
    slopes: tuple[float, ...] = ()

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        angle = self.start + (self.end - self.start) * t
        return self.place.world((self.x, self.radius * math.cos(angle), self.radius * math.sin(angle)))

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        angle = self.start + (self.end - self.start) * t
        return self.place.world_direction((0.0, -math.sin(angle), math.cos(angle)))

    def breaks(self, toward: Vector) -> Sequence[float]:
        """Return where it passes the limbs, in front and behind; halves where it is seen square."""
        x, y, z = self.place.local_direction(toward)
        across, sweep = math.hypot(y, z), self.end - self.start
        front, offs = math.atan2(z, y), {math.pi / 2.0}
        if across > 1e-6:
            shares = (slope * x / across for slope in self.slopes)
            offs |= {math.acos(share) for share in shares if abs(share) < 1.0}
        else:
            front = self.start + math.pi / 2.0
        offsets = sorted({(front + side * off - self.start) % math.tau for off in offs for side in (1.0, -1.0)})
        return tuple(o / sweep for o in offsets if 1e-7 < o < sweep - 1e-7)

    def normal(self, t: float) -> Vector:
        """Return the direction away from the axis."""
        angle = self.start + (self.end - self.start) * t
        return self.place.world_direction((0.0, math.cos(angle), math.sin(angle)))


@dataclass(frozen=True, slots=True)
class Level:
    """A ring where a turned surface is square to its axis: a silhouette to a viewer beside it."""

    ring: RingArc

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        return self.ring.at(t)

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        return self.ring.along(t)

    def breaks(self, toward: Vector) -> Sequence[float]:
        """Return where it passes the limbs."""
        return self.ring.breaks(toward)

    def normal(self, t: float) -> Vector:
        """Return the direction of the axis."""
        return self.ring.place.x


@dataclass(frozen=True, slots=True)
class Meridian:
    """A contour piece in the half plane through a place's axis at an angle."""

    contour: Contour
    angle: float
    place: Place = AXIS

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        return self._world(self.place.world, *self.contour.at(t))

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        return self._world(self.place.world_direction, *self.contour.along(t))

    def breaks(self, toward: Vector) -> Sequence[float]:
        """Return nothing: a contour piece runs one way."""
        return ()

    def normal(self, t: float) -> Vector:
        """Return a direction square to the surface."""
        a, b = self.contour.along(t)
        return self._world(self.place.world_direction, -b, a)

    def _world(self, turn: Callable[[Vector], Vector], a: float, b: float) -> Vector:
        return turn((a, b * math.cos(self.angle), b * math.sin(self.angle)))


@dataclass(frozen=True, slots=True)
class BowLimb:
    """The silhouette of a turned arc seen aslant: at each angle `turn` off the viewer's the arc faces aside once.

    `toward` is the direction of sight in the place's own axes; `branch` is the side, +1 or -1; the angle from the
    viewer's runs from `first` to `last`, radians.
    """

    bow: Bow
    place: Place
    toward: Vector
    branch: float
    first: float
    last: float

    def _facing(self, t: float) -> tuple[float, float, float]:
        off = self.first + (self.last - self.first) * t
        x, y, z = self.toward
        across = math.hypot(y, z)
        nx, nr = -math.cos(off) * across, x
        size = math.hypot(nx, nr)
        if nr * self.bow.side_b < 0.0:
            size = -size
        return nx / size, nr / size, math.atan2(z, y) + self.branch * off

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        nx, nr, angle = self._facing(t)
        radius = self.bow.cb + self.bow.radius * nr
        return self.place.world(
            (self.bow.ca + self.bow.radius * nx, radius * math.cos(angle), radius * math.sin(angle))
        )

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        return _difference(self.at, t)

    def breaks(self, toward: Vector) -> Sequence[float]:
        """Return the middle, for the fit into arcs."""
        return (0.5,)

    def normal(self, t: float) -> Vector:
        """Return a direction square to the surface."""
        nx, nr, angle = self._facing(t)
        return self.place.world_direction((nx, nr * math.cos(angle), nr * math.sin(angle)))


@dataclass(frozen=True, slots=True)
class FaceCurve:
    """Where a flat face parallel to the axis cuts a cone: a hyperbola.

    The face stands at `distance` from the axis, its normal at `angle`; `w0` to `w1` runs along it, across the axis.
    """

    cone: Straight
    angle: float
    distance: float
    w0: float
    w1: float
    place: Place = AXIS

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        w = self.w0 + (self.w1 - self.w0) * t
        cone, radius = self.cone, math.hypot(self.distance, w)
        x = cone.a0 + (cone.a1 - cone.a0) * (radius - cone.b0) / (cone.b1 - cone.b0)
        c, s = math.cos(self.angle), math.sin(self.angle)
        return self.place.world((x, self.distance * c - w * s, self.distance * s + w * c))

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        w = self.w0 + (self.w1 - self.w0) * t
        cone, radius = self.cone, math.hypot(self.distance, w)
        rise = (cone.a1 - cone.a0) / (cone.b1 - cone.b0) * w / radius
        return self.place.world_direction((rise, -math.sin(self.angle), math.cos(self.angle)))

    def breaks(self, toward: Vector) -> Sequence[float]:
        """Return the vertex where the face is seen edge-on: its image turns back there."""
        _, y, z = self.place.local_direction(toward)
        edge_on = abs(y * math.cos(self.angle) + z * math.sin(self.angle)) < 1e-6
        vertex = self.w0 / (self.w0 - self.w1)
        return (vertex,) if edge_on and 1e-7 < vertex < 1.0 - 1e-7 else ()


@dataclass(frozen=True)
class Traced:
    """Any other curve in which two faces cross, by a function of an angle or place that runs from `first` to `last`.

    `rounds` are the turned faces that it lies on: where one of them turns away from a viewer, so does the curve.
    """

    of: Callable[[float], Vector]
    first: float
    last: float
    rounds: tuple[Round, ...] = ()

    @cached_property
    def _known(self) -> dict[float, Vector]:
        return {}

    def at(self, t: float) -> Vector:
        """Return the point at a parameter."""
        known = self._known
        if t not in known:
            known[t] = self.of(self.first + (self.last - self.first) * t)
        return known[t]

    def along(self, t: float) -> Vector:
        """Return the direction of travel."""
        return _difference(self.at, t)

    def breaks(self, toward: Vector) -> Sequence[float]:
        """Return quarters, for the fit into arcs, and where it passes a limb of one of its faces."""
        return (0.25, 0.5, 0.75, *(t for face in self.rounds for t in self._limbs(face, toward)))

    def _limbs(self, face: Round, toward: Vector) -> Iterator[float]:
        def faces(t: float) -> bool:
            return dot(face.normal(self.at(t)), toward) > 0.0

        places = [n / _TRIED for n in range(_TRIED + 1)]
        for (low, before), (high, after) in pairwise((t, faces(t)) for t in places):
            if before != after:
                yield changed(faces, low, high)


_TRIED = 16  # places at which a curve is asked which way it looks


def changed(holds: Callable[[float], object], low: float, high: float) -> float:
    """Return the place between two where an answer changes, by halving: the last with the answer at `low`."""
    first = holds(low)
    for _ in range(50):
        middle = (low + high) / 2.0
        if holds(middle) == first:
            low = middle
        else:
            high = middle
    return low
