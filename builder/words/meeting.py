"""Whether lines and arcs that follow one another meet anywhere but where one goes on as the next."""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from builder.words.shapes import Arc, Bounds, Line, Point, bounds_of

Piece = Line | Arc


def first_meeting(pieces: Sequence[Piece], closed: bool, slack: float) -> tuple[int, int] | None:
    """Return the places of the first two pieces that cross, touch or overlap; None where all keep clear.

    Pieces come in order, each starting where the one before ends; closer than `slack` is a touch.
    """
    boxes = [bounds_of([piece]) for piece in pieces]
    last = len(pieces) - 1
    for (i, a), (j, b) in combinations(enumerate(pieces), 2):
        if _apart(boxes[i], boxes[j], slack):
            continue
        neighbours = j == i + 1 or (closed and i == 0 and j == last)
        if _meet(a, b, _joints(a, b, slack) if neighbours else [], slack):
            return i, j
    return None


def _apart(a: Bounds, b: Bounds, slack: float) -> bool:
    across = a.left > b.right + slack or b.left > a.right + slack
    return across or a.bottom > b.top + slack or b.bottom > a.top + slack


def _ends(piece: Piece) -> tuple[Point, Point]:
    return (piece.start, piece.end) if isinstance(piece, Line) else (piece.at(piece.start), piece.at(piece.end))


def _middle(piece: Piece) -> Point:
    if isinstance(piece, Arc):
        return piece.at((piece.start + piece.end) / 2.0)
    return Point((piece.start.x + piece.end.x) / 2.0, (piece.start.y + piece.end.y) / 2.0)


def _joints(a: Piece, b: Piece, slack: float) -> list[Point]:
    return [end for end in _ends(a) if any(math.dist(end, other) <= 2.0 * slack for other in _ends(b))]


def _meet(a: Piece, b: Piece, joints: Sequence[Point], slack: float) -> bool:
    """Tell whether two pieces share a point that is no joint."""
    # the middles tell of two pieces that run along each other from joint to joint
    places = (*_ends(a), *_ends(b), _middle(a), _middle(b), *_crossings(a, b, joints))
    return any(
        all(math.dist(place, joint) > 4.0 * slack for joint in joints)
        and _distance(place, a) <= slack
        and _distance(place, b) <= slack
        for place in places
    )


def _distance(place: Point, piece: Piece) -> float:
    if isinstance(piece, Arc):
        angle = math.degrees(math.atan2(place.y - piece.centre.y, place.x - piece.centre.x))
        if (angle - piece.start) % 360.0 <= piece.end - piece.start:
            return abs(math.dist(place, piece.centre) - piece.radius)
        return min(math.dist(place, end) for end in _ends(piece))
    (x, y), (dx, dy) = piece.start, (piece.end.x - piece.start.x, piece.end.y - piece.start.y)
    along = ((place.x - x) * dx + (place.y - y) * dy) / (dx * dx + dy * dy)
    along = min(max(along, 0.0), 1.0)
    return math.dist(place, piece.start.plus(along * dx, along * dy))


def _crossings(a: Piece, b: Piece, joints: Sequence[Point]) -> Iterator[Point]:
    """Yield where the whole lines and circles cross, or where they come closest if they do not.

    Of two that share a joint the other crossing is its mirror image: exact even where they are nearly tangent.
    """
    if isinstance(a, Line) and isinstance(b, Line):
        yield from _of_lines(a, b)
        return
    foot, along, reach = _chord(a, b)
    if along is None:
        return
    for joint in joints[:1]:
        share = (joint.x - foot.x) * along.x + (joint.y - foot.y) * along.y
        yield joint.plus(-2.0 * share * along.x, -2.0 * share * along.y)
    if not joints:
        yield from (foot.plus(way * along.x, way * along.y) for way in (reach, -reach))


def _of_lines(a: Line, b: Line) -> Iterator[Point]:
    ax, ay = a.end.x - a.start.x, a.end.y - a.start.y
    bx, by = b.end.x - b.start.x, b.end.y - b.start.y
    cross = ax * by - ay * bx
    if cross != 0.0:
        share = ((b.start.x - a.start.x) * by - (b.start.y - a.start.y) * bx) / cross
        yield a.start.plus(share * ax, share * ay)


def _chord(a: Piece, b: Piece) -> tuple[Point, Point | None, float]:
    """Return the middle, direction and half length of the chord cut off a circle; no direction where both are one."""
    if isinstance(a, Line):
        a, b = b, a
    assert isinstance(a, Arc)
    if isinstance(b, Line):
        length = math.dist(b.start, b.end)
        along = Point((b.end.x - b.start.x) / length, (b.end.y - b.start.y) / length)
        share = (a.centre.x - b.start.x) * along.x + (a.centre.y - b.start.y) * along.y
        foot = b.start.plus(share * along.x, share * along.y)
    else:
        apart = math.dist(a.centre, b.centre)
        if apart == 0.0:
            return a.centre, None, 0.0
        toward = Point((b.centre.x - a.centre.x) / apart, (b.centre.y - a.centre.y) / apart)
        share = (apart * apart + a.radius * a.radius - b.radius * b.radius) / (2.0 * apart)
        foot, along = a.centre.plus(share * toward.x, share * toward.y), Point(-toward.y, toward.x)
    return foot, along, math.sqrt(max(0.0, a.radius * a.radius - math.dist(foot, a.centre) ** 2))
