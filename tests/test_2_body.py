"""Features become solids: volumes against closed forms of handbooks, impossible numbers against their messages."""

import math
import random

import numpy as np
import pytest
from bodies import body, bolt, lower, nut, washer

from builder.body.catalogue import feature_kinds
from builder.body.common import Common
from builder.body.contour import Straight, bows, corners
from builder.body.extruded import Extruded
from builder.body.feature import Impossible
from builder.body.measure import volume
from builder.body.solid import Body
from builder.body.soundness import misfits_of
from builder.body.turned import Turned, cone
from builder.body.vectors import AXIS, Place

ROUND = {"diameter": 10.0, "from": 0.0, "to": 20.0}
HEXAGON = {"across_flats": 18.0, "from": 0.0, "to": 10.0}
THREAD = {"diameter": 12.0, "pitch": 1.75, "from": 0.0, "to": 30.0}


def test_a_plain_hexagon_has_the_area_of_the_textbook():
    """Area of a hexagon by its width across flats: sqrt(3)/2 s^2 (elementary geometry)."""
    assert volume(body(lower("hexagon", HEXAGON))) == pytest.approx(math.sqrt(3) / 2 * 18**2 * 10, rel=1e-12)


def test_a_fillet_adds_the_spandrel_by_pappus():
    """Pappus: area (1 - pi/4) r^2, its centroid (10 - 3 pi) / (12 - 3 pi) r from the corner (handbook figure)."""
    r = 1.5
    with_fillet = volume(body(lower("cylinder", ROUND | {"fillet": r})))
    plain = volume(body(lower("cylinder", ROUND)))
    area, centroid = (1 - math.pi / 4) * r * r, r * (10 - 3 * math.pi) / (12 - 3 * math.pi)
    assert with_fillet - plain == pytest.approx(2 * math.pi * (5.0 + centroid) * area, rel=1e-9)


def test_a_chamfered_hexagon_loses_what_is_counted_point_by_point():
    """The chamfer's volume against counting random points with the plainest possible test of inside."""
    chamfered = lower("hexagon", HEXAGON, chamfer="both")
    reach, rng, inside, n = 10.5, random.Random(4014), 0, 100_000
    for _ in range(n):
        x, y, z = rng.uniform(0, 10), rng.uniform(-reach, reach), rng.uniform(-reach, reach)
        flat = all(abs(y * math.cos(a) + z * math.sin(a)) < 9 for a in (0, math.pi / 3, 2 * math.pi / 3))
        cone = min(x, 10 - x) > (math.hypot(y, z) - 0.95 * 9) * math.tan(math.radians(30))
        inside += flat and cone
    counted = inside / n * 10 * (2 * reach) ** 2
    assert volume(body(chamfered)) == pytest.approx(counted, rel=0.01)


def test_a_thread_weighs_as_its_pitch_cylinder():
    """d2 = d - 0.649519 P (ISO 68-1); that the thread weighs as a cylinder of it is common practice, no source."""
    d2 = 12.0 - 0.649519 * 1.75
    assert volume(body(lower("thread", THREAD))) == pytest.approx(math.pi / 4 * d2**2 * 30, rel=1e-9)
    full, tapped = body(lower("hexagon", HEXAGON)), nut(m=10.0)
    assert volume(full) > volume(tapped) > volume(full) - math.pi / 4 * 13**2 * 10


def ball(radius, at=(0.0, 0.0, 0.0)):
    return Turned(
        (*bows((-radius, 0.0), (radius, 0.0), (0.0, 0.0), left=False), Straight(radius, 0.0, -radius, 0.0)), Place(at)
    )


def round_ring(section, radius, place=AXIS, turn=None):
    there = bows((section, radius), (-section, radius), (0.0, radius), left=True)
    return Turned((*there, *bows((-section, radius), (section, radius), (0.0, radius), left=True)), place, turn)


TILTED = Place((1.0, -2.0, 0.5), (0.6, 0.0, 0.8), (0.0, 1.0, 0.0))
LEAVES = {
    "bolt": bolt(),
    "nut": nut(),
    "washer": washer(),
    "ball": ball(4.0, (0.0, 1.0, 2.0)),
    "ring": round_ring(2.0, 6.0),
    "tilted ring": round_ring(2.0, 6.0, TILTED),
    "bend": round_ring(2.0, 6.0, TILTED, (0.3, 2.0)),
    "cone aslant": cone(-5.0, 5.0, 6.0, 1.0, TILTED),
    "key": Extruded(
        (
            *bows((3.0, -1.0), (3.0, 1.0), (3.0, 0.0), left=True),
            *corners([(3.0, 1.0), (-3.0, 1.0), (-3.0, -1.0), (3.0, -1.0)])[:3],
        ),
        -2.0,
        2.0,
        TILTED,
    ),
    "common": Common((ball(5.0), cone(-8.0, 3.0, 8.0, 3.0, TILTED))),
}
SIGHTS = [(0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.6, 0.8), (0.48, 0.6, 0.64)]


