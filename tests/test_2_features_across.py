"""Features across and off the axis become solids: volumes by closed forms, published sections, marks, misfits."""

import math

import numpy as np
import pytest
from bodies import body, lower

from builder.body.feature import Impossible
from builder.body.measure import volume
from builder.body.solid import AxisMark, PitchMark
from builder.body.soundness import misfits_of
from builder.view.drafting import Drafting
from builder.view.draw import Look, draw
from builder.view.kinds import section, side
from builder.words.knot import Knot
from builder.words.roles import Role

RAYS = 1e-3  # of the whole body: such volumes are measured by rays
SHAFT = {"diameter": 20.0, "from": 0.0, "to": 50.0}
FLATS = {"diameter": 20.0, "across_flats": 16.0, "from": 30.0, "to": 50.0}
HOLE = {"diameter": 6.0, "at": 25.0, "outer": 20.0}
SLOTS = {"width": 3.5, "from": 15.0, "to": 10.0, "count": 6.0, "outer": 16.0}
FLANGE = {"diameter": 165.0, "from": 0.0, "to": 16.0}  # EN 1092-1, DN 50, PN 16: D 165, K 125, L 18 (from memory)
BOLTS = {"circle": 125.0, "diameter": 18.0, "count": 4.0, "first": 45.0, "from": 0.0, "to": 16.0}
SQUARE = {"across_flats": 12.0, "from": 0.0, "to": 25.0}
BEND = {"diameter": 33.7, "at": 0.0, "radius": 38.0}
BRANCH = {"diameter": 20.0, "at": 30.0, "length": 40.0}
EYE = {"diameter": 20.0, "section": 8.0, "at": -14.0}
PRISM = {"from": 0.0, "to": 10.0}
KEY = (Knot(5, -5, 5, True), Knot(35, -5), Knot(40, 0, 5, True), Knot(35, 5, 5, True), Knot(5, 5), Knot(0, 0, 5, True))


def segment(radius, distance):
    """Area that a chord at a distance from the centre cuts off (elementary geometry)."""
    return radius**2 * math.acos(distance / radius) - distance * math.sqrt(radius**2 - distance**2)


def shaft():
    return lower("cylinder", SHAFT, "shaft")


