"""What the definitions say of a manifest's blocks, read afresh: dimensions, measures, names."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from builder.definition.family import Family, Row, ViewSpec, moving_names
from builder.definition.family import Measure as Kind
from builder.definition.reader import read_definitions
from builder.part.faults import Faults
from builder.part.looks import Conventions, thread_gap
from builder.part.measures import Stated
from builder.part.part import dimensions_of
from builder.proof.manifest import Entry, Manifest
from builder.words.measures import Measure
from builder.words.problems import Problems
from builder.words.units import MM_PER_INCH, Unit, factor

_NEAR = 1e-8  # dimensions are written to nine decimals


def families_at_hand(places: Sequence[Path], problems: Problems) -> Mapping[str, Family]:
    """Read definitions; empty, with problems, where any is wrong."""
    families = read_definitions(places, problems)
    return {} if problems else {family.key: family for family in families}


class Source:
    """One family's definition, asked about the blocks of a manifest one after the other."""

    def __init__(self, family: Family, manifest: Manifest) -> None:
        self.family, self.manifest = family, manifest
        self.rows: Mapping[str, Row] = {row.size: row for row in family.rows}
        self.views: Mapping[str, ViewSpec] = {spec.kind: spec for spec in family.views}
        self.moving = moving_names(family.lengths, family.formulas)
        self.lengths = {name for name, symbol in family.symbols.items() if symbol.measure is Kind.LENGTH}
        self.last: tuple[tuple[str, float | None], dict[str, float], Stated] | None = None

    def measures(self, entry: Entry) -> tuple[Measure, ...] | None:
        """Return what the view of a block shows by the definition; None where the definition has no such block."""
        spec, stated = self.views.get(str(entry["view"])), self._stated(entry)
        if spec is None or stated is None:
            return None
        shop, units = self.manifest.shop, self.family.units
        gap = thread_gap(
            self.manifest.roles["outline"]["lineweight"],
            shop["plot_scale"],
            MM_PER_INCH if units is Unit.INCH else 1.0,
        )
        conventions = Conventions(shop["thread_style"], gap, shop["hidden_lines"], spec.hidden)
        scale = factor(units, Unit(entry["units"]))
        return tuple(m.scaled(scale) for m in stated[1].measures(spec.kind, spec.roll, conventions))

    def faults(self, entry: Entry) -> Iterator[str]:
        """Yield where a manifest's entry departs from the definition."""
        family, size = self.family, str(entry["size"])
        if size not in self.rows:
            yield f"has the size {size}, which {family.key} has not"
            return
        if entry["view"] not in self.views:
            yield f"shows the view {entry['view']}, which {family.key} has not"
            return
        listed = family.lengths.of(self.rows[size]) if family.lengths else ()
        if entry["length"] is not None and not any(abs(entry["length"] - one) < _NEAR for one in listed):
            yield f"is {entry['length']:g} long, which {family.key} does not list for {size}"
            return
        standard = f"{family.standard.number}:{family.standard.edition}"
        if entry["standard"] != standard:
            yield f"follows {entry['standard']}, the definition {standard}"
        if not str(entry["block"]).startswith(f"{family.code}-"):
            yield f"has a name that does not begin with {family.code}"
        yield from self._dimension_faults(entry)

    def _dimension_faults(self, entry: Entry) -> Iterator[str]:
        stated = self._stated(entry)
        if stated is None:
            yield "has no dimensions by its definition"
            return
        scale = factor(self.family.units, Unit(entry["units"]))
        shown = entry["length"] is not None or self.family.lengths is None
        names = stated[0].keys() - (frozenset() if shown else self.moving)
        if set(entry["dimensions"]) != names:
            yield f"lists other dimensions than its definition: {_few(set(entry['dimensions']) ^ names)}"
        for name in sorted(names & entry["dimensions"].keys()):
            value = stated[0][name] * (scale if name in self.lengths else 1.0)
            if abs(value - entry["dimensions"][name]) > _NEAR:
                yield f"{name} is {entry['dimensions'][name]:.9g}, by the table {value:.9g}"

    def _stated(self, entry: Entry) -> tuple[dict[str, float], Stated] | None:
        """Return dimensions and statements of the part that an entry shows, made once for all of its views."""
        row = self.rows.get(str(entry["size"]))
        if row is None:
            return None
        listed = self.family.lengths.of(row) if self.family.lengths else ()
        length = entry["length"] if entry["length"] is not None else (listed[-1] if listed else None)
        key = row.size, length
        if self.last is None or self.last[0] != key:
            dimensions = dimensions_of(self.family, row, length, Faults())
            if dimensions is None:
                return None
            self.last = key, dimensions, Stated(self.family, dimensions)
        return self.last[1], self.last[2]


def _few(names: set[str]) -> str:
    listed = sorted(names)
    return ", ".join(listed[:6]) + (" and more" if len(listed) > 6 else "")
