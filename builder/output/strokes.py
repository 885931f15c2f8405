"""What can be read of a drawing in a picture: lines are kept apart or left out. Knows nothing of images.

Lengths are sub-pixels, four to a pixel of the finished picture, save where a drawing's own unit is named.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import count, pairwise
from statistics import median
from typing import NamedTuple

from builder.output.pens import OVER, Pens
from builder.words.roles import Role
from builder.words.shapes import Arc, Bounds, Circle, Line, Point, Shape

_AXIS_REACH = 0.12  # of the outline's larger extent, beyond the outline
_HATCH_SPACE = 5.0 * OVER  # closer hatch lines turn grey
_ROOT_DISTANCE = 2.5 * OVER  # a white pixel between a wide line of two and a narrow one of one
_TURN_SPACE, _CREST_SPACE = 3.5 * OVER, 4.0 * OVER  # a thread turn by turn: crest to root; crests alone
_MOVABLE = (Role.THREAD, Role.HIDDEN)
_TURNED = (Role.OUTLINE, Role.THREAD)
_STEEP = 3.0  # a line across the axis rises so many times its run; a flank or a chamfer does not


def short_axes(axes: Sequence[Shape], outline: Bounds) -> list[Shape]:
    """Shorten axes that stand out so far that they would leave a small part tiny; in the drawing's unit."""
    left, bottom, right, top = outline
    reach = _AXIS_REACH * max(outline.width, outline.height)
    frame = Bounds(left - reach, bottom - reach, right + reach, top + reach)
    return [_cut(axis, frame) if isinstance(axis, Line) else axis for axis in axes]


def _cut(line: Line, frame: Bounds) -> Line:
    """Return the piece of a line inside a frame; all of it where none is, as no axis is ever dropped."""
    (x, y), (dx, dy) = line.start, (line.end.x - line.start.x, line.end.y - line.start.y)
    begin, stop = 0.0, 1.0
    for place, way, low, high in ((x, dx, frame.left, frame.right), (y, dy, frame.bottom, frame.top)):
        if way:
            enters, leaves = sorted(((low - place) / way, (high - place) / way))
            begin, stop = max(begin, enters), min(stop, leaves)
        elif not low <= place <= high:
            return line
    if begin >= stop:
        return line
    return Line(line.start.plus(begin * dx, begin * dy), line.start.plus(stop * dx, stop * dy), line.role)


def legible(shapes: Sequence[Shape], scale: float, pens: Pens) -> Sequence[Shape]:
    """Return what is drawn at a scale, in sub-pixels to a unit, less what would merge into black or grey.

    What is left stands clear of each other.
    """
    return _thinned(_beside(_turns_thinned(shapes, scale), scale, pens), scale)