class TestVolumes:
    """Formulas of elementary geometry, Pappus and Archimedes, as every handbook prints them."""

    @pytest.mark.parametrize("first", [0.0, 22.5, 30.0])
    @pytest.mark.parametrize(
        ("count", "flats", "off"), [(1, 18.0, 8.0), (2, 16.0, 8.0), (4, 16.0, 8.0), (6, 18.5, 9.25)]
    )
    def test_flats_take_a_segment_each(self, count, flats, off, first):
        numbers = FLATS | {"count": float(count), "across_flats": flats, "first": first}
        expected = math.pi * 100.0 * 50.0 - count * segment(10.0, off) * 20.0
        assert volume(body(shaft(), lower("flats", numbers))) == pytest.approx(expected, rel=RAYS)

    @pytest.mark.parametrize(
        ("kind", "area"),
        [
            ("square", 1.0),
            ("octagon", 2.0 * math.sqrt(2.0) - 2.0),
            # 24 triangles from the centre, between a corner of a hexagon and where two hexagons cross
            (
                "twelve_point",
                12.0 * math.sin(math.radians(15)) / math.sqrt(3.0) / 2.0 / math.cos(math.radians(15)) * 2 / 2,
            ),
        ],
    )
    def test_polygons(self, kind, area):
        assert volume(body(lower(kind, SQUARE))) == pytest.approx(area * 12.0**2 * 25.0, rel=1e-12)

    def test_a_cross_hole_takes_what_two_cylinders_share(self):
        """Sliced along both axes' common normal the shared solid is rectangles (Archimedes' argument)."""
        y = (np.arange(20000) + 0.5) / 20000 * 6.0 - 3.0
        shared = float((4.0 * np.sqrt(100.0 - y * y) * np.sqrt(9.0 - y * y)).mean()) * 6.0
        bored = body(shaft(), lower("cross_hole", HOLE | {"angle": 30.0}))
        assert volume(bored) == pytest.approx(math.pi * 5000.0 - shared, rel=RAYS)

    def test_a_slot_in_the_rim(self):
        """A slotted round nut: the slot's area is the circle's over its width, less the rectangle under its floor."""
        radius, floor, half = 22.5, 20.0, 2.5
        area = radius**2 * math.asin(half / radius) + half * math.sqrt(radius**2 - half**2) - 2.0 * half * floor
        numbers = {"width": 5.0, "from": 0.0, "to": 10.0, "count": 4.0, "outer": 45.0, "inner": 40.0, "first": 45.0}
        nut = body(lower("cylinder", {"diameter": 45.0, "from": 0.0, "to": 10.0}), lower("slots", numbers))
        assert volume(nut) == pytest.approx(math.pi * radius**2 * 10.0 - 4.0 * area * 10.0, rel=RAYS)

    def test_a_round_floor_leaves_less_than_a_flat_one(self):
        block = lower("prism", {"from": 0.0, "to": 20.0}, profiles={"profile": square(30.0)})
        numbers = {"width": 6.0, "from": 20.0, "to": 8.0, "count": 2.0, "outer": 30.0}
        flat, rounded = (volume(body(block, lower("slots", numbers, floor=floor))) for floor in ("flat", "round"))
        assert rounded - flat == pytest.approx((2.0 - math.pi / 2.0) * 9.0 * 30.0, rel=0.02)

    def test_bolt_holes_are_cylinders(self):
        drilled = body(lower("cylinder", FLANGE), lower("bolt_holes", BOLTS))
        assert volume(drilled) == pytest.approx(math.pi / 4.0 * (165.0**2 - 4 * 18.0**2) * 16.0, rel=1e-12)

    @pytest.mark.parametrize("end", ["from", "to"])
    def test_counterbores_are_wider_cylinders(self, end):
        sunk = {"counterbore_diameter": 26.0, "counterbore_depth": 5.0}
        drilled = body(lower("cylinder", FLANGE), lower("bolt_holes", BOLTS | sunk, counterbored=end))
        expected = math.pi / 4.0 * (165.0**2 * 16.0 - 4 * (18.0**2 * 11.0 + 26.0**2 * 5.0))
        assert volume(drilled) == pytest.approx(expected, rel=1e-12)

    @pytest.mark.parametrize("along", ["axis", "up", "across"])
    def test_a_parallel_key_with_round_ends(self, along):
        key = lower("prism", {"from": -4.0, "to": 4.0}, profiles={"profile": KEY}, along=along)
        assert volume(body(key)) == pytest.approx((30.0 * 10.0 + math.pi * 25.0) * 8.0, rel=1e-12)

    def test_a_woodruff_key_is_a_segment(self):
        """Key 6 x 9 of DIN 6888: diameter 22, height 9, length of the chord 21.63 (from memory)."""
        half = 21.63 / 2.0
        knots = (Knot(-half, 0.0), Knot(0.0, -9.0, 11.0, True), Knot(half, 0.0, 11.0, True))
        key = lower("prism", {"from": -3.0, "to": 3.0}, profiles={"profile": knots}, along="across")
        assert volume(body(key)) == pytest.approx(segment(11.0, 2.0) * 6.0, rel=1e-3)

    def test_a_rolled_section_has_its_published_area(self):
        """HE 100 B: h 100, b 100, web 6, flange 10, root radius 12; area 26.0 cm2 (EN 10365, from memory)."""
        quarter = [(50, 50), (50, 40), (3, 40)]
        right = [Knot(3, -40, 12), Knot(3, 40, 12), Knot(50, 40), Knot(50, 50)]
        left = [Knot(-50, 50), Knot(-50, 40), Knot(-3, 40, 12), Knot(-3, -40, 12), Knot(-50, -40), Knot(-50, -50)]
        outline = (*right, *left, Knot(50, -50), Knot(50, -40))
        assert len(outline) == 4 * len(quarter)
        beam = lower("prism", {"from": 0.0, "to": 1000.0}, profiles={"profile": outline})
        assert volume(body(beam)) / 1000.0 == pytest.approx(2604.0, abs=0.5)

    def test_a_pocket_cuts_its_outline(self):
        block = lower("prism", {"from": 0.0, "to": 20.0}, profiles={"profile": square(30.0)})
        hole = lower("pocket", {"from": -1.0, "to": 21.0}, profiles={"profile": square(10.0)})
        assert volume(body(block, hole)) == pytest.approx((900.0 - 100.0) * 20.0, rel=RAYS)

    @pytest.mark.parametrize("angle", [30.0, 90.0, 180.0])
    def test_a_bend_by_pappus(self, angle):
        bent = body(lower("bend", BEND | {"angle": angle, "tail": 20.0}))
        assert volume(bent) == pytest.approx(math.pi / 4.0 * 33.7**2 * (38.0 * math.radians(angle) + 20.0), rel=RAYS)

    def test_a_hollow_bend_by_pappus(self):
        bent = body(lower("bend", BEND | {"bore": 27.3, "direction": 30.0}))
        expected = math.pi / 4.0 * (33.7**2 - 27.3**2) * 38.0 * math.pi / 2.0
        assert volume(bent) == pytest.approx(expected, rel=5.0 * RAYS)

    def test_an_equal_tee_shares_half_of_archimedes_solid(self):
        """Two equal cylinders square to each other share 16 r^3 / 3 (Archimedes); the branch starts at the axis."""
        run = lower("cylinder", {"diameter": 20.0, "from": 0.0, "to": 60.0})
        expected = math.pi * 100.0 * (60.0 + 40.0) - 8.0 * 1000.0 / 3.0
        assert volume(body(run, lower("branch", BRANCH))) == pytest.approx(expected, rel=RAYS)

    def test_an_eye_by_pappus(self):
        assert volume(body(lower("eye", EYE))) == pytest.approx(2.0 * math.pi**2 * 14.0 * 4.0**2, rel=1e-12)


