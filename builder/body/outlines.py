"""Many contours as arrays, to be asked together which places lie inside each of them."""

from collections.abc import Sequence

import numpy as np

from builder.body.contour import Bow, Contour, upright
from builder.body.vectors import Array, Truth


class Outlines:
    """Closed contours; a piece on b = 0 may be left out of one that keeps to one side of it."""

    def __init__(self, loops: Sequence[Sequence[Contour]]) -> None:
        crossed = [[piece for piece in loop if not upright(piece)] for loop in loops]
        pieces = [piece for own in crossed for piece in own]
        self._starts = np.cumsum([0, *map(len, crossed[:-1])])
        ends = np.array([(p.a0, p.b0, p.a1, p.b1) for p in pieces])
        self._a0, self._b0, self._a1, b1 = ends.T[:, :, None]
        self._bows = [(n, piece) for n, piece in enumerate(pieces) if isinstance(piece, Bow)]
        run = self._a1 - self._a0
        run[[n for n, _ in self._bows]] = 1.0  # an arc may end where it starts
        self._slope = (b1 - self._b0) / run

    def inside(self, a: Array, b: Array) -> Truth:
        """Tell which places, shapes (n,), lie inside which contour, shape (contours, n): an odd number above them."""
        level = a - self._a0
        level *= self._slope
        level += self._b0
        for n, bow in self._bows:
            level[n] = bow.level(a)
        under = (self._a0 <= a) != (self._a1 <= a)
        under &= b < level
        return np.asarray(np.logical_xor.reduceat(under, self._starts, axis=0))
