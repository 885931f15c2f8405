"""A cone along the axis: a taper pin, a countersunk head, a cone point."""

from builder.body.feature import FROM, NAME, TO, Impossible, Lowered, Parameter, Values, require_stretch
from builder.body.solid import Piece
from builder.body.statement import Round, Statement
from builder.body.turned import cone

KIND = "taper"
DOC = "A cone along the axis, whole or cut off: a taper pin, a countersunk head, a cone point."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter at `from`; 0 for a point there."),
    Parameter("end_diameter", "Diameter at `to`; 0 for a point there."),
    FROM,
    TO,
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one turned solid."""
    for name in ("diameter", "end_diameter"):
        if values[name] < 0.0:
            raise Impossible(name, f"{name.replace('_', ' ')} is {values[name]:g}", "must not be less than 0")
    require_stretch(values)
    first, last = values["diameter"] / 2.0, values["end_diameter"] / 2.0
    if first == last == 0.0:
        raise Impossible("end_diameter", "both diameters are 0", "must be greater than 0 at one end")
    return Lowered((Piece(cone(values["from"], first, values["to"], last), values.feature),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State the cone."""
    return (Round(values["from"], values["to"], values["diameter"], values["end_diameter"]),)
