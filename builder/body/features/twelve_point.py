"""A twelve-point head: two hexagons a twelfth of a turn apart."""

from builder.body.feature import Lowered, Values
from builder.body.polygons import HEAD, head, star
from builder.body.statement import Statement
from builder.body.statement import head as stated_head

KIND = "twelve_point"
DOC = "A twelve-point head: two hexagons a twelfth of a turn apart."
THREADED = False
PARAMETERS = HEAD


def lower(values: Values) -> Lowered:
    """Lower to one prism within a contour that the chamfers narrow at the ends."""
    return head(values, star(12, values["across_flats"]))


def stated(values: Values) -> tuple[Statement, ...]:
    """State faces and chamfers."""
    return stated_head(values, 12)
