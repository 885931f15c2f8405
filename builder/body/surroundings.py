"""Whether a body has an edge at points: neither all material nor all empty round them, nor a face straight through."""

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from builder.body.vectors import Array, Truth

Indices = NDArray[np.intp]

STEP = 1e-5  # of a body's size: how far off a point its surroundings are asked
LEAST_BEND = math.radians(1.0)  # a surface that bends by less is smooth

# Around a point of an edge the body is asked in 24 directions, 15 degrees apart and none along a likely face,
# in three rounds of eight: most edges show in the first.
_FINER = 8  # steps, twice, between two of them
_ANGLES = np.radians(4.1 + 15.0 * np.repeat(np.arange(3), 8) + 45.0 * np.tile(np.arange(8), 3))
_FIRST, _REST = _ANGLES[:8], _ANGLES[8:]
_ORDER = np.argsort(_ANGLES)
_SORTED = _ANGLES[_ORDER]


class Surroundings:
    """Points of curves, shape (n, 3), their directions of travel of length 1, and how far off a body is asked."""

    def __init__(self, contains: Callable[[Array], Truth], points: Array, alongs: Array, step: float) -> None:
        self._contains, self._points = contains, points
        x, y, z = alongs.T
        zero = np.zeros(len(points))
        first = np.where(np.abs(y) < 0.9, (-z, zero, x), (zero, z, -y))
        first /= np.sqrt((first * first).sum(axis=0))
        a, b, c = first
        # two directions square to the curve and to each other
        self._first = step * first.T
        self._second = step * np.stack((y * c - z * b, z * a - x * c, x * b - y * a), axis=1)

    def are_edges(self) -> Truth:
        """Tell which points have an edge."""
        count = len(self._points)
        if not count:
            return np.zeros(0, dtype=bool)
        first = self._ask(np.arange(count), _FIRST)
        edge = _alike(first) & _mixed(first)
        smooth = np.nonzero(~edge)[0]
        if not len(smooth):
            return edge
        rest = self._ask(smooth, _REST)
        second, found = rest[:, :8], np.concatenate((first[smooth], rest), axis=1)
        mixed = _mixed(found)
        bent = (_alike(second) & _mixed(found[:, :16])) | (_alike(rest[:, 8:]) & mixed)
        edge[smooth[bent]] = True
        mixed &= ~bent
        if mixed.any():
            edge[smooth[mixed]] = self._bends(found[mixed], smooth[mixed])
        return edge

    def _ask(self, index: Indices, angles: Array) -> Truth:
        """Ask some points in directions, angles of shape (n,) or for each its own (points, n), in radians."""
        c, s = np.cos(angles)[..., None], np.sin(angles)[..., None]
        asked = c * self._first[index, None] + s * self._second[index, None] + self._points[index, None]
        return self._contains(asked.reshape(-1, 3)).reshape(len(index), -1)

    def _bends(self, found: Truth, smooth: Indices) -> Truth:
        """Tell surfaces that bend by less than the directions are apart: find where both sides turn, in finer steps."""
        truths, half = found[:, _ORDER], len(_SORTED) // 2
        turns = truths[:, :half] != truths[:, 1 : half + 1]
        index = turns.argmax(axis=1)
        low = np.stack((_SORTED[index], _SORTED[index + half]), axis=1)
        at_low = np.take_along_axis(truths, np.stack((index, index + half), axis=1), axis=1)
        step = math.tau / len(_SORTED)
        for _ in range(2):
            step /= _FINER
            asked = low[:, :, None] + step * np.arange(1, _FINER)
            same = self._ask(smooth, asked.reshape(len(smooth), -1)).reshape(asked.shape) == at_low[:, :, None]
            low = low + step * np.logical_and.accumulate(same, axis=2).sum(axis=2)
        return np.asarray(turns.any(axis=1) & (np.abs(low[:, 1] - low[:, 0] - math.pi) > LEAST_BEND))


def _mixed(truths: Truth) -> Truth:
    return np.asarray(truths.any(axis=1) & ~truths.all(axis=1))


def _alike(truths: Truth) -> Truth:
    """Tell where two opposite directions of a round agree: no face runs straight through."""
    return np.asarray((truths[:, :4] == truths[:, 4:]).any(axis=1))
