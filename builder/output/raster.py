"""Shapes and text become grey pixels and a PNG. The only importer of Pillow; knows neither blocks nor files.

Drawn four times too large and reduced. Inside, lengths are sub-pixels: four to a pixel of the finished one.
"""

import math
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from io import BytesIO
from typing import NamedTuple

from PIL import Image, ImageDraw, ImageFont

from builder.definition.shop import Shop
from builder.words.roles import Role
from builder.words.shapes import Arc, Bounds, Circle, Line, Point, Shape, Text, bounds_of

WIDE = 2.0  # pixels: the widest line of a shop's standard
_OVER = 4
_WHITE, _INK, _HATCH_GREY = 255, 0, 165
_HATCH_SPACE = 5.0 * _OVER  # closer hatch lines turn grey
_LEAST_DASH = 2.0 * _OVER
_ROOT_DISTANCE = (
    2.5 * _OVER
)  # crest to root: a white pixel between a wide line of two and a narrow one of one
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


@dataclass(frozen=True, slots=True)
class _Pen:
    """How a role is drawn: width, grey, line type (dash, gap, dash, ...; empty: continuous)."""

    width: int
    grey: int
    pattern: tuple[float, ...]


class Page:
    """A white sheet to draw pictures, text and rules on."""

    def __init__(self, width: int, height: int) -> None:
        self._image = Image.new("L", (width, height), _WHITE)
        self._draw = ImageDraw.Draw(self._image)

    def picture(self, shapes: Sequence[Shape], shop: Shop, box: Box, margin: int) -> None:
        """Draw shapes as large as the box allows, centred, at one scale, at least a margin from its edges."""
        pens, extent = _pens(shop), _extent(shapes)
        fit = _Fit.into(extent, box, margin, max(pen.width for pen in pens.values()))
        part = fit.covered(extent)  # a bolt fills a strip of its box: the rest need not be drawn
        image = Image.new("L", (part.width * _OVER, part.height * _OVER), _WHITE)
        _Ink(_Fit(fit.scale, fit.x - part.left * _OVER, fit.y - part.top * _OVER), pens, image).draw(shapes)
        self._image.paste(image.reduce(_OVER), (box.left + part.left, box.top + part.top))

    def text(self, at: tuple[int, int], text: str, size: int, anchor: str = "ls", grey: int = _INK) -> None:
        """Write one line; the anchor is Pillow's: l, m or r for the place across, s for the baseline."""
        self._draw.text(at, _spelt(text), fill=grey, font=_font(size), anchor=anchor)

    def rule(self, box: Box, grey: int = _INK) -> None:
        """Fill a rectangle."""
        self._draw.rectangle(
            (box.left, box.top, box.left + box.width - 1, box.top + box.height - 1), fill=grey
        )

    def png(self) -> bytes:
        """Return the sheet as a PNG of 16 greys; no dates, so the same sheet gives the same bytes."""
        image = self._image.point(_GREYS, "P")
        image.putpalette(_PALETTE)
        file = BytesIO()
        image.save(file, "PNG", bits=4, compress_level=4)
        return file.getvalue()


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
        rooms = [(side - 2 * margin) * _OVER - pen for side in (box.width, box.height)]
        sides = zip(rooms, (extent.width, extent.height), strict=True)
        scale = min((room / side for room, side in sides if side > 0), default=1.0)
        x = box.width * _OVER / 2 - scale * (extent.left + extent.right) / 2
        y = box.height * _OVER / 2 + scale * (extent.bottom + extent.top) / 2
        return cls(scale, *(_OVER * round((place - 2) / _OVER) + 2 for place in (x, y)))

    def covered(self, extent: Bounds) -> Box:
        """Return the pixels that shapes of an extent touch, with room for a wide line all round."""
        room = WIDE * _OVER
        left, right = self.x + self.scale * extent.left - room, self.x + self.scale * extent.right + room
        top, bottom = self.y - self.scale * extent.top - room, self.y - self.scale * extent.bottom + room
        first = math.floor(left / _OVER), math.floor(top / _OVER)
        return Box(*first, math.ceil(right / _OVER) - first[0], math.ceil(bottom / _OVER) - first[1])


