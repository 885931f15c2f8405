"""A flat-bottomed recess round a hole: a counterbore or spotface."""

from builder.body.axial import FLOOR, OPENING, sunk, way
from builder.body.feature import NAME, Lowered, Parameter, Values, require_positive
from builder.body.solid import Fit, Piece
from builder.body.statement import Statement, bored

KIND = "counterbore"
DOC = "A counterbore or spotface, from the face that it opens in to its seat; the bore begins at the seat."
THREADED = False
PARAMETERS = (Parameter("diameter", "Diameter of the recess."), OPENING, FLOOR, NAME)


def lower(values: Values) -> Lowered:
    """Lower to one void."""
    require_positive(values, "diameter")
    direction, radius = way(values), values["diameter"] / 2.0
    spots = [(0.0, radius), (abs(values["to"] - values["from"]), radius)]
    return Lowered((Piece(sunk(values["from"], direction, spots), values.feature, Fit.BORED),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State the recess."""
    return (bored(values["from"], values["to"], values["diameter"], values["diameter"]),)
