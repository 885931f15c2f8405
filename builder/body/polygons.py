"""Heads of regular polygons within a turned contour that chamfers narrow at their ends."""

import math
from collections.abc import Iterator

from builder.body.common import Common
from builder.body.contour import Loop, Spot, corners
from builder.body.curves import Segment
from builder.body.extruded import Extruded
from builder.body.feature import (
    FROM,
    NAME,
    TO,
    Impossible,
    Lowered,
    Parameter,
    ParameterKind,
    Values,
    ends,
    require_angle,
    require_positive,
    require_stretch,
)
from builder.body.solid import FlatMark, Piece, Solid
from builder.body.turned import Turned
from builder.body.vectors import unit

HEAD = (
    Parameter("across_flats", "Width across flats."),
    FROM,
    TO,
    ends("chamfer", "Which ends carry the chamfer."),
    Parameter("chamfer_angle", "Angle between chamfer and end face, degrees.", required=False, default="30"),
    Parameter(
        "chamfer_diameter",
        "Diameter of the chamfer's circle on the end face.",
        required=False,
        default="0.95 * across_flats",
    ),
    Parameter(
        "marked",
        "Whether thin diagonals mark the faces: of a square shank or end.",
        required=False,
        default="no",
        kind=ParameterKind.CHOICE,
        choices=("no", "yes"),
    ),
    NAME,
)


def regular(sides: int, across_flats: float, turn: float = 0.0) -> Loop:
    """Return a regular polygon whose first face looks at an angle, radians."""
    corner = across_flats / 2.0 / math.cos(math.pi / sides)
    return corners([_spot(corner, turn + math.pi / sides * (2 * n - 1)) for n in range(sides)])


def star(points: int, across_flats: float) -> Loop:
    """Return the outline of a double polygon, such as the twelve-point: two of half its points, half a face apart."""
    half = points // 2
    outer = across_flats / 2.0 / math.cos(math.pi / half)
    inner = across_flats / 2.0 / math.cos(math.pi / points)
    step = math.pi / points
    return corners([_spot(inner if n % 2 else outer, step * n) for n in range(2 * points)])


def _spot(radius: float, angle: float) -> Spot:
    return radius * math.cos(angle), radius * math.sin(angle)


def head(values: Values, profile: Loop) -> Lowered:
    """Lower a head to its profile, extruded, and what it has in common with the contour of its chamfers."""
    require_positive(values, "across_flats", "chamfer_angle", "chamfer_diameter")
    require_stretch(values)
    prism = Extruded(profile, values["from"], values["to"])
    corner = max(math.hypot(piece.a0, piece.b0) for piece in profile)
    solid: Solid = prism
    if values.choices["chamfer"] != "none":
        solid = Common((prism, _contour(values, corner * 1.01)))
    marks = _marks(values, profile, corner) if values.choices["marked"] == "yes" else ()
    return Lowered((Piece(solid, values.feature),), flats=tuple(marks))


def _marks(values: Values, profile: Loop, corner: float) -> Iterator[FlatMark]:
    """Return the diagonals of the faces, between the places where chamfers reach the corners."""
    chamfered = values.choices["chamfer"]
    depth = _depth(values, corner) if chamfered != "none" else 0.0
    start = values["from"] + depth * (chamfered in ("from", "both"))
    end = values["to"] - depth * (chamfered in ("to", "both"))
    for piece in profile:
        (y0, z0), (y1, z1) = piece.at(0.0), piece.at(1.0)
        diagonals = Segment((start, y0, z0), (end, y1, z1)), Segment((start, y1, z1), (end, y0, z0))
        yield FlatMark(values.feature, diagonals, unit((0.0, z1 - z0, y0 - y1)))


def _contour(values: Values, reach: float) -> Turned:
    """Return a contour that runs from the chamfers' circles to just outside the corners."""
    start, end, chamfered = values["from"], values["to"], values.choices["chamfer"]
    circle, depth = values["chamfer_diameter"] / 2.0, _depth(values, reach)
    spots = [(start, 0.0)]
    spots += [(start, circle), (start + depth, reach)] if chamfered in ("from", "both") else [(start, reach)]
    spots += [(end - depth, reach), (end, circle)] if chamfered in ("to", "both") else [(end, reach)]
    return Turned(corners([*spots, (end, 0.0)]))


def _depth(values: Values, reach: float) -> float:
    """Return how far along the axis the chamfer runs to a radius just outside the corners."""
    angle = require_angle(values, "chamfer_angle")
    circle, flats = values["chamfer_diameter"], values["across_flats"]
    if circle > flats:
        wrong = f"chamfer circle of {circle:g} is wider than the {flats:g} across flats"
        raise Impossible("chamfer_diameter", wrong, "must be at most the width across flats")
    depth = (reach - circle / 2.0) * math.tan(math.radians(angle))
    room = (values["to"] - values["from"]) / (2.0 if values.choices["chamfer"] == "both" else 1.0)
    if depth >= room:
        wrong = f"chamfer reaches {depth:g} along a head with room for {room:g}"
        raise Impossible("chamfer_diameter", wrong, "must leave part of the flats standing")
    return depth
