"""An undercut at a shoulder: a relief with a rounded corner that runs out at a slant."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from builder.body.contour import Contour, Spot, Straight, bows
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
from builder.body.solid import Fit, Piece
from builder.body.statement import Disturbed, Statement, Unmeasured, span
from builder.body.turned import Turned

KIND = "undercut"
DOC = "An undercut of a shaft at a shoulder; with a shoulder depth, of the shoulder's face too."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the shaft."),
    Parameter("at", "Place of the shoulder's face on the axis."),
    Parameter("radius", "Radius in the corner."),
    Parameter("depth", "Depth into the shaft."),
    Parameter("width", "Width along the shaft, from the shoulder's face to the end of the run-out."),
    Parameter("shoulder_depth", "Depth into the shoulder's face; 0 for none.", required=False, default="0"),
    Parameter("run_out_angle", "Angle between run-out and axis, degrees.", required=False, default="15"),
    Parameter(
        "shoulder_angle", "Angle between the relief and the shoulder's face, degrees.", required=False, default="8"
    ),
    Parameter(
        "side",
        "Which end of the shaft stands at the shoulder: `from`, it leads away in +; `to`, it ends there.",
        kind=ParameterKind.CHOICE,
        choices=("from", "to"),
    ),
    NAME,
)
_BEYOND = 0.25  # of a slant's length: the cutter leaves the surface cleanly


@dataclass(frozen=True, slots=True)
class _Relief:
    """The relief's section: how far from the shoulder's face, and how far above the shaft's surface."""

    radius: float
    centre: Spot  # of the corner's arc
    start: Spot  # where the arc begins, at the shoulder
    mouth: Spot  # where the relief opens in the shoulder's face, and beyond
    floor_end: Spot
    out: Spot  # beyond the end of the run-out


def lower(values: Values) -> Lowered:
    """Lower to a void ring and, where the corner's arc rises above the shaft before the shoulder, a ring that fills."""
    require_positive(values, "diameter", "radius", "depth", "width")
    if 2.0 * values["depth"] >= values["diameter"]:
        wrong = f"undercut {values['depth']:g} deep in a shaft of {values['diameter']:g}"
        raise Impossible("depth", wrong, "must leave part of the shaft")
    relief = _relief(values)
    cut = Turned(tuple(_placed(_section(relief), relief, values)))
    pieces = [Piece(cut, values.feature, Fit.CUT)]
    if filled := _filling(relief):
        pieces.append(Piece(Turned(tuple(_placed(filled, relief, values))), values.feature, Fit.ADDED))
    return Lowered(tuple(pieces))


def _relief(values: Values) -> _Relief:
    radius, depth, width, inward = (values[n] for n in ("radius", "depth", "width", "shoulder_depth"))
    slope = depth / math.tan(math.radians(require_angle(values, "run_out_angle")))
    centre = (radius - inward, radius - depth)
    if width - slope < centre[0]:
        least = slope + max(centre[0], 0.0)
        raise Impossible(
            "width", f"undercut is {width:g} wide", f"must be at least {least:g} for its radius and run-out"
        )
    start, mouth = _shoulder(values, centre)
    out = (width + _BEYOND * slope, _BEYOND * depth)
    return _Relief(radius, centre, start, mouth, (width - slope, -depth), out)


def _shoulder(values: Values, centre: Spot) -> tuple[Spot, Spot]:
    """Return where the arc begins and how the relief goes on from there, out of the shoulder's face."""
    radius, inward = values["radius"], values["shoulder_depth"]
    if inward == 0.0:
        return (0.0, centre[1]), (0.0, centre[1] + _BEYOND * radius)
    angle = math.radians(require_angle(values, "shoulder_angle"))
    start = (centre[0] - radius * math.cos(angle), centre[1] + radius * math.sin(angle))
    if start[0] >= 0.0:
        wrong = f"shoulder depth is {inward:g} with a radius of {radius:g}"
        least = radius * (1.0 - math.cos(angle))
        raise Impossible("shoulder_depth", wrong, f"must be 0 or greater than {least:g}")
    reach = -start[0] * (1.0 + _BEYOND)
    return start, (start[0] + reach, start[1] + reach / math.tan(angle))


_Mark = tuple[Spot, bool]  # a corner of a section, and whether the corner's arc leads to the next


def _section(relief: _Relief) -> Sequence[_Mark]:
    top = max(relief.mouth[1], relief.out[1])
    bottom = (relief.centre[0], relief.floor_end[1])
    sharp = [bottom, relief.floor_end, relief.out, (relief.out[0], top), (relief.mouth[0], top), relief.mouth]
    return [(relief.start, True), *((spot, False) for spot in sharp)]


def _filling(relief: _Relief) -> Sequence[_Mark]:
    """Return the corner between shoulder and shaft that the arc fills; nothing where the arc lies within them."""
    (u, v), radius = relief.centre, relief.radius
    if min(u, v) <= 0.0 or u * u + v * v <= radius * radius * (1.0 + 1e-9):
        return ()
    high, wide = (side - math.sqrt(max(0.0, radius**2 - off**2)) for side, off in ((v, u), (u, v)))
    return [((0.0, high), True), ((wide, 0.0), False), ((0.0, 0.0), False)]


def _placed(marks: Sequence[_Mark], relief: _Relief, values: Values) -> Iterator[Contour]:
    """Place a section at the shoulder; corners that fall together count once."""
    leads = values.choices["side"] == "from"

    def place(spot: Spot) -> Spot:
        return values["at"] + (spot[0] if leads else -spot[0]), values["diameter"] / 2.0 + spot[1]

    for (spot, arc), (after, _) in pairwise([*marks, marks[0]]):
        if math.dist(spot, after) <= 1e-9 * relief.radius:
            continue
        if arc:
            yield from bows(place(spot), place(after), place(relief.centre), left=leads)
        else:
            yield Straight(*place(spot), *place(after))


def stated(values: Values) -> tuple[Statement, ...]:
    """State where the relief interrupts shaft and shoulder."""
    way = 1.0 if values.choices["side"] == "from" else -1.0
    ends = values["at"] - way * values["shoulder_depth"], values["at"] + way * values["width"]
    return Disturbed(*span(*ends)), Unmeasured("the undercut")
