"""Radial slots: of a castle nut's crown, across an end, in the rim of a round nut."""

import math

from builder.body.around import directions, row
from builder.body.contour import Loop, Straight, bows, corners
from builder.body.extruded import Extruded
from builder.body.feature import FROM, NAME, Impossible, Lowered, Parameter, ParameterKind, Values, require_positive
from builder.body.solid import Fit, Piece
from builder.body.statement import Disturbed, Statement, Unmeasured, span
from builder.body.vectors import across

KIND = "slots"
DOC = "Radial slots evenly round the axis, open at `from`: a castle nut's, across an end, in the rim of a round nut."
THREADED = False
PARAMETERS = (
    Parameter("width", "Width of a slot."),
    FROM,
    Parameter("to", "Place on the axis of the slots' floor; the slots open at `from`, whichever way that is."),
    *row("How many slots; two that face each other run across.", "Direction of the first slot: degrees from up."),
    Parameter("outer", "Diameter that the slots open through."),
    Parameter(
        "inner",
        "Diameter from which the slots run, within a bore if there is one; 0 from the axis.",
        required=False,
        default="0",
    ),
    Parameter(
        "floor",
        "Shape of the floor.",
        required=False,
        default="flat",
        kind=ParameterKind.CHOICE,
        choices=("flat", "round"),
    ),
    NAME,
)
_BEYOND = 1.25  # how far the cutter reaches out of the part, of its radius


def lower(values: Values) -> Lowered:
    """Lower to one void for each slot, or for two that face each other from the axis."""
    require_positive(values, "width", "outer")
    inner, outer, width = values["inner"], values["outer"], values["width"]
    if not 0.0 <= inner < outer:
        raise Impossible("inner", f"slots run from {inner:g} to {outer:g}", "must be at least 0 and less than `outer`")
    angles, section = directions(values), _section(values)
    if len(angles) > 1 and width >= outer * math.sin(math.pi / len(angles)):
        wrong = f"{len(angles)} slots of {width:g} on a diameter of {outer:g}"
        raise Impossible("width", wrong, "must leave material between slots")
    start, reach = inner / 2.0, _BEYOND * outer / 2.0
    if inner == 0.0 and len(angles) % 2 == 0:
        start, angles = -reach, angles[: len(angles) // 2]
    slots = (Extruded(section, start, reach, across(angle)) for angle in angles)
    return Lowered(tuple(Piece(slot, values.feature, Fit.CUT) for slot in slots))


def _section(values: Values) -> Loop:
    """Return the section of a slot in (along the axis, across)."""
    mouth, floor, half = values["from"], values["to"], values["width"] / 2.0
    if mouth == floor:
        raise Impossible("to", f"starts and ends at {floor:g}", "must differ from `from`")
    if values.choices["floor"] == "flat":
        return corners([(mouth, -half), (floor, -half), (floor, half), (mouth, half)])
    if abs(floor - mouth) < half:
        wrong = f"round floor of radius {half:g} in a slot {abs(floor - mouth):g} deep"
        raise Impossible("width", wrong, "must be at most twice the depth")
    way = math.copysign(1.0, floor - mouth)
    spring = floor - way * half
    arc = bows((spring, -half), (spring, half), (spring, 0.0), left=way > 0.0)
    sides = () if spring == mouth else (Straight(mouth, -half, spring, -half), Straight(spring, half, mouth, half))
    return (*sides[:1], *arc, *sides[1:], Straight(mouth, half, mouth, -half))


def stated(values: Values) -> tuple[Statement, ...]:
    """State where the slots interrupt the part."""
    return Disturbed(*span(values["from"], values["to"])), Unmeasured("the slots")
