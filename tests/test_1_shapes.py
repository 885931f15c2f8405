"""Ellipses: places, bounds, and the arcs that stand for them; checked by geometry done another way here."""

import math
from itertools import pairwise

import pytest

from builder.words.roles import Role
from builder.words.shapes import Arc, Ellipse, Line, Point, arcs_of, bounds_of

SPANS = [(0.0, 360.0), (30.0, 390.0), (0.0, 180.0), (90.0, 270.0), (37.0, 99.0), (300.0, 430.0), (171.7, 208.7)]
RATIOS = [1.0, 0.98, 0.7, 0.3, 0.05, 0.003, 1e-6]


def ellipse(ratio: float, start: float = 0.0, end: float = 360.0) -> Ellipse:
    """One whose major half axis is 5 long and leans 3 : 4."""
    return Ellipse(Point(10.0, -2.0), Point(4.0, 3.0), ratio, start, end, Role.OUTLINE)


def pressed(ratio: float, degrees: float) -> Point:
    """A point of a circle that is pressed flat, then turned, then moved."""
    x, y = 5.0 * math.cos(math.radians(degrees)), 5.0 * ratio * math.sin(math.radians(degrees))
    return Point(10.0 + 0.8 * x - 0.6 * y, -2.0 + 0.6 * x + 0.8 * y)


@pytest.mark.parametrize("degrees", [0, 1, 90, 200, 359, 400])
def test_an_ellipse_is_a_circle_pressed_flat_and_turned(degrees: float) -> None:
    assert ellipse(0.4).at(degrees) == pytest.approx(pressed(0.4, degrees))


def test_bounds_of_a_leaning_ellipse() -> None:
    """Half extents of an ellipse that leans by t: sqrt(a2 cos2 t + b2 sin2 t) and with sin, cos: analytic geometry."""
    bounds = bounds_of([ellipse(0.4)])
    width, height = math.hypot(5 * 0.8, 2 * 0.6), math.hypot(5 * 0.6, 2 * 0.8)
    assert bounds == pytest.approx((10 - width, -2 - height, 10 + width, -2 + height))


@pytest.mark.parametrize("span", SPANS)
@pytest.mark.parametrize("ratio", RATIOS)
def test_bounds_of_an_elliptical_arc(ratio: float, span: tuple[float, float]) -> None:
    start, end = span
    places = [pressed(ratio, start + (end - start) * n / 20000) for n in range(20001)]
    xs, ys = zip(*places, strict=True)
    assert bounds_of([ellipse(ratio, *span)]) == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=1e-6)


def test_an_ellipse_grows_about_the_origin() -> None:
    grown = ellipse(0.4, 20, 110).scaled(25.4)
    for degrees in (20, 65, 110):
        x, y = pressed(0.4, degrees)
        assert grown.at(degrees) == pytest.approx((25.4 * x, 25.4 * y))
    assert (grown.start, grown.end, grown.role) == (20, 110, Role.OUTLINE)


@pytest.mark.parametrize(("start", "end", "whole"), [(0, 360, True), (0.1, 360.1, True), (0, 359.9, False)])
def test_a_whole_ellipse_is_told_from_an_arc_of_one(start: float, end: float, whole: bool) -> None:
    assert ellipse(0.4, start, end).whole is whole


def apart(place: Point, piece: Arc | Line) -> float:
    """How far a place lies from a piece, its ends included."""
    ends = (piece.start, piece.end) if isinstance(piece, Line) else (piece.at(piece.start), piece.at(piece.end))
    nearest = min(math.dist(place, end) for end in ends)
    if isinstance(piece, Arc):
        angle = math.degrees(math.atan2(place.y - piece.centre.y, place.x - piece.centre.x)) % 360.0
        inside = any(piece.start <= angle + turn <= piece.end for turn in (0.0, 360.0))
        return abs(math.dist(place, piece.centre) - piece.radius) if inside else nearest
    (x, y), length = piece.start, math.dist(piece.start, piece.end)
    ux, uy = (piece.end.x - x) / length, (piece.end.y - y) / length
    inside = 0.0 <= (place.x - x) * ux + (place.y - y) * uy <= length
    return abs((place.y - y) * ux - (place.x - x) * uy) if inside else nearest


