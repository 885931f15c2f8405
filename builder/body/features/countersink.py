"""A conical recess round a hole."""

import math

from builder.body.axial import sunk
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
from builder.body.statement import Statement, bored

KIND = "countersink"
DOC = "A countersink from a face down to a bore's diameter; the bore begins where it ends."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter at the face."),
    Parameter("bore", "Diameter of the bore that it runs down to; 0 for a point."),
    Parameter("at", "Place on the axis of the face that it opens in."),
    Parameter("angle", "Included angle, degrees.", required=False, default="90"),
    Parameter(
        "side", "Which way it goes in: to, along +X, or from.", False, "to", ParameterKind.CHOICE, ("to", "from")
    ),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one conical void."""
    require_positive(values, "diameter")
    mouth, bore = values["diameter"] / 2.0, values["bore"] / 2.0
    if not 0.0 <= bore < mouth:
        wrong = f"bore of {2.0 * bore:g} in a countersink of {2.0 * mouth:g}"
        raise Impossible("bore", wrong, "must be less than the diameter at the face")
    depth = (mouth - bore) / math.tan(math.radians(require_angle(values, "angle", below=180.0) / 2.0))
    direction = 1.0 if values.choices["side"] == "to" else -1.0
    cone = sunk(values["at"], direction, [(0.0, mouth), (depth, bore)])
    return Lowered((Piece(cone, values.feature, Fit.BORED),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State the cone."""
    wide, bore, at = values["diameter"], values["bore"], values["at"]
    depth = (wide - bore) / 2.0 / math.tan(math.radians(values["angle"]) / 2.0)
    way = 1.0 if values.choices["side"] == "to" else -1.0
    return (bored(at, at + way * depth, wide, bore),)
