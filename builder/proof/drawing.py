"""A DXF file as a reader of another make understands it: lines, arcs, ellipses, texts. It alone knows cadkit."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple


class Line(NamedTuple):
    """A straight line, its ends sorted from left to right, then upward."""

    look: str
    x1: float
    y1: float
    x2: float
    y2: float


class Arc(NamedTuple):
    """An arc or, where it turns by 360, a circle; degrees, counter-clockwise from `start`, 0 to the right."""

    look: str
    x: float
    y: float
    radius: float
    start: float
    turn: float


class Ellipse(NamedTuple):
    """An elliptical arc; (dx, dy) leads to an end of the major axis, angles are its parameter in degrees."""

    look: str
    x: float
    y: float
    dx: float
    dy: float
    ratio: float
    start: float
    turn: float


class Text(NamedTuple):
    """A line of text."""

    look: str
    x: float
    y: float
    height: float
    text: str


@dataclass(frozen=True)
class Drawing:
    """What a file shows in model space, or a block in its definition; `strange` names kinds that blocks never have."""

    lines: tuple[Line, ...] = ()
    arcs: tuple[Arc, ...] = ()
    ellipses: tuple[Ellipse, ...] = ()
    texts: tuple[Text, ...] = ()
    polylines: int = 0  # an ellipse of R12
    strange: tuple[str, ...] = field(default=())

    @cached_property
    def extent(self) -> tuple[float, float, float, float] | None:
        """Return left, bottom, right and top of lines, arcs and ellipses; None where there are none."""
        points = [p for n in self.lines for p in ((n.x1, n.y1), (n.x2, n.y2))]
        points += [p for arc in self.arcs for p in spots_of(arc)]
        points += [p for ellipse in self.ellipses for p in spots_of_ellipse(ellipse)]
        if not points:
            return None
        xs, ys = zip(*points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def like(self, looks: Iterable[str]) -> "Drawing":
        """Return what has one of some looks."""
        kept = frozenset(looks)
        return Drawing(
            tuple(n for n in self.lines if n.look in kept),
            tuple(a for a in self.arcs if a.look in kept),
            tuple(e for e in self.ellipses if e.look in kept),
        )


def spots_of(arc: Arc) -> list[tuple[float, float]]:
    """Return the ends of an arc and the quadrant points that it passes."""
    first, last = math.ceil(arc.start / 90.0), math.floor((arc.start + arc.turn) / 90.0)
    angles = [arc.start, arc.start + arc.turn, *(90.0 * n for n in range(first, last + 1))]
    return [
        (arc.x + arc.radius * math.cos(math.radians(a)), arc.y + arc.radius * math.sin(math.radians(a))) for a in angles
    ]


def spots_of_ellipse(ellipse: Ellipse) -> list[tuple[float, float]]:
    """Return the ends of an elliptical arc and the points where x or y is greatest or least."""
    dx, dy, ratio = ellipse.dx, ellipse.dy, ellipse.ratio
    tops = math.degrees(math.atan2(-ratio * dy, dx)), math.degrees(math.atan2(ratio * dx, dy))
    angles = [ellipse.start, ellipse.start + ellipse.turn]
    for top in tops:
        first = math.ceil((ellipse.start - top) / 180.0)
        last = math.floor((ellipse.start + ellipse.turn - top) / 180.0)
        angles += (top + 180.0 * n for n in range(first, last + 1))
    found = []
    for angle in angles:
        c, s = math.cos(math.radians(angle)), ratio * math.sin(math.radians(angle))
        found.append((ellipse.x + c * dx - s * dy, ellipse.y + c * dy + s * dx))
    return found


class Unreadable(Exception):
    """The reader refused a file."""


def read_drawing(data: bytes) -> Drawing:
    """Read the model space of a file; Unreadable where the reader refuses it."""
    import cadkit  # noqa: PLC0415 - a library of its own, loaded by those who measure

    try:
        return drawing_of(cadkit.read(data).entities())
    except (cadkit.CadkitError, ValueError, KeyError, TypeError, OSError) as error:
        raise Unreadable(" ".join(str(error).split())[:200]) from None


def drawing_of(entities: Iterable[Mapping[str, Any]]) -> Drawing:
    """Sort what the reader found; attribute definitions are read from the tags."""
    lines: list[Line] = []
    arcs: list[Arc] = []
    ellipses: list[Ellipse] = []
    texts: list[Text] = []
    strange: list[str] = []
    polylines = 0
    for entity in entities:
        look, kind = _look(entity), entity["kind"]
        match kind["type"]:
            case "line":
                a, b = kind["start"], kind["end"]
                first, last = (a["x"], a["y"]), (b["x"], b["y"])
                lines.append(Line(look, *first, *last) if first <= last else Line(look, *last, *first))
            case "arc":
                start = math.degrees(kind["start_angle"])
                turn = (math.degrees(kind["end_angle"]) - start) % 360.0
                arcs.append(Arc(look, kind["center"]["x"], kind["center"]["y"], kind["radius"], start, turn))
            case "circle":
                arcs.append(Arc(look, kind["center"]["x"], kind["center"]["y"], kind["radius"], 0.0, 360.0))
            case "ellipse":
                ellipses.append(_ellipse(look, kind))
            case "text":
                at = kind["position"]
                texts.append(Text(look, at["x"], at["y"], kind["height"], kind["value"]))
            case "polyline":
                polylines += 1
            case other:
                if kind.get("type_name") != "dxf.ATTDEF":
                    strange.append(str(kind.get("type_name", other)))
    return Drawing(tuple(lines), tuple(arcs), tuple(ellipses), tuple(texts), polylines, tuple(strange))


def look_named(layer: str, linetype: str, hundredths: int | None) -> str:
    """Name how a shape looks: its layer, or on layer 0 its own line type and width in hundredths of a mm."""
    return layer if layer != "0" else f"{linetype.upper()} {'' if hundredths is None else hundredths}"


def _look(entity: Mapping[str, Any]) -> str:
    linetype, weight = entity["linetype"], entity["lineweight"]
    if linetype is None and weight["type"] == "by_layer":
        return str(entity["layer"])
    width = round(100.0 * weight["value"]) if "value" in weight else None
    return look_named(str(entity["layer"]), str(linetype or "BYLAYER"), width)


def _ellipse(look: str, kind: Mapping[str, Any]) -> Ellipse:
    centre, major, start = kind["center"], kind["major_axis"], math.degrees(kind["start_param"])
    turn = (math.degrees(kind["end_param"]) - start) % 360.0
    turn = 360.0 if turn < 1e-9 or turn > 360.0 - 1e-9 else turn
    return Ellipse(look, centre["x"], centre["y"], major["x"], major["y"], kind["ratio"], start, turn)
