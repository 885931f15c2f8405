"""Measures written DXF files with a reader that did not write them; knows files, lines and curves, no families."""

import json
import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, Literal

from sights import by_cadkit

from builder.definition.family import Family
from builder.definition.reader import read_definitions
from builder.pipeline.build import build
from builder.pipeline.order import Order
from builder.pipeline.prepare import prepare
from builder.pipeline.resources import blocks_folder
from builder.words.problems import Problems
from builder.words.units import Unit

NEAR = 1e-7  # coordinates are written to nine decimals


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line, its ends sorted from left to right, then upward."""

    role: str
    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def upright(self) -> bool:
        """Tell whether it runs across the axis."""
        return abs(self.x1 - self.x2) < NEAR

    @property
    def level(self) -> bool:
        """Tell whether it runs along the axis."""
        return abs(self.y1 - self.y2) < NEAR

    @property
    def length(self) -> float:
        """Return its length."""
        return math.hypot(self.x2 - self.x1, self.y2 - self.y1)

    def meets(self, x: float, y: float) -> bool:
        """Tell whether a point lies on it."""
        run, rise = self.x2 - self.x1, self.y2 - self.y1
        along = ((x - self.x1) * run + (y - self.y1) * rise) / self.length**2
        along = min(1.0, max(0.0, along))
        return math.hypot(x - self.x1 - along * run, y - self.y1 - along * rise) < 1e-6


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc or a whole circle; angles in radians, counter-clockwise."""

    role: str
    x: float
    y: float
    radius: float
    start: float = 0.0
    turn: float = 2.0 * math.pi

    @property
    def whole(self) -> bool:
        """Tell a circle."""
        return self.turn > 2.0 * math.pi - 1e-9

    def meets(self, x: float, y: float) -> bool:
        """Tell whether a point is one of its ends."""
        return any(math.hypot(x - a, y - b) < 1e-6 for a, b in self.points(2))

    def points(self, count: int = 13) -> Iterator[tuple[float, float]]:
        """Return points along it, both ends included."""
        for n in range(count):
            angle = self.start + self.turn * n / (count - 1)
            yield self.x + self.radius * math.cos(angle), self.y + self.radius * math.sin(angle)


@dataclass(frozen=True, slots=True)
class Ellipse:
    """An elliptical arc or a whole ellipse; `major` leads from the centre, angles are its parameter in radians."""

    role: str
    x: float
    y: float
    major: tuple[float, float]
    ratio: float
    start: float
    turn: float

    @property
    def whole(self) -> bool:
        """Tell a whole ellipse."""
        return self.turn > 2.0 * math.pi - 1e-9

    def meets(self, x: float, y: float) -> bool:
        """Tell whether a point is one of its ends."""
        return any(math.hypot(x - a, y - b) < 1e-6 for a, b in self.points(2))

    def points(self, count: int = 13) -> Iterator[tuple[float, float]]:
        """Return points along it, both ends included."""
        dx, dy = self.major
        for n in range(count):
            angle = self.start + self.turn * n / (count - 1)
            along, across = math.cos(angle), self.ratio * math.sin(angle)
            yield self.x + along * dx - across * dy, self.y + along * dy + across * dx


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a file shows."""

    lines: tuple[Line, ...]
    arcs: tuple[Arc, ...]
    ellipses: tuple[Ellipse, ...] = ()

    def of(self, role: str) -> "Drawing":
        """Return what has one role."""
        lines = tuple(line for line in self.lines if line.role == role)
        arcs = tuple(arc for arc in self.arcs if arc.role == role)
        return Drawing(lines, arcs, tuple(e for e in self.ellipses if e.role == role))

    def between(self, left: float, right: float) -> "Drawing":
        """Return what lies wholly between two places along the axis."""

        def lies(piece: Arc | Ellipse) -> bool:
            return all(left - NEAR <= x <= right + NEAR for x, _ in piece.points())

        kept = tuple(n for n in self.lines if left - NEAR <= n.x1 and n.x2 <= right + NEAR)
        return Drawing(kept, tuple(filter(lies, self.arcs)), tuple(filter(lies, self.ellipses)))

    @property
    def uprights(self) -> list[Line]:
        """Return the lines across the axis and centred on it, from left to right."""
        return sorted((n for n in self.lines if n.upright and abs(n.y1 + n.y2) < NEAR), key=lambda n: n.x1)

    @property
    def circles(self) -> list[float]:
        """Return the diameters of the whole circles about the base point, smallest first."""
        return sorted(2.0 * a.radius for a in self.arcs if a.whole and math.hypot(a.x, a.y) < NEAR)

    @property
    def left(self) -> float:
        """Return the least x."""
        return min(n.x1 for n in self.lines)

    @property
    def right(self) -> float:
        """Return the greatest x."""
        return max(n.x2 for n in self.lines)

    @property
    def height(self) -> float:
        """Return the extent across the axis; it must lie evenly about it."""
        places = [y for n in self.lines for y in (n.y1, n.y2)]
        assert abs(max(places) + min(places)) < NEAR, "not even about the axis"
        return max(places) - min(places)

    @property
    def levels(self) -> list[float]:
        """Return twice the distance from the axis of the lines along it that occur on both sides, smallest first."""
        above = {round(n.y1, 6) for n in self.lines if n.level and n.y1 > NEAR}
        below = {round(-n.y1, 6) for n in self.lines if n.level and n.y1 < -NEAR}
        assert above == below, "not even about the axis"
        return sorted(2.0 * y for y in above)

    @property
    def loose_ends(self) -> list[tuple[float, float]]:
        """Return the ends of lines and curves that lie on no other line and at no other curve's end."""
        round_ones: tuple[Arc | Ellipse, ...] = (*self.arcs, *self.ellipses)
        curves = [curve for curve in round_ones if not curve.whole]
        others: list[Line | Arc | Ellipse] = [*self.lines, *curves]
        tips: list[tuple[Line | Arc | Ellipse, tuple[float, float]]] = []
        tips += [(curve, tip) for curve in curves for tip in curve.points(2)]
        tips += [(line, tip) for line in self.lines for tip in ((line.x1, line.y1), (line.x2, line.y2))]
        return [tip for piece, tip in tips if not any(o.meets(*tip) for o in others if o is not piece)]

    @property
    def hexagon(self) -> tuple[float, float]:
        """Return width across flats and across corners of the hexagon of an end view, a corner up."""
        sides = [n for n in self.lines if abs(math.hypot(n.x1, n.y1) - math.hypot(n.x2, n.y2)) < NEAR]
        assert len(sides) == 6, "no hexagon"
        corners = [(n.x1, n.y1) for n in sides] + [(n.x2, n.y2) for n in sides]
        reach = {round(math.hypot(*c), 6) for c in corners}
        flats = {round(abs(n.x1 * n.y2 - n.x2 * n.y1) / n.length, 6) for n in sides}
        assert (len(reach), len(flats)) == (1, 1), "not a regular hexagon"
        top = max(corners, key=lambda c: c[1])
        assert abs(top[0]) < NEAR, "no corner up"
        return 2.0 * flats.pop(), 2.0 * reach.pop()


