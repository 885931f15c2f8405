"""A bend of round bar or pipe off the axis: an elbow, a hook, a U-bolt."""

import math
from collections.abc import Iterator

from builder.body.around import direction
from builder.body.contour import bows
from builder.body.curves import RingArc
from builder.body.feature import NAME, Impossible, Lowered, Parameter, Values, require_positive
from builder.body.solid import AxisMark, Fit, Piece, PitchMark, Solid
from builder.body.statement import Disturbed, Statement, Unmeasured
from builder.body.turned import Turned, cylinder
from builder.body.vectors import Place, cross, radial

KIND = "bend"
DOC = "A bend of round bar or pipe that leads off the axis, with a straight tail if wanted: an elbow, a U-bolt."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Outer diameter of the bar or pipe."),
    Parameter("at", "Place on the axis where the bend begins; it leads on from there."),
    Parameter("radius", "Radius of the centre line."),
    Parameter("angle", "How far it bends, degrees, at most 180.", required=False, default="90"),
    direction("direction"),
    Parameter("bore", "Inner diameter; 0 for solid bar.", required=False, default="0"),
    Parameter("tail", "Length of the straight tail after the bend.", required=False, default="0"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to part of a torus, a cylinder for the tail, the same again for the bore, and the centre line."""
    require_positive(values, "diameter", "radius")
    _check(values)
    sweep, outward = math.radians(values["angle"]), radial(math.radians(values["direction"]))
    centre = (values["at"], values["radius"] * outward[1], values["radius"] * outward[2])
    back, ahead = (0.0, -outward[1], -outward[2]), (1.0, 0.0, 0.0)
    about = Place(centre, cross(back, ahead), back)  # turns from the axis, first ahead, then outward
    end = about.world((0.0, values["radius"] * math.cos(sweep), values["radius"] * math.sin(sweep)))
    tail = Place(end, about.world_direction((0.0, -math.sin(sweep), math.cos(sweep))), about.x)
    solids = [Piece(s, values.feature, Fit.ADDED, centred=False) for s in _lengths(values, "diameter", about, tail)]
    voids = [Piece(s, values.feature, Fit.CUT, centred=False) for s in _lengths(values, "bore", about, tail)]
    axes: list[AxisMark | PitchMark] = [PitchMark(RingArc(0.0, values["radius"], 0.0, sweep, about))]
    if values["tail"]:
        axes.append(AxisMark(end, tail.world((values["tail"], 0.0, 0.0)), values["diameter"] / 2.0))
    return Lowered((*solids, *voids), axes=tuple(axes))


def _lengths(values: Values, width: str, about: Place, tail: Place) -> Iterator[Solid]:
    """Return the bend and the tail of one width; nothing of none."""
    radius, line = values[width] / 2.0, values["radius"]
    if radius == 0.0:
        return
    there = bows((radius, line), (-radius, line), (0.0, line), left=True)
    back = bows((-radius, line), (radius, line), (0.0, line), left=True)
    yield Turned((*there, *back), about, (0.0, math.radians(values["angle"])))
    if values["tail"]:
        yield cylinder(0.0, values["tail"], radius, tail)


def _check(values: Values) -> None:
    diameter, bore, radius = values["diameter"], values["bore"], values["radius"]
    if not 0.0 < values["angle"] <= 180.0:
        wrong = f"bends {values['angle']:g} degrees"
        raise Impossible("angle", wrong, "must be greater than 0 and at most 180")
    if 2.0 * radius <= diameter:
        wrong = f"centre line of radius {radius:g} in a bar of {diameter:g}"
        raise Impossible("radius", wrong, "must be more than half of the diameter")
    if not 0.0 <= bore < diameter:
        raise Impossible("bore", f"bore of {bore:g} in a diameter of {diameter:g}", "must be less than the diameter")
    if values["tail"] < 0.0:
        raise Impossible("tail", f"tail is {values['tail']:g}", "must be at least 0")


def stated(values: Values) -> tuple[Statement, ...]:
    """State where the bend disturbs the run; its own shape is not measured."""
    half = values["diameter"] / 2.0
    return Disturbed(values["at"] - half, math.inf, adds=True), Unmeasured("the bend")
