"""An octagon prism along the axis, a face up."""

from builder.body.feature import Lowered, Values
from builder.body.polygons import HEAD, head, regular

KIND = "octagon"
DOC = "An octagon prism along the axis, a face up."
THREADED = False
PARAMETERS = HEAD


def lower(values: Values) -> Lowered:
    """Lower to one prism within a contour that the chamfers narrow at the ends."""
    return head(values, regular(8, values["across_flats"]))