@dataclass(frozen=True, slots=True)
class Block:
    """One block as the manifest lists it."""

    facts: Mapping[str, Any]
    drawing: Drawing

    @property
    def label(self) -> str:
        """Return the block's name."""
        return str(self.facts["block"])

    @property
    def view(self) -> str:
        """Return the view."""
        return str(self.facts["view"])

    @property
    def size(self) -> str:
        """Return the size's label."""
        return str(self.facts["size"])

    @property
    def length(self) -> float:
        """Return the nominal length."""
        return float(self.facts["length"])


@dataclass(frozen=True)
class Library:
    """A library on disk, every single-part file read back."""

    folder: Path

    @cached_property
    def manifest(self) -> dict[str, Any]:
        """Return library.json."""
        read: dict[str, Any] = json.loads((self.folder / "library.json").read_text(encoding="utf-8"))
        return read

    @cached_property
    def blocks(self) -> tuple[Block, ...]:
        """Return every block with its drawing."""
        roles = {look["layer"]: role for role, look in self.manifest["roles"].items()}
        assert len(roles) == len(self.manifest["roles"])
        return tuple(Block(f, read(self.folder / f["dxf"], roles)) for f in self.manifest["blocks"])

    def of(self, family: str, *views: str) -> Sequence[Block]:
        """Return a family's blocks in some views."""
        found = [b for b in self.blocks if b.facts["family"] == family and b.view in views]
        assert found, (family, views)
        return found


# Where the rule of a thread's length changes: ISO 888, ASME B18.2.1.
Lengths = Literal["all", "ends", "steps"]
STEPS = {Unit.MM: (125.0, 200.0), Unit.INCH: (6.0,)}


def build_library(folder: Path, *patterns: str, style: str = "iso", lengths: Lengths = "all") -> Library:
    """Build a library for a metric shop, or the part of it that matches some patterns; every size in every view.

    Of the lengths all, the first and last of every size, or those and the two on both sides of each step.
    """
    path = folder / "sampled.yaml"
    stock = [line for family in shipped_families() for line in _stock(family, lengths)] if lengths != "all" else []
    shop = {"shop": "sampled", "title": "Sampled", "based_on": "iso", "thread_style": style, "stock": stock}
    path.write_text(json.dumps(shop), encoding="utf-8")
    order = Order(shop=str(path), patterns=patterns, out=folder / "library")
    build(order, prepare(order), lambda _family, _count: None)
    return Library(order.out)


def shipped_families() -> tuple[Family, ...]:
    """Return the families of the shipped definitions."""
    problems = Problems()
    read = read_definitions((blocks_folder(),), problems)
    problems.raise_any()
    return read


def _stock(family: Family, lengths: Lengths) -> Iterator[dict[str, Any]]:
    if not family.lengths:
        yield {"family": family.key}
        return
    for row in family.rows:
        listed = family.lengths.of(row)
        inner = (bisect_right(listed, step) for step in STEPS[family.units] if lengths == "steps")
        kept = {0, len(listed) - 1, *(place for n in inner for place in (n - 1, n) if 0 <= place < len(listed))}
        yield {"family": family.key, "sizes": [row.size], "lengths": [listed[n] for n in sorted(kept)]}


def read(path: Path, roles: Mapping[str, str]) -> Drawing:
    """Read one file; attribute definitions are left aside, anything else that is unknown is an error."""
    lines, arcs, ellipses = [], [], []
    for seen in by_cadkit(path)["entities"]:
        role = roles[seen["layer"]]
        match seen["kind"]:
            case "LINE":
                (x1, y1), (x2, y2) = sorted((seen["start"], seen["end"]))
                lines.append(Line(role, x1, y1, x2, y2))
            case "CIRCLE":
                arcs.append(Arc(role, *seen["centre"], seen["radius"]))
            case "ARC":
                arcs.append(Arc(role, *seen["centre"], seen["radius"], *_span(seen)))
            case "ELLIPSE":
                ellipses.append(Ellipse(role, *seen["centre"], seen["major"], seen["ratio"], *_span(seen)))
            case kind:
                assert kind == "ATTDEF", seen
    return Drawing(tuple(lines), tuple(arcs), tuple(ellipses))


def _span(curve: Mapping[str, Any]) -> tuple[float, float]:
    start = curve["from"]
    return start, (curve["to"] - start) % (2.0 * math.pi) or 2.0 * math.pi
