"""Holes, threads and drives become solids: volumes by elementary geometry, outlines by published gauges."""

import math
import random

import numpy as np
import pytest
from bodies import body, lower

from builder.body.contour import joints, reach, smooth
from builder.body.feature import Impossible
from builder.body.features.six_lobe import outline
from builder.body.measure import volume
from builder.body.solid import Fit
from builder.body.soundness import misfits_of

RAYS = 4e-3  # of what is measured by rays
BORE = {"diameter": 10.0, "from": 0.0, "to": 20.0}
M12 = {"diameter": 12.0, "pitch": 1.75, "from": 0.0, "to": 16.0}
D1 = 12.0 - 1.082532 * 1.75  # ISO 68-1
PLATE = {"diameter": 40.0, "from": 0.0, "to": 30.0}
HEXAGON = {"across_flats": 6.0, "from": -8.0, "to": -4.0}
LOBES = {"diameter": 5.6, "inner": 4.05, "from": 0.0, "to": 3.0}
CROSS = {"diameter": 4.4, "width": 1.1, "from": 0.0, "to": 2.3}


def cylinder(diameter, length):
    return math.pi / 4.0 * diameter**2 * length


def frustum(wide, narrow, length):
    return math.pi / 12.0 * length * (wide**2 + wide * narrow + narrow**2)


def cut(lowered):
    return sum(piece.solid.volume() for piece in lowered.pieces)


def ends(lowered):
    boxes = [piece.solid.box() for piece in lowered.pieces]
    return min(low[0] for low, _ in boxes), max(high[0] for _, high in boxes)


def counted(solid, n=60_000):
    """The volume by counting random points in the box: nothing but inside and outside."""
    low, high = map(np.array, solid.box())
    points = np.random.default_rng(4757).uniform(low, high, size=(n, 3))
    return float(solid.contains(points).mean() * np.prod(high - low))


@pytest.mark.parametrize("way", [1.0, -1.0])
class TestHoles:
    """Either way along the axis, the depths as a drafter dimensions them."""

    def test_a_drill_of_118_degrees_points_three_tenths_of_its_diameter_deeper(self, way):
        """Handbooks give 0.3 d for the length of the point."""
        hole = lower("bore", BORE | {"to": way * 20.0}, bottom="drill")
        first, last = sorted(ends(hole), key=abs)
        assert first == 0.0 and last == pytest.approx(way * (20.0 + 0.3004 * 10.0), abs=1e-3)
        assert cut(hole) == pytest.approx(cylinder(10.0, 20.0) + frustum(10.0, 0.0, abs(last) - 20.0))

    @pytest.mark.parametrize("bottom", ["through", "flat"])
    def test_a_flat_bottom(self, way, bottom):
        hole = lower("bore", BORE | {"to": way * 20.0}, bottom=bottom)
        assert cut(hole) == pytest.approx(cylinder(10.0, 20.0))
        assert sorted(ends(hole)) == sorted((0.0, way * 20.0))

    def test_recesses_stack_with_the_bore(self, way):
        """A counterbore to its seat, the bore from there to the countersink, the countersink 90 degrees wide."""
        start, seat, sink, end = (way * x for x in (-10.0, -1.4, 8.0, 10.0))
        parts = [
            lower("cylinder", {"diameter": 30.0, "from": -10.0, "to": 10.0}),
            lower("counterbore", {"diameter": 15.0, "from": start, "to": seat}),
            lower("bore", {"diameter": 9.0, "from": seat, "to": sink}),
            lower("countersink", {"diameter": 13.0, "bore": 9.0, "at": end}, side="from" if way > 0.0 else "to"),
        ]
        gone = cylinder(15.0, 8.6) + cylinder(9.0, 9.4) + frustum(13.0, 9.0, 2.0)
        assert volume(body(*parts)) == pytest.approx(cylinder(30.0, 20.0) - gone, rel=1e-12)
        assert not list(misfits_of(body(*parts)))

    def test_a_cup_is_a_countersink_to_a_point(self, way):
        cup = lower(
            "countersink",
            {"diameter": 5.0, "bore": 0.0, "at": 0.0, "angle": 120.0},
            side="to" if way > 0.0 else "from",
        )
        assert cut(cup) == pytest.approx(frustum(5.0, 0.0, 2.5 / math.tan(math.radians(60.0))))
        assert max(ends(cup), key=abs) * way > 0.0

    def test_a_blind_tapped_hole(self, way):
        """The tap's drill goes on to its own depth and point; the countersink is 1.05 d wide, 120 degrees."""
        hole = lower(
            "tapped_bore",
            M12 | {"to": way * 16.0, "drill_to": way * 22.0},
            countersink="from",
            bottom="drill",
        )
        point = D1 / 2.0 / math.tan(math.radians(59.0))
        sink = (12.6 - D1) / 2.0 / math.tan(math.radians(60.0))
        expected = frustum(12.6, D1, sink) + cylinder(D1, 22.0 - sink) + frustum(D1, 0.0, point)
        assert cut(hole) == pytest.approx(expected)
        (mark,) = hole.threads
        assert mark.limits == (way * 16.0,)
        assert (mark.start, mark.end) == tuple(sorted((0.0, way * 16.0)))
        chamfers = (mark.lead_in - mark.start, mark.end - mark.chamfer_x)
        assert chamfers == pytest.approx((sink, 0.0) if way > 0.0 else (0.0, sink))

    def test_a_relief_takes_the_place_of_the_drill(self, way):
        hole = lower(
            "tapped_bore",
            M12 | {"to": way * 16.0, "undercut_diameter": 12.5, "undercut_width": 5.0},
            bottom="flat",
        )
        assert cut(hole) == pytest.approx(cylinder(D1, 16.0) + cylinder(12.5, 5.0))
        assert max(ends(hole), key=abs) == way * 21.0

    def test_a_stud_end_is_a_bolt_end_looking_the_other_way(self, way):
        thread = lower("thread", M12 | {"to": way * 16.0, "point_diameter": 10.0, "run_out": 3.0})
        assert cut(thread) == pytest.approx(cylinder(12.0, 15.0) + frustum(12.0, 10.0, 1.0))
        (mark,) = thread.threads
        assert mark.limits == (0.0,) and mark.run_out == -way * 3.0
        assert (mark.lead_in, mark.chamfer_x) == ((0.0, 15.0) if way > 0.0 else (-15.0, 0.0))

    def test_a_rod_is_chamfered_at_both_ends_and_has_no_end_of_full_thread(self, way):
        rod = lower("thread", M12 | {"to": way * 16.0, "point_diameter": 10.0}, chamfer="both")
        assert cut(rod) == pytest.approx(cylinder(12.0, 14.0) + 2.0 * frustum(12.0, 10.0, 1.0))
        assert rod.threads[0].limits == ()


