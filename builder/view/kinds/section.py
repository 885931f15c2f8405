"""Views from beside the axis with the near half, or the upper near quarter, cut away and the cut face hatched."""

from functools import partial

from builder.view.frame import Cut, beside
from builder.view.kind import ViewKind

KINDS = (
    ViewKind(
        "section",
        "SECT",
        "Cut lengthwise through the axis, corner to corner.",
        partial(beside, cut=Cut.FULL),
        30.0,
        shows_length=True,
        counts=1,
    ),
    ViewKind(
        "half section",
        "HALF",
        "Cut above the axis, uncut below it.",
        partial(beside, cut=Cut.HALF),
        30.0,
        shows_length=True,
        counts=1,
    ),
)
