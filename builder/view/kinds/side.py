"""Views from beside the axis, base point on it at the bearing plane, +X along the shank."""

import math

from builder.view.frame import Frame, beside
from builder.view.kind import ViewKind


def above(roll: float) -> Frame:
    """Look down on the part as it lies in the side view."""
    return beside(roll - math.pi / 2.0)


def below(roll: float) -> Frame:
    """Look up at the part as it lies in the side view."""
    return beside(roll + math.pi / 2.0)


# A hexagon lies with a face up at roll 0; a twelfth of a turn brings a corner up.
KINDS = (
    ViewKind("side", "SIDE", "From beside the axis.", beside, 0.0, shows_length=True, counts=1),
    ViewKind(
        "side across corners",
        "SIDEC",
        "From beside the axis, the hexagon's full width across corners showing.",
        beside,
        30.0,
        shows_length=True,
        counts=1,
    ),
    ViewKind(
        "side across flats",
        "SIDEF",
        "From beside the axis, the hexagon's width across flats showing.",
        beside,
        0.0,
        shows_length=True,
        counts=1,
    ),
    ViewKind("plan", "PLAN", "From above the side view.", above, 0.0, shows_length=True, counts=0),
    ViewKind("below", "BELOW", "From below the side view.", below, 0.0, shows_length=True, counts=0),
)