class TestSockets:
    """Sunk into a head, opening at `from`, with the floor at `to`."""

    def test_a_hexagon_with_a_drilled_floor(self):
        """sqrt(3)/2 s^2 t, and a cone of 120 degrees on the circle that the hexagon holds."""
        socket = lower("hexagon_socket", HEXAGON | {"point_angle": 120.0})
        cone = frustum(6.0, 0.0, 3.0 / math.tan(math.radians(60.0)))
        assert cut(socket) == pytest.approx(math.sqrt(3.0) / 2.0 * 36.0 * 4.0 + cone)
        assert ends(socket) == pytest.approx((-8.0, -4.0 + 3.0 / math.sqrt(3.0)))
        assert {piece.fit for piece in socket.pieces} == {Fit.SUNK}

    def test_a_square(self):
        assert cut(lower("square_socket", HEXAGON)) == pytest.approx(36.0 * 4.0)

    def test_a_chamfered_mouth_widens_the_opening_only(self):
        """At the face the opening is the chamfer's circle, a little deeper it is the hexagon."""
        head = lower("cylinder", {"diameter": 13.0, "from": -8.0, "to": 0.0})
        made = body(head, lower("hexagon_socket", HEXAGON | {"mouth": 7.6}))
        assert not list(misfits_of(made))
        near, deep = (-7.999, 3.6, 0.0), (-7.0, 3.6, 0.0)
        assert made.contains(_points(near, deep)).tolist() == [False, True]

    @pytest.mark.parametrize("kind", ["hexagon_socket", "square_socket", "six_lobe"])
    def test_sockets_look_either_way(self, kind):
        numbers = LOBES | {"across_flats": 4.0, "point_angle": 120.0}
        there, back = (lower(kind, numbers | {"to": to}) for to in (3.0, -3.0))
        assert cut(there) == pytest.approx(cut(back))
        assert ends(back) == pytest.approx(tuple(-x for x in reversed(ends(there))))


def _points(*spots):
    return np.array(spots)


