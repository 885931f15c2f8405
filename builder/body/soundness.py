"""Whether the pieces of a body fit together: solids end to end or touching, voids with material where they need it."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from builder.body.contour import TINY, upright
from builder.body.solid import Body, Fit, Piece, overlap
from builder.body.turned import Turned
from builder.body.vectors import Array, Box, Truth, radial


@dataclass(frozen=True, slots=True)
class Misfit:
    """A feature that does not fit the others: its name, what is wrong, what was expected."""

    feature: str
    wrong: str
    expected: str


def misfits_of(body: Body) -> Iterator[Misfit]:
    """Return what does not fit, in the body's unit; gaps and overlaps up to 1e-9 of its size count as contact."""
    yield from dict.fromkeys(_misfits(body))  # of a circle of holes every one is at fault


def _misfits(body: Body) -> Iterator[Misfit]:
    solids = [p for p in body.pieces if not p.void]
    voids = [p for p in body.pieces if p.void]
    if not solids:
        if voids:
            yield Misfit(voids[0].feature, "cuts into nothing", "expected a solid feature in the body")
        return
    slack = 1e-9 * body.size
    stacked = sorted((p for p in solids if p.fit is Fit.STACKED), key=_stretch)
    yield from _stacking(stacked, slack)
    yield from _growing(solids, slack)
    for void in voids:
        if void.fit is Fit.CUT:
            yield from _cutting(void, solids)
        else:
            yield from _containment(void, stacked or solids, voids, slack)


def _stretch(piece: Piece) -> tuple[float, float]:
    low, high = piece.solid.box()
    return low[0], high[0]


def _place(piece: Piece) -> str:
    low, high = _stretch(piece)
    return f"{low:g} to {high:g}"


def _stacking(solids: list[Piece], slack: float) -> Iterator[Misfit]:
    for before, after in pairwise(solids):
        end, start = _stretch(before)[1], _stretch(after)[0]
        if start < end - slack:
            wrong = f"starts at {start:g} inside {before.feature}, which ends at {end:g}"
            yield Misfit(after.feature, wrong, "must start where the other ends")
        elif start > end + slack:
            wrong = f"starts at {start:g}, away from {before.feature}, which ends at {end:g}"
            yield Misfit(after.feature, wrong, "must touch the other")


def _growing(solids: Sequence[Piece], slack: float) -> Iterator[Misfit]:
    """Find solids that grow out of nothing: whole features at a time, for a bend carries its own tail."""
    boxes: dict[str, list[Box]] = {}
    for piece in solids:
        boxes.setdefault(piece.feature, []).append(piece.solid.box())
    for feature in dict.fromkeys(p.feature for p in solids if p.fit is Fit.ADDED):
        others = [box for name, own in boxes.items() if name != feature for box in own]
        if others and not any(overlap(a, b, -slack) for a in boxes[feature] for b in others):
            low = min(box[0][0] for box in boxes[feature])
            high = max(box[1][0] for box in boxes[feature])
            yield Misfit(feature, f"stands at {low:g} to {high:g}, away from the body", "must touch another feature")


def _cutting(void: Piece, solids: Sequence[Piece]) -> Iterator[Misfit]:
    grids = (_grid(void, steps) for steps in (6, 24))  # the finer one only where the coarser finds nothing
    if not any(bool(p.solid.contains(points).any()) for points in grids for p in solids):
        yield Misfit(void.feature, f"cuts nothing at {_place(void)}", "must reach into the body")


def _grid(void: Piece, count: int) -> Array:
    """Return points spread through a void."""
    low, high = void.solid.box()
    steps = (np.arange(count) + 0.5) / count
    axes = [a + (b - a) * steps for a, b in zip(low, high, strict=True)]
    points = np.stack([axis.ravel() for axis in np.meshgrid(*axes)], axis=1)
    return np.asarray(points[void.solid.contains(points)])


def _containment(void: Piece, solids: Sequence[Piece], voids: Sequence[Piece], slack: float) -> Iterator[Misfit]:
    start, end = _stretch(void)
    first, last = min(_stretch(p)[0] for p in solids), max(_stretch(p)[1] for p in solids)
    if start < first - slack or end > last + slack:
        wrong = f"runs from {start:g} to {end:g} through a body from {first:g} to {last:g}"
        yield Misfit(void.feature, wrong, "must end flush with the face that it opens in")
        return
    if void.fit is Fit.SUNK:
        yield from _sunk(void, solids, slack)
    centre = _centre(void)
    if math.hypot(*centre) > slack:
        yield from _enclosure(void, centre, solids, voids, slack)
        return
    for piece in solids:
        begin, stop = _stretch(piece)
        low, high = max(start, begin), min(end, stop)
        if high - low <= slack:
            continue
        inset = min(slack, (high - low) / 4.0)  # a face belongs to neither side
        places = (low + inset, (low + high) / 2.0, high - inset)
        for x in _deep(places, void, first, last):
            if _surrounded(void, piece, x):
                continue
            inner, outer = 2.0 * _reach(void, x).max(), 2.0 * _reach(piece, x).min()
            if inner >= outer:
                wrong = f"is {inner:g} wide where {piece.feature} is only {outer:g}"
                yield Misfit(void.feature, wrong, "must leave material around it")
                return


def _surrounded(void: Piece, piece: Piece, x: float) -> bool:
    """Tell of a void turned about the axis, without rays, that a solid reaches further than it at a place."""
    radius = _radius(void, x, (0.0, 0.0))
    if radius is None:
        return False
    around = np.array((x, 0.0, 0.0)) + _around((0.0, 0.0)) * (radius * (1.0 + 1e-9))
    return bool(piece.solid.contains(around).all())


