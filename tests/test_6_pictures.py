"""Pictures are measured in pixels, against sizes worked out here from the view and the frame."""

import math
import os
import struct
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from io import BytesIO
from itertools import groupby, pairwise
from pathlib import Path

import numpy as np
import picture_samples as samples
import pytest
from PIL import Image, ImageDraw, ImageFont

from builder.definition.shop import LineType
from builder.output import contact_sheet
from builder.output.contact_sheet import contact_sheets
from builder.output.ink import Ink
from builder.output.lettering import lettering, text_width
from builder.output.marks import Marks
from builder.output.pens import Pens
from builder.output.png import png as encoded
from builder.output.raster import Box, Page, Picture, Subject
from builder.output.thumbnail import thumbnail, thumbnails
from builder.view.view import View
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Shape, Text

MARGIN = 12  # of a thumbnail of 256 pixels
DARK = 128


def grey(png: bytes) -> Image.Image:
    return Image.open(BytesIO(png)).convert("L")


def drawn(*shapes: Shape, size: int = 256) -> Image.Image:
    return grey(thumbnail(samples.block(View("side", shapes)), samples.shop(), size))


def column(image: Image.Image, x: int) -> list[int]:
    return [image.getpixel((x, y)) for y in range(image.height)]


def row(image: Image.Image, y: int) -> list[int]:
    return [image.getpixel((x, y)) for x in range(image.width)]


def runs(greys: Sequence[int]) -> list[tuple[int, int]]:
    """Where ink begins and ends, in whole pixels, for each stretch of dark ones."""
    found, at = [], 0
    for dark, stretch in groupby(greys, key=lambda value: value < DARK):
        count = len(list(stretch))
        if dark:
            found.append((at, at + count))
        at += count
    return found


def lengths(greys: Sequence[int]) -> list[int]:
    return [stop - start for start, stop in runs(greys)]


def ink(image: Image.Image) -> tuple[int, int, int, int]:
    box = image.point(lambda value: 255 if value < DARK else 0).getbbox()
    assert box is not None
    return box


def blots(image: Image.Image) -> list[set[tuple[int, int]]]:
    """The patches of ink that hang together, corners included."""
    left = {(x, y) for x in range(image.width) for y in range(image.height) if image.getpixel((x, y)) < 220}
    found = []
    while left:
        blot, edge = set(), {left.pop()}
        while edge:
            blot |= edge
            edge = {(x + dx, y + dy) for x, y in edge for dx in (-1, 0, 1) for dy in (-1, 0, 1)} & left
            left -= edge
        found.append(blot)
    return found


def frame(width: float, height: float) -> tuple[Line, ...]:
    return samples.rectangle(-width / 2, -height / 2, width / 2, height / 2)


def test_png_is_small_of_16_greys_without_dates() -> None:
    png = thumbnail(samples.block(samples.bolt_side()), samples.shop())
    width, height, bits, colour_type = struct.unpack(">IIBB", png[16:26])  # IHDR as in the PNG specification, 11.2.2
    assert (width, height, bits, colour_type) == (256, 256, 4, 0)  # greyscale
    names, at = [], 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        names.append(png[at + 4 : at + 8])
        at += 12 + length
    assert names == [b"IHDR", b"IDAT", b"IEND"]
    assert len(png) < 2500  # what an offhand drawing of this kind took: 2.1 kB


@pytest.mark.parametrize(("width", "height"), [(1, 1), (7, 3), (8, 5), (33, 200), (256, 129)])
def test_every_grey_comes_back_from_a_png(width: int, height: int) -> None:
    """Pillow reads what we write: noise, odd widths, more rows than are packed at a time."""
    greys = np.random.default_rng(width).integers(0, 16, (height, width), np.uint8)
    assert np.array_equal(np.asarray(grey(encoded(greys))), greys * 17)


@pytest.mark.parametrize("size", [96, 128, 256, 512])
def test_thumbnail_has_the_size_asked_for(size: int) -> None:
    assert drawn(*frame(10, 10), size=size).size == (size, size)


@pytest.mark.parametrize(("width", "height"), [(30, 30), (60, 20), (7, 40), (200, 0.0)])
def test_margins_are_even(width: float, height: float) -> None:
    left, top, right, bottom = ink(drawn(*frame(width, height)))
    assert abs(left - (256 - right)) <= 1
    assert abs(top - (256 - bottom)) <= 1
    assert min(left, top) == pytest.approx(MARGIN, abs=1)


def test_scale_is_the_same_along_x_and_y() -> None:
    left, top, right, bottom = ink(drawn(*frame(60, 20)))
    wide = 2
    assert (right - left - wide) / (bottom - top - wide) == pytest.approx(3, rel=0.03)


def test_y_points_up_and_x_to_the_right() -> None:
    image = drawn(*frame(20, 20), samples.line(5, 6, 8, 6))
    assert runs(column(image, 128 + 70))[1][0] < 128
    assert len(runs(column(image, 128 - 70))) == 2  # the frame alone


