"""Threads in every style: which lines stand for them in every kind of view, against the drafting standards."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from bodies import body, lower, nut

from builder.view.catalogue import thread_styles, view_kinds
from builder.view.drafting import Drafting
from builder.view.draw import Look, draw
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Line

STYLES = sorted(thread_styles())
LENGTHWISE = ("iso", "simplified")  # the styles with root lines along the axis
ROOT = {"iso": Role.THREAD, "simplified": Role.HIDDEN}
M12 = {"diameter": 12.0, "pitch": 1.75, "from": 0.0, "to": 30.0, "point_diameter": 10.0}
COARSE = {"diameter": 20.0, "pitch": 4.0, "from": 0.0, "to": 40.0, "minor_diameter": 15.0}  # plausible, no source
D1, D3 = (12.0 - 1.082532 * 1.75) / 2.0, (12.0 - 1.226869 * 1.75) / 2.0  # ISO 68-1, radii
V_ROOT = 6.0 - 1.75 * math.sqrt(3.0) / 2.0  # 60 degrees between flanks: H = 0.866 P


def drawn(made, kind="side", style="iso", roll=0.0, gap=0.7):
    bodies = made if isinstance(made, tuple) else (made,)
    view = draw(bodies, Look(view_kinds()[kind], math.radians(roll), None, Drafting(style, gap, 3.0, (0.7, 3.0))))
    return [shape for shape in view.shapes if shape.role is not Role.AXIS]


def lines(shapes, role=None):
    return [s for s in shapes if isinstance(s, Line) and role in (None, s.role)]


def spans(shapes, role=None):
    """Each line as its two ends, left and lower first."""
    return [tuple(sorted((round(p.x, 6), round(p.y, 6) + 0.0) for p in (s.start, s.end))) for s in lines(shapes, role)]


def across(shapes, x, role=Role.OUTLINE):
    """The stretches of y that lines square to the axis cover at a place."""
    return sorted((a[1], b[1]) for a, b in spans(shapes, role) if abs(a[0] - x) < 1e-6 and abs(b[0] - x) < 1e-6)


def sloping(shapes, role):
    return [(a, b) for a, b in spans(shapes, role) if abs(a[0] - b[0]) > 1e-6 and abs(a[1] - b[1]) > 1e-6]


def shank(start=-10.0, end=0.0, diameter=12.0):
    return lower("cylinder", {"diameter": diameter, "from": start, "to": end}, "shank")


def screw(**choices):
    return body(shank(), lower("thread", M12, **choices))


def disc(*holes, thick=40.0):
    return body(lower("cylinder", {"diameter": 40.0, "from": 0.0, "to": thick}), *holes)


def blind(**numbers):
    hole = M12 | {"drill_to": 36.0} | numbers
    return disc(lower("tapped_bore", hole, countersink="from", bottom="drill"))


def mirrored(shapes):
    return sorted(
        (*sorted((-x, y) for x, y in span), s.role) for span, s in zip(spans(shapes), lines(shapes), strict=True)
    )


class TestEitherWay:
    """A thread that looks the other way is drawn as the other one's mirror image."""

    @pytest.mark.parametrize("kind", ["side", "section", "half section"])
    @pytest.mark.parametrize("style", ["iso", "simplified", "schematic"])
    def test_a_stud_end_mirrors_a_bolt_end(self, style, kind):
        there = drawn(screw(), kind, style)
        back = body(shank(0.0, 10.0), lower("thread", M12 | {"to": -30.0}))
        edges = [s for s in there if s.role is not Role.HATCHING]
        others = [s for s in drawn(back, kind, style) if s.role is not Role.HATCHING]
        assert mirrored(edges) == sorted((*span, s.role) for span, s in zip(spans(others), lines(others), strict=True))

    def test_a_mirror_turns_a_right_hand_thread_into_a_left_hand_one(self):
        there = drawn(screw(), "side", "detailed")
        back = body(shank(0.0, 10.0), lower("thread", M12 | {"to": -30.0}, hand="left"))
        others = drawn(back, "side", "detailed")
        assert mirrored(there) == sorted((*span, s.role) for span, s in zip(spans(others), lines(others), strict=True))


