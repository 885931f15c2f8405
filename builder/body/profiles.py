"""What features with an outline of the drafter's own state of themselves, from its lines and arcs."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from builder.body.feature import Values
from builder.body.statement import Bow, Reach, Round, Statement, Vector, span
from builder.words.outline import outline
from builder.words.roles import Role
from builder.words.shapes import Arc, Line, Point

_STEPS = 24  # chords that stand for an arc where it is asked what lies inside


def reaches(values: Values) -> Iterator[Reach]:
    """State how far a profile reaches that is carried along the axis, upward or across."""
    along, ends = values.choices["along"], (values["from"], values["to"])
    pieces = outline(values.profiles["profile"], True, Role.OUTLINE)
    square = any(isinstance(piece, Arc) for piece in pieces)
    for a, b in {point for piece in pieces for point in piece.points()}:
        for end in ends:
            spots: dict[str, Vector] = {"axis": (end, b, -a), "up": (a, end, -b), "across": (a, b, -end)}
            yield Reach(spots[along], square=square)


def turned(values: Values) -> Iterator[Statement]:
    """State the cylinders, cones and arcs of a solid profile turned about the axis."""
    pieces = outline(values.profiles["profile"], True, Role.OUTLINE)
    chains = [tuple(_chain(piece)) for piece in pieces]
    highs = [point for piece in pieces for point in piece.points()]
    yield Reach((min(p.x for p in highs), 0.0, 0.0))
    yield Reach((max(p.x for p in highs), 0.0, 0.0))
    yield Reach((sum(p.x for p in highs) / len(highs), 0.0, 0.0), radius=max(p.y for p in highs))
    slack = 1e-6 * max(max(abs(p.x), abs(p.y)) for p in highs)
    for piece in pieces:
        points = piece.points()
        start, end = span(points[0].x, points[-1].x)
        if isinstance(piece, Arc):
            xs, ys = [p.x for p in points], [p.y for p in points]
            lies = min(xs), max(xs), 2.0 * min(ys), 2.0 * max(ys)
            middle = piece.at((piece.start + piece.end) / 2.0).plus(0.0, slack)
            yield Bow(piece.radius, *piece.centre, *lies, "profile", void=_inside(middle, chains))
        elif end - start > slack and max(points[0].y, points[-1].y) > slack:
            first, last = sorted(points)
            middle = Point((first.x + last.x) / 2.0, (first.y + last.y) / 2.0 + slack)
            hollow = _inside(middle, chains)
            yield Round(first.x, last.x, 2.0 * first.y, 2.0 * last.y, "profile", void=hollow)


def _chain(piece: Line | Arc) -> Iterator[Point]:
    if isinstance(piece, Line):
        yield from piece.points()
        return
    for n in range(_STEPS + 1):
        yield piece.at(piece.start + (piece.end - piece.start) * n / _STEPS)


def _inside(point: Point, chains: Sequence[Sequence[Point]]) -> bool:
    """Tell whether a ray upward crosses the outline an odd number of times."""
    hits = 0
    for a, b in (side for chain in chains for side in pairwise(chain)):
        if (a.x > point.x) != (b.x > point.x):
            hits += a.y + (b.y - a.y) * (point.x - a.x) / (b.x - a.x) > point.y
    return hits % 2 == 1
