"""The kernel's solid of a body, from what its features state: kind, numbers, choices, profiles. Knows no builder.

A new feature kind: one function in a module kinds_*.py, from its parameters to the solids that it adds and those that
it cuts, by the meaning of the parameters in the feature's own text, not by how the feature is lowered; and its line in
that module's KINDS.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from OCP.TopoDS import TopoDS_Shape

from kernel import kinds_across, kinds_holes, kinds_stacked, kinds_turned
from kernel.booleans import cut_from, fused, unified
from kernel.kinds_stacked import Choices, Made, Numbers, Profiles


@dataclass(frozen=True, slots=True)
class Stated:
    """A feature as a definition states it, its defaults filled in; angles in degrees."""

    kind: str
    numbers: Numbers
    choices: Choices
    profiles: Profiles = field(default_factory=dict)
    name: str = ""


KINDS: Mapping[str, Callable[[Numbers, Choices, Profiles], Made]] = {
    **kinds_across.KINDS,
    **kinds_holes.KINDS,
    **kinds_stacked.KINDS,
    **kinds_turned.KINDS,
}


def solid_of(features: Iterable[Stated]) -> TopoDS_Shape:
    """Return the body: all that its features add, fused, less all that they cut."""
    added: list[TopoDS_Shape] = []
    cuts: list[TopoDS_Shape] = []
    for feature in features:
        add, cut = KINDS[feature.kind](feature.numbers, feature.choices, feature.profiles)
        added += add
        cuts += cut
    return unified(cut_from(fused(added), cuts))
