"""A screwdriver slot right across a head."""

import math

from builder.body.axial import FLOOR, OPENING, way
from builder.body.contour import corners
from builder.body.extruded import Extruded
from builder.body.feature import NAME, Lowered, Parameter, Values, require_positive
from builder.body.solid import Fit, Piece
from builder.body.statement import Disturbed, Statement, Unmeasured, span
from builder.body.vectors import Place, radial

KIND = "slot"
DOC = "A slot right across a head, from the top of the head to its floor."
THREADED = False
PARAMETERS = (
    Parameter("width", "Width of the slot."),
    Parameter("diameter", "Diameter of the head that it crosses."),
    OPENING,
    FLOOR,
    Parameter(
        "angle",
        "Which way it runs, degrees from up toward the viewer; at 90 the side view shows it as a notch.",
        required=False,
        default="90",
    ),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one void that stands out of the head all round."""
    require_positive(values, "width", "diameter")
    direction, half, over = way(values), values["width"] / 2.0, 0.625 * values["diameter"]
    top = values["from"] - direction * 0.25 * abs(values["to"] - values["from"])
    start, end = sorted((top, values["to"]))
    profile = corners([(-over, -half), (over, -half), (over, half), (-over, half)])
    along = Place(y=radial(math.radians(values["angle"])))
    return Lowered((Piece(Extruded(profile, start, end, along), values.feature, Fit.CUT),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State where the slot interrupts the head."""
    return Disturbed(*span(values["from"], values["to"])), Unmeasured("the slot")
