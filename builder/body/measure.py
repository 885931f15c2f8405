"""Volumes: closed forms where features leave them, Gauss's rule over slices, and rays where features overlap."""

import math
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import pairwise

import numpy as np

from builder.body.contour import Contour, Loop, Straight, upright
from builder.body.solid import Body, Fit, Piece, Solid, overlap, thread_share, union_box
from builder.body.vectors import Array, Box, Truth, Vector

# Rays across the axis, where lengths change little from one to the next, through the points of a lattice that lies
# along no face: two neighbours of Fibonacci's numbers. The error is of the order of a few parts in ten thousand.
_RAYS, _STEP = 10946, 6765
_AT_ONCE = 1024  # rays: a body of many holes has thousands of faces that each may meet
_GAUSS_PLACES, _GAUSS_WEIGHTS = (tuple(map(float, values)) for values in np.polynomial.legendre.leggauss(7))


def volume(body: Body) -> float:
    """Return the volume of a body, threads counted as cylinders of their pitch diameter.

    Solids end to end and voids within them add up in closed form; branches, slots and voids that share room are
    measured by rays.
    """
    solids, slack = [p for p in body.pieces if not p.void], 1e-6 * body.size
    voids = [p for p in body.pieces if p.void]
    if any(p.fit is Fit.ADDED and _shares_room(p, solids, slack) for p in solids):
        return measured(body.box, body.contains, body.roots) + thread_share(body)
    boxes = [p.solid.box() for p in voids]
    mixed = [
        p.fit is Fit.CUT or any(overlap(box, other, slack) for other in (*boxes[:n], *boxes[n + 1 :]))
        for n, (p, box) in enumerate(zip(voids, boxes, strict=True))
    ]
    total = sum(p.solid.volume() for p in solids)
    total -= sum(p.solid.volume() for p, shared in zip(voids, mixed, strict=True) if not shared)
    cutters = [p.solid for p, shared in zip(voids, mixed, strict=True) if shared]
    return total - _cut_away(body, cutters) + thread_share(body)


def _shares_room(piece: Piece, solids: Sequence[Piece], slack: float) -> bool:
    box = piece.solid.box()
    return any(overlap(box, other.solid.box(), slack) for other in solids if other is not piece)


def _cut_away(body: Body, cutters: Sequence[Solid]) -> float:
    if not cutters:
        return 0.0

    def gone(points: Array) -> Truth:
        filled, cut = np.zeros(len(points), dtype=bool), np.zeros(len(points), dtype=bool)
        for solid in body.solids:
            filled |= solid.contains(points)
        for cutter in cutters:
            cut |= cutter.contains(points)
        return filled & cut

    low, high = union_box([cutter.box() for cutter in cutters])
    box = _shared((low, high), body.box)
    return measured(box, gone, body.roots)


def _shared(a: Box, b: Box) -> Box:
    low = tuple(max(p, q) for p, q in zip(a[0], b[0], strict=True))
    high = tuple(min(p, q) for p, q in zip(a[1], b[1], strict=True))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def measured(box: Box, contains: Callable[[Array], Truth], roots: Callable[[Array, Vector], Array]) -> float:
    """Return the volume within a box by parallel rays through a lattice of points."""
    (x0, y0, z0), (x1, y1, z1) = box
    if min(x1 - x0, y1 - y0, z1 - z0) <= 0.0:
        return 0.0
    order = np.arange(_RAYS) + 0.5
    x, y = x0 + (x1 - x0) * order / _RAYS, y0 + (y1 - y0) * (order * _STEP / _RAYS % 1.0)
    starts = np.stack((x, y, np.full(_RAYS, z0)), axis=1)
    lengths = filled_lengths(starts, (0.0, 0.0, 1.0), np.full(_RAYS, z1 - z0), contains, roots)[0]
    return float(lengths.sum()) * (x1 - x0) * (y1 - y0) / _RAYS


def filled_lengths(
    starts: Array,
    toward: Vector,
    limits: Array,
    contains: Callable[[Array], Truth],
    roots: Callable[[Array, Vector], Array],
) -> tuple[Array, Array]:
    """Return for each ray up to its limit the length in material and the longest unbroken stretch of it."""
    parts = [
        _filled_lengths(starts[n : n + _AT_ONCE], toward, limits[n : n + _AT_ONCE], contains, roots)
        for n in range(0, max(1, len(starts)), _AT_ONCE)
    ]
    return np.concatenate([length for length, _ in parts]), np.concatenate([best for _, best in parts])


