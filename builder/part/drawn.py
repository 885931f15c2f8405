"""Works out the shapes that a definition draws directly, for one part."""

import math

from builder.body.feature import Impossible
from builder.definition.drawn_kinds import axes_of
from builder.definition.family import DrawnSpec
from builder.part.faults import Figures, NoNumber
from builder.words.outline import KnotFault, outline
from builder.words.regions import Region
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Shape, Text

_TURN = 360.0
_FLATTEST = 1e-4  # of an ellipse: a flatter one is a line; DXF knows none below 1e-6


def shapes_of(spec: DrawnSpec, figures: Figures) -> tuple[Shape | Region, ...] | None:
    """Return a drawn shape, lines and arcs of a polyline apart; None with the fault noted where it makes none."""
    try:
        return _shapes(spec, figures)
    except NoNumber:
        return None
    except KnotFault as fault:
        figures.refuse(spec.knots[fault.index].position, spec.kind, fault.wrong, fault.expected)
    except Impossible as fault:
        place = spec.positions.get(fault.parameter, spec.position)
        figures.refuse(place, spec.kind, fault.wrong, fault.expected)
    return None


def _shapes(spec: DrawnSpec, figures: Figures) -> tuple[Shape | Region, ...]:
    if spec.knots:
        edges = outline(figures.knots(spec.knots), spec.closed, spec.role)
        return (Region(edges, figures.number(spec.numbers["angle"])),) if spec.kind == "region" else edges
    return (_shape(spec, {name: figures.number(formula) for name, formula in spec.numbers.items()}),)


def _shape(spec: DrawnSpec, numbers: dict[str, float]) -> Shape:
    match spec.kind:
        case "line":
            return _line(spec, numbers)
        case "arc":
            start, end = _turn(numbers)
            if end - start > _TURN - 1e-9:
                raise Impossible("end", "arc of a whole turn", "expected a circle, or another end")
            return Arc(_point("centre", numbers), _positive("radius", numbers), start, end, spec.role)
        case "circle":
            return Circle(_point("centre", numbers), _positive("radius", numbers), spec.role)
        case "ellipse":
            return _ellipse(spec, numbers)
        case "text":
            return Text(_point("at", numbers), _positive("height", numbers), spec.text, spec.role)
    raise ValueError(f"no shape is called {spec.kind}")


def _line(spec: DrawnSpec, numbers: dict[str, float]) -> Line:
    start, end = _point("from", numbers), _point("to", numbers)
    if start == end:
        raise Impossible("to", "line ends where it starts", "expected another end")
    return Line(start, end, spec.role)


def _ellipse(spec: DrawnSpec, numbers: dict[str, float]) -> Ellipse:
    major, ratio = _point("major", numbers), _positive("ratio", numbers)
    if math.hypot(*major) == 0.0:
        raise Impossible("major", "major axis has no length", "expected the way to one of its ends")
    if ratio > 1.0:
        raise Impossible("ratio", f"ratio is {ratio:g}", "expected at most 1: major is the longer axis")
    if ratio < _FLATTEST:
        raise Impossible("ratio", f"ratio is {ratio:g}", f"expected at least {_FLATTEST:g}, or a line")
    start, end = _turn(numbers)
    return Ellipse(_point("centre", numbers), major, ratio, start, end, spec.role)


def _turn(numbers: dict[str, float]) -> tuple[float, float]:
    """Return start and end of an arc, the start from 0 to 360 and the end after it."""
    start, sweep = numbers["start"] % _TURN, numbers["end"] - numbers["start"]
    if sweep == 0.0:
        raise Impossible("end", f"starts and ends at {numbers['end']:g} degrees", "expected another end")
    if not -_TURN <= sweep <= _TURN:
        wrong = f"runs from {numbers['start']:g} to {numbers['end']:g} degrees"
        raise Impossible("end", wrong, "expected at most a whole turn between them")
    return start, start + (sweep if sweep > 0.0 else sweep % _TURN or _TURN)


def _positive(name: str, numbers: dict[str, float]) -> float:
    if numbers[name] <= 0.0:
        raise Impossible(name, f"{name} is {numbers[name]:g}", "must be greater than 0")
    return numbers[name]


def _point(name: str, numbers: dict[str, float]) -> Point:
    x, y = axes_of(name)
    return Point(numbers[x], numbers[y])
