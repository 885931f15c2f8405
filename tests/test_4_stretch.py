"""A view stretched from that of another length is the view that a projection of the longer part finds.

The reference is the projection itself, which test_4_kernel holds against a solid-modelling kernel.
"""

import math
from dataclasses import replace

import pytest
from bodies import M12, body, bolt_features, lower

from builder.block.drawings import Drawings
from builder.block.library import drafting_for
from builder.body.stations import stations_of
from builder.definition.reader import read_definitions
from builder.definition.shop_reader import read_shop
from builder.part.part import Faults
from builder.pipeline.resources import blocks_folder, shops_folder
from builder.view.catalogue import thread_styles, view_kinds
from builder.view.drafting import Drafting
from builder.view.draw import Look, draw, projected
from builder.view.projection import FIT
from builder.view.stretch import shows_stretch, stretch_between
from builder.words.problems import Problems
from builder.words.shapes import Arc, Circle, Line, Point

BESIDE = [k for k in view_kinds().values() if shows_stretch(k.look(math.radians(k.roll)))]


def bolt(length):
    return body(*bolt_features(M12 | {"l": length}))


def screw(length):
    return body(*bolt_features(M12 | {"l": length, "b": length - 10.0}))


def pin(length):
    hole = {"diameter": 4.0, "at": length - 8.0, "outer": 20.0}
    return body(shaft(length, chamfer="both", chamfer_length=1.0), lower("cross_hole", hole))


def bored_midway(length):
    return body(shaft(length), lower("cross_hole", {"diameter": 6.0, "at": length / 2.0, "outer": 20.0}))


def bush(length):
    return body(shaft(length), lower("bore", {"diameter": 10.0, "from": 0.0, "to": length}, "bore"))


def spigot(length):
    flats = {"diameter": 20.0, "across_flats": 15.0, "from": length - 9.0, "to": length}
    return body(shaft(length), lower("flats", flats))


def stepped(length):
    step = {"diameter": 12.0, "from": length, "to": length + 12.0}
    return body(shaft(length), lower("cylinder", step | {"fillet": 0.0}, "step"))


def hexagon_bar(length):
    return body(lower("hexagon", {"across_flats": 19.0, "from": 0.0, "to": length}, chamfer="both"))


def taper_pin(length):
    return body(lower("taper", {"diameter": 10.0, "end_diameter": 10.0 + length / 50.0, "from": 0.0, "to": length}))


def shaft(length, chamfer="none", **more):
    return lower("cylinder", {"diameter": 20.0, "from": 0.0, "to": length} | more, "shaft", chamfer=chamfer)


def bolt_of_head(height):
    return body(*bolt_features(M12 | {"k": height}))


def two_holes(at):
    holes = [
        lower("cross_hole", {"diameter": 4.0, "at": x, "outer": 20.0}, f"hole at {n}") for n, x in enumerate((16.0, at))
    ]
    return body(shaft(60.0), *holes)


def one_or_two(length):
    more = [lower("cylinder", {"diameter": 12.0, "from": length, "to": 60.0}, "step")] if length > 40.0 else []
    return body(shaft(length), *more)


def drilled(diameter):
    return body(shaft(40.0), lower("cross_hole", {"diameter": diameter, "at": 20.0, "outer": 20.0}))


FITTED = [pin, bored_midway]  # arcs stand for the curves of a cross hole, and their number goes by the body's size
STRETCHED = [bolt, screw, pin, bored_midway, bush, spigot, stepped, hexagon_bar]


def way(make, old, new, style="iso"):
    rigid = not thread_styles()[style].UNIFORM
    first, second = (stations_of((make(length),), rigid) for length in (old, new))
    return stretch_between(first, second) if first and second else None


def look_of(kind, style="iso"):
    return Look(kind, math.radians(kind.roll), None, Drafting(style, 0.7, 3.0, (0.7, 3.0)))


def alike(found, expected):
    """Compare edges in any order; a line may run either way."""
    mine, theirs = (sorted(map(_figures, edges)) for edges in (found, expected))
    assert len(mine) == len(theirs)
    for a, b in zip(mine, theirs, strict=True):
        assert a[:2] == b[:2] and a[2:] == pytest.approx(b[2:], abs=1e-8)


def within(tolerance, found, expected):
    """Every edge runs, in its role, along others, no further off than arcs that are fitted to curves may lie."""
    found, expected = (
        [Arc(e.centre, e.radius, 0.0, 360.0, e.role) if isinstance(e, Circle) else e for e in edges]
        for edges in (found, expected)
    )
    for edge in found:
        along = [other for other in expected if other.role is edge.role]
        assert all(min(off(place, other) for other in along) < 2.0 * tolerance for place in spots(edge)), edge


def spots(edge):
    if isinstance(edge, Line):
        a, b = edge.start, edge.end
        return [Point(a.x + (b.x - a.x) * n / 8.0, a.y + (b.y - a.y) * n / 8.0) for n in range(9)]
    return [edge.at(edge.start + (edge.end - edge.start) * n / 8.0) for n in range(9)]


