"""Bodies with features across or off the axis against the solid-modelling kernel, which takes long over them."""

import pytest

pytest.importorskip("OCP", reason="the solid-modelling kernel is not installed")

from kernel import ours
from kernel.booleans import volume
from kernel.parts import ACROSS
from kernel.scene import differences

pytestmark = pytest.mark.kernel
MEASURED = 2e-3  # of a volume: where features share room it is measured by rays, not in closed form


@pytest.mark.parametrize("view", ours.frames())
@pytest.mark.parametrize("name", ACROSS)
def test_a_view_is_the_kernels(name, view):
    found = differences(ACROSS[name], ours.frames()[view])
    assert not found, "\n".join(map(str, found[:8]))


@pytest.mark.parametrize("name", ACROSS)
def test_a_volume_is_the_kernels(name):
    (body,), (solid,) = ACROSS[name].ours, ACROSS[name].kernels
    if not body.threads:  # a thread weighs less than the cylinder through its crests
        assert ours.volume(body) == pytest.approx(volume(solid), rel=MEASURED)
