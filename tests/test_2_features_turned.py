"""Turned features become solids: volumes by Pappus and handbook formulas, undercuts by the published table."""

import math

import numpy as np
import pytest
from bodies import body, lower

from builder.body.contour import Bow, Straight, area, reach
from builder.body.feature import Impossible
from builder.body.measure import volume
from builder.body.outlined import loop_of
from builder.body.solid import AxisMark, Fit, PitchMark
from builder.body.soundness import misfits_of
from builder.words.knot import Knot

SHAFT = {"diameter": 20.0, "from": 0.0, "to": 40.0}
RAYS = 0.02  # of the little that is cut or added: such bodies are measured by rays


def solid_volume(lowered):
    (piece,) = lowered.pieces
    return piece.solid.volume()


def ring(area_, radius):
    """Pappus: the volume of a section turned about an axis, by its area and its centroid's distance."""
    return 2.0 * math.pi * radius * area_


class TestVolumes:
    """Formulas of elementary geometry, as every handbook prints them."""

    def test_a_taper_is_a_frustum(self):
        pin = lower("taper", {"diameter": 10.0, "end_diameter": 11.2, "from": 0.0, "to": 60.0})
        assert solid_volume(pin) == pytest.approx(math.pi * 60.0 / 12.0 * (10.0**2 + 10.0 * 11.2 + 11.2**2), rel=1e-12)

    @pytest.mark.parametrize(("diameter", "end"), [(0.0, 9.0), (9.0, 0.0)])
    def test_a_taper_to_a_point_is_a_cone(self, diameter, end):
        tip = lower("taper", {"diameter": diameter, "end_diameter": end, "from": 2.0, "to": 14.0})
        assert solid_volume(tip) == pytest.approx(math.pi * 9.0**2 * 12.0 / 12.0, rel=1e-12)

    def test_a_ball(self):
        assert volume(body(lower("ball", {"diameter": 12.0, "at": 3.0}))) == pytest.approx(math.pi * 12.0**3 / 6.0)

    @pytest.mark.parametrize("height", [0.4, 3.0, 8.75])
    @pytest.mark.parametrize("way", [1.0, -1.0])
    def test_a_crown_is_a_segment_of_a_sphere(self, height, way):
        """pi h (3 a^2 + h^2) / 6; at h = a it is half a ball."""
        crown = lower("crown", {"diameter": 17.5, "from": 2.0, "to": 2.0 + way * height})
        assert solid_volume(crown) == pytest.approx(math.pi * height * (3.0 * 8.75**2 + height**2) / 6.0, rel=1e-12)
        low, high = crown.pieces[0].solid.box()
        assert (low[0], high[0]) == pytest.approx(sorted((2.0, 2.0 + way * height)))
        assert high[1] == pytest.approx(8.75)

    @pytest.mark.parametrize(("side", "at"), [("from", 0.0), ("to", 40.0)])
    def test_a_chamfer_cuts_a_triangle(self, side, at):
        cut = lower("chamfer", {"diameter": 20.0, "at": at, "length": 3.0, "angle": 30.0}, side=side)
        across = 3.0 * math.tan(math.radians(30.0))
        shaft = lower("cylinder", SHAFT)
        expected = ring(3.0 * across / 2.0, 10.0 - across / 3.0)
        assert volume(body(shaft)) - volume(body(shaft, cut)) == pytest.approx(expected, rel=RAYS)

    @pytest.mark.parametrize("side", ["from", "to"])
    def test_a_fillet_is_the_spandrel_by_pappus(self, side):
        """Area (1 - pi/4) r^2, centroid (10 - 3 pi) / (12 - 3 pi) r from the corner."""
        r = 2.5
        fillet = lower("fillet", {"diameter": 14.0, "at": 12.0, "radius": r}, side=side)
        centroid = r * (10 - 3 * math.pi) / (12 - 3 * math.pi)
        assert solid_volume(fillet) == pytest.approx(ring((1 - math.pi / 4) * r * r, 7.0 + centroid), rel=1e-9)
        low, high = fillet.pieces[0].solid.box()
        assert (low[0], high[0]) == ((12.0, 14.5) if side == "from" else (9.5, 12.0))

    def test_a_sharp_groove_is_a_ring(self):
        cut = lower("groove", {"diameter": 15.0, "outer": 20.0, "from": 10.0, "to": 14.0})
        shaft = lower("cylinder", SHAFT)
        expected = math.pi / 4.0 * (20.0**2 - 15.0**2) * 4.0
        assert volume(body(shaft)) - volume(body(shaft, cut)) == pytest.approx(expected, rel=RAYS)

    def test_a_full_round_groove_has_half_a_circle_for_its_floor(self):
        """Pappus: half a disc, its centroid 4 r / (3 pi) from its diameter, under a rectangle."""
        cut = lower("groove", {"diameter": 14.0, "outer": 20.0, "from": 10.0, "to": 14.0, "radius": 2.0})
        top, above = 10.0 + 0.25 * 3.0, 9.0  # the cutter stands a quarter of the depth out of the surface
        floor = ring(math.pi * 2.0, above - 4.0 * 2.0 / (3.0 * math.pi))
        assert solid_volume(cut) == pytest.approx(floor + math.pi * (top**2 - above**2) * 4.0, rel=1e-9)

    def test_rounded_corners_leave_the_spandrels(self):
        sharp, rounded = (
            lower("groove", {"diameter": 15.0, "outer": 20.0, "from": 10.0, "to": 14.0, "radius": r})
            for r in (0.0, 1.0)
        )
        centroid = (10 - 3 * math.pi) / (12 - 3 * math.pi)
        left = 2.0 * ring(1 - math.pi / 4, 7.5 + centroid)
        assert solid_volume(sharp) - solid_volume(rounded) == pytest.approx(left, rel=1e-9)

    def test_a_plain_collar_is_a_disc(self):
        collar = lower("collar", {"diameter": 22.0, "from": 0.0, "to": -3.0})
        assert solid_volume(collar) == pytest.approx(math.pi * 11.0**2 * 3.0)

    @pytest.mark.parametrize("way", [1.0, -1.0])
    def test_a_coned_collar_is_a_disc_and_a_frustum(self, way):
        numbers = {"diameter": 22.0, "from": 1.0, "to": 1.0 + way * 2.0, "top_diameter": 14.0, "angle": 20.0}
        collar, cone = lower("collar", numbers), 4.0 * math.tan(math.radians(20.0))
        expected = math.pi * 11.0**2 * 2.0 + math.pi * cone / 12.0 * (22.0**2 + 22.0 * 14.0 + 14.0**2)
        assert solid_volume(collar) == pytest.approx(expected, rel=1e-12)
        low, high = collar.pieces[0].solid.box()
        assert (low[0], high[0]) == pytest.approx(sorted((1.0, 1.0 + way * (2.0 + cone))))

    def test_a_full_round_rim(self):
        """Half a disc round a cylinder: Pappus, its centroid 4 r / (3 pi) beyond the cylinder."""
        numbers = {"diameter": 22.0, "from": 0.0, "to": 4.0, "rounding_radius": 2.0}
        collar = lower("collar", numbers, rounding="both")
        rim = ring(math.pi * 2.0, 9.0 + 8.0 / (3.0 * math.pi))
        assert solid_volume(collar) == pytest.approx(math.pi * 9.0**2 * 4.0 + rim, rel=1e-9)

    def test_a_collar_loses_its_chamfers(self):
        plain, chamfered = (
            lower("collar", {"diameter": 22.0, "from": 0.0, "to": 5.0, "chamfer_length": 1.0}, chamfer=ends)
            for ends in ("none", "both")
        )
        assert solid_volume(plain) - solid_volume(chamfered) == pytest.approx(2.0 * ring(0.5, 11.0 - 1.0 / 3.0))

    @pytest.mark.parametrize("ends", ["from", "to", "both"])
    def test_rounded_ends_of_a_cylinder(self, ends):
        """The spandrel beyond a quarter circle, by Pappus, off each rounded edge."""
        pin, r = lower("cylinder", SHAFT | {"rounding_radius": 3.0}, rounding=ends), 3.0
        off = ring((1 - math.pi / 4) * r * r, 10.0 - r * (10 - 3 * math.pi) / (12 - 3 * math.pi))
        expected = math.pi * 100.0 * 40.0 - off * (2.0 if ends == "both" else 1.0)
        assert solid_volume(pin) == pytest.approx(expected, rel=1e-9)

    def test_a_cylinder_wholly_rounded_at_both_ends_is_two_half_balls_apart(self):
        pin = lower("cylinder", SHAFT | {"rounding_radius": 10.0}, rounding="both")
        assert solid_volume(pin) == pytest.approx(math.pi * 100.0 * 20.0 + 4.0 / 3.0 * math.pi * 1000.0)

    def test_an_o_ring_is_a_torus(self):
        """2 pi^2 R r^2."""
        o_ring = lower("o_ring", {"diameter": 20.0, "section": 3.55, "at": 1.0})
        assert volume(body(o_ring)) == pytest.approx(2.0 * math.pi**2 * 11.775 * 1.775**2, rel=1e-12)

    def test_rollers_are_cylinders_or_frustums(self):
        numbers = {"diameter": 4.0, "length": 9.0, "circle": 33.0, "at": 8.0, "count": 3.0}
        plain, tapered = lower("rollers", numbers), lower("rollers", numbers | {"end_diameter": 5.0, "tilt": 20.0})
        for piece in plain.pieces:
            assert piece.solid.volume() == pytest.approx(math.pi * 4.0 * 9.0)
        for piece in tapered.pieces:
            assert piece.solid.volume() == pytest.approx(math.pi * 9.0 / 12.0 * (16.0 + 20.0 + 25.0))

    def test_rounded_rollers(self):
        numbers = {"diameter": 4.0, "length": 4.0, "circle": 33.0, "at": 8.0, "count": 1.0, "rounding_radius": 2.0}
        (piece,) = lower("rollers", numbers).pieces
        assert piece.solid.volume() == pytest.approx(4.0 / 3.0 * math.pi * 8.0)  # nothing but a ball is left


