"""A body becomes a view: the drawn lines against elementary geometry and the drafting standards."""

import math
from collections import Counter
from itertools import pairwise

import pytest
from bodies import M12, body, bolt, bolt_features, lower, nut, washer

from builder.block.fingerprint import canonical
from builder.view.catalogue import thread_styles, view_kinds
from builder.view.drafting import Drafting
from builder.view.draw import Look, draw
from builder.view.view import View
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Line, bounds_of
from builder.words.units import Unit

GAP, OVERHANG = 1.0, 3.0
SIDES = ("side across corners", "side across flats")
BODIES = {"bolt": bolt, "nut": nut, "washer": washer}


def view_of(made, kind, style="iso", hidden=None, gap=GAP, spacing=(0.7, 3.0)):
    look = view_kinds()[kind]
    drafting = Drafting(style, gap, OVERHANG, spacing, hidden_lines=True)
    return draw((made,), Look(look, math.radians(look.roll), hidden, drafting))


def outline(view, kinds=(Line, Arc, Circle)):
    return [s for s in view.shapes if s.role is Role.OUTLINE and isinstance(s, kinds)]


def role(view, wanted):
    return [s for s in view.shapes if s.role is wanted]


def vertical(lines, x):
    return [s for s in lines if isinstance(s, Line) and abs(s.start.x - x) < 1e-9 and abs(s.end.x - x) < 1e-9]


def width(line):
    return abs(line.end.y - line.start.y)


def test_head_in_the_two_side_views():
    """Across corners e = 2 s / sqrt(3), across flats s; the head's top is the chamfer circle's diameter."""
    for kind, height in zip(SIDES, (2 * 18 / math.sqrt(3), 18.0), strict=True):
        view = view_of(bolt(), kind)
        assert bounds_of(outline(view)).height == pytest.approx(height, abs=1e-9)
        assert width(*vertical(outline(view), -7.5)) == pytest.approx(0.95 * 18, abs=1e-9)


def test_chamfer_arcs_have_the_radii_of_the_trade():
    """With dc = s: R = 0.955 s and 0.256 s across corners, 0.722 s across flats (common practice, no source)."""
    hexagon = {"across_flats": 10.0, "from": 0.0, "to": 8.0, "chamfer_diameter": 10.0}
    made = body(lower("hexagon", hexagon, chamfer="from"))
    corners = sorted({round(s.radius / 10, 3) for s in outline(view_of(made, SIDES[0]), Arc)})
    flats = sorted({round(s.radius / 10, 3) for s in outline(view_of(made, SIDES[1]), Arc)})
    assert corners == [0.256, 0.955]
    assert flats == [0.722]


def test_the_shank_the_fillet_and_the_thread():
    """ISO 6410-1: crest wide, root narrow at d3, the end of full thread a wide line across the crests."""
    view = view_of(bolt(), SIDES[0])
    fillets = [s for s in outline(view, Arc) if abs(s.radius - 0.6) < 1e-9]
    assert len(fillets) == 2 and all(s.end - s.start == pytest.approx(90.0) for s in fillets)
    roots = role(view, Role.THREAD)
    d3 = 12.0 - 1.226869 * 1.75
    assert sorted(round(s.start.y, 9) for s in roots) == [round(-d3 / 2, 9), round(d3 / 2, 9)]
    assert all((s.start.x, s.end.x) == pytest.approx((20.0, 50.0)) for s in roots)
    assert width(*vertical(outline(view), 20.0)) == pytest.approx(12.0)
    assert width(*vertical(outline(view), 50.0)) == pytest.approx(d3)


def test_the_washer_face_stands_between_head_and_bearing_plane():
    """One line at each face: dw wide at the bearing plane, the hexagon's width where the head ends."""
    view = view_of(bolt(), SIDES[1])
    assert width(*vertical(outline(view), 0.0)) == pytest.approx(16.63)
    assert width(*vertical(outline(view), -0.6)) == pytest.approx(18.0)


def test_small_threads_keep_their_lines_apart():
    """ISO 6410-1: at least 0.7 mm between crest and root on paper; M3's true gap is 0.307 mm."""
    small = M12 | {
        "d": 3.0,
        "P": 0.5,
        "s": 5.5,
        "k": 2.0,
        "c": 0.2,
        "dw": 4.57,
        "r": 0.1,
        "b": 12.0,
        "l": 20.0,
    }
    roots = role(view_of(bolt(small), SIDES[0], gap=0.7), Role.THREAD)
    assert {round(abs(s.start.y), 9) for s in roots} == {0.8}


