"""A square prism along the axis, a face up: a square head or nut, a square shank."""

from builder.body.feature import Lowered, Values
from builder.body.polygons import HEAD, head, regular

KIND = "square"
DOC = "A square prism along the axis, a face up: a square head or nut, a square shank."
THREADED = False
PARAMETERS = HEAD


def lower(values: Values) -> Lowered:
    """Lower to one prism within a contour that the chamfers narrow at the ends."""
    return head(values, regular(4, values["across_flats"]))
