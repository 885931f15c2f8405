"""A side view of a part too long to draw: a uniform stretch of it is left out between two break lines (ISO 128)."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from builder.view.drafting import Drafting
from builder.view.frame import beside
from builder.view.kind import ViewKind
from builder.words.roles import Role
from builder.words.shapes import Bounds, Line, Point, Shape, Text, bounds_of

# Common practice, no source: a part longer than so many times its height is broken, down to that length; so much of
# its height stays on either side of the break.
SLENDER = 6.0
KEPT = 0.5


def broken(shapes: Sequence[Shape], drafting: Drafting) -> Sequence[Shape]:
    """Return the view with its longest uniform stretch shortened; as it is where that would save little."""
    outline = [shape for shape in shapes if shape.role is not Role.AXIS]
    if not outline:
        return shapes
    extent = bounds_of(outline)
    start, end = max(_uniform(outline), key=lambda span: span[1] - span[0], default=(0.0, 0.0))
    gap = min(drafting.axis_overhang, extent.height / 2.0)
    left_out = min(extent.width - SLENDER * extent.height, end - start - 2.0 * KEPT * extent.height) - gap
    if left_out < gap:
        return shapes
    middle = (start + end) / 2.0
    first, last = middle - left_out / 2.0, middle + left_out / 2.0
    near = [part for shape in shapes for part in _before(shape, first)]
    far = [part for shape in shapes for part in _after(shape, last, left_out - gap)]
    return (*near, *far, *_break_line(first, extent, gap), *_break_line(first + gap, extent, gap))


def _uniform(shapes: Sequence[Shape]) -> Iterator[tuple[float, float]]:
    """Return the stretches along the axis in which nothing but lines parallel to it is drawn."""
    bounds = [bounds_of((shape,)) for shape in shapes]
    level = [isinstance(shape, Line) and shape.start.y == shape.end.y for shape in shapes]
    places = sorted({x for b in bounds for x in (b.left, b.right)})
    for start, end in pairwise(places):
        if all(even or b.right <= start or b.left >= end for b, even in zip(bounds, level, strict=True)):
            yield start, end


def _before(shape: Shape, x: float) -> Iterator[Shape]:
    bounds = bounds_of((shape,))
    if bounds.right <= x:
        yield shape
    elif bounds.left < x and isinstance(shape, Line):
        yield Line(Point(bounds.left, shape.start.y), Point(x, shape.start.y), shape.role)


def _after(shape: Shape, x: float, back: float) -> Iterator[Shape]:
    bounds = bounds_of((shape,))
    if bounds.left >= x:
        yield _moved(shape, -back)
    elif bounds.right > x and isinstance(shape, Line):
        yield Line(Point(x - back, shape.start.y), Point(bounds.right - back, shape.start.y), shape.role)


def _moved(shape: Shape, by: float) -> Shape:
    match shape:
        case Line():
            return Line(shape.start.plus(by, 0.0), shape.end.plus(by, 0.0), shape.role)
        case Text():
            return replace(shape, at=shape.at.plus(by, 0.0))
        case _:
            return replace(shape, centre=shape.centre.plus(by, 0.0))


def _break_line(x: float, extent: Bounds, gap: float) -> Iterator[Line]:
    """Return a zigzag across the part, a little beyond its outline on both sides."""
    over, z = gap / 2.0, gap / 4.0
    middle = (extent.top + extent.bottom) / 2.0
    turns = ((0.0, 2.0 * z), (-z, 2.0 * z / 3.0), (z, -2.0 * z / 3.0), (0.0, -2.0 * z))
    spots = [
        Point(x, extent.top + over),
        *(Point(x + dx, middle + dy) for dx, dy in turns),
        Point(x, extent.bottom - over),
    ]
    yield from (Line(a, b, Role.NARROW) for a, b in pairwise(spots))


KINDS = (
    ViewKind(
        "broken side",
        "BROKEN",
        "From beside the axis; of a long part a uniform stretch is left out.",
        beside,
        0.0,
        shows_length=True,
        counts=1,
        finish=broken,
    ),
)
