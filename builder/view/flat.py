"""Curves laid flat: each becomes a line or arc with a parameter, so that it can be cut where others cross it."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from builder.body.curves import Curve
from builder.view.frame import Frame
from builder.words.roles import Role
from builder.words.shapes import Arc, Line, Point, arc_through


@dataclass(frozen=True, slots=True)
class Flat:
    """A curve's image on the drawing; exact for lines and circles seen square, three-point arcs for the rest."""

    curve: Curve
    shape: Line | Arc
    frame: Frame

    def fraction(self, point: Point) -> float:
        """Return how far along the image a point on it lies, 0 to 1 in the curve's own sense."""
        shape = self.shape
        if isinstance(shape, Line):
            dx, dy = shape.end.x - shape.start.x, shape.end.y - shape.start.y
            return ((point.x - shape.start.x) * dx + (point.y - shape.start.y) * dy) / (dx * dx + dy * dy)
        angle = math.degrees(math.atan2(point.y - shape.centre.y, point.x - shape.centre.x))
        middle = (shape.start + shape.end) / 2.0
        angle = middle + (angle - middle + 180.0) % 360.0 - 180.0
        fraction = (angle - shape.start) / (shape.end - shape.start)
        return 1.0 - fraction if self._backwards() else fraction

    def _backwards(self) -> bool:
        assert isinstance(self.shape, Arc)
        start, first = self.frame.flat(self.curve.at(0.0)), self.shape.at(self.shape.start)
        last = self.shape.at(self.shape.end)
        return math.dist(start, last) < math.dist(start, first)

    def parameter(self, point: Point) -> float:
        """Return the curve's parameter at a point of its image, by the regula falsi on the fraction."""
        wanted = self.fraction(point)
        low, high, f_low, f_high = 0.0, 1.0, -wanted, 1.0 - wanted
        if f_low >= 0.0 or f_high <= 0.0:
            return 0.0 if f_low >= 0.0 else 1.0
        t, kept = wanted, 0
        for _ in range(40):
            f = self.fraction(self.frame.flat(self.curve.at(t))) - wanted
            if abs(f) < 1e-11:
                break
            # the end kept twice is halved: the Illinois rule
            if f < 0.0:
                low, f_low, f_high, kept = t, f, f_high / (2.0 if kept > 0 else 1.0), 1
            else:
                high, f_high, f_low, kept = t, f, f_low / (2.0 if kept < 0 else 1.0), -1
            t = (low * f_high - high * f_low) / (f_high - f_low)
        return t

    def part(self, t0: float, t1: float) -> Line | Arc:
        """Return the image between two parameters."""
        if t0 <= 0.0 and t1 >= 1.0:
            return self.shape
        return image(self.curve, self.frame, t0, t1)


def image(curve: Curve, frame: Frame, t0: float = 0.0, t1: float = 1.0) -> Line | Arc:
    """Return the line or the arc through three points of a curve's projection."""
    start, middle, end = (frame.flat(curve.at(t)) for t in (t0, (t0 + t1) / 2.0, t1))
    return arc_through(start, middle, end, Role.OUTLINE)


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


def cut_places(flats: list[Flat]) -> list[list[float]]:
    """Return for each image the parameters, ascending from 0 to 1, at which any other image meets it."""
    boxes = [_box(flat.shape.points()) for flat in flats]
    cuts: list[list[Point]] = [[] for _ in flats]
    for i, a in enumerate(flats):
        left, bottom, right, top = boxes[i]
        for j in range(i):
            other = boxes[j]
            if right < other[0] or other[2] < left or top < other[1] or other[3] < bottom:
                continue
            points = crossings(a.shape, flats[j].shape)
            cuts[i].extend(points)
            cuts[j].extend(points)
    return [_parameters(flat, points) for flat, points in zip(flats, cuts, strict=True)]


def _parameters(flat: Flat, points: Iterable[Point]) -> list[float]:
    inner = {round(flat.fraction(p), 9): p for p in points}  # most crossings are met several times
    places = [0.0]
    for fraction in sorted(inner):
        if 1e-7 < fraction < 1.0 - 1e-7:
            t = flat.parameter(inner[fraction])
            if t - places[-1] > 1e-7 and t < 1.0 - 1e-7:
                places.append(t)
    places.append(1.0)
    return places


def _box(points: Iterable[Point]) -> tuple[float, float, float, float]:
    xs, ys = zip(*points, strict=True)
    slack = 1e-9
    return min(xs) - slack, min(ys) - slack, max(xs) + slack, max(ys) + slack