class TestPublishedDimensions:
    # DIN 509:1998, forms E and F (published extract): r, t1, f, t2 and, in brackets there, g: how far form F reaches
    # from the floor up the shoulder. That g follows from a corner arc tangent to the floor and to a relief at 8
    # degrees is ours to check. That floor and run-out meet in an edge, not in a radius, is from memory.
    UNDERCUTS = (
        (0.2, 0.1, 1.0, 0.1, 0.9),
        (0.4, 0.2, 2.0, 0.1, 1.1),
        (0.6, 0.2, 2.0, 0.1, 1.4),
        (0.6, 0.3, 2.5, 0.2, 2.1),
        (1.0, 0.2, 2.5, 0.1, 1.8),
        (1.0, 0.4, 4.0, 0.3, 3.2),
        (1.2, 0.2, 2.5, 0.1, 2.0),
        (1.2, 0.4, 4.0, 0.3, 3.4),
        (1.6, 0.3, 4.0, 0.2, 3.1),
        (2.5, 0.4, 5.0, 0.3, 4.8),
        (4.0, 0.5, 7.0, 0.3, 6.4),
    )

    @staticmethod
    def crosses(lowered, start, direction, length):
        """Return how far along a ray the material of a shoulder at 0, with a shaft of 100 in front, begins or ends."""
        shoulder = lower("cylinder", {"diameter": 200.0, "from": -20.0, "to": 0.0}, "shoulder")
        shaft = lower("cylinder", {"diameter": 100.0, "from": 0.0, "to": 40.0}, "shaft")
        part = body(shoulder, shaft, lowered)
        steps = np.linspace(0.0, length, 20001)
        filled = part.contains(np.array(start) + steps[:, None] * np.array(direction))
        return [float(steps[n]) for n in np.flatnonzero(np.diff(filled.astype(int)))]

    @pytest.mark.parametrize(("r", "t1", "f", "t2", "g"), UNDERCUTS)
    def test_form_f(self, r, t1, f, t2, g):
        numbers = {"diameter": 100.0, "at": 0.0, "radius": r, "depth": t1, "width": f, "shoulder_depth": t2}
        undercut = lower("undercut", numbers, side="from")
        hair = 1e-6
        ends = self.crosses(undercut, (0.0, 50.0 - hair, 0.0), (1.0, 0.0, 0.0), 2.0 * f)
        assert ends[-1] == pytest.approx(f, abs=2e-3)
        (mouth,) = [t for t in self.crosses(undercut, (-hair, 50.0 + r, 0.0), (0.0, 1.0, 0.0), 8.0) if t]
        assert mouth + r + t1 == pytest.approx(g, abs=0.055)  # the table rounds to 0.1
        assert undercut.pieces[0].solid.box()[0][0] == pytest.approx(-t2)

    @pytest.mark.parametrize(("r", "t1", "f"), [row[:3] for row in UNDERCUTS])
    def test_form_e(self, r, t1, f):
        numbers = {"diameter": 100.0, "at": 0.0, "radius": r, "depth": t1, "width": f}
        undercut = lower("undercut", numbers, side="from")
        ends = self.crosses(undercut, (1e-6, 50.0 - t1 / 2.0, 0.0), (1.0, 0.0, 0.0), 2.0 * f)
        assert ends[-1] == pytest.approx(f - t1 / 2.0 / math.tan(math.radians(15.0)), abs=2e-3)
        # the arc goes over into the shoulder's face r above the floor
        low = self.crosses(undercut, (1e-3 * r, 50.0, 0.0), (0.0, 1.0, 0.0), 5.0)
        if r > t1:
            assert low[-1] + t1 == pytest.approx(r, rel=0.06)
            assert {piece.fit for piece in undercut.pieces} == {Fit.CUT, Fit.ADDED}

    def test_the_floor_lies_at_its_depth(self):
        numbers = {"diameter": 100.0, "at": 0.0, "radius": 1.0, "depth": 0.4, "width": 4.0, "shoulder_depth": 0.3}
        undercut = lower("undercut", numbers, side="to")
        low, high = undercut.pieces[0].solid.box()
        assert reach(undercut.pieces[0].solid.loop)[1] == pytest.approx(49.6)
        assert high[0] == pytest.approx(0.3) and low[0] < -4.0

    def test_a_taper_pin_of_1_to_50(self):
        """ISO 2339: taper 1:50; 10 x 60 is 10 at the small end, so 11.2 at the large one."""
        pin = lower("taper", {"diameter": 10.0, "end_diameter": 10.0 + 60.0 / 50.0, "from": 0.0, "to": 60.0})
        assert pin.pieces[0].solid.box()[1][1] == pytest.approx(5.6)

    def test_an_o_ring_by_its_inside_diameter(self):
        """ISO 3601-1 states the inside diameter and the section: 20 x 3.55 is 27.1 outside."""
        low, high = lower("o_ring", {"diameter": 20.0, "section": 3.55, "at": 0.0}).pieces[0].solid.box()
        assert high[1] - low[1] == pytest.approx(27.1) and high[0] - low[0] == pytest.approx(3.55)


