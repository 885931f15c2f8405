"""A keyway milled into a round shaft."""

import math

from builder.body.contour import Loop, bows, corners
from builder.body.extruded import Extruded
from builder.body.feature import (
    FROM,
    NAME,
    TO,
    Impossible,
    Lowered,
    Parameter,
    ParameterKind,
    Values,
    require_positive,
    require_stretch,
)
from builder.body.solid import Fit, Piece
from builder.body.statement import Disturbed, Statement, Unmeasured
from builder.body.vectors import across

KIND = "keyway"
DOC = "A keyway milled into a shaft, looking up unless turned; its depth is measured from the top of the shaft."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the shaft."),
    Parameter("width", "Width of the keyway: b."),
    Parameter("depth", "Depth from the top of the shaft: t1."),
    FROM,
    TO,
    Parameter("ends", "Round, by an end mill, or square.", False, "round", ParameterKind.CHOICE, ("round", "square")),
    Parameter("angle", "Direction in which it looks, degrees from up.", required=False, default="0"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one void that stands out of the shaft."""
    require_positive(values, "diameter", "width", "depth")
    length, radius, width = require_stretch(values), values["diameter"] / 2.0, values["width"]
    if values["depth"] >= radius or width >= 2.0 * radius:
        wrong = f"keyway {width:g} wide and {values['depth']:g} deep in a shaft of {2.0 * radius:g}"
        raise Impossible("depth", wrong, "must leave more than half of the shaft")
    if values.choices["ends"] == "round" and length <= width:
        raise Impossible("to", f"keyway {length:g} long and {width:g} wide", "must be longer than wide")
    place = across(math.radians(values["angle"]))
    void = Extruded(_outline(values), radius - values["depth"], 1.25 * radius, place)
    return Lowered((Piece(void, values.feature, Fit.CUT),))


def _outline(values: Values) -> Loop:
    start, end, half = values["from"], values["to"], values["width"] / 2.0
    if values.choices["ends"] == "square":
        return corners([(start, -half), (end, -half), (end, half), (start, half)])
    a, b = start + half, end - half
    top, bottom = corners([(b, half), (a, half)])[0], corners([(a, -half), (b, -half)])[0]
    far, near = ((b, -half), (b, half), (b, 0.0)), ((a, half), (a, -half), (a, 0.0))
    return (*bows(*far, left=True), top, *bows(*near, left=True), bottom)


def stated(values: Values) -> tuple[Statement, ...]:
    """State where the keyway interrupts the shaft."""
    return Disturbed(values["from"], values["to"]), Unmeasured("the keyway")
