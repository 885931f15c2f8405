"""A hexagon prism along the axis, a face up: the head of a bolt, a nut."""

from builder.body.feature import Lowered, Values
from builder.body.polygons import HEAD, head, regular
from builder.body.statement import Statement
from builder.body.statement import head as stated_head

KIND = "hexagon"
DOC = "A hexagon prism along the axis, a face up: the head of a bolt, a nut."
THREADED = False
PARAMETERS = HEAD


def lower(values: Values) -> Lowered:
    """Lower to one prism within a contour that the chamfers narrow at the ends."""
    return head(values, regular(6, values["across_flats"]))


def stated(values: Values) -> tuple[Statement, ...]:
    """State faces and chamfers."""
    return stated_head(values, 6)