BALLS = {"diameter": 8.0, "circle": 33.5, "at": 7.0, "count": 8.0, "first": 10.0}


class TestRows:
    def test_balls_stand_on_their_circle(self):
        row = lower("balls", BALLS)
        assert len(row.pieces) == 8
        for n, piece in enumerate(row.pieces):
            angle = math.radians(10.0 + 45.0 * n)
            centre = (7.0, 16.75 * math.cos(angle), 16.75 * math.sin(angle))
            low, high = piece.solid.box()
            assert [(a + b) / 2.0 for a, b in zip(low, high, strict=True)] == pytest.approx(centre)
            assert [b - a for a, b in zip(low, high, strict=True)] == pytest.approx([8.0] * 3)

    def test_balls_are_marked(self):
        *axes, pitch = lower("balls", BALLS).axes
        assert isinstance(pitch, PitchMark) and pitch.curve.radius == 16.75 and pitch.curve.x == 7.0
        for axis in axes:
            assert isinstance(axis, AxisMark) and axis.radius == 4.0
            assert (axis.start[0], axis.end[0]) == (3.0, 11.0) and axis.start[1:] == axis.end[1:]

    def test_tilted_rollers_lean_outward_at_their_far_end(self):
        numbers = {"diameter": 4.0, "length": 10.0, "circle": 33.0, "at": 8.0, "count": 4.0, "tilt": 30.0}
        for axis in lower("rollers", numbers).axes[:-1]:
            near, far = math.hypot(*axis.start[1:]), math.hypot(*axis.end[1:])
            assert (near, far) == pytest.approx((16.5 - 2.5, 16.5 + 2.5))
            assert (axis.start[0], axis.end[0]) == pytest.approx((8 - 5 * math.sqrt(0.75), 8 + 5 * math.sqrt(0.75)))


