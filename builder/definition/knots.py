"""Formulas and knots, read from a file whose schema has been checked."""

from builder.definition.family import KnotSpec
from builder.definition.node import Node
from builder.words.formula import Formula, constant, parse_formula
from builder.words.problems import Problems


def read_formula(node: Node, problems: Problems) -> Formula | None:
    """Read a formula, be it a number, plain text or text in quotes."""
    if node.lines > 1:
        problems.add(node.position, f"formula over {node.lines} lines", "expected it on one line")
        return None
    return parse_formula(node.text, node.inside, problems)


def read_knots(node: Node, problems: Problems) -> tuple[KnotSpec, ...]:
    """Read the knots of an outline."""
    return tuple(_knot(member, problems) for member in node.members)


def _knot(node: Node, problems: Problems) -> KnotSpec:
    """Read [x, y], {corner: [x, y], radius: R} or {arc: [x, y], radius: R}."""
    arc = "arc" in node.entries
    place = node.entries["arc" if arc else "corner"] if node.entries else node
    x, y = (_number(member, problems) for member in place.members)
    radius = _number(node.entries["radius"], problems) if node.entries else None
    return KnotSpec(x, y, radius, arc, node.position)


def _number(node: Node, problems: Problems) -> Formula:
    """Read a formula; 0 stands in for one that cannot be read, so that the others are checked as well."""
    return read_formula(node, problems) or constant(0.0)