def square(side):
    half = side / 2.0
    return Knot(-half, -half), Knot(half, -half), Knot(half, half), Knot(-half, half)


class TestWhereThingsStand:
    """Places by the meaning of the parameters; directions are degrees from up toward the viewer of the side view."""

    def test_a_profile_is_as_its_view_shows_it(self):
        """Right and up: at the end right is away from the viewer of the side, in plan so is up."""
        wedge = (Knot(0, 0), Knot(9, 0), Knot(0, 4))
        boxes = {
            along: lower("prism", {"from": 1.0, "to": 3.0}, profiles={"profile": wedge}, along=along)
            .pieces[0]
            .solid.box()
            for along in ("axis", "up", "across")
        }
        assert boxes["axis"] == ((1, 0, -9), (3, 4, 0))
        assert boxes["up"] == ((0, 1, -4), (9, 3, 0))
        assert boxes["across"] == ((0, 0, -3), (9, 4, -1))

    def test_a_bend_leads_off_in_its_direction(self):
        """Quarter bend of radius 38 toward the viewer, with a tail of 20: ends at (38, 58) off the axis."""
        bend = lower("bend", BEND | {"direction": 90.0, "tail": 20.0})
        pitch, tail = bend.axes
        assert isinstance(pitch, PitchMark) and isinstance(tail, AxisMark)
        assert tail.end == pytest.approx((38.0, 0.0, 58.0), abs=1e-12)
        assert pitch.curve.at(0.0) == pytest.approx((0.0, 0.0, 0.0), abs=1e-12)
        assert pitch.curve.at(1.0) == pytest.approx(tail.start, abs=1e-12)

    def test_a_u_bolt_comes_back_beside_itself(self):
        bend = lower("bend", {"diameter": 10.0, "at": 60.0, "radius": 30.0, "angle": 180.0, "tail": 60.0})
        assert bend.axes[1].end == pytest.approx((0.0, 60.0, 0.0), abs=1e-12)

    def test_a_cross_hole_runs_from_surface_to_surface(self):
        (mark,) = lower("cross_hole", HOLE | {"angle": 90.0}).axes
        assert mark.start == pytest.approx((25.0, 0.0, 10.0)) and mark.end == pytest.approx((25.0, 0.0, -10.0))

    @pytest.mark.parametrize(("depth", "end"), [({}, 0.0), ({"depth": 4.0}, 6.0)])
    def test_a_hole_from_one_side_ends_at_its_depth(self, depth, end):
        (mark,) = lower("cross_hole", HOLE | depth, through="near").axes
        assert mark.end == pytest.approx((25.0, end, 0.0), abs=1e-12)

    def test_bolt_holes_straddle_the_planes(self):
        """Flanges are drilled off centre (EN 1092-1): of four holes the first stands at 45 degrees."""
        *axes, circle = lower("bolt_holes", BOLTS).axes
        off = 62.5 * math.sqrt(0.5)
        assert axes[0].start == pytest.approx((0.0, off, off)) and axes[0].end[0] == 16.0
        assert len(axes) == 4 and circle.curve.radius == 62.5

    def test_a_lateral_leans_ahead(self):
        (mark,) = lower("branch", BRANCH | {"inclination": 45.0}).axes
        assert mark.end == pytest.approx((30.0 + 40.0 * math.sqrt(0.5), 40.0 * math.sqrt(0.5), 0.0))

    def test_even_slots_from_the_axis_run_across_together(self):
        assert [len(lower("slots", SLOTS | {"count": float(n)}).pieces) for n in (1, 2, 3, 6)] == [1, 1, 3, 3]


