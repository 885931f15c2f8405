"""A collar round a shank or under a hexagon, its top coned if wanted: the flange of a bolt or nut."""

import math
from collections.abc import Iterator

from builder.body.feature import (
    NAME,
    Impossible,
    Lowered,
    Parameter,
    Values,
    ends,
    require_angle,
    require_positive,
)
from builder.body.outlined import loop_of
from builder.body.solid import Fit, Piece
from builder.body.statement import Bow, Reach, Round, Statement, Unmeasured, span
from builder.body.turned import Turned
from builder.words.knot import Knot

KIND = "collar"
DOC = "A collar that others run through, its top coned if wanted: the flange of a bolt or nut."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the rim."),
    Parameter("from", "Place of its bearing face on the axis."),
    Parameter("to", "Place on the axis where the rim ends, on either side of `from`; a coned top stands beyond it."),
    Parameter(
        "top_diameter",
        "Diameter at which the coned top ends; that of the rim for a flat top.",
        required=False,
        default="diameter",
    ),
    Parameter("angle", "Angle between coned top and bearing face, degrees.", required=False, default="25"),
    ends("rounding", "Which edges of the rim are rounded."),
    Parameter("rounding_radius", "Radius of the rounding.", required=False, default="0"),
    ends("chamfer", "Which edges of the rim carry a chamfer; `to` under a flat top only."),
    Parameter("chamfer_length", "Length of the chamfer along the axis.", required=False, default="0"),
    Parameter("chamfer_angle", "Angle between chamfer and axis, degrees.", required=False, default="45"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one turned solid."""
    require_positive(values, "diameter", "top_diameter")
    rim = abs(values["to"] - values["from"])
    if rim == 0.0:
        raise Impossible("to", f"starts and ends at {values['from']:g}", "must end above or below where it starts")
    if values["top_diameter"] > values["diameter"]:
        wrong = f"top of {values['top_diameter']:g} on a collar of {values['diameter']:g}"
        raise Impossible("top_diameter", wrong, "must be at most the collar's diameter")
    loop = loop_of(tuple(_knots(values, rim)), "rounding_radius")
    return Lowered((Piece(Turned(loop), values.feature, Fit.ADDED),))


def _knots(values: Values, rim: float) -> Iterator[Knot]:
    start, way = values["from"], math.copysign(1.0, values["to"] - values["from"])
    radius, top = values["diameter"] / 2.0, values["top_diameter"] / 2.0
    cone = (radius - top) * math.tan(math.radians(require_angle(values, "angle")))
    lean = math.radians(90.0 - values["angle"]) if cone else math.pi / 2.0  # by how much the outline turns at the top
    _check_room(values, rim, lean)
    yield Knot(start, 0.0)
    for end, place, inward in (("from", start, way), ("to", values["to"], -way)):
        if _has(values, "chamfer", end):
            along, across = _chamfer(values, end, cone)
            spots = Knot(place, radius - across), Knot(place + inward * along, radius)
            yield from spots if end == "from" else reversed(spots)
        else:
            yield Knot(place, radius, values["rounding_radius"] * _has(values, "rounding", end))
    if cone:
        yield Knot(values["to"] + way * cone, top)
    yield Knot(values["to"] + way * cone, 0.0)


def _has(values: Values, treatment: str, end: str) -> bool:
    return values.choices[treatment] in (end, "both")


def _chamfer(values: Values, end: str, cone: float) -> tuple[float, float]:
    require_positive(values, "chamfer_length")
    if end == "to" and cone:
        raise Impossible("chamfer", "chamfer between rim and coned top", "must be at `from`, or the top flat")
    along = values["chamfer_length"]
    across = along * math.tan(math.radians(require_angle(values, "chamfer_angle")))
    if across >= values["diameter"] / 2.0:
        wrong = f"chamfer of {across:g} across on a collar of {values['diameter']:g}"
        raise Impossible("chamfer_length", wrong, "must leave an end face")
    return along, across


def _check_room(values: Values, rim: float, lean: float) -> None:
    """Raise Impossible where roundings and chamfers meet each other on the rim."""
    needs = {"from": 0.0, "to": 0.0}
    for end, turn in (("from", math.pi / 2.0), ("to", lean)):
        if _has(values, "rounding", end):
            require_positive(values, "rounding_radius")
            needs[end] = values["rounding_radius"] * math.tan(turn / 2.0)
            if _has(values, "chamfer", end):
                raise Impossible("rounding", f"rounding and chamfer at `{end}`", "must be one of them")
        elif _has(values, "chamfer", end):
            needs[end] = values["chamfer_length"]
    if sum(needs.values()) > rim * (1.0 + 1e-9):
        at_fault = "chamfer_length" if values.choices["rounding"] == "none" else "rounding_radius"
        wrong = f"edges take {sum(needs.values()):g} of a rim {rim:g} high"
        raise Impossible(at_fault, wrong, "must be smaller")


def stated(values: Values) -> tuple[Statement, ...]:
    """State rim and coned top, and the chamfers; a rounded rim states its rounding's radius."""
    start, end, d, top = values["from"], values["to"], values["diameter"], values["top_diameter"]
    way = math.copysign(1.0, end - start)
    cone = (d - top) / 2.0 * math.tan(math.radians(values["angle"]))
    if any(values.choices[name] != "none" for name in ("rounding", "chamfer")):
        low, high = sorted((start, end + way * cone))
        covered = Bow(0.0, start, 0.0, low, high, 0.0, d, "")
        reaches = (
            Reach((low, 0.0, 0.0)),
            Reach((high, 0.0, 0.0)),
            Reach(((start + end) / 2.0, 0.0, 0.0), radius=d / 2.0),
        )
        return covered, *reaches, Unmeasured("the rounded or chamfered rim")
    rim = Round(*span(start, end), d, d)
    if not cone:
        return (rim,)
    far, wide = (d, top) if way > 0.0 else (top, d)
    return rim, Round(*span(end, end + way * cone), far, wide, "")
