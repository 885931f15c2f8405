"""Which stretches of a surface show: what others cover, cut away or bore out along the axis."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from builder.body.statement import Bow, Disturbed, Pattern, Prism, Reach, Round
from builder.part.stating import Said

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Cover:
    """Material or a hollow between two places: surely out to `least` from the axis, nowhere further than `most`."""

    start: float
    end: float
    least: float
    most: float
    said: Said


@dataclass(frozen=True, slots=True)
class Covers:
    """All that a part states, by what it does to the surfaces of others."""

    solids: tuple[Cover, ...]
    hollows: tuple[Cover, ...]
    rings: tuple[Cover, ...]  # taken away from outside, down to `least`
    disturbed: tuple[Span, ...]
    added: tuple[Span, ...]  # those of them that add material
    slack: float  # nearer than that is the same place

    def clear(self, span: Span, radius: float, said: Said) -> list[Span]:
        """Return where a solid's surface at a radius shows: neither covered nor cut away."""
        others = (c for c in self.solids if c.said is not said and c.most > radius + self.slack)
        cut = (c for c in self.rings if c.least < radius - self.slack)
        return self._left(span, (*((c.start, c.end) for c in (*others, *cut)), *self.disturbed))

    def uncut(self, span: Span, radius: float) -> list[Span]:
        """Return where nothing is taken away from a solid's surface at a radius, be it covered or not."""
        cut = ((c.start, c.end) for c in self.rings if c.least < radius - self.slack)
        return self._left(span, (*cut, *self.disturbed))

    def clear_inside(self, span: Span, radius: float, said: Said) -> list[Span]:
        """Return where a hollow's surface at a radius shows: in material, and not bored out further."""
        wider = ((c.start, c.end) for c in self.hollows if c.said is not said and c.most > radius + self.slack)
        filled = [(c.start, c.end) for c in self.solids if c.most > radius + self.slack]
        left = self._left(span, (*wider, *self.disturbed))
        air = self._left(span, filled)
        return self._left_of(left, air)

    def touched(self, x: float) -> bool:
        """Tell whether something that is not round cuts at a place, or next to it."""
        return any(start - self.slack <= x <= end + self.slack for start, end in self.disturbed)

    def buried(self, x: float) -> bool:
        """Tell whether something that is not round may cover a place."""
        return any(start - self.slack <= x <= end + self.slack for start, end in self.added)

    def beyond(self, x: float, way: float, covers: Iterable[Cover], said: Said | None = None) -> float:
        """Return how far from the axis others reach at most just beyond a place; 0 where there are none."""
        spot = x + way * 2.0 * self.slack
        return max((c.most for c in covers if c.said is not said and c.start < spot < c.end), default=0.0)

    def _left_of(self, spans: Iterable[Span], gone: Sequence[Span]) -> list[Span]:
        return [kept for span in spans for kept in self._left(span, gone)]

    def _left(self, span: Span, gone: Iterable[Span]) -> list[Span]:
        left = [span]
        for start, end in gone:
            parts = ((a, min(b, start)) for a, b in left), ((max(a, end), b) for a, b in left)
            left = [(a, b) for part in parts for a, b in part if b - a > self.slack]
        return left


def covers_of(said: Sequence[Said]) -> Covers:
    """Sort the statements of a part by what they do to others."""
    solids: list[Cover] = []
    hollows: list[Cover] = []
    rings: list[Cover] = []
    disturbed: list[Span] = []
    added: list[Span] = []
    for one in said:
        match one.statement:
            case Round(start, end, first, last) as turned:
                low, high = sorted((first / 2.0, last / 2.0))
                kind = rings if turned.ring else hollows if turned.void else solids
                kind.append(Cover(start, end, low, high, one))
            case Prism(start, end, across, _, corner) as prism:
                (hollows if prism.void else solids).append(Cover(start, end, across / 2.0, corner, one))
            case Bow(_, _, _, start, end, low, high) as bow:
                (rings if bow.ring else hollows if bow.void else solids).append(
                    Cover(start, end, low / 2.0, high / 2.0, one)
                )
            case Disturbed(start, end) as other:
                disturbed.append((start, end))
                added += [(start, end)] if other.adds else []
            case Pattern() as row if not row.void:
                outer = (row.circle + row.diameter) / 2.0
                solids.append(Cover(row.start, row.end, 0.0, outer, one))
    sizes = [abs(v) for c in (*solids, *hollows) for v in (c.start, c.end, c.most) if math.isfinite(v)]
    reaches = [one.statement.along(way) for one in said if isinstance(one.statement, Reach) for way in _WAYS]
    slack = 1e-7 * max((*sizes, *map(abs, reaches)), default=1.0)
    return Covers(tuple(solids), tuple(hollows), tuple(rings), tuple(disturbed), tuple(added), slack)


_WAYS = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