class TestMarks:
    """Thin diagonals on flats: ISO 128 (square ends and flats on round parts)."""

    @pytest.mark.parametrize(("count", "half"), [(2, 6.0), (4, 6.0), (6, 8.0 / math.sqrt(3.0))])
    def test_diagonals_cross_the_face_that_shows(self, count, half):
        """Half the chord at 8 from the centre of a circle of 10 is 6; six flats meet at corners before that."""
        marks = lower("flats", FLATS | {"count": float(count)}).flats
        assert len(marks) == count
        for mark in marks:
            for line in mark.diagonals:
                assert math.dist(line.start, line.end) == pytest.approx(math.hypot(20.0, 2.0 * half))

    def test_a_square_is_marked_if_wanted(self):
        assert not lower("square", SQUARE).flats
        marks = lower("square", SQUARE, marked="yes").flats
        assert sorted(tuple(round(v) + 0 for v in mark.normal) for mark in marks) == [
            (0, -1, 0),
            (0, 0, -1),
            (0, 0, 1),
            (0, 1, 0),
        ]
        assert {math.dist(d.start, d.end) for m in marks for d in m.diagonals} == {math.hypot(25.0, 12.0)}

    def test_diagonals_end_where_the_chamfer_reaches_the_corners(self):
        """A chamfer of 30 degrees from a circle of 0.95 s to the corners of a square of 12."""
        depth = (6.0 * math.sqrt(2.0) - 0.95 * 6.0) * math.tan(math.radians(30.0))
        marks = lower("square", SQUARE, chamfer="to", marked="yes").flats
        assert {round(d.end[0], 9) for m in marks for d in m.diagonals} == {round(25.0 - depth, 9)}

    def test_a_section_cuts_the_mark_away_with_the_flat(self):
        drafting = Drafting("iso", 0.7, 2.0, (1.0, 3.0), True)
        flat = body(shaft(), lower("flats", FLATS | {"first": 90.0}))
        views = [draw([flat], Look(kind, 0.0, None, drafting)) for kind in (side.KINDS[0], *section.KINDS)]
        marked = [sum(shape.role is Role.NARROW for shape in view.shapes) for view in views]
        assert marked == [2, 0, 0]


IMPOSSIBLE = [
    ("flats", FLATS | {"across_flats": 20.0}, {}, "across_flats", "20 across flats on a diameter of 20"),
    ("flats", FLATS | {"across_flats": 9.0, "count": 1.0}, {}, "across_flats", "a flat at 9 takes more than half"),
    ("flats", FLATS | {"count": 2.5}, {}, "count", "count is 2.5"),
    ("flats", FLATS | {"to": 30.0}, {}, "to", "starts at 30 and ends at 30"),
    ("cross_hole", HOLE | {"diameter": 20.0}, {}, "diameter", "hole of 20 across a diameter of 20"),
    ("cross_hole", HOLE | {"depth": 20.0}, {"through": "near"}, "depth", "hole 20 deep in a diameter of 20"),
    ("cross_hole", HOLE | {"countersink_diameter": 5.0}, {}, "countersink_diameter", "countersink of 5 on a hole of 6"),
    (
        "cross_hole",
        HOLE | {"countersink_diameter": 12.0, "countersink_angle": 20.0},
        {},
        "countersink_diameter",
        "countersink of 12 reaches 17.0138 deep",
    ),
    (
        "cross_hole",
        HOLE | {"countersink_diameter": 8.0, "depth": 0.5},
        {"through": "near"},
        "depth",
        "hole 0.5 deep ends in its countersink",
    ),
    ("slots", SLOTS | {"to": 15.0}, {}, "to", "starts and ends at 15"),
    ("slots", SLOTS | {"width": 8.0}, {}, "width", "6 slots of 8 on a diameter of 16"),
    ("slots", SLOTS | {"inner": 16.0}, {}, "inner", "slots run from 16 to 16"),
    ("slots", SLOTS | {"to": 14.0}, {"floor": "round"}, "width", "round floor of radius 1.75 in a slot 1 deep"),
    ("bolt_holes", BOLTS | {"count": 24.0}, {}, "circle", "holes of 18 stand 16.3158 apart on a circle of 125"),
    (
        "bolt_holes",
        BOLTS | {"counterbore_diameter": 18.0},
        {},
        "counterbore_diameter",
        "counterbore of 18 on a hole of 18",
    ),
    (
        "bolt_holes",
        BOLTS | {"counterbore_diameter": 26.0, "counterbore_depth": 16.0},
        {},
        "counterbore_depth",
        "counterbore 16 deep in a hole 16 long",
    ),
    ("prism", PRISM | {"to": 0.0}, {}, "to", "starts at 0 and ends at 0"),
    ("bend", BEND | {"radius": 16.0}, {}, "radius", "centre line of radius 16 in a bar of 33.7"),
    ("bend", BEND | {"angle": 181.0}, {}, "angle", "bends 181 degrees"),
    ("bend", BEND | {"bore": 33.7}, {}, "bore", "bore of 33.7 in a diameter of 33.7"),
    ("bend", BEND | {"tail": -1.0}, {}, "tail", "tail is -1"),
    ("branch", BRANCH | {"bore": 20.0}, {}, "bore", "bore of 20 in a diameter of 20"),
    ("branch", BRANCH | {"inclination": 180.0}, {}, "inclination", "inclination is 180 degrees"),
    ("branch", BRANCH | {"length": 0.0}, {}, "length", "length is 0"),
    ("eye", EYE | {"section": 0.0}, {}, "section", "section is 0"),
]


