"""A view of a longer part from that of a shorter one of the same form, without projecting again.

Seen from beside, a body whose uniform stretches are made longer shows the same edges, moved along the axis: every
slice across the axis stays as it is and lies in the same order before the viewer, so what hides what does not change.
Uniform is what only surfaces parallel to the axis pass through; there nothing but lines along the axis is drawn.
Whatever does not fit that picture makes no `Stretch`, and the view is projected.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from builder.body.stations import Stations
from builder.view.frame import Frame
from builder.view.merge import Edge
from builder.words.shapes import Line, Point, bounds_of

_SAME = 1e-9  # of the unit: places and lengths that differ by less are the same
_NEAR = 1e-7  # of the unit: so near a station an edge ends at it
_BULGE = 1e-3  # of its height: an arc that stands for another curve reaches a little too far


class Unfit(Exception):
    """An edge lies otherwise than the stretch assumes."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Places along the axis and where they go; between neighbours all is moved alike, or only level lines lie there."""

    places: tuple[float, ...]
    moved: tuple[float, ...]
    uniform: tuple[bool, ...]  # for each pair of neighbours, whether it is made longer or shorter

    def edges(self, edges: Iterable[Edge]) -> tuple[Edge, ...] | None:
        """Return the edges of the other body in a view from beside; None where an edge does not fit."""
        try:
            return tuple(self._edge(edge) for edge in edges)
        except Unfit:
            return None

    def keeps(self, a: float, b: float) -> bool:
        """Tell whether all between two places is moved alike."""
        low, high = sorted((a, b))
        try:
            return high - low <= _SAME or isinstance(self._shift(low, high), float)
        except Unfit:
            return False

    def _edge(self, edge: Edge) -> Edge:
        if isinstance(edge, Line):
            level = abs(edge.start.y - edge.end.y) <= _SAME
            if not (level or self.keeps(edge.start.x, edge.end.x)):
                raise Unfit
            return Line(self._point(edge.start), self._point(edge.end), edge.role)
        shift = self._shift(*_reach_of(edge))
        return replace(edge, centre=edge.centre.plus(shift, 0.0))

    def _point(self, point: Point) -> Point:
        return Point(self._place(point.x), point.y)

    def _place(self, x: float) -> float:
        after = bisect_right(self.places, x)
        for near in (after - 1, after):
            if 0 <= near < len(self.places) and abs(self.places[near] - x) < _NEAR:
                return self.moved[near] + (x - self.places[near])
        return x + self._shift(x, x)

    def _shift(self, left: float, right: float) -> float:
        """Return by how much a range of places is moved; Unfit where part of it is made longer."""
        first = max(0, bisect_right(self.places, left + _SAME) - 1)
        last = min(len(self.uniform), max(first, bisect_right(self.places, right - _SAME) - 1))
        if any(self.uniform[first : last + 1]):
            raise Unfit
        return self.moved[first] - self.places[first]


@lru_cache(maxsize=1 << 10)  # the edges of one length are stretched to all others
def _reach_of(edge: Edge) -> tuple[float, float]:
    extent = bounds_of((edge,))
    slack = _BULGE * extent.height
    return extent.left + slack, extent.right - slack


def stretch_between(old: Stations, new: Stations) -> Stretch | None:
    """Return what makes one body the other; None where they differ by more than uniform stretches."""
    if old.form != new.form:
        return None
    pairs = sorted(zip(old.places, new.places, strict=True))
    kept = [pair for n, pair in enumerate(pairs) if not n or pair[0] - pairs[n - 1][0] > _SAME]
    if any(abs((b - a) - (q - p)) > _SAME for (a, p), (b, q) in _close(pairs)):
        return None  # what was one place is none any more
    uniform = tuple(abs((b - a) - (q - p)) > _SAME for (a, p), (b, q) in pairwise(kept))
    if any(long and q - p < _SAME for long, ((_, p), (_, q)) in zip(uniform, pairwise(kept), strict=True)):
        return None  # something would vanish or change its order
    stretch = Stretch(tuple(a for a, _ in kept), tuple(p for _, p in kept), uniform)
    return stretch if all(stretch.keeps(old.places[i], old.places[j]) for i, j in old.rigid) else None


def _close(pairs: Sequence[tuple[float, float]]) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    return (two for two in pairwise(pairs) if two[1][0] - two[0][0] <= _SAME)


def shows_stretch(frame: Frame) -> bool:
    """Tell whether a view looks at the axis from beside, +X to the right: only then do edges move along."""
    return frame.right[0] > 1.0 - 1e-12
