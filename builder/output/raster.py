"""Shapes and text become grey pixels and a PNG. The only importer of Pillow; knows neither blocks nor files.

Drawn four times too large and reduced. Inside, lengths are sub-pixels: four to a pixel of the finished one.
"""

import math
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from io import BytesIO
from typing import NamedTuple

from PIL import Image, ImageDraw, ImageFont

from builder.definition.shop import Shop
from builder.output import strokes
from builder.output.dashes import along, dashes_of, length_of
from builder.output.strokes import OVER, WIDE, Pen
from builder.words.roles import Role
from builder.words.shapes import Arc, Bounds, Circle, Ellipse, Line, Point, Shape, Text, arcs_of, bounds_of

_WHITE, _INK = 255, 0
_BEND = 0.15  # how far a chord may lie beside its arc
_GREYS = [round(grey / 17) for grey in range(256)]
_PALETTE = [grey * 17 for grey in range(16) for _ in range(3)]
_CAPITAL = 0.7  # height of a capital over size, in Pillow's own font
# Pillow's own font holds little beyond ASCII: times sign, en dash and the two diameter signs are respelt.
_SPELT = {0xD7: "x", 0x2013: "-", 0xD8: "dia ", 0xF8: "dia "}


class Box(NamedTuple):
    """A rectangle of pixels, y down: left and top edge, width, height."""

    left: int
    top: int
    width: int
    height: int


class Page:
    """A white sheet to draw pictures, text and rules on."""

    def __init__(self, width: int, height: int) -> None:
        self._image = Image.new("L", (width, height), _WHITE)
        self._draw = ImageDraw.Draw(self._image)

    def picture(self, shapes: Sequence[Shape], shop: Shop, box: Box, margin: int) -> None:
        """Draw shapes as large as the box allows, centred, at one scale, at least a margin from its edges."""
        shapes, pens = strokes.with_short_axes(shapes), strokes.pens_of(shop)
        extent = _extent(shapes)
        fit = _Fit.into(extent, box, margin, max(pen.width for pen in pens.values()))
        part = fit.covered(extent)  # a bolt fills a strip of its box: the rest need not be drawn
        image = Image.new("L", (part.width * OVER, part.height * OVER), _WHITE)
        _Ink(_Fit(fit.scale, fit.x - part.left * OVER, fit.y - part.top * OVER), pens, image).draw(shapes)
        self._image.paste(image.reduce(OVER), (box.left + part.left, box.top + part.top))

    def text(self, at: tuple[int, int], text: str, size: int, anchor: str = "ls", grey: int = _INK) -> None:
        """Write one line; the anchor is Pillow's: l, m or r for the place across, s for the baseline."""
        self._draw.text(at, _spelt(text), fill=grey, font=_font(size), anchor=anchor)

    def rule(self, box: Box, grey: int = _INK) -> None:
        """Fill a rectangle."""
        self._draw.rectangle((box.left, box.top, box.left + box.width - 1, box.top + box.height - 1), fill=grey)

    def png(self) -> bytes:
        """Return the sheet as a PNG of 16 greys; no dates, so the same sheet gives the same bytes."""
        image = self._image.point(_GREYS, "P")
        image.putpalette(_PALETTE)
        file = BytesIO()
        image.save(file, "PNG", bits=4, compress_level=4)
        return file.getvalue()


def picture_bounds(shapes: Sequence[Shape]) -> Bounds:
    """Return what a picture of shapes shows, in their own unit: letters in full, axes shortened."""
    return _extent(strokes.with_short_axes(shapes))


def text_width(text: str, size: int) -> float:
    """Return how many pixels a line of text takes across."""
    return _font(size).getlength(_spelt(text))


@dataclass(frozen=True, slots=True)
class _Fit:
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

    def covered(self, extent: Bounds) -> Box:
        """Return the pixels that shapes of an extent touch, with room for a wide line all round."""
        room = WIDE * OVER
        left, right = self.x + self.scale * extent.left - room, self.x + self.scale * extent.right + room
        top, bottom = self.y - self.scale * extent.top - room, self.y - self.scale * extent.bottom + room
        first = math.floor(left / OVER), math.floor(top / OVER)
        return Box(*first, math.ceil(right / OVER) - first[0], math.ceil(bottom / OVER) - first[1])


