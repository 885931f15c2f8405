"""Outlines: what knots become, against elementary geometry; and what makes none."""

import math
from itertools import pairwise

import pytest

from builder.words.knot import Knot
from builder.words.outline import KnotFault, outline
from builder.words.roles import Role
from builder.words.shapes import Arc, Line, Point

ROLE = Role.OUTLINE
Piece = Line | Arc


def corners(*places: tuple[float, float]) -> list[Knot]:
    return [Knot(x, y) for x, y in places]


def ends(piece: Piece) -> tuple[Point, Point]:
    return (piece.start, piece.end) if isinstance(piece, Line) else (piece.at(piece.start), piece.at(piece.end))


def walked(pieces: tuple[Piece, ...], start: tuple[float, float]) -> list[tuple[float, float]]:
    """Return the places passed, each piece run the way that starts where the one before ended."""
    places = [start]
    for piece in pieces:
        first, last = ends(piece)
        if math.dist(first, places[-1]) > 1e-9:
            first, last = last, first
        assert math.dist(first, places[-1]) < 1e-9
        places.append(last)
    return places


def length(piece: Piece) -> float:
    if isinstance(piece, Line):
        return math.dist(piece.start, piece.end)
    return piece.radius * math.radians(piece.end - piece.start)


def area(pieces: tuple[Piece, ...], start: tuple[float, float]) -> float:
    """Return the area to the left of the way round: half the sum of cross products, and the segments of arcs."""
    places = walked(pieces, start)
    total = sum(ax * by - ay * bx for (ax, ay), (bx, by) in pairwise(places)) / 2.0
    for piece, place in zip(pieces, places, strict=False):
        if isinstance(piece, Arc):
            angle = math.radians(piece.end - piece.start)
            left = math.dist(place, ends(piece)[0]) < 1e-9
            total += (1.0 if left else -1.0) * piece.radius**2 * (angle - math.sin(angle)) / 2.0
    return total


def test_corners_become_lines_from_the_first_knot_on() -> None:
    pieces = outline(corners((0, 0), (4, 0), (4, 3)), True, ROLE)
    assert pieces == (
        Line(Point(0, 0), Point(4, 0), ROLE),
        Line(Point(4, 0), Point(4, 3), ROLE),
        Line(Point(4, 3), Point(0, 0), ROLE),
    )
    assert outline(corners((0, 0), (4, 0), (4, 3)), False, Role.NARROW) == tuple(
        Line(piece.start, piece.end, Role.NARROW) for piece in pieces[:2] if isinstance(piece, Line)
    )


def test_a_rounded_rectangle_has_the_area_of_geometry() -> None:
    """Each rounded right angle takes (1 - pi/4) r^2."""
    knots = [Knot(x, y, radius=2.0) for x, y in ((0, 0), (10, 0), (10, 6), (0, 6))]
    pieces = outline(knots, True, ROLE)
    assert [type(piece) for piece in pieces] == [Line, Arc] * 4
    assert pieces[0] == Line(Point(2, 0), Point(8, 0), ROLE)
    assert pieces[1] == Arc(Point(8, 2), 2.0, 270.0, 360.0, ROLE)
    assert area(pieces, (2, 0)) == pytest.approx(60.0 - (4.0 - math.pi) * 4.0)
    assert area(outline(knots[::-1], True, ROLE), (2, 6)) == pytest.approx(-60.0 + (4.0 - math.pi) * 4.0)


def test_roundings_that_take_a_whole_side_leave_no_line_of_no_length() -> None:
    knots = [Knot(x, y, radius=3.0) for x, y in ((0, 0), (6, 0), (6, 6), (0, 6))]
    pieces = outline(knots, True, ROLE)
    assert [type(piece) for piece in pieces] == [Arc] * 4
    assert all(piece.centre == pytest.approx((3, 3)) for piece in pieces if isinstance(piece, Arc))
    assert sum(map(length, pieces)) == pytest.approx(6.0 * math.pi)


def test_a_turn_of_60_degrees_is_rounded_over_the_tangent_length() -> None:
    """Tangent length of a curve: T = R tan(turn / 2), any handbook of setting out."""
    knots = [Knot(0, 0), Knot(10, 0, radius=4.0), Knot(10 + 10 * 0.5, 10 * math.sqrt(0.75))]
    first, arc, _ = outline(knots, False, ROLE)
    tangent = 4.0 * math.tan(math.radians(30.0))
    assert ends(first)[1] == pytest.approx((10.0 - tangent, 0.0))
    assert isinstance(arc, Arc)
    assert (arc.start, arc.end - arc.start) == pytest.approx((270.0, 60.0))


