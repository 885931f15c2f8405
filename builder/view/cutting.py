"""Where flat lines and arcs meet each other: points, and fractions of their length at which to cut them."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from builder.body.vectors import Array
from builder.words.shapes import Arc, Line, Point

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
    if not shapes:
        return []
    ends = np.array([(*s.start, *s.end) if isinstance(s, Line) else (math.nan,) * 4 for s in shapes])
    first, second = _near(shapes, ends)
    lines = np.isfinite(ends[:, 0])
    both = lines[first] & lines[second]
    found = [*_between_lines(ends, first[both], second[both])]
    rounds: list[tuple[int, float]] = []
    for i, j in zip(first[~both].tolist(), second[~both].tolist(), strict=True):
        for point in crossings(shapes[i], shapes[j]):
            rounds += (i, fraction_of(shapes[i], point)), (j, fraction_of(shapes[j], point))
    if rounds:
        found.append((np.array([i for i, _ in rounds]), np.array([f for _, f in rounds])))
    index, fractions = (np.concatenate(parts) for parts in zip(*found, strict=True))
    return _sorted(len(shapes), index, fractions)


def _sorted(count: int, index: Indices, fractions: Array) -> list[list[float]]:
    """Return the fractions of each shape, ascending, those met several times once."""
    inner = (fractions > -1e-9) & (fractions < 1.0 + 1e-9)
    index, fractions = index[inner], fractions[inner]
    order = np.lexsort((fractions, index))
    index, fractions = index[order], fractions[order]
    new = np.ones(len(index), dtype=bool)
    new[1:] = (np.diff(index) > 0) | (np.diff(fractions) > 1e-9)
    index, kept = index[new], fractions[new].tolist()
    starts = np.searchsorted(index, np.arange(count + 1)).tolist()
    return [kept[a:b] for a, b in pairwise(starts)]


def _near(shapes: Sequence[Line | Arc], ends: Array) -> tuple[Indices, Indices]:
    """Return the pairs of shapes whose boxes touch, the later of the two first."""
    low, high = np.minimum(ends[:, :2], ends[:, 2:]), np.maximum(ends[:, :2], ends[:, 2:])
    for n, shape in enumerate(shapes):
        if isinstance(shape, Arc):
            xs, ys = zip(*shape.points(), strict=True)
            low[n], high[n] = (min(xs), min(ys)), (max(xs), max(ys))
    high += 2e-9
    (x0, y0), (x1, y1) = low.T, high.T
    reach_x, reach_y = x0[:, None] <= x1, y0[:, None] <= y1
    touch = reach_x & reach_x.T & reach_y & reach_y.T
    first, second = np.nonzero(touch)
    later = first > second
    return first[later], second[later]


def _between_lines(ends: Array, first: Indices, second: Indices) -> Iterator[tuple[Indices, Array]]:
    """Return lines and fractions of them: where lines cross, and the ends of those that lie on each other."""
    x, y, dx, dy = ends[:, 0], ends[:, 1], ends[:, 2] - ends[:, 0], ends[:, 3] - ends[:, 1]
    ax, ay, bx, by = dx[first], dy[first], dx[second], dy[second]
    off_x, off_y = x[second] - x[first], y[second] - y[first]
    length = np.sqrt(dx * dx + dy * dy)
    cross, along = ax * by - ay * bx, off_x * ay - off_y * ax
    parallel = np.abs(cross) <= 1e-9 * length[first] * length[second]
    with np.errstate(divide="ignore", invalid="ignore"):
        t, u = (off_x * by - off_y * bx) / cross, along / cross
    meet = ~parallel & (t >= -1e-9) & (t <= 1.0 + 1e-9) & (u >= -1e-9) & (u <= 1.0 + 1e-9)
    yield first[meet], t[meet]
    yield second[meet], u[meet]
    same = parallel & (np.abs(along) < 1e-9 * (1.0 + length[first]) * length[first])
    if not same.any():
        return
    for one, other in ((first[same], second[same]), (second[same], first[same])):
        square = length[one] ** 2
        for end in (ends[other, :2], ends[other, 2:]):
            yield one, ((end[:, 0] - x[one]) * dx[one] + (end[:, 1] - y[one]) * dy[one]) / square


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