def along(piece: Arc | Line, share: float) -> Point:
    if isinstance(piece, Arc):
        return piece.at(piece.start + share * (piece.end - piece.start))
    dx, dy = piece.end.x - piece.start.x, piece.end.y - piece.start.y
    return piece.start.plus(share * dx, share * dy)


@pytest.mark.parametrize("span", SPANS)
@pytest.mark.parametrize("ratio", RATIOS)
@pytest.mark.parametrize("tolerance", [0.1, 5e-4, 1e-6])
def test_arcs_follow_an_ellipse(ratio: float, span: tuple[float, float], tolerance: float) -> None:
    """Each place of the ellipse is near some piece, each place of a piece near the ellipse, and they join in order."""
    shape, (start, end) = ellipse(ratio, *span), span
    pieces = arcs_of(shape, tolerance)
    knots = [along(pieces[0], 0.0), *(along(piece, 1.0) for piece in pieces)]
    assert knots[0] == pytest.approx(pressed(ratio, start), abs=1e-9)
    assert knots[-1] == pytest.approx(pressed(ratio, end), abs=1e-9)
    for earlier, later in pairwise(pieces):
        assert along(earlier, 1.0) == pytest.approx(along(later, 0.0), abs=1e-9)
    places = [pressed(ratio, start + (end - start) * n / 300) for n in range(301)]
    assert all(min(apart(place, piece) for piece in pieces) <= tolerance for place in places)
    fine = [Line(a, b, Role.OUTLINE) for a, b in pairwise(places)]
    chord = max(math.dist(a, b) for a, b in pairwise(places)) / 8  # the chords' own fault is far below this
    for piece in pieces[:: max(1, len(pieces) // 9)]:
        assert all(min(apart(along(piece, s), side) for side in fine) <= tolerance + chord for s in (0.25, 0.5, 0.75))
    assert all(piece.role is Role.OUTLINE for piece in pieces)


def test_no_arc_is_longer_or_shorter_than_need_be() -> None:
    """Arcs taken greedily, each as long as it may be, number 16 to 25 round these; a circle needs four at most."""
    assert len(arcs_of(ellipse(1.0), 1e-4)) == 4
    for ratio, most in ((0.9, 16), (0.5, 25), (0.2, 27), (0.1, 25)):
        assert most <= len(arcs_of(ellipse(ratio), 5e-4)) <= 1.6 * most


@pytest.mark.parametrize(("start", "end"), [(90 - 1e-9, 180 + 1e-9), (89.95, 180.05), (0.0, 0.05)])
def test_no_sliver_is_cut_off_at_a_vertex(start: float, end: float) -> None:
    pieces = arcs_of(ellipse(0.5, start, end), 5e-4)
    assert min(math.dist(along(piece, 0.0), along(piece, 1.0)) for piece in pieces) > 0.001


def test_arcs_of_a_whole_ellipse_are_even_about_both_axes() -> None:
    upright = Ellipse(Point(0.0, 0.0), Point(5.0, 0.0), 0.4, 0.0, 360.0, Role.OUTLINE)
    centres = [(round(p.centre.x, 9), round(p.centre.y, 9)) for p in arcs_of(upright, 5e-4) if isinstance(p, Arc)]
    for across, up in ((-1, 1), (1, -1)):
        assert sorted((across * x + 0.0, up * y + 0.0) for x, y in centres) == sorted(centres)


def test_no_tolerance_still_comes_to_an_end() -> None:
    pieces = arcs_of(ellipse(0.4, 10.0, 80.0), 0.0)
    assert 50 < len(pieces) < 500