def _radius(piece: Piece, x: float, centre: tuple[float, float]) -> float | None:
    """Return how far a solid turned about an axis through a centre reaches at a place; None of any other."""
    solid = piece.solid
    if not isinstance(solid, Turned) or solid.turn is not None:
        return None
    along, y, z = solid.place.local((x, *centre))
    if max(abs(y), abs(z), 1.0 - abs(solid.place.x[0])) > TINY:
        return None
    crossed = (p for p in solid.loop if not upright(p) and min(p.a0, p.a1) <= along <= max(p.a0, p.a1))
    return max((p.b_at(along) for p in crossed), default=0.0)


def _centre(piece: Piece) -> tuple[float, float]:
    (_, y0, z0), (_, y1, z1) = piece.solid.box()
    return (y0 + y1) / 2.0, (z0 + z1) / 2.0


def _enclosure(
    void: Piece, centre: tuple[float, float], solids: Sequence[Piece], voids: Sequence[Piece], slack: float
) -> Iterator[Misfit]:
    """Find where a hole off the axis breaks out of the solids or into another hole."""
    start, end = _stretch(void)
    bored = [p for p in voids if p.fit is Fit.BORED and p.feature != void.feature]
    steps = {start, end, *(x for p in solids for x in _stretch(p) if start + slack < x < end - slack)}
    for low, high in pairwise(sorted(steps)):
        inset = min(10.0 * slack, (high - low) / 4.0)
        for x in (low + inset, (low + high) / 2.0, high - inset):
            radius = _radius(void, x, centre)
            reach = np.full(24, radius) if radius is not None else _reach(void, x, centre)
            around = np.array((x, *centre)) + _around(centre) * (reach[:, None] + slack)
            filled, emptied = _any_contains(solids, around), _any_contains(bored, around)
            if not filled.all():
                yield _breaking(void, x, around[~filled], solids)
                return
            if emptied.any():
                yield _meeting(void, x, around[emptied], bored)
                return


def _any_contains(pieces: Sequence[Piece], points: Array) -> Truth:
    found = np.zeros(len(points), dtype=bool)
    for piece in pieces:
        found |= piece.solid.contains(points)
    return found


def _breaking(void: Piece, x: float, points: Array, solids: Sequence[Piece]) -> Misfit:
    """Say how far a hole reaches and how far the widest solid does there."""
    farthest = 2.0 * float(np.hypot(points[:, 1], points[:, 2]).max())
    widest = max((p for p in solids if _stretch(p)[0] <= x <= _stretch(p)[1]), key=lambda p: float(_reach(p, x).max()))
    across = 2.0 * float(_reach(widest, x).min())
    wrong = f"reaches out to a diameter of {farthest:g} where {widest.feature} is only {across:g} wide"
    return Misfit(void.feature, wrong, "must leave material around it")


def _meeting(void: Piece, x: float, points: Array, bored: Sequence[Piece]) -> Misfit:
    """Say how near to the axis a hole comes and how far the one that it meets reaches there."""
    nearest = 2.0 * float(np.hypot(points[:, 1], points[:, 2]).min())
    other = next(p for p in bored if bool(p.solid.contains(points).any()))
    across = 2.0 * float(_reach(other, x).max())
    wrong = f"comes in to a diameter of {nearest:g} where {other.feature} is {across:g} wide"
    return Misfit(void.feature, wrong, "must leave material between them")


def _deep(places: Sequence[float], void: Piece, first: float, last: float) -> Sequence[float]:
    """Return where a void needs material round it: a drive may open in a dome, so there only its far half does."""
    if void.fit is not Fit.SUNK:
        return places
    start, end = _stretch(void)
    middle = (start + end) / 2.0
    return [x for x in places if (x > middle if start - first < last - end else x < middle)]


def _sunk(void: Piece, solids: Sequence[Piece], slack: float) -> Iterator[Misfit]:
    """Find a drive that goes through the head that it opens in: all up to where the body first grows narrower."""
    start, end = _stretch(void)
    first = min(_stretch(p)[0] for p in solids)
    inward = sorted(solids, key=_stretch, reverse=start > first + slack)
    depth, height, widest = end - start, 0.0, 0.0
    for piece in inward:
        radius = max(abs(v) for corner in piece.solid.box() for v in corner[1:])
        if radius < widest - slack:
            break
        widest = max(widest, radius)
        height += _stretch(piece)[1] - _stretch(piece)[0]
    if depth >= height - slack:
        wrong = f"is {depth:g} deep in a head {height:g} high"
        yield Misfit(void.feature, wrong, "must be less deep than the head")


def _around(centre: tuple[float, float]) -> Array:
    """Return 24 directions, the first away from the axis and one back to it."""
    first = math.atan2(centre[1], centre[0])
    return np.array([radial(first + math.radians(15.0 * n + 2.5 * (n % 2))) for n in range(24)])


def _reach(piece: Piece, x: float, centre: tuple[float, float] = (0.0, 0.0)) -> Array:
    """Return how far a solid reaches at a place from the axis, or a centre, in 24 directions: to the outermost face."""
    start, ways = np.array([(x, *centre)]), _around(centre)
    roots = [piece.solid.roots(start, (0.0, float(y), float(z)))[0] for _, y, z in ways]
    count = max(map(len, roots))
    hits = np.array([np.concatenate((own, np.full(count - len(own), np.inf))) for own in roots])
    hits[~(np.isfinite(hits) & (hits > 0.0))] = 0.0
    inner = start + ways[:, None] * (hits * (1.0 - 1e-7))[:, :, None]
    inside = piece.solid.contains(inner.reshape(-1, 3)).reshape(hits.shape)
    return np.asarray((hits * inside).max(axis=1))