def turned(*knots, fills="solid"):
    profile = tuple(knot if isinstance(knot, Knot) else Knot(*knot) for knot in knots)
    return lower("revolved", {}, profiles={"profile": profile}, fills=fills)


class TestRevolved:
    def test_a_rectangle_off_the_axis_is_a_tube(self):
        tube = turned((0.0, 5.0), (10.0, 5.0), (10.0, 8.0), (0.0, 8.0))
        assert solid_volume(tube) == pytest.approx(math.pi * (64.0 - 25.0) * 10.0)
        assert tube.pieces[0].fit is Fit.ADDED

    def test_a_profile_on_the_axis_stands_end_to_end_with_others(self):
        assert turned((0.0, 0.0), (10.0, 0.0), (10.0, 8.0), (0.0, 8.0)).pieces[0].fit is Fit.STACKED

    def test_a_circle_of_two_arcs_is_a_torus(self):
        for radius in (2.0, -2.0):
            torus = turned(Knot(-2.0, 7.0, radius, arc=True), Knot(2.0, 7.0, radius, arc=True))
            assert solid_volume(torus) == pytest.approx(2.0 * math.pi**2 * 7.0 * 4.0)

    def test_half_a_disc_on_the_axis_is_a_ball(self):
        assert solid_volume(turned((-3.0, 0.0), Knot(3.0, 0.0, -3.0, arc=True))) == pytest.approx(36.0 * math.pi)

    def test_a_rounded_corner_loses_the_spandrel(self):
        r = 2.0
        disc = turned((0.0, 0.0), (6.0, 0.0), Knot(6.0, 9.0, r), (0.0, 9.0))
        off = ring((1 - math.pi / 4) * r * r, 9.0 - r * (10 - 3 * math.pi) / (12 - 3 * math.pi))
        assert solid_volume(disc) == pytest.approx(math.pi * 81.0 * 6.0 - off, rel=1e-9)

    def test_a_void_cuts(self):
        shaft = lower("cylinder", SHAFT)
        groove = turned((10.0, 12.0), (20.0, 12.0), (15.0, 7.0), fills="void")
        expected = ring(3.0 * 6.0 / 2.0, 7.0 + 2.0)  # the triangle within the shaft: 6 wide at the surface, 3 deep
        assert groove.pieces[0].fit is Fit.CUT
        assert volume(body(shaft)) - volume(body(shaft, groove)) == pytest.approx(expected, rel=RAYS)

    @pytest.mark.parametrize(
        ("knots", "words"),
        [
            ([(0.0, 0.0), (5.0, 0.0), (5.0, -1.0)], "knot 3 has the radius -1"),
            ([(0.0, 1.0), Knot(6.0, 1.0, 3.0, arc=True), (3.0, 5.0)], "beyond the axis"),
            ([(0.0, 0.0), (5.0, 5.0), (5.0, 0.0), (0.0, 5.0)], "meets itself"),
            ([(0.0, 0.0), (5.0, 0.0), Knot(5.0, 1.0, 4.0), (0.0, 1.0)], "too large"),
            ([(0.0, 0.0), (5.0, 0.0)], "knot 2"),
        ],
    )
    def test_profiles_that_make_no_shape(self, knots, words):
        with pytest.raises(Impossible, match=words) as refused:
            turned(*knots)
        assert refused.value.parameter == "profile" and refused.value.expected


