"""Regions drawn directly: their outline, and hatching within it."""

from collections.abc import Iterator

import numpy as np

from builder.body.contour import Loop, Straight, bows
from builder.body.outlines import Outlines
from builder.body.vectors import Array, Truth
from builder.view.hatching import hatch
from builder.words.regions import Region
from builder.words.shapes import Arc, Line, Shape


def shapes_of(region: Region, spacing: float) -> Iterator[Shape]:
    """Return a region's outline and hatching; the spacing is square to the lines."""
    loop: Loop = tuple(piece for edge in region.edges for piece in _pieces(edge))

    outlines = Outlines((loop,))

    def filled(points: Array) -> Truth:
        return np.asarray(outlines.inside(points[:, 0], points[:, 1])[0])

    yield from region.edges
    yield from hatch(region.edges, filled, spacing, region.angle)


def _pieces(edge: Line | Arc) -> Loop:
    """Return an edge as contour pieces; which way they run does not matter to the question what lies inside."""
    if isinstance(edge, Line):
        return (Straight(*edge.start, *edge.end),)
    return tuple(bows(edge.at(edge.start), edge.at(edge.end), edge.centre, left=True))