def test_a_corner_that_leads_straight_on_needs_no_rounding() -> None:
    assert len(outline([Knot(0, 0), Knot(1, 0, radius=5.0), Knot(2, 0)], False, ROLE)) == 2


@pytest.mark.parametrize(("radius", "middle"), [(5.0, (5, -5)), (-5.0, (5, 5))])
def test_an_arc_of_more_than_0_turns_left(radius: float, middle: tuple[float, float]) -> None:
    """From (0, 0) to (10, 0): turning left the way bulges to the right, below."""
    (arc,) = outline([Knot(0, 0), Knot(10, 0, radius=radius, arc=True)], False, ROLE)
    assert isinstance(arc, Arc)
    assert arc.at((arc.start + arc.end) / 2.0) == pytest.approx(middle)
    assert 0.0 <= arc.start < 360.0
    assert arc.end - arc.start == pytest.approx(180.0)


def test_two_half_circles_make_a_circle_and_one_with_its_chord_half_of_it() -> None:
    circle = outline([Knot(0, 0, 5.0, True), Knot(10, 0, 5.0, True)], True, ROLE)
    assert area(circle, (0, 0)) == pytest.approx(25.0 * math.pi)
    half = outline([Knot(0, 0), Knot(10, 0, 5.0, True)], True, ROLE)
    assert [type(piece) for piece in half] == [Arc, Line]
    assert area(half, (0, 0)) == pytest.approx(12.5 * math.pi)


def test_the_first_knot_of_a_closed_outline_may_end_an_arc() -> None:
    """A slot: two lines and two half circles, turning left all the way."""
    slot = [Knot(0, -2, 2.0, True), Knot(8, -2), Knot(8, 2, 2.0, True), Knot(0, 2)]
    pieces = outline(slot, True, ROLE)
    assert [type(piece) for piece in pieces] == [Line, Arc, Line, Arc]
    assert area(pieces, (0, -2)) == pytest.approx(32.0 + 4.0 * math.pi)


def test_arcs_that_turn_right_keep_their_place_in_the_order() -> None:
    """A plate with a half round notch, or else a boss, on its upper edge."""
    plate = corners((0, 0), (10, 0), (10, 5), (7, 5))
    pieces = outline([*plate, Knot(3, 5, -2.0, True), Knot(0, 5)], True, ROLE)
    assert area(pieces, (0, 0)) == pytest.approx(50.0 - 2.0 * math.pi)
    pieces = outline([*plate, Knot(3, 5, 2.0, True), Knot(0, 5)], True, ROLE)
    assert area(pieces, (0, 0)) == pytest.approx(50.0 + 2.0 * math.pi)


@pytest.mark.parametrize("turn", [0.0, 33.0, 90.0, 200.0])
@pytest.mark.parametrize("mirror", [1.0, -1.0])
@pytest.mark.parametrize("bulge", [1.0, -1.0])
def test_a_rounding_between_line_and_arc_is_tangent_to_both(turn: float, mirror: float, bulge: float) -> None:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def placed(x: float, y: float) -> tuple[float, float]:
        y *= mirror
        return c * x - s * y, s * x + c * y

    corner = Knot(*placed(10, 0), radius=1.5)
    pieces = outline([Knot(*placed(0, 0)), corner, Knot(*placed(8, 9), bulge * mirror * 12.0, True)], False, ROLE)
    line, small, large = pieces
    assert isinstance(line, Line) and isinstance(small, Arc) and isinstance(large, Arc)
    assert small.radius == pytest.approx(1.5)
    assert len(walked(pieces, placed(0, 0))) == 4
    (x, y), (dx, dy) = line.start, (line.end.x - line.start.x, line.end.y - line.start.y)
    away = abs((small.centre.x - x) * dy - (small.centre.y - y) * dx) / math.hypot(dx, dy)
    assert away == pytest.approx(1.5)
    between = math.dist(small.centre, large.centre)
    assert min(abs(between - large.radius - 1.5), abs(large.radius - between - 1.5)) < 1e-9


