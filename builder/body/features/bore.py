"""A plain hole along the axis, through or blind."""

from builder.body.axial import BOTTOM, FLOOR, OPENING, POINT, point_depth, sunk, way
from builder.body.feature import NAME, Lowered, Parameter, Values, require_positive
from builder.body.solid import Fit, Piece
from builder.body.statement import Statement, bored, drilled

KIND = "bore"
DOC = "A plain hole along the axis, from the face that it opens in; `to` is the far face or the full diameter's depth."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the hole."),
    OPENING,
    FLOOR,
    BOTTOM,
    POINT,
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one void, with the drill's point beyond the full diameter."""
    require_positive(values, "diameter")
    direction, radius = way(values), values["diameter"] / 2.0
    depth = abs(values["to"] - values["from"])
    spots = [(0.0, radius), (depth, radius)]
    if values.choices["bottom"] == "drill":
        spots.append((depth + point_depth(values, radius), 0.0))
    return Lowered((Piece(sunk(values["from"], direction, spots), values.feature, Fit.BORED),))


def stated(values: Values) -> tuple[Statement, ...]:
    """State the hole's diameter and the drill's point."""
    d, start, end = values["diameter"], values["from"], values["to"]
    hole = bored(start, end, d, d)
    drill = values.choices["bottom"] == "drill"
    return (hole, drilled(end, way(values), d, values["point_angle"])) if drill else (hole,)
