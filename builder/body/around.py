"""Features that repeat evenly round the axis: how many, and where the first one looks."""

import math

from builder.body.feature import Impossible, Parameter, Values
from builder.words.limits import COUNT


def direction(name: str) -> Parameter:
    """Return the parameter for the direction square to the axis in which a feature looks."""
    return Parameter(name, "Direction square to the axis in which it looks: degrees from up.", False, "0")


def row(count: str, first: str, default: str | None = None) -> tuple[Parameter, Parameter]:
    """Return the two parameters of an even row round the axis, with what they mean to the feature."""
    return (
        Parameter("count", count, required=default is None, default=default, most=COUNT),
        Parameter("first", first, required=False, default="0"),
    )


def whole_count(values: Values) -> int:
    """Return how many there are; raise Impossible unless that is a whole number from 1."""
    count = values["count"]
    if count < 1.0 or count != round(count):
        raise Impossible("count", f"count is {count:g}", "must be a whole number, at least 1")
    return round(count)


def directions(values: Values) -> list[float]:
    """Return the angles at which they stand, radians from up."""
    count = whole_count(values)
    return [math.radians(values["first"] + 360.0 * n / count) for n in range(count)]
