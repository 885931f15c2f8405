"""A square prism along the axis, a face up: a square head or nut, a square shank."""

from builder.body.feature import Lowered, Values
from builder.body.polygons import HEAD, head, regular
from builder.body.statement import Statement
from builder.body.statement import head as stated_head

KIND = "square"
DOC = "A square prism along the axis, a face up: a square head or nut, a square shank."
THREADED = False
PARAMETERS = HEAD


def lower(values: Values) -> Lowered:
    """Lower to one prism within a contour that the chamfers narrow at the ends."""
    return head(values, regular(4, values["across_flats"]))


def stated(values: Values) -> tuple[Statement, ...]:
    """State faces and chamfers."""
    return stated_head(values, 4)
