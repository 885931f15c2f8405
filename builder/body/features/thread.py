"""An external thread: the cylinder through its crests, the chamfered point, and the mark that says where it runs."""

import math

from builder.body.feature import (
    FROM,
    NAME,
    TO,
    Impossible,
    Lowered,
    Parameter,
    Values,
    require_angle,
    require_stretch,
    thread_radii,
)
from builder.body.solid import Piece, Surface, ThreadMark
from builder.body.turned import cone, cylinder

KIND = "thread"
DOC = "An external thread from `from` (end of the full thread) to `to` (the point)."
THREADED = True
PARAMETERS = (
    Parameter("diameter", "Major diameter."),
    Parameter("pitch", "Pitch."),
    FROM,
    TO,
    Parameter(
        "minor_diameter",
        "Minor diameter; d3 of ISO 68-1 unless stated.",
        required=False,
        default="diameter - 1.226869 * pitch",
    ),
    Parameter(
        "point_diameter",
        "Diameter of the end face; 0 for a point without chamfer.",
        required=False,
        default="0",
    ),
    Parameter("point_angle", "Angle between point chamfer and axis, degrees.", required=False, default="45"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to the crest cylinder, a cone for the point, and the thread's mark."""
    major, minor = thread_radii(values)
    length = require_stretch(values)
    start, end = values["from"], values["to"]
    point = _point(values, major, length)
    pieces = [Piece(cylinder(start, end - point, major), values.feature, surface=Surface.CREST)]
    end_radius = values["point_diameter"] / 2.0 or major
    if point:
        pieces.append(Piece(cone(end - point, major, end, end_radius), values.feature, surface=Surface.CHAMFER))
    pitch = values["pitch"]
    mark = ThreadMark(values.feature, True, start, end, major, minor, pitch, start, end - point, end_radius, (start,))
    return Lowered(tuple(pieces), (mark,))


def _point(values: Values, major: float, length: float) -> float:
    diameter = values["point_diameter"]
    if diameter == 0.0:
        return 0.0
    if not 0.0 < diameter < 2.0 * major:
        wrong = f"point diameter is {diameter:g} on a thread of {2 * major:g}"
        raise Impossible("point_diameter", wrong, "must be greater than 0 and less than the thread's diameter")
    point = (major - diameter / 2.0) / math.tan(math.radians(require_angle(values, "point_angle")))
    if point >= length:
        wrong = f"point chamfer of {point:g} on a thread {length:g} long"
        raise Impossible("point_diameter", wrong, "must leave full thread standing")
    return point
