"""Flat shapes on a drawing, each with a role: lines, arcs, ellipses and text. Values only; nobody draws here."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from builder.words.limits import RADIUS
from builder.words.roles import Role

_TURN = 360.0
_QUADRANTS = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
_FINEST = 1e-9  # of an ellipse's major half axis: closer than that nothing follows it
_SLIVER = 0.1  # degrees: no piece of an ellipse is shorter for the sake of a vertex


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
        passed = range(math.ceil(self.start / 90.0), math.floor(self.end / 90.0) + 1)
        (x, y), r = self.centre, self.radius
        quadrants = (Point(x + r * dx, y + r * dy) for dx, dy in (_QUADRANTS[q % 4] for q in passed))
        return (self.at(self.start), *quadrants, self.at(self.end))

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
class Ellipse:
    """An elliptical arc, counter-clockwise from `start` to `end`, 0 <= start < 360 and end > start; whole at 360 more.

    Angles are the parameter of the ellipse in degrees, 0 at the end of its major half axis, 90 at that of the minor
    one: as the angles of a circle that was then pressed flat.
    """

    centre: Point
    major: Point  # from the centre to one end of the major axis
    ratio: float  # minor over major axis, more than 0 and at most 1
    start: float
    end: float
    role: Role

    @property
    def whole(self) -> bool:
        """Tell a full ellipse from an arc of one."""
        return self.end - self.start >= _TURN - 1e-9

    def at(self, degrees: float) -> Point:
        """Return its point at an angle."""
        angle = math.radians(degrees)
        along, across = math.cos(angle), self.ratio * math.sin(angle)
        x, y = self.major
        return self.centre.plus(along * x - across * y, along * y + across * x)

    def points(self) -> tuple[Point, ...]:
        """Return its ends and the points that it passes where x or y is greatest or least."""
        x, y = self.major
        tops = math.atan2(-self.ratio * y, x), math.atan2(self.ratio * x, y)
        passed: list[float] = []
        for top in (math.degrees(top) % 180.0 for top in tops):
            first, last = math.ceil((self.start - top) / 180.0), math.floor((self.end - top) / 180.0)
            passed += (top + 180.0 * half for half in range(first, last + 1))
        return (self.at(self.start), *map(self.at, sorted(passed)), self.at(self.end))

    def scaled(self, by: float) -> "Ellipse":
        """Return it larger by a factor, about the origin."""
        centre, major = _scaled(self.centre, by), _scaled(self.major, by)
        return Ellipse(centre, major, self.ratio, self.start, self.end, self.role)


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


Shape = Line | Arc | Circle | Ellipse | Text


def bounds_of(shapes: Iterable[Shape]) -> Bounds:
    """Return the rectangle round all shapes; ValueError where there are none."""
    xs, ys = zip(*[p for shape in shapes for p in shape.points()], strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def arc_through(start: Point, middle: Point, end: Point, role: Role) -> Arc | Line:
    """Return the arc through three points, or the line where they lie on one to 1e-9 of its length, or nearly so."""
    ax, ay = middle.x - start.x, middle.y - start.y
    bx, by = end.x - start.x, end.y - start.y
    cross = ax * by - ay * bx
    if abs(cross) <= 1e-9 * (bx * bx + by * by):
        return Line(start, end, role)
    a2, b2 = ax * ax + ay * ay, bx * bx + by * by
    ux, uy = (by * a2 - ay * b2) / (2 * cross), (ax * b2 - bx * a2) / (2 * cross)
    if math.hypot(ux, uy) > RADIUS:
        return Line(start, end, role)
    centre = start.plus(ux, uy)
    first, last = (start, end) if cross > 0 else (end, start)  # cross > 0: counter-clockwise
    begin = math.degrees(math.atan2(first.y - centre.y, first.x - centre.x)) % 360.0
    finish = math.degrees(math.atan2(last.y - centre.y, last.x - centre.x)) % 360.0
    return Arc(centre, math.hypot(ux, uy), begin, finish if finish > begin else finish + 360.0, role)


def arcs_of(ellipse: Ellipse, tolerance: float) -> tuple[Arc | Line, ...]:
    """Return circular arcs that run along an ellipse from its start, end to end, nowhere further off than a tolerance.

    They meet on the ellipse, and also at its four vertices. A piece so flat that its chord is as good is a line.
    """
    first, last = ellipse.start + _SLIVER, ellipse.end - _SLIVER
    vertices = (90.0 * quarter for quarter in range(math.ceil(first / 90.0), math.floor(last / 90.0) + 1))
    allowed = max(tolerance, _FINEST * math.hypot(*ellipse.major))
    sections = pairwise((ellipse.start, *vertices, ellipse.end))
    return tuple(piece for begin, stop in sections for piece in _along(ellipse, begin, stop, allowed))


def _along(ellipse: Ellipse, begin: float, stop: float, allowed: float) -> list[Arc | Line]:
    """Return the fewest pieces between two angles that do."""
    count, error = 0, 0.0
    while not count or error > allowed:
        # an arc's error falls with the cube of its length
        count = max(count + 1, math.floor(0.9 * count * math.cbrt(error / allowed)))
        knots = pairwise(_knots(ellipse.ratio, begin, stop, count))
        pieces, errors = zip(*(_piece(ellipse, *angles, allowed) for angles in knots), strict=True)
        error = max(errors)
    return list(pieces)


def _knots(ratio: float, begin: float, stop: float, count: int) -> list[float]:
    """Return the angles that part an ellipse into arcs, closer where it bends more: equally good arcs, nearly."""
    squeeze = math.sqrt(ratio)
    first, last = _squeezed(begin, 1.0 / squeeze), _squeezed(stop, 1.0 / squeeze)
    inner = (first + (last - first) * place / count for place in range(1, count))
    return [begin, *(_squeezed(angle, squeeze) for angle in inner), stop]


def _squeezed(degrees: float, by: float) -> float:
    """Return the angle of the same quadrant and turn that has so many times the tangent."""
    angle = math.radians(degrees)
    found = math.degrees(math.atan2(by * math.sin(angle), math.cos(angle)))
    return found + _TURN * round((degrees - found) / _TURN)


def _piece(ellipse: Ellipse, begin: float, stop: float, allowed: float) -> tuple[Arc | Line, float]:
    """Return the chord or arc between two angles of an ellipse, and how far the ellipse strays from it."""
    start, end = ellipse.at(begin), ellipse.at(stop)
    middle, *others = (ellipse.at(begin + (stop - begin) * tenth / 10.0) for tenth in (5, 2, 4, 6, 8))
    chord = Line(start, end, ellipse.role)
    sag = max(_distance(place, chord) for place in (middle, *others))
    if sag <= allowed:
        return chord, sag
    arc = arc_through(start, middle, end, ellipse.role)
    # between the places looked at it may lie a little further off than there
    return arc, 1.05 * max(_distance(place, arc) for place in others)


def _distance(place: Point, piece: Arc | Line) -> float:
    """Return how far a place lies from an arc's circle, or from a line."""
    if isinstance(piece, Arc):
        return abs(math.dist(place, piece.centre) - piece.radius)
    (x, y), (dx, dy) = piece.start, (piece.end.x - piece.start.x, piece.end.y - piece.start.y)
    along = ((place.x - x) * dx + (place.y - y) * dy) / ((dx * dx + dy * dy) or 1.0)
    along = min(max(along, 0.0), 1.0)  # an ellipse may reach beyond its chord
    return math.dist(place, piece.start.plus(along * dx, along * dy))


def _scaled(point: Point, by: float) -> Point:
    return Point(point.x * by, point.y * by)