def _turns_thinned(shapes: Sequence[Shape], scale: float) -> Sequence[Shape]:
    """Keep every n-th line of a thread that is drawn turn by turn; crests alone where n is even."""
    if sum(s.role is Role.THREAD and isinstance(s, Line) and _is_across(s, scale) for s in shapes) < 2:
        return shapes
    lines = [s for s in shapes if s.role in _TURNED and isinstance(s, Line) and _is_across(s, scale)]
    sloped = [line for line in lines if not _is_upright(line, scale)]
    helices = sum(line.role is Role.THREAD for line in sloped) > 1
    turns = sorted(sloped if helices else _schematic(lines, shapes, scale), key=_crossing)
    if len(turns) < 3:
        return shapes
    places = [scale * _crossing(line) for line in turns]
    space = median(later - earlier for earlier, later in pairwise(places))
    # A schematic thread's crests and roots take turns however few are left: n is odd.
    steps = count(1, 1 if helices else 2)
    n = next(n for n in steps if n * max(space, 0.1) >= (_TURN_SPACE if n % 2 else _CREST_SPACE))
    first = next((p for p, line in enumerate(turns) if p >= n // 2 and line.role is Role.OUTLINE), 0)
    turned = set(map(id, turns))
    faces = [scale * _crossing(line) for line in lines if id(line) not in turned] if n > 1 else []
    close = [any(abs(place - face) < _TURN_SPACE for face in faces) for place in places]
    return _without(shapes, [line for number, line in enumerate(turns) if (number - first) % n or close[number]])


def _without(shapes: Sequence[Shape], left_out: Sequence[Shape]) -> Sequence[Shape]:
    known = set(map(id, left_out))  # hashes of shapes take long
    return [shape for shape in shapes if id(shape) not in known] if known else shapes


def _schematic(lines: Sequence[Line], shapes: Sequence[Shape], scale: float) -> list[Line]:
    """Return the long narrow and short wide lines of a schematic thread: no other shape meets their ends."""
    narrow = [line for line in lines if line.role is Role.THREAD]
    longest = max(map(_rise, narrow))
    ends = Counter(_rounded(end, scale) for shape in shapes for end in shape.points())
    wide = [line for line in lines if line.role is Role.OUTLINE and scale * _rise(line) < scale * longest - 0.1]
    return narrow + [line for line in wide if all(ends[_rounded(end, scale)] == 1 for end in line.points())]


def _is_across(line: Line, scale: float) -> bool:
    return _rise(line) > max(_STEEP * abs(line.end.x - line.start.x), 0.1 / scale)


def _rise(line: Line) -> float:
    return abs(line.end.y - line.start.y)


def _crossing(line: Line) -> float:
    """Return where a line, carried on if need be, crosses the axis."""
    return line.start.x - line.start.y * (line.end.x - line.start.x) / (line.end.y - line.start.y)


def _is_upright(line: Line, scale: float) -> bool:
    """Tell a line that is level or plumb."""
    return min(abs(line.start.x - line.end.x), _rise(line)) < 0.01 / scale


def _rounded(point: Point, scale: float) -> tuple[float, float]:
    """Return a place such that ends which meet are equal."""
    return round(scale * point.x, 1) + 0.0, round(scale * point.y, 1) + 0.0


_LEVEL, _PLUMB = (1.0, 0.0), (0.0, 1.0)


class _Lay(NamedTuple):
    """Where a scaled shape runs: direction, distance from the base point, from where to where; or centre, radius."""

    along: tuple[float, ...]
    place: float
    begin: float
    stop: float


def _lay(shape: Shape, scale: float) -> _Lay | None:
    """Return the lay of an upright line, an arc or a circle; None for all else."""
    if isinstance(shape, Line):
        (x, y), (end_x, end_y) = shape.start, shape.end
        if abs(y - end_y) * scale < 0.01:
            begin, stop = (x, end_x) if x < end_x else (end_x, x)
            return _Lay(_LEVEL, scale * y, scale * begin, scale * stop)
        if abs(x - end_x) * scale < 0.01:
            begin, stop = (y, end_y) if y < end_y else (end_y, y)
            return _Lay(_PLUMB, scale * x, scale * begin, scale * stop)
    elif isinstance(shape, Arc | Circle):
        return _Lay((*_rounded(shape.centre, scale), 0.0), scale * shape.radius, 0.0, 1.0)
    return None


def _slanted_lay(line: Line, scale: float) -> _Lay:
    length = math.dist(line.start, line.end) or 1.0
    ux, uy = round((line.end.x - line.start.x) / length, 5), round((line.end.y - line.start.y) / length, 5)
    if ux < 0 or (not ux and uy < 0):  # either end may be the first
        ux, uy = -ux, -uy
    begin, stop = sorted(scale * (ux * x + uy * y) for x, y in line.points())
    return _Lay((ux, uy), round(scale * (ux * line.start.y - uy * line.start.x), 2), begin, stop)


def _thinned(shapes: Sequence[Shape], scale: float) -> Sequence[Shape]:
    """Leave out hatch lines that would lie too close beside one already kept, evenly."""
    hatching = [shape for shape in shapes if shape.role is Role.HATCHING and isinstance(shape, Line)]
    kept: list[_Lay] = []
    crowded: list[Shape] = []
    for lay, line in sorted(((_slanted_lay(line, scale), line) for line in hatching), key=lambda pair: pair[0]):
        if _is_free(lay, kept):
            kept.append(lay)
        else:
            crowded.append(line)
    return _without(shapes, crowded)


def _is_free(lay: _Lay, kept: Sequence[_Lay]) -> bool:
    for other in reversed(kept):
        distance = lay.place - other.place
        if lay.along != other.along or distance >= _HATCH_SPACE - 0.5:
            return True
        # Hatching of another region in the same direction is no neighbour, nor is a piece of the same line.
        if distance > 0.5 and lay.begin < other.stop + _HATCH_SPACE and other.begin < lay.stop + _HATCH_SPACE:
            return False
    return True


def _beside(shapes: Sequence[Shape], scale: float, pens: Pens) -> Sequence[Shape]:
    """Move thread roots (ISO 6410-1) and hidden lines that would run into the outline beside them."""
    if not any(shape.role in _MOVABLE for shape in shapes):
        return shapes
    outlines: dict[tuple[float, ...], list[_Lay]] = defaultdict(list)
    for shape in shapes:
        if shape.role is Role.OUTLINE and (lay := _lay(shape, scale)):
            outlines[lay.along].append(lay)
    width = pens[Role.OUTLINE].width
    return [_clear(shape, outlines, scale, width) if shape.role in _MOVABLE else shape for shape in shapes]


def _clear(
    shape: Shape, outlines: Mapping[tuple[float, ...], Sequence[_Lay]], scale: float, outline_width: int
) -> Shape:
    lay = _lay(shape, scale)
    if lay is None:
        return shape
    for other in outlines.get(lay.along, ()):
        near = abs(lay.place - other.place) < _ROOT_DISTANCE + OVER
        if not near or lay.begin >= other.stop or other.begin >= lay.stop:
            continue
        drawn = crisp(other.place, outline_width)
        if abs(lay.place - drawn) < _ROOT_DISTANCE:
            place = drawn + math.copysign(_ROOT_DISTANCE, lay.place - other.place)
            return _moved(shape, lay, (place - lay.place) / scale) if abs(place) > _ROOT_DISTANCE else shape
    return shape


def _moved(shape: Shape, lay: _Lay, by: float) -> Shape:
    """Move an upright line away from the base point, or make an arc or a circle larger."""
    if isinstance(shape, Line):
        dx, dy = (0.0, by) if lay.along is _LEVEL else (by, 0.0)
        return replace(shape, start=shape.start.plus(dx, dy), end=shape.end.plus(dx, dy))
    return replace(shape, radius=shape.radius + by) if isinstance(shape, Arc | Circle) else shape


def crisp(place: float, width: int) -> float:
    """Move a line's place, counted from amid a pixel, so that its edges fall between pixels."""
    rest = (width / 2 - 2) % OVER
    steps = math.floor((abs(place) - rest) / OVER + 0.500001)  # 11.999999999999998 is a 12
    return math.copysign(steps * OVER + rest, place)
