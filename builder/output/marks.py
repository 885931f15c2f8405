"""Shapes become marks of a pen: straight and bent strokes, rings and round ends, dashes one by one. No pixels here.

Lengths are sub-pixels, four to a pixel of the finished picture, y up; angles are radians, counter-clockwise.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from builder.output.dashes import along, dashes_of, length_of
from builder.output.strokes import Pen, crisp
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Shape, Text, arcs_of

BEND = 0.15  # how far a chord may lie beside its arc

_Round = TypeVar("_Round", Arc, Circle)

Bar = tuple[float, float, float, float, int]  # x and y of the start, of the end, width
Bow = tuple[float, float, float, float, float, int]  # x and y of the centre, radius, first and last angle, width
Ring = tuple[float, float, float, int]  # x and y of the centre, radius, width
Dot = tuple[float, float, int]  # x and y of the centre, width


@dataclass(frozen=True, slots=True)
class Marks:
    """What a pen has to draw, in any order."""

    bars: list[Bar] = field(default_factory=list)
    bows: list[Bow] = field(default_factory=list)
    rings: list[Ring] = field(default_factory=list)
    dots: set[Dot] = field(default_factory=set)  # lines that meet in a corner share one
    texts: list[Text] = field(default_factory=list)


def marks_of(shapes: Sequence[Shape], pens: Mapping[Role, Pen]) -> Marks:
    """Return the marks of scaled shapes; those of upright lines fill whole pixels."""
    marks = Marks()
    lines = [shape for shape in shapes if isinstance(shape, Line)]
    for ends, line in zip(_placed(lines, pens), lines, strict=True):
        _add_line(marks, ends, pens[line.role], line.role is not Role.HATCHING)
    for shape in shapes:
        match shape:
            case Arc():
                _add_chain(marks, [_crisp_round(shape, pens[shape.role])], pens[shape.role])
            case Circle():
                _add_circle(marks, _crisp_round(shape, pens[shape.role]), pens[shape.role])
            case Ellipse():
                _add_chain(marks, arcs_of(shape, BEND), pens[shape.role], closed=shape.whole)
            case Text():
                marks.texts.append(shape)
    return marks


def _placed(lines: Sequence[Line], pens: Mapping[Role, Pen]) -> list[list[float]]:
    """Return start and end of each line; whole pixels for upright ones and what meets them in a corner."""
    ends = np.array([(*line.start, *line.end) for line in lines]).reshape(-1, 2, 2)
    inked = np.array([line.role is not Role.HATCHING for line in lines], bool)
    upright = inked & (np.abs(ends[:, 1] - ends[:, 0]) < 0.01).any(axis=1)
    places = (np.rint(10 * ends) + 0.0).view(np.complex128).reshape(-1, 2)  # such that ends that meet are equal
    corners = set(places[upright].ravel().tolist())
    meet = np.array([place in corners for place in places.ravel().tolist()], bool).reshape(-1, 2)
    widths = np.array([pens[line.role].width for line in lines], float)
    crisper = crisp(ends, widths[:, None, None])
    placed: NDArray[np.float64] = np.where((meet & inked[:, None])[:, :, None], crisper, ends)
    return placed.reshape(-1, 4).tolist()


def _add_line(marks: Marks, ends: Sequence[float], pen: Pen, round_ends: bool) -> None:
    x, y, end_x, end_y = ends
    length = math.hypot(end_x - x, end_y - y)
    if not length:
        return
    if pen.pattern:
        dx, dy = (end_x - x) / length, (end_y - y) / length
        marks.bars.extend(
            (x + begin * dx, y + begin * dy, x + stop * dx, y + stop * dy, pen.width)
            for begin, stop in dashes_of(length, pen.pattern)
        )
        return
    marks.bars.append((x, y, end_x, end_y, pen.width))
    if round_ends:
        marks.dots.update(((x, y, pen.width), (end_x, end_y, pen.width)))


def _crisp_round(shape: _Round, pen: Pen) -> _Round:
    """Return a round shape that can be drawn; round the base point a crisp one, as the lines that touch it are."""
    x, y = shape.centre
    radius = float(crisp(shape.radius, pen.width)) if abs(x) + abs(y) < 0.01 else shape.radius
    return replace(shape, radius=max(1.0, radius))


def _add_circle(marks: Marks, circle: Circle, pen: Pen) -> None:
    (x, y), radius = circle.centre, circle.radius
    if not pen.pattern:
        marks.rings.append((x, y, radius, pen.width))
        return
    dashes = dashes_of(math.tau * radius, pen.pattern, closed=True)
    first = (dashes[0][1] - dashes[0][0]) / 2  # a dash, not a gap, on the axis
    marks.bows.extend(
        (x, y, radius, (begin - first) / radius, (stop - first) / radius, pen.width) for begin, stop in dashes
    )


def _add_chain(marks: Marks, pieces: Sequence[Arc | Line], pen: Pen, closed: bool = False) -> None:
    """Add pieces that follow each other as one line, whose dashes run on from piece to piece."""
    dashes = dashes_of(sum(map(length_of, pieces)), pen.pattern, closed)
    first = (dashes[0][1] - dashes[0][0]) / 2 if closed else 0.0  # a dash, not a gap, on the axis
    for begin, stop in dashes:
        for piece, low, high in along(pieces, begin - first, stop - first):
            _add_stretch(marks, piece, low, high, pen)
    if not pen.pattern and not closed:
        ends = pieces[0].points()[0], pieces[-1].points()[-1]
        marks.dots.update((x, y, pen.width) for x, y in ends)


def _add_stretch(marks: Marks, piece: Arc | Line, low: float, high: float, pen: Pen) -> None:
    """Add what lies between two lengths along a piece."""
    if isinstance(piece, Arc):
        first = math.radians(piece.start)
        turns = first + low / piece.radius, first + high / piece.radius
        marks.bows.append((*piece.centre, piece.radius, *turns, pen.width))
        return
    (x, y), length = piece.start, length_of(piece)
    dx, dy = (piece.end.x - x) / length, (piece.end.y - y) / length
    marks.bars.append((x + low * dx, y + low * dy, x + high * dx, y + high * dy, pen.width))
