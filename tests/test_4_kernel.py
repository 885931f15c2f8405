"""Our views against those of a solid-modelling kernel: every line of one lies on a line of the other, both ways."""

import math
from dataclasses import replace

import numpy as np
import pytest

pytest.importorskip("OCP", reason="the solid-modelling kernel is not installed")

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from kernel import ours
from kernel.booleans import fused, unified, volume
from kernel.compare import mismatches
from kernel.hlr import Sight, strokes_of
from kernel.parts import PARTS
from kernel.scene import differences, kernel_view, single
from kernel.shapes import AXIS, Knot, Place, box, cone, cylinder, extrude, regular, revolve, sphere, torus
from kernel.stacks import stacks
from kernel.strokes import Stroke, length_of

pytestmark = pytest.mark.kernel
MEASURED = 2e-3  # of a volume: where features share room it is measured by rays, not in closed form
CORNERS = ((-2, -2), (2, -2), (2, 2), (-2, 2))
SIDE = Sight((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def report(found):
    return "\n".join(map(str, found[:8]))


@pytest.mark.parametrize("view", ours.frames())
@pytest.mark.parametrize("name", PARTS)
def test_a_view_is_the_kernels(name, view):
    found = differences(PARTS[name], ours.frames()[view])
    assert not found, report(found)


@pytest.mark.parametrize("name", PARTS)
def test_a_volume_is_the_kernels(name):
    for body, solid in zip(PARTS[name].ours, PARTS[name].kernels, strict=True):
        if not body.threads:  # a thread weighs less than the cylinder through its crests
            assert ours.volume(body) == pytest.approx(volume(solid), rel=MEASURED)


@settings(max_examples=60, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))
@given(stacks(), st.sampled_from(sorted(ours.frames())), st.sampled_from((0.0, 15.0, 7.0, 22.5)))
def test_random_stacks(features, view, turn):
    """Whatever is stacked, and from whatever angle it is looked at."""
    part = single(*features)
    assert ours.is_sound(*part.ours)
    found = differences(part, ours.frames(turn)[view])
    assert not found, report(found)


@settings(max_examples=60, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))
@given(stacks())
def test_volumes_of_random_stacks(features):
    part = single(*features)
    if not part.ours[0].threads:
        assert ours.volume(part.ours[0]) == pytest.approx(volume(part.kernels[0]), rel=1e-5)


class TestTheComparison:
    """The comparison finds what it is there to find."""

    def strokes(self):
        part = PARTS["bolt"]
        frame = ours.frames()["side"]
        return part, ours.drawn(part.ours, frame), kernel_view(part, frame)

    def test_a_missing_line(self):
        part, drawn, kernels = self.strokes()
        for n, stroke in enumerate(drawn):
            found = mismatches([*drawn[:n], *drawn[n + 1 :]], kernels, part.size, bowed=part.bow)
            if length_of(stroke.points) > 0.01 * part.size:
                assert found and all(m.whose == "the kernel's" for m in found), stroke

    def test_a_moved_line(self):
        part, drawn, kernels = self.strokes()
        for n, stroke in enumerate(drawn):
            moved = replace(stroke, points=stroke.points + 0.01 * part.size)
            if length_of(stroke.points) > 0.05 * part.size:
                assert mismatches([*drawn[:n], moved, *drawn[n + 1 :]], kernels, part.size, bowed=part.bow), stroke

    def test_a_line_too_many_is_ours(self):
        part, drawn, kernels = self.strokes()
        extra = replace(drawn[0], points=np.array([(5.0, 1.0), (9.0, 2.0)]))
        (found,) = mismatches([*drawn, extra], kernels, part.size, bowed=part.bow)
        assert found.whose == "ours" and found.length == pytest.approx(math.hypot(4.0, 1.0))
        assert "from (5.000, 1.000)" in str(found) and "nothing there" in str(found)

    def test_a_visible_line_drawn_hidden(self):
        part, drawn, kernels = self.strokes()
        for n, stroke in enumerate(drawn):
            if stroke.visible and length_of(stroke.points) > 0.05 * part.size:
                wrong = replace(stroke, visible=False)
                assert mismatches([*drawn[:n], wrong, *drawn[n + 1 :]], kernels, part.size, bowed=part.bow), stroke

    def test_a_hidden_line_drawn_visible(self):
        part, drawn, kernels = PARTS["nut"], *(None, None)
        frame = ours.frames()["side"]
        drawn, kernels = ours.drawn(part.ours, frame), kernel_view(part, frame)
        assert any(not stroke.visible for stroke in drawn)
        seen = [replace(stroke, visible=True) for stroke in drawn]
        assert any("a hidden line there" in str(m) for m in mismatches(seen, kernels, part.size, bowed=part.bow))


class TestTheKernelsShapes:
    """The helpers against closed forms of elementary geometry."""

    TILTED = Place((3.0, -2.0, 1.0), (0.0, 0.6, 0.8), (1.0, 0.0, 0.0))

    @pytest.mark.parametrize("place", [AXIS, TILTED])
    @pytest.mark.parametrize(
        ("make", "expected"),
        [
            (lambda p: cylinder(1.0, 5.0, 2.0, p), math.pi * 16.0),
            (lambda p: cone(0.0, 2.0, 3.0, 0.0, p), math.pi * 4.0),
            (lambda p: sphere(3.0, p.origin), 36.0 * math.pi),
            (lambda p: torus(1.0, 5.0, 2.0, p), 2.0 * math.pi**2 * 20.0),
            (lambda p: box(1.0, 4.0, 2.0, 5.0, p), 30.0),
            (lambda p: extrude(regular(6, 2.0), 0.0, 3.0, p), 6.0 * math.sqrt(3.0)),
            (lambda p: revolve([(0.0, 1.0), (2.0, 1.0), (2.0, 3.0), (0.0, 3.0)], p, 90.0), math.pi * 4.0),
            # a square of 4 with its corners rounded by 1: 16 - (4 - pi)
            (lambda p: extrude([Knot(x, y, 1.0) for x, y in CORNERS], 0.0, 1.0, p), 12.0 + math.pi),
            # a half disc more, or less, at one side of it: a turn to the left bulges
            (lambda p: extrude([*CORNERS[:2], Knot(2, 2, 2, arc=True), CORNERS[3]], 0.0, 1.0, p), 16.0 + math.tau),
            (lambda p: extrude([*CORNERS[:2], Knot(2, 2, -2, arc=True), CORNERS[3]], 0.0, 1.0, p), 16.0 - math.tau),
        ],
    )
    def test_volumes(self, make, expected, place):
        assert volume(make(place)) == pytest.approx(expected, rel=1e-5)

    def test_shapes_stand_where_they_are_put(self):
        """From the side, a box 3 long, 2 high, whose near face is nearest: its outline alone, the far one behind it."""
        strokes = strokes_of([box(1.0, 4.0, 2.0, 5.0)], SIDE)
        seen = np.concatenate([s.points for s in strokes if s.visible])
        assert seen.min(axis=0) == pytest.approx((1.0, -1.0)) and seen.max(axis=0) == pytest.approx((4.0, 1.0))

    def test_flush_solids_and_seams_show_nothing(self):
        """Two flush cylinders are one rectangle from the side, its ends seen edge-on."""
        solid = unified(fused([cylinder(0.0, 3.0, 1.0), cylinder(3.0, 8.0, 1.0)]))
        rectangle = Stroke(np.array([(0.0, -1.0), (8.0, -1.0), (8.0, 1.0), (0.0, 1.0), (0.0, -1.0)]), True)
        assert not mismatches([rectangle], strokes_of([solid], SIDE), 8.0)