@pytest.mark.parametrize("at", [-9.0, -3.3, 0.0, 2.7, 8.1])
def test_horizontal_outline_lies_where_it_should_to_a_pixel(at: float) -> None:
    image = drawn(*frame(20, 20), samples.line(-10, at, 10, at))
    scale = (256 - 2 * MARGIN - 2) / 20
    found = [(start + stop) / 2 for start, stop in runs(column(image, 100))]
    assert len(found) == 3
    assert found[1] == pytest.approx(128 - at * scale, abs=0.75)


def test_upright_lines_are_all_black_with_no_grey_edge() -> None:
    image = drawn(
        *frame(20, 13.7),
        samples.line(-10, 1.234, 10, 1.234),
        samples.line(3.21, -6.85, 3.21, 6.85, Role.THREAD),
    )
    assert set(column(image, 60)) == {0, 255}
    assert set(row(image, 90)) == {0, 255}


def test_wide_line_is_twice_the_narrow_one() -> None:
    image = drawn(*frame(20, 20), samples.line(-10, 3, 10, 3, Role.THREAD))
    assert lengths(column(image, 100)) == [2, 1, 2]


def test_slanting_lines_keep_their_widths() -> None:
    """Ink over length."""
    for degrees in (3, 7, 19, 30, 60, 85):
        turn = math.radians(degrees)
        for role, width in ((Role.OUTLINE, 2.0), (Role.THREAD, 1.0)):
            image = drawn(samples.line(0, 0, math.cos(turn), math.sin(turn), role))
            total = sum(255 - value for value in image.tobytes()) / 255
            length = (256 - 2 * MARGIN - 2) / max(math.cos(turn), math.sin(turn))
            assert total / length == pytest.approx(width, rel=0.12), (role, degrees)


def test_widths_follow_the_shop_standard() -> None:
    """A shop that draws its thread roots as wide as its outlines sees them so."""
    roles = dict(samples.ROLES)
    roles[Role.THREAD] = replace(roles[Role.THREAD], lineweight=roles[Role.OUTLINE].lineweight)
    view = View("side", (*frame(20, 20), samples.line(-10, 3, 10, 3, Role.THREAD)))
    image = grey(thumbnail(samples.block(view), replace(samples.shop(), roles=roles)))
    assert lengths(column(image, 100)) == [2, 2, 2]


def test_corner_has_no_gap() -> None:
    """The pixels of a corner are inked: square ones wholly, acute ones at the tip."""
    image = drawn(*frame(20, 20))
    left, top, _, _ = ink(image)
    assert max(image.getpixel((left + dx, top + dy)) for dx in (0, 1) for dy in (0, 1)) < DARK
    acute = drawn(samples.line(0, 0, 10, 2), samples.line(0, 0, 10, -2))
    left, _, _, _ = ink(acute)
    assert left == pytest.approx(MARGIN, abs=1)


def test_dashed_line_alternates_and_begins_and_ends_with_a_dash() -> None:
    image = drawn(*frame(20, 20), samples.line(-9, 3, 9, 3, Role.HIDDEN))
    scale = (256 - 2 * MARGIN - 2) / 20
    (y,) = [start for start, stop in runs(column(image, 128 - round(9 * scale) + 2)) if stop - start == 1]
    dashes = runs(row(image, y))[1:-1]  # less the frame
    assert dashes[0][0] == pytest.approx(128 - 9 * scale, abs=1)
    assert dashes[-1][1] == pytest.approx(128 + 9 * scale, abs=1)
    sizes = [stop - start for start, stop in dashes]
    gaps = [later[0] - earlier[1] for earlier, later in pairwise(dashes)]
    assert len(dashes) >= 10
    assert max(sizes) - min(sizes) <= 1
    assert all(2 <= gap <= 4 for gap in gaps)
    assert min(sizes) == pytest.approx(12, abs=2)  # ISO 128-2 (trade notes): 12 d and 3 d at a narrow line of one pixel


def test_chain_line_alternates_long_and_short_and_crosses_in_a_dash() -> None:
    image = drawn(samples.line(-10, 0, 10, 0, Role.AXIS), samples.line(0, -10, 0, 10, Role.AXIS))
    y = next(start for start, _ in runs(column(image, MARGIN + 3)))
    sizes = lengths(row(image, y))
    assert all(size > 15 for size in sizes[::2])
    assert all(1 <= size <= 3 for size in sizes[1::2])
    assert len(sizes) % 4 == 1  # an even number of periods and a last dash: the middle one is long
    assert any(start <= 128 < stop and stop - start > 15 for start, stop in runs(row(image, y)))


@pytest.mark.parametrize(("pixels", "dashes"), [(4, 1), (8, 2), (15, 2), (24, 2), (40, 3)])
def test_short_hidden_line_shrinks_its_pattern(pixels: int, dashes: int) -> None:
    length = 20 * pixels / (256 - 2 * MARGIN - 2)
    image = drawn(*frame(20, 20), samples.line(0, 0, length, 0, Role.HIDDEN))
    y = next(start for start, stop in runs(column(image, 130)) if stop - start == 1)
    found = runs(row(image, y))[1:-1]
    assert len(found) == dashes
    assert found[-1][1] - found[0][0] == pytest.approx(pixels, abs=1)


