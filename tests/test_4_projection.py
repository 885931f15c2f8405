"""What must hold of every projection, whatever the body: mirrored, rolled and restated bodies look alike.

Geometry alone, no source: each property compares two ways through the engine that share little.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from bodies import bolt, nut, washer

from builder.body.common import Common
from builder.body.contour import Bow, Straight, bows, corners
from builder.body.extruded import Extruded
from builder.body.solid import Body, Fit, Piece
from builder.body.turned import Turned, cone, cylinder
from builder.body.vectors import Place, across, radial
from builder.view.draw import outlines
from builder.view.frame import Cut, along, beside
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, bounds_of


def made(*parts):
    return Body(tuple(Piece(solid, "x", fit) for solid, fit in parts))


def square(half, low, high, place):
    return Extruded(corners([(-half, -half), (half, -half), (half, half), (-half, half)]), low, high, place)


def ball(radius, at):
    return Turned((*bows((-radius, 0.0), (radius, 0.0), (0.0, 0.0), left=False), Straight(radius, 0, -radius, 0)), at)


def bend(section, radius, turn):
    rim = ((section, radius), (-section, radius))
    loop = (*bows(*rim, (0.0, radius), left=True), *bows(*reversed(rim), (0.0, radius), left=True))
    return Turned(loop, Place((0.0, radius, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0)), turn)


S, A, B, C = Fit.STACKED, Fit.ADDED, Fit.BORED, Fit.CUT
SHAFT = (cylinder(0.0, 60.0, 10.0), S)
BODIES = {
    "bolt": bolt(),
    "nut": nut(),
    "washer": washer(),
    "cross holes": made(
        SHAFT,
        (cylinder(-14.0, 14.0, 3.0, across(0.4, (20.0, 0.0, 0.0))), C),
        (cylinder(-14.0, 14.0, 4.0, across(1.3, (42.0, 0.0, 0.0))), C),
    ),
    "flats": made(
        SHAFT, *((square(6.0, 14.0, 30.0, Place((0.0, *radial(a)[1:]), (1.0, 0.0, 0.0), radial(a))), C) for a in (0.7,))
    ),
    "slotted ball": made((ball(10.0, Place((10.0, 0.0, 0.0))), S), (square(3.0, -12.0, 12.0, across(0.5)), C)),
    "tee": made(
        (cylinder(-30.0, 30.0, 10.0), S),
        (cylinder(0.0, 25.0, 7.0, across(0.3)), A),
        (cylinder(-30.0, 30.0, 8.0), B),
        (cylinder(0.0, 25.0, 5.0, across(0.3)), C),
    ),
    "elbow": made((cylinder(-15.0, 0.0, 4.0), S), (bend(4.0, 20.0, (0.0, math.pi / 2.0)), A)),
    "holes in a flange": made(
        (cylinder(0.0, 8.0, 30.0), S),
        (cylinder(8.0, 14.0, 18.0), S),
        *((cylinder(0.0, 8.0, 2.5, Place((0.0, *(24.0 * v for v in radial(a)[1:])))), C) for a in (0.2, 2.0, 4.0)),
    ),
    "cone in a square": made(
        (Common((square(8.0, 0.0, 20.0, Place()), cone(0.0, 7.0, 20.0, 14.0))), S),
        (cylinder(20.0, 26.0, 9.0), S),
    ),
}
FRAMES = {
    "side": beside(0.0),
    "side at 25": beside(math.radians(25.0)),
    "end": along(1.0, 0.35),
    "base end": along(-1.0, 0.35),
    "section": beside(0.35, Cut.FULL),
    "half section": beside(0.35, Cut.HALF),
}


def spots(shapes, role, step):
    """Points along the shapes of a role, about a step apart."""
    found = []
    for shape in shapes:
        if shape.role is not role:
            continue
        if isinstance(shape, Line):
            n = max(2, math.ceil(math.dist(shape.start, shape.end) / step))
            found += [np.array(shape.start) + (np.array(shape.end) - shape.start) * t for t in np.linspace(0.0, 1.0, n)]
            continue
        start, end = (0.0, 360.0) if isinstance(shape, Circle) else (shape.start, shape.end)
        curve = Arc(shape.centre, shape.radius, start, end, role) if isinstance(shape, Circle | Arc) else shape
        radius = math.hypot(*shape.major) if isinstance(shape, Ellipse) else shape.radius
        n = max(2, math.ceil(radius * math.radians(end - start) / step))
        found += [np.array(curve.at(a)) for a in np.linspace(start, end, n)]
    return np.array(found).reshape(-1, 2)


def assert_alike(one, other, turn=(1.0, 1.0)):
    """The same lines in both, each role by itself, one of them mirrored perhaps: points of one lie near the other."""
    size = max(bounds_of(one).width, bounds_of(one).height)
    for role in (Role.OUTLINE, Role.HIDDEN):
        a, b = spots(one, role, 0.02 * size) * np.array(turn), spots(other, role, 0.004 * size)
        for p, q in ((a, b), (spots(other, role, 0.02 * size), spots(one, role, 0.004 * size) * np.array(turn))):
            if len(p):
                assert len(q), role
                far = np.sqrt(((p[:, None] - q[None]) ** 2).sum(axis=2)).min(axis=1)
                assert far.max() < 0.006 * size, (role, p[far.argmax()])


def turned_loop(loop, sign_a, sign_b):
    """A loop mirrored in a, in b or both."""
    found = []
    for p in loop:
        ends = (sign_a * p.a0, sign_b * p.b0, sign_a * p.a1, sign_b * p.b1)
        found.append(Bow(*ends, sign_a * p.ca, sign_b * p.cb, p.radius) if isinstance(p, Bow) else Straight(*ends))
    return tuple(found)


def mirrored(solid):
    """A leaf in the mirror of the plane x = 0: its place stays right-handed, its z turns round."""
    if isinstance(solid, Common):
        return Common(tuple(mirrored(part) for part in solid.parts))
    (ox, oy, oz), (xx, xy, xz), (yx, yy, yz) = solid.place.origin, solid.place.x, solid.place.y
    place = Place((-ox, oy, oz), (-xx, xy, xz), (-yx, yy, yz))
    if isinstance(solid, Extruded):
        return replace(solid, loop=turned_loop(solid.loop, 1.0, -1.0), place=place)
    return replace(solid, place=place, turn=solid.turn and (-solid.turn[1], -solid.turn[0]))


def rolled(solid, by):
    """A leaf turned about the X axis."""
    if isinstance(solid, Common):
        return Common(tuple(rolled(part, by) for part in solid.parts))
    c, s = math.cos(by), math.sin(by)

    def turn(v):
        return (v[0], c * v[1] - s * v[2], s * v[1] + c * v[2])

    place = solid.place
    return replace(solid, place=Place(turn(place.origin), turn(place.x), turn(place.y)))


def changed(body, change):
    return Body(tuple(replace(piece, solid=change(piece.solid)) for piece in body.pieces))


@pytest.mark.parametrize("frame", sorted(FRAMES))
@pytest.mark.parametrize("name", sorted(BODIES))
def test_a_mirrored_body_gives_the_mirrored_view(name, frame):
    """Beside the axis the mirror swaps left and right; from an end one looks at the mirrored body from the other."""
    look, body = FRAMES[frame], BODIES[name]
    if look.at_end:
        other = along(-look.toward[0], 0.35)
        assert_alike(outlines((body,), look), outlines((changed(body, mirrored),), other), (-1.0, 1.0))
    else:
        assert_alike(outlines((body,), look), outlines((changed(body, mirrored),), look), (-1.0, 1.0))


@pytest.mark.parametrize("frame", sorted(FRAMES))
@pytest.mark.parametrize("name", sorted(BODIES))
def test_a_rolled_body_seen_with_the_same_roll_looks_the_same(name, frame):
    """Turning body and viewer together changes nothing, whatever the angle is to the axes of the computation."""
    by = 0.9
    rolls = {"side": 0.0, "side at 25": math.radians(25.0)}
    roll = rolls.get(frame, 0.35) + by
    look = FRAMES[frame]
    other = along(look.toward[0], roll) if look.at_end else beside(roll, look.cut)
    rolled_body = changed(BODIES[name], lambda solid: rolled(solid, by))
    assert_alike(outlines((BODIES[name],), look), outlines((rolled_body,), other))


@pytest.mark.parametrize("name", sorted(BODIES))
def test_end_views_are_as_wide_as_side_views_are_high(name):
    """One body: across, the end view shows what the side view shows upward, from either end."""
    for roll in (0.0, 0.5):
        side, end, base = (
            bounds_of(outlines((BODIES[name],), look)) for look in (beside(roll), along(1.0, roll), along(-1.0, roll))
        )
        assert (end.bottom, end.top) == pytest.approx((side.bottom, side.top), abs=0.01)
        assert (base.bottom, base.top) == pytest.approx((side.bottom, side.top), abs=0.01)
        assert (base.left, base.right) == pytest.approx((-end.right, -end.left), abs=0.01)


@pytest.mark.parametrize("frame", sorted(FRAMES))
@pytest.mark.parametrize("name", sorted(BODIES))
def test_the_order_of_pieces_does_not_matter(name, frame):
    """A body is a union less a union: stated in another order it is the same."""
    body = BODIES[name]
    assert_alike(outlines((body,), FRAMES[frame]), outlines((Body(body.pieces[::-1]),), FRAMES[frame]))


@pytest.mark.parametrize("name", sorted(BODIES))
def test_two_bodies_far_apart_do_not_disturb_each_other(name):
    """In one view with another body beside it, a body looks as it does alone."""
    body = BODIES[name]
    other = made((cylinder(200.0, 210.0, 5.0), S))
    together = outlines((body, other), beside(0.35))
    alone = outlines((body,), beside(0.35))
    assert_alike(alone, [s for s in together if bounds_of((s,)).right < 150.0])


@pytest.mark.parametrize("frame", sorted(FRAMES))
@pytest.mark.parametrize("name", sorted(BODIES))
def test_a_body_looks_the_same_beside_something_askew(name, frame):
    """A far-off wedge leaves no body symmetric: every line is asked then, none taken for hidden by its twin."""
    body = BODIES[name]
    wedge = Extruded(corners([(200.0, 130.0), (206.0, 131.0), (203.0, 137.0)]), 0.3, 7.0)
    together = outlines((Body((*body.pieces, Piece(wedge, "x", A))),), FRAMES[frame])
    alone = outlines((body,), FRAMES[frame])
    near = [s for s in together if max(map(abs, bounds_of((s,)))) < 90.0]
    assert_alike(alone, near)
