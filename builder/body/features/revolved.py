"""Any turned profile."""

from builder.body.contour import TINY, Loop, reach
from builder.body.feature import NAME, Impossible, Lowered, Parameter, ParameterKind, Values
from builder.body.outlined import loop_of
from builder.body.profiles import turned
from builder.body.solid import Fit, Piece
from builder.body.statement import Disturbed, Statement, Unmeasured
from builder.body.turned import Turned

KIND = "revolved"
DOC = "Any profile turned about the axis; one that leaves the axis out is a ring, which others may run through."
THREADED = False
PARAMETERS = (
    Parameter("profile", "Outline of one half: place on the axis and radius.", kind=ParameterKind.PROFILE),
    Parameter(
        "fills",
        "Whether it is material, `solid`, or taken away, `void`.",
        required=False,
        default="solid",
        kind=ParameterKind.CHOICE,
        choices=("solid", "void"),
    ),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one turned solid or void."""
    loop = _loop(values)
    solid = Fit.ADDED if reach(loop)[1] > TINY else Fit.STACKED
    fit = Fit.CUT if values.choices["fills"] == "void" else solid
    return Lowered((Piece(Turned(loop), values.feature, fit),))


def _loop(values: Values) -> Loop:
    knots = values.profiles["profile"]
    for n, knot in enumerate(knots, 1):
        if knot.y < 0.0:
            raise Impossible("profile", f"knot {n} has the radius {knot.y:g}", "must not lie beyond the axis")
    loop = loop_of(knots)
    if (least := reach(loop)[1]) < -TINY:
        raise Impossible("profile", f"an arc reaches {-least:g} beyond the axis", "must not lie beyond the axis")
    return loop


def stated(values: Values) -> tuple[Statement, ...]:
    """State the profile's cylinders, cones and arcs; of one that is taken away, only where it cuts."""
    if values.choices["fills"] == "solid":
        return tuple(turned(values))
    places = [knot.x for knot in values.profiles["profile"]]
    return Disturbed(min(places), max(places)), Unmeasured(f"the profile of {values.feature}")
