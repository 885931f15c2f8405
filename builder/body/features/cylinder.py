"""A cylinder: shank, washer face, collar, washer; with a fillet at its start and chamfers at its ends if wanted."""

import math

from builder.body.contour import Contour, Straight, bows
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
    radius = values["diameter"] / 2.0
    head, tail = _start(values, radius, length), _end(values, radius)
    gap = tail[0].a0 - head[-1].a1
    if gap < -1e-12 * length:
        raise Impossible("to", f"chamfers and fillet need more than the length {length:g}", "make them shorter")
    middle = [Straight(head[-1].a1, radius, tail[0].a0, radius)] if gap > 1e-12 * length else []
    axis = Straight(values["to"], 0.0, values["from"], 0.0)
    return Lowered((Piece(Turned((*head, *middle, *tail, axis)), values.feature),))


def _start(values: Values, radius: float, length: float) -> list[Contour]:
    """Return the contour from the axis to the cylinder's own radius, past fillet or chamfer."""
    fillet, start = values["fillet"], values["from"]
    if fillet < 0.0 or fillet > length:
        raise Impossible("fillet", f"fillet of {fillet:g} on a length of {length:g}", "must fit on the cylinder")
    if fillet > 0.0:
        outer = radius + fillet
        arc = bows((start, outer), (start + fillet, radius), (start + fillet, outer), left=True)
        return [Straight(start, 0.0, start, outer), *arc]
    if values.choices["chamfer"] in ("from", "both"):
        along, across = _chamfer(values, radius)
        rim = radius - across
        return [Straight(start, 0.0, start, rim), Straight(start, rim, start + along, radius)]
    return [Straight(start, 0.0, start, radius)]


def _end(values: Values, radius: float) -> list[Contour]:
    end = values["to"]
    if values.choices["chamfer"] not in ("to", "both"):
        return [Straight(end, radius, end, 0.0)]
    along, across = _chamfer(values, radius)
    rim = radius - across
    return [Straight(end - along, radius, end, rim), Straight(end, rim, end, 0.0)]


def _chamfer(values: Values, radius: float) -> tuple[float, float]:
    require_positive(values, "chamfer_length")
    along = values["chamfer_length"]
    across = along * math.tan(math.radians(require_angle(values, "chamfer_angle")))
    if across >= radius:
        wrong = f"chamfer of {across:g} across is larger than the end's radius {radius:g}"
        raise Impossible("chamfer_length", wrong, "must leave an end face")
    return along, across