# ISO 10664, go gauges: number, A, B, radius of the lobes, radius of the hollows, upper limits in mm, as a maker's
# technical page reprints the standard's table.
GAUGES = [
    (6, 1.709, 1.224, 0.134, 0.396),
    (8, 2.349, 1.686, 0.193, 0.523),
    (10, 2.776, 1.993, 0.231, 0.609),
    (15, 3.309, 2.367, 0.269, 0.728),
    (20, 3.893, 2.778, 0.307, 0.871),
    (25, 4.465, 3.185, 0.378, 0.932),
    (30, 5.557, 3.972, 0.454, 1.206),
    (40, 6.687, 4.780, 0.548, 1.440),
    (45, 7.856, 5.570, 0.576, 1.808),
    (50, 8.872, 6.380, 0.777, 1.828),
]


class TestSixLobes:
    def loop(self, a, b, lobe):
        return outline({"diameter": a, "inner": b, "lobe_radius": lobe})

    @pytest.mark.parametrize(("a", "b", "lobe", "hollow"), [row[1:] for row in GAUGES])
    def test_tangent_hollows_have_the_radius_of_the_gauges(self, a, b, lobe, hollow):
        """Tangent arcs on A, B and the gauge's lobes leave one radius for the hollows: the gauge's, within 4 %."""
        radii = sorted({round(piece.radius, 9) for piece in self.loop(a, b, lobe)})
        assert radii == [pytest.approx(lobe), pytest.approx(hollow, rel=0.04)]
        assert 0.08 * a == pytest.approx(lobe, rel=0.12)

    def test_the_outline_is_smooth_and_as_wide_as_stated(self):
        loop = self.loop(5.6, 4.05, 0.45)
        assert all(smooth(before, after) for before, after in joints(loop))
        low_a, _, high_a, _ = reach(loop)
        assert (low_a, high_a) == pytest.approx((-2.8, 2.8))
        spots = [math.hypot(*piece.at(t)) for piece in loop for t in (0.0, 0.5, 1.0)]
        assert (min(spots), max(spots)) == pytest.approx((2.025, 2.8), abs=2e-3)

    def test_the_volume_is_counted_point_by_point(self):
        (piece,) = lower("six_lobe", LOBES).pieces
        assert piece.solid.volume() == pytest.approx(counted(piece.solid), rel=0.01)


class TestRecesses:
    def test_a_slot_takes_a_strip_out_of_a_disc(self):
        """Strip of width w through a circle of radius R: w sqrt(R^2 - w^2/4) + 2 R^2 asin(w / 2R)."""
        head = lower("cylinder", {"diameter": 13.0, "from": 0.0, "to": 5.0})
        made = body(head, lower("slot", {"width": 2.0, "diameter": 13.0, "from": 0.0, "to": 2.4}))
        strip = 2.0 * math.sqrt(6.5**2 - 1.0) + 2.0 * 6.5**2 * math.asin(1.0 / 6.5)
        assert cylinder(13.0, 5.0) - volume(made) == pytest.approx(strip * 2.4, rel=RAYS)
        assert not list(misfits_of(made))

    @pytest.mark.parametrize(("angle", "gone"), [(90.0, (0.0, 6.0)), (0.0, (6.0, 0.0)), (45.0, (4.2, 4.2))])
    def test_a_slot_runs_where_it_is_told(self, angle, gone):
        head = lower("cylinder", {"diameter": 13.0, "from": 0.0, "to": 5.0})
        slot = {"width": 2.0, "diameter": 13.0, "from": 0.0, "to": 2.4, "angle": angle}
        made = body(head, lower("slot", slot))
        (y, z), x = gone, 1.0
        assert made.contains(_points((x, y, z), (x, -y, -z), (x, z, -y), (x, -z, y))).tolist() == [
            False,
            False,
            True,
            True,
        ]

    @pytest.mark.parametrize("way", [1.0, -1.0])
    def test_a_cross_recess_is_counted_point_by_point(self, way):
        """Within a cone of 26.5 degrees to the axis, within one of 140 from the tip, within one wing or the other."""
        (piece,) = lower("cross_recess", CROSS | {"to": way * 2.3}).pieces
        rng, inside, n = random.Random(4757), 0, 100_000
        for _ in range(n):
            x, y, z = rng.uniform(0.0, 2.3), rng.uniform(-2.2, 2.2), rng.uniform(-2.2, 2.2)
            r = math.hypot(y, z)
            within = r < 2.2 - x * math.tan(math.radians(26.5)) and r < (2.3 - x) * math.tan(math.radians(70.0))
            inside += within and min(abs(y), abs(z)) < 0.55
        assert piece.solid.volume() == pytest.approx(inside / n * 2.3 * 4.4**2, rel=0.015)
        assert ends_of(piece) == pytest.approx((0.0, 2.3) if way > 0.0 else (-2.3, 0.0))


def ends_of(piece):
    low, high = piece.solid.box()
    return low[0], high[0]


