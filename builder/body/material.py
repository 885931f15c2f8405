"""Where the material of a body is: the union of its solids less that of its voids, their leaves asked together."""

from collections.abc import Iterable, Sequence
from functools import reduce
from itertools import chain
from typing import Protocol

import numpy as np

from builder.body.coaxial import Coaxial
from builder.body.contour import Loop, Straight
from builder.body.vectors import Array, Box, Truth, Vector


class Leaf(Protocol):
    """A simple shape in space, of which solids are the intersections."""

    def contains(self, points: Array) -> Truth:
        """Tell which points are inside."""

    def roots(self, points: Array, toward: Vector) -> Array:
        """Return how far along the rays from points they meet faces."""

    def coaxial(self) -> Loop | None:
        """Return the contour of a leaf turned whole about the part's own axis; None of any other."""

    def profile(self) -> tuple[Straight, ...] | None:
        """Return the polygon of a leaf carried along the part's own axis; None of any other."""

    def box(self) -> Box:
        """Return two corners of an upright box round it."""


class Material:
    """Solids and voids, each what its leaves have in common; points have the shape (n, 3)."""

    def __init__(self, solids: Sequence[Sequence[Leaf]], voids: Sequence[Sequence[Leaf]]) -> None:
        leaves = [*chain.from_iterable((*solids, *voids))]
        contours = [(leaf, loop) for leaf in leaves if (loop := leaf.coaxial()) is not None]
        self._coaxial = Coaxial([loop for _, loop in contours]) if contours else None
        self._others = [leaf for leaf in leaves if leaf.coaxial() is None]
        # answers come for the coaxial leaves first
        rows = {id(leaf): n for n, leaf in enumerate((*(leaf for leaf, _ in contours), *self._others))}
        self._solids = [[rows[id(leaf)] for leaf in own] for own in solids]
        self._voids = [[rows[id(leaf)] for leaf in own] for own in voids]

    def contains(self, points: Array) -> Truth:
        """Tell which points are in the material."""
        within = [*self._coaxial.contains(points)] if self._coaxial else []
        within.extend(leaf.contains(points) for leaf in self._others)
        filled = np.zeros(len(points), dtype=bool)
        for solid in self._solids:
            filled |= _common(within, solid)
        for void in self._voids:
            filled &= ~_common(within, void)
        return filled

    def roots(self, points: Array, toward: Vector) -> Array:
        """Return how far along the rays they meet any face, shape (n, k); infinite where they do not."""
        found = [self._coaxial.roots(points, toward)] if self._coaxial else []
        found.extend(leaf.roots(points, toward) for leaf in self._others)
        return np.concatenate(found, axis=1)


def _common(within: Sequence[Truth], leaves: Iterable[int]) -> Truth:
    return reduce(np.logical_and, (within[n] for n in leaves))
