"""The fingerprint of a block: a digest of what is drawn and stated, whatever the DXF version, handles or time."""

import hashlib
import math
from collections.abc import Mapping
from functools import lru_cache

from builder.view.view import View
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Shape
from builder.words.units import Unit


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
    minor = ellipse.ratio * math.hypot(*ellipse.major)  # a length, which a ratio to a millionth would leave rough
    return f"{_place(ellipse.major)} {_number(minor)}"


def _span(arc: Arc | Ellipse) -> str:
    return f"{_number(arc.start)} {_number(arc.end)}"


def _place(point: Point) -> str:
    return f"{_number(point.x)},{_number(point.y)}"


@lru_cache(maxsize=1 << 14)  # most coordinates come back within a block and between its neighbours
def _number(value: float) -> str:
    written = round(value, 9)  # as in a file: a reader of the file must come to the same digits
    return f"{written + 0.0:.6f}".replace("-0.000000", "0.000000")
