"""A row of balls round a circle."""

import math

from builder.body.contour import Loop, Straight, bows
from builder.body.curves import RingArc
from builder.body.feature import NAME, Impossible, Lowered, Parameter, Values, require_positive
from builder.body.solid import AxisMark, Fit, Piece, PitchMark
from builder.body.statement import Pattern, Reach, Statement
from builder.body.turned import Turned
from builder.body.vectors import Place, add, radial
from builder.words.limits import COUNT

KIND = "balls"
DOC = "A row of balls round a circle about the axis: those of a ball bearing."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of a ball."),
    Parameter("circle", "Diameter of the circle through their centres."),
    Parameter("at", "Place of that circle on the axis."),
    Parameter("count", "How many.", most=COUNT),
    Parameter("first", "Angle of the first from the top, degrees.", required=False, default="0"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one solid a ball, with the axis of each and the circle of all."""
    require_positive(values, "diameter", "circle", "count")
    count, at, radius = _count(values), values["at"], values["diameter"] / 2.0
    half = bows((-radius, 0.0), (radius, 0.0), (0.0, 0.0), left=False)
    loop: Loop = (*half, Straight(radius, 0.0, -radius, 0.0))
    pieces, axes = [], []
    for n in range(count):
        out = radial(math.radians(values["first"] + 360.0 * n / count))
        centre = add((at, 0.0, 0.0), out, values["circle"] / 2.0)
        pieces.append(Piece(Turned(loop, Place(centre)), values.feature, Fit.ADDED))
        axes.append(AxisMark(add(centre, (-radius, 0.0, 0.0)), add(centre, (radius, 0.0, 0.0)), radius))
    return Lowered(tuple(pieces), axes=(*axes, PitchMark(RingArc(at, values["circle"] / 2.0))))


def _count(values: Values) -> int:
    count = round(values["count"])
    if abs(values["count"] - count) > 1e-9:
        raise Impossible("count", f"count is {values['count']:g}", "must be a whole number")
    if count > 1 and (apart := values["circle"] * math.sin(math.pi / count)) < values["diameter"] * (1.0 - 1e-9):
        wrong = f"{count} balls of {values['diameter']:g} stand {apart:g} apart"
        raise Impossible("count", wrong, "must leave them clear of each other: fewer, smaller, or a wider circle")
    return count


def stated(values: Values) -> tuple[Statement, ...]:
    """State the row of balls as an end view shows it, and its reach."""
    d, circle, at = values["diameter"], values["circle"], values["at"]
    count = round(values["count"])
    row = Pattern(d, circle, count, values["first"], at - d / 2.0, at + d / 2.0, void=False)
    ways = (radial(math.radians(values["first"] + 360.0 * n / count)) for n in range(count))
    return row, *(Reach((at, y * circle / 2.0, z * circle / 2.0), thick=d / 2.0) for _, y, z in ways)
