"""Where flat lines and arcs meet each other: points, and fractions of their length at which to cut them."""

import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from builder.words.shapes import Arc, Line, Point

Key = tuple[float, ...]
Indices = NDArray[np.intp]


def fraction_of(shape: Line | Arc, point: Point) -> float:
    """Return how far along a shape a point on it lies, 0 at its start and 1 at its end."""
    if isinstance(shape, Line):
        dx, dy = shape.end.x - shape.start.x, shape.end.y - shape.start.y
        return ((point.x - shape.start.x) * dx + (point.y - shape.start.y) * dy) / (dx * dx + dy * dy)
    angle = math.degrees(math.atan2(point.y - shape.centre.y, point.x - shape.centre.x))
    middle = (shape.start + shape.end) / 2.0
    angle = middle + (angle - middle + 180.0) % 360.0 - 180.0
    return (angle - shape.start) / (shape.end - shape.start)


def cut_fractions(shapes: Sequence[Line | Arc]) -> list[list[float]]:
    """Return for each shape the fractions, ascending, at which any other meets it."""
    keys = [_key(shape) for shape in shapes]
    distinct = dict(zip(keys, shapes, strict=True))  # front and back of a turned part have one image
    found = dict(zip(distinct, _cuts(list(distinct.values())), strict=True))
    return [_oriented(shape, distinct[key], found[key]) for shape, key in zip(shapes, keys, strict=True)]


def _key(shape: Line | Arc) -> Key:
    if isinstance(shape, Line):
        a, b = sorted((_rounded(shape.start), _rounded(shape.end)))
        return (*a, *b)
    return (*_rounded(shape.centre), round(shape.radius, 9), round(shape.start, 7), round(shape.end, 7))


def _rounded(point: Point) -> tuple[float, float]:
    return round(point.x, 9) + 0.0, round(point.y, 9) + 0.0


def _oriented(shape: Line | Arc, same: Line | Arc, fractions: list[float]) -> list[float]:
    if isinstance(shape, Line) and math.dist(shape.start, same.points()[0]) > math.dist(shape.end, same.points()[0]):
        return [1.0 - f for f in reversed(fractions)]
    return fractions


def _cuts(shapes: list[Line | Arc]) -> list[list[float]]:
    lines = [i for i, shape in enumerate(shapes) if isinstance(shape, Line)]
    first, second = _near(shapes)
    is_line = np.zeros(len(shapes), dtype=bool)
    is_line[lines] = True
    both = is_line[first] & is_line[second]
    cuts: list[list[float]] = [[] for _ in shapes]
    for i, fraction in _between_lines(shapes, first[both], second[both]):
        cuts[i].append(fraction)
    for i, j in zip(first[~both].tolist(), second[~both].tolist(), strict=True):
        for point in crossings(shapes[i], shapes[j]):
            cuts[i].append(fraction_of(shapes[i], point))
            cuts[j].append(fraction_of(shapes[j], point))
    # most crossings are met several times
    return [sorted({round(f, 9): f for f in own if -1e-9 < f < 1.0 + 1e-9}.values()) for own in cuts]


def _near(shapes: Sequence[Line | Arc]) -> tuple[Indices, Indices]:
    """Return the pairs of shapes whose boxes touch."""
    boxes = np.array([_box(shape.points()) for shape in shapes]).reshape(-1, 4)
    low, high = boxes[:, :2], boxes[:, 2:]
    touch = np.all((low[:, None] <= high[None]) & (low[None] <= high[:, None]), axis=2)
    first, second = np.nonzero(np.tril(touch, -1))
    return first, second


def _between_lines(shapes: Sequence[Line | Arc], first: Indices, second: Indices) -> Iterator[tuple[int, float]]:
    """Return pairs of a line and a fraction of it: where lines cross, and the ends of those that lie on each other."""
    ends = np.array([(*s.start, *s.end) if isinstance(s, Line) else (0.0,) * 4 for s in shapes]).reshape(-1, 4)
    start, way = ends[:, :2], ends[:, 2:] - ends[:, :2]
    a, b = way[first], way[second]
    off = start[second] - start[first]
    length_a, length_b = (np.sqrt((v * v).sum(axis=1)) for v in (a, b))
    cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    parallel = np.abs(cross) <= 1e-9 * length_a * length_b
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (off[:, 0] * b[:, 1] - off[:, 1] * b[:, 0]) / cross
        u = (off[:, 0] * a[:, 1] - off[:, 1] * a[:, 0]) / cross
    meet = ~parallel & (t >= -1e-9) & (t <= 1.0 + 1e-9) & (u >= -1e-9) & (u <= 1.0 + 1e-9)
    yield from zip(first[meet].tolist(), t[meet].tolist(), strict=True)
    yield from zip(second[meet].tolist(), u[meet].tolist(), strict=True)
    apart = np.abs(a[:, 0] * off[:, 1] - a[:, 1] * off[:, 0]) / length_a
    same = parallel & (apart < 1e-9 * (1.0 + length_a))
    for one, other in ((first[same], second[same]), (second[same], first[same])):
        square = (way[one] ** 2).sum(axis=1)
        for end in (start[other], start[other] + way[other]):
            fraction = ((end - start[one]) * way[one]).sum(axis=1) / square
            yield from zip(one.tolist(), fraction.tolist(), strict=True)


