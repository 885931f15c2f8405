"""A row of rollers round a circle."""

import math
from collections.abc import Iterator

from builder.body.contour import Loop
from builder.body.curves import RingArc
from builder.body.feature import NAME, Impossible, Lowered, Parameter, Values, require_positive
from builder.body.outlined import loop_of
from builder.body.solid import AxisMark, Fit, Piece, PitchMark
from builder.body.statement import EVERYWHERE, Disturbed, Pattern, Reach, Statement, Unmeasured
from builder.body.turned import Turned
from builder.body.vectors import Place, Vector, add, radial
from builder.words.knot import Knot
from builder.words.limits import COUNT

KIND = "rollers"
DOC = "A row of cylindrical or tapered rollers round a circle about the axis: those of a roller bearing."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of a roller at its near end."),
    Parameter("end_diameter", "Diameter at its far end.", required=False, default="diameter"),
    Parameter("length", "Length of a roller along its own axis."),
    Parameter("circle", "Diameter of the circle through their middles."),
    Parameter("at", "Place of that circle on the axis."),
    Parameter("count", "How many.", most=COUNT),
    Parameter("first", "Angle of the first from the top, degrees.", required=False, default="0"),
    Parameter(
        "tilt",
        "Angle between a roller's axis and the part's, degrees; + where the far end leans outward.",
        required=False,
        default="0",
    ),
    Parameter("rounding_radius", "Radius of the edges; 0 for sharp ones.", required=False, default="0"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one solid a roller, with the axis of each and the circle of all."""
    require_positive(values, "diameter", "end_diameter", "length", "circle", "count")
    _check(values)
    loop, half = _loop(values), values["length"] / 2.0
    reach = max(values["diameter"], values["end_diameter"]) / 2.0
    pieces, axes = [], []
    for place in _places(values):
        pieces.append(Piece(Turned(loop, place), values.feature, Fit.ADDED))
        axes.append(AxisMark(place.world((-half, 0.0, 0.0)), place.world((half, 0.0, 0.0)), reach))
    return Lowered(tuple(pieces), axes=(*axes, PitchMark(RingArc(values["at"], values["circle"] / 2.0))))


def _loop(values: Values) -> Loop:
    half, rounding = values["length"] / 2.0, values["rounding_radius"]
    if rounding < 0.0:
        raise Impossible("rounding_radius", f"rounding radius is {rounding:g}", "must not be less than 0")
    edges = Knot(-half, values["diameter"] / 2.0, rounding), Knot(half, values["end_diameter"] / 2.0, rounding)
    return loop_of((Knot(-half, 0.0), *edges, Knot(half, 0.0)), "rounding_radius")


def _places(values: Values) -> Iterator[Place]:
    tilt, count = math.radians(values["tilt"]), round(values["count"])
    c, s = math.cos(tilt), math.sin(tilt)
    for n in range(count):
        out = radial(math.radians(values["first"] + 360.0 * n / count))
        yield Place(
            add((values["at"], 0.0, 0.0), out, values["circle"] / 2.0), _leaning(out, c, s), _leaning(out, -s, c)
        )


def _leaning(out: Vector, along: float, across: float) -> Vector:
    return add((along, 0.0, 0.0), out, across)


def _check(values: Values) -> None:
    """Raise Impossible where rollers stand upright or meet each other at either end."""
    if not -90.0 < values["tilt"] < 90.0:
        raise Impossible("tilt", f"tilt is {values['tilt']:g} degrees", "must lie between -90 and 90")
    count = round(values["count"])
    if abs(values["count"] - count) > 1e-9:
        raise Impossible("count", f"count is {values['count']:g}", "must be a whole number")
    lean = values["length"] * math.sin(math.radians(values["tilt"]))
    for diameter, circle in (
        (values["diameter"], values["circle"] - lean),
        (values["end_diameter"], values["circle"] + lean),
    ):
        apart = circle * math.sin(math.pi / count)
        if count > 1 and apart < diameter * (1.0 - 1e-9):
            wrong = f"{count} rollers of {diameter:g} stand {apart:g} apart"
            raise Impossible("count", wrong, "must leave them clear of each other: fewer, smaller, or a wider circle")


def stated(values: Values) -> tuple[Statement, ...]:
    """State the row as an end view shows it where the rollers lie along the axis."""
    d, length, circle, at = values["diameter"], values["length"], values["circle"], values["at"]
    if values["tilt"] or values["end_diameter"] != d:
        return Disturbed(*EVERYWHERE, adds=True), Unmeasured("tapered or tilted rollers")
    count, half = round(values["count"]), length / 2.0
    row = Pattern(d, circle, count, values["first"], at - half, at + half, void=False)
    ways = [radial(math.radians(values["first"] + 360.0 * n / count)) for n in range(count)]
    ends = ((x, y * circle / 2.0, z * circle / 2.0) for _, y, z in ways for x in (at - half, at + half))
    return row, *(Reach(end, radius=d / 2.0) for end in ends)
