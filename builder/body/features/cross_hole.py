"""A hole across the axis: for a split pin, a spring pin, oil, a tommy bar."""

import math

from builder.body.around import direction
from builder.body.contour import Spot, corners
from builder.body.feature import (
    NAME,
    Impossible,
    Lowered,
    Parameter,
    ParameterKind,
    Values,
    require_angle,
    require_positive,
)
from builder.body.solid import AxisMark, Fit, Piece
from builder.body.statement import Disturbed, Statement
from builder.body.turned import Turned
from builder.body.vectors import across

KIND = "cross_hole"
DOC = "A round hole across the axis, through the part or through its near wall, countersunk if wanted."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the hole."),
    Parameter("at", "Place on the axis that the hole's own axis crosses."),
    Parameter("outer", "Diameter of the surface that the hole goes through."),
    direction("angle"),
    Parameter(
        "through",
        "both: right through; near: from the side that `angle` names to `depth`.",
        required=False,
        default="both",
        kind=ParameterKind.CHOICE,
        choices=("both", "near"),
    ),
    Parameter(
        "depth", "Depth of a hole from one side; to the axis unless stated.", required=False, default="outer / 2"
    ),
    Parameter("countersink_diameter", "Diameter of the countersink; 0 for none.", required=False, default="0"),
    Parameter("countersink_angle", "Included angle of the countersink, degrees.", required=False, default="90"),
    NAME,
)
_BEYOND = 1.25  # how far the drill reaches out of the part, of its radius


def lower(values: Values) -> Lowered:
    """Lower to one void turned about the hole's own axis, and that axis."""
    require_positive(values, "diameter", "outer", "depth")
    radius, surface = values["diameter"] / 2.0, values["outer"] / 2.0
    if radius >= surface:
        wrong = f"hole of {values['diameter']:g} across a diameter of {values['outer']:g}"
        raise Impossible("diameter", wrong, "must be less than the diameter that it goes through")
    place = across(math.radians(values["angle"]), (values["at"], 0.0, 0.0))
    mouth = _mouth(values, radius, surface)
    if values.choices["through"] == "both":
        end, spots = -surface, [(-x, r) for x, r in reversed(mouth)]
    else:
        end = _floor(values, surface, mouth[0][0] if len(mouth) > 1 else surface)
        spots = [(end, 0.0), (end, radius)]
    void = Turned(corners([*spots, *mouth]), place)
    mark = AxisMark(place.world((surface, 0.0, 0.0)), place.world((end, 0.0, 0.0)), radius)
    return Lowered((Piece(void, values.feature, Fit.CUT),), axes=(mark,))


def _floor(values: Values, surface: float, room: float) -> float:
    depth = values["depth"]
    if depth >= 2.0 * surface:
        wrong = f"hole {depth:g} deep in a diameter of {2.0 * surface:g}"
        raise Impossible("depth", wrong, "must be less than the diameter, or the hole goes through both walls")
    floor = surface - depth
    if floor >= room:
        raise Impossible("depth", f"hole {depth:g} deep ends in its countersink", "must be deeper than the countersink")
    return floor


def _mouth(values: Values, radius: float, surface: float) -> list[Spot]:
    """Return the contour from the hole's wall outward and back to its axis, clear of the part."""
    reach, sink = _BEYOND * surface, values["countersink_diameter"] / 2.0
    if sink == 0.0:
        return [(reach, radius), (reach, 0.0)]
    if not radius < sink < surface:
        wrong = f"countersink of {2.0 * sink:g} on a hole of {2.0 * radius:g} in a diameter of {2.0 * surface:g}"
        raise Impossible("countersink_diameter", wrong, "must be wider than the hole and less than the part")
    slope = math.tan(math.radians(require_angle(values, "countersink_angle", below=180.0)) / 2.0)
    deep = surface - (sink - radius) / slope
    if deep <= 0.0:
        wrong = f"countersink of {2.0 * sink:g} reaches {surface - deep:g} deep, past the axis"
        raise Impossible("countersink_diameter", wrong, f"must be less than {surface:g} deep")
    return [(deep, radius), (reach, sink + (reach - surface) * slope), (reach, 0.0)]


def stated(values: Values) -> tuple[Statement, ...]:
    """State the hole as one sees it who looks along it."""
    widest = max(values["diameter"], values["countersink_diameter"])
    span = values["at"] - widest / 2.0, values["at"] + widest / 2.0
    return (Disturbed(*span, values["diameter"], values["angle"], values.choices["through"] == "both"),)
