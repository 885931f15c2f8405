"""Pages of pictures, text and rules, in 16 greys. Knows neither blocks nor files."""

import math
from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from builder.output import strokes
from builder.output.ink import BLACK, WHITE, Ink
from builder.output.lettering import CAPITAL, lettering, text_width
from builder.output.marks import Drawing, marks_of
from builder.output.pens import OVER, WIDE, Pens
from builder.output.png import png
from builder.words.roles import Role
from builder.words.shapes import Bounds, Line, Point, Shape, Text, bounds_of

_TOGETHER = 8  # pictures drawn at once: more take more memory and no less time
_GAP = 4  # pixels between the pictures of a sheet, for what stands over


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
    axes = [shape for shape in shapes if shape.role is Role.AXIS]
    if not axes or len(axes) == len(shapes):
        return Subject(shapes, _extent(shapes))
    others = [shape for shape in shapes if shape.role is not Role.AXIS]
    outline = _extent(others)
    axes = strokes.short_axes(axes, outline)
    reach = bounds_of(axes)
    low, high = map(min, outline[:2], reach[:2]), map(max, outline[2:], reach[2:])
    return Subject([*others, *axes], Bounds(*low, *high))


class Picture(NamedTuple):
    """A finished picture, 0 black to 15 white, and where on a page its left upper corner belongs."""

    greys: NDArray[np.uint8]
    left: int
    top: int


def pictures(wanted: Sequence[tuple[Subject, Box]], pens: Pens, margin: int) -> Iterator[Picture]:
    """Draw subjects as large as their boxes allow, centred, each at one scale, at least a margin from the edges."""
    for first in range(0, len(wanted), _TOGETHER):
        yield from _together(wanted[first : first + _TOGETHER], pens, margin)


def _together(wanted: Sequence[tuple[Subject, Box]], pens: Pens, margin: int) -> list[Picture]:
    """Draw some pictures on one sheet, each below the last: arrays of many lines take little longer than of few."""
    widest = max(pen.width for pen in pens.values())
    fits = [_Fit.into(subject.extent, box, margin, widest) for subject, box in wanted]
    # A bolt fills a strip of its box: the rest need not be drawn.
    parts = [fit.covered(subject.extent, box) for fit, (subject, box) in zip(fits, wanted, strict=True)]
    tops = [0, *accumulate(part.height + _GAP for part in parts)]
    ink = Ink(max(part.width for part in parts), tops[-1])
    drawings = []
    for (subject, _), fit, part, top in zip(wanted, fits, parts, tops, strict=False):
        shapes = strokes.legible(subject.shapes, fit.scale, pens)
        drawings.append(Drawing(shapes, fit.scale, Point(fit.x - part.left * OVER, -fit.y + (part.top - top) * OVER)))
    _draw(ink, drawings, pens)
    greys = ink.greys()
    return [
        Picture(greys[top : top + part.height, : part.width], box.left + part.left, box.top + part.top)
        for (_, box), part, top in zip(wanted, parts, tops, strict=False)
    ]


def _draw(ink: Ink, drawings: Sequence[Drawing], pens: Pens) -> None:
    """Draw hatching first, so that all else has the upper hand."""
    hatched = [drawing.only(Role.HATCHING) for drawing in drawings]
    if any(drawing.shapes for drawing in hatched):
        ink.draw(marks_of(hatched, pens), pens[Role.HATCHING].grey)
    ink.draw(marks_of([drawing.without(Role.HATCHING) for drawing in drawings], pens), BLACK)


class Page:
    """A white sheet for pictures, text and rules. Greys go from 0, black, to 15, white."""

    def __init__(self, width: int, height: int) -> None:
        self._greys = np.full((height, width), WHITE, np.uint8)

    def place(self, picture: Picture) -> None:
        """Lay a picture over the sheet; what stands over its edges is cut off."""
        greys, left, top = picture
        right, bottom = max(0, -left), max(0, -top)
        place = self._greys[max(0, top) : max(0, top + len(greys)), max(0, left) : max(0, left + greys.shape[1])]
        np.minimum(place, greys[bottom : bottom + place.shape[0], right : right + place.shape[1]], out=place)

    def text(self, at: tuple[int, int], text: str, size: int, anchor: str = "l", grey: int = BLACK) -> None:
        """Write one line on a baseline; the place is that of its left end, its middle or its right end: l, m, r."""
        ink, column, baseline = lettering(text, size)
        ahead = {"l": 0, "m": text_width(text, size) // 2, "r": text_width(text, size)}[anchor]
        greys = WHITE - (ink * (WHITE - grey) + WHITE // 2) // WHITE
        self.place(Picture(greys, at[0] - ahead - column, at[1] - baseline))

    def rule(self, box: Box, grey: int = BLACK) -> None:
        """Fill a rectangle."""
        self._greys[box.top : box.top + box.height, box.left : box.left + box.width] = grey

    def png(self) -> bytes:
        """Return the sheet as a PNG; the same sheet gives the same bytes."""
        return png(self._greys)


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