class TestOutlines:
    def test_pieces_join_and_close(self):
        """A stadium with a bay: straight pieces, arcs to the left and to the right, a rounded corner."""
        knots = (
            Knot(0.0, 0.0),
            Knot(10.0, 0.0),
            Knot(10.0, 4.0, 2.0, arc=True),
            Knot(6.0, 4.0),
            Knot(4.0, 4.0, -1.0, arc=True),
            Knot(0.0, 4.0, 1.0),
        )
        loop = loop_of(knots)
        for before, after in zip(loop, (*loop[1:], loop[0]), strict=True):
            assert (before.a1, before.b1) == (after.a0, after.b0)
        # a rectangle and half a disc, less half a disc and the spandrel of the rounded corner
        assert area(loop) == pytest.approx(40.0 + 2.0 * math.pi - math.pi / 2.0 - (1 - math.pi / 4))

    def test_an_arc_that_turns_left_bulges_to_the_right_of_the_way(self):
        """Round a rectangle counter-clockwise, left turns bulge outward and right turns inward."""
        for radius, extra in ((2.0, 1.0), (-2.0, -1.0)):
            loop = loop_of((Knot(0.0, 0.0), Knot(10.0, 0.0), Knot(10.0, 4.0, radius, arc=True), Knot(0.0, 4.0)))
            assert area(loop) == pytest.approx(40.0 + extra * 2.0 * math.pi)

    def test_arcs_are_cut_at_quadrants(self):
        loop = loop_of((Knot(-1.0, 0.0, 1.0, arc=True), Knot(1.0, 0.0, 1.0, arc=True)))
        assert len(loop) == 4 and all(isinstance(piece, Bow) for piece in loop)

    def test_a_rounding_that_leaves_no_straight_piece(self):
        loop = loop_of([Knot(x, y, 1.0) for x, y in ((0, 0), (2, 0), (2, 2), (0, 2))])
        assert not any(isinstance(piece, Straight) for piece in loop)
        assert area(loop) == pytest.approx(math.pi)

    def test_knots_on_the_axis_stay_on_it(self):
        loop = loop_of((Knot(0.1, 0.0), Knot(0.7, 0.0, -0.3, arc=True)))
        assert [piece.b0 for piece in loop if piece.a0 in (0.1, 0.7)] == [0.0, 0.0]


