"""A tapped through hole: the bore of its minor diameter, countersinks, and the mark that says where the thread runs."""

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
    thread_radii,
)
from builder.body.solid import Fit, Piece, Surface, ThreadMark
from builder.body.turned import cone, cylinder

KIND = "tapped_bore"
DOC = "An internal thread along the axis, through, countersunk at the ends named."
THREADED = True
PARAMETERS = (
    Parameter("diameter", "Major diameter of the thread."),
    Parameter("pitch", "Pitch."),
    FROM,
    TO,
    Parameter(
        "minor_diameter",
        "Minor diameter; D1 of ISO 68-1 unless stated.",
        required=False,
        default="diameter - 1.082532 * pitch",
    ),
    ends("countersink", "Which ends are countersunk."),
    Parameter("countersink_angle", "Included angle of the countersink, degrees.", required=False, default="120"),
    Parameter("countersink_diameter", "Diameter of the countersink.", required=False, default="1.05 * diameter"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to the bore through the crests, cones for the countersinks, and the thread's mark."""
    require_positive(values, "countersink_diameter")
    major, minor = thread_radii(values)
    length = require_stretch(values)
    start, end = values["from"], values["to"]
    mouth = values["countersink_diameter"] / 2.0
    sunk = values.choices["countersink"]
    deep = 0.0 if sunk == "none" else _depth(values, minor, mouth, length / (2.0 if sunk == "both" else 1.0))
    a, b = start + deep * (sunk in ("from", "both")), end - deep * (sunk in ("to", "both"))
    pieces = [Piece(cylinder(a, b, minor), values.feature, Fit.BORED, Surface.CREST)]
    if a > start:
        pieces.append(Piece(cone(start, mouth, a, minor), values.feature, Fit.BORED, Surface.CHAMFER))
    if b < end:
        pieces.append(Piece(cone(b, minor, end, mouth), values.feature, Fit.BORED, Surface.CHAMFER))
    mark = ThreadMark(values.feature, False, start, end, major, minor, values["pitch"], a, b, mouth)
    return Lowered(tuple(pieces), (mark,))


def _depth(values: Values, minor: float, mouth: float, room: float) -> float:
    angle = require_angle(values, "countersink_angle", below=180.0)
    if mouth <= minor:
        wrong = f"countersink of {2 * mouth:g} is not wider than the bore of {2 * minor:g}"
        raise Impossible("countersink_diameter", wrong, "must be wider than the minor diameter")
    depth = (mouth - minor) / math.tan(math.radians(angle / 2.0))
    if depth >= room:
        raise Impossible("countersink_diameter", f"countersink is {depth:g} deep", f"must be less than {room:g}")
    return depth
