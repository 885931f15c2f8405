"""Hatching of a cut face, drawn as lines so that it lives in every DXF version (R12 has no HATCH)."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise

from builder.view.flat import crossings
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Line, Point, bounds_of

Edge = Line | Arc | Circle


CRUMB = 0.1  # of the spacing: shorter pieces, left in corners, are not drawn


def hatch(edges: Sequence[Edge], filled: Callable[[Point], bool], spacing: float) -> tuple[Line, ...]:
    """Return lines at 45 degrees within the cut face: between the drawn edges, wherever there is material.

    `filled` tells whether a point of the cut plane is in the material; `spacing` is square to the lines.
    """
    bounds = bounds_of(edges)
    step = spacing * math.sqrt(2.0)
    first = math.floor((bounds.bottom - bounds.right) / step)
    last = math.ceil((bounds.top - bounds.left) / step)
    reach = max(bounds.width, bounds.height)
    # half a step off zero, so that no line runs through a corner on the axis
    rises = (step * (n + 0.5) for n in range(first, last + 1))
    lines = (_sloped(bounds.left, bounds.left + rise, bounds.width + reach) for rise in rises)
    parts = (part for line in lines for part in _inside(line, edges, filled))
    return tuple(part for part in parts if math.dist(part.start, part.end) > CRUMB * spacing)


def _sloped(x: float, y: float, run: float) -> Line:
    return Line(Point(x - 1e-3 * run, y - 1e-3 * run), Point(x + run, y + run), Role.HATCHING)


def _inside(line: Line, edges: Iterable[Edge], filled: Callable[[Point], bool]) -> Iterator[Line]:
    found = sorted({round(p.x, 9): p for edge in edges for p in crossings(line, _arc(edge))}.items())
    run: list[Point] = []
    for (_, a), (_, b) in pairwise(found):
        if filled(Point((a.x + b.x) / 2.0, (a.y + b.y) / 2.0)):
            run = [run[0] if run else a, b]
        elif run:
            yield Line(run[0], run[1], Role.HATCHING)
            run = []
    if run:
        yield Line(run[0], run[1], Role.HATCHING)


def _arc(edge: Edge) -> Line | Arc:
    return Arc(edge.centre, edge.radius, 0.0, 360.0, edge.role) if isinstance(edge, Circle) else edge
