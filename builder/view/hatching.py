"""Hatching of a cut face, drawn as lines so that it lives in every DXF version (R12 has no HATCH)."""

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

import numpy as np

from builder.body.vectors import Array, Truth
from builder.view.cutting import crossings
from builder.view.merge import Edge
from builder.words.limits import LINES
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, arcs_of, bounds_of

CRUMB = 0.1  # of the spacing: shorter pieces, left in corners, are not drawn


def hatch(
    edges: Sequence[Edge], filled: Callable[[Array], Truth], spacing: float, degrees: float = 45.0
) -> tuple[Line, ...]:
    """Return lines at an angle within the cut face: between the drawn edges, wherever there is material.

    `filled` tells which points of the cut plane, shape (n, 2), are in the material; `spacing` is square to the lines.
    """
    arcs = [piece for edge in edges for piece in _pieces(edge)]
    gaps = [gap for line in _sloped(edges, spacing, math.radians(degrees)) for gap in _gaps(line, arcs)]
    if not gaps:
        return ()
    truths = filled(np.array([((a.x + b.x) / 2.0, (a.y + b.y) / 2.0) for a, b in gaps])).tolist()
    lines: list[Line] = []
    for (a, b), inside in zip(gaps, truths, strict=True):
        if not inside:
            continue
        if lines and lines[-1].end is a:
            lines[-1] = Line(lines[-1].start, b, Role.HATCHING)
        else:
            lines.append(Line(a, b, Role.HATCHING))
    return tuple(line for line in lines if math.dist(line.start, line.end) > CRUMB * spacing)


def _sloped(edges: Sequence[Edge], spacing: float, angle: float) -> list[Line]:
    """Return lines across the bounds; half a step off zero, so that none runs through a corner on the axis."""
    left, bottom, right, top = bounds_of(edges)
    spacing = max(spacing, math.hypot(right - left, top - bottom) / LINES)
    c, s = math.cos(angle), math.sin(angle)
    corners = [(x, y) for x in (left, right) for y in (bottom, top)]
    alongs, offs = [x * c + y * s for x, y in corners], [y * c - x * s for x, y in corners]
    first, last = math.floor(min(offs) / spacing) - 1, math.ceil(max(offs) / spacing) + 1
    margin = 1e-3 * (max(alongs) - min(alongs))
    a, b = min(alongs) - margin, max(alongs) + margin
    rises = (spacing * (n + 0.5) for n in range(first, last + 1))
    return [
        Line(Point(a * c - d * s, a * s + d * c), Point(b * c - d * s, b * s + d * c), Role.HATCHING) for d in rises
    ]


def _gaps(line: Line, edges: Sequence[Line | Arc]) -> list[tuple[Point, Point]]:
    dx, dy = line.end.x - line.start.x, line.end.y - line.start.y
    found = {round(p.x * dx + p.y * dy, 9): p for edge in edges for p in crossings(line, edge)}
    return list(pairwise(found[key] for key in sorted(found)))


def _pieces(edge: Edge) -> tuple[Line | Arc, ...]:
    if isinstance(edge, Ellipse):
        return arcs_of(edge, 1e-4 * math.hypot(*edge.major))
    return (Arc(edge.centre, edge.radius, 0.0, 360.0, edge.role) if isinstance(edge, Circle) else edge,)
