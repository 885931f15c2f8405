"""Views along the axis, base point on it; the same corner is up as in the side view across corners."""

import math

from builder.view.frame import along
from builder.view.kind import ViewKind

KINDS = (
    ViewKind(
        "head end",
        "HEAD",
        "Along the shank, from the head's end.",
        along(-1.0, math.pi / 6.0),
        shows_length=False,
        counts=0,
    ),
    ViewKind(
        "point end",
        "POINT",
        "Along the shank, from the point's end.",
        along(1.0, math.pi / 6.0),
        shows_length=False,
        counts=0,
    ),
    ViewKind(
        "end",
        "END",
        "Along the axis, from the end away from the base point.",
        along(1.0, math.pi / 6.0),
        shows_length=False,
        counts=0,
    ),
)
