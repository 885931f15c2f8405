"""A fillet in the corner between a face and a smaller cylinder."""

from builder.body.contour import Loop, Straight, bows
from builder.body.feature import NAME, Lowered, Parameter, ParameterKind, Values, require_positive
from builder.body.solid import Fit, Piece
from builder.body.statement import Bow, Statement, span
from builder.body.turned import Turned

KIND = "fillet"
DOC = "A fillet that fills the corner between a face and a smaller cylinder."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the cylinder."),
    Parameter("at", "Place of the face on the axis."),
    Parameter("radius", "Radius of the fillet."),
    Parameter(
        "side",
        "Which end of the cylinder stands on the face: `from`, it leads away in +; `to`, it ends there.",
        kind=ParameterKind.CHOICE,
        choices=("from", "to"),
    ),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to a ring that fills the corner."""
    require_positive(values, "diameter", "radius")
    at, inner, fillet = values["at"], values["diameter"] / 2.0, values["radius"]
    leads = values.choices["side"] == "from"
    far, outer = at + fillet if leads else at - fillet, inner + fillet
    arc = bows((at, outer), (far, inner), (far, outer), left=leads)
    loop: Loop = (Straight(at, inner, at, outer), *arc, Straight(far, inner, at, inner))
    return Lowered((Piece(Turned(loop), values.feature, Fit.ADDED),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State the fillet's radius."""
    at, d, radius = values["at"], values["diameter"], values["radius"]
    far = at + radius if values.choices["side"] == "from" else at - radius
    return (Bow(radius, far, d / 2.0 + radius, *span(at, far), d, d + 2.0 * radius, "radius"),)