def crossings(a: Line | Arc, b: Line | Arc) -> list[Point]:
    """Return where two images meet; for images that lie on each other, the ends of each."""
    if isinstance(a, Line) and isinstance(b, Line):
        return _line_line(a, b)
    if isinstance(a, Arc) and isinstance(b, Arc):
        return _arc_arc(a, b)
    line, arc = (a, b) if isinstance(a, Line) else (b, a)
    assert isinstance(line, Line) and isinstance(arc, Arc)
    return _line_arc(line, arc)


def _line_line(a: Line, b: Line) -> list[Point]:
    ax, ay = a.end.x - a.start.x, a.end.y - a.start.y
    bx, by = b.end.x - b.start.x, b.end.y - b.start.y
    cx, cy = b.start.x - a.start.x, b.start.y - a.start.y
    cross = ax * by - ay * bx
    if abs(cross) <= 1e-9 * math.hypot(ax, ay) * math.hypot(bx, by):
        apart = abs(ax * cy - ay * cx) / math.hypot(ax, ay)
        return [a.start, a.end, b.start, b.end] if apart < 1e-9 * (1.0 + math.hypot(ax, ay)) else []
    t, u = (cx * by - cy * bx) / cross, (cx * ay - cy * ax) / cross
    if -1e-9 <= t <= 1.0 + 1e-9 and -1e-9 <= u <= 1.0 + 1e-9:
        return [Point(a.start.x + t * ax, a.start.y + t * ay)]
    return []


def _line_arc(line: Line, arc: Arc) -> list[Point]:
    dx, dy = line.end.x - line.start.x, line.end.y - line.start.y
    length = math.hypot(dx, dy)
    dx, dy = dx / length, dy / length
    px, py = line.start.x - arc.centre.x, line.start.y - arc.centre.y
    near, off = -(px * dx + py * dy), px * dy - py * dx
    square = arc.radius**2 - off**2
    if square < -1e-9 * arc.radius**2:
        return []
    half = math.sqrt(max(0.0, square))
    slack = 1e-9 * (1.0 + length)
    places = (t for t in (near - half, near + half) if -slack <= t <= length + slack)
    points = (Point(line.start.x + t * dx, line.start.y + t * dy) for t in places)
    return [p for p in points if _on_arc(arc, p)]


def _arc_arc(a: Arc, b: Arc) -> list[Point]:
    dx, dy = b.centre.x - a.centre.x, b.centre.y - a.centre.y
    apart = math.hypot(dx, dy)
    if apart < 1e-9 * (1.0 + a.radius):
        if abs(a.radius - b.radius) > 1e-9 * (1.0 + a.radius):
            return []
        return [a.at(a.start), a.at(a.end), b.at(b.start), b.at(b.end)]
    along = (apart * apart + a.radius**2 - b.radius**2) / (2.0 * apart)
    square = a.radius**2 - along**2
    if square < -1e-9 * a.radius**2:
        return []
    half, dx, dy = math.sqrt(max(0.0, square)), dx / apart, dy / apart
    base = Point(a.centre.x + along * dx, a.centre.y + along * dy)
    points = (base.plus(-half * dy, half * dx), base.plus(half * dy, -half * dx))
    return [p for p in points if _on_arc(a, p) and _on_arc(b, p)]


def _on_arc(arc: Arc, point: Point) -> bool:
    angle = math.degrees(math.atan2(point.y - arc.centre.y, point.x - arc.centre.x))
    return (angle - arc.start + 1e-7) % 360.0 <= arc.end - arc.start + 2e-7


def _box(points: Iterable[Point]) -> tuple[float, float, float, float]:
    xs, ys = zip(*points, strict=True)
    slack = 1e-9
    return min(xs) - slack, min(ys) - slack, max(xs) + slack, max(ys) + slack
