"""The measures that a view of a part must show, from what its features state; nothing here has seen the drawn view."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain

from builder.body.statement import Pattern, Prism, Reach, Round, Unmeasured, Vector
from builder.definition.family import Family
from builder.part.beside import Beside, is_aligned, prism_reach
from builder.part.covers import Covers, covers_of
from builder.part.endwise import Endwise
from builder.part.looks import Conventions, Look, look_of
from builder.part.stating import Said, said_of
from builder.words.measures import Measure, Shown
from builder.words.roles import Role

_DRAWN = (Role.OUTLINE, Role.HIDDEN, Role.THREAD)


class Stated:
    """What one part states of itself, worked out once and asked for each of its views."""

    def __init__(self, family: Family, dimensions: Mapping[str, float]) -> None:
        self.family = family
        self.dimensions = dimensions
        self.said = tuple(said_of(family, dimensions))
        self.covers = covers_of(self.said)
        self.several = len(family.bodies) > 1

    def measures(self, view: str, roll: float | None, conventions: Conventions) -> tuple[Measure, ...]:
        """Return what a view shows, the same measure once; nothing for a part that has no body."""
        look = look_of(view, roll)
        if look is None or not self.said:
            return ()
        if look.end:
            found: Iterable[Measure] = Endwise(self.said, self.covers, look, conventions).measures()
        else:
            found = Beside(self.said, self.covers, look, conventions, self.dimensions).measures()
        extents = () if view in self.family.drawn else _extents(self.said, self.covers, look)
        return tuple(dict.fromkeys(chain(found, extents)))

    def unmeasured(self, view: str, roll: float | None) -> tuple[str, ...]:
        """Return, in words, what of a view is left to be looked at by eye."""
        left = [one.statement.what for one in self.said if isinstance(one.statement, Unmeasured)]
        if look_of(view, roll) is None:
            left.append(f"the view {view}")
        if view in self.family.drawn:
            left.append("shapes that the definition draws directly")
        return tuple(dict.fromkeys(left))


def _extents(said: Sequence[Said], covers: Covers, look: Look) -> Iterator[Measure]:
    """Yield how far the view reaches each way, where nothing may stand or be cut away anywhere."""
    if any(end - start > 1e300 for start, end in covers.disturbed):
        return
    right, up = look.ways
    ways: list[tuple[Shown, Vector]] = [(Shown.BOTTOM, _back(up)), (Shown.TOP, up)]
    if not look.broken:
        ways = [(Shown.LEFT, _back(right)), (Shown.RIGHT, right), *ways]
    for shown, way in ways:
        reaches = [(reach, surely) for one in said for reach, surely in _reach(one, covers, look, way)]
        if not reaches:
            continue
        most = max(reach for reach, _ in reaches)
        if any(surely for reach, surely in reaches if reach > most - covers.slack):
            value = most if shown in (Shown.RIGHT, Shown.TOP) else -most
            yield Measure("", "extent", "", value, shown, _DRAWN)


def _back(way: Vector) -> Vector:
    return -way[0], -way[1], -way[2]


def _reach(one: Said, covers: Covers, look: Look, way: Vector) -> Iterator[tuple[float, bool]]:
    """Yield how far a statement reaches in a direction, and whether it surely shows there."""
    lengthwise = abs(way[0]) > 0.5
    match one.statement:
        case Round(start, end, first, last) as turned if not (turned.void or turned.ring):
            if lengthwise:
                yield (end if way[0] > 0.0 else -start), True
            else:
                yield max(first, last) / 2.0, bool(covers.uncut((start, end), max(first, last) / 2.0))
        case Prism(start, end) as prism if not prism.void:
            if lengthwise:
                yield (end if way[0] > 0.0 else -start), True
            else:
                yield _prism_along(prism, way), not look.cut or is_aligned(prism, look.turn)
        case Pattern() as row if not row.void:
            if not lengthwise:
                yield (row.circle + row.diameter) / 2.0, False
        case Reach() as reach:
            off = abs(reach.centre[1]) + abs(reach.centre[2]) > covers.slack or abs(reach.axis[0]) < 1.0
            unsure = (look.cut and off) or (reach.square and look.turn % 90.0)
            if reach.thick and reach.radius and not lengthwise:  # a ring seen aslant is drawn by arcs near to its limb
                lean = abs(sum(a * b for a, b in zip(reach.axis, way, strict=True)))
                unsure = unsure or 1e-9 < lean < 1.0 - 1e-9
            tip = reach.along(way) * way[0] if lengthwise and not reach.radius else reach.centre[0]
            touched = not off and covers.touched(tip) and not (lengthwise and reach.radius)
            yield reach.along(way), not (unsure or touched)


def _prism_along(prism: Prism, way: Vector) -> float:
    return prism_reach(prism, math.degrees(math.atan2(way[2], way[1])))
