"""Views from beside the axis, base point on it at the bearing plane, +X along the shank."""

import math

from builder.view.frame import beside
from builder.view.kind import ViewKind

# A hexagon lies with a face up at roll 0; a twelfth of a turn brings a corner up.
KINDS = (
    ViewKind("side", "SIDE", "From beside the axis.", beside(), shows_length=True, counts=1),
    ViewKind(
        "side across corners",
        "SIDEC",
        "From beside the axis, the hexagon's full width across corners showing.",
        beside(math.pi / 6.0),
        shows_length=True,
        counts=1,
    ),
    ViewKind(
        "side across flats",
        "SIDEF",
        "From beside the axis, the hexagon's width across flats showing.",
        beside(),
        shows_length=True,
        counts=1,
    ),
)