def test_hidden_arc_is_dashed_along_the_arc() -> None:
    image = drawn(*frame(20, 20), Arc(Point(0, 0), 8, 0, 180, Role.HIDDEN)).crop((20, 20, 236, 236))
    radius = 8 * (256 - 2 * MARGIN - 2) / 20
    dashes = blots(image)
    assert len(dashes) == pytest.approx((math.pi * radius + 3) / 15, abs=1)  # dashes of 12 pixels, gaps of 3
    for dash in dashes:
        xs, ys = zip(*dash, strict=True)
        assert math.hypot(max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx(12, abs=2.5)


@pytest.mark.parametrize(("role", "width"), [(Role.OUTLINE, 2.0), (Role.THREAD, 1.0)])
def test_arcs_and_circles_keep_their_widths(role: Role, width: float) -> None:
    """Ink over length."""
    paper = sum(drawn(*frame(20, 20)).tobytes())
    scale = (256 - 2 * MARGIN - 2) / 20
    for shape, degrees in (
        (Arc(Point(0.3, 0.2), 8, 10, 170, role), 160),
        (Circle(Point(0.3, 0.2), 8, role), 360),
    ):
        ink_of_shape = (paper - sum(drawn(*frame(20, 20), shape).tobytes())) / 255
        assert ink_of_shape / (math.radians(degrees) * 8 * scale) == pytest.approx(width, rel=0.05)


def test_arc_covers_its_angles_only() -> None:
    image = drawn(*frame(20, 20), Arc(Point(0, 0), 6, 100, 350, Role.THREAD))
    radius = 6 * (256 - 2 * MARGIN - 2) / 20

    def darkest(degrees: float) -> int:
        x, y = (
            128 + radius * math.cos(math.radians(degrees)),
            128 - radius * math.sin(math.radians(degrees)),
        )
        return min(image.getpixel((round(x) + dx, round(y) + dy)) for dx in (-1, 0, 1) for dy in (-1, 0, 1))

    assert all(darkest(angle) < DARK for angle in range(104, 348, 4))
    assert all(darkest(angle) == 255 for angle in (0, 15, 45, 75, 92))


def test_circle_has_the_radius_of_its_tangents() -> None:
    image = drawn(*frame(30, 30), Circle(Point(0, 0), 9.3, Role.OUTLINE))
    scale = (256 - 2 * MARGIN - 2) / 30
    for greys in (row(image, 128), column(image, 128)):
        _, first, second, _ = runs(greys)
        assert (second[0] + second[1] - first[0] - first[1]) / 4 == pytest.approx(9.3 * scale, abs=0.6)


def around(ellipse: Ellipse, steps: int = 3600) -> list[Point]:
    return [ellipse.at(ellipse.start + (ellipse.end - ellipse.start) * n / steps) for n in range(steps + 1)]


def round_length(ellipse: Ellipse) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(around(ellipse)))


@pytest.mark.parametrize("lean", [0.0, 0.3, 1.57])
@pytest.mark.parametrize("ratio", [0.9, 0.5, 0.2])
@pytest.mark.parametrize(("role", "width"), [(Role.OUTLINE, 2.0), (Role.NARROW, 1.0)])
def test_ellipses_lie_where_they_should_and_keep_their_widths(
    role: Role, width: float, ratio: float, lean: float
) -> None:
    """Ink over length; ink within a pixel and a half of the ellipse, and all along it."""
    paper = drawn(*frame(20, 20))
    scale = (256 - 2 * MARGIN - 2) / 20
    for start, end in ((0, 360), (200, 385)):
        ellipse = Ellipse(Point(0.3, 0.2), Point(8 * math.cos(lean), 8 * math.sin(lean)), ratio, start, end, role)
        image = drawn(*frame(20, 20), ellipse)
        ink_of_shape = (sum(paper.tobytes()) - sum(image.tobytes())) / 255
        assert ink_of_shape / (round_length(ellipse) * scale) == pytest.approx(width, rel=0.06)
        places = [Point(128 + p.x * scale, 128 - p.y * scale) for p in around(ellipse, 360)]
        spots = {(x, y) for x in range(20, 236) for y in range(20, 236) if image.getpixel((x, y)) < 200}
        assert all(min(math.dist((x + 0.5, y + 0.5), p) for p in places) < 1.5 + width / 2 for x, y in spots)
        near = [(-1, -1), (-1, 0), (-1, 1), (0, -1), (0, 0), (0, 1), (1, -1), (1, 0), (1, 1)]
        assert all(any((int(p.x) + dx, int(p.y) + dy) in spots for dx, dy in near) for p in places)


