"""A tapped hole: the bore of its minor diameter, countersinks, what is drilled beyond, and the thread's mark."""

import math
from collections.abc import Iterator
from dataclasses import replace

from builder.body.axial import BOTTOM, FLOOR, OPENING, POINT, RUN_OUT, point_depth, run_out, sunk, way
from builder.body.feature import (
    HAND,
    NAME,
    STARTS,
    Impossible,
    Lowered,
    Parameter,
    Values,
    ends,
    require_angle,
    require_positive,
    thread_hand,
    thread_radii,
)
from builder.body.solid import Fit, Piece, Surface, ThreadMark
from builder.body.statement import Statement, Threaded, bored, drilled

KIND = "tapped_bore"
DOC = "An internal thread along the axis, through or blind, countersunk at the ends named."
THREADED = True
PARAMETERS = (
    Parameter("diameter", "Major diameter of the thread."),
    Parameter("pitch", "Pitch: distance of neighbouring crests."),
    OPENING,
    FLOOR,
    Parameter(
        "minor_diameter",
        "Minor diameter; D1 of ISO 68-1 unless stated.",
        required=False,
        default="diameter - 1.082532 * pitch",
    ),
    ends("countersink", "Which ends are countersunk."),
    Parameter("countersink_angle", "Included angle of the countersink, degrees.", required=False, default="120"),
    Parameter("countersink_diameter", "Diameter of the countersink.", required=False, default="1.05 * diameter"),
    BOTTOM,
    Parameter("drill_to", "Place to which a blind hole is drilled at its full diameter.", False, "to"),
    POINT,
    Parameter("undercut_diameter", "Diameter of the relief at a blind thread's end; 0 for none.", False, "0"),
    Parameter("undercut_width", "Width of the relief along the axis.", False, "2.5 * pitch"),
    RUN_OUT,
    HAND,
    STARTS,
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to the bore through the crests, cones for the countersinks, what lies beyond, and the thread's mark."""
    _, minor = thread_radii(values)
    direction, length = way(values), abs(values["to"] - values["from"])
    mouth, (a, b) = values["countersink_diameter"] / 2.0, _full(values, minor, length)

    def void(surface: Surface, *spots: tuple[float, float]) -> Piece:
        return Piece(sunk(values["from"], direction, spots), values.feature, Fit.BORED, surface)

    pieces = [void(Surface.CREST, (a, minor), (b, minor))]
    if a > 0.0:
        pieces.append(void(Surface.CHAMFER, (0.0, mouth), (a, minor)))
    if b < length:
        pieces.append(void(Surface.CHAMFER, (b, minor), (length, mouth)))
    if values.choices["bottom"] != "through":
        pieces += [void(Surface.PLAIN, *spots) for spots in _beyond(values, minor, length, direction)]
    return Lowered(tuple(pieces), (_mark(values, direction, a, length - b),))


def _full(values: Values, minor: float, length: float) -> tuple[float, float]:
    """Return from which depth to which the crests reach, between the countersinks."""
    require_positive(values, "countersink_diameter")
    sunk_at = values.choices["countersink"]
    if values.choices["bottom"] != "through" and sunk_at in ("to", "both"):
        raise Impossible("countersink", "countersink at the bottom of a blind hole", "must be none or from")
    if sunk_at == "none":
        return 0.0, length
    deep = _depth(values, minor, values["countersink_diameter"] / 2.0, length / (2.0 if sunk_at == "both" else 1.0))
    return deep * (sunk_at != "to"), length - deep * (sunk_at != "from")


def _mark(values: Values, direction: float, near: float, far: float) -> ThreadMark:
    """Return the mark of a thread with countersinks so deep at its near and its far end."""
    first, last = sorted((values["from"], values["to"]))
    at_first, at_last = (near, far) if direction > 0.0 else (far, near)
    limits = (values["to"],) if values.choices["bottom"] != "through" else ()
    return ThreadMark(
        values.feature,
        False,
        first,
        last,
        *thread_radii(values),
        values["pitch"],
        first + at_first,
        last - at_last,
        values["countersink_diameter"] / 2.0,
        limits,
        direction * run_out(values, limits),
        *thread_hand(values),
    )


def _beyond(values: Values, minor: float, length: float, direction: float) -> list[list[tuple[float, float]]]:
    """Return what is cut beyond a blind thread: its relief, the rest of the drilled hole, the drill's point."""
    found, at = [], length
    relief = values["undercut_diameter"] / 2.0
    if relief:
        require_positive(values, "undercut_width")
        if relief < minor:
            wrong = f"undercut of {2.0 * relief:g} in a bore of {2.0 * minor:g}"
            raise Impossible("undercut_diameter", wrong, "must be wider than the bore")
        at += values["undercut_width"]
        found.append([(length, relief), (at, relief)])
    drilled = direction * (values["drill_to"] - values["from"])
    if drilled < length:
        wrong = f"drilled to {values['drill_to']:g}, threaded to {values['to']:g}"
        raise Impossible("drill_to", wrong, "must be drilled at least as deep as the thread")
    if drilled > at:
        found.append([(at, minor), (drilled, minor)])
    at = max(at, drilled)
    if values.choices["bottom"] == "drill":
        found.append([(at, minor), (at + point_depth(values, minor), 0.0)])
    return found


def _depth(values: Values, minor: float, mouth: float, room: float) -> float:
    angle = require_angle(values, "countersink_angle", below=180.0)
    if mouth <= minor:
        wrong = f"countersink of {2 * mouth:g} is not wider than the bore of {2 * minor:g}"
        raise Impossible("countersink_diameter", wrong, "must be wider than the minor diameter")
    depth = (mouth - minor) / math.tan(math.radians(angle / 2.0))
    if depth >= room:
        raise Impossible("countersink_diameter", f"countersink is {depth:g} deep", f"must be less than {room:g}")
    return depth


def stated(values: Values) -> tuple[Statement, ...]:
    """State crests, countersinks, the thread between them and the hole beyond."""
    minor, mouth, way_in = values["minor_diameter"], values["countersink_diameter"], way(values)
    sink, blind = values.choices["countersink"], values.choices["bottom"] != "through"
    deep = (mouth - minor) / 2.0 / math.tan(math.radians(values["countersink_angle"]) / 2.0)
    near = values["from"] + way_in * deep * (sink in ("from", "both"))
    far = values["to"] - way_in * deep * (sink in ("to", "both"))
    found: list[Statement] = [replace(bored(near, far, minor, minor, "minor_diameter"), thread="crest")]
    if near != values["from"]:
        found.append(replace(bored(values["from"], near, mouth, minor, ""), thread="chamfer"))
    if far != values["to"]:
        found.append(replace(bored(far, values["to"], minor, mouth, ""), thread="chamfer"))
    (start, end), (low, high) = sorted((values["from"], values["to"])), sorted((near, far))
    limits = (values["to"],) if blind else ()
    found.append(Threaded(False, start, end, values["diameter"], minor, values["pitch"], low, high, limits))
    return *found, *(_stated_beyond(values, minor, way_in) if blind else ())


def _stated_beyond(values: Values, minor: float, way_in: float) -> Iterator[Statement]:
    """State the relief and the rest of the drilled hole."""
    at, relief, drilled_to = values["to"], values["undercut_diameter"], values["drill_to"]
    if relief:
        yield bored(at, at + way_in * values["undercut_width"], relief, relief, "undercut_diameter")
        at += way_in * values["undercut_width"]
    if way_in * (drilled_to - at) > 0.0:
        yield bored(at, drilled_to, minor, minor, "minor_diameter")
        at = drilled_to
    if values.choices["bottom"] == "drill":
        yield drilled(at, way_in, minor, values["point_angle"])