@pytest.mark.parametrize("toward", SIGHTS)
@pytest.mark.parametrize("name", sorted(LEAVES))
def test_a_face_lies_between_inside_and_outside(name, toward):
    """Between a point inside and one outside on a ray lies a face that the ray meets: two questions, one body."""
    solid = LEAVES[name]
    box = solid.box if isinstance(solid, Body) else solid.box()
    rng = np.random.default_rng(1)
    points = rng.uniform(*box, size=(4000, 3))
    far = 30.0 * rng.uniform(0.0, 1.0, size=len(points))
    here, there = solid.contains(points), solid.contains(points + far[:, None] * np.array(toward))
    assert here.any() and not here.all()
    roots = solid.roots(points, toward)
    between = ((roots > 0.0) & (roots < far[:, None])).any(axis=1)
    assert between[here != there].all()


@pytest.mark.parametrize("name", sorted(LEAVES))
def test_the_box_holds_everything_and_no_more(name):
    """Random points well around the box: those inside lie in the box, and come close to all its sides."""
    solid = LEAVES[name]
    low, high = map(np.array, solid.box if isinstance(solid, Body) else solid.box())
    points = np.random.default_rng(2).uniform(low - 1.0, high + 1.0, size=(200_000, 3))
    found = points[solid.contains(points)]
    assert (found >= low - 1e-9).all() and (found <= high + 1e-9).all()
    if name != "common":  # the box of an intersection is only an upper bound
        assert (found.min(axis=0) < low + 0.15 * (high - low)).all()
        assert (found.max(axis=0) > high - 0.15 * (high - low)).all()


@pytest.mark.parametrize(
    ("kind", "numbers", "choices", "parameter"),
    [
        ("cylinder", ROUND | {"diameter": -1.0}, {}, "diameter"),
        ("cylinder", ROUND | {"to": 0.0}, {}, "to"),
        ("cylinder", ROUND | {"fillet": 21.0}, {}, "fillet"),
        ("cylinder", ROUND | {"chamfer_length": 6.0}, {"chamfer": "to"}, "chamfer_length"),
        ("hexagon", HEXAGON | {"across_flats": 0.0}, {}, "across_flats"),
        ("hexagon", HEXAGON | {"chamfer_diameter": 19.0}, {"chamfer": "from"}, "chamfer_diameter"),
        ("hexagon", HEXAGON | {"chamfer_diameter": 1.0}, {"chamfer": "both"}, "chamfer_diameter"),
        ("hexagon", HEXAGON | {"chamfer_angle": 90.0}, {"chamfer": "both"}, "chamfer_angle"),
        ("thread", THREAD | {"pitch": 0.0}, {}, "pitch"),
        ("thread", THREAD | {"minor_diameter": 12.0}, {}, "minor_diameter"),
        ("thread", THREAD | {"point_diameter": 13.0}, {}, "point_diameter"),
        ("thread", THREAD | {"to": 0.9, "point_diameter": 10.0}, {}, "point_diameter"),
        ("thread", THREAD | {"from": 30.0}, {}, "to"),
        ("bore", ROUND | {"diameter": 0.0}, {}, "diameter"),
        (
            "tapped_bore",
            THREAD | {"countersink_diameter": 9.0},
            {"countersink": "both"},
            "countersink_diameter",
        ),
        ("tapped_bore", THREAD | {"to": 1.4}, {"countersink": "both"}, "countersink_diameter"),
    ],
)
def test_impossible_numbers_name_their_parameter(kind, numbers, choices, parameter):
    """What makes no shape is refused at the parameter at fault, never drawn wrong."""
    with pytest.raises(Impossible) as refused:
        lower(kind, numbers, **choices)
    assert refused.value.parameter == parameter
    assert refused.value.wrong and refused.value.expected


RING = {"diameter": 8.0, "from": 0.0, "to": 20.0}


@pytest.mark.parametrize(
    ("features", "feature", "words"),
    [
        ([lower("cylinder", ROUND), lower("bore", RING | {"diameter": 10.0}, "hole")], "hole", "is 10 wide"),
        (
            [lower("hexagon", HEXAGON), lower("bore", RING | {"diameter": 18.0, "to": 10.0}, "hole")],
            "hole",
            "is 18 wide",
        ),
        ([lower("cylinder", ROUND), lower("bore", RING | {"to": 21.0}, "hole")], "hole", "runs from 0 to 21"),
        ([lower("cylinder", ROUND), lower("cylinder", ROUND | {"from": 19.0, "to": 30.0}, "b")], "b", "starts at 19"),
        ([lower("cylinder", ROUND), lower("cylinder", ROUND | {"from": 21.0, "to": 30.0}, "b")], "b", "away from"),
        ([lower("bore", RING, "hole")], "hole", "cuts into nothing"),
    ],
)
def test_pieces_that_do_not_fit_together(features, feature, words):
    """A bore wider than its body, an overlap, a gap, a bore beyond the face that it opens in."""
    (misfit,) = misfits_of(body(*features))
    assert misfit.feature == feature and words in misfit.wrong and misfit.expected


@pytest.mark.parametrize("make", [bolt, nut, washer])
def test_sound_bodies_have_no_misfits(make):
    """Bolt, nut and washer as the standards have them."""
    assert not list(misfits_of(make()))


def test_every_feature_kind_explains_itself():
    """Schema and documentation are made of these words."""
    for kind, feature in feature_kinds().items():
        assert kind == feature.KIND and feature.DOC
        assert all(parameter.doc for parameter in feature.PARAMETERS)
