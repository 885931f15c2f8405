"""What several leaves have in common: a hexagon within the cone of its chamfer, a slot no wider than a circle."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, reduce
from itertools import combinations

import numpy as np

from builder.body.contour import TINY, Loop, Straight, upright
from builder.body.crossings import crossings
from builder.body.curves import Curve, Limb, Meridian, RingArc, Segment
from builder.body.extruded import Extruded
from builder.body.faces import Face, Flat
from builder.body.limbs import parted
from builder.body.material import Leaf
from builder.body.measure import measured, sliced
from builder.body.turned import Turned
from builder.body.vectors import AXIS, Array, Box, Truth, Vector

_CLEAR = 1.01  # times the radius: further off than any question about the surroundings of an edge


@dataclass(frozen=True)
class Common:
    """The intersection of leaves."""

    parts: tuple[Turned | Extruded, ...]

    def leaves(self) -> Sequence[Leaf]:
        """Return its parts."""
        return self.parts

    def edges(self) -> Iterator[Curve]:
        """Offer the edges of every leaf and the curves in which the leaves cross."""
        for part in self.parts:
            for curve in part.edges():
                if not (self._beyond(curve) if isinstance(curve, Segment) else self._outside(curve)):
                    yield curve
        for a, b in combinations(self.parts, 2):
            yield from crossings(_unshared(a.faces(), b.faces()), _unshared(b.faces(), a.faces()))

    def _beyond(self, line: Segment) -> bool:
        """Tell a line square to the axis that keeps clear of a contour turned about it."""
        x = line.start[0]
        if abs(line.end[0] - x) > TINY:
            return False
        nearest = _nearest(line)
        contours = (p.loop for p in self.parts if isinstance(p, Turned) and p.place is AXIS)
        return any(nearest > _CLEAR * _widest(loop, x) for loop in contours)

    def _outside(self, curve: Curve) -> bool:
        """Tell a circle, or a line in its surface, beyond all corners of a profile about the same axis."""
        if isinstance(curve, RingArc) and curve.place is AXIS:
            radius = curve.radius
        elif isinstance(curve, Meridian) and curve.place is AXIS:
            radius = min(curve.contour.b0, curve.contour.b1)
        else:
            return False
        profiles = (p for p in self.parts if isinstance(p, Extruded) and p.place is AXIS)
        return any(
            all(isinstance(c, Straight) and math.hypot(c.a0, c.b0) < radius - 1e-9 for c in p.loop) for p in profiles
        )

    def silhouettes(self, toward: Vector) -> Iterator[Limb]:
        """Offer the silhouettes of every leaf, cut where the others end them."""
        for part in self.parts:
            others = tuple(other for other in self.parts if other is not part)
            yield from parted((limb for limb in part.silhouettes(toward) if not self._outside(limb)), others)

    def faces(self) -> Sequence[Face]:
        """Return the faces of every leaf, of several in one plane the first leaf's."""
        return self._faces

    @cached_property
    def _faces(self) -> tuple[Face, ...]:
        found: list[Face] = []
        for part in self.parts:
            found.extend(_unshared(part.faces(), found))
        return tuple(found)

    def contains(self, points: Array) -> Truth:
        """Tell which points are inside all leaves."""
        return reduce(np.logical_and, (part.contains(points) for part in self.parts))

    def roots(self, points: Array, toward: Vector) -> Array:
        """Return how far along the rays they meet the faces of any leaf."""
        return np.concatenate([part.roots(points, toward) for part in self.parts], axis=1)

    def box(self) -> Box:
        """Return the box that the leaves' boxes share."""
        lows, highs = zip(*(part.box() for part in self.parts), strict=True)
        low, high = (tuple(f(p[i] for p in ps) for i in range(3)) for f, ps in ((max, lows), (min, highs)))
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    def volume(self) -> float:
        """Return the volume: in closed slices for a profile within a turned contour, else measured by rays."""
        if len(self.parts) == 2:
            profile, turned = sorted(self.parts, key=lambda part: isinstance(part, Turned))
            if isinstance(profile, Extruded) and isinstance(turned, Turned) and _sliceable(profile, turned):
                return sliced(profile.loop, turned.loop, profile.start, profile.end)
        return measured(self.box(), self.contains, self.roots)


def _unshared(faces: Iterable[Face], others: Iterable[Face]) -> list[Face]:
    """Return faces but the flat ones in the plane of others: where they cross, those have their own edges."""
    flats = [other for other in others if isinstance(other, Flat)]
    return [face for face in faces if not (isinstance(face, Flat) and any(map(face.shares_plane, flats)))]


def _nearest(line: Segment) -> float:
    """Return how near to the axis a line comes that runs square to it."""
    (_, y, z), (_, dy, dz) = line.start, line.along(0.0)
    t = min(1.0, max(0.0, -(y * dy + z * dz) / (dy * dy + dz * dz)))
    return math.hypot(y + t * dy, z + t * dz)


def _widest(loop: Loop, x: float) -> float:
    """Return the greatest radius of a contour at a place, of an upright piece at its outer end."""
    found = 0.0
    for piece in loop:
        if min(piece.a0, piece.a1) - TINY <= x <= max(piece.a0, piece.a1) + TINY:
            found = max(found, *((piece.b0, piece.b1) if upright(piece) else (piece.b_at(x),)))
    return found


def _sliceable(profile: Extruded, turned: Turned) -> bool:
    straight = all(isinstance(piece, Straight) for piece in profile.loop)
    from_axis = any(piece.b0 == piece.b1 == 0.0 for piece in turned.loop)
    return straight and from_axis and profile.place is turned.place is AXIS and turned.turn is None