def off(place, edge):
    if isinstance(edge, Line):
        dx, dy = edge.end.x - edge.start.x, edge.end.y - edge.start.y
        share = ((place.x - edge.start.x) * dx + (place.y - edge.start.y) * dy) / (dx * dx + dy * dy)
        share = min(max(share, 0.0), 1.0)
        return math.dist(place, (edge.start.x + share * dx, edge.start.y + share * dy))
    angle = math.degrees(math.atan2(place.y - edge.centre.y, place.x - edge.centre.x))
    if (angle - edge.start) % 360.0 <= edge.end - edge.start:
        return abs(math.dist(place, edge.centre) - edge.radius)
    return min(math.dist(place, edge.at(edge.start)), math.dist(place, edge.at(edge.end)))


def _figures(edge):
    if isinstance(edge, Line):
        return "line", edge.role, *(round(v, 8) + 0.0 for end in sorted((edge.start, edge.end)) for v in end)
    numbers = [v for name in edge.__slots__ if name != "role" for v in _flat(getattr(edge, name))]
    return type(edge).__name__, edge.role, *(round(v, 8) + 0.0 for v in numbers)


def _flat(value):
    return value if isinstance(value, tuple) else (value,)


@pytest.mark.parametrize("kind", BESIDE, ids=lambda kind: kind.name)
@pytest.mark.parametrize("make", STRETCHED, ids=lambda make: make.__name__)
def test_a_stretched_view_is_the_projected_one(make, kind):
    """Longer and shorter, in every view from beside, sections too."""
    for old, new in ((45.0, 71.5), (71.5, 45.0)):
        stretch = way(make, old, new)
        assert stretch is not None
        found = stretch.edges(projected((make(old),), look_of(kind)))
        assert found is not None
        expected = projected((make(new),), look_of(kind))
        if make in FITTED:
            within(FIT * 71.5, found, expected)
            within(FIT * 71.5, expected, found)
        else:
            alike(found, expected)


@pytest.mark.parametrize("style", ["schematic", "detailed"])
def test_a_thread_drawn_turn_by_turn_keeps_its_length(style):
    """A longer shank is a stretch in those styles too, a longer thread is none."""
    assert way(screw, 45.0, 71.5, style) is None
    stretch = way(bolt, 45.0, 71.5, style)
    for kind in BESIDE:
        found = stretch.edges(projected((bolt(45.0),), look_of(kind, style)))
        alike(found, projected((bolt(71.5),), look_of(kind, style)))


@pytest.mark.parametrize(
    ("make", "old", "new", "why"),
    [
        (taper_pin, 40.0, 60.0, "a taper is nowhere uniform"),
        (bolt_of_head, 7.5, 8.0, "the chamfer of the head stays, its flats grow: a stretch"),
        (two_holes, 20.0, 12.0, "the holes change their order"),
        (two_holes, 20.0, 16.0, "the holes come to lie one above the other"),
        (one_or_two, 20.0, 50.0, "another feature"),
        (drilled, 4.0, 5.0, "another diameter"),
    ],
)
def test_what_is_no_stretch(make, old, new, why):
    stretch = way(make, old, new)
    assert (stretch is not None) == why.endswith("a stretch")


def test_an_edge_that_does_not_fit_is_projected():
    """A sloped line over a stretch cannot come from such a body: rather no answer than a wrong one."""
    stretch = way(bolt, 45.0, 71.5)
    edge = projected((bolt(45.0),), look_of(BESIDE[0]))[0]
    across = replace(edge, start=Point(2.0, 1.0), end=Point(12.0, 2.0))
    assert stretch.edges((across,)) is None


@pytest.mark.parametrize("shop_name", ["iso", "asme"])
def test_shipped_sizes(shop_name):
    """Three sizes of every shipped family, all lengths: as if each were projected; and lengths do share."""
    problems = Problems()
    shop, families = read_shop(shop_name, shops_folder(), problems), read_definitions((blocks_folder(),), problems)
    shared = 0
    for family in families:
        drafting = drafting_for(family, shop)
        for row in family.rows[:: max(1, len(family.rows) // 3)] if family.lengths else ():
            lengths = family.lengths.of(row)
            drawings = Drawings(family, row, drafting, set(lengths), Faults())
            for length in (lengths[0], lengths[len(lengths) // 2], lengths[-1]):
                part = drawings.part(length)
                for spec in family.views:
                    kind = view_kinds()[spec.kind]
                    look = Look(
                        kind, math.radians(kind.roll if spec.roll is None else spec.roll), spec.hidden, drafting
                    )
                    alike(drawings.view(part, spec).shapes, draw(part.bodies, look).shapes)
            shared += len(lengths) - len({id(form.part) for form in drawings._forms.values()})
    assert shared > 50


def test_a_block_is_the_same_whatever_else_is_built():
    """The last length alone, and among all: from the same first length, to the last digit."""
    problems = Problems()
    shop, families = read_shop("iso", shops_folder(), problems), read_definitions((blocks_folder(),), problems)
    family = next(f for f in families if f.key == "iso-4014")
    row = family.rows[9]
    lengths = family.lengths.of(row)
    alone, among = (
        Drawings(family, row, drafting_for(family, shop), wanted, Faults()) for wanted in ({lengths[-1]}, set(lengths))
    )
    for spec in family.views:
        views = [drawings.view(drawings.part(lengths[-1]), spec) for drawings in (alone, among)]
        assert views[0] == views[1]
