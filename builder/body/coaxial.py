"""Leaves turned whole about the part's own axis, most of what there is, asked together as arrays."""

from collections.abc import Sequence

import numpy as np

from builder.body.contour import TINY, Bow, Loop, Straight, upright
from builder.body.outlines import Outlines
from builder.body.rays import round_roots
from builder.body.vectors import Array, Truth, Vector


class Coaxial:
    """Contours turned about the X axis; points have the shape (n, 3)."""

    def __init__(self, loops: Sequence[Loop]) -> None:
        turned = [[piece for piece in loop if max(piece.b0, piece.b1) > 0.0] for loop in loops]
        self._outlines = Outlines(turned)
        pieces = [piece for own in turned for piece in own if max(piece.b0, piece.b1) > TINY]
        self._faces = [p for p in pieces if isinstance(p, Straight) and upright(p)]
        self._bows = [p for p in pieces if isinstance(p, Bow)]
        cones = [p for p in pieces if isinstance(p, Straight) and not upright(p)]
        self._cones = np.array([(p.a0, p.b0, (p.b1 - p.b0) / (p.a1 - p.a0)) for p in cones]).reshape(-1, 3).T
        reach = np.array([sorted((p.a0, p.a1)) for p in cones]).reshape(-1, 2).T
        slack = TINY * (1.0 + np.abs(reach).sum(axis=0))
        self._low, self._high = reach[0] - slack, reach[1] + slack

    def contains(self, points: Array) -> Truth:
        """Tell which points are inside which contour, shape (contours, n)."""
        y, z = points[:, 1], points[:, 2]
        return self._outlines.inside(points[:, 0], np.sqrt(y * y + z * z))

    def roots(self, points: Array, toward: Vector) -> Array:
        """Return how far along the rays they meet the faces, shape (n, k); infinite where they do not."""
        found = [self._on_cones(points, toward)]
        found.extend(round_roots(bow, points, toward) for bow in self._bows)
        if abs(toward[0]) > 1e-12:
            found.extend(round_roots(face, points, toward) for face in self._faces)
        return np.concatenate(found, axis=1) if len(found) > 1 else found[0]

    def _on_cones(self, points: Array, toward: Vector) -> Array:
        """Solve a t^2 + 2 b t + c for all cones and cylinders at once."""
        (a0, b0, k), (dx, dy, dz) = self._cones, toward
        x, y, z = points[:, 0, None], points[:, 1, None], points[:, 2, None]
        radius = (x - a0) * k + b0
        a = dy * dy + dz * dz - (k * dx) ** 2
        b = (y * dy + z * dz) - (k * dx) * radius
        c = (y * y + z * z) - radius * radius
        with np.errstate(divide="ignore", invalid="ignore"):
            half = np.sqrt(b * b - a * c)
            roots = np.concatenate(((-b - half) / a, (-b + half) / a), axis=1)
            level = np.abs(a) < 1e-12
            if level.any():
                roots[:, : len(a)][:, level] = -c[:, level] / (2.0 * b[:, level])
                roots[:, len(a) :][:, level] = np.inf
            low, high = np.concatenate((self._low, self._low)), np.concatenate((self._high, self._high))
            along = x + dx * roots if dx else np.broadcast_to(x, roots.shape)
            roots[~((low <= along) & (along <= high))] = np.inf
        roots[np.isnan(roots)] = np.inf
        return np.asarray(roots)
