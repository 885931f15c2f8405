"""A chamfer on the edge of a round feature."""

import math

from builder.body.contour import corners
from builder.body.feature import (
    NAME,
    Impossible,
    Lowered,
    Parameter,
    ParameterKind,
    Values,
    require_angle,
    require_positive,
)
from builder.body.solid import Fit, Piece
from builder.body.statement import Round, Statement
from builder.body.turned import Turned

KIND = "chamfer"
DOC = "A chamfer that cuts the outer edge of a round feature."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the edge."),
    Parameter("at", "Place of the end face on the axis."),
    Parameter("length", "Length along the axis."),
    Parameter("angle", "Angle between chamfer and axis, degrees.", required=False, default="45"),
    Parameter(
        "side",
        "Which end of the feature the face is: `from`, the body lies beyond it in +; `to`, before it.",
        kind=ParameterKind.CHOICE,
        choices=("from", "to"),
    ),
    NAME,
)
_BEYOND = 0.25  # of the length: the cutter leaves the surface cleanly, a tapering one as well


def lower(values: Values) -> Lowered:
    """Lower to a void ring of triangular section, flush with the end face."""
    require_positive(values, "diameter", "length")
    radius, along, at = values["diameter"] / 2.0, values["length"], values["at"]
    across = along * math.tan(math.radians(require_angle(values, "angle")))
    if across >= radius:
        wrong = f"chamfer of {across:g} across is larger than the edge's radius {radius:g}"
        raise Impossible("length", wrong, "must leave an end face")
    inward = 1.0 if values.choices["side"] == "from" else -1.0
    outer = radius + _BEYOND * across
    far = at + inward * along * (1.0 + _BEYOND)
    section = corners([(at, radius - across), (far, outer), (at, outer)])
    return Lowered((Piece(Turned(section), values.feature, Fit.CUT),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State the cone that is left, and what it takes from the edge."""
    d, at, along = values["diameter"], values["at"], values["length"]
    narrow = d - 2.0 * along * math.tan(math.radians(values["angle"]))
    if values.choices["side"] == "from":
        return (Round(at, at + along, narrow, d, "", void=True, ring=True),)
    return (Round(at - along, at, d, narrow, "", void=True, ring=True),)