def test_head_end_shows_the_shank_hidden():
    """From the head: hexagon and chamfer circle seen, shank and thread root dashed, nothing else."""
    view = view_of(bolt(), "head end", hidden=frozenset({"shank", "thread"}))
    assert Counter(type(s).__name__ for s in outline(view)) == {"Line": 6, "Circle": 1}
    hidden = role(view, Role.HIDDEN)
    assert sorted(round(s.radius, 6) for s in hidden) == [4.92649, 6.0]
    assert [type(s) for s in sorted(hidden, key=lambda s: s.radius)] == [Arc, Circle]


def test_point_end_leaves_the_chamfer_circle_out():
    """ISO 6410-1: crest circle wide, three quarters of the root circle narrow, open in the upper right quadrant."""
    view = view_of(bolt(), "point end", hidden=frozenset())
    assert sorted(s.radius for s in outline(view, Circle)) == pytest.approx([6.0, 16.63 / 2])
    (root,) = role(view, Role.THREAD)
    assert root.end - root.start == pytest.approx(270.0)
    assert not root.start <= 45.0 <= root.end and not root.start <= 405.0 <= root.end
    assert not role(view, Role.HIDDEN)


def test_end_views_from_both_ends_open_the_same_quadrant():
    """The open quadrant is a matter of the drawing, not of the side that is looked at."""
    (near,) = role(view_of(bolt(), "point end", hidden=frozenset()), Role.THREAD)
    far = [s for s in role(view_of(bolt(), "head end"), Role.HIDDEN) if isinstance(s, Arc)]
    assert [(s.start, s.end) for s in far] == [pytest.approx((near.start, near.end))]


def test_nut_in_section():
    """ISO 6410-1: minor diameter wide, major narrow, hatching runs to the minor diameter; no hidden lines."""
    view = view_of(nut(), "section")
    minor = (12.0 - 1.082532 * 1.75) / 2
    level = [s for s in outline(view, Line) if abs(s.start.y - s.end.y) < 1e-9]
    assert minor in [pytest.approx(abs(s.start.y)) for s in level]
    assert {round(abs(s.start.y), 6) for s in role(view, Role.THREAD)} == {6.0}
    hatching = role(view, Role.HATCHING)
    assert hatching and not role(view, Role.HIDDEN)
    ends = [p for s in hatching for p in (s.start, s.end)]
    assert min(abs(p.y) for p in ends) == pytest.approx(minor)
    assert max(abs(p.y) for p in ends) <= 18 / math.sqrt(3) + 1e-9


def test_hatching_stays_in_the_material_and_crosses_all_of_it():
    """Every hatch line's middle is material, and the hatched length times the spacing is the cut face's area."""
    made = washer()
    view = view_of(made, "section", spacing=(0.05, 0.05))
    lines = role(view, Role.HATCHING)
    for s in lines:
        x, y = (s.start.x + s.end.x) / 2, (s.start.y + s.end.y) / 2
        assert 0 < x < 2.5 and 6.5 < abs(y) < 12.0
    assert sum(math.dist(s.start, s.end) for s in lines) * 0.05 == pytest.approx(2 * 5.5 * 2.5, rel=0.01)


def test_washer_views():
    """Side: a rectangle with the bore dashed; end: two circles; the axes stand out by the overhang."""
    side = view_of(washer(), "side")
    assert len(outline(side)) == 4 and len(role(side, Role.HIDDEN)) == 2
    end = view_of(washer(), "end")
    assert sorted(s.radius for s in outline(end)) == [6.5, 12.0]
    assert bounds_of(role(end, Role.AXIS)) == pytest.approx((-15.0, -15.0, 15.0, 15.0))
    assert bounds_of(role(side, Role.AXIS)) == pytest.approx((-3.0, 0.0, 5.5, 0.0))


def profile_corners(view):
    """The top profile of a detailed thread: the ends of the outline's short lines above the axis."""
    return [s for s in outline(view, Line) if s.start.y > 0 < s.end.y and 20 < s.start.x < 48 and 20 < s.end.x < 48]


def test_detailed_thread_is_a_60_degree_v_at_true_pitch():
    """ASME Y14.6 detailed: sharp V, 60 degrees between flanks, crests a pitch apart at the major diameter."""
    flanks = profile_corners(view_of(bolt(), SIDES[0], "detailed"))
    angles = {round(math.degrees(math.atan2(abs(s.end.y - s.start.y), abs(s.end.x - s.start.x))), 6) for s in flanks}
    assert angles == {60.0}
    crests = sorted({round(p.x, 6) for s in flanks for p in (s.start, s.end) if abs(p.y - 6.0) < 1e-9})
    assert {round(b - a, 6) for a, b in pairwise(crests)} == {1.75}