def _filled_lengths(
    starts: Array,
    toward: Vector,
    limits: Array,
    contains: Callable[[Array], Truth],
    roots: Callable[[Array, Vector], Array],
) -> tuple[Array, Array]:
    limits = np.minimum(limits, 1e12)[:, None]
    places = np.sort(np.clip(roots(starts, toward), 0.0, limits), axis=1)
    places = np.concatenate((np.zeros((len(starts), 1)), places, limits), axis=1)
    spans = np.diff(places, axis=1)
    rows, columns = np.nonzero(spans > 0.0)
    middles = places[rows, columns] + 0.41 * spans[rows, columns]  # in symmetric bodies half way may be an edge
    filled = np.zeros(spans.shape, dtype=bool)
    filled[rows, columns] = contains(starts[rows] + middles[:, None] * np.array(toward))
    # what is empty starts a stretch anew: the length so far, less the length at the last empty span
    lengths = np.cumsum(spans, axis=1)
    broken = np.maximum.accumulate(np.where(filled | (spans <= 0.0), 0.0, lengths), axis=1)
    return np.asarray((spans * filled).sum(axis=1)), np.asarray((lengths - broken).max(axis=1))


def sliced(profile: Loop, turned: Loop, start: float, end: float) -> float:
    """Return the volume of a polygon extruded along the axis within a contour turned from the axis."""
    total, sides = 0.0, _sides(profile)
    distances = {round(d, 12) for side, _ in sides for d in _distances(side)}
    for piece in turned:
        low, high = max(start, min(piece.a0, piece.a1)), min(end, max(piece.a0, piece.a1))
        if upright(piece) or piece.b0 == piece.b1 == 0.0 or high <= low:
            continue
        places = sorted({low, high, *(a for d in distances for a in _places(piece, d) if low < a < high)})
        total += sum(_gauss(partial(_slice, sides, piece), a, b) for a, b in pairwise(places))
    return total


def _sides(profile: Loop) -> list[tuple[Contour, int]]:
    """Return the sides of a polygon and how many lie alike to its centre: a regular one has one kind."""
    kinds: dict[tuple[float, ...], list[Contour]] = {}
    for p in profile:
        turn = p.a0 * p.b1 - p.a1 * p.b0
        key = (math.hypot(p.a0, p.b0), math.hypot(p.a1, p.b1), turn, math.dist((p.a0, p.b0), (p.a1, p.b1)))
        kinds.setdefault(tuple(round(value, 9) for value in key), []).append(p)
    return [(own[0], len(own)) for own in kinds.values()]


def _slice(sides: Sequence[tuple[Contour, int]], piece: Contour, a: float) -> float:
    """Return the area that a polygon and a circle about the origin share: triangles and sectors from the origin."""
    radius = piece.b_at(a)
    return abs(sum(count * _share(side.a0, side.b0, side.a1, side.b1, radius) for side, count in sides))


def _distances(piece: Contour) -> Iterator[float]:
    da, db = piece.a1 - piece.a0, piece.b1 - piece.b0
    yield abs(piece.a0 * db - piece.b0 * da) / math.hypot(da, db)
    yield math.hypot(piece.a0, piece.b0)


def _places(piece: Contour, radius: float) -> Iterator[float]:
    if isinstance(piece, Straight):
        if abs(piece.b1 - piece.b0) > 1e-12:
            yield piece.a0 + (piece.a1 - piece.a0) * (radius - piece.b0) / (piece.b1 - piece.b0)
        return
    square = piece.radius**2 - (radius - piece.cb) ** 2
    if square > 0.0:
        yield from (piece.ca + s * math.sqrt(square) for s in (1.0, -1.0))


def _gauss(f: Callable[[float], float], a: float, b: float) -> float:
    half, middle = (b - a) / 2.0, (a + b) / 2.0
    return half * sum(w * f(middle + half * u) for u, w in zip(_GAUSS_PLACES, _GAUSS_WEIGHTS, strict=True))


def _share(ax: float, ay: float, bx: float, by: float, r: float) -> float:
    dx, dy = bx - ax, by - ay
    a, b, c = dx * dx + dy * dy, ax * dx + ay * dy, ax * ax + ay * ay - r * r
    square = b * b - a * c
    ts = [0.0, 1.0]
    if square > 0.0:
        ts += [t for t in ((-b - math.sqrt(square)) / a, (-b + math.sqrt(square)) / a) if 0.0 < t < 1.0]
    total = 0.0
    for t, u in pairwise(sorted(ts)):
        px, py, qx, qy = ax + t * dx, ay + t * dy, ax + u * dx, ay + u * dy
        m = (t + u) / 2.0
        turn = px * qy - py * qx
        if math.hypot(ax + m * dx, ay + m * dy) <= r:
            total += turn / 2.0
        else:
            total += r * r * math.atan2(turn, px * qx + py * qy) / 2.0
    return total
