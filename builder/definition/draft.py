"""A family in the making: the parts of its file that are sound by the schema, read and checked."""

from collections.abc import Iterable

from builder.body.catalogue import feature_kinds
from builder.definition.bodies import read_bodies, read_features
from builder.definition.drawn import read_drawn, texts_of
from builder.definition.dxf_text import check_text
from builder.definition.family import (
    FILLED_IN,
    BodySpec,
    DrawnSpec,
    Family,
    FeatureSpec,
    Standard,
    ViewSpec,
    moving_names,
)
from builder.definition.node import Node
from builder.definition.pieces import read_checks, read_formulas, read_lengths, read_symbols
from builder.definition.sense import (
    check_designation,
    check_formulas,
    check_lengths,
    check_one_length,
    check_shapes,
    check_symbols,
    check_work,
)
from builder.definition.table import SIZE, Table, read_table
from builder.definition.trial import Trial
from builder.definition.views import check_drawn_views, read_views
from builder.words.formula import Formula, check_names, order
from builder.words.problems import Problems
from builder.words.units import Unit

_FIGURES = frozenset(("table", "lengths", "formulas"))
_SHAPES = frozenset(("body", "bodies", "drawn"))


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
        self.bodies: tuple[BodySpec, ...] = ()
        self.body: tuple[FeatureSpec, ...] = ()
        self.drawn: dict[str, tuple[DrawnSpec, ...]] = {}
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
        if len(self.problems) == self.begun and self._can_work((*self.formulas.values(), *self.checks)):
            self.trial = Trial(self.table, self.lengths, self.formulas, sequence, self.problems)
            self.trial.check(self.checks)

    def check_drawing(self) -> None:
        """Check bodies, drawn shapes and views."""
        check_shapes(self.root, self.problems)
        stated = _SHAPES & self.root.entries.keys()
        if not stated or not stated <= self.parts.keys() or stated >= {"body", "bodies"}:
            return
        before = len(self.problems)
        body, bodies, drawn = (self.parts.get(key) for key in ("body", "bodies", "drawn"))
        self.bodies = read_bodies(body, bodies, self.problems)
        self.body = read_features(body, bodies, feature_kinds(), self.problems)
        self.drawn = read_drawn(drawn, self.problems)
        shapes = (shape for view in self.drawn.values() for shape in view)
        specs: tuple[FeatureSpec | DrawnSpec, ...] = (*self.body, *shapes)
        if self.complete:
            check_formulas(specs, self.table.columns.keys() | self._named().keys(), self.problems)
        formulas = [formula for spec in specs for _, formula in spec.formulas()]
        if self.trial and len(self.problems) == before and self._can_work(formulas):
            self.trial.make(specs)
        if "views" in self.parts:
            names = frozenset(feature.name for feature in self.body)
            self.views = read_views(self.parts["views"], names, self.problems)
            check_drawn_views(self.parts["views"], drawn, bool(self.bodies), self.problems)

    def check_texts(self) -> None:
        """Check what is written on drawings."""
        for key in ("title", "designation", "attributes", "symbols"):
            if key in self.parts:
                check_text(self.parts[key], self.problems)
        if "standard" in self.parts:
            for key in ("number", "edition"):
                check_text(self.parts["standard"].entries[key], self.problems)
        for text in texts_of(self.parts.get("drawn")):
            check_text(text, self.problems)
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
            bodies=self.bodies,
            body=self.body,
            drawn=self.drawn,
            views=self.views,
            designation=self.parts["designation"].text,
            density=(self.parts["density"].number or 0.0) if "density" in self.parts else 0.0,
            attributes={name: node.text for name, node in attributes.items()},
            position=self.root.position,
        )

    def _can_work(self, formulas: Iterable[Formula]) -> bool:
        rows = self.parts["table"].entries["rows"] if "table" in self.parts else self.root
        return check_work(rows, self.table, self.lengths, formulas, self.problems)

    def _named(self) -> dict[str, Node]:
        """Return the names of the formulas and of the length, with their nodes."""
        named = dict(self.parts["formulas"].entries) if "formulas" in self.parts else {}
        if "lengths" in self.parts:
            symbol = self.parts["lengths"].entries["symbol"]
            named[symbol.text] = symbol
        return named