class _Ink:
    """Draws shapes with their pens on an image of sub-pixels."""

    def __init__(self, fit: _Fit, pens: Mapping[Role, Pen], image: Image.Image) -> None:
        self.image = image
        self._draw = ImageDraw.Draw(image)
        self._fit = fit
        self._pens = pens
        self._corners: set[tuple[float, float]] = set()

    def draw(self, shapes: Iterable[Shape]) -> None:
        """Draw all shapes: hatching first, outlines last, so that the wide line has the upper hand."""
        scaled = strokes.legible([shape.scaled(self._fit.scale) for shape in shapes], self._pens)
        upright = [shape for shape in scaled if isinstance(shape, Line) and strokes.is_upright(shape)]
        self._corners = {strokes.rounded(end) for line in upright for end in line.points()}
        for shape in sorted(scaled, key=self._rank):
            self._shape(shape, self._pens[shape.role])

    def _rank(self, shape: Shape) -> tuple[bool, int]:
        return shape.role is not Role.HATCHING, self._pens[shape.role].width

    def _shape(self, shape: Shape, pen: Pen) -> None:
        match shape:
            case Line():
                self._line(shape, pen)
            case Arc():
                self._chain([replace(shape, radius=self._radius(shape, pen))], pen)
            case Circle():
                self._circle(shape, pen)
            case Ellipse():
                self._chain(arcs_of(shape, _BEND), pen, closed=shape.whole)
            case Text():
                size = max(1, round(shape.height / _CAPITAL))
                place = self._fit.x + shape.at.x, self._fit.y - shape.at.y
                self._draw.text(place, _spelt(shape.text), fill=pen.grey, font=_font(size), anchor="ls")

    def _line(self, line: Line, pen: Pen) -> None:
        start, end = (self._placed(point, line, pen) for point in line.points())
        length = math.dist(start, end)
        if not length:
            return
        dx, dy = (end.x - start.x) / length, (end.y - start.y) / length
        for begin, stop in dashes_of(length, pen.pattern):
            self._bar(start.plus(begin * dx, begin * dy), start.plus(stop * dx, stop * dy), pen)
        if not pen.pattern and line.role is not Role.HATCHING:
            self._dot(start, pen)
            self._dot(end, pen)

    def _placed(self, point: Point, line: Line, pen: Pen) -> Point:
        """Return the place of an end; whole pixels for upright lines and what meets them in a corner."""
        x, y = point
        if line.role is not Role.HATCHING and (strokes.is_upright(line) or strokes.rounded(point) in self._corners):
            x, y = strokes.crisp(x, pen.width), strokes.crisp(y, pen.width)
        return Point(self._fit.x + x, self._fit.y - y)

    def _bar(self, start: Point, end: Point, pen: Pen) -> None:
        """Fill a straight stroke."""
        length = math.dist(start, end)
        if not length:
            return
        ux, uy = (end.x - start.x) / length, (end.y - start.y) / length
        # Pillow fills the last sub-pixel of a row; of a column only below a level edge.
        across, up = uy * (pen.width - 1) / 2, ux * (pen.width - (abs(uy) < 1e-6)) / 2
        ax, ay, bx, by = start.x + ux / 2, start.y + uy / 2, end.x - ux / 2, end.y - uy / 2
        sides = ((ax, ay, 1), (bx, by, 1), (bx, by, -1), (ax, ay, -1))
        corners = [(math.floor(x - across * side), math.floor(y + up * side)) for x, y, side in sides]
        self._draw.polygon(corners, fill=pen.grey)

    def _dot(self, at: Point, pen: Pen) -> None:
        self._draw.ellipse(_square(at.x, at.y, pen.width / 2), fill=pen.grey)

    def _circle(self, circle: Circle, pen: Pen) -> None:
        radius = self._radius(circle, pen)
        if pen.pattern:
            spans = dashes_of(math.tau * radius, pen.pattern, closed=True)
            first = (spans[0][1] - spans[0][0]) / 2  # a dash, not a gap, on the axis
            for begin, stop in spans:
                self._bow(circle.centre, radius, ((begin - first) / radius, (stop - first) / radius), pen)
            return
        x, y = self._fit.x + circle.centre.x, self._fit.y - circle.centre.y
        self._draw.ellipse(_square(x, y, radius + pen.width / 2), outline=pen.grey, width=pen.width)

    def _chain(self, pieces: Sequence[Arc | Line], pen: Pen, closed: bool = False) -> None:
        """Draw pieces that follow each other as one line, whose dashes run on from piece to piece."""
        dashes = dashes_of(sum(map(length_of, pieces)), pen.pattern, closed)
        first = (dashes[0][1] - dashes[0][0]) / 2 if closed else 0.0  # a dash, not a gap, on the axis
        for begin, stop in dashes:
            for piece, low, high in along(pieces, begin - first, stop - first):
                self._stretch(piece, low, high, pen)
        if not pen.pattern and not closed:
            for end in (pieces[0].points()[0], pieces[-1].points()[-1]):
                self._dot(Point(self._fit.x + end.x, self._fit.y - end.y), pen)

    def _stretch(self, piece: Arc | Line, low: float, high: float, pen: Pen) -> None:
        """Fill what lies between two lengths along a piece."""
        if isinstance(piece, Arc):
            first = math.radians(piece.start)
            self._bow(piece.centre, piece.radius, (first + low / piece.radius, first + high / piece.radius), pen)
            return
        (x, y), length = piece.start, length_of(piece)
        dx, dy = (piece.end.x - x) / length, (y - piece.end.y) / length
        start = Point(self._fit.x + x, self._fit.y - y)
        self._bar(start.plus(low * dx, low * dy), start.plus(high * dx, high * dy), pen)

    def _radius(self, round_shape: Arc | Circle, pen: Pen) -> float:
        """Return the radius; round the base point a crisp one, as the lines that touch the circle are."""
        about_base = abs(round_shape.centre.x) + abs(round_shape.centre.y) < 0.01
        return max(1.0, strokes.crisp(round_shape.radius, pen.width)) if about_base else max(1.0, round_shape.radius)

    def _bow(self, centre: Point, radius: float, angles: tuple[float, float], pen: Pen) -> None:
        """Fill a bent stroke, counter-clockwise between two angles."""
        begin, stop = angles
        x, y = self._fit.x + centre.x, self._fit.y - centre.y
        steps = max(1, math.ceil((stop - begin) / math.sqrt(8 * _BEND / radius)))
        turns = [begin + (stop - begin) * step / steps for step in range(steps + 1)]
        ways = [(math.cos(turn), -math.sin(turn)) for turn in turns]

        def rim(across: float, up: float) -> list[tuple[int, int]]:
            return [(math.floor(x + (radius + across) * dx), math.floor(y + (radius + up) * dy)) for dx, dy in ways]

        across, up = (pen.width - 1) / 2, pen.width / 2  # as for a straight stroke
        self._draw.polygon([*rim(across, up), *reversed(rim(-across, -up))], fill=pen.grey)


def _extent(shapes: Sequence[Shape]) -> Bounds:
    """Return the bounds with the width of letters and their lower parts counted in."""
    ends: list[Shape] = []
    for text in shapes:
        if isinstance(text, Text):
            width = text_width(text.text, 100) / 100 * text.height / _CAPITAL
            ends.append(Line(text.at, text.at.plus(width, -0.3 * text.height), text.role))
    return bounds_of((*shapes, *ends))


def _square(x: float, y: float, reach: float) -> tuple[int, int, int, int]:
    """Return the first and last sub-pixels of a square round a place."""
    low, high = 0.5 - reach, reach - 0.5
    return math.floor(x + low), math.floor(y + low), math.floor(x + high), math.floor(y + high)


def _spelt(text: str) -> str:
    """Return a text in letters that the font has: accents are dropped, signs spelt out."""
    plain = unicodedata.normalize("NFKD", text.translate(_SPELT))
    return "".join(letter for letter in plain if not unicodedata.combining(letter))


@cache
def _font(size: int) -> ImageFont.FreeTypeFont:
    font = ImageFont.load_default(size)
    if not isinstance(font, ImageFont.FreeTypeFont):
        raise RuntimeError("Pillow was built without FreeType, which the text of contact sheets needs")
    return font
