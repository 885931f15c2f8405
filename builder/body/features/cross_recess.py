"""A cross recess in a head (type H of ISO 4757)."""

import math

from builder.body.axial import OPENING, between, sunk, way
from builder.body.common import Common
from builder.body.contour import Loop, corners
from builder.body.extruded import Extruded
from builder.body.feature import NAME, Impossible, Lowered, Parameter, Values, require_angle, require_positive
from builder.body.solid import Fit, Piece
from builder.body.statement import Statement, Unmeasured

KIND = "cross_recess"
DOC = "A cross recess, type H of ISO 4757, simplified: wings of even width, sharp corners, within one stepped cone."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter across the wings at the face: m of ISO 4757."),
    Parameter("width", "Width of a wing."),
    OPENING,
    Parameter("to", "Place on the axis of its deepest point; on either side of `from`."),
    Parameter("slope", "Angle between the wings' ends and the axis, degrees.", required=False, default="26.5"),
    Parameter(
        "point_angle",
        "Included angle of its conical floor, degrees: 138 to 153 by size in ISO 4757.",
        required=False,
        default="140",
    ),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to what a cross and a cone with a flatter point have in common."""
    require_positive(values, "diameter", "width")
    direction, depth = way(values), abs(values["to"] - values["from"])
    outer, floor = values["diameter"] / 2.0, _floor(values, depth)
    where = (outer - floor) / _rise(values, "slope")
    envelope = sunk(values["from"], direction, [(0.0, outer), (where, floor), (depth, 0.0)])
    cross = between(Extruded(_cross(outer * 1.01, values["width"] / 2.0), values["from"], values["to"]))
    return Lowered((Piece(Common((cross, envelope)), values.feature, Fit.SUNK),))


def _floor(values: Values, depth: float) -> float:
    """Return the radius at which the wings' ends meet the conical floor: both cones' depths make up the recess."""
    outer, half = values["diameter"] / 2.0, values["width"] / 2.0
    steep, flat = 1.0 / _rise(values, "slope"), 1.0 / _rise(values, "point_angle")
    if flat >= steep:
        wrong = f"floor of {values['point_angle']:g} degrees between wings that slope by {values['slope']:g}"
        raise Impossible("point_angle", wrong, "must be more than twice the slope")
    floor = (outer * steep - depth) / (steep - flat)
    if floor >= outer:
        wrong = f"is {depth:g} deep, a floor of {values['point_angle']:g} degrees alone {outer * flat:g}"
        raise Impossible("to", wrong, "must be deeper, or the floor flatter")
    if floor <= half:
        wrong = f"wings {2.0 * floor:g} across at the floor are {2.0 * half:g} wide"
        raise Impossible("to", wrong, "must be less deep, or the wings further across")
    return floor


def _rise(values: Values, name: str) -> float:
    """Return the tangent of a cone's half angle: of the wings' slope, of the floor's included angle."""
    angle = require_angle(values, name, 90.0) if name == "slope" else require_angle(values, name, 180.0) / 2.0
    return math.tan(math.radians(angle))


def _cross(reach: float, half: float) -> Loop:
    """Return the outline of two crossing wings."""
    quarter = [(reach, -half), (reach, half), (half, half)]
    turns = [((1, 0), (0, 1)), ((0, -1), (1, 0)), ((-1, 0), (0, -1)), ((0, 1), (-1, 0))]
    return corners([(a * p + b * q, c * p + d * q) for (a, b), (c, d) in turns for p, q in quarter])


def stated(values: Values) -> tuple[Statement, ...]:
    """State nothing: the recess is a simplification."""
    return (Unmeasured(f"{values.feature}: a cross recess is simplified"),)