class TestTheEndOfFullThread:
    @pytest.mark.parametrize("style", STYLES)
    def test_it_is_a_wide_line_across_the_crests(self, style):
        """ISO 6410-1: the limit of full thread is a wide line up to the crests."""
        assert across(drawn(screw(), style=style), 0.0) == [(-6.0, 6.0)]

    @pytest.mark.parametrize("style", STYLES)
    def test_a_rod_threaded_from_end_to_end_has_none(self, style):
        rod = body(lower("thread", M12, chamfer="both"))
        found = [x for x in (1.0, 15.0) if (-6.0, 6.0) in across(drawn(rod, style=style), x)]
        assert found == ([] if style == "detailed" else [1.0])  # the chamfer's edge, which the profile replaces

    @pytest.mark.parametrize("style", STYLES)
    def test_where_a_thread_is_cut_it_runs_from_crest_to_root_alone(self, style):
        """A cut takes the crests off: no line crosses the cut face (ISO 6410-1's figures, from memory)."""
        root = round(V_ROOT if style == "detailed" else D3, 6)
        whole, half = (drawn(screw(), kind, style) for kind in ("section", "half section"))
        assert across(whole, 0.0) == [(-6.0, -root), (root, 6.0)]
        assert across(half, 0.0) == [(-6.0, 0.0), (root, 6.0)]

    def test_a_reduced_shank_ends_at_the_step(self):
        made = body(shank(diameter=10.1), lower("thread", M12))
        assert across(drawn(made), 0.0) == [(-6.0, 6.0)]
        assert {(-10.0, 5.05), (0.0, 5.05)} in [set(span) for span in spans(drawn(made), Role.OUTLINE)]

    @pytest.mark.parametrize("style", STYLES)
    def test_in_a_blind_hole_it_crosses_the_hole_out_to_the_major_diameter(self, style):
        assert across(drawn(blind(), "section", style), 30.0) == [(-6.0, 6.0)]
        assert across(drawn(blind(), "half section", style), 30.0) == [(0.0, 6.0)]
        assert across(drawn(blind(), "side", style), 30.0, Role.HIDDEN) == [(-6.0, 6.0)]


class TestRunOut:
    """ISO 6410-1: incomplete thread is drawn, where it is needed, by sloping narrow lines."""

    @pytest.mark.parametrize("style", LENGTHWISE)
    def test_it_slopes_from_the_root_to_the_crests(self, style):
        made = body(shank(), lower("thread", M12 | {"run_out": 4.0}))
        slopes = sloping(drawn(made, style=style), ROOT[style])
        expected = [((-4.0, -6.0), (0.0, -D3)), ((-4.0, 6.0), (0.0, D3))]
        assert sorted(slopes) == [(a, pytest.approx(b, abs=1e-6)) for a, b in expected]
        assert not sloping(drawn(screw(), style=style), ROOT[style])

    @pytest.mark.parametrize("style", ["schematic", "detailed"])
    def test_it_slopes_narrow_in_the_styles_without_root_lines(self, style):
        made = body(shank(), lower("thread", M12 | {"run_out": 4.0}))
        slopes = [span for span in sloping(drawn(made, style=style), Role.THREAD) if span[0][0] == -4.0]
        root = V_ROOT if style == "detailed" else D3
        assert sorted(b for _, b in slopes) == [pytest.approx((0.0, y), abs=1e-6) for y in (-root, root)]

    @pytest.mark.parametrize("style", LENGTHWISE)
    def test_in_a_hole_it_slopes_inward_to_the_drilled_bore(self, style):
        made = blind(run_out=5.0)
        slopes = sloping(drawn(made, "section", style), ROOT[style])
        expected = [((30.0, -6.0), (35.0, -D1)), ((30.0, 6.0), (35.0, D1))]
        assert sorted(slopes) == [(a, pytest.approx(b, abs=1e-6)) for a, b in expected]
        hidden = [span for span in sloping(drawn(made, "side", style), Role.HIDDEN) if span[0][0] == 30.0]
        assert len(hidden) == 2


def crests(shapes, side, radius=10.0):
    """Where the profile's tips stand above (+1) or below (-1) the axis."""
    return sorted({a for span in spans(shapes, Role.OUTLINE) for a, y in span if abs(y - side * radius) < 1e-6})


