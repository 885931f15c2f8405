"""A groove turned into the outside."""

from builder.body.contour import Contour, Straight, bows
from builder.body.feature import (
    FROM,
    NAME,
    TO,
    Impossible,
    Lowered,
    Parameter,
    Values,
    require_positive,
    require_stretch,
)
from builder.body.solid import Fit, Piece
from builder.body.statement import Bow, Disturbed, Round, Statement
from builder.body.turned import Turned

KIND = "groove"
DOC = "A groove turned into the outside: for a retaining ring, an O-ring, a thread's run-out."
THREADED = False
PARAMETERS = (
    Parameter("diameter", "Diameter of the floor."),
    Parameter("outer", "Diameter of the surface that it is cut into."),
    FROM,
    TO,
    Parameter(
        "radius",
        "Radius of the corners at the floor; half the width for a full round floor; 0 for sharp corners.",
        required=False,
        default="0",
    ),
    NAME,
)
_BEYOND = 0.25  # of the depth: the cutter leaves the surface cleanly


def lower(values: Values) -> Lowered:
    """Lower to one void ring."""
    require_positive(values, "diameter", "outer")
    width = require_stretch(values)
    floor, surface, radius = values["diameter"] / 2.0, values["outer"] / 2.0, values["radius"]
    depth = surface - floor
    if depth <= 0.0:
        wrong = f"groove down to {2.0 * floor:g} in a surface of {2.0 * surface:g}"
        raise Impossible("diameter", wrong, "must be less than the diameter that it is cut into")
    if not 0.0 <= radius <= min(width / 2.0 * (1.0 + 1e-9), depth):
        wrong = f"corners of {radius:g} in a groove {width:g} wide and {depth:g} deep"
        raise Impossible("radius", wrong, "must be at most half the width and at most the depth")
    section = Turned(_section(values["from"], values["to"], floor, surface + _BEYOND * depth, radius))
    return Lowered((Piece(section, values.feature, Fit.CUT),))


def _section(start: float, end: float, floor: float, top: float, radius: float) -> tuple[Contour, ...]:
    """Return the section, round from the wall at its start over the floor to its top."""
    full = 2.0 * radius >= (end - start) * (1.0 - 1e-9)
    left = (start + end) / 2.0 if full else start + radius
    right, high = start + end - left, floor + radius
    level: list[Contour] = [] if full else [Straight(left, floor, right, floor)]
    if radius == 0.0:
        rounded = level
    else:
        first = bows((start, high), (left, floor), (left, high), left=True)
        rounded = [*first, *level, *bows((right, floor), (end, high), (right, high), left=True)]
    return (
        Straight(start, top, start, high),
        *rounded,
        Straight(end, high, end, top),
        Straight(end, top, start, top),
    )


def stated(values: Values) -> tuple[Statement, ...]:
    """State the floor between rounded corners, and how far the groove reaches along the axis."""
    start, end, floor, radius = values["from"], values["to"], values["diameter"], values["radius"]
    low, high = start + radius, end - radius
    if not radius:
        return (Round(start, end, floor, floor, void=True, ring=True),)
    cut = Disturbed(start, end)
    wall = floor / 2.0 + radius
    corners = [Bow(radius, x, wall, start, end, floor, 2.0 * wall, "radius", ring=True) for x in {low, high}]
    return cut, *corners