class _Ink:
    """Draws shapes with their pens on an image of sub-pixels."""

    def __init__(self, fit: _Fit, pens: Mapping[Role, _Pen], image: Image.Image) -> None:
        self.image = image
        self._draw = ImageDraw.Draw(image)
        self._fit = fit
        self._pens = pens
        self._corners: set[tuple[float, float]] = set()

    def draw(self, shapes: Iterable[Shape]) -> None:
        """Draw all shapes: hatching first, outlines last, so that the wide line has the upper hand."""
        scaled = _roots_apart([shape.scaled(self._fit.scale) for shape in shapes], self._pens)
        upright = [shape for shape in scaled if isinstance(shape, Line) and _upright(shape)]
        self._corners = {_rounded(end) for line in upright for end in line.points()}
        for shape in sorted(_thinned(scaled), key=self._rank):
            self._shape(shape, self._pens[shape.role])

    def _rank(self, shape: Shape) -> tuple[bool, int]:
        return shape.role is not Role.HATCHING, self._pens[shape.role].width

    def _shape(self, shape: Shape, pen: _Pen) -> None:
        match shape:
            case Line():
                self._line(shape, pen)
            case Arc():
                self._arc(shape, pen)
            case Circle():
                self._circle(shape, pen)
            case Text():
                size = max(1, round(shape.height / _CAPITAL))
                place = self._fit.x + shape.at.x, self._fit.y - shape.at.y
                self._draw.text(place, _spelt(shape.text), fill=pen.grey, font=_font(size), anchor="ls")

    def _line(self, line: Line, pen: _Pen) -> None:
        start, end = (self._placed(point, line, pen) for point in line.points())
        length = math.dist(start, end)
        if not length:
            return
        dx, dy = (end.x - start.x) / length, (end.y - start.y) / length
        for begin, stop in _dashes(length, pen.pattern):
            self._bar(start.plus(begin * dx, begin * dy), start.plus(stop * dx, stop * dy), pen)
        if not pen.pattern and line.role is not Role.HATCHING:
            self._dot(start, pen)
            self._dot(end, pen)

    def _placed(self, point: Point, line: Line, pen: _Pen) -> Point:
        """Return the place of an end; whole pixels for upright lines and what meets them in a corner."""
        x, y = point
        if line.role is not Role.HATCHING and (_upright(line) or _rounded(point) in self._corners):
            x, y = _crisp(x, pen.width), _crisp(y, pen.width)
        return Point(self._fit.x + x, self._fit.y - y)

    def _bar(self, start: Point, end: Point, pen: _Pen) -> None:
        """Fill a straight stroke."""
        length = math.dist(start, end)
        ux, uy = (end.x - start.x) / length, (end.y - start.y) / length
        # Pillow fills the last sub-pixel of a row; of a column only below a level edge.
        across, up = uy * (pen.width - 1) / 2, ux * (pen.width - (abs(uy) < 1e-6)) / 2
        ax, ay, bx, by = start.x + ux / 2, start.y + uy / 2, end.x - ux / 2, end.y - uy / 2
        sides = ((ax, ay, 1), (bx, by, 1), (bx, by, -1), (ax, ay, -1))
        corners = [(math.floor(x - across * side), math.floor(y + up * side)) for x, y, side in sides]
        self._draw.polygon(corners, fill=pen.grey)

    def _dot(self, at: Point, pen: _Pen) -> None:
        self._draw.ellipse(_square(at.x, at.y, pen.width / 2), fill=pen.grey)

    def _circle(self, circle: Circle, pen: _Pen) -> None:
        radius = self._radius(circle, pen)
        if pen.pattern:
            spans = _dashes(math.tau * radius, pen.pattern, closed=True)
            first = (spans[0][1] - spans[0][0]) / 2  # a dash, not a gap, on the axis
            for begin, stop in spans:
                self._bow(circle.centre, radius, ((begin - first) / radius, (stop - first) / radius), pen)
            return
        x, y = self._fit.x + circle.centre.x, self._fit.y - circle.centre.y
        self._draw.ellipse(_square(x, y, radius + pen.width / 2), outline=pen.grey, width=pen.width)

    def _arc(self, arc: Arc, pen: _Pen) -> None:
        radius, first = self._radius(arc, pen), math.radians(arc.start)
        for begin, stop in _dashes(math.radians(arc.end - arc.start) * radius, pen.pattern):
            self._bow(arc.centre, radius, (first + begin / radius, first + stop / radius), pen)
        if not pen.pattern:
            for end in (arc.at(arc.start), arc.at(arc.end)):
                self._dot(Point(self._fit.x + end.x, self._fit.y - end.y), pen)

    def _radius(self, round_shape: Arc | Circle, pen: _Pen) -> float:
        """Return the radius; round the base point a crisp one, as the lines that touch the circle are."""
        about_base = abs(round_shape.centre.x) + abs(round_shape.centre.y) < 0.01
        return max(1.0, _crisp(round_shape.radius, pen.width)) if about_base else max(1.0, round_shape.radius)

    def _bow(self, centre: Point, radius: float, angles: tuple[float, float], pen: _Pen) -> None:
        """Fill a bent stroke, counter-clockwise between two angles."""
        begin, stop = angles
        x, y = self._fit.x + centre.x, self._fit.y - centre.y
        steps = max(1, math.ceil((stop - begin) / math.sqrt(8 * _BEND / radius)))
        turns = [begin + (stop - begin) * step / steps for step in range(steps + 1)]
        ways = [(math.cos(turn), -math.sin(turn)) for turn in turns]
        across, up = (pen.width - 1) / 2, pen.width / 2  # as for a straight stroke
        outer = [
            (math.floor(x + (radius + across) * dx), math.floor(y + (radius + up) * dy)) for dx, dy in ways
        ]
        ways.reverse()
        inner = [
            (math.floor(x + (radius - across) * dx), math.floor(y + (radius - up) * dy)) for dx, dy in ways
        ]
        self._draw.polygon([*outer, *inner], fill=pen.grey)


