"""What the engine takes for granted of a body, so as not to ask it: held against elementary geometry, no source."""

import math

import numpy as np
import pytest
from bodies import body, bolt, lower, nut, washer

from builder.body.curves import RingArc
from builder.body.mirror import is_symmetric
from builder.body.solid import Body, Fit, Piece
from builder.body.turned import cone, cylinder
from builder.body.vectors import AXIS, across, radial


def made(*parts):
    return Body(tuple(Piece(solid, "x", fit) for solid, fit in parts))


def rims(made_body):
    """The circles about the axis that a body offers, by place and radius, and whether they are known to be edges."""
    rings = [edge for edge in made_body.edges if isinstance(edge.curve, RingArc) and edge.curve.place is AXIS]
    return {(round(e.curve.x, 6), round(e.curve.radius, 6)): e.known for e in rings}


SHAFT = (cylinder(0.0, 60.0, 10.0), Fit.STACKED)


class TestMaterial:
    """Leaves asked together answer as the formulas of their shapes do."""

    POINTS = np.random.default_rng(5).uniform((-2.0, -13.0, -13.0), (16.0, 13.0, 13.0), size=(20_000, 3))

    def test_a_bored_hexagon(self):
        """18 across flats, 10.8 high, bored 10: no chamfers."""
        head = lower("hexagon", {"across_flats": 18.0, "from": 0.0, "to": 10.8})
        bored = body(head, lower("bore", {"diameter": 10.0, "from": 0.0, "to": 10.8}))
        x, y, z = self.POINTS.T
        within = (x > 0.0) & (x < 10.8) & (np.hypot(y, z) > 5.0)
        for n in range(3):
            _, c, s = radial(n * math.pi / 3.0)
            within &= np.abs(y * c + z * s) < 9.0
        assert (bored.contains(self.POINTS) == within).all()

    @pytest.mark.parametrize("toward", [(0.0, 0.6, 0.8), (1.0, 0.0, 0.0), (0.48, 0.6, 0.64)])
    def test_rays_through_a_cone_in_a_cylinder(self, toward):
        """A cylinder of radius 6 about a void cone that opens from 1 to 4: every place on a ray that is on a face."""
        hollow = made((cylinder(0.0, 12.0, 6.0), Fit.STACKED), (cone(2.0, 1.0, 9.0, 4.0), Fit.BORED))
        starts = self.POINTS[:500]
        roots = hollow.roots(starts, toward)
        for start, own in zip(starts, roots, strict=True):
            way = np.array(toward)
            for t in own[np.isfinite(own)]:
                x, r = (start + t * way)[0], math.hypot(*(start + t * way)[1:])
                on_cone = abs(r - (1.0 + 3.0 * (x - 2.0) / 7.0)) < 1e-6 and 1.99 < x < 9.01
                on_face = min(abs(x - at) for at in (0.0, 12.0, 2.0, 9.0)) < 1e-6 and r < 6.01
                assert on_cone or on_face or abs(r - 6.0) < 1e-6
            steps = start + np.linspace(-40.0, 40.0, 801)[:, None] * way
            changes = np.nonzero(np.diff(hollow.contains(steps).astype(int)))[0]
            for n in changes:  # between two steps where the material changes lies a root
                low, high = -40.0 + 0.1 * n, -40.0 + 0.1 * (n + 1)
                assert ((own > low - 1e-6) & (own < high + 1e-6)).any()


class TestSymmetry:
    """A plane through the axis halves what is turned; a hexagon has twelve such planes; a bolt has none across."""

    @pytest.mark.parametrize("make", [bolt, nut, washer])
    @pytest.mark.parametrize(("degrees", "halved"), [(0.0, True), (30.0, True), (60.0, True), (17.0, False)])
    def test_beside_the_axis(self, make, degrees, halved):
        whole = make()
        found = is_symmetric(whole.pieces, radial(math.radians(degrees)), 0.0, 1e-9 * whole.size)
        assert found is (halved or make is washer)

    @pytest.mark.parametrize(("make", "middle", "halved"), [(nut, 5.4, True), (nut, 5.0, False), (bolt, 21.25, False)])
    def test_along_the_axis(self, make, middle, halved):
        whole = make()
        assert is_symmetric(whole.pieces, (1.0, 0.0, 0.0), middle, 1e-9 * whole.size) is halved

    def test_a_cross_hole_halves_with_its_axis_or_square_to_it(self):
        """Along its own direction it must run as far both ways."""
        drilled = made(SHAFT, (cylinder(-14.0, 14.0, 3.0, across(0.4, (20.0, 0.0, 0.0))), Fit.CUT))
        blind = made(SHAFT, (cylinder(0.0, 14.0, 3.0, across(0.4, (20.0, 0.0, 0.0))), Fit.CUT))
        for at, both, one in ((0.4, True, False), (0.4 + math.pi / 2.0, True, True), (0.9, False, False)):
            assert is_symmetric(drilled.pieces, radial(at), 0.0, 1e-8) is both
            assert is_symmetric(blind.pieces, radial(at), 0.0, 1e-8) is one

    def test_a_twin_belongs_to_the_same_feature(self):
        """Hidden lines show by feature: two chamfers of two features are not twins."""
        ends = [cone(0.0, 4.0, 2.0, 3.0), cone(10.0, 3.0, 12.0, 4.0)]
        alike = Body(tuple(Piece(solid, "bore", Fit.BORED) for solid in ends))
        apart = Body(tuple(Piece(solid, name, Fit.BORED) for solid, name in zip(ends, "ab", strict=True)))
        assert is_symmetric(alike.pieces, (1.0, 0.0, 0.0), 6.0, 1e-8)
        assert not is_symmetric(apart.pieces, (1.0, 0.0, 0.0), 6.0, 1e-8)


class TestRims:
    """Circles with the same surroundings all round are edges or none, once for every view."""

    def test_a_seam_is_none_and_a_step_is_one(self):
        stepped = made(
            (cylinder(0.0, 10.0, 6.0), Fit.STACKED),
            (cylinder(10.0, 20.0, 6.0), Fit.STACKED),
            (cylinder(20.0, 30.0, 4.0), Fit.STACKED),
        )
        assert rims(stepped) == {(0.0, 6.0): True, (20.0, 6.0): True, (20.0, 4.0): True, (30.0, 4.0): True}

    def test_what_a_hole_passes_is_not_known(self):
        """A cross hole of radius 3 at 58 of 60 cuts into the end's rim, and keeps clear of the other one."""
        drilled = made(SHAFT, (cylinder(-14.0, 14.0, 3.0, across(0.4, (58.0, 0.0, 0.0))), Fit.CUT))
        assert rims(drilled) == {(0.0, 10.0): True, (60.0, 10.0): None}

    @pytest.mark.parametrize(("radius", "known"), [(8.9, True), (9.5, None), (10.5, True)])
    def test_a_collar_on_a_hexagon(self, radius, known):
        """Between 9, half the width across flats, and 10.39, half that across corners, it is an edge in parts."""
        head = lower("hexagon", {"across_flats": 18.0, "from": 0.0, "to": 8.0})
        made_body = body(head, lower("cylinder", {"diameter": 2.0 * radius, "from": 8.0, "to": 10.0}))
        assert rims(made_body) == {(8.0, radius): known, (10.0, radius): True}

    def test_a_cap_crosses_no_cone_beyond_it(self):
        """The bore's face, of radius 5, lies in a plane that the hexagon's chamfer crosses at a radius of nearly 10."""
        assert max(radius for _, radius in rims(nut())) == pytest.approx(0.95 * 9.0)
