"""One part in one view: our drawing and the kernel's, and where they differ."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from OCP.TopoDS import TopoDS_Shape

from builder.body.solid import Body
from builder.view.frame import Frame
from kernel import ours
from kernel.compare import TOLERANCE, Mismatch, mismatches
from kernel.hlr import cut_away, strokes_of
from kernel.solids import Stated, solid_of
from kernel.strokes import Stroke

Features = Sequence[Stated]


@dataclass(frozen=True)
class Part:
    """The bodies of a part as their features state them; those that are drawn whole are not cut in sections."""

    bodies: tuple[Features, ...]
    whole: frozenset[int] = frozenset()

    @cached_property
    def ours(self) -> tuple[Body, ...]:
        """The bodies as we make them."""
        return tuple(ours.body_of(features, n in self.whole) for n, features in enumerate(self.bodies))

    @cached_property
    def kernels(self) -> tuple[TopoDS_Shape, ...]:
        """The bodies as the kernel makes them."""
        return tuple(solid_of(features) for features in self.bodies)

    @cached_property
    def size(self) -> float:
        """The size of the largest body."""
        return max(body.size for body in self.ours)

    @cached_property
    def bow(self) -> float:
        """How far bowed lines may lie apart by convention."""
        return max(ours.bow_of(features) for features in self.bodies)


def single(*features: Stated) -> Part:
    """Return a part of one body."""
    return Part((features,))


def kernel_view(part: Part, frame: Frame) -> list[Stroke]:
    """Return the kernel's drawing; of a section what is seen only, as sections are drawn."""
    sight = ours.sight_of(frame)
    reach = 3.0 * max(abs(value) for body in part.ours for corner in body.box for value in corner)
    solids = [
        cut_away(solid, sight, reach, ours.is_half(frame)) if frame.cuts and n not in part.whole else solid
        for n, solid in enumerate(part.kernels)
    ]
    return strokes_of(solids, sight, hidden=not frame.cuts)


def differences(part: Part, frame: Frame) -> list[Mismatch]:
    """Return where our drawing of a part and the kernel's differ."""
    exempt = ours.exempt_of(frame, TOLERANCE * part.size)
    drawn = ours.drawn(part.ours, frame)
    return mismatches(drawn, kernel_view(part, frame), part.size, exempt=exempt, bowed=part.bow)
