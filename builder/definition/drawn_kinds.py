"""The kinds of shapes that a definition draws directly, and what each is stated by: for the schema and the reader."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType


class States(StrEnum):
    """What an entry of a drawn shape holds."""

    NUMBER = "number"
    PLACE = "place"  # [x, y]
    KNOTS = "knots"
    CLOSED = "closed"
    ROLE = "role"
    TEXT = "text"


@dataclass(frozen=True, slots=True)
class DrawnEntry:
    """One entry of a drawn shape; a number with a default may be left out."""

    name: str
    doc: str
    states: States = States.NUMBER
    default: float | None = None

    @property
    def required(self) -> bool:
        """Tell whether it must be stated."""
        return self.default is None and self.states not in (States.ROLE, States.CLOSED)


@dataclass(frozen=True, slots=True)
class DrawnKind:
    """A kind of drawn shape."""

    doc: str
    entries: tuple[DrawnEntry, ...]


def axes_of(place: str) -> tuple[str, str]:
    """Return what the two numbers of a place are called among a shape's numbers."""
    return f"{place} x", f"{place} y"


_ROLE = DrawnEntry("role", "What the line is for. Default: outline.", States.ROLE)
_CENTRE = DrawnEntry("centre", "Centre, [x, y].", States.PLACE)
_RADIUS = DrawnEntry("radius", "Radius, more than 0.")
_KNOTS = DrawnEntry("knots", "Corners and arcs along the way.", States.KNOTS)

DRAWN_KINDS: Mapping[str, DrawnKind] = MappingProxyType(
    {
        "line": DrawnKind(
            "A straight line.",
            (
                DrawnEntry("from", "Start, [x, y].", States.PLACE),
                DrawnEntry("to", "End, [x, y].", States.PLACE),
                _ROLE,
            ),
        ),
        "polyline": DrawnKind(
            "Lines and arcs from knot to knot.",
            (
                _KNOTS,
                DrawnEntry("closed", "Whether it runs back to its first knot. Default: false.", States.CLOSED),
                _ROLE,
            ),
        ),
        "arc": DrawnKind(
            "A circular arc, counter-clockwise.",
            (
                _CENTRE,
                _RADIUS,
                DrawnEntry("start", "Angle of its start, degrees from +x."),
                DrawnEntry("end", "Angle of its end, degrees from +x."),
                _ROLE,
            ),
        ),
        "circle": DrawnKind("A circle.", (_CENTRE, _RADIUS, _ROLE)),
        "ellipse": DrawnKind(
            "An ellipse, or an arc of one, counter-clockwise.",
            (
                _CENTRE,
                DrawnEntry("major", "From the centre to one end of the major axis, [dx, dy].", States.PLACE),
                DrawnEntry("ratio", "Minor over major axis, at most 1."),
                DrawnEntry("start", "Where it starts, degrees as on a circle pressed flat. Default: 0.", default=0.0),
                DrawnEntry("end", "Where it ends. Default: 360.", default=360.0),
                _ROLE,
            ),
        ),
        "text": DrawnKind(
            "One line of text.",
            (
                DrawnEntry("at", "Where its baseline starts, [x, y].", States.PLACE),
                DrawnEntry("height", "Height of a capital letter."),
                DrawnEntry("text", "What it says.", States.TEXT),
            ),
        ),
        "region": DrawnKind(
            "A hatched area and its outline.",
            (_KNOTS, DrawnEntry("angle", "Angle of its hatching, degrees from +x. Default: 45.", default=45.0)),
        ),
    }
)
