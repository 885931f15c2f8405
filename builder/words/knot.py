"""A point of an outline as a drafter states it: a corner, sharp or rounded, or the end of an arc."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Knot:
    """One point of an outline, in the part's unit.

    A corner is rounded by `radius`, tangent to both neighbours, where that is not 0. An arc runs here from the
    knot before with radius |radius|; radius > 0 turns left, < 0 right; at most half a circle.
    """

    x: float
    y: float
    radius: float = 0.0
    arc: bool = False
