"""A hexagon with turned (conical) chamfers at its ends."""

import math

from builder.body.feature import (
    FROM,
    NAME,
    TO,
    Impossible,
    Lowered,
    Parameter,
    Values,
    ends,
    require_angle,
    require_positive,
    require_stretch,
)
from builder.body.prism import Prism
from builder.body.profile import Straight
from builder.body.solid import Piece
from builder.body.turned import Turned

KIND = "hexagon"
DOC = "A hexagon prism along the axis: the head of a bolt, a nut."
THREADED = False
PARAMETERS = (
    Parameter("across_flats", "Width across flats."),
    FROM,
    TO,
    ends("chamfer", "Which ends carry the chamfer."),
    Parameter("chamfer_angle", "Angle between chamfer and end face, degrees.", required=False, default="30"),
    Parameter(
        "chamfer_diameter",
        "Diameter of the chamfer's circle on the end face.",
        required=False,
        default="0.95 * across_flats",
    ),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one prism within a contour that the chamfers narrow at the ends."""
    require_positive(values, "across_flats", "chamfer_angle", "chamfer_diameter")
    require_stretch(values)
    prism = Prism(6, values["across_flats"] / 2.0, 0.0, _contour(values))
    return Lowered((Piece(prism, values.feature),))


def _contour(values: Values) -> Turned:
    start, end, chamfered = values["from"], values["to"], values.choices["chamfer"]
    corner = values["across_flats"] / math.sqrt(3.0)
    reach, depth = corner * 1.01, _depth(values, corner * 1.01)
    at_from, at_to = chamfered in ("from", "both"), chamfered in ("to", "both")
    inner_start, inner_end = start + depth * at_from, end - depth * at_to
    circle = values["chamfer_diameter"] / 2.0
    contours = [Straight(inner_start, reach, inner_end, reach)]
    if at_from:
        contours.insert(0, Straight(start, circle, inner_start, reach))
    if at_to:
        contours.append(Straight(inner_end, reach, end, circle))
    return Turned(tuple(contours))


def _depth(values: Values, reach: float) -> float:
    """Return how far along the axis the chamfer runs to a radius just outside the corners."""
    if values.choices["chamfer"] == "none":
        return 0.0
    angle = require_angle(values, "chamfer_angle")
    circle, flats = values["chamfer_diameter"], values["across_flats"]
    if circle > flats:
        wrong = f"chamfer circle of {circle:g} is wider than the {flats:g} across flats"
        raise Impossible("chamfer_diameter", wrong, "must be at most the width across flats")
    depth = (reach - circle / 2.0) * math.tan(math.radians(angle))
    room = (values["to"] - values["from"]) / (2.0 if values.choices["chamfer"] == "both" else 1.0)
    if depth >= room:
        wrong = f"chamfer reaches {depth:g} along a hexagon with room for {room:g}"
        raise Impossible("chamfer_diameter", wrong, "must leave part of the flats standing")
    return depth