class TestHandAndStarts:
    """The helix: a crest advances by half a lead on its way round the front, from above the axis to below it."""

    @pytest.mark.parametrize("starts", [1, 2, 3, 4])
    @pytest.mark.parametrize(("hand", "falls"), [("right", 1.0), ("left", -1.0)])
    def test_crest_lines_slope_by_half_a_lead(self, starts, hand, falls):
        made = body(shank(diameter=30.0), lower("thread", COARSE | {"starts": starts}, hand=hand))
        long = [
            (b[0] - a[0]) * (a[1] - b[1]) / 20.0
            for a, b in spans(drawn(made, style="detailed"), Role.OUTLINE)
            if {abs(a[1]), abs(b[1])} == {10.0} and a[0] != b[0]
        ]
        assert long and long == pytest.approx([falls * starts * 4.0 / 2.0] * len(long))

    @pytest.mark.parametrize("starts", [1, 2, 3, 4])
    def test_the_pitch_stays_and_odd_starts_set_crests_against_roots(self, starts):
        made = body(shank(diameter=30.0), lower("thread", COARSE | {"starts": starts}))
        above, below = (crests(drawn(made, style="detailed"), side)[1:-1] for side in (1.0, -1.0))
        for tips in (above, below):
            assert {round(b - a, 6) for a, b in pairwise(tips)} == {4.0}
        assert round((below[0] - above[0]) % 4.0, 6) % 4.0 == (2.0 if starts % 2 else 0.0)

    @pytest.mark.parametrize(("hand", "rises"), [("right", 1.0), ("left", -1.0)])
    def test_the_far_wall_of_a_hole_slopes_the_other_way(self, hand, rises):
        hole = COARSE | {"starts": 2.0}
        made = disc(lower("tapped_bore", hole, hand=hand))
        long = [
            (b[0] - a[0]) * (b[1] - a[1])
            for a, b in spans(drawn(made, "section", "detailed"), Role.OUTLINE)
            if a[1] * b[1] < 0.0 and abs(a[0] - b[0]) > 3.0
        ]
        assert long and all(math.copysign(1.0, slope) == rises for slope in long)

    @pytest.mark.parametrize("style", ["iso", "simplified", "schematic"])
    def test_the_other_styles_do_not_show_them(self, style):
        plain = body(shank(diameter=30.0), lower("thread", COARSE))
        other = body(shank(diameter=30.0), lower("thread", COARSE | {"starts": 3.0}, hand="left"))
        assert spans(drawn(plain, style=style)) == spans(drawn(other, style=style))


class TestCutThreads:
    """In a section of an external thread nothing stands before the cut face."""

    @pytest.mark.parametrize("style", STYLES)
    def test_no_line_crosses_the_cut_face(self, style):
        whole = drawn(screw(), "section", style)
        assert not [s for s in spans(whole, Role.THREAD) + spans(whole, Role.OUTLINE) if 1 < s[0][0] < 28 and _spans(s)]

    @pytest.mark.parametrize("style", ["schematic", "detailed"])
    def test_a_half_section_shows_crests_below_the_axis_alone(self, style):
        shapes = [s for s in drawn(screw(), "half section", style) if s.role in (Role.OUTLINE, Role.THREAD)]
        inside = [s for s in spans(shapes) if 1 < s[0][0] < 28 and min(abs(s[0][1]), abs(s[1][1])) < V_ROOT - 0.1]
        assert inside and all(max(a[1], b[1]) <= 0.0 for a, b in inside)

    def test_schematic_cut_threads_are_drawn_simplified(self):
        """ASME Y14.6 keeps the schematic form off sections of external threads (from memory)."""
        roots = [(a[1], b[1]) for a, b in spans(drawn(screw(), "section", "schematic"), Role.HIDDEN)]
        assert sorted(roots) == [pytest.approx((y, y), abs=1e-6) for y in (-D3, D3)]

    def test_hatching_runs_to_the_profile_in_detail_and_to_the_crests_else(self):
        for style in STYLES:
            ends = [
                abs(y) for span in spans(drawn(screw(), "section", style), Role.HATCHING) for x, y in span if 2 < x < 27
            ]
            profile = [y for y in ends if V_ROOT + 0.01 < y < 5.99]
            assert bool(profile) == (style == "detailed")


def _spans(span):
    (_, a), (_, b) = span
    return min(a, b) < -1.0 and max(a, b) > 1.0


