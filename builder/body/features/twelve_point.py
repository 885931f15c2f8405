"""A twelve-point head: two hexagons a twelfth of a turn apart."""

from builder.body.feature import Lowered, Values
from builder.body.polygons import HEAD, head, star

KIND = "twelve_point"
DOC = "A twelve-point head: two hexagons a twelfth of a turn apart."
THREADED = False
PARAMETERS = HEAD


def lower(values: Values) -> Lowered:
    """Lower to one prism within a contour that the chamfers narrow at the ends."""
    return head(values, star(12, values["across_flats"]))
