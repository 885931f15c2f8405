"""Pages of pictures, text and rules, in 16 greys. Knows neither blocks nor files."""

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from builder.output import strokes
from builder.output.ink import Ink
from builder.output.lettering import CAPITAL, lettering, text_width
from builder.output.marks import marks_of
from builder.output.png import png
from builder.output.strokes import OVER, WIDE, Pen
from builder.words.roles import Role
from builder.words.shapes import Bounds, Line, Shape, Text, bounds_of

_WHITE, _BLACK = 15, 0


class Box(NamedTuple):
    """A rectangle of pixels, y down: left and top edge, width, height."""

    left: int
    top: int
    width: int
    height: int


class Subject(NamedTuple):
    """What a picture shows: shapes, and their extent in the same unit."""

    shapes: Sequence[Shape]
    extent: Bounds


def subject_of(shapes: Sequence[Shape]) -> Subject:
    """Return what a picture of shapes shows: letters in full, axes shortened."""
    shown = strokes.with_short_axes(shapes)
    return Subject(shown, _extent(shown))


class Page:
    """A white sheet to draw pictures, text and rules on. Greys go from 0, black, to 15, white."""

    def __init__(self, width: int, height: int) -> None:
        self._greys = np.full((height, width), _WHITE, np.uint8)

    def picture(self, subject: Subject, pens: Mapping[Role, Pen], box: Box, margin: int) -> None:
        """Draw a subject as large as the box allows, centred, at one scale, at least a margin from its edges."""
        fit = _Fit.into(subject.extent, box, margin, max(pen.width for pen in pens.values()))
        part = fit.covered(subject.extent, box)  # a bolt fills a strip of its box: the rest need not be drawn
        ink = Ink(part.width, part.height, (fit.x - part.left * OVER, fit.y - part.top * OVER))
        shapes = strokes.legible([shape.scaled(fit.scale) for shape in subject.shapes], pens)
        hatching = [shape for shape in shapes if shape.role is Role.HATCHING]
        if hatching:  # first, so that the lines have the upper hand
            ink.draw(marks_of(hatching, pens), pens[Role.HATCHING].grey)
            shapes = [shape for shape in shapes if shape.role is not Role.HATCHING]
        ink.draw(marks_of(shapes, pens), _BLACK)
        self._darken(ink.greys(), box.left + part.left, box.top + part.top)

    def text(self, at: tuple[int, int], text: str, size: int, anchor: str = "l", grey: int = _BLACK) -> None:
        """Write one line on a baseline; the place is that of its left end, its middle or its right end: l, m, r."""
        ink, column, baseline = lettering(text, size)
        ahead = {"l": 0, "m": text_width(text, size) // 2, "r": text_width(text, size)}[anchor]
        greys = _WHITE - (ink * (_WHITE - grey) + _WHITE // 2) // _WHITE
        self._darken(greys, at[0] - ahead - column, at[1] - baseline)

    def rule(self, box: Box, grey: int = _BLACK) -> None:
        """Fill a rectangle."""
        self._greys[box.top : box.top + box.height, box.left : box.left + box.width] = grey

    def png(self) -> bytes:
        """Return the sheet as a PNG; the same sheet gives the same bytes."""
        return png(self._greys)

    def _darken(self, greys: NDArray[np.uint8], left: int, top: int) -> None:
        """Lay a picture over the sheet; what stands over its edges is cut off."""
        right, bottom = max(0, -left), max(0, -top)
        place = self._greys[max(0, top) : max(0, top + len(greys)), max(0, left) : max(0, left + greys.shape[1])]
        np.minimum(place, greys[bottom : bottom + place.shape[0], right : right + place.shape[1]], out=place)


class _Fit(NamedTuple):
    """Sub-pixels to a unit, and the base point, amid a pixel so that both sides of an axis look alike."""

    scale: float
    x: int
    y: int

    @classmethod
    def into(cls, extent: Bounds, box: Box, margin: int, pen: int) -> "_Fit":
        """Return the largest fit of an extent, plus a pen's width, into a box less its margin."""
        rooms = [(side - 2 * margin) * OVER - pen for side in (box.width, box.height)]
        sides = zip(rooms, (extent.width, extent.height), strict=True)
        scale = min((room / side for room, side in sides if side > 0), default=1.0)
        x = box.width * OVER / 2 - scale * (extent.left + extent.right) / 2
        y = box.height * OVER / 2 + scale * (extent.bottom + extent.top) / 2
        return cls(scale, *(OVER * round((place - 2) / OVER) + 2 for place in (x, y)))

    def covered(self, extent: Bounds, box: Box) -> Box:
        """Return the pixels of a box, from its corner, that shapes touch, with room for a wide line all round."""
        room = WIDE * OVER
        left, right = self.x + self.scale * extent.left - room, self.x + self.scale * extent.right + room
        top, bottom = self.y - self.scale * extent.top - room, self.y - self.scale * extent.bottom + room
        first = max(0, math.floor(left / OVER)), max(0, math.floor(top / OVER))
        last = min(box.width, math.ceil(right / OVER)), min(box.height, math.ceil(bottom / OVER))
        return Box(*first, last[0] - first[0], last[1] - first[1])


def _extent(shapes: Sequence[Shape]) -> Bounds:
    """Return the bounds with the width of letters and their lower parts counted in."""
    ends: list[Shape] = []
    for text in shapes:
        if isinstance(text, Text):
            width = text_width(text.text, 100) / 100 * text.height / CAPITAL
            ends.append(Line(text.at, text.at.plus(width, -0.3 * text.height), text.role))
    return bounds_of((*shapes, *ends))