TAPER = {"diameter": 10.0, "end_diameter": 5.0, "from": 0.0, "to": 8.0}
CHAMFER = {"diameter": 20.0, "at": 0.0, "length": 2.0}
FILLET = {"diameter": 20.0, "at": 0.0, "radius": 2.0}
GROOVE = {"diameter": 15.0, "outer": 20.0, "from": 10.0, "to": 14.0}
UNDERCUT = {"diameter": 20.0, "at": 0.0, "radius": 1.0, "depth": 0.4, "width": 4.0}
COLLAR = {"diameter": 22.0, "from": 0.0, "to": 3.0}
O_RING = {"diameter": 20.0, "section": 3.55, "at": 0.0}
ROLLERS = {"diameter": 4.0, "length": 9.0, "circle": 33.0, "at": 8.0, "count": 8.0}


@pytest.mark.parametrize(
    ("kind", "numbers", "choices", "parameter"),
    [
        ("taper", TAPER | {"diameter": -1.0}, {}, "diameter"),
        ("taper", TAPER | {"diameter": 0.0, "end_diameter": 0.0}, {}, "end_diameter"),
        ("taper", TAPER | {"to": 0.0}, {}, "to"),
        ("ball", {"diameter": 0.0, "at": 0.0}, {}, "diameter"),
        ("crown", {"diameter": 10.0, "from": 0.0, "to": 5.1}, {}, "to"),
        ("crown", {"diameter": 10.0, "from": 0.0, "to": 0.0}, {}, "to"),
        ("chamfer", CHAMFER | {"length": 10.5}, {"side": "from"}, "length"),
        ("chamfer", CHAMFER | {"angle": 90.0}, {"side": "to"}, "angle"),
        ("fillet", FILLET | {"radius": 0.0}, {"side": "to"}, "radius"),
        ("groove", GROOVE | {"diameter": 20.0}, {}, "diameter"),
        ("groove", GROOVE | {"radius": 2.1}, {}, "radius"),
        ("groove", GROOVE | {"diameter": 19.0, "radius": 1.0}, {}, "radius"),
        ("groove", GROOVE | {"to": 9.0}, {}, "to"),
        ("undercut", UNDERCUT | {"width": 2.4}, {"side": "from"}, "width"),
        ("undercut", UNDERCUT | {"depth": 10.0, "width": 90.0}, {"side": "from"}, "depth"),
        ("undercut", UNDERCUT | {"shoulder_depth": 0.005}, {"side": "from"}, "shoulder_depth"),
        ("undercut", UNDERCUT | {"run_out_angle": 0.0}, {"side": "from"}, "run_out_angle"),
        ("collar", COLLAR | {"to": 0.0}, {}, "to"),
        ("collar", COLLAR | {"top_diameter": 23.0}, {}, "top_diameter"),
        ("collar", COLLAR | {"rounding_radius": 1.6}, {"rounding": "both"}, "rounding_radius"),
        ("collar", COLLAR | {"rounding_radius": 0.0}, {"rounding": "from"}, "rounding_radius"),
        ("collar", COLLAR | {"chamfer_length": 2.0}, {"chamfer": "both"}, "chamfer_length"),
        ("collar", COLLAR | {"chamfer_length": 1.0, "top_diameter": 15.0}, {"chamfer": "to"}, "chamfer"),
        (
            "collar",
            COLLAR | {"chamfer_length": 1.0, "rounding_radius": 1.0},
            {"chamfer": "to", "rounding": "both"},
            "rounding",
        ),
        ("cylinder", SHAFT | {"rounding_radius": 11.0}, {"rounding": "to"}, "rounding_radius"),
        ("cylinder", SHAFT | {"rounding_radius": 10.0, "to": 19.0}, {"rounding": "both"}, "to"),
        (
            "cylinder",
            SHAFT | {"rounding_radius": 1.0, "chamfer_length": 1.0},
            {"rounding": "both", "chamfer": "to"},
            "rounding",
        ),
        ("cylinder", SHAFT | {"rounding_radius": 1.0, "fillet": 1.0}, {"rounding": "from"}, "rounding"),
        ("cylinder", SHAFT | {"chamfer_length": 1.0, "fillet": 1.0}, {"chamfer": "both"}, "chamfer"),
        ("o_ring", O_RING | {"section": 0.0}, {}, "section"),
        ("balls", BALLS | {"count": 8.5}, {}, "count"),
        ("balls", BALLS | {"count": 14.0}, {}, "count"),
        ("rollers", ROLLERS | {"count": 2.5}, {}, "count"),
        ("rollers", ROLLERS | {"count": 26.0}, {}, "count"),
        ("rollers", ROLLERS | {"tilt": 90.0}, {}, "tilt"),
        ("rollers", ROLLERS | {"rounding_radius": 2.5}, {}, "rounding_radius"),
        ("rollers", ROLLERS | {"rounding_radius": -0.1}, {}, "rounding_radius"),
    ],
)
def test_impossible_numbers_name_their_parameter(kind, numbers, choices, parameter):
    with pytest.raises(Impossible) as refused:
        lower(kind, numbers, **choices)
    assert refused.value.parameter == parameter
    assert refused.value.wrong and refused.value.expected


