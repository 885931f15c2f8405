"""Any closed outline carried along the axis, upward or across: a key, a bar, a rolled section, a taper washer."""

from builder.body.feature import NAME, Lowered, Parameter, ParameterKind, Values
from builder.body.prismatic import PROFILED, extruded
from builder.body.profiles import reaches
from builder.body.solid import Fit, Piece
from builder.body.statement import EVERYWHERE, Disturbed, Statement

KIND = "prism"
DOC = "Any closed outline carried along the axis, upward or across: a key, a bar, a rolled section, a taper washer."
THREADED = False
PARAMETERS = (
    *PROFILED,
    Parameter(
        "centred",
        "Whether it is about the part's axis, which is then drawn.",
        required=False,
        default="no",
        kind=ParameterKind.CHOICE,
        choices=("no", "yes"),
    ),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one solid: end to end with others along the axis, grown out of them otherwise."""
    fit = Fit.STACKED if values.choices["along"] == "axis" else Fit.ADDED
    return Lowered((Piece(extruded(values), values.feature, fit, centred=values.choices["centred"] == "yes"),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State how far the profile reaches, and that it may be in front of others."""
    stretch = (values["from"], values["to"]) if values.choices["along"] == "axis" else EVERYWHERE
    return *reaches(values), Disturbed(*stretch, adds=True)
