"""A cylinder: shank, washer face, collar, washer; with a fillet at its start and chamfers at its ends if wanted."""

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
from builder.body.profile import Contour, Hollow, Straight
from builder.body.solid import Piece
from builder.body.turned import Turned

KIND = "cylinder"
DOC = "A cylinder on the axis: a shank, a washer face, a collar, a washer."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter."),
    FROM,
    TO,
    Parameter("fillet", "Radius of the fillet at `from`, under the head; 0 for none.", required=False, default="0"),
    ends("chamfer", "Which ends carry a chamfer."),
    Parameter("chamfer_length", "Length of the chamfer along the axis.", required=False, default="0"),
    Parameter("chamfer_angle", "Angle between chamfer and axis, degrees.", required=False, default="45"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one turned solid."""
    require_positive(values, "diameter")
    length = require_stretch(values)
    start, end, radius = values["from"], values["to"], values["diameter"] / 2.0
    head, tail = _start(values, radius, length), _end(values, radius)
    x0, x1 = head[-1].x1 if head else start, tail[0].x0 if tail else end
    if x1 < x0:
        raise Impossible("to", f"chamfers and fillet need more than the length {length:g}", "make them shorter")
    middle = [Straight(x0, radius, x1, radius)] if x1 > x0 else []
    return Lowered((Piece(Turned((*head, *middle, *tail)), values.feature),))


def _start(values: Values, radius: float, length: float) -> list[Contour]:
    fillet, start = values["fillet"], values["from"]
    if fillet < 0.0 or fillet > length:
        raise Impossible("fillet", f"fillet of {fillet:g} on a length of {length:g}", "must fit on the cylinder")
    if fillet > 0.0:
        outer = radius + fillet
        return [Hollow(start, outer, start + fillet, radius, start + fillet, outer, fillet)]
    if values.choices["chamfer"] in ("from", "both"):
        along, across = _chamfer(values, radius)
        return [Straight(start, radius - across, start + along, radius)]
    return []


def _end(values: Values, radius: float) -> list[Contour]:
    if values.choices["chamfer"] not in ("to", "both"):
        return []
    along, across = _chamfer(values, radius)
    return [Straight(values["to"] - along, radius, values["to"], radius - across)]


def _chamfer(values: Values, radius: float) -> tuple[float, float]:
    require_positive(values, "chamfer_length")
    along = values["chamfer_length"]
    across = along * math.tan(math.radians(require_angle(values, "chamfer_angle")))
    if across >= radius:
        wrong = f"chamfer of {across:g} across is larger than the end's radius {radius:g}"
        raise Impossible("chamfer_length", wrong, "must leave an end face")
    return along, across
