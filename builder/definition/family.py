"""The values that a definition is read into: a family, its table, formulas, bodies and views. No reading here."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from builder.words.formula import Formula
from builder.words.problems import Position
from builder.words.roles import Role
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
        return self.listed[bisect_left(self.listed, low) : bisect_right(self.listed, high)]


def moving_names(lengths: Lengths | None, formulas: Mapping[str, Formula]) -> frozenset[str]:
    """Return the length's symbol and every formula that depends on it, directly or through others."""
    moving = {lengths.symbol} if lengths else set[str]()
    while more := {name for name, formula in formulas.items() if formula.names & moving} - moving:
        moving |= more
    return frozenset(moving)


@dataclass(frozen=True, slots=True)
class KnotSpec:
    """One knot of an outline: a corner, rounded where it has a radius, or the end of an arc of that radius."""

    x: Formula
    y: Formula
    radius: Formula | None
    arc: bool
    position: Position

    @property
    def formulas(self) -> tuple[Formula, ...]:
        """Return its numbers."""
        return (self.x, self.y) if self.radius is None else (self.x, self.y, self.radius)


@dataclass(frozen=True, slots=True)
class BodySpec:
    """One body of the part: its name, and whether a section draws it uncut."""

    name: str
    whole: bool
    position: Position


SINGLE_BODY = "body"  # what a family's only body is called


@dataclass(frozen=True, slots=True)
class FeatureSpec:
    """One piece of a body as the definition states it: kind, the drafter's name for it, its parameters."""

    kind: str
    name: str
    parameters: Mapping[str, "Formula | str | tuple[KnotSpec, ...]"]  # a choice stays text, a profile is knots
    positions: Mapping[str, Position]
    position: Position
    body: str = SINGLE_BODY

    def formulas(self) -> Iterator[tuple[str, Formula]]:
        """Yield what each of its formulas is, in words, and the formula."""
        for name, stated in self.parameters.items():
            if isinstance(stated, Formula):
                yield f"{name} of {self.name}", stated
            elif isinstance(stated, tuple):
                yield from ((f"{name} of {self.name}", formula) for knot in stated for formula in knot.formulas)


@dataclass(frozen=True, slots=True)
class DrawnSpec:
    """A shape that a view shows as it stands: its kind, numbers by name ("radius", "centre x"), knots, role, text."""

    kind: str
    numbers: Mapping[str, Formula]
    knots: tuple[KnotSpec, ...]
    closed: bool
    role: Role
    text: str
    positions: Mapping[str, Position]
    position: Position

    def formulas(self) -> Iterator[tuple[str, Formula]]:
        """Yield what each of its formulas is, in words, and the formula."""
        yield from ((f"{name} of {self.kind}", formula) for name, formula in self.numbers.items())
        yield from ((f"a knot of {self.kind}", formula) for knot in self.knots for formula in knot.formulas)


@dataclass(frozen=True, slots=True)
class ViewSpec:
    """A view that the family has.

    `hidden` names the features whose hidden lines are drawn, None means all; `roll` is in degrees about the axis,
    None the view kind's own.
    """

    kind: str
    hidden: frozenset[str] | None
    position: Position
    roll: float | None = None


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
    bodies: tuple[BodySpec, ...]
    body: tuple[FeatureSpec, ...]  # of all bodies
    drawn: Mapping[str, tuple[DrawnSpec, ...]]  # by view kind
    views: tuple[ViewSpec, ...]
    designation: str
    density: float  # g/cm3; 0 where there is no body
    attributes: Mapping[str, str]  # class, material, finish
    position: Position = field(compare=False)
