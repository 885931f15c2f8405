"""Holes on a bolt circle: of a flange, a cover, a coupling; counterbored from one side if wanted."""

import math

from builder.body.around import directions, row
from builder.body.contour import Loop, corners
from builder.body.curves import RingArc
from builder.body.feature import (
    FROM,
    NAME,
    TO,
    Impossible,
    Lowered,
    Parameter,
    ParameterKind,
    Values,
    require_positive,
    require_stretch,
)
from builder.body.solid import AxisMark, Fit, Piece, PitchMark
from builder.body.statement import Pattern, Statement
from builder.body.turned import Turned
from builder.body.vectors import Place, radial

KIND = "bolt_holes"
DOC = "Holes along the axis on a bolt circle, with their axes and the circle; counterbored from one side if wanted."
THREADED = False
PARAMETERS = (
    Parameter("circle", "Diameter of the bolt circle."),
    Parameter("diameter", "Diameter of a hole."),
    *row("How many holes.", "Direction of the first hole: degrees from up."),
    FROM,
    TO,
    Parameter("counterbore_diameter", "Diameter of the counterbore; 0 for none.", required=False, default="0"),
    Parameter("counterbore_depth", "Depth of the counterbore.", required=False, default="0"),
    Parameter(
        "counterbored",
        "The end that the counterbore opens in.",
        required=False,
        default="from",
        kind=ParameterKind.CHOICE,
        choices=("from", "to"),
    ),
    NAME,
)


def lower(values: Values) -> Lowered:
    """Lower to one void for each hole, its axis from face to face, and the bolt circle."""
    require_positive(values, "circle", "diameter")
    require_stretch(values)
    angles, widest = directions(values), max(values["diameter"], values["counterbore_diameter"])
    circle, start, end = values["circle"], values["from"], values["to"]
    apart = circle * math.sin(math.pi / len(angles)) if len(angles) > 1 else circle
    if widest >= apart:
        wrong = f"holes of {widest:g} stand {apart:g} apart on a circle of {circle:g}"
        raise Impossible("circle", wrong, "must leave material between holes")
    loop, pieces, marks = _contour(values), [], []
    for angle in angles:
        _, y, z = radial(angle)
        y, z = y * circle / 2.0, z * circle / 2.0
        pieces.append(Piece(Turned(loop, Place((0.0, y, z))), values.feature, Fit.BORED))
        marks.append(AxisMark((start, y, z), (end, y, z), widest / 2.0))
    return Lowered(tuple(pieces), axes=(*marks, PitchMark(RingArc(end, circle / 2.0))))


def _contour(values: Values) -> Loop:
    start, end, radius = values["from"], values["to"], values["diameter"] / 2.0
    wide, depth = values["counterbore_diameter"] / 2.0, values["counterbore_depth"]
    if wide == 0.0:
        return corners([(start, 0.0), (start, radius), (end, radius), (end, 0.0)])
    if wide <= radius:
        wrong = f"counterbore of {2.0 * wide:g} on a hole of {2.0 * radius:g}"
        raise Impossible("counterbore_diameter", wrong, "must be wider than the hole")
    if not 0.0 < depth < end - start:
        wrong = f"counterbore {depth:g} deep in a hole {end - start:g} long"
        raise Impossible("counterbore_depth", wrong, "must be greater than 0 and less than the hole's length")
    if values.choices["counterbored"] == "from":
        step = start + depth
        return corners([(start, 0.0), (start, wide), (step, wide), (step, radius), (end, radius), (end, 0.0)])
    step = end - depth
    return corners([(start, 0.0), (start, radius), (step, radius), (step, wide), (end, wide), (end, 0.0)])


def stated(values: Values) -> tuple[Statement, ...]:
    """State the holes on their circle, and those of the counterbores."""
    numbers = values["circle"], round(values["count"]), values["first"]
    widths = {"diameter": values["diameter"], "counterbore_diameter": values["counterbore_diameter"]}
    start, end, depth = values["from"], values["to"], values["counterbore_depth"]
    sunk = (start, start + depth) if values.choices["counterbored"] == "from" else (end - depth, end)
    spans = {"diameter": (start, end), "counterbore_diameter": sunk}
    return tuple(Pattern(d, *numbers, *spans[name], parameter=name) for name, d in widths.items() if d)
