"""Looks for a measure in a drawing: what is found of it, as a number to hold against the one that is stated.

Every finder returns the nearest that the drawing has, with what it looked at; None where it has nothing like it.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from builder.proof.drawing import Arc, Drawing, Line
from builder.words.measures import Measure, Shown

Spans = Sequence[tuple[float, float]]


@dataclass(frozen=True)
class Sight:
    """A drawing as the finders ask it, reduced to some layers; `near` is how far a coordinate may be off."""

    drawing: Drawing
    near: float

    @cached_property
    def levels(self) -> Mapping[float, list[tuple[float, float]]]:
        """Return the stretches of lines along the axis, by y rounded to the tolerance's tenth part."""
        found: dict[float, list[tuple[float, float]]] = {}
        for line in self.drawing.lines:
            if abs(line.y1 - line.y2) <= self.near:
                found.setdefault((line.y1 + line.y2) / 2.0, []).append((line.x1, line.x2))
        return found

    @cached_property
    def uprights(self) -> Mapping[float, list[tuple[float, float]]]:
        """Return the stretches of lines across the axis, by x."""
        found: dict[float, list[tuple[float, float]]] = {}
        for line in self.drawing.lines:
            if abs(line.x1 - line.x2) <= self.near:
                low, high = sorted((line.y1, line.y2))
                found.setdefault((line.x1 + line.x2) / 2.0, []).append((low, high))
        return found

    def at(self, places: Mapping[float, list[tuple[float, float]]], place: float) -> list[tuple[float, float]]:
        """Return the stretches at a place."""
        return [span for found, spans in places.items() if abs(found - place) <= self.near for span in spans]

    def covered(self, spans: Iterable[tuple[float, float]], start: float, end: float) -> bool:
        """Tell whether stretches together leave no gap between two places."""
        at = start
        for low, high in sorted(spans):
            if low > at + 2.0 * self.near:
                break
            at = max(at, high)
        return at >= end - 2.0 * self.near


Finder = Callable[[Sight, Measure], float | None]


def find(sight: Sight, measure: Measure) -> float | None:
    """Return what a drawing shows for a measure; None where it shows nothing like it."""
    return _FINDERS[measure.shown](sight, measure)


def _across(sight: Sight, m: Measure) -> float | None:
    """Two lines, evenly about the axis, without a gap over the stretch; the pair nearest to what is stated."""
    found = []
    for y in sight.levels:
        if y <= sight.near:
            continue
        sides = [sight.at(sight.levels, side) for side in ((y,) if m.half else (y, -y))]
        if all(spans and (m.start is None or _covers(sight, spans, m)) for spans in sides):
            found.append(2.0 * y)
    return _nearest(found, m.value)


def _covers(sight: Sight, spans: Spans, m: Measure) -> bool:
    assert m.start is not None and m.end is not None
    return sight.covered(spans, m.start, m.end)


def _face(sight: Sight, m: Measure) -> float | None:
    found = []
    for x in sight.uprights:
        spans = sight.at(sight.uprights, x)
        if not m.across:
            found.append(x)
            continue
        low, high = m.across[0] / 2.0, m.across[1] / 2.0
        sides = [(low, high)] if m.half else [(low, high), (-high, -low)]
        if all(sight.covered([s for s in spans if s[1] >= a - sight.near], a, b) for a, b in sides):
            found.append(x)
    return _nearest(found, m.value)


def _slant(sight: Sight, m: Measure) -> float | None:
    """Return the angle of the lines that join both diameters; ends may be cut short by others, not displaced."""
    start, end = m.start or 0.0, m.end or 0.0
    found = []
    for sign in (1.0,) if m.half else (1.0, -1.0):
        a, b = (start, sign * m.across[0] / 2.0), (end, sign * m.across[1] / 2.0)
        lines = [n for n in sight.drawing.lines if _on(n, a, sight.near) and _on(n, b, sight.near)]
        if not lines:
            return None
        line = max(lines, key=lambda n: abs(n.x2 - n.x1) + abs(n.y2 - n.y1))
        found.append(math.degrees(math.atan2(abs(line.y2 - line.y1), abs(line.x2 - line.x1))))
    return max(found, key=lambda angle: abs(angle - m.value))


def _on(line: Line, spot: tuple[float, float], near: float) -> bool:
    dx, dy = line.x2 - line.x1, line.y2 - line.y1
    length = math.hypot(dx, dy)
    if length <= near:
        return False
    along = ((spot[0] - line.x1) * dx + (spot[1] - line.y1) * dy) / length
    off = abs((spot[0] - line.x1) * dy - (spot[1] - line.y1) * dx) / length
    return off <= 2.0 * near and -2.0 * near <= along <= length + 2.0 * near


