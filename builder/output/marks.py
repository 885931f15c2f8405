"""Shapes become marks of a pen: straight and bent strokes, rings and round ends, dashes one by one. No pixels here.

Lengths are sub-pixels, four to a pixel of the finished picture, y up; angles are radians, counter-clockwise.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from builder.output.dashes import along, dashes_of, length_of
from builder.output.pens import OVER, Pens
from builder.output.strokes import crisp
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Shape, Text, arcs_of

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]

BEND = 0.15  # how far a chord may lie beside its arc

Bars = Floats  # straight strokes, n by: x and y of the start, of the end, width
Bow = Sequence[float]  # x and y of the centre, radius, first and last angle, width
Ring = tuple[float, float, float, int]  # x and y of the centre, radius, width
Dot = tuple[float, ...]  # x and y of the centre, width


class Drawing(NamedTuple):
    """Shapes round a base point, sub-pixels to their unit, and where that point lies on the sheet, amid a pixel."""

    shapes: Sequence[Shape]
    scale: float
    base: Point

    def only(self, role: Role) -> "Drawing":
        """Return what has a role."""
        return Drawing([shape for shape in self.shapes if shape.role is role], self.scale, self.base)

    def without(self, role: Role) -> "Drawing":
        """Return what has another role."""
        return Drawing([shape for shape in self.shapes if shape.role is not role], self.scale, self.base)

    def place(self, point: Point) -> tuple[float, float]:
        """Return where a point lies on the sheet."""
        return self.base.x + self.scale * point.x, self.base.y + self.scale * point.y


@dataclass(frozen=True, slots=True)
class Marks:
    """What a pen has to draw, in any order."""

    bars: list[Bars] = field(default_factory=list)
    bows: list[Bow] = field(default_factory=list)
    rings: list[Ring] = field(default_factory=list)
    dots: set[Dot] = field(default_factory=set)  # lines that meet in a corner share one
    texts: list[Text] = field(default_factory=list)


def marks_of(drawings: Sequence[Drawing], pens: Pens) -> Marks:
    """Return the marks of drawings that stand apart on a sheet; those of upright lines fill whole pixels."""
    marks = Marks()
    _add_lines(marks, drawings, pens)
    for drawing in drawings:
        for shape in drawing.shapes:
            match shape:
                case Line():
                    pass
                case Arc():
                    _add_arc(marks, shape, drawing, pens)
                case Circle():
                    _add_circle(marks, shape, drawing, pens)
                case Ellipse():
                    _add_ellipse(marks, shape, drawing, pens)
                case Text():
                    height = drawing.scale * shape.height
                    marks.texts.append(Text(Point(*drawing.place(shape.at)), height, shape.text, shape.role))
    return marks


def _add_lines(marks: Marks, drawings: Sequence[Drawing], pens: Pens) -> None:
    known = list(pens.items())
    traits = {r: (pen.width, r is not Role.HATCHING, not pen.pattern, n) for n, (r, pen) in enumerate(known)}
    lines = [
        (*line.start, *line.end, scale, *base, *traits[line.role])
        for shapes, scale, base in drawings
        for line in shapes
        if isinstance(line, Line)
    ]
    if lines:
        _add_table(marks, np.array(lines), [pen.pattern for _, pen in known])


def _add_table(marks: Marks, table: Floats, patterns: Sequence[tuple[float, ...]]) -> None:
    """Add lines: start, end, scale, base, width, whether it is no hatching, whether it is solid, whose pattern."""
    scaled, bases = table[:, :4].reshape(-1, 2, 2) * table[:, 4, None, None], table[:, None, 5:7]
    widths, inked, solid = table[:, 7], table[:, 8] > 0, table[:, 9] > 0
    placed, upright = _placed(scaled, bases, widths, inked)
    runs = placed[:, 1] - placed[:, 0]
    lengths = np.hypot(runs[:, 0], runs[:, 1])
    ways = runs / np.maximum(lengths, 1e-9)[:, None]
    reach = ways * (widths * upright / 2)[:, None]  # square ends: corners are black all over
    bars = np.concatenate([placed[:, 0] - reach, placed[:, 1] + reach, widths[:, None]], 1)
    marks.bars.append(bars[solid & (lengths > 0)])
    slanted = solid & inked & ~upright
    for (start, end), width in zip(placed[slanted].tolist(), widths[slanted].tolist(), strict=True):
        marks.dots.update(((*start, width), (*end, width)))
    dashed = np.flatnonzero(~solid & (lengths > 0))
    theirs = [patterns[number] for number in table[dashed, -1].astype(int).tolist()]
    marks.bars.append(_dashes(placed[dashed, 0], ways[dashed], lengths[dashed], widths[dashed], theirs))


def _dashes(
    starts: Floats, ways: Floats, lengths: Floats, widths: Floats, patterns: Sequence[tuple[float, ...]]
) -> Floats:
    """Return the dashes of lines that run from some starts some ways as straight strokes."""
    dashes = [
        (number, begin, stop)
        for number, (length, pattern) in enumerate(zip(lengths.tolist(), patterns, strict=True))
        for begin, stop in dashes_of(length, pattern)
    ]
    table = np.array(dashes).reshape(-1, 3)
    whose = table[:, 0].astype(int)
    begins, stops = (starts[whose] + ways[whose] * table[:, end, None] for end in (1, 2))
    return np.concatenate([begins, stops, widths[whose, None]], 1)


def _placed(ends: Floats, bases: Floats, widths: Floats, inked: Truths) -> tuple[Floats, Truths]:
    """Return the ends of lines on the sheet, and which lines are upright.

    Upright lines, and what meets them in a corner, lie on whole pixels. Hatching does not matter here.
    """
    across, up = np.abs(ends[:, 1] - ends[:, 0]).T
    upright = inked & ((across < 0.01) | (up < 0.01))
    places = np.rint(10 * (ends + bases)).view(np.complex128)[:, :, 0]  # such that ends that meet are equal
    corners = set(places[upright].ravel().tolist())
    meet = np.array([place in corners for place in places.ravel().tolist()]).reshape(-1, 2) & inked[:, None]
    return bases + np.where(meet[:, :, None], _crisp(ends, widths[:, None, None]), ends), upright


def _crisp(places: Floats, widths: Floats) -> Floats:
    """Do as `crisp` with many places at once."""
    rest = (widths / 2 - 2) % OVER
    return np.copysign(np.floor((np.abs(places) - rest) / OVER + 0.500001) * OVER + rest, places)


def _radius(shape: Arc | Circle, scale: float, width: int) -> float:
    """Return the radius; round the base point a crisp one, as the lines that touch the circle are."""
    radius, about_base = scale * shape.radius, scale * (abs(shape.centre.x) + abs(shape.centre.y)) < 0.01
    return max(1.0, crisp(radius, width) if about_base else radius)


def _add_arc(marks: Marks, arc: Arc, drawing: Drawing, pens: Pens) -> None:
    width, _, pattern = pens[arc.role]
    (x, y), radius = drawing.place(arc.centre), _radius(arc, drawing.scale, width)
    first, last = math.radians(arc.start), math.radians(arc.end)
    if pattern:
        dashes = dashes_of((last - first) * radius, pattern)
        marks.bows.extend((x, y, radius, first + a / radius, first + b / radius, width) for a, b in dashes)
        return
    marks.bows.append((x, y, radius, first, last, width))
    marks.dots.update((x + radius * math.cos(turn), y + radius * math.sin(turn), width) for turn in (first, last))


def _add_circle(marks: Marks, circle: Circle, drawing: Drawing, pens: Pens) -> None:
    width, _, pattern = pens[circle.role]
    (x, y), radius = drawing.place(circle.centre), _radius(circle, drawing.scale, width)
    if not pattern:
        marks.rings.append((x, y, radius, width))
        return
    dashes = dashes_of(math.tau * radius, pattern, closed=True)
    middle = (dashes[0][0] + dashes[0][1]) / 2  # a dash, not a gap, on the axis
    marks.bows.extend((x, y, radius, (a - middle) / radius, (b - middle) / radius, width) for a, b in dashes)


def _add_ellipse(marks: Marks, ellipse: Ellipse, drawing: Drawing, pens: Pens) -> None:
    """Add arcs that follow each other as one line, whose dashes run on from piece to piece."""
    width, _, pattern = pens[ellipse.role]
    pieces = arcs_of(ellipse.scaled(drawing.scale), BEND)
    dashes = dashes_of(sum(map(length_of, pieces)), pattern, ellipse.whole)
    first = (dashes[0][1] - dashes[0][0]) / 2 if ellipse.whole else 0.0  # a dash, not a gap, on the axis
    for begin, stop in dashes:
        for piece, low, high in along(pieces, begin - first, stop - first):
            _add_stretch(marks, piece, (low, high), drawing.base, width)
    if not pattern and not ellipse.whole:
        marks.dots.update((*drawing.place(ellipse.at(turn)), width) for turn in (ellipse.start, ellipse.end))


def _add_stretch(marks: Marks, piece: Arc | Line, stretch: tuple[float, float], base: Point, width: int) -> None:
    """Add what lies between two lengths along a piece."""
    low, high = stretch
    if isinstance(piece, Arc):
        first, radius = math.radians(piece.start), piece.radius
        marks.bows.append((*piece.centre.plus(*base), radius, first + low / radius, first + high / radius, width))
        return
    (x, y), length = piece.start.plus(*base), length_of(piece)
    dx, dy = (piece.end.x - piece.start.x) / length, (piece.end.y - piece.start.y) / length
    marks.bars.append(np.array([[x + low * dx, y + low * dy, x + high * dx, y + high * dy, width]]))
