"""A round branch off the run: of a tee, a lateral, a boss across the axis."""

import math

from builder.body.around import direction
from builder.body.feature import NAME, Impossible, Lowered, Parameter, Values, require_angle, require_positive
from builder.body.solid import AxisMark, Fit, Piece
from builder.body.statement import Disturbed, Reach, Statement, Unmeasured
from builder.body.turned import cylinder
from builder.body.vectors import Place, radial

KIND = "branch"
DOC = "A round branch off the axis, solid or bored through to it: of a tee, a lateral, a boss."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Outer diameter of the branch."),
    Parameter("at", "Place on the axis from which it branches."),
    Parameter("length", "From the axis to the branch's face."),
    Parameter("bore", "Inner diameter; 0 for a solid branch.", required=False, default="0"),
    direction("angle"),
    Parameter(
        "inclination",
        "Angle between the branch and the axis ahead, degrees.",
        required=False,
        default="90",
    ),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to a cylinder from the axis outward, its bore and its axis."""
    require_positive(values, "diameter", "length")
    inclined = math.radians(require_angle(values, "inclination", below=180.0))
    diameter, bore, length = values["diameter"], values["bore"], values["length"]
    if not 0.0 <= bore < diameter:
        raise Impossible("bore", f"bore of {bore:g} in a diameter of {diameter:g}", "must be less than the diameter")
    c, s = math.cos(inclined), math.sin(inclined)
    _, y, z = radial(math.radians(values["angle"]))
    place = Place((values["at"], 0.0, 0.0), (c, s * y, s * z), (s, -c * y, -c * z))
    pieces = [Piece(cylinder(0.0, length, diameter / 2.0, place), values.feature, Fit.ADDED, centred=False)]
    if bore:
        pieces.append(Piece(cylinder(0.0, length, bore / 2.0, place), values.feature, Fit.CUT, centred=False))
    mark = AxisMark(place.origin, place.world((length, 0.0, 0.0)), diameter / 2.0)
    return Lowered(tuple(pieces), axes=(mark,))


def stated(values: Values) -> tuple[Statement, ...]:
    """State how far the branch reaches, and where it disturbs the run."""
    inclined, reach = math.radians(values["inclination"]), values["diameter"] / 2.0
    c, s = math.cos(inclined), math.sin(inclined)
    _, y, z = radial(math.radians(values["angle"]))
    axis, length, at = (c, s * y, s * z), values["length"], values["at"]
    face = (at + length * axis[0], length * axis[1], length * axis[2])
    span = (reach + abs(c) * length) / s
    cut = Disturbed(at - span, at + span, adds=True)
    return Reach(face, axis, reach), cut, Unmeasured("where the branch meets the run")
