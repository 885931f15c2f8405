"""A family in the making: the parts of its file that are sound by the schema, read and checked."""

from builder.body.catalogue import feature_kinds
from builder.definition.dxf_text import check_text
from builder.definition.family import FILLED_IN, Family, FeatureSpec, Standard, ViewSpec, moving_names
from builder.definition.node import Node
from builder.definition.pieces import (
    read_body,
    read_checks,
    read_formulas,
    read_lengths,
    read_symbols,
    read_views,
)
from builder.definition.sense import (
    check_body,
    check_designation,
    check_lengths,
    check_one_length,
    check_symbols,
)
from builder.definition.table import SIZE, Table, read_table
from builder.definition.trial import Trial
from builder.words.formula import check_names, order
from builder.words.problems import Problems
from builder.words.units import Unit

_FIGURES = frozenset(("table", "lengths", "formulas"))


class Draft:
    """Reads what can be read; `family` may be asked for only if nothing at all was wrong."""

    def __init__(self, root: Node, faulty: frozenset[str], problems: Problems) -> None:
        self.root = root
        self.problems = problems
        self.parts = {key: node for key, node in root.entries.items() if key not in faulty}
        self.complete = faulty.isdisjoint(_FIGURES)  # so that every name is known
        self.begun = len(problems)
        self.table = read_table(self.parts["table"], problems) if "table" in self.parts else Table({}, (), {})
        self.lengths = read_lengths(self.parts.get("lengths"), problems)
        self.formulas = read_formulas(self.parts.get("formulas"), problems)
        self.checks = read_checks(self.parts.get("checks"), problems)
        self.trial: Trial | None = None
        self.body: tuple[FeatureSpec, ...] = ()
        self.views: tuple[ViewSpec, ...] = ()

    def check_figures(self) -> None:
        """Check table, symbols, lengths, formulas and the table's own arithmetic."""
        if not self.complete:
            return
        named, lengths = self._named(), self.parts.get("lengths")
        if "symbols" in self.parts:
            check_symbols(self.root, self.table, named, self.problems)
        check_one_length(self.parts.get("formulas"), lengths, self.problems)
        if lengths and self.lengths:
            check_lengths(lengths, self.lengths, self.table, self.problems)
        known = self.table.columns.keys() | named.keys()
        sequence = order(self.formulas, known, self.problems)
        for check in self.checks:
            check_names(check, known, self.problems)
            if not check.names:
                wrong = f"check {check.text} is about no figure"
                self.problems.add(check.position, wrong, "expected a comparison, such as k_min <= k")
        if len(self.problems) == self.begun:
            self.trial = Trial(self.table, self.lengths, self.formulas, sequence, self.problems)
            self.trial.check(self.checks)

    def check_drawing(self) -> None:
        """Check features and views."""
        if "body" not in self.parts:
            return
        before = len(self.problems)
        self.body = read_body(self.parts["body"], feature_kinds(), self.problems)
        if self.complete:
            check_body(self.body, self.table.columns.keys() | self._named().keys(), self.problems)
        if self.trial and len(self.problems) == before:
            self.trial.make(self.body)
        if "views" in self.parts:
            names = frozenset(feature.name for feature in self.body)
            self.views = read_views(self.parts["views"], names, self.problems)

    def check_texts(self) -> None:
        """Check what is written on drawings."""
        for key in ("title", "designation", "attributes", "symbols"):
            if key in self.parts:
                check_text(self.parts[key], self.problems)
        if "standard" in self.parts:
            check_text(self.parts["standard"].entries["number"], self.problems)
        for row in self.parts["table"].entries["rows"].members if "table" in self.parts else []:
            for label in row.members[:1]:
                check_text(label, self.problems)
        if "designation" in self.parts and "symbols" in self.parts:
            known = self.parts["symbols"].entries.keys() | {SIZE, *FILLED_IN}
            moving = moving_names(self.lengths, self.formulas)
            check_designation(self.parts["designation"], known, moving, self.problems)

    def family(self) -> Family:
        """Return the family."""
        standard = {key: node.text for key, node in self.parts["standard"].entries.items()}
        attributes = self.parts["attributes"].entries if "attributes" in self.parts else {}
        return Family(
            key=self.parts["family"].text,
            code=self.parts["code"].text,
            title=self.parts["title"].text,
            group=self.parts["group"].text,
            standard=Standard(standard["number"], standard["edition"], standard["source"]),
            units=Unit(self.parts["units"].text),
            symbols=read_symbols(self.parts["symbols"]),
            rows=self.table.rows,
            lengths=self.lengths,
            formulas=self.formulas,
            checks=self.checks,
            body=self.body,
            views=self.views,
            designation=self.parts["designation"].text,
            density=self.parts["density"].number or 0.0,
            attributes={name: node.text for name, node in attributes.items()},
            position=self.root.position,
        )

    def _named(self) -> dict[str, Node]:
        """Return the names of the formulas and of the length, with their nodes."""
        named = dict(self.parts["formulas"].entries) if "formulas" in self.parts else {}
        if "lengths" in self.parts:
            symbol = self.parts["lengths"].entries["symbol"]
            named[symbol.text] = symbol
        return named
