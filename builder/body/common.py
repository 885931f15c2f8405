"""What several leaves have in common: a hexagon within the cone of its chamfer, a slot no wider than a circle."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import combinations

import numpy as np

from builder.body.contour import Straight
from builder.body.crossings import crossings
from builder.body.curves import Curve, Limb, RingArc
from builder.body.extruded import Extruded
from builder.body.faces import Face
from builder.body.limbs import parted
from builder.body.measure import measured, sliced
from builder.body.solid import Box
from builder.body.turned import Turned
from builder.body.vectors import AXIS, Array, Truth, Vector

Leaf = Turned | Extruded


@dataclass(frozen=True, slots=True)
class Common:
    """The intersection of leaves."""

    parts: tuple[Leaf, ...]

    def edges(self) -> Iterator[Curve]:
        """Offer the edges of every leaf and the curves in which the leaves cross."""
        for part in self.parts:
            yield from (curve for curve in part.edges() if not self._outside(curve))
        for a, b in combinations(self.parts, 2):
            yield from crossings(a.faces(), b.faces())

    def _outside(self, curve: Curve) -> bool:
        """Tell a circle beyond all corners of a profile about the same axis."""
        if not (isinstance(curve, RingArc) and curve.place is AXIS):
            return False
        profiles = (p for p in self.parts if isinstance(p, Extruded) and p.place is AXIS)
        return any(
            all(isinstance(c, Straight) and math.hypot(c.a0, c.b0) < curve.radius - 1e-9 for c in p.loop)
            for p in profiles
        )

    def silhouettes(self, toward: Vector) -> Iterator[Limb]:
        """Offer the silhouettes of every leaf, cut where the others end them."""
        for part in self.parts:
            others = tuple(other for other in self.parts if other is not part)
            yield from parted(tuple(part.silhouettes(toward)), others)

    def faces(self) -> Sequence[Face]:
        """Return the faces of every leaf."""
        return tuple(face for part in self.parts for face in part.faces())

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


def _sliceable(profile: Extruded, turned: Turned) -> bool:
    straight = all(isinstance(piece, Straight) for piece in profile.loop)
    from_axis = any(piece.b0 == piece.b1 == 0.0 for piece in turned.loop)
    return straight and from_axis and profile.place is turned.place is AXIS and turned.turn is None