def _pens(shop: Shop) -> dict[Role, _Pen]:
    """Return each role's pen: the shop's widest line is WIDE pixels, others in proportion to half of it."""
    widest = max(style.lineweight for style in shop.roles.values()) or 1.0
    pens = {}
    for role, style in shop.roles.items():
        width = max(round(WIDE * _OVER * style.lineweight / widest), round(WIDE * _OVER / 2))
        grey = _HATCH_GREY if role is Role.HATCHING else _INK
        pens[role] = _Pen(width, grey, _pattern(shop.linetypes[style.linetype].pattern, width))
    return pens


def _pattern(paper: Sequence[float], width: int) -> tuple[float, ...]:
    """Turn a line type into sub-pixels: longest dash first, smallest gap three line widths (ISO 128-2)."""
    gaps = [-element for element in paper if element < 0]
    if not gaps or len(gaps) == len(paper):
        return ()
    scale = 3 * width / min(gaps)
    first = paper.index(max(paper))
    turned = (*paper[first:], *paper[:first])
    return tuple(
        min(-e * scale, 8.0 * width) if e < 0 else min(max(e * scale, 1.5 * width), 24.0 * width)
        for e in turned
    )


def _dashes(length: float, pattern: Sequence[float], closed: bool = False) -> list[tuple[float, float]]:
    """Return where the dashes of a line begin and stop.

    First and last element is the long dash, which alone gives way; a line too short for a gap is continuous.
    A chain line has an even number of periods, so that two centre lines cross in a dash.
    """
    if not pattern:
        return [(0.0, length)]
    period, longest, last = sum(pattern), pattern[0], 0 if closed else 1
    step = 2 if len(pattern) > 2 else 1
    periods = step * max(1, round((length - longest * last) / (step * period)))
    long = [element == longest and not place % 2 for place, element in enumerate(pattern)]
    fixed = sum(element for element, gives in zip(pattern, long, strict=True) if not gives)
    while periods and (length - periods * fixed) / (periods * sum(long) + last) < _LEAST_DASH:
        periods -= 1
    if not periods:
        return [(0.0, length)]
    dash = (length - periods * fixed) / (periods * sum(long) + last)
    fitted = [dash if gives else element for element, gives in zip(pattern, long, strict=True)]
    return list(_spans([*fitted * periods, *[dash] * last]))


def _spans(elements: Iterable[float]) -> Iterator[tuple[float, float]]:
    at = 0.0
    for place, element in enumerate(elements):
        if not place % 2:
            yield at, at + element
        at += element


class _Lay(NamedTuple):
    """Where a shape runs: direction, distance from the base point, from where to where; or centre, radius."""

    along: tuple[float, ...]
    place: float
    begin: float
    stop: float


