"""Features that reach in from a face along the axis, either way: `from` is the face, `to` the far end."""

import math
from collections.abc import Sequence

from builder.body.contour import Spot, corners
from builder.body.extruded import Extruded
from builder.body.feature import Impossible, Parameter, ParameterKind, Values, require_angle
from builder.body.turned import Turned

OPENING = Parameter("from", "Place on the axis of the face that it opens in.")
FLOOR = Parameter("to", "Place on the axis where it ends; on either side of `from`, whichever way it goes in.")
BOTTOM = Parameter("bottom", "How it ends.", False, "through", ParameterKind.CHOICE, ("through", "flat", "drill"))
POINT = Parameter("point_angle", "Included angle of the drill's point, degrees.", required=False, default="118")
RUN_OUT = Parameter("run_out", "Length of incomplete thread beyond the full thread; drawn if more than 0.", False, "0")


def way(values: Values) -> float:
    """Return +1 for a feature that reaches toward +X, -1 for the other; Impossible where it has no depth."""
    if values["from"] == values["to"]:
        raise Impossible("to", f"starts and ends at {values['to']:g}", "must end away from where it starts")
    return math.copysign(1.0, values["to"] - values["from"])


def sunk(start: float, direction: float, spots: Sequence[Spot]) -> Turned:
    """Return a turned leaf through places (depth from `start`, radius), closed along the axis."""
    outline = [
        (start + direction * depth, radius) for depth, radius in (*spots, (spots[-1][0], 0.0), (spots[0][0], 0.0))
    ]
    return Turned(corners(outline))


def point_depth(values: Values, radius: float) -> float:
    """Return how deep the point of a drill reaches beyond its full diameter."""
    return radius / math.tan(math.radians(require_angle(values, "point_angle", below=180.0) / 2.0))


def run_out(values: Values, limits: Sequence[float]) -> float:
    """Return the length of incomplete thread; Impossible unless full thread ends in the material to run out there."""
    length = values["run_out"]
    if length < 0.0:
        raise Impossible("run_out", f"run-out is {length:g}", "must not be less than 0")
    if length > 0.0 and not limits:
        raise Impossible("run_out", f"run-out of {length:g} on a thread from face to face", "must be 0")
    return length


def between(profile: Extruded) -> Extruded:
    """Return an extrusion with its ends in order."""
    first, last = sorted((profile.start, profile.end))
    return Extruded(profile.loop, first, last, profile.place)
