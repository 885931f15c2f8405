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
from builder.output.strokes import Pen, Pens, crisp
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Shape, Text, arcs_of

BEND = 0.15  # how far a chord may lie beside its arc

Bar = Sequence[float]  # x and y of the start, of the end, width
Bow = Sequence[float]  # x and y of the centre, radius, first and last angle, width
Ring = tuple[float, float, float, int]  # x and y of the centre, radius, width
Dot = tuple[float, ...]  # x and y of the centre, width


class Drawing(NamedTuple):
    """Scaled shapes round a base point, and where that point lies on the sheet, amid a pixel."""

    shapes: Sequence[Shape]
    base: Point


@dataclass(frozen=True, slots=True)
class Marks:
    """What a pen has to draw, in any order."""

    bars: list[Bar] = field(default_factory=list)
    bows: list[Bow] = field(default_factory=list)
    rings: list[Ring] = field(default_factory=list)
    dots: set[Dot] = field(default_factory=set)  # lines that meet in a corner share one
    texts: list[Text] = field(default_factory=list)


def marks_of(drawings: Sequence[Drawing], pens: Pens) -> Marks:
    """Return the marks of drawings that stand apart on a sheet; those of upright lines fill whole pixels."""
    marks = Marks()
    _add_lines(marks, drawings, pens)
    for shapes, base in drawings:
        for shape in shapes:
            match shape:
                case Line():
                    pass
                case Arc():
                    _add_arc(marks, shape, base, pens)
                case Circle():
                    _add_circle(marks, shape, base, pens)
                case Ellipse():
                    _add_ellipse(marks, shape, base, pens)
                case Text():
                    marks.texts.append(Text(shape.at.plus(*base), shape.height, shape.text, shape.role))
    return marks


def _add_lines(marks: Marks, drawings: Sequence[Drawing], pens: Pens) -> None:
    lines = [(shape, base) for shapes, base in drawings for shape in shapes if isinstance(shape, Line)]
    if not lines:
        return
    ends = np.array([(*line.start, *line.end) for line, _ in lines]).reshape(-1, 2, 2)
    bases = np.array([base for _, base in lines])[:, None]
    inked = np.array([line.role is not Role.HATCHING for line, _ in lines])
    widths = np.array([float(pens[line.role].width) for line, _ in lines])
    across, up = np.abs(ends[:, 1] - ends[:, 0]).T
    upright = inked & ((across < 0.01) | (up < 0.01))
    meet = _in_corners(ends + bases, upright) & inked[:, None]
    placed = bases + np.where(meet[:, :, None], crisp(ends, widths[:, None, None]), ends)
    runs = placed[:, 1] - placed[:, 0]
    lengths = np.hypot(*runs.T)
    reach = (
        runs * (widths * upright / 2 / np.maximum(lengths, 1e-9))[:, None]
    )  # square ends: corners are black all over
    bars = np.concatenate([placed[:, 0] - reach, placed[:, 1] + reach, widths[:, None]], 1)
    solid = np.array([not pens[line.role].pattern for line, _ in lines]) & (lengths > 0)
    marks.bars.extend(bars[solid].tolist())
    rounded = solid & inked & ~upright
    rounds = np.concatenate([placed[rounded], np.repeat(widths[rounded, None, None], 2, 1)], 2)
    marks.dots.update(map(tuple, rounds.reshape(-1, 3).tolist()))
    for number in np.flatnonzero(~solid & (lengths > 0)).tolist():
        _add_dashes(marks, placed[number].ravel().tolist(), pens[lines[number][0].role])


def _in_corners(ends: NDArray[np.float64], upright: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Tell which ends of lines (n by 2 by x, y) lie where upright ones end."""
    places = np.rint(10 * ends).view(np.complex128)[:, :, 0]  # such that ends that meet are equal
    corners = set(places[upright].ravel().tolist())
    return np.array([place in corners for place in places.ravel().tolist()]).reshape(-1, 2)


def _add_dashes(marks: Marks, ends: Sequence[float], pen: Pen) -> None:
    x, y, end_x, end_y = ends
    length = math.hypot(end_x - x, end_y - y)
    dx, dy = (end_x - x) / length, (end_y - y) / length
    marks.bars.extend(
        (x + begin * dx, y + begin * dy, x + stop * dx, y + stop * dy, pen.width)
        for begin, stop in dashes_of(length, pen.pattern)
    )


def _radius(shape: Arc | Circle, width: int) -> float:
    """Return the radius; round the base point a crisp one, as the lines that touch the circle are."""
    about_base = abs(shape.centre.x) + abs(shape.centre.y) < 0.01
    return max(1.0, float(crisp(shape.radius, width)) if about_base else shape.radius)


def _add_arc(marks: Marks, arc: Arc, base: Point, pens: Pens) -> None:
    width, _, pattern = pens[arc.role]
    (x, y), radius = arc.centre.plus(*base), _radius(arc, width)
    first, last = math.radians(arc.start), math.radians(arc.end)
    if pattern:
        dashes = dashes_of((last - first) * radius, pattern)
        marks.bows.extend((x, y, radius, first + a / radius, first + b / radius, width) for a, b in dashes)
        return
    marks.bows.append((x, y, radius, first, last, width))
    marks.dots.update((x + radius * math.cos(turn), y + radius * math.sin(turn), width) for turn in (first, last))


def _add_circle(marks: Marks, circle: Circle, base: Point, pens: Pens) -> None:
    width, _, pattern = pens[circle.role]
    (x, y), radius = circle.centre.plus(*base), _radius(circle, width)
    if not pattern:
        marks.rings.append((x, y, radius, width))
        return
    dashes = dashes_of(math.tau * radius, pattern, closed=True)
    middle = (dashes[0][0] + dashes[0][1]) / 2  # a dash, not a gap, on the axis
    marks.bows.extend((x, y, radius, (a - middle) / radius, (b - middle) / radius, width) for a, b in dashes)


def _add_ellipse(marks: Marks, ellipse: Ellipse, base: Point, pens: Pens) -> None:
    """Add arcs that follow each other as one line, whose dashes run on from piece to piece."""
    width, _, pattern = pens[ellipse.role]
    pieces = arcs_of(ellipse, BEND)
    dashes = dashes_of(sum(map(length_of, pieces)), pattern, ellipse.whole)
    first = (dashes[0][1] - dashes[0][0]) / 2 if ellipse.whole else 0.0  # a dash, not a gap, on the axis
    for begin, stop in dashes:
        for piece, low, high in along(pieces, begin - first, stop - first):
            _add_stretch(marks, piece, (low, high), base, width)
    if not pattern and not ellipse.whole:
        ends = ellipse.at(ellipse.start).plus(*base), ellipse.at(ellipse.end).plus(*base)
        marks.dots.update((x, y, width) for x, y in ends)


def _add_stretch(marks: Marks, piece: Arc | Line, stretch: tuple[float, float], base: Point, width: int) -> None:
    """Add what lies between two lengths along a piece."""
    low, high = stretch
    if isinstance(piece, Arc):
        first, radius = math.radians(piece.start), piece.radius
        marks.bows.append((*piece.centre.plus(*base), radius, first + low / radius, first + high / radius, width))
        return
    (x, y), length = piece.start.plus(*base), length_of(piece)
    dx, dy = (piece.end.x - piece.start.x) / length, (piece.end.y - piece.start.y) / length
    marks.bars.append((x + low * dx, y + low * dy, x + high * dx, y + high * dy, width))
