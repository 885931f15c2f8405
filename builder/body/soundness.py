"""Whether the pieces of a body fit together: solids stacked end to end, voids within the material around them."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from builder.body.solid import Body, Piece, Solid
from builder.body.vectors import radial


@dataclass(frozen=True, slots=True)
class Misfit:
    """A feature that does not fit the others: its name, what is wrong, what was expected."""

    feature: str
    wrong: str
    expected: str


def misfits_of(body: Body) -> Iterator[Misfit]:
    """Return what does not fit, in the body's unit; gaps and overlaps up to 1e-9 of its size count as contact."""
    solids = sorted((p for p in body.pieces if not p.void), key=lambda p: p.solid.extent())
    voids = [p for p in body.pieces if p.void]
    if not solids:
        if voids:
            yield Misfit(voids[0].feature, "cuts into nothing", "expected a solid feature in the body")
        return
    slack = 1e-9 * body.size
    yield from _stacking(solids, slack)
    for void in voids:
        yield from _containment(void, solids, slack)


def _stacking(solids: list[Piece], slack: float) -> Iterator[Misfit]:
    for before, after in pairwise(solids):
        end, start = before.solid.extent()[1], after.solid.extent()[0]
        if start < end - slack:
            wrong = f"starts at {start:g} inside {before.feature}, which ends at {end:g}"
            yield Misfit(after.feature, wrong, "must start where the other ends")
        elif start > end + slack:
            wrong = f"starts at {start:g}, away from {before.feature}, which ends at {end:g}"
            yield Misfit(after.feature, wrong, "must touch the other")


def _containment(void: Piece, solids: list[Piece], slack: float) -> Iterator[Misfit]:
    start, end, _ = void.solid.extent()
    first, last = solids[0].solid.extent()[0], solids[-1].solid.extent()[1]
    if start < first - slack or end > last + slack:
        wrong = f"runs from {start:g} to {end:g} through a body from {first:g} to {last:g}"
        yield Misfit(void.feature, wrong, "must end flush with the face that it opens in")
        return
    for piece in solids:
        low, high = (max(start, piece.solid.extent()[0]), min(end, piece.solid.extent()[1]))
        if high - low <= slack:
            continue
        inset = min(slack, (high - low) / 4.0)  # a face belongs to neither side
        for x in (low + inset, (low + high) / 2.0, high - inset):
            inner, outer = 2.0 * _widest(void.solid, x), 2.0 * _narrowest(piece.solid, x)
            if inner >= outer:
                wrong = f"is {inner:g} wide where {piece.feature} is only {outer:g}"
                yield Misfit(void.feature, wrong, "must leave material around it")
                return


_AROUND = tuple(radial(math.radians(15.0 * n)) for n in range(24))


def _narrowest(solid: Solid, x: float) -> float:
    return min(_reach(solid, x, n) for n in range(24))


def _widest(solid: Solid, x: float) -> float:
    return max(_reach(solid, x, n) for n in range(24))


def _reach(solid: Solid, x: float, n: int) -> float:
    return max((b for _, b in solid.spans((x, 0.0, 0.0), _AROUND[n])), default=0.0)