def _lay(shape: Line | Arc | Circle) -> _Lay:
    if not isinstance(shape, Line):
        return _Lay(_rounded(shape.centre), shape.radius, 0.0, 1.0)
    (x, y), (end_x, end_y) = shape.start, shape.end
    length = math.dist(shape.start, shape.end) or 1.0
    ux, uy = round((end_x - x) / length, 5), round((end_y - y) / length, 5)
    if ux < 0 or (not ux and uy < 0):  # either end may be the first
        ux, uy = -ux, -uy
    begin, stop = ux * x + uy * y, ux * end_x + uy * end_y
    return _Lay((ux, uy), round(ux * y - uy * x, 2), min(begin, stop), max(begin, stop))


def _thinned(shapes: Sequence[Shape]) -> list[Shape]:
    """Leave out hatch lines that would lie too close beside one already kept, evenly."""
    hatching = [shape for shape in shapes if isinstance(shape, Line) and shape.role is Role.HATCHING]
    kept: list[_Lay] = []
    crowded: set[Shape] = set()
    for lay, line in sorted(((_lay(line), line) for line in hatching), key=lambda pair: pair[0]):
        if _is_free(lay, kept):
            kept.append(lay)
        else:
            crowded.add(line)
    return [shape for shape in shapes if shape not in crowded] if crowded else list(shapes)


def _is_free(lay: _Lay, kept: Sequence[_Lay]) -> bool:
    for other in reversed(kept):
        distance = lay.place - other.place
        if lay.along != other.along or distance >= _HATCH_SPACE - 0.5:
            return True
        # Hatching of another region in the same direction is no neighbour, nor is a piece of the same line.
        if distance > 0.5 and lay.begin < other.stop + _HATCH_SPACE and other.begin < lay.stop + _HATCH_SPACE:
            return False
    return True


def _roots_apart(shapes: Sequence[Shape], pens: Mapping[Role, _Pen]) -> list[Shape]:
    """Move thread roots that would run into the crest beside them: ISO 6410-1 keeps the two lines apart."""
    wide = pens[Role.OUTLINE].width
    crests = [_lay(shape) for shape in shapes if shape.role is Role.OUTLINE and not isinstance(shape, Text)]
    return [_root_apart(shape, crests, wide) if shape.role is Role.THREAD else shape for shape in shapes]


def _root_apart(root: Shape, crests: Iterable[_Lay], wide: int) -> Shape:
    if isinstance(root, Text) or (isinstance(root, Line) and not _upright(root)):
        return root
    lay = _lay(root)
    for crest in crests:
        drawn = _crisp(crest.place, wide)
        beside = crest.along == lay.along and lay.begin < crest.stop and crest.begin < lay.stop
        if beside and abs(lay.place - drawn) < _ROOT_DISTANCE:
            place = drawn + math.copysign(_ROOT_DISTANCE, lay.place - crest.place)
            return _moved(root, place - lay.place) if abs(place) > _ROOT_DISTANCE else root
    return root


def _moved(shape: Line | Arc | Circle, by: float) -> Shape:
    """Move an upright line sideways, to the left of its direction; make an arc larger."""
    if not isinstance(shape, Line):
        return replace(shape, radius=shape.radius + by)
    dx, dy = (0.0, by) if abs(shape.start.y - shape.end.y) < 0.01 else (-by, 0.0)
    return replace(shape, start=shape.start.plus(dx, dy), end=shape.end.plus(dx, dy))


def _extent(shapes: Sequence[Shape]) -> Bounds:
    """Return the bounds with the width of letters and their lower parts counted in."""
    ends: list[Shape] = []
    for text in shapes:
        if isinstance(text, Text):
            width = text_width(text.text, 100) / 100 * text.height / _CAPITAL
            ends.append(Line(text.at, text.at.plus(width, -0.3 * text.height), text.role))
    return bounds_of((*shapes, *ends))


def _upright(line: Line) -> bool:
    return abs(line.start.x - line.end.x) < 0.01 or abs(line.start.y - line.end.y) < 0.01


def _rounded(point: Point) -> tuple[float, float]:
    return round(point.x, 1) + 0.0, round(point.y, 1) + 0.0


def _crisp(place: float, width: int) -> float:
    """Move a line's place, counted from amid a pixel, so that its edges fall between pixels."""
    rest = (width / 2 - 2) % _OVER
    return math.copysign(math.floor((abs(place) - rest) / _OVER + 0.5) * _OVER + rest, place)


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
