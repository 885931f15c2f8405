"""Marks become greys: drawn on a sheet of sub-pixels, four to a pixel, and reduced. Knows no shapes but text."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from builder.output.lettering import CAPITAL, font, spelt
from builder.output.marks import BEND, Bar, Bow, Marks
from builder.output.strokes import OVER
from builder.words.shapes import Text

Floats = NDArray[np.float64]

_PAPER = 255
_CHORDS = 4  # to a piece of a bow: many small polygons are filled sooner than one of many corners
_NOISE = 1e-6  # sub-pixels: what lies on the edge between two falls on the same side everywhere


class Ink:
    """A white sheet of sub-pixels; `base` is where on it, y down, the drawing's base point lies."""

    def __init__(self, width: int, height: int, base: tuple[int, int]) -> None:
        self._image = Image.new("L", (width * OVER, height * OVER), _PAPER)
        self._draw = ImageDraw.Draw(self._image)
        self._base = base

    def greys(self) -> NDArray[np.uint8]:
        """Return the finished pixels, 0 black to 15 white."""
        return np.asarray(self._image.reduce(OVER), np.uint8) // 16

    def draw(self, marks: Marks, grey: int) -> None:
        """Draw marks, 0 black to 255 white, over what is there."""
        self._bars(marks.bars, grey)
        self._bows(marks.bows, grey)
        for *box, width in self._squares([(x, y, r + w / 2, w) for x, y, r, w in marks.rings]):
            self._draw.ellipse(box, outline=grey, width=width)
        for *box, _ in self._squares([(x, y, w / 2, w) for x, y, w in marks.dots]):
            self._draw.ellipse(box, fill=grey)
        for text in marks.texts:
            self._text(text, grey)

    def _bars(self, bars: Sequence[Bar], grey: int) -> None:
        """Fill straight strokes; upright ones are rectangles, which Pillow fills much sooner than polygons."""
        if not bars:
            return
        corners, upright = self._corners(bars)
        xs, ys = corners[upright, 0::2], corners[upright, 1::2]
        for box in np.stack([xs.min(1), ys.min(1), xs.max(1), ys.max(1)], 1).tolist():
            self._draw.rectangle(box, fill=grey)
        self._polygons(corners[~upright], grey)

    def _corners(self, bars: Sequence[Bar]) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
        """Return x and y of the four corners of each stroke, and which of them are upright."""
        x, y, end_x, end_y, width = np.array(bars).T
        x, y = self._at(x, y)
        end_x, end_y = self._at(end_x, end_y)
        length = np.hypot(end_x - x, end_y - y)
        ux, uy = (end_x - x) / length, (end_y - y) / length
        level, plumb = np.abs(uy) < 1e-6, np.abs(ux) < 1e-6
        # Pillow fills the last sub-pixel of a row; of a column only below a level edge.
        across, up = uy * (width - 1) / 2, ux * (width - level) / 2
        x, y, end_x, end_y = x + ux / 2, y + uy / 2, end_x - ux / 2, end_y - uy / 2
        near, far = (x - across, y + up, end_x - across, end_y + up), (end_x + across, end_y - up, x + across, y - up)
        return _whole(np.stack([*near, *far], 1)), level | plumb

    def _bows(self, bows: Sequence[Bow], grey: int) -> None:
        """Fill bent strokes, cut into pieces of as many chords each."""
        if not bows:
            return
        x, y, radius, begin, stop, width = np.array(bows).T
        pieces = np.ceil((stop - begin) / np.sqrt(8 * BEND / radius) / _CHORDS - 1e-9).astype(int)
        whose = np.repeat(np.arange(len(bows)), pieces)
        ordinal = np.arange(len(whose)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
        steps = (ordinal[:, None] + np.linspace(0.0, 1.0, _CHORDS + 1)) / pieces[whose, None]
        turns = begin[whose, None] + (stop - begin)[whose, None] * steps
        across, up = ((width[whose, None] - shrunk) / 2 for shrunk in (1, 0))  # as for a straight stroke
        rims = [
            self._at(
                x[whose, None] + (radius[whose, None] + side * across) * np.cos(way),
                y[whose, None] + (radius[whose, None] + side * up) * np.sin(way),
            )
            for side, way in ((1, turns), (-1, turns[:, ::-1]))
        ]
        xs, ys = (np.concatenate(places, axis=1) for places in zip(*rims, strict=True))
        self._polygons(_whole(np.stack([xs, ys], 2)).reshape(len(whose), -1), grey)

    def _polygons(self, corners: NDArray[np.int64], grey: int) -> None:
        for polygon in corners.tolist():
            self._draw.polygon(polygon, fill=grey)

    def _squares(self, rounds: Sequence[tuple[float, float, float, int]]) -> list[list[int]]:
        """Return first and last column and row of the squares round some places, and a width beside each."""
        if not rounds:
            return []
        x, y, reach, width = np.array(rounds).T
        x, y = self._at(x, y)
        low, high = 0.5 - reach, reach - 0.5
        squares: list[list[int]] = _whole(np.stack([x + low, y + low, x + high, y + high, width], 1)).tolist()
        return squares

    def _text(self, text: Text, grey: int) -> None:
        size = max(1, round(text.height / CAPITAL))
        place = self._base[0] + text.at.x, self._base[1] - text.at.y
        self._draw.text(place, spelt(text.text), fill=grey, font=font(size), anchor="ls")

    def _at(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        return self._base[0] + x, self._base[1] - y


def _whole(places: Floats) -> NDArray[np.int64]:
    return np.floor(places + _NOISE).astype(np.int64)
