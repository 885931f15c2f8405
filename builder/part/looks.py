"""How each kind of view looks at a part, for what it must show; how it is drawn is for the view station to say."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from builder.body.statement import Vector
from builder.words.roles import Role


@dataclass(frozen=True, slots=True)
class Look:
    """From beside the axis, or along it from its +X end (`end` 1) or -X end (-1); `turn` in degrees about the axis."""

    turn: float
    end: int = 0
    cut: str = ""  # "full" or "half"
    broken: bool = False

    @property
    def ways(self) -> tuple[Vector, Vector]:
        """Return the directions that are right and up on the drawing."""
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return ((0.0, self.end * s, -self.end * c) if self.end else (1.0, 0.0, 0.0)), (0.0, c, s)


# A hexagon lies with a face up at 0 degrees; a twelfth of a turn brings a corner up.
_LOOKS: Mapping[str, Look] = MappingProxyType(
    {
        "side": Look(0.0),
        "side across corners": Look(30.0),
        "side across flats": Look(0.0),
        "plan": Look(0.0),
        "below": Look(0.0),
        "broken side": Look(0.0, broken=True),
        "head end": Look(30.0, end=-1),
        "point end": Look(30.0, end=1),
        "end": Look(30.0, end=1),
        "base end": Look(30.0, end=-1),
        "section": Look(30.0, cut="full"),
        "half section": Look(30.0, cut="half"),
    }
)
_QUARTERS = {"plan": -90.0, "below": 90.0}


def look_of(view: str, roll: float | None) -> Look | None:
    """Return how a view of a kind looks, rolled as a definition states; None for a kind that is not known here."""
    look = _LOOKS.get(view)
    if look is None:
        return None
    turn = (look.turn if roll is None else roll) + _QUARTERS.get(view, 0.0)
    return Look(turn, look.end, look.cut, look.broken)


@dataclass(frozen=True, slots=True)
class Conventions:
    """What a shop's drafting says of lines: thread style, least gap of thread lines in the part's unit, hidden lines.

    `hidden` names the features whose hidden lines a view shows, None all.
    """

    thread_style: str
    thread_gap: float
    hidden_lines: bool
    hidden: frozenset[str] | None = None

    def shows_hidden(self, feature: str) -> bool:
        """Tell whether a feature's hidden lines are drawn."""
        return self.hidden_lines and (self.hidden is None or feature in self.hidden)

    def root(self, major: float, minor: float) -> float:
        """Return the drawn root diameter of an external thread: ISO 6410-1's gap, at most half of the radius."""
        return min(minor, max(major - 2.0 * self.thread_gap, major / 2.0))

    def root_role(self) -> Role:
        """Return the role of a root that is seen."""
        return Role.THREAD if self.thread_style == "iso" else Role.HIDDEN


LEAST_THREAD_GAP = 0.7  # mm on paper, ISO 6410-1; or two wide lines, whichever is more


def thread_gap(wide_line: float, plot_scale: float, per_mm: float) -> float:
    """Return the least gap of thread lines on the drawing: mm on paper over the scale, in units of 1 / per_mm mm."""
    return max(LEAST_THREAD_GAP, 2.0 * wide_line) / plot_scale / per_mm
