"""Any closed outline cut away along the axis, upward or across: a keyway, a window, a notch."""

from builder.body.feature import NAME, Lowered, Values
from builder.body.prismatic import PROFILED, extruded
from builder.body.solid import Fit, Piece
from builder.body.statement import EVERYWHERE, Disturbed, Statement, Unmeasured

KIND = "pocket"
DOC = "Any closed outline cut away along the axis, upward or across: a keyway, a window, a notch."
THREADED = False
PARAMETERS = (*PROFILED, NAME)


def lower(values: Values) -> Lowered:
    """Lower to one void."""
    return Lowered((Piece(extruded(values), values.feature, Fit.CUT),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State nothing but that it may cut anything."""
    return Disturbed(*EVERYWHERE), Unmeasured(f"the pocket {values.feature}")
