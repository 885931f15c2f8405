"""Joins the pieces that a projection leaves: overlapping lines and arcs become one, visible covers hidden."""

import math
from collections.abc import Iterable
from dataclasses import replace

from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point

Span = tuple[float, float]
_TURN = 360.0
# A carrier is the endless line or full circle that pieces lie on, rounded so that equal ones compare equal.
_RANK = {Role.OUTLINE: 0, Role.THREAD: 1, Role.NARROW: 2, Role.HIDDEN: 3}
Edge = Line | Arc | Circle | Ellipse


def merge(pieces: Iterable[Line | Arc | Ellipse]) -> tuple[Edge, ...]:
    """Return the pieces as few shapes, each stretch drawn once, in the highest of its roles."""
    carriers: list[_OnLine | _OnCircle | _OnEllipse] = []
    for piece in sorted(pieces, key=lambda p: _RANK[p.role]):
        if isinstance(piece, Line) and piece.start == piece.end:
            continue  # what is left of a curve that was cut at one place twice
        for home in carriers:
            if home.holds(piece):
                break
        else:
            home = _carrier(piece)
            carriers.append(home)
        home.add(piece)
    return tuple(shape for carrier in carriers for shape in carrier.shapes())


def _carrier(piece: Line | Arc | Ellipse) -> "_OnLine | _OnCircle | _OnEllipse":
    if isinstance(piece, Line):
        return _OnLine(piece)
    return _OnCircle(piece) if isinstance(piece, Arc) else _OnEllipse(piece)


class _OnLine:
    def __init__(self, line: Line) -> None:
        length = math.dist(line.start, line.end)
        self.origin = line.start
        self.dx, self.dy = (line.end.x - line.start.x) / length, (line.end.y - line.start.y) / length
        self.slack = 1e-7 * (1.0 + length)
        self.taken: dict[Role, list[Span]] = {}

    def _place(self, p: Point) -> float:
        return (p.x - self.origin.x) * self.dx + (p.y - self.origin.y) * self.dy

    def holds(self, piece: Line | Arc | Ellipse) -> bool:
        if not isinstance(piece, Line):
            return False
        (x, y), dx, dy, slack = self.origin, self.dx, self.dy, self.slack
        (x0, y0), (x1, y1) = piece.start, piece.end
        return abs((y0 - y) * dx - (x0 - x) * dy) < slack and abs((y1 - y) * dx - (x1 - x) * dy) < slack

    def add(self, piece: Line | Arc | Ellipse) -> None:
        assert isinstance(piece, Line)
        a, b = self._place(piece.start), self._place(piece.end)
        self.taken.setdefault(piece.role, []).append((a, b) if a < b else (b, a))

    def shapes(self) -> Iterable[Line]:
        for role, (a, b) in _layered(self.taken, self.slack):
            start = self.origin.plus(a * self.dx, a * self.dy)
            yield Line(start, self.origin.plus(b * self.dx, b * self.dy), role)


class _OnCircle:
    def __init__(self, arc: Arc) -> None:
        self.centre, self.radius = arc.centre, arc.radius
        self.slack = 1e-7 * (1.0 + arc.radius)
        self.taken: dict[Role, list[Span]] = {}

    def holds(self, piece: Line | Arc | Ellipse) -> bool:
        if not isinstance(piece, Arc):
            return False
        apart = math.dist(self.centre, piece.centre)
        return apart < self.slack and abs(self.radius - piece.radius) < self.slack

    def add(self, piece: Line | Arc | Ellipse) -> None:
        assert isinstance(piece, Arc)
        self.taken.setdefault(piece.role, []).extend(_within_turn(piece.start, piece.end))

    def shapes(self) -> Iterable[Arc | Circle]:
        for role, (a, b) in _round(self.taken):
            if b - a > _TURN - 1e-6:
                yield Circle(self.centre, self.radius, role)
            else:
                yield Arc(self.centre, self.radius, a, b, role)


class _OnEllipse:
    def __init__(self, ellipse: Ellipse) -> None:
        self.of = ellipse
        self.slack = 1e-7 * (1.0 + math.hypot(*ellipse.major))
        self.taken: dict[Role, list[Span]] = {}

    def holds(self, piece: Line | Arc | Ellipse) -> bool:
        if not isinstance(piece, Ellipse):
            return False
        apart = math.dist(self.of.centre, piece.centre) + math.dist(self.of.major, piece.major)
        return apart < self.slack and abs(self.of.ratio - piece.ratio) < 1e-7

    def add(self, piece: Line | Arc | Ellipse) -> None:
        assert isinstance(piece, Ellipse)
        self.taken.setdefault(piece.role, []).extend(_within_turn(piece.start, piece.end))

    def shapes(self) -> Iterable[Ellipse]:
        for role, (a, b) in _round(self.taken):
            yield replace(self.of, start=a, end=b, role=role)


def _within_turn(start: float, end: float) -> list[Span]:
    """Return an arc's angles as spans from 0 to 360 degrees."""
    return [(start, _TURN), (0.0, end - _TURN)] if end > _TURN else [(start, end)]


def _round(taken: dict[Role, list[Span]]) -> Iterable[tuple[Role, Span]]:
    """Return what is drawn of a closed curve, joined across 0 degrees."""
    spans = _layered(taken, 1e-6)
    for role in taken:
        own = [span for r, span in spans if r is role]
        if len(own) > 1 and own[0][0] < 1e-6 and own[-1][1] > _TURN - 1e-6:
            own[0] = (own.pop()[0], own[0][1] + _TURN)
        yield from ((role, (a % _TURN, a % _TURN + b - a)) for a, b in own)


def _layered(taken: dict[Role, list[Span]], slack: float) -> list[tuple[Role, Span]]:
    found: list[tuple[Role, Span]] = []
    covered: list[Span] = []
    for role in sorted(taken, key=_RANK.__getitem__):
        free = [part for span in _joined(taken[role], slack) for part in _less(span, covered, slack)]
        found.extend((role, span) for span in free)
        covered = _joined([*covered, *free], slack)
    return found


def _joined(spans: list[Span], slack: float) -> list[Span]:
    joined: list[Span] = []
    for a, b in sorted(spans):
        if joined and a <= joined[-1][1] + slack:
            joined[-1] = (joined[-1][0], max(joined[-1][1], b))
        else:
            joined.append((a, b))
    return joined


def _less(span: Span, covered: list[Span], slack: float) -> list[Span]:
    parts, (a, end) = [], span
    for low, high in covered:
        if low - a > slack and low < end:
            parts.append((a, low))
        a = max(a, high) if low < end and high > a else a
    if end - a > slack:
        parts.append((a, end))
    return parts