def test_detailed_profile_is_closed_in_the_section():
    """Every end of the profile's lines meets another line: hatching has no way out."""
    view = view_of(nut(), "section", "detailed")
    ends = Counter((round(p.x, 6), round(p.y, 6)) for s in outline(view, Line) for p in (s.start, s.end))
    profile = [
        s
        for s in outline(view, Line)
        if s.start.y * s.end.y > 0 and all(5.05 < abs(p.y) < 6.31 for p in (s.start, s.end))
    ]
    assert len(profile) > 20
    for s in profile:
        for p in (s.start, s.end):
            on_face = p.x < 1e-6 or p.x > 10.8 - 1e-6
            assert ends[(round(p.x, 6), round(p.y, 6))] >= 2 or on_face, p


def test_simplified_and_schematic_roots():
    """ASME Y14.6: simplified roots are dashed; schematic roots are short wide lines between long narrow crests."""
    dashed = role(view_of(bolt(), SIDES[0], "simplified"), Role.HIDDEN)
    assert len(dashed) == 2 and not role(view_of(bolt(), SIDES[0], "simplified"), Role.THREAD)
    schematic = view_of(bolt(), SIDES[0], "schematic")
    crests = [s for s in role(schematic, Role.THREAD) if width(s) > 11.9]
    roots = [s for s in outline(schematic, Line) if abs(width(s) - (12 - 1.226869 * 1.75)) < 1e-9 and s.start.x < 49]
    assert len(crests) >= 5 and len(roots) >= 5
    assert all(s.start.x == pytest.approx(s.end.x) for s in crests + roots)


@pytest.mark.parametrize("style", sorted(thread_styles()))
@pytest.mark.parametrize("name", sorted(BODIES))
def test_end_and_side_agree(name, style):
    """The end view is as wide as the side views are high: across corners up, across flats sideways."""
    made = BODIES[name]()
    kind = {"bolt": "point end", "nut": "end", "washer": "end"}[name]
    end = bounds_of(outline(view_of(made, kind, style)))
    corners, flats = (bounds_of(outline(view_of(made, side, style))) for side in SIDES)
    assert end.height == pytest.approx(corners.height, abs=1e-6)
    assert end.width == pytest.approx(flats.height, abs=1e-6)
    assert (corners.left, corners.right) == pytest.approx((flats.left, flats.right))


@pytest.mark.parametrize("style", sorted(thread_styles()))
@pytest.mark.parametrize("kind", sorted(view_kinds()))
@pytest.mark.parametrize("name", sorted(BODIES))
def test_no_line_is_drawn_twice_or_without_length(name, kind, style):
    """No zero-length shape, no two on the same place; all finite; axes and hatching stay within reason."""
    view = view_of(BODIES[name](), kind, style)
    for s in view.shapes:
        if isinstance(s, Line):
            assert math.dist(s.start, s.end) > 1e-6
        else:
            assert s.radius > 1e-6
    keys = [_key(s) for s in view.shapes if s.role not in (Role.AXIS, Role.HATCHING)]
    assert len(keys) == len(set(keys))


def _key(s):
    if isinstance(s, Line):
        return tuple(sorted(tuple(round(v, 6) for v in p) for p in (s.start, s.end)))
    span = (round(s.start, 4), round(s.end, 4)) if isinstance(s, Arc) else ()
    return (*(round(v, 6) for v in s.centre), round(s.radius, 6), *span)


def test_the_order_of_features_does_not_matter():
    """The same body stated in another order gives the same drawing."""
    features = bolt_features()
    for kind in ("side across corners", "head end", "section"):
        one = view_of(body(*features), kind)
        other = view_of(body(*reversed(features)), kind)
        assert _text(one) == _text(other)


def _text(view: View) -> str:
    return canonical("X", Unit.MM, view, {})


def test_every_drawn_line_mirrors_about_the_axis():
    """A bolt is symmetric, so are its side views, the sloped lines of the detailed thread excepted."""
    for style in ("iso", "simplified", "schematic"):
        view = view_of(bolt(), SIDES[0], style)
        lines = {_key(s) for s in view.shapes if isinstance(s, Line)}
        mirrored = {
            tuple(sorted((round(p.x, 6), round(-p.y, 6) + 0.0) for p in (s.start, s.end)))
            for s in view.shapes
            if isinstance(s, Line)
        }
        assert set(lines) == mirrored
