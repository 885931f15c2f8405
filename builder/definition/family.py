"""The values that a definition is read into: a family, its table, formulas, features and views. No reading here."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from builder.words.formula import Formula
from builder.words.problems import Position
from builder.words.units import Unit

FILLED_IN = ("class", "material", "finish")  # what a definition and a shop standard may say of a part in words


class Draws(StrEnum):
    """Which of the standard's limits a column holds, and so what is drawn."""

    NOMINAL = "nominal"
    MAXIMUM = "maximum"
    MINIMUM = "minimum"
    REFERENCE = "reference"


class Measure(StrEnum):
    """What a symbol's number measures; only a length changes with the unit."""

    LENGTH = "length"
    COUNT = "count"
    ANGLE = "angle"


@dataclass(frozen=True, slots=True)
class Standard:
    """Where the table comes from: number ("ISO 4014"), edition ("2011"), source of the figures."""

    number: str
    edition: str
    source: str


@dataclass(frozen=True, slots=True)
class Symbol:
    """One letter of the standard's table, explained once."""

    name: str
    meaning: str
    draws: Draws
    position: Position
    measure: Measure = Measure.LENGTH


@dataclass(frozen=True, slots=True)
class Row:
    """One size: its label ("M12", "1/2-13") and the number in every column, in the family's unit."""

    size: str
    values: Mapping[str, float]
    position: Position


@dataclass(frozen=True, slots=True)
class Lengths:
    """The lengths that the standard lists; each row gives the first and last one in two of its columns."""

    symbol: str
    first: str
    last: str
    listed: tuple[float, ...]

    def of(self, row: Row) -> tuple[float, ...]:
        """Return the listed lengths of one size, both ends included."""
        low, high = row.values[self.first] - 1e-9, row.values[self.last] + 1e-9
        return tuple(length for length in self.listed if low <= length <= high)


def moving_names(lengths: Lengths | None, formulas: Mapping[str, Formula]) -> frozenset[str]:
    """Return the length's symbol and every formula that depends on it, directly or through others."""
    moving = {lengths.symbol} if lengths else set[str]()
    while more := {name for name, formula in formulas.items() if formula.names & moving} - moving:
        moving |= more
    return frozenset(moving)


@dataclass(frozen=True, slots=True)
class FeatureSpec:
    """One piece of the body as the definition states it: kind, the drafter's name for it, its parameters."""

    kind: str
    name: str
    parameters: Mapping[str, "Formula | str"]  # a choice stays text, everything else is a formula
    positions: Mapping[str, Position]
    position: Position


@dataclass(frozen=True, slots=True)
class ViewSpec:
    """A view that the family has; `hidden` names the features whose hidden lines are drawn, None means all."""

    kind: str
    hidden: frozenset[str] | None
    position: Position


@dataclass(frozen=True, slots=True)
class Family:
    """One standard's part in all its sizes, as its definition states it."""

    key: str
    code: str  # stands first in every block name
    title: str
    group: str
    standard: Standard
    units: Unit
    symbols: Mapping[str, Symbol]
    rows: tuple[Row, ...]
    lengths: Lengths | None
    formulas: Mapping[str, Formula]
    checks: tuple[Formula, ...]
    body: tuple[FeatureSpec, ...]
    views: tuple[ViewSpec, ...]
    designation: str
    density: float  # g/cm3
    attributes: Mapping[str, str]  # class, material, finish
    position: Position = field(compare=False)
