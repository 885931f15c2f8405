"""The ring of an eye bolt, a ring nut or a link: round in section, its plane through the axis."""

import math

from builder.body.around import direction
from builder.body.contour import bows
from builder.body.feature import NAME, Lowered, Parameter, Values, require_positive
from builder.body.solid import AxisMark, Fit, Piece
from builder.body.statement import Disturbed, Reach, Statement, Unmeasured
from builder.body.turned import Turned
from builder.body.vectors import Place, cross, radial

KIND = "eye"
DOC = "A ring of round section whose plane contains the axis: of an eye bolt, a ring nut, a link."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Inner diameter of the ring."),
    Parameter("section", "Diameter of the ring's round section."),
    Parameter("at", "Place on the axis of the ring's centre."),
    direction("direction"),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to a torus and its axis."""
    require_positive(values, "diameter", "section")
    section, centre = values["section"] / 2.0, (values["diameter"] + values["section"]) / 2.0
    up = radial(math.radians(values["direction"]))
    place = Place((values["at"], 0.0, 0.0), cross((1.0, 0.0, 0.0), up), up)
    there = bows((section, centre), (-section, centre), (0.0, centre), left=True)
    back = bows((-section, centre), (section, centre), (0.0, centre), left=True)
    mark = AxisMark(place.world((section, 0.0, 0.0)), place.world((-section, 0.0, 0.0)), centre + section)
    return Lowered((Piece(Turned((*there, *back), place), values.feature, Fit.ADDED),), axes=(mark,))


def stated(values: Values) -> tuple[Statement, ...]:
    """State how far the ring reaches; its section meets others where it may."""
    at, section, ring = values["at"], values["section"], values["diameter"] + values["section"]
    _, y, z = radial(math.radians(values["direction"]))
    reach = Reach((at, 0.0, 0.0), (0.0, -z, y), ring / 2.0, section / 2.0)
    outer = ring / 2.0 + section / 2.0
    return reach, Disturbed(at - outer, at + outer, adds=True), Unmeasured("where the ring meets the shank")
