"""A formula of a definition: its text, where it stands, the names that it needs; and the order of several."""

import math
import re
from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field

from builder.words.arithmetic import compiled
from builder.words.formula_text import FormulaFault
from builder.words.near import suggestion
from builder.words.problems import Position, Problems

__all__ = ["Formula", "FormulaFault", "check_names", "constant", "order", "parse_formula"]


@dataclass(frozen=True, slots=True)
class Formula:
    """A checked formula. It pickles as its text and is compiled once in every process."""

    text: str
    names: frozenset[str]
    position: Position = field(compare=False)

    def value(self, scope: Mapping[str, float]) -> float:
        """Return the number that it stands for, names taken from `scope`; FormulaFault where it has none."""
        result = compiled(self.text).run(scope)
        if math.isfinite(result):
            return result
        raise FormulaFault(f"{self.text} is no finite number", "expected a finite number", 0)

    @property
    def terms(self) -> int:
        """Return how many terms it has: what it costs to work out."""
        return compiled(self.text).terms

    def place(self, name: str) -> Position:
        """Return where a name stands in it for the first time."""
        found = re.search(rf"(?<![A-Za-z0-9_.]){re.escape(name)}\b", self.text)
        return self.position.moved(found.start()) if found else self.position


def constant(number: float) -> Formula:
    """Return the formula that is one number."""
    return Formula(repr(float(number)), frozenset(), Position("built in"))


def parse_formula(text: str, position: Position, problems: Problems) -> Formula | None:
    """Return the formula in a text that begins at a position; None and a problem where it cannot be read."""
    bare = text.lstrip()
    start = position.moved(len(text) - len(bare))
    bare = bare.rstrip()
    try:
        return Formula(bare, compiled(bare).names, start)
    except FormulaFault as fault:
        problems.add(start.moved(fault.column), fault.wrong, fault.expected)
        return None


def check_names(formula: Formula, known: AbstractSet[str], problems: Problems) -> None:
    """Note every name in a formula that is not known, at its place."""
    for name in sorted(formula.names - known):
        expected = f"expected a column, a formula or the length{suggestion(name, known)}"
        problems.add(formula.place(name), f"unknown symbol {name} in a formula", expected)


def order(formulas: Mapping[str, Formula], known: AbstractSet[str], problems: Problems) -> tuple[str, ...]:
    """Return the formulas' names so that each comes after those it needs; note unknown and circular ones."""
    result: list[str] = []
    done: dict[str, bool] = {}  # False while its needs are being followed

    def follow(name: str, trail: tuple[str, ...]) -> None:
        if name in done:
            if not done[name]:
                circle = " -> ".join((*trail[trail.index(name) :], name))
                expected = "expected formulas that do not need their own result"
                problems.add(formulas[trail[-1]].place(name), f"circular formula {circle}", expected)
            return
        done[name] = False
        for need in sorted(formulas[name].names & formulas.keys()):
            follow(need, (*trail, name))
        done[name] = True
        result.append(name)

    for name, formula in formulas.items():
        check_names(formula, known | formulas.keys(), problems)
        follow(name, ())
    return tuple(result)