@pytest.mark.parametrize(
    "features",
    [
        [lower("ball", {"diameter": 8.0, "at": 0.0})],
        [lower("balls", BALLS)],
        [lower("rollers", ROLLERS)],
        [lower("cylinder", SHAFT), lower("collar", COLLAR)],
        [lower("cylinder", SHAFT), lower("chamfer", CHAMFER, side="from"), lower("groove", GROOVE)],
        [turned((0.0, 5.0), (10.0, 5.0), (10.0, 8.0), (0.0, 8.0))],
    ],
)
def test_bodies_that_make_sense(features):
    """One feature alone, a row of parts that touch nothing, features in and on a shaft."""
    assert not list(misfits_of(body(*features)))


@pytest.mark.parametrize(
    ("feature", "words"),
    [
        (lower("groove", {"diameter": 21.0, "outer": 25.0, "from": 10.0, "to": 14.0}), "cuts nothing"),
        (lower("chamfer", {"diameter": 20.0, "at": 50.0, "length": 2.0}, side="from"), "cuts nothing"),
        (lower("fillet", {"diameter": 20.0, "at": 50.0, "radius": 2.0}, side="from"), "away from the body"),
        (lower("ball", {"diameter": 20.0, "at": 60.0}), "away from the body"),
        (lower("crown", {"diameter": 20.0, "from": 41.0, "to": 45.0}), "away from"),
    ],
)
def test_features_that_miss_the_body(feature, words):
    (misfit,) = misfits_of(body(lower("cylinder", SHAFT), feature))
    assert misfit.feature == feature.pieces[0].feature and words in misfit.wrong and misfit.expected
