"""Whether the pieces of a family make sense together. Every check notes what it finds and goes on."""

import re
from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from keyword import iskeyword

from builder.definition.family import FILLED_IN, DrawnSpec, FeatureSpec, Lengths
from builder.definition.node import Node
from builder.definition.table import SIZE, Table
from builder.words.arithmetic import FUNCTIONS
from builder.words.formula import Formula, check_names
from builder.words.limits import PARTS, WORK
from builder.words.near import suggestion
from builder.words.problems import Problems

_TOKEN = re.compile(r"\{([^{}]*)\}|[{}\[\]]")


def check_symbols(root: Node, table: Table, names: Mapping[str, Node], problems: Problems) -> None:
    """Every column, formula and length has its symbol; every symbol is one of them; no name means two things.

    `names` are the formulas' and the length's names with their nodes.
    """
    symbols = root.entries["symbols"].entries
    for name, entry in symbols.items():
        if name not in table.columns and name not in names:
            expected = "expected a column, formula or length with this name, or no symbol"
            problems.add(entry.named, f"symbol {name} is used nowhere", expected)
        if iskeyword(name) or name in FUNCTIONS or name in (SIZE, *FILLED_IN):
            problems.add(entry.named, f"symbol {name} has a meaning of its own", "expected another name")
    places = {**{name: node.named for name, node in names.items()}, **table.columns}
    for name, place in places.items():
        if name not in symbols:
            expected = f"expected an entry for it under symbols{suggestion(name, symbols)}"
            problems.add(place, f"{name} is not explained", expected)
    for name, node in names.items():
        if name in table.columns:
            problems.add(node.named, f"{name} is a column already", "expected one source for every number")


def check_one_length(formulas: Node | None, lengths: Node | None, problems: Problems) -> None:
    """The length is no formula as well."""
    if formulas and lengths and (entry := formulas.entries.get(lengths.entries["symbol"].text)):
        problems.add(entry.named, "the length has a formula", "expected it to be taken from listed alone")


def check_lengths(node: Node, lengths: Lengths, table: Table, problems: Problems) -> None:
    """First and last length are columns, and every size has a listed length between them."""
    columns = (lengths.first, lengths.last)
    for key, column in zip(("from", "to"), columns, strict=True):
        if column not in table.columns:
            expected = f"expected a column of the table{suggestion(column, table.columns)}"
            problems.add(node.entries[key].position, f"unknown column {column}", expected)
    for row in table.rows:
        empty = [column for column in columns if (row.size, column) in table.empty]
        for column in empty:
            where = table.empty[row.size, column]
            problems.add(where, f"size {row.size} has no {column}", "expected the end of its lengths")
        if all(column in row.values for column in columns) and not lengths.of(row):
            low, high = row.values[lengths.first], row.values[lengths.last]
            wrong = f"size {row.size} has no listed length between {low:g} and {high:g}"
            problems.add(row.position, wrong, "expected at least one in lengths: listed")


def check_work(
    node: Node, table: Table, lengths: Lengths | None, formulas: Iterable[Formula], problems: Problems
) -> bool:
    """Tell whether all parts can be worked out in good time; note it where not. `node` is that of the rows."""
    parts = sum(len(lengths.of(row)) for row in table.rows) if lengths else len(table.rows)
    terms = sum(formula.terms for formula in formulas)
    if parts > PARTS:
        problems.add(node.named, f"{parts} parts, size by size and length by length", f"expected at most {PARTS}")
    elif parts * terms > WORK:
        wrong = f"{parts} parts, each with formulas of {terms} terms"
        problems.add(node.named, wrong, f"expected at most {WORK} terms in all: fewer sizes, lengths or formulas")
    return parts <= PARTS and parts * terms <= WORK


def check_shapes(root: Node, problems: Problems) -> None:
    """There is something to show, and one way of stating the body."""
    shapes, body, bodies = {"body", "bodies", "drawn"}, root.entries.get("body"), root.entries.get("bodies")
    if shapes.isdisjoint(root.entries):
        expected = "expected body: features along the axis; or bodies, or drawn"
        problems.add(root.named, "body is missing", expected)
    if body is not None and bodies is not None:
        line = min(body.named, bodies.named).line
        expected = f"expected body: for one or bodies: for several, see line {line}"
        problems.add(max(body.named, bodies.named), "both body and bodies", expected)
    if "density" not in root.entries and not {"body", "bodies"}.isdisjoint(root.entries):
        problems.add(root.named, "density is missing", "expected density: density of the material, g/cm3, for the mass")


def check_formulas(specs: Iterable[FeatureSpec | DrawnSpec], known: AbstractSet[str], problems: Problems) -> None:
    """Features and drawn shapes use known names only."""
    for spec in specs:
        for _, formula in spec.formulas():
            check_names(formula, known, problems)


def check_designation(node: Node, known: AbstractSet[str], moving: AbstractSet[str], problems: Problems) -> None:
    """Braces hold known names, those that change with the length in brackets; brackets are closed and not nested."""
    opened = -1
    for token in _TOKEN.finditer(node.text):
        where = node.inside.moved(token.start()) if node.lines == 1 else node.position
        if (name := token[1]) is not None:
            if name not in known:
                expected = f"expected size, a symbol or {', '.join(FILLED_IN)}{suggestion(name, known)}"
                problems.add(where, f"unknown name {{{name}}} in the designation", expected)
            elif name in moving and opened < 0:
                expected = f"expected it in brackets, [ x {{{name}}}], to fall away where a view shows no length"
                problems.add(where, f"{{{name}}} changes with the length", expected)
        elif token[0] == "[" and opened < 0:
            opened = token.start()
        elif token[0] == "]" and opened >= 0:
            opened = -1
        else:
            expected = "expected {name}, and [..] not inside one another"
            problems.add(where, f"stray {token[0]} in the designation", expected)
    if opened >= 0:
        problems.add(node.inside.moved(opened), "[ is never closed in the designation", "expected a ]")
