"""The names of the views that a family may have; the view station has one file for each."""

VIEW_KINDS: tuple[str, ...] = (
    "side across corners",
    "side across flats",
    "side",
    "plan",
    "below",
    "broken side",
    "head end",
    "point end",
    "end",
    "base end",
    "section",
    "half section",
)
