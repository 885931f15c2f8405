"""Views from beside the axis with the near half cut away and the cut face hatched."""

import math

from builder.view.frame import beside
from builder.view.kind import ViewKind

KINDS = (
    ViewKind(
        "section",
        "SECT",
        "Cut lengthwise through the axis, corner to corner.",
        beside(math.pi / 6.0, cut=True),
        shows_length=True,
        counts=1,
    ),
)
