"""Flats milled on a round: for a spanner, on a shaft's end, on a pin."""

import math

from builder.body.around import directions, row
from builder.body.contour import corners
from builder.body.curves import Segment
from builder.body.extruded import Extruded
from builder.body.feature import (
    FROM,
    NAME,
    TO,
    Impossible,
    Lowered,
    Parameter,
    Values,
    require_positive,
    require_stretch,
)
from builder.body.solid import Fit, FlatMark, Piece
from builder.body.statement import Disturbed, Statement, Unmeasured
from builder.body.vectors import Place, Vector, radial

KIND = "flats"
DOC = "Flats milled on a round feature, evenly round the axis, marked by thin diagonals."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the round that the flats are milled on."),
    Parameter("across_flats", "Width across flats; of an odd number, from a flat to the round opposite."),
    FROM,
    TO,
    *row("How many flats.", "Direction in which the first flat looks: degrees from up.", "2"),
    NAME,
)
_BEYOND = 1.25  # how far the cutter reaches out of the round, of its radius


def lower(values: Values) -> Lowered:
    """Lower to one slab cut away for each flat, and its diagonals."""
    require_positive(values, "diameter", "across_flats")
    require_stretch(values)
    angles = directions(values)
    radius, off = values["diameter"] / 2.0, _distance(values, len(angles))
    slab = corners([(y, z) for y, z in _rectangle(off, _BEYOND * radius, _BEYOND * radius)])
    half = math.sqrt(radius**2 - off**2)
    if len(angles) > 2:
        half = min(half, off * math.tan(math.pi / len(angles)))  # the flats meet at corners
    pieces, marks = [], []
    for angle in angles:
        solid = Extruded(slab, values["from"], values["to"], Place(y=radial(angle)))
        pieces.append(Piece(solid, values.feature, Fit.CUT))
        marks.append(_mark(values, angle, off, half))
    return Lowered(tuple(pieces), flats=tuple(marks))


def _distance(values: Values, count: int) -> float:
    """Return how far the flats stand from the axis."""
    flats, diameter = values["across_flats"], values["diameter"]
    if flats >= diameter:
        wrong = f"{flats:g} across flats on a diameter of {diameter:g}"
        raise Impossible("across_flats", wrong, "must be less than the diameter")
    off = flats - diameter / 2.0 if count % 2 else flats / 2.0
    if off <= 0.0:
        wrong = f"a flat at {flats:g} takes more than half of the diameter {diameter:g}"
        raise Impossible("across_flats", wrong, "must be more than half of the diameter")
    return off


def _rectangle(low: float, high: float, half: float) -> tuple[tuple[float, float], ...]:
    return (low, -half), (high, -half), (high, half), (low, half)


def _mark(values: Values, angle: float, off: float, half: float) -> FlatMark:
    def spot(x: float, side: float) -> Vector:
        c, s = math.cos(angle), math.sin(angle)
        return x, off * c - side * half * s, off * s + side * half * c

    start, end = values["from"], values["to"]
    one, other = (Segment(spot(start, -side), spot(end, side)) for side in (1.0, -1.0))
    return FlatMark(values.feature, (one, other), radial(angle))


def stated(values: Values) -> tuple[Statement, ...]:
    """State where the flats interrupt the round."""
    return Disturbed(values["from"], values["to"]), Unmeasured("width across milled flats")
