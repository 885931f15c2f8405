"""A full ball on the axis: a ball knob, a ball end."""

from builder.body.contour import Straight, bows
from builder.body.feature import NAME, Lowered, Parameter, Values, require_positive
from builder.body.solid import Fit, Piece
from builder.body.statement import Bow, Reach, Statement
from builder.body.turned import Turned

KIND = "ball"
DOC = "A full ball on the axis, which others may run into: a ball knob, a ball end larger than its neck."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the ball."),
    Parameter("at", "Place of its centre on the axis."),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one turned solid."""
    require_positive(values, "diameter")
    at, radius = values["at"], values["diameter"] / 2.0
    start, end = (at - radius, 0.0), (at + radius, 0.0)
    half = bows(start, end, (at, 0.0), left=False)
    return Lowered((Piece(Turned((*half, Straight(*end, *start))), values.feature, Fit.ADDED),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State the ball's radius and reach."""
    at, d = values["at"], values["diameter"]
    ball = Bow(d / 2.0, at, 0.0, at - d / 2.0, at + d / 2.0, 0.0, d, "diameter")
    return ball, Reach((at, 0.0, 0.0), thick=d / 2.0)
