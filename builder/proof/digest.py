"""The fingerprint of a block, worked out again from what was read of its file; block/fingerprint.py says what it is."""

import hashlib
import math
from collections.abc import Iterable, Mapping

from builder.proof.drawing import Arc, Drawing, Ellipse, Line, Text


def digest_of(
    name: str, unit: str, drawing: Drawing, roles: Mapping[str, str], texts: Iterable[tuple[str, str]]
) -> str:
    """Return 16 hexadecimal digits; `roles` are by look, `texts` tags and texts without LIBREV, in order."""
    shapes = [_line(n, roles) for n in drawing.lines]
    shapes += (_round(a, roles) for a in drawing.arcs)
    shapes += (_ellipse(e, roles) for e in drawing.ellipses)
    shapes += (_text(t, roles) for t in drawing.texts)
    lines = [f"block {name} {unit}", *sorted(shapes), *(f"{tag}={text}" for tag, text in texts)]
    return hashlib.blake2b("\n".join(lines).encode(), digest_size=8).hexdigest()


def _line(n: Line, roles: Mapping[str, str]) -> str:
    a, b = sorted((_place(n.x1, n.y1), _place(n.x2, n.y2)))
    return f"line {roles.get(n.look, '?')} {a} {b}"


def _round(a: Arc, roles: Mapping[str, str]) -> str:
    where = f"{roles.get(a.look, '?')} {_place(a.x, a.y)} {_decimal(a.radius)}"
    if a.turn == 360.0:
        return f"circle {where}"
    start = round(a.start, 9)
    return f"arc {where} {_decimal(start)} {_decimal(start + (round(a.start + a.turn, 9) - start) % 360.0)}"


def _ellipse(e: Ellipse, roles: Mapping[str, str]) -> str:
    minor = e.ratio * math.hypot(e.dx, e.dy)
    span = f"{_decimal(0.0)} {_decimal(360.0)}"
    if e.turn < 360.0:
        span = f"{_decimal(e.start)} {_decimal(round(e.start, 9) + e.turn)}"
    return f"ellipse {roles.get(e.look, '?')} {_place(e.x, e.y)} {_place(e.dx, e.dy)} {_decimal(minor)} {span}"


def _text(t: Text, roles: Mapping[str, str]) -> str:
    return f"text {roles.get(t.look, '?')} {_place(t.x, t.y)} {_decimal(t.height)} {t.text}"


def _place(x: float, y: float) -> str:
    return f"{_decimal(x)},{_decimal(y)}"


def _decimal(number: float) -> str:
    text = f"{round(number, 9):.6f}"
    return "0.000000" if text == "-0.000000" else text
