"""Circles about the part's axis with the same surroundings all round: one question tells whether they are edges."""

import math
from collections.abc import Callable, Iterable, Sequence
from typing import TypeGuard

import numpy as np

from builder.body.contour import TINY, Straight
from builder.body.curves import Curve, RingArc
from builder.body.material import Leaf
from builder.body.surroundings import STEP, Surroundings
from builder.body.vectors import AXIS, Array, Truth


def is_rim(curve: Curve) -> TypeGuard[RingArc]:
    """Tell a whole circle about the part's own axis."""
    return isinstance(curve, RingArc) and curve.place is AXIS and curve.end - curve.start > math.tau - TINY


def known_rims(
    rims: Sequence[RingArc], leaves: Iterable[Leaf], contains: Callable[[Array], Truth], size: float
) -> list[bool | None]:
    """Return of each circle whether it is an edge of a body all round; None of one that may be in parts."""
    margin, found = 2.0 * STEP * size, list[bool | None]([None] * len(rims))
    uneven = [leaf for leaf in leaves if leaf.coaxial() is None]
    even = [n for n, rim in enumerate(rims) if all(_is_even(leaf, rim, margin) for leaf in uneven)]
    if even:
        points = np.array([rims[n].at(0.0) for n in even])
        alongs = np.array([rims[n].along(0.0) for n in even])
        real = Surroundings(contains, points, alongs, STEP * size).are_edges()
        for n, edge in zip(even, real.tolist(), strict=True):
            found[n] = edge
    return found


def _is_even(leaf: Leaf, rim: RingArc, margin: float) -> bool:
    """Tell a circle that keeps clear of all of a leaf's surface that is not turned about the axis or square to it."""
    (x0, y0, z0), (x1, y1, z1) = leaf.box()
    if not x0 - margin < rim.x < x1 + margin:
        return True
    nearest = math.hypot(max(y0, -y1, 0.0), max(z0, -z1, 0.0))
    farthest = math.hypot(max(-y0, y1), max(-z0, z1))
    if not nearest - margin < rim.radius < farthest + margin:
        return True
    profile = leaf.profile()
    if profile is None:
        return False
    low, high = _radii(profile)
    return not low - margin < rim.radius < high + margin


def _radii(profile: Sequence[Straight]) -> tuple[float, float]:
    """Return how near the sides of a polygon come to the origin, and how far."""
    nearest = min(_nearest(side) for side in profile)
    return nearest, max(math.hypot(side.a0, side.b0) for side in profile)


def _nearest(side: Straight) -> float:
    da, db = side.a1 - side.a0, side.b1 - side.b0
    t = min(1.0, max(0.0, -(side.a0 * da + side.b0 * db) / (da * da + db * db)))
    return math.hypot(side.a0 + t * da, side.b0 + t * db)
