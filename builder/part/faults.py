"""What is wrong with parts: one problem for each place in a definition; and numbers, which may be at fault."""

from collections.abc import Mapping
from dataclasses import dataclass

from builder.definition.family import KnotSpec
from builder.words.formula import Formula, FormulaFault
from builder.words.knot import Knot
from builder.words.limits import EXTENT, LEAST
from builder.words.problems import Position, Problems


class Faults:
    """Collects the faults of many parts: one problem for each place in the definition, with the first part it hit."""

    def __init__(self) -> None:
        self._first: dict[Position, tuple[str, str, str]] = {}
        self._hits: dict[Position, set[str]] = {}

    def add(self, position: Position, part: str, wrong: str, expected: str) -> None:
        """Note a fault of one part."""
        self._first.setdefault(position, (part, wrong, expected))
        self._hits.setdefault(position, set()).add(part)

    def report(self, problems: Problems) -> None:
        """Hand the faults on."""
        for position, (part, wrong, expected) in self._first.items():
            others = len(self._hits[position]) - 1
            more = f" (and in {others} more)" if others else ""
            problems.add(position, f"{part}: {wrong}{more}", expected)


class NoNumber(Exception):
    """A formula has no value for a part; the fault has been noted."""


@dataclass(frozen=True, slots=True)
class Figures:
    """The numbers of one part, and where to note what has none."""

    dimensions: Mapping[str, float]
    part: str
    faults: Faults

    def number(self, formula: Formula) -> float:
        """Return a formula's value, rounding about 0 left out; NoNumber where it has none, or one beyond any part."""
        try:
            number = formula.value(self.dimensions)
        except FormulaFault as fault:
            self.faults.add(formula.position.moved(fault.column), self.part, fault.wrong, fault.expected)
            raise NoNumber from None
        if abs(number) > EXTENT:
            wrong = f"{formula.text} is {number:g}" if formula.names else f"a figure of {number:g}"
            self.faults.add(formula.position, self.part, wrong, f"expected at most {EXTENT:g} either way")
            raise NoNumber
        return number if abs(number) >= LEAST else 0.0

    def knots(self, specs: tuple[KnotSpec, ...]) -> tuple[Knot, ...]:
        """Return the knots of an outline; NoNumber where a formula has no value."""
        return tuple(self._knot(spec) for spec in specs)

    def _knot(self, spec: KnotSpec) -> Knot:
        radius = 0.0 if spec.radius is None else self.number(spec.radius)
        return Knot(self.number(spec.x), self.number(spec.y), radius, spec.arc)

    def refuse(self, position: Position, what: str, wrong: str, expected: str) -> None:
        """Note a fault of one of the part's features or shapes."""
        self.faults.add(position, f"{self.part}, {what}", wrong, expected)
