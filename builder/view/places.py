"""Where laid curves are cut: where other images meet theirs, and where a silhouette that ends may touch them."""

from bisect import insort
from collections.abc import Iterator, Sequence

import numpy as np

from builder.body.curves import Segment
from builder.body.vectors import Array
from builder.view.cutting import cut_fractions, fraction_of
from builder.view.flat import Flat
from builder.words.shapes import Arc, Line, Point


def cut_places(
    flats: Sequence[Flat], fences: Sequence[Line] = (), limbs: Sequence[Flat] = (), slack: float = 0.0
) -> list[list[float]]:
    """Return for each image the parameters, from its first to its last, at which another one or a fence meets it.

    An image that is only near to its curve is cut where it passes the end of a silhouette within a slack, as the
    silhouette may touch it without crossing; a straight line where it passes the end of such an image.
    """
    fractions = cut_fractions([*(flat.shape for flat in flats), *fences])
    straight = [n for n, flat in enumerate(flats) if isinstance(flat.curve, Segment)]
    near = [n for n, flat in enumerate(flats) if not flat.is_exact and not isinstance(flat.curve, Segment)]
    for index, pins in ((straight, [limb for limb in limbs if not limb.is_exact]), (near, limbs)):
        if index and pins:
            for n, pin in _passing([flats[n].shape for n in index], _ends(pins), slack):
                insort(fractions[index[n]], fraction_of(flats[index[n]].shape, pin))
    return [flat.parameters(own) for flat, own in zip(flats, fractions, strict=False)]


def _ends(limbs: Sequence[Flat]) -> Array:
    """Return the places at which the images of silhouettes end, shape (n, 2)."""
    shapes = [limb.shape for limb in limbs]
    ends = [(s.start, s.end) if isinstance(s, Line) else (s.at(s.start), s.at(s.end)) for s in shapes]
    return np.array(ends).reshape(-1, 2)


def _passing(shapes: Sequence[Line | Arc], pins: Array, slack: float) -> Iterator[tuple[int, Point]]:
    """Return which shapes' lines and circles pass which places within a slack."""
    x, y = pins.T
    offs = np.empty((len(shapes), len(pins)))
    lines = [(n, shape) for n, shape in enumerate(shapes) if isinstance(shape, Line)]
    arcs = [(n, shape) for n, shape in enumerate(shapes) if isinstance(shape, Arc)]
    if lines:
        offs[[n for n, _ in lines]] = _off_lines([line for _, line in lines], x, y)
    if arcs:
        offs[[n for n, _ in arcs]] = _off_circles([arc for _, arc in arcs], x, y)
    for n, pin in zip(*(found.tolist() for found in np.nonzero(offs < slack)), strict=True):
        yield n, Point(float(x[pin]), float(y[pin]))


def _off_lines(lines: Sequence[Line], x: Array, y: Array) -> Array:
    """Return how far places lie off lines, shape (lines, places)."""
    x0, y0, x1, y1 = np.array([(*line.start, *line.end) for line in lines]).T[:, :, None]
    return np.asarray(np.abs((x - x0) * (y1 - y0) - (y - y0) * (x1 - x0)) / np.hypot(x1 - x0, y1 - y0))


def _off_circles(arcs: Sequence[Arc], x: Array, y: Array) -> Array:
    """Return how far places lie off the circles of arcs, shape (arcs, places)."""
    x0, y0, radius = np.array([(*arc.centre, arc.radius) for arc in arcs]).T[:, :, None]
    return np.asarray(np.abs(np.hypot(x - x0, y - y0) - radius))