def test_outlines_far_out_and_very_small_are_made_as_well() -> None:
    for scale, shift in ((1e-3, 0.0), (1e4, 0.0), (1.0, 1e4)):
        knots = [Knot(shift + scale * x, scale * y, scale) for x, y in ((0, 0), (10, 0), (10, 6), (0, 6))]
        assert len(outline(knots, True, ROLE)) == 8


def test_tangent_neighbours_that_turn_back_do_not_cross() -> None:
    """A spandrel between two lines at right angles and the circle that touches both: (1 - pi/4) r^2."""
    pieces = outline([Knot(5, 0), Knot(0, 5, -5.0, True), Knot(0, 0)], True, ROLE)
    assert area(pieces, (5, 0)) == pytest.approx(25.0 * (1.0 - math.pi / 4.0))


@pytest.mark.parametrize(
    ("knots", "closed", "index", "words"),
    [
        ([], False, 0, "0 knots"),
        (corners((0, 0)), False, 0, "1 knot;"),
        (corners((0, 0), (1, 0)), True, 1, "expected at least 3"),
        (corners((0, 0), (1, 0), (1, 0), (0, 1)), True, 2, "knot 3 is where knot 2 is"),
        (corners((0, 0), (1, 0), (0, 1), (0, 0)), True, 0, "knot 1 is where knot 4 is"),
        ([Knot(0, 0), Knot(10, 0, 4.9, True)], False, 1, "expected at least 5"),
        ([Knot(0, 0), Knot(10, 0, -4.9, True)], False, 1, "arc of radius -4.9"),
        ([Knot(0, 0), Knot(10, 0, 0.0, True)], False, 1, "arc of radius 0"),
        ([Knot(0, 0, 4.0, True), Knot(10, 0)], False, 0, "arc at the first knot"),
        ([Knot(0, 0, 1.0), Knot(10, 0)], False, 0, "an end is rounded"),
        ([Knot(0, 0), Knot(10, 0, 1.0)], False, 1, "an end is rounded"),
        ([Knot(0, 0), Knot(5, 0, -1.0), Knot(5, 5)], False, 1, "corner of radius -1"),
        ([Knot(0, 0), Knot(5, 0, 1.0), Knot(2, 0)], False, 1, "turns right back"),
        ([Knot(0, 0), Knot(10, 0, 6.0), Knot(10, 5)], False, 1, "expected at most 5,"),
        ([Knot(0, 0), Knot(10, 0, 3.0), Knot(10, 5, 2.1), Knot(0, 5)], False, 1, "3 and 2.1 taken of the 5"),
        ([Knot(0, 0), Knot(10, 0, 9.0), Knot(10, 4, 3.0, True)], False, 1, "corner of radius 9 does not fit"),
        (corners((0, 0), (4, 4), (4, 0), (0, 4)), True, 3, "way to knot 4 and that to knot 2 cross"),
        (corners((0, 0), (4, 4), (4, 0), (0, 4)), False, 3, "cross or touch"),
        (corners((0, 0), (4, 0), (2, 0)), False, 2, "cross or touch"),
        (corners((0, 0), (4, 0), (0, 0)), False, 2, "cross or touch"),
        (corners((0, 0), (4, 0), (4, 4), (2, 0), (0, 4)), True, 3, "cross or touch"),
        ([Knot(0, 0), Knot(10, 0, 5.0, True), Knot(10, -5), Knot(0, -5)], True, 3, "cross or touch"),
        ([Knot(0, 0), Knot(10, 0, 5.0, True), Knot(0, 0, -5.0, True)], False, 2, "cross or touch"),
        ([Knot(0, 0), Knot(10, 0, 5.0, True), Knot(1, -3.1)], False, 2, "cross or touch"),
        ([*corners((0, 0), (10, 0), (10, 5)), Knot(0, 5, -5.0, True)], True, 3, "cross or touch"),
        ([*corners((-9, 0), (9, 0), (9, 3)), Knot(0, 0, 9.0, True), Knot(-9, 3)], True, 3, "cross or touch"),
    ],
)
def test_what_makes_no_outline_is_reported_at_its_knot(knots: list[Knot], closed: bool, index: int, words: str) -> None:
    with pytest.raises(KnotFault) as caught:
        outline(knots, closed, ROLE)
    assert (caught.value.index, True) == (index, words in f"{caught.value.wrong}; {caught.value.expected}"), (
        caught.value
    )