@pytest.mark.parametrize(
    ("kind", "numbers", "choices", "parameter"),
    [
        ("bore", BORE | {"to": 0.0}, {}, "to"),
        ("bore", BORE | {"point_angle": 180.0}, {"bottom": "drill"}, "point_angle"),
        ("counterbore", BORE | {"diameter": 0.0}, {}, "diameter"),
        ("counterbore", BORE | {"to": 0.0}, {}, "to"),
        ("countersink", {"diameter": 9.0, "bore": 9.0, "at": 0.0}, {}, "bore"),
        ("countersink", {"diameter": 9.0, "bore": -1.0, "at": 0.0}, {}, "bore"),
        ("countersink", {"diameter": 9.0, "bore": 5.0, "at": 0.0, "angle": 180.0}, {}, "angle"),
        ("thread", M12 | {"run_out": -1.0}, {}, "run_out"),
        ("thread", M12 | {"run_out": 2.0, "point_diameter": 10.0}, {"chamfer": "both"}, "run_out"),
        ("thread", M12 | {"point_diameter": 10.0, "to": 1.9}, {"chamfer": "both"}, "point_diameter"),
        ("thread", M12 | {"starts": 0.0}, {}, "starts"),
        ("thread", M12 | {"starts": 1.5}, {}, "starts"),
        ("tapped_bore", M12 | {"run_out": 2.0}, {}, "run_out"),
        ("tapped_bore", M12 | {"drill_to": 15.0}, {"bottom": "drill"}, "drill_to"),
        ("tapped_bore", M12, {"bottom": "flat", "countersink": "both"}, "countersink"),
        ("tapped_bore", M12 | {"undercut_diameter": 9.0}, {"bottom": "flat"}, "undercut_diameter"),
        ("tapped_bore", M12 | {"undercut_diameter": 13.0, "undercut_width": 0.0}, {"bottom": "flat"}, "undercut_width"),
        ("hexagon_socket", HEXAGON | {"across_flats": 0.0}, {}, "across_flats"),
        ("hexagon_socket", HEXAGON | {"to": -8.0}, {}, "to"),
        ("hexagon_socket", HEXAGON | {"mouth": 6.0}, {}, "mouth"),
        ("hexagon_socket", HEXAGON | {"point_angle": 190.0}, {}, "point_angle"),
        ("square_socket", HEXAGON | {"across_flats": -1.0}, {}, "across_flats"),
        ("six_lobe", LOBES | {"inner": 5.6}, {}, "inner"),
        ("six_lobe", LOBES | {"lobe_radius": 1.4}, {}, "lobe_radius"),
        ("slot", {"width": 0.0, "diameter": 13.0, "from": 0.0, "to": 2.0}, {}, "width"),
        ("slot", {"width": 2.0, "diameter": 13.0, "from": 0.0, "to": 0.0}, {}, "to"),
        ("cross_recess", CROSS | {"to": 4.2}, {}, "to"),
        ("cross_recess", CROSS | {"to": 0.5}, {}, "to"),
        ("cross_recess", CROSS | {"width": 4.0}, {}, "to"),
        ("cross_recess", CROSS | {"point_angle": 50.0}, {}, "point_angle"),
        ("cross_recess", CROSS | {"slope": 0.0}, {}, "slope"),
    ],
)
def test_impossible_numbers_name_their_parameter(kind, numbers, choices, parameter):
    """What makes no shape is refused at the parameter at fault."""
    with pytest.raises(Impossible) as refused:
        lower(kind, numbers, **choices)
    assert refused.value.parameter == parameter
    assert refused.value.wrong and refused.value.expected


HEAD = {"diameter": 13.0, "from": -8.0, "to": 0.0}


@pytest.mark.parametrize(
    ("drive", "words"),
    [
        (lower("hexagon_socket", HEXAGON | {"to": 0.0}, "drive"), "is 8 deep in a head 8 high"),
        (lower("square_socket", HEXAGON | {"across_flats": 12.0}, "drive"), "is 16."),
        (lower("six_lobe", LOBES | {"from": -8.0, "to": 1.0}, "drive"), "is 9 deep"),
        (lower("cross_recess", CROSS | {"from": -9.0, "to": -6.7}, "drive"), "runs from -9"),
    ],
)
def test_drives_that_do_not_fit_their_head(drive, words):
    """Through the head, wider than it, or beyond its top."""
    shank = lower("cylinder", {"diameter": 8.0, "from": 0.0, "to": 30.0}, "shank")
    (misfit,) = misfits_of(body(lower("cylinder", HEAD, "head"), shank, drive))
    assert misfit.feature == "drive" and misfit.wrong.startswith(words)
