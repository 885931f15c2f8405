"""The figures of a family, each read from its part of the file once the schema has found that part sound."""

from collections.abc import Mapping

from builder.definition.family import Draws, Lengths, Measure, Symbol
from builder.definition.knots import read_formula
from builder.definition.node import Node, number_in
from builder.words.formula import Formula
from builder.words.problems import Problems


def read_formulas(node: Node | None, problems: Problems) -> dict[str, Formula]:
    """Read the formulas that have a name."""
    entries = node.entries if node else {}
    read = {name: read_formula(entry, problems) for name, entry in entries.items()}
    return {name: formula for name, formula in read.items() if formula is not None}


def read_checks(node: Node | None, problems: Problems) -> tuple[Formula, ...]:
    """Read the comparisons that must hold."""
    read = [read_formula(member, problems) for member in (node.members if node else [])]
    return tuple(formula for formula in read if formula is not None)


def read_symbols(node: Node) -> dict[str, Symbol]:
    """Read the explanations of the standard's letters."""
    return {
        name: Symbol(name, told["is"].text, Draws(told["draws"].text), entry.named, _measure(told))
        for name, entry in node.entries.items()
        if (told := entry.entries)
    }


def _measure(told: Mapping[str, Node]) -> Measure:
    return Measure(told["measure"].text) if "measure" in told else Measure.LENGTH


def read_lengths(node: Node | None, problems: Problems) -> Lengths | None:
    """Read the listed lengths, which must ascend."""
    if node is None:
        return None
    listed: list[float] = []
    for member in node.entries["listed"].members:
        number = number_in(member, problems)
        if number is None:
            continue
        if number <= 0.0:
            problems.add(member.position, f"length {member.text}", "expected more than 0")
        if listed and number <= listed[-1]:
            problems.add(member.position, f"{member.text} after {listed[-1]:g}", "expected ascending lengths")
        listed.append(number)
    entries = node.entries
    return Lengths(entries["symbol"].text, entries["from"].text, entries["to"].text, tuple(listed))