@pytest.mark.parametrize("lean", [0.0, 0.4])
@pytest.mark.parametrize(("ratio", "start", "end"), [(0.6, 0, 360), (0.4, 0, 360), (0.5, 0, 180), (0.5, 250, 480)])
def test_dashes_run_on_round_a_hidden_ellipse(ratio: float, start: float, end: float, lean: float) -> None:
    """Dashes of about 12 pixels, all alike, and gaps of 3, as on a circle: not if each arc of it began anew."""
    major = Point(8 * math.cos(lean), 8 * math.sin(lean))
    ellipse = Ellipse(Point(0, 0), major, ratio, start, end, Role.HIDDEN)
    image = drawn(*frame(20, 20), ellipse).crop((20, 20, 236, 236))
    dashes = blots(image)
    length = round_length(ellipse) * (256 - 2 * MARGIN - 2) / 20
    assert len(dashes) == pytest.approx((length + 3 * (not ellipse.whole)) / 15, abs=1)
    sizes = [sum(255 - image.getpixel(spot) for spot in dash) / 255 for dash in dashes]
    size = (length + 3 * (not ellipse.whole)) / len(dashes) - 3
    assert (min(sizes), max(sizes)) == (pytest.approx(size, abs=2.7), pytest.approx(size, abs=2.7))


