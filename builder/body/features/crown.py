"""A domed end: a segment of a sphere on a circle."""

from builder.body.contour import Loop, Straight, bows
from builder.body.feature import NAME, Impossible, Lowered, Parameter, Values, require_positive
from builder.body.solid import Piece
from builder.body.statement import Bow, Reach, Statement, span
from builder.body.turned import Turned

KIND = "crown"
DOC = "A domed end, a segment of a sphere: a crowned end, a raised head, an oval point, a button head."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the circle that it stands on."),
    Parameter("from", "Place of that circle on the axis."),
    Parameter("to", "Place of its top on the axis, on either side of `from`; at most half the diameter away."),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one turned solid."""
    require_positive(values, "diameter")
    base, top, radius = values["from"], values["to"], values["diameter"] / 2.0
    height = abs(top - base)
    if height == 0.0:
        raise Impossible("to", f"starts and ends at {base:g}", "must end above or below where it starts")
    if height > radius * (1.0 + 1e-9):
        wrong = f"crown {height:g} high on a circle of {2.0 * radius:g}"
        raise Impossible("to", wrong, "must be at most half as high as the circle is wide")
    sphere = (radius * radius + height * height) / (2.0 * height)
    forward = top > base
    centre = (base if sphere <= radius else top - sphere if forward else top + sphere), 0.0
    dome = bows((base, radius), (top, 0.0), centre, left=not forward)
    loop: Loop = (Straight(base, 0.0, base, radius), *dome, Straight(top, 0.0, base, 0.0))
    return Lowered((Piece(Turned(loop), values.feature),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State the dome's radius and reach."""
    base, top, d = values["from"], values["to"], values["diameter"]
    height = abs(top - base)
    sphere = (d * d / 4.0 + height * height) / (2.0 * height)
    centre = top - sphere if top > base else top + sphere
    dome = Bow(sphere, centre, 0.0, *span(base, top), 0.0, d, "")
    return dome, Reach((top, 0.0, 0.0)), Reach((base, 0.0, 0.0), radius=d / 2.0)
