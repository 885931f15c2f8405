"""The fingerprint of a block: a digest of what is drawn and stated, whatever the DXF version, handles or time.

It is BLAKE2b over UTF-8 text, 8 bytes of digest. The text's lines: `block NAME UNIT`; a line for each shape, sorted;
`TAG=TEXT` for each attribute but LIBREV, in the block's order. A shape's line names kind and role and states its
numbers as they are written into a file (9 decimals; the ratio of an ellipse and its angles in radians 12), rounded
to 6 decimals, so that whoever reads the file can work the digest out again.
"""

import hashlib
import math
from collections.abc import Mapping
from functools import lru_cache

from builder.view.view import View
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Shape
from builder.words.units import Unit

_TURN = 360.0


def fingerprint(name: str, unit: Unit, view: View, texts: Mapping[str, str]) -> str:
    """Return 16 hexadecimal digits; coordinates count to a millionth of the unit."""
    return hashlib.blake2b(canonical(name, unit, view, texts).encode(), digest_size=8).hexdigest()


def canonical(name: str, unit: Unit, view: View, texts: Mapping[str, str]) -> str:
    """Return the block as sorted, rounded text: what the digest is taken of, and what a test can compare."""
    shapes = sorted(_line_of(shape) for shape in view.shapes)
    return "\n".join([f"block {name} {unit}", *shapes, *(f"{tag}={text}" for tag, text in texts.items())])


def _line_of(shape: Shape) -> str:
    match shape:
        case Line():
            a, b = sorted((_place(shape.start), _place(shape.end)))
            return f"line {shape.role} {a} {b}"
        case Arc():
            return f"arc {shape.role} {_place(shape.centre)} {_number(shape.radius)} {_span(shape)}"
        case Circle():
            return f"circle {shape.role} {_place(shape.centre)} {_number(shape.radius)}"
        case Ellipse():
            return f"ellipse {shape.role} {_place(shape.centre)} {_axes(shape)} {_span(shape)}"
        case _:
            return f"text {shape.role} {_place(shape.at)} {_number(shape.height)} {shape.text}"


def _axes(ellipse: Ellipse) -> str:
    minor = round(ellipse.ratio, 12) * math.hypot(*(round(part, 9) for part in ellipse.major))
    return f"{_place(ellipse.major)} {_number(minor)}"  # a length, which a ratio to a millionth would leave rough


def _span(arc: Arc | Ellipse) -> str:
    """Return start and end as a file has them, which states no angle beyond a full turn."""
    if isinstance(arc, Ellipse) and arc.whole:
        return f"{_number(0.0)} {_number(_TURN)}"
    start, end = (_written(arc, angle) for angle in (arc.start, arc.end - _TURN if arc.end > _TURN else arc.end))
    return f"{_number(start)} {_number(round(start, 9) + (end - start) % _TURN)}"


def _written(arc: Arc | Ellipse, degrees: float) -> float:
    return round(degrees, 9) if isinstance(arc, Arc) else math.degrees(round(math.radians(degrees), 12))


def _place(point: Point) -> str:
    return f"{_number(point.x)},{_number(point.y)}"


@lru_cache(maxsize=1 << 14)  # most coordinates come back within a block and between its neighbours
def _number(value: float) -> str:
    written = round(value, 9)  # as in a file: a reader of the file must come to the same digits
    return f"{written + 0.0:.6f}".replace("-0.000000", "0.000000")
