"""A plain hole along the axis."""

from builder.body.feature import FROM, NAME, TO, Lowered, Parameter, Values, require_positive, require_stretch
from builder.body.solid import Fit, Piece
from builder.body.turned import cylinder

KIND = "bore"
DOC = "A plain hole along the axis, ending flush with the faces that it opens in."
THREADED = False
PARAMETERS = (Parameter("diameter", "Diameter of the hole."), FROM, TO, NAME)


def lower(values: Values) -> Lowered:
    """Lower to one void."""
    require_positive(values, "diameter")
    require_stretch(values)
    hole = cylinder(values["from"], values["to"], values["diameter"] / 2.0)
    return Lowered((Piece(hole, values.feature, Fit.BORED),))
