"""Closed outlines stated by knots become contours that a leaf turns or extrudes."""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from builder.body.contour import Contour, Loop, Spot, Straight, bows
from builder.body.feature import Impossible
from builder.words.knot import Knot
from builder.words.outline import KnotFault, outline
from builder.words.roles import Role
from builder.words.shapes import Arc, Line

Ends = tuple[Spot, Spot]


def loop_of(knots: Sequence[Knot], parameter: str = "profile") -> Loop:
    """Return the closed contour through knots; Impossible, naming the parameter, where they make none."""
    try:
        pieces = outline(knots, True, Role.OUTLINE)
    except KnotFault as fault:
        raise Impossible(parameter, f"knot {fault.index + 1}: {fault.wrong}", fault.expected) from None
    size = max(math.dist((p.x, p.y), (q.x, q.y)) for p, q in combinations(knots, 2))
    return tuple(_contours(pieces, knots, 1e-9 * size))


def _contours(pieces: Sequence[Line | Arc], knots: Sequence[Knot], slack: float) -> Iterator[Contour]:
    spots = [_snapped(spot, knots, slack) for spot in _joints(pieces)]
    for piece, (start, end) in zip(pieces, pairwise((*spots, spots[0])), strict=True):
        if math.dist(start, end) <= slack:
            continue
        if isinstance(piece, Arc):
            centre, middle = (piece.centre.x, piece.centre.y), piece.at((piece.start + piece.end) / 2.0)
            yield from bows(start, end, centre, left=not _left_of(start, end, middle))
        else:
            yield Straight(*start, *end)


def _left_of(start: Spot, end: Spot, spot: Spot) -> bool:
    across = (end[0] - start[0]) * (spot[1] - start[1]) - (end[1] - start[1]) * (spot[0] - start[0])
    return across > 0.0


def _joints(pieces: Sequence[Line | Arc]) -> Iterator[Spot]:
    """Return where each piece starts: from a line next to it where there is one, for lines state their ends exactly."""
    _, ways = min((_walk(pieces, turned) for turned in (False, True)), key=lambda found: found[0])
    for n, piece in enumerate(pieces):
        before = pieces[n - 1]
        yield ways[n - 1][1] if isinstance(before, Line) and not isinstance(piece, Line) else ways[n][0]


def _walk(pieces: Sequence[Line | Arc], turned: bool) -> tuple[float, list[Ends]]:
    """Return the ends of the pieces as one passes them, and how far they gape; arcs are stored in one direction."""
    ways: list[Ends] = []
    for piece in pieces:
        a, b = (piece.start, piece.end) if isinstance(piece, Line) else (piece.at(piece.start), piece.at(piece.end))
        back = math.dist(ways[-1][1], b) < math.dist(ways[-1][1], a) if ways else turned
        ways.append((b, a) if back else (a, b))
    gape = sum(math.dist(p[1], q[0]) for p, q in pairwise((*ways, ways[0])))
    return gape, ways


def _snapped(spot: Spot, knots: Sequence[Knot], slack: float) -> Spot:
    """Return the knot that a place stands for, exactly: on the axis means on the axis."""
    near = ((knot.x, knot.y) for knot in knots if math.dist(spot, (knot.x, knot.y)) <= slack)
    return next(near, (spot[0], spot[1]))