@pytest.mark.parametrize(("kind", "numbers", "choices", "parameter", "wrong"), IMPOSSIBLE)
def test_impossible_numbers_are_named(kind, numbers, choices, parameter, wrong):
    with pytest.raises(Impossible) as caught:
        lower(kind, numbers, profiles={"profile": KEY}, **choices)
    assert caught.value.parameter == parameter
    assert caught.value.wrong.startswith(wrong)


class TestMisfits:
    """Both values are named."""

    def flange(self, **changed):
        return body(
            lower("cylinder", FLANGE, "flange"),
            lower("cylinder", {"diameter": 102.0, "from": 16.0, "to": 18.0}, "raised face"),
            lower("bore", {"diameter": changed.pop("bore", 61.5), "from": 0.0, "to": 18.0}),
            lower("bolt_holes", BOLTS | changed, "bolt holes"),
        )

    def test_a_flange_is_sound(self):
        assert not list(misfits_of(self.flange()))

    @pytest.mark.parametrize(
        ("changed", "wrong"),
        [
            ({"circle": 150.0}, "reaches out to a diameter of 168 where flange is only 165 wide"),
            ({"circle": 147.0}, "reaches out to a diameter of 165 where flange is only 165 wide"),
            ({"bore": 110.0}, "comes in to a diameter of 107 where bore is 110 wide"),
            ({"to": 18.0}, "reaches out to a diameter of 143 where raised face is only 102 wide"),
        ],
    )
    def test_a_hole_that_breaks_out(self, changed, wrong):
        found = [m for m in misfits_of(self.flange(**changed)) if m.feature == "bolt holes"]
        assert [m.wrong for m in found] == [wrong]

    def test_holes_in_an_oval_flange(self):
        """Room is asked for where the hole is, not all round the axis."""
        oval = (Knot(-30, -15), Knot(30, -15), Knot(45, 0, 15, True), Knot(30, 15, 15, True), Knot(-30, 15))
        oval = (*oval, Knot(-45, 0, 15, True), Knot(-30, -15, 15, True))[1:]
        plate = lower("prism", {"from": 0.0, "to": 10.0}, profiles={"profile": oval})
        holes = {"circle": 60.0, "diameter": 11.0, "count": 2.0, "first": 90.0, "from": 0.0, "to": 10.0}
        assert not list(misfits_of(body(plate, lower("bolt_holes", holes))))
        assert list(misfits_of(body(plate, lower("bolt_holes", holes | {"first": 0.0}))))

    def test_what_grows_must_touch_something(self):
        far = body(shaft(), lower("eye", EYE | {"at": 100.0}))
        assert [m.wrong for m in misfits_of(far)] == ["stands at 82 to 118, away from the body"]

    @pytest.mark.parametrize("kind", ["bend", "eye"])
    def test_a_lone_feature_needs_nothing_to_touch(self, kind):
        numbers = {"bend": BEND | {"tail": 20.0}, "eye": EYE}[kind]
        assert not list(misfits_of(body(lower(kind, numbers))))
