"""A measure: one dimension of a part as a view shows it, stated so that any program can look for it in the drawing."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from builder.words.roles import Role


class Shown(StrEnum):
    """How a drawing shows a measure; the axis lies along x, or at 0,0 in an end view."""

    ACROSS = "across"  # two lines along the axis, `value` apart, evenly about it, from start to end
    FACE = "face"  # a line across the axis at x = value, covering both sides between two diameters
    SLANT = "slant"  # two lines from one diameter at the start to another at the end; value: degrees to the axis
    ARC = "arc"  # arcs of radius `value` with centres at x = start, evenly about the axis, `across` apart
    HOLE = "hole"  # a circle of diameter `value` with its centre on the axis at x = start
    CIRCLE = "circle"  # a circle of diameter `value` about 0,0, or an arc that turns by `turn` degrees
    FLATS = "flats"  # `count` straight sides, `value` across; one looks in the direction `turn`, degrees from up
    PATTERN = "pattern"  # `count` circles of diameter `value` on the circle `across`, the first at `turn`
    PITCH = "pitch"  # corners of an outline on the diameter `across`, `value` apart, from start to end
    LEFT = "left"  # the least x of all but axes, hatching and text
    RIGHT = "right"
    BOTTOM = "bottom"
    TOP = "top"


DEGREES = frozenset({Shown.SLANT})


@dataclass(frozen=True, slots=True)
class Measure:
    """One dimension that a view shows: of which feature, which parameter, the definition's symbol where it is one."""

    feature: str
    name: str
    symbol: str
    value: float
    shown: Shown
    roles: tuple[Role, ...] = ()  # in any of these it may be drawn
    start: float | None = None
    end: float | None = None
    across: tuple[float, ...] = ()
    count: int = 0
    turn: float = 0.0
    half: bool = False  # above the axis only

    def scaled(self, by: float) -> "Measure":
        """Return it in another unit; degrees and counts stay."""
        value = self.value if self.shown in DEGREES else self.value * by
        return Measure(
            self.feature,
            self.name,
            self.symbol,
            round(value, 9) + 0.0,
            self.shown,
            self.roles,
            None if self.start is None else round(self.start * by, 9) + 0.0,
            None if self.end is None else round(self.end * by, 9) + 0.0,
            tuple(round(d * by, 9) for d in self.across),
            self.count,
            round(self.turn, 9) + 0.0,
            self.half,
        )

    def facts(self) -> dict[str, object]:
        """Return it as plain values under the manifest's names; what does not apply is left out."""
        stated: dict[str, object] = {
            "feature": self.feature,
            "name": self.name,
            "symbol": self.symbol,
            "value": self.value,
            "shown": str(self.shown),
            "roles": [str(role) for role in self.roles],
            "from": self.start,
            "to": self.end,
            "across": list(self.across),
            "count": self.count,
            "turn": self.turn,
            "half": self.half,
        }
        always = {"name", "value", "shown"}
        return {
            name: fact for name, fact in stated.items() if name in always or not (fact is None or _empty(name, fact))
        }


def _empty(name: str, fact: object) -> bool:
    return not fact and name not in ("from", "to")  # a place may be 0


def measure_of(facts: Mapping[str, object]) -> Measure:
    """Return the measure that facts of a manifest state; ValueError, TypeError or KeyError where they state none."""

    def number(name: str) -> float | None:
        found = facts.get(name)
        if found is None or (isinstance(found, int | float) and not isinstance(found, bool)):
            return None if found is None else float(found)
        raise TypeError(f"{name} is no number")

    roles, across, value = facts.get("roles", []), facts.get("across", []), number("value")
    if not isinstance(roles, list) or not isinstance(across, list) or value is None:
        raise TypeError("no measure")
    return Measure(
        str(facts.get("feature", "")),
        str(facts["name"]),
        str(facts.get("symbol", "")),
        value,
        Shown(str(facts["shown"])),
        tuple(Role(role) for role in roles),
        number("from"),
        number("to"),
        tuple(float(d) for d in across),
        int(number("count") or 0),
        number("turn") or 0.0,
        bool(facts.get("half", False)),
    )
