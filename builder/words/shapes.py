"""Flat shapes on a drawing, each with a role: lines, arcs, circles and text. Values only; nobody draws here."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from builder.words.roles import Role


class Point(NamedTuple):
    """A place on the drawing, x to the right and y up, in the part's own unit."""

    x: float
    y: float

    def plus(self, dx: float, dy: float) -> "Point":
        """Return the place moved by (dx, dy)."""
        return Point(self.x + dx, self.y + dy)


class Bounds(NamedTuple):
    """The smallest upright rectangle round some shapes."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Extent along x."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent along y."""
        return self.top - self.bottom


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line between two points."""

    start: Point
    end: Point
    role: Role

    def points(self) -> tuple[Point, ...]:
        """Return the points that bound it."""
        return self.start, self.end

    def scaled(self, by: float) -> "Line":
        """Return it larger by a factor, about the origin."""
        return Line(_scaled(self.start, by), _scaled(self.end, by), self.role)


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc, counter-clockwise from `start` to `end` in degrees, 0 <= start < 360 and end > start."""

    centre: Point
    radius: float
    start: float
    end: float
    role: Role

    def at(self, degrees: float) -> Point:
        """Return the point on its circle at an angle."""
        angle = math.radians(degrees)
        return Point(self.centre.x + self.radius * math.cos(angle), self.centre.y + self.radius * math.sin(angle))

    def points(self) -> tuple[Point, ...]:
        """Return its ends and the quadrant points that it passes."""
        first = math.ceil(self.start / 90.0)
        last = math.floor(self.end / 90.0)
        return (self.at(self.start), *(self.at(90.0 * q) for q in range(first, last + 1)), self.at(self.end))

    def scaled(self, by: float) -> "Arc":
        """Return it larger by a factor, about the origin."""
        return Arc(_scaled(self.centre, by), self.radius * by, self.start, self.end, self.role)


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle."""

    centre: Point
    radius: float
    role: Role

    def points(self) -> tuple[Point, ...]:
        """Return two opposite corners of the square round it."""
        r = self.radius
        return self.centre.plus(-r, -r), self.centre.plus(r, r)

    def scaled(self, by: float) -> "Circle":
        """Return it larger by a factor, about the origin."""
        return Circle(_scaled(self.centre, by), self.radius * by, self.role)


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text whose baseline starts at a point; height is that of a capital letter."""

    at: Point
    height: float
    text: str
    role: Role = Role.TEXT

    def points(self) -> tuple[Point, ...]:
        """Return the start of the baseline: how wide the letters run is the output's business."""
        return self.at, self.at.plus(0.0, self.height)

    def scaled(self, by: float) -> "Text":
        """Return it larger by a factor, about the origin."""
        return Text(_scaled(self.at, by), self.height * by, self.text, self.role)


Shape = Line | Arc | Circle | Text


def bounds_of(shapes: Iterable[Shape]) -> Bounds:
    """Return the rectangle round all shapes; ValueError where there are none."""
    points = [p for shape in shapes for p in shape.points()]
    xs, ys = [p.x for p in points], [p.y for p in points]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def arc_through(start: Point, middle: Point, end: Point, role: Role) -> Arc | Line:
    """Return the arc through three points, or the line where they lie on one to 1e-9 of its length."""
    ax, ay = middle.x - start.x, middle.y - start.y
    bx, by = end.x - start.x, end.y - start.y
    cross = ax * by - ay * bx
    if abs(cross) <= 1e-9 * (bx * bx + by * by):
        return Line(start, end, role)
    a2, b2 = ax * ax + ay * ay, bx * bx + by * by
    ux, uy = (by * a2 - ay * b2) / (2 * cross), (ax * b2 - bx * a2) / (2 * cross)
    centre = start.plus(ux, uy)
    first, last = (start, end) if cross > 0 else (end, start)  # cross > 0: counter-clockwise
    begin = math.degrees(math.atan2(first.y - centre.y, first.x - centre.x)) % 360.0
    finish = math.degrees(math.atan2(last.y - centre.y, last.x - centre.x)) % 360.0
    return Arc(centre, math.hypot(ux, uy), begin, finish if finish > begin else finish + 360.0, role)


def _scaled(point: Point, by: float) -> Point:
    return Point(point.x * by, point.y * by)
