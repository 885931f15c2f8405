"""Works a family's formulas and checks out for every size, at its shortest and its longest length."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from builder.definition.family import DrawnSpec, FeatureSpec, Lengths, Row
from builder.definition.table import Table
from builder.words.formula import Formula, FormulaFault
from builder.words.problems import Problems

SINGLE = 3  # a check that fails for more sizes than this is reported once


@dataclass(frozen=True, slots=True)
class Case:
    """One size at one length, with every number that is known for it."""

    row: Row
    scope: Mapping[str, float]
    called: str


@dataclass(slots=True)
class Trial:
    """What is tried; finds every fault of a formula once, with the first size that shows it."""

    table: Table
    lengths: Lengths | None
    formulas: Mapping[str, Formula]
    order: tuple[str, ...]
    problems: Problems
    reported: set[object] = field(default_factory=set)

    def cases(self) -> Iterator[Case]:
        """Yield every size at its first and last listed length."""
        for row in self.table.rows:
            if self.lengths is None:
                yield self._case(row, {}, row.size)
                continue
            listed = self.lengths.of(row)
            for length in dict.fromkeys((*listed[:1], *listed[-1:])):
                yield self._case(row, {self.lengths.symbol: length}, f"{row.size} x {length:g}")

    def check(self, checks: tuple[Formula, ...]) -> None:
        """Note every check that does not hold."""
        failed: dict[Formula, dict[str, Case]] = {}
        for case in self.cases():
            for check in checks:
                if check.names <= case.scope.keys() and self.value(check, case) == 0.0:
                    failed.setdefault(check, {}).setdefault(case.row.size, case)
        for check, cases in failed.items():
            shown = list(cases.values())[: SINGLE if len(cases) <= SINGLE else 1]
            for case in shown:
                figures = ", ".join(f"{name} = {case.scope[name]:.7g}" for name in sorted(check.names))
                more = "" if len(cases) <= SINGLE else f" and {len(cases) - 1} more sizes"
                wrong = f"check {check.text} fails for {case.called}{more}: {figures}"
                where = check.position if more else case.row.position
                self.problems.add(where, wrong, "expected figures for which it holds")

    def make(self, specs: Sequence[FeatureSpec | DrawnSpec]) -> None:
        """Note every number of a feature or drawn shape that some size has none for."""
        for case in self.cases():
            for spec in specs:
                for what, formula in spec.formulas():
                    if self.value(formula, case) is None:
                        self._empty(formula, case, what)

    def value(self, formula: Formula, case: Case) -> float | None:
        """Return a formula's number, or None and, unless an empty cell is the reason, a problem."""
        try:
            return formula.value(case.scope)
        except FormulaFault as fault:
            if formula.names <= case.scope.keys() and formula.position not in self.reported:
                self.reported.add(formula.position)
                where = formula.position.moved(fault.column)
                self.problems.add(where, f"{fault.wrong} for {case.called}", fault.expected)
            return None

    def _case(self, row: Row, length: Mapping[str, float], called: str) -> Case:
        scope = {**row.values, **length}
        case = Case(row, scope, called)
        for name in self.order:
            value = self.value(self.formulas[name], case)
            if value is not None:
                scope[name] = value
        return case

    def _empty(self, formula: Formula, case: Case, what: str) -> None:
        for column in sorted(self._needs(formula)):
            where = self.table.empty.get((case.row.size, column))
            if where and where not in self.reported:
                self.reported.add(where)
                wrong = f"no {column} for size {case.row.size}, which {what} needs"
                self.problems.add(where, wrong, "expected a number")

    def _needs(self, formula: Formula) -> set[str]:
        needs: set[str] = set()
        waiting = list(formula.names)
        while waiting:
            name = waiting.pop()
            if name not in needs:
                needs.add(name)
                waiting.extend(self.formulas[name].names if name in self.formulas else ())
        return needs