class TestASlottedEnd:
    """The slot of a set screw takes the crests away with it."""

    MADE = body(
        lower("thread", M12 | {"to": 20.0}, chamfer="both"),
        lower("slot", {"width": 2.0, "diameter": 12.0, "from": 0.0, "to": 4.0}),
    )

    @pytest.mark.parametrize("style", STYLES)
    def test_no_line_runs_across_the_notch(self, style):
        notch = [s for s in spans(drawn(self.MADE, style=style)) if max(s[0][0], s[1][0]) < 3.99 and _spans(s)]
        assert not notch

    @pytest.mark.parametrize("style", STYLES)
    def test_the_notch_is_drawn_all_round(self, style):
        shapes = drawn(self.MADE, style=style)
        assert (-1.0, 1.0) in across(shapes, 4.0)
        for y in (-1.0, 1.0):
            assert ((0.0, y), (4.0, y)) in spans(shapes, Role.OUTLINE)


class TestScrewedTogether:
    """ISO 6410-1: an external thread covers the internal one that it is screwed into."""

    BOLT = replace(screw(), whole=True)
    NUT = body(
        lower("hexagon", {"across_flats": 18.0, "from": 10.0, "to": 20.8}, chamfer="both"),
        lower("tapped_bore", M12 | {"from": 10.0, "to": 20.8}, countersink="both"),
    )

    @pytest.mark.parametrize("style", STYLES)
    @pytest.mark.parametrize("kind", ["side", "end", "section"])
    def test_the_order_of_the_bodies_does_not_matter(self, kind, style):
        one, other = (
            sorted(map(str, (s for s in drawn(order, kind, style) if s.role is not Role.HATCHING)))
            for order in ((self.BOLT, self.NUT), (self.NUT, self.BOLT))
        )
        assert one == other

    @pytest.mark.parametrize("style", STYLES)
    def test_nothing_of_the_nut_shows_within_the_bolt(self, style):
        """In a section the bolt, drawn whole, is as it is alone; the hatching ends at its crests, or in its grooves."""
        alone = {s for s in spans(drawn(self.BOLT, "section", style)) if max(abs(y) for _, y in s) < 5.9}
        together = {s for s in spans(drawn((self.BOLT, self.NUT), "section", style)) if max(abs(y) for _, y in s) < 5.9}
        assert together == alone
        hatching = spans(drawn((self.BOLT, self.NUT), "section", style), Role.HATCHING)
        assert (
            hatching
            and min(abs(y) for span in hatching for _, y in span) >= (V_ROOT if style == "detailed" else 6.0) - 1e-6
        )

    def test_from_the_end_the_bolt_shows_and_the_nuts_thread_does_not(self):
        shapes = drawn((self.BOLT, self.NUT), "end")
        radii = sorted(round(s.radius, 4) for s in shapes if isinstance(s, Circle | Arc))
        assert radii == pytest.approx([D3, 6.0, 0.95 * 9.0], abs=1e-4)


BODIES = {
    "stud": body(
        shank(0.0, 10.0),
        lower("thread", M12 | {"from": 10.0, "run_out": 3.0}, "nut end"),
        lower("thread", M12 | {"to": -14.0, "run_out": 3.0}, "stud end", hand="left"),
    ),
    "rod": body(lower("thread", M12, chamfer="both")),
    "two starts": body(shank(diameter=30.0), lower("thread", COARSE | {"starts": 2.0}, hand="left")),
    "slotted": TestASlottedEnd.MADE,
    "blind": blind(run_out=5.0),
    "from the far side": disc(
        lower(
            "tapped_bore",
            M12 | {"from": 40.0, "to": 22.0, "undercut_diameter": 12.6},
            countersink="from",
            bottom="flat",
        )
    ),
    "nut": nut(),
}


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("kind", sorted(view_kinds()))
@pytest.mark.parametrize("name", sorted(BODIES))
def test_no_line_is_drawn_twice_or_without_length(name, kind, style):
    """Two lines of one carrier never share more than an end."""
    found = [s for s in drawn(BODIES[name], kind, style) if s.role is not Role.HATCHING]
    assert found
    assert all(a != b for a, b in spans(found))
    assert len(spans(found)) == len(set(spans(found)))


@pytest.mark.parametrize("name", sorted(BODIES))
def test_the_open_root_circle_is_the_same_from_both_ends(name):
    """ISO 6410-1: three quarters of a circle, open in the upper right quadrant, whichever way the thread looks."""
    for kind in ("end", "base end"):
        arcs = [s for s in drawn(BODIES[name], kind) if isinstance(s, Arc) and s.end - s.start < 359.0]
        assert all(
            (s.start, s.end) == pytest.approx((100.0, 370.0)) for s in arcs if abs(s.end - s.start - 270.0) < 1.0
        )
        assert any(abs(s.end - s.start - 270.0) < 1.0 for s in arcs)
