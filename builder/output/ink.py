"""Marks become greys: drawn on a sheet of sub-pixels, four to a pixel, and reduced. Knows no shapes but text."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from builder.output.lettering import CAPITAL, font, spelt
from builder.output.marks import BEND, Bars, Bow, Dot, Marks
from builder.output.pens import OVER
from builder.words.shapes import Text

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]

BLACK, WHITE = 0, 15
_CHORDS = 4  # to a piece of a bow: many small polygons are filled sooner than one of many corners
_ENDS = np.arange(_CHORDS + 1)
_BAND = 64 * OVER  # rows reduced at a time: what fits a processor's cache takes a fraction of the time
_NOISE = 1e-6  # sub-pixels: what lies on the edge between two falls on the same side on every machine


class Ink:
    """A white sheet of sub-pixels; marks on it have x from its left edge and y, upwards, from its upper one."""

    def __init__(self, width: int, height: int) -> None:
        self._cells = np.full((height * OVER, width * OVER), WHITE, np.uint8)
        image = Image.frombuffer("L", (width * OVER, height * OVER), self._cells, "raw", "L", 0, 1)
        image.readonly = 0  # Pillow draws on the array itself: it need not be copied
        self._draw = ImageDraw.Draw(image)
        self._draw.point((0, 0), fill=BLACK)
        if self._cells[0, 0] != BLACK:
            raise RuntimeError("this version of Pillow does not draw on memory that is shared with it")
        self._cells[0, 0] = WHITE

    def greys(self) -> NDArray[np.uint8]:
        """Return the finished pixels, 0 black to 15 white."""
        return np.concatenate([_mean(self._cells[top : top + _BAND]) for top in range(0, len(self._cells), _BAND)])

    def draw(self, marks: Marks, grey: int) -> None:
        """Draw marks over what is there."""
        if marks.bars:
            self._bars(np.concatenate(marks.bars), grey)
        if marks.bows:
            self._bows(marks.bows, grey)
        for x, y, radius, width in marks.rings:
            (square,) = _squares([(x, y, 2 * radius + width)])
            self._draw.ellipse(square, outline=grey, width=width)
        for square in _squares(list(marks.dots)):
            self._draw.ellipse(square, fill=grey)
        for text in marks.texts:
            self._text(text, grey)

    def _bars(self, bars: Bars, grey: int) -> None:
        """Fill straight strokes; upright ones are rectangles, which Pillow fills much sooner than polygons."""
        bars = bars[(bars[:, 0] != bars[:, 2]) | (bars[:, 1] != bars[:, 3])]  # a dash may end where it begins
        if not len(bars):
            return
        corners, upright = _corners(bars)
        xs, ys = corners[0::2, upright], corners[1::2, upright]
        for box in np.array([xs.min(0), ys.min(0), xs.max(0), ys.max(0)]).T.tolist():
            self._draw.rectangle(box, fill=grey)
        for polygon in corners[:, ~upright].T.tolist():
            self._draw.polygon(polygon, fill=grey)

    def _bows(self, bows: Sequence[Bow], grey: int) -> None:
        for polygon in _pieces(bows).tolist():
            self._draw.polygon(polygon, fill=grey)

    def _text(self, text: Text, grey: int) -> None:
        size = max(1, round(text.height / CAPITAL))
        self._draw.text((text.at.x, -text.at.y), spelt(text.text), fill=grey, font=font(size), anchor="ls")


def _mean(cells: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return the mean of each pixel's sub-pixels: four rows are summed, then the four bytes of a number."""
    rows = cells.reshape(len(cells) // OVER, OVER, -1).view(np.uint32)
    sums = (rows[:, 0] + rows[:, 1] + rows[:, 2] + rows[:, 3]) * np.uint32(0x01010101)  # in the highest byte
    return ((sums + np.uint32(0x08000000)) >> np.uint32(28)).astype(np.uint8)


def _corners(bars: Bars) -> tuple[Integers, NDArray[np.bool_]]:
    """Return x and y of the four corners of straight strokes, a column each, and which of them are upright."""
    x, y, end_x, end_y, width = bars.T
    y, end_y = -y, -end_y
    ux, uy = end_x - x, end_y - y
    length = np.hypot(ux, uy)
    ux, uy = ux / length, uy / length
    level, plumb = np.abs(uy) < 1e-6, np.abs(ux) < 1e-6
    # Pillow fills the last sub-pixel of a row; of a column only below a level edge.
    across, up = uy * (width - 1) / 2, ux * (width - level) / 2
    x, y, end_x, end_y = x + ux / 2, y + uy / 2, end_x - ux / 2, end_y - uy / 2
    near, far = (x - across, y + up, end_x - across, end_y + up), (end_x + across, end_y - up, x + across, y - up)
    return _whole(np.array([*near, *far])), level | plumb


def _pieces(bows: Sequence[Bow]) -> Integers:
    """Return x and y of the corners of bent strokes, a row for each piece of at most so many chords."""
    all_bows = np.array(bows)
    _, _, radius, begin, stop, _ = all_bows.T
    chords = np.ceil((stop - begin) / np.sqrt(8 * BEND / radius) - 1e-9).astype(int)
    pieces = -(-chords // _CHORDS)
    x, y, radius, begin, stop, width = np.repeat(all_bows, pieces, axis=0).T[:, :, None]
    chords = np.repeat(chords, pieces)[:, None]
    ordinal = np.arange(len(x)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    share = np.minimum(_CHORDS * ordinal[:, None] + _ENDS, chords) / chords  # a last piece may end with idle corners
    turns = begin + (stop - begin) * share
    dx, dy = np.cos(turns), np.sin(turns)
    across, up = (width - 1) / 2, width / 2  # as for a straight stroke
    corners = np.empty((len(x), 2 * len(_ENDS), 2))
    corners[:, : len(_ENDS), 0] = x + (radius + across) * dx
    corners[:, : len(_ENDS), 1] = -y - (radius + up) * dy
    corners[:, :_CHORDS:-1, 0] = x + (radius - across) * dx
    corners[:, :_CHORDS:-1, 1] = -y - (radius - up) * dy
    return _whole(corners).reshape(len(x), -1)


def _squares(rounds: Sequence[Dot]) -> list[list[int]]:
    """Return first and last column and row of the squares round some places, so many sub-pixels across."""
    x, y, across = np.array(rounds).reshape(-1, 3).T
    low, high = 0.5 - across / 2, across / 2 - 0.5
    squares: list[list[int]] = _whole(np.array([x + low, low - y, x + high, high - y])).T.tolist()
    return squares


def _whole(places: Floats) -> Integers:
    return np.floor(places + _NOISE).astype(np.int64)