def _arc(sight: Sight, m: Measure) -> float | None:
    at, off = m.start or 0.0, m.across[0] / 2.0
    found = []
    for y in (off,) if m.half else (off, -off):
        radii = [arc.radius for arc in _centred(sight, at, y)]
        if not radii:
            return None
        found.append(_nearest(radii, m.value) or 0.0)
    return max(found, key=lambda radius: abs(radius - m.value))


def _hole(sight: Sight, m: Measure) -> float | None:
    return _nearest([2.0 * a.radius for a in _centred(sight, m.start or 0.0, 0.0)], m.value)


def _centred(sight: Sight, x: float, y: float) -> Iterator[Arc]:
    slack = 10.0 * sight.near  # centres of flat arcs are less sure than their radii
    return (a for a in sight.drawing.arcs if abs(a.x - x) <= slack and abs(a.y - y) <= slack)


def _circle(sight: Sight, m: Measure) -> float | None:
    turns: dict[float, float] = {}
    for arc in _centred(sight, 0.0, 0.0):
        radius = next((r for r in turns if abs(r - arc.radius) <= sight.near), arc.radius)
        turns[radius] = turns.get(radius, 0.0) + arc.turn
    return _nearest([2.0 * radius for radius, turn in turns.items() if abs(turn - m.turn) < 1e-3], m.value)


def _flats(sight: Sight, m: Measure) -> float | None:
    """Return the width across sides that look in all the right directions."""
    step = 360.0 / m.count
    widths = []
    for n in range(m.count):
        toward = math.radians(90.0 + m.turn + step * n)
        c, s = math.cos(toward), math.sin(toward)
        offs = [
            line.x1 * c + line.y1 * s
            for line in sight.drawing.lines
            if abs((line.x2 - line.x1) * c + (line.y2 - line.y1) * s) <= 2.0 * sight.near
        ]
        off = _nearest([off for off in offs if off > sight.near], m.value / 2.0)
        if off is None:
            return None
        widths.append(2.0 * off)
    return max(widths, key=lambda width: abs(width - m.value))


def _pattern(sight: Sight, m: Measure) -> float | None:
    found = []
    for n in range(m.count):
        toward = math.radians(90.0 + m.turn + 360.0 * n / m.count)
        x, y = m.across[0] / 2.0 * math.cos(toward), m.across[0] / 2.0 * math.sin(toward)
        width = _nearest([2.0 * arc.radius for arc in _centred(sight, x, y)], m.value)
        if width is None:
            return None
        found.append(width)
    return max(found, key=lambda width: abs(width - m.value))


def _pitch(sight: Sight, m: Measure) -> float | None:
    """Return the distance of neighbouring tips of an outline, the one that is furthest from what is stated."""
    start, end, tip = m.start or 0.0, m.end or 0.0, m.across[0] / 2.0
    worst = []
    for y in (tip,) if m.half else (tip, -tip):
        ends = (
            (x, z)
            for n in sight.drawing.lines
            for x, z in ((n.x1, n.y1), (n.x2, n.y2))
            if n.x1 != n.x2 and n.y1 != n.y2
        )
        places = sorted(x for x, z in ends if abs(z - y) <= 2.0 * sight.near and start - m.value < x < end + m.value)
        tips = [x for n, x in enumerate(places) if not n or x - places[n - 1] > 4.0 * sight.near]
        inner = [x for x in tips if start - 2.0 * sight.near <= x <= end + 2.0 * sight.near]
        if len(inner) < max(2, math.floor((end - start) / m.value - 1e-6)):
            return None
        gaps = [b - a for a, b in pairwise(inner)]
        worst.append(max(gaps, key=lambda gap: abs(gap - m.value)))
    return max(worst, key=lambda gap: abs(gap - m.value))


def _edge(index: int) -> Finder:
    def found(sight: Sight, _: Measure) -> float | None:
        extent = sight.drawing.extent
        return None if extent is None else extent[index]

    return found


def _nearest(found: Iterable[float], value: float) -> float | None:
    return min(found, key=lambda number: abs(number - value), default=None)


_FINDERS: Mapping[Shown, Finder] = {
    Shown.ACROSS: _across,
    Shown.FACE: _face,
    Shown.SLANT: _slant,
    Shown.ARC: _arc,
    Shown.HOLE: _hole,
    Shown.CIRCLE: _circle,
    Shown.FLATS: _flats,
    Shown.PATTERN: _pattern,
    Shown.PITCH: _pitch,
    Shown.LEFT: _edge(0),
    Shown.BOTTOM: _edge(1),
    Shown.RIGHT: _edge(2),
    Shown.TOP: _edge(3),
}
