"""An ellipse for R12, which knows none: one polyline of circular arcs.

As single arcs, each shorter than a dash, a hidden ellipse would look like a visible one; along a polyline the dashes
run on. Text only, as in `entities`.
"""

import math
from itertools import chain

from builder.output.dxf.dialect import Dialect
from builder.output.dxf.tags import number
from builder.words.shapes import Arc, Ellipse, Line, Point, arcs_of

TOLERANCE = 1e-4  # of the major half axis: how near the arcs follow the ellipse
_CLOSED, _DASHES_RUN_ON = 1, 128


def polyline_tags(ellipse: Ellipse, handle: int, owner: str, dialect: Dialect) -> tuple[str, int]:
    """Write an ellipse as POLYLINE; return the text and the next free handle."""
    pieces = arcs_of(ellipse, TOLERANCE * math.hypot(*ellipse.major))
    knots = [(piece.points()[0], _bulge(piece)) for piece in pieces]
    if not ellipse.whole:
        knots.append((pieces[-1].points()[-1], 0.0))
    look = f"{owner}{dialect.ellipse[ellipse.role]}"
    flags = _DASHES_RUN_ON | (_CLOSED if ellipse.whole else 0)
    head = f"  0\nPOLYLINE\n  5\n{handle:X}\n{look} 66\n1\n 10\n0.0\n 20\n0.0\n 30\n0.0\n 70\n{flags}\n"
    # the end mark has the handle after the polyline's, as in a document that grows entity by entity
    vertices = (_vertex(knot, free, look) for free, knot in enumerate(knots, handle + 2))
    end = f"  0\nSEQEND\n  5\n{handle + 1:X}\n{look}"
    return "".join(chain((head,), vertices, (end,))), handle + 2 + len(knots)


def _bulge(piece: Arc | Line) -> float:
    """Return what DXF bends a side of a polyline by: the tangent of a quarter of its arc's angle."""
    return math.tan(math.radians(piece.end - piece.start) / 4.0) if isinstance(piece, Arc) else 0.0


def _vertex(knot: tuple[Point, float], handle: int, look: str) -> str:
    (x, y), bulge = knot
    bend = f" 42\n{number(bulge)}\n" if bulge else ""
    return f"  0\nVERTEX\n  5\n{handle:X}\n{look} 10\n{number(x)}\n 20\n{number(y)}\n 30\n0.0\n{bend} 70\n0\n"
