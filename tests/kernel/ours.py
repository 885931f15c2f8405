"""Everything of the builder that the comparison touches: bodies from stated features, and their views as strokes."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from builder.body import measure
from builder.body.catalogue import feature_kinds
from builder.body.feature import ParameterKind, Values
from builder.body.solid import Body
from builder.body.soundness import misfits_of
from builder.view.catalogue import view_kinds
from builder.view.draw import outlines
from builder.view.frame import Cut, Frame
from builder.words.formula import parse_formula
from builder.words.knot import Knot
from builder.words.problems import Position, Problems
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Shape
from kernel.compare import Exempt
from kernel.hlr import Sight
from kernel.shapes import Knot as Corner
from kernel.shapes import Profile
from kernel.solids import Stated
from kernel.strokes import CHORD, LONGEST, Array, Stroke, Truth

# The hyperbola of a chamfer on a flat is drawn as one arc where that comes so near, of the width across flats.
TRADE_ARC = 0.0025
_POLYGONS = ("hexagon", "octagon", "square", "twelve_point")


def stated(
    kind: str,
    numbers: Mapping[str, float],
    profiles: Mapping[str, Profile] | None = None,
    name: str = "",
    **choices: str,
) -> Stated:
    """State a feature as a definition would, with the defaults that its kind documents filled in."""
    values, chosen = {}, {}
    for parameter in feature_kinds()[kind].PARAMETERS:
        if parameter.kind is ParameterKind.CHOICE:
            chosen[parameter.name] = choices.get(parameter.name, parameter.default or "")
        elif parameter.name in numbers:
            values[parameter.name] = numbers[parameter.name]
        elif parameter.default is not None:
            formula = parse_formula(parameter.default, Position("default"), Problems())
            assert formula is not None
            values[parameter.name] = formula.value(values)
    unknown = (set(numbers) - set(values)) | (set(choices) - set(chosen))
    assert not unknown, f"{kind} has no {', '.join(sorted(unknown))}"
    return Stated(kind, values, chosen, profiles or {}, name or kind)


def body_of(features: Iterable[Stated], whole: bool = False) -> Body:
    """Return our body of stated features; one that is `whole` is not cut in sections."""
    pieces, threads = [], []
    for feature in features:
        profiles = {name: tuple(map(_knot, profile)) for name, profile in feature.profiles.items()}
        values = Values(feature.name, feature.numbers, feature.choices, profiles)
        lowered = feature_kinds()[feature.kind].lower(values)
        pieces.extend(lowered.pieces)
        threads.extend(lowered.threads)
    return Body(tuple(pieces), tuple(threads), whole=whole)


def _knot(corner: Corner | tuple[float, float]) -> Knot:
    return Knot(corner.x, corner.y, corner.radius, corner.arc) if isinstance(corner, Corner) else Knot(*corner)


def is_sound(body: Body) -> bool:
    """Tell whether a definition may state such a body."""
    return not list(misfits_of(body))


def volume(body: Body) -> float:
    """Return our volume of a body."""
    return measure.volume(body)


def frames(turn: float = 0.0) -> Mapping[str, Frame]:
    """Return how each kind of view looks at a part, each way of looking once, under the name of its first kind.

    `turn` rolls the views further about the axis, degrees. A broken view moves what it draws and has no counterpart;
    what it moves is a side view.
    """
    found: dict[str, Frame] = {}
    for kind in view_kinds().values():
        frame = kind.look(math.radians(kind.roll + turn))
        if kind.name != "broken side" and not any(_same(frame, other) for other in found.values()):
            found[kind.name] = frame
    return found


def _same(a: Frame, b: Frame) -> bool:
    return a.cut is b.cut and np.allclose((a.right, a.up, a.toward), (b.right, b.up, b.toward))


def sight_of(frame: Frame) -> Sight:
    """Return the frame's direction of sight."""
    return Sight(frame.right, frame.up, frame.toward)


def is_half(frame: Frame) -> bool:
    """Tell a half section."""
    return frame.cut is Cut.HALF


def bow_of(features: Iterable[Stated]) -> float:
    """Return how far our arcs may lie from the true curves where they stand for them by convention."""
    chamfered = [f for f in features if f.kind in _POLYGONS and f.choices["chamfer"] != "none"]
    return max((TRADE_ARC * f.numbers["across_flats"] for f in chamfered), default=0.0)


def exempt_of(frame: Frame, slack: float) -> tuple[Exempt, ...]:
    """Return what drafting convention draws otherwise than a solid looks, in a frame."""

    def on_axis(points: Array) -> Truth:
        return np.abs(points[:, 1]) < slack

    # ISO 128: the axis, not an outline, divides the cut half from the other.
    return (Exempt("border of a half section", on_axis),) if is_half(frame) else ()


def drawn(bodies: Sequence[Body], frame: Frame) -> list[Stroke]:
    """Return our projected edges as strokes; sections show nothing hidden."""
    strokes = [
        Stroke(_points(shape), shape.role is Role.OUTLINE)
        for shape in outlines(bodies, frame)
        if shape.role in (Role.OUTLINE, Role.HIDDEN)
    ]
    return [stroke for stroke in strokes if stroke.visible or not frame.cuts]


def _points(shape: Shape) -> Array:
    match shape:
        case Line():
            return np.array((shape.start, shape.end))
        case Circle():
            return _round(Arc(shape.centre, shape.radius, 0.0, 360.0, shape.role))
        case Arc() | Ellipse():
            return _round(shape)
    raise AssertionError(shape)


def _round(shape: Arc | Ellipse) -> Array:
    steps = max(round(1.0 / LONGEST), math.ceil((shape.end - shape.start) / math.degrees(CHORD)))
    return np.array(list(_places(shape, steps)))


def _places(shape: Arc | Ellipse, steps: int) -> Iterator[tuple[float, float]]:
    return (shape.at(shape.start + (shape.end - shape.start) * n / steps) for n in range(steps + 1))