@pytest.mark.parametrize("size", [128, 256])
def test_a_whole_hidden_ellipse_has_a_dash_on_its_major_axis(size: int) -> None:
    image = drawn(*frame(20, 20), Ellipse(Point(0, 0), Point(8, 0), 0.6, 0, 360, Role.HIDDEN), size=size)
    edge = round(size / 2 + 8 * (size - 2 * round(MARGIN * size / 256) - 2) / 20)
    for beside in (-1, 0, 1):
        assert min(row(image, size // 2 + beside)[edge - 3 : edge + 4]) < 200


def test_a_dash_without_length_leaves_no_mark() -> None:
    """Where a dash ends just beyond the joint of two pieces; a warning of arithmetic would fail the test."""
    ink = Ink(8, 8)
    ink.draw(Marks(bars=[np.array([[9.0, -9.0, 9.0, -9.0, 4.0]])]), 0)
    assert set(ink.greys().ravel().tolist()) == {15}


def test_an_ellipse_as_round_as_a_circle_looks_like_one() -> None:
    """Off the base point, where a circle's radius is not moved to whole pixels."""
    for role in (Role.OUTLINE, Role.HIDDEN, Role.AXIS):
        circle = drawn(*frame(20, 20), Circle(Point(0.5, 0.3), 7, role)).tobytes()
        ellipse = drawn(*frame(20, 20), Ellipse(Point(0.5, 0.3), Point(7, 0), 1.0, 0, 360, role)).tobytes()
        differ = [abs(a - b) for a, b in zip(circle, ellipse, strict=True)]
        assert sum(differ) / 255 < 0.2 * math.tau * 7 * 11.6, role


@pytest.mark.parametrize("size", [128, 256])
def test_views_with_ellipses_fill_their_pictures(size: int) -> None:
    """The flange leans, so that neither of its ellipse's axes is upright: its extremes lie between them."""
    flange = samples.tilted_flange(lean=60, about=45)
    left, top, right, bottom = ink(grey(thumbnail(samples.block(flange), samples.shop(), size)))
    half = math.hypot(40 * math.cos(math.pi / 4), 20 * math.sin(math.pi / 4))  # of the extent, analytic geometry
    reach = min(44.0, 1.24 * half)  # of the axis, which may stand out by 0.12 of the extent
    scale = (size - 2 * round(size * MARGIN / 256) - 2) / (2 * reach)
    assert (right - left - 1, bottom - top - 2) == pytest.approx((2 * reach * scale, 2 * half * scale), abs=2)


@pytest.mark.parametrize("spacing", [0.3, 0.8, 2.0, 4.0])
def test_hatching_stays_light_and_even(spacing: float) -> None:
    """However dense the hatching of the drawing, the picture's is pale, yet there: black is 0, paper 255."""
    image = grey(thumbnail(samples.block(samples.bush_section(spacing=spacing)), samples.shop()))
    scale = (256 - 2 * MARGIN - 2) / 60
    left, top = round(128 - 20 * scale) + 3, round(128 - 30 * scale) + 3
    region = image.crop((left, top, left + round(40 * scale) - 6, top + round(14 * scale) - 6))
    values = region.tobytes()
    assert 210 < sum(values) / len(values) < 250
    assert min(values) > 80
    across = runs([0 if value < 215 else 255 for value in row(region, region.height // 2)])
    steps = [later[0] - earlier[0] for earlier, later in pairwise(across)]
    assert min(steps) >= 5
    assert max(steps) - min(steps) <= 2


def test_root_of_a_slender_thread_stays_apart_from_its_crest() -> None:
    """ISO 6410-1 (from memory) keeps crest and root apart on paper; in a picture, white lies between them."""
    image = grey(thumbnail(samples.block(samples.bolt_side(length=160)), samples.shop()))
    found = lengths(column(image, 215))
    assert (found[:2], found[-2:]) == ([2, 1], [1, 2])


def test_hidden_line_stays_apart_from_the_outline_beside_it() -> None:
    """Dashes that touch an outline read as a ragged one: white lies between them."""
    for at in (9.8, 9.9, 9.99):
        image = drawn(*frame(20, 20), samples.line(-10, at, 10, at, Role.HIDDEN))
        assert lengths(column(image, MARGIN + 8)) == [2, 1, 2], at


def test_noise_in_the_last_digit_moves_no_line() -> None:
    """A plate whose top was reckoned another way than its sides has four sharp corners all the same."""
    for height in (20.0, 24.0, 57.0):
        sharp = frame(2.5, height)
        noisy = [
            line if line.start.y != line.end.y else replace(line, start=less(line.start), end=less(line.end))
            for line in sharp
        ]
        assert drawn(*noisy).tobytes() == drawn(*sharp).tobytes(), height


def less(point: Point) -> Point:
    return Point(point.x, math.nextafter(point.y, 0.0))


@pytest.mark.parametrize(("width", "height"), [(1.3, 3.4), (3.4, 1.3), (3.0, 3.0)])
def test_axes_of_a_small_part_are_shortened_but_stay(width: float, height: float) -> None:
    """An axis 3 mm beyond a nut M1.6 stands out an eighth of the nut in its picture, no more."""
    axes = (
        samples.line(-width / 2 - 3, 0, width / 2 + 3, 0, Role.AXIS),
        samples.line(0, -height / 2 - 3, 0, height / 2 + 3, Role.AXIS),
    )
    image = drawn(*frame(width, height), *axes)
    left, top, right, bottom = ink(image)
    scale = (256 - 2 * MARGIN) / (1.24 * max(width, height))
    assert max(right - left, bottom - top) == pytest.approx(256 - 2 * MARGIN, abs=3)
    across = [run for run in runs(row(image, 128 - round(height * scale / 4))) if run[1] - run[0] == 2]
    assert across[-1][1] - across[0][0] == pytest.approx(width * scale, abs=3)
    for outer, inner in ((left, across[0][0]), (across[-1][1], right)):
        assert inner - outer == pytest.approx(0.12 * max(width, height) * scale, abs=3)


def test_short_axes_and_those_beside_the_outline_are_drawn_as_they_are() -> None:
    reach = 10.5  # less than an eighth of the part beyond it
    image = drawn(*frame(20, 10), samples.line(-reach, 0, reach, 0, Role.AXIS))
    found = runs(row(image, 128))
    scale = (256 - 2 * MARGIN - 2) / 21
    assert found[-1][1] - found[0][0] == pytest.approx(2 * reach * scale, abs=2)
    for rise in (0, 1):
        outside = drawn(*frame(20, 10), samples.line(-5, 9, 5, 9 + rise, Role.AXIS))
        assert len(runs(column(outside, 128))) == 3
        assert runs(row(outside, ink(outside)[3] - 20))[0][0] == pytest.approx(MARGIN, abs=1)  # the frame's side


@pytest.mark.parametrize(("pitch", "turns"), [(0.4, 150), (0.8, 80), (1.0, 60), (1.75, 34), (3.0, 10)])
def test_sloped_lines_of_a_detailed_thread_leave_white_between_them(pitch: float, turns: int) -> None:
    image = drawn(*samples.threaded_rod(pitch, turns).shapes)
    found = runs([0 if value < 200 else 255 for value in row(image, 128)])[1:-1]
    steps = [later[0] - earlier[0] for earlier, later in pairwise(found)]
    assert max(steps) < 16
    assert max(steps) - min(steps) <= 2
    assert sum(later[0] - earlier[1] for earlier, later in pairwise(found)) > 0.4 * sum(steps)


def test_coarse_detailed_thread_keeps_every_crest_and_root() -> None:
    image = drawn(*samples.threaded_rod(3.0, 10).shapes)
    assert len(runs(row(image, 128))) == 2 + 20


def test_sloped_outlines_that_are_no_thread_are_all_kept() -> None:
    ribs = [samples.line(x / 2, -3, x / 2 + 0.5, 3) for x in range(-18, 18)]
    image = drawn(*frame(60, 20), *ribs)
    whole = sum(255 - value for value in image.tobytes()) - sum(255 - v for v in drawn(*frame(60, 20)).tobytes())
    assert whole / 255 == pytest.approx(36 * 2 * 6 * (256 - 2 * MARGIN - 2) / 60, rel=0.15)


@pytest.mark.parametrize(("step", "turns"), [(0.3, 99), (0.4, 60), (0.7, 50), (2.0, 20)])
def test_schematic_thread_keeps_its_turns_apart_and_by_turns_long_and_short(step: float, turns: int) -> None:
    image = drawn(*samples.schematic_rod(step, turns).shapes)
    scale = (256 - 2 * MARGIN - 2) / (step * (turns + 1) + 12)
    middle = runs(row(image, 128))
    assert [stop - start for start, stop in middle[:2]] == [2, 2]  # end face and limit of the thread
    assert middle[-1][1] == pytest.approx(256 - MARGIN, abs=1)  # and the end face
    assert middle[-1][1] - middle[-1][0] == 2
    turned = [stop - start for start, stop in middle[2:-1]]
    assert turned == ([2, 1] * turns)[: len(turned)]
    assert len(turned) >= 8
    starts = [start for start, _ in middle[1:-1]]
    assert all(3 <= later - earlier < 13 for earlier, later in pairwise(starts))
    beyond_roots = lengths(row(image, 128 + round(5 * scale)))
    assert beyond_roots[:2] == [2, 2]
    assert set(beyond_roots[2:-1]) == {1}


def test_both_sides_of_an_axis_look_alike() -> None:
    image = grey(thumbnail(samples.block(samples.bolt_side()), samples.shop()))
    axis = next(start for start, stop in runs(column(image, MARGIN + 3)) if stop - start == 1)
    for x in (30, 60, 130, 200):
        greys = column(image, x)
        assert greys[axis - 60 : axis] == greys[axis + 60 : axis : -1], x


@pytest.mark.parametrize("letters", ["ISO 7200 gjpq", "j"])
def test_text_is_drawn_inside_the_frame(letters: str) -> None:
    image = drawn(Text(Point(0, 0), 5.0, letters))
    left, top, right, bottom = image.point(lambda value: 255 - value).getbbox() or (0, 0, 0, 0)
    assert min(left, top, 256 - right, 256 - bottom) >= MARGIN - 1
    assert max(right - left, bottom - top) > 190
    first, above, last, below = ImageFont.load_default(200).getmask(letters).getbbox()
    assert (right - left) / (bottom - top) == pytest.approx((last - first) / (below - above), rel=0.05)  # nothing cut


def test_line_type_may_begin_with_any_of_its_elements() -> None:
    """A chain whose pattern begins with the dot, or with a gap, is drawn as one that begins with the dash."""
    pictures = set()
    for pattern in ((6.0, -0.75, 0.125, -0.75), (0.125, -0.75, 6.0, -0.75), (-0.75, 6.0, -0.75, 0.125)):
        linetypes = {**samples.LINETYPES, "CHAIN": LineType("CHAIN", "", pattern)}
        shop = replace(samples.shop(), linetypes=linetypes)
        pictures.add(thumbnail(samples.block(samples.bolt_side()), shop))
    assert len(pictures) == 1


def test_same_block_gives_the_same_bytes_whatever_the_hash_seed() -> None:
    code = (
        "import hashlib, picture_samples as s; from builder.output.thumbnail import thumbnail;"
        "from builder.output.contact_sheet import contact_sheets;"
        "b = [s.block(v) for v in (s.bolt_side(), s.bolt_end(), s.bush_section(), s.hidden_flange(),"
        "                         s.drilled_rod(), s.tilted_flange())];"
        "out = [*(thumbnail(x, s.shop()) for x in b), *contact_sheets(b, s.shop(), 'T', 'S')];"
        "print(hashlib.sha256(b''.join(out)).hexdigest())"
    )
    root = Path(__file__).parent
    digests = set()
    for seed in ("1", "2"):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": f"{root}{os.pathsep}{root.parent}"}
        done = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, check=True)
        digests.add(done.stdout)
    assert len(digests) == 1


def test_a_picture_does_not_depend_on_those_drawn_with_it() -> None:
    """Among more than are drawn at once, of every kind, each is what it is alone."""
    views = [samples.bolt_side(), samples.bolt_end(), samples.bush_section(), samples.hidden_flange()]
    views += [samples.drilled_rod(), samples.tilted_flange(), View("side", (Text(Point(0, 0), 5.0, "gjpq"),))]
    blocks = [samples.block(view) for view in (*views, samples.threaded_rod(1.0, 60), *reversed(views))]
    together = list(thumbnails(blocks, samples.shop(), 200))
    assert together == [thumbnail(block, samples.shop(), 200) for block in blocks]


def test_different_blocks_give_different_bytes() -> None:
    one, other = (thumbnail(samples.block(samples.bolt_side(d=d)), samples.shop()) for d in (12.0, 11.0))
    assert one != other


def family(count: int, views: int = 1, caption: str = "") -> list[samples.Block]:
    view = samples.washer_side()
    return [
        samples.block(view, f"B{number}-{look}", f"M{number // 8}", float(number), caption)
        for number in range(count // views)
        for look in range(views)
    ]


def note_boxes(boxes: list[Box], patch: pytest.MonkeyPatch) -> None:
    """Have a sheet note where its pictures belong instead of drawing them."""

    def note(wanted: Sequence[tuple[Subject, Box]], _pens: Pens, _margin: int) -> list[Picture]:
        boxes.extend(box for _, box in wanted)
        return []

    patch.setattr(contact_sheet, "pictures", note)


@pytest.mark.parametrize("count", [1, 4, 31, 240])
def test_every_block_is_pictured_once(count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    boxes: list[Box] = []
    note_boxes(boxes, monkeypatch)
    pages = contact_sheets(family(count), samples.shop(), "Washers", "ISO 7089")
    assert len(boxes) == count
    assert len(pages) <= count
    assert all(grey(page).size == (1240, 1754) for page in pages)


def test_no_blocks_give_no_pages() -> None:
    assert contact_sheets((), samples.shop(), "Washers", "ISO 7089") == ()


@pytest.mark.parametrize("views", [2, 3, 4, 5])
def test_views_of_a_part_stay_on_one_row(views: int, monkeypatch: pytest.MonkeyPatch) -> None:
    boxes: list[Box] = []
    note_boxes(boxes, monkeypatch)
    contact_sheets(family(20 * views, views), samples.shop(), "Washers", "ISO 7089")
    for first in range(0, len(boxes), views):
        assert len({box.top for box in boxes[first : first + views]}) == 1


def test_parts_with_unlike_numbers_of_views_stay_on_one_row(monkeypatch: pytest.MonkeyPatch) -> None:
    boxes: list[Box] = []
    note_boxes(boxes, monkeypatch)
    view, numbers = samples.washer_side(), [2, 3] * 20
    parts = [[samples.block(view, size=f"M{part}")] * count for part, count in enumerate(numbers)]
    blocks = [block for part in parts for block in part]
    contact_sheets(blocks, samples.shop(), "Washers", "ISO 7089")
    for count in numbers:
        row_of_part, boxes = boxes[:count], boxes[count:]
        assert len({box.top for box in row_of_part}) == 1


def bolts(sizes: int, lengths: int) -> list[samples.Block]:
    """Hexagon head bolts as a library has them: two side views of each length, then two end views."""
    blocks = []
    for size in range(sizes):
        for look in ("side across corners", "side across flats"):
            for length in range(50, 50 + 10 * lengths, 10):
                view = replace(samples.bolt_side(length=length), kind=look)
                blocks.append(samples.block(view, f"B{size}-{length}-{look}", f"M{size}", float(length)))
        for look in ("head end", "point end"):
            view = replace(samples.bolt_end(), kind=look)
            blocks.append(samples.block(view, f"B{size}-{look}", f"M{size}", None))
    return blocks


def placed(blocks: Sequence[samples.Block], patch: pytest.MonkeyPatch) -> tuple[list[Box], int]:
    """The boxes of the pictures, in the order of the blocks, and how many pages they fill."""
    boxes: list[Box] = []
    note_boxes(boxes, patch)
    pages = contact_sheets(blocks, samples.shop(), "Bolts", "ISO 4014")
    assert len(boxes) == len(blocks)
    return boxes, len(pages)


def test_sheets_of_slender_parts_hold_many(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages of square cells took 42 for the 636 blocks of ISO 4014; 15 is 42 to the page."""
    blocks = bolts(10, 10)
    _, pages = placed(blocks, monkeypatch)
    assert len(blocks) / pages > 42


def test_rows_are_as_high_as_their_pictures(monkeypatch: pytest.MonkeyPatch) -> None:
    blocks = bolts(4, 10)
    boxes, _ = placed(blocks, monkeypatch)
    for block, box in zip(blocks, boxes, strict=True):
        beside = [other for other, at in zip(blocks, boxes, strict=True) if at.top == box.top]
        if all(other.length and other.length >= 90 for other in beside):
            assert box.height < 0.3 * box.width, block.name
        if block.length is None:
            assert 0.5 * box.width < box.height < 0.7 * box.width


def test_side_views_on_a_sheet_are_wide_enough_to_be_seen() -> None:
    blocks = bolts(4, 5)[:10] * 4
    image = grey(contact_sheets(blocks, samples.shop(), "Bolts", "ISO 4014")[0])
    top = image.crop((0, 200, 1240, 250))
    for cell in range(5):
        left, _, right, _ = ink(top.crop((70 + 220 * cell, 0, 290 + 220 * cell, 50)))
        assert right - left >= 190


def test_sizes_follow_each_other_and_begin_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Read like a page, the pictures stand in the order of the blocks: lengths ascend, end views follow."""
    blocks = bolts(4, 8)
    boxes, pages = placed(blocks, monkeypatch)
    assert pages > 1
    for (block, box), (later, at) in pairwise(zip(blocks, boxes, strict=True)):
        same_row = at.top == box.top and at.left > box.left
        assert same_row or at.left == boxes[0].left
        if later.size != block.size:
            assert not same_row
        if (block.view.kind, later.view.kind) == ("head end", "point end"):
            assert same_row


def test_tall_parts_keep_a_fair_height(monkeypatch: pytest.MonkeyPatch) -> None:
    boxes, _ = placed(family(120, 3), monkeypatch)
    assert {box.height for box in boxes} == {124}


LONG = (
    "Hexagon head bolt ISO 4014 - M12 x 60 - 8.8",
    "Washer ISO 7089 - 12 - 200 HV with an extraordinarily long remark that has to be broken or made smaller",
    "NO_PLACE_TO_BREAK_" * 8,
    "word " * 200,
)


@pytest.mark.parametrize("caption", LONG)
def test_captions_stay_inside_their_cells_and_apart(caption: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """No text may reach over another text or a picture, nor over the paper's edge."""
    boxes: list[tuple[float, float, float, float]] = []

    def note_text(_page: Page, at: tuple[int, int], text: str, size: int, anchor: str = "l", **_grey: int) -> None:
        width = text_width(text, size)
        left = at[0] - {"l": 0.0, "m": width / 2, "r": width}[anchor[0]]
        boxes.append((left, at[1] - 0.75 * size, left + width, at[1] + 0.2 * size))

    def note_pictures(wanted: Sequence[tuple[Subject, Box]], _pens: Pens, _margin: int) -> list[Picture]:
        boxes.extend((box.left, box.top, box.left + box.width, box.top + box.height) for _, box in wanted)
        return []

    monkeypatch.setattr(Page, "text", note_text)
    monkeypatch.setattr(contact_sheet, "pictures", note_pictures)
    assert len(contact_sheets(family(12, 2, caption), samples.shop(), caption, caption)) == 1
    for number, (left, top, right, bottom) in enumerate(boxes):
        assert 0 <= left < right <= 1240
        assert 0 <= top < bottom <= 1754
        for other in boxes[:number]:
            apart = right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top
            assert apart, (boxes[number], other)


def test_whole_caption_is_written(monkeypatch: pytest.MonkeyPatch) -> None:
    """A designation is broken and made smaller, not cut off."""
    written: list[str] = []
    monkeypatch.setattr(Page, "text", lambda _self, _at, text, *_rest, **_named: written.append(text))
    contact_sheets(family(1, caption=LONG[1]), samples.shop(), "T", "S")
    assert LONG[1] in " ".join(written)


def test_designation_breaks_after_a_dash(monkeypatch: pytest.MonkeyPatch) -> None:
    written: list[tuple[str, int]] = []

    def note(_page: Page, _at: tuple[int, int], text: str, size: int, *_rest: str, **_named: int) -> None:
        written.append((text, size))

    monkeypatch.setattr(Page, "text", note)
    contact_sheets(family(240, 2, LONG[0]), samples.shop(), "T", "S")
    assert ("Hexagon head bolt ISO 4014 -", 16) in written
    assert ("M12 x 60 - 8.8", 16) in written


def test_break_keeps_a_standard_and_its_number_together(monkeypatch: pytest.MonkeyPatch) -> None:
    written: list[str] = []
    monkeypatch.setattr(Page, "text", lambda _self, _at, text, *_rest, **_named: written.append(text))
    contact_sheets(family(240, 3, "Hexagon head bolt ISO 4014 - M6 x 103 - 8.8"), samples.shop(), "T", "S")
    assert "ISO 4014 - M6 x 103 - 8.8" in written


def test_captions_of_a_family_are_of_one_size_and_keep_thread_and_length_together(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    written: list[tuple[str, int]] = []

    def note(_page: Page, _at: tuple[int, int], text: str, size: int, *_rest: str, **_named: int) -> None:
        written.append((text, size))

    monkeypatch.setattr(Page, "text", note)
    lengths_ = ("2", "1-1/4", "3", "2-3/4")
    captions = [f"HEX CAP SCREW, 5/16-18 x {length}, GRADE 5, ASME B18.2.1" for length in lengths_] * 12
    blocks = [samples.block(samples.bolt_side(), f"B{n}", "5/16-18", n, text) for n, text in enumerate(captions)]
    contact_sheets(blocks, samples.shop(), "T", "S")
    first_lines = {(text, size) for text, size in written if text.startswith("HEX CAP SCREW")}
    assert len({size for _, size in first_lines}) == 1
    assert not any(text.endswith("x") for text, _ in first_lines)


def test_header_names_family_source_and_page(monkeypatch: pytest.MonkeyPatch) -> None:
    written: list[str] = []
    monkeypatch.setattr(Page, "text", lambda _self, _at, text, *_rest, **_named: written.append(text))
    pages = contact_sheets(family(240), samples.shop(), "Washers", "ISO 7089:2000, table 1")
    assert written.count("Washers") == written.count("ISO 7089:2000, table 1") == len(pages) > 1
    assert f"Page 2 of {len(pages)}" in written


@pytest.mark.parametrize("size", [11, 13, 16, 34])
def test_letters_set_one_by_one_look_as_the_line_that_pillow_writes(size: int) -> None:
    line = "AVATAR To ISO 4014 - M12 x 60 fjgy"
    font = ImageFont.load_default(size)
    ink, left, baseline = lettering(line, size)
    image = Image.new("L", (ink.shape[1], ink.shape[0]))
    ImageDraw.Draw(image).text((left, baseline), line, fill=255, font=font, anchor="ls")
    differ = np.abs(ink.astype(int) - np.asarray(image) // 17)
    assert differ.max() <= 1  # where letters touch, Pillow adds their edges up
    assert (differ > 0).mean() < 0.01
    assert text_width(line, size) == font.getlength(line)


def test_letters_that_the_font_lacks_are_spelt_out() -> None:
    assert text_width("12 \u00d7 30", 20) == text_width("12 x 30", 20)
    assert text_width("\u00d8 12", 20) == text_width("dia  12", 20)
    assert text_width("\u00c9crou", 20) == text_width("Ecrou", 20)
