"""An external thread: the cylinder through its crests, the chamfered point, and the mark that says where it runs."""

import math

from builder.body.axial import RUN_OUT, run_out, sunk, way
from builder.body.feature import (
    HAND,
    NAME,
    STARTS,
    Impossible,
    Lowered,
    Parameter,
    ParameterKind,
    Values,
    require_angle,
    thread_hand,
    thread_radii,
)
from builder.body.solid import Fit, Piece, Surface, ThreadMark
from builder.body.statement import Round, Statement, Threaded

KIND = "thread"
DOC = "An external thread from `from` (end of the full thread) to `to` (the point), which may look either way."
THREADED = True
PARAMETERS = (
    Parameter("diameter", "Major diameter."),
    Parameter("pitch", "Pitch: distance of neighbouring crests."),
    Parameter("from", "Place on the axis where the full thread ends; + along the shank."),
    Parameter("to", "Place on the axis of the point."),
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
    Parameter(
        "chamfer",
        "Which ends are chamfered; both: a rod or set screw, threaded from end to end.",
        False,
        "to",
        ParameterKind.CHOICE,
        ("to", "both"),
    ),
    RUN_OUT,
    HAND,
    STARTS,
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to the crest cylinder, a cone for each point, and the thread's mark."""
    major, _ = thread_radii(values)
    direction, start, length = way(values), values["from"], abs(values["to"] - values["from"])
    point = _point(values, major, length)
    tail = point if values.choices["chamfer"] == "both" else 0.0
    end_radius = values["point_diameter"] / 2.0 or major
    crests = sunk(start, direction, [(tail, major), (length - point, major)])
    pieces = [Piece(crests, values.feature, surface=Surface.CREST)]
    for near, far in (((length - point, major), (length, end_radius)), ((0.0, end_radius), (tail, major))):
        if far[0] > near[0]:
            cone = sunk(start, direction, [near, far])
            pieces.append(Piece(cone, values.feature, Fit.STACKED, Surface.CHAMFER))
    return Lowered(tuple(pieces), (_mark(values, direction, end_radius, tail, point),))


def _mark(values: Values, direction: float, end_radius: float, tail: float, point: float) -> ThreadMark:
    """Return the mark of a thread with chamfers so long at its tail and its point."""
    first, last = sorted((values["from"], values["to"]))
    at_first, at_last = (tail, point) if direction > 0.0 else (point, tail)
    limits = () if tail else (values["from"],)
    return ThreadMark(
        values.feature,
        True,
        first,
        last,
        *thread_radii(values),
        values["pitch"],
        first + at_first,
        last - at_last,
        end_radius,
        limits,
        -direction * run_out(values, limits),
        *thread_hand(values),
    )


def _point(values: Values, major: float, length: float) -> float:
    diameter = values["point_diameter"]
    if diameter == 0.0:
        return 0.0
    if not 0.0 < diameter < 2.0 * major:
        wrong = f"point diameter is {diameter:g} on a thread of {2 * major:g}"
        raise Impossible("point_diameter", wrong, "must be greater than 0 and less than the thread's diameter")
    point = (major - diameter / 2.0) / math.tan(math.radians(require_angle(values, "point_angle")))
    if point * (2.0 if values.choices["chamfer"] == "both" else 1.0) >= length:
        wrong = f"point chamfer of {point:g} on a thread {length:g} long"
        raise Impossible("point_diameter", wrong, "must leave full thread standing")
    return point


def stated(values: Values) -> tuple[Statement, ...]:
    """State crests, chamfers and the thread between them."""
    d, end_d, way_on = values["diameter"], values["point_diameter"], way(values)
    depth = (d - end_d) / 2.0 / math.tan(math.radians(values["point_angle"])) if end_d else 0.0
    both = values.choices["chamfer"] == "both"
    tail, tip = values["from"] + way_on * depth * both, values["to"] - way_on * depth
    low, high = sorted((tail, tip))
    start, end = sorted((values["from"], values["to"]))
    limits = () if both and depth else (values["from"],)
    found: list[Statement] = [Round(low, high, d, d, thread="crest")]
    if end > high:
        found.append(Round(high, end, d, end_d, "", thread="chamfer"))
    if low > start:
        found.append(Round(start, low, end_d, d, "", thread="chamfer"))
    found.append(Threaded(True, start, end, d, values["minor_diameter"], values["pitch"], low, high, limits))
    return tuple(found)
