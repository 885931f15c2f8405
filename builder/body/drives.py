"""Sockets: a profile sunk into a head, with the drill's point at its floor and a chamfered mouth if wanted."""

from builder.body.axial import FLOOR, OPENING, between, point_depth, sunk, way
from builder.body.contour import Loop, reach
from builder.body.extruded import Extruded
from builder.body.feature import NAME, Impossible, Lowered, Parameter, Values
from builder.body.solid import Fit, Piece

SOCKET = (
    OPENING,
    FLOOR,
    Parameter("point_angle", "Included angle of the drilled floor, degrees; 0 for a flat floor.", False, "0"),
    Parameter("mouth", "Diameter of a 90 degree chamfer round the opening; 0 for none.", False, "0"),
    NAME,
)


def socket(values: Values, profile: Loop, drill: float) -> Lowered:
    """Lower a socket: its profile, the point of a drill of a radius, and the chamfer of its mouth."""
    direction, start, end = way(values), values["from"], values["to"]
    pieces = [Piece(between(Extruded(profile, start, end)), values.feature, Fit.SUNK)]
    if values["point_angle"]:
        cone = sunk(end, direction, [(0.0, drill), (point_depth(values, drill), 0.0)])
        pieces.append(Piece(cone, values.feature, Fit.SUNK))
    if values["mouth"]:
        mouth, narrow = values["mouth"] / 2.0, min(reach(profile)[2], reach(profile)[3]) * 0.5
        if mouth <= drill:
            wrong = f"mouth of {2.0 * mouth:g} on a socket {2.0 * drill:g} wide"
            raise Impossible("mouth", wrong, "must be wider than the socket")
        cone = sunk(start, direction, [(0.0, mouth), (mouth - narrow, narrow)])
        pieces.append(Piece(cone, values.feature, Fit.SUNK))
    return Lowered(tuple(pieces))
