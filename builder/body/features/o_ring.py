"""A ring of round section about the axis."""

from builder.body.contour import bows
from builder.body.feature import NAME, Lowered, Parameter, Values, require_positive
from builder.body.solid import Piece
from builder.body.statement import Bow, Reach, Statement
from builder.body.turned import Turned

KIND = "o_ring"
DOC = "A ring of round section: an O-ring, a snap ring of wire."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Inside diameter."),
    Parameter("section", "Diameter of the section."),
    Parameter("at", "Place of its middle plane on the axis."),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one turned solid."""
    require_positive(values, "diameter", "section")
    at, radius = values["at"], values["section"] / 2.0
    middle = values["diameter"] / 2.0 + radius
    left, right = (at - radius, middle), (at + radius, middle)
    there, back = (bows(*way, (at, middle), left=True) for way in ((right, left), (left, right)))
    return Lowered((Piece(Turned((*there, *back)), values.feature),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State the section's radius and the ring's reach."""
    d, section, at = values["diameter"], values["section"], values["at"]
    middle, half = (d + section) / 2.0, section / 2.0
    ring = Bow(half, at, middle, at - half, at + half, d, d + 2.0 * section, "section")
    return ring, Reach((at, 0.0, 0.0), radius=middle, thick=half)
