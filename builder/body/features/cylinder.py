"""A cylinder: shank, washer face, collar, washer; fillet, chamfers or rounded edges at its ends if wanted."""

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
from builder.body.statement import Bow, Reach, Round, Statement
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
    ends("rounding", "Which ends have a rounded edge."),
    Parameter("rounding_radius", "Radius of the rounded edge.", required=False, default="0"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one turned solid."""
    require_positive(values, "diameter")
    length = require_stretch(values)
    _check_choices(values)
    radius = values["diameter"] / 2.0
    head, tail = _start(values, radius, length), _end(values, radius)
    gap = tail[0].a0 - head[-1].a1
    if gap < -1e-12 * length:
        wrong = f"chamfers, fillet and rounding need more than the length {length:g}"
        raise Impossible("to", wrong, "make them shorter")
    middle = [Straight(head[-1].a1, radius, tail[0].a0, radius)] if gap > 1e-12 * length else []
    axis = Straight(values["to"], 0.0, values["from"], 0.0)
    return Lowered((Piece(Turned((*head, *middle, *tail, axis)), values.feature),))


def _has(values: Values, treatment: str, end: str) -> bool:
    return values.choices[treatment] in (end, "both")


def _check_choices(values: Values) -> None:
    for end in ("from", "to"):
        found = [treatment for treatment in ("chamfer", "rounding") if _has(values, treatment, end)]
        if end == "from" and values["fillet"] != 0.0:
            found.insert(0, "fillet")
        if len(found) > 1:
            raise Impossible(found[-1], f"{' and '.join(found)} at `{end}`", "must be one of them")


def _start(values: Values, radius: float, length: float) -> list[Contour]:
    """Return the contour from the axis to the cylinder's own radius, past fillet, chamfer or rounding."""
    fillet, start = values["fillet"], values["from"]
    if fillet < 0.0 or fillet > length:
        raise Impossible("fillet", f"fillet of {fillet:g} on a length of {length:g}", "must fit on the cylinder")
    if fillet > 0.0:
        outer = radius + fillet
        arc = bows((start, outer), (start + fillet, radius), (start + fillet, outer), left=True)
        return [Straight(start, 0.0, start, outer), *arc]
    if _has(values, "chamfer", "from"):
        along, across = _chamfer(values, radius)
        rim = radius - across
        return [Straight(start, 0.0, start, rim), Straight(start, rim, start + along, radius)]
    if _has(values, "rounding", "from"):
        edge, rim = start + _rounding(values, radius), radius - values["rounding_radius"]
        face = [Straight(start, 0.0, start, rim)] if rim > 0.0 else []
        return [*face, *bows((start, rim), (edge, radius), (edge, rim), left=False)]
    return [Straight(start, 0.0, start, radius)]


def _end(values: Values, radius: float) -> list[Contour]:
    end = values["to"]
    if _has(values, "chamfer", "to"):
        along, across = _chamfer(values, radius)
        rim = radius - across
        return [Straight(end - along, radius, end, rim), Straight(end, rim, end, 0.0)]
    if _has(values, "rounding", "to"):
        edge, rim = end - _rounding(values, radius), radius - values["rounding_radius"]
        face = [Straight(end, rim, end, 0.0)] if rim > 0.0 else []
        return [*bows((edge, radius), (end, rim), (edge, rim), left=False), *face]
    return [Straight(end, radius, end, 0.0)]


def _rounding(values: Values, radius: float) -> float:
    require_positive(values, "rounding_radius")
    rounding = values["rounding_radius"]
    if rounding > radius:
        wrong = f"rounding of {rounding:g} on a radius of {radius:g}"
        raise Impossible("rounding_radius", wrong, "must be at most the radius")
    return rounding


def _chamfer(values: Values, radius: float) -> tuple[float, float]:
    require_positive(values, "chamfer_length")
    along = values["chamfer_length"]
    across = along * math.tan(math.radians(require_angle(values, "chamfer_angle")))
    if across >= radius:
        wrong = f"chamfer of {across:g} across is larger than the end's radius {radius:g}"
        raise Impossible("chamfer_length", wrong, "must leave an end face")
    return along, across


_ENDS = ("from", "to")


def stated(values: Values) -> tuple[Statement, ...]:
    """State the cylinder between the treatments of its ends, and these."""
    d, start, end, fillet = values["diameter"], values["from"], values["to"], values["fillet"]
    low, high, found = start, end, list[Statement]()
    if fillet:
        low += fillet
        off = d / 2.0 + fillet
        found.append(Bow(fillet, low, off, start, low, d, d + 2.0 * fillet, "fillet"))
    along = values["chamfer_length"]
    narrow = d - 2.0 * along * math.tan(math.radians(values["chamfer_angle"]))
    if _has(values, "chamfer", "from"):
        low += along
        found.append(Round(start, low, narrow, d, ""))
    if _has(values, "chamfer", "to"):
        high -= along
        found.append(Round(high, end, d, narrow, ""))
    radius = values["rounding_radius"]
    if _has(values, "rounding", "from"):
        low += radius
        found.append(Bow(radius, low, d / 2.0 - radius, start, low, d - 2.0 * radius, d, "rounding_radius"))
    if _has(values, "rounding", "to"):
        high -= radius
        found.append(Bow(radius, high, d / 2.0 - radius, high, end, d - 2.0 * radius, d, "rounding_radius"))
    faces = [d - (d - narrow) * _has(values, "chamfer", e) - 2.0 * radius * _has(values, "rounding", e) for e in _ENDS]
    middle = Reach(((low + high) / 2.0, 0.0, 0.0), radius=d / 2.0)
    reaches = Reach((start, 0.0, 0.0), radius=faces[0] / 2.0), Reach((end, 0.0, 0.0), radius=faces[1] / 2.0), middle
    if high > low:
        found.append(Round(low, high, d, d, smooth=(fillet > 0.0, False)))
    return *found, *reaches
