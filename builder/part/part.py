"""Makes a part: evaluates a family's formulas for one size and length and lowers its features to a body."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property

from builder.body.catalogue import feature_kinds
from builder.body.feature import Impossible, Lowered, Parameter, ParameterKind, Values
from builder.body.measure import volume
from builder.body.solid import Body
from builder.body.soundness import misfits_of
from builder.definition.family import Family, FeatureSpec, Row, moving_names
from builder.words.formula import Formula, FormulaFault, order, parse_formula
from builder.words.problems import Position, Problems
from builder.words.units import MM_PER_INCH, Unit, length_text


@dataclass(frozen=True)
class Part:
    """One size (and length) of a family; dimensions and body in the family's unit."""

    family: Family
    row: Row
    length: float | None
    dimensions: Mapping[str, float]
    body: Body

    @cached_property
    def mass(self) -> float:
        """Return the mass in kg: volume of the body times the family's density."""
        cubic_cm = volume(self.body) / 1000.0
        if self.family.units is Unit.INCH:
            cubic_cm *= MM_PER_INCH**3
        return cubic_cm * self.family.density / 1000.0


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


def part_label(family: Family, row: Row, length: float | None) -> str:
    """Name a part in a message: size, and length where it has one."""
    return row.size if length is None else f"{row.size} x {length_text(length, family.units)}"


def dimensions_of(family: Family, row: Row, length: float | None, faults: Faults) -> dict[str, float] | None:
    """Return every symbol's number for one part; None with faults noted where a formula has none."""
    scope = dict(row.values)
    if family.lengths is not None and length is not None:
        scope[family.lengths.symbol] = length
    sound = True
    for name in _formula_order(family):
        formula = family.formulas[name]
        try:
            scope[name] = formula.value(scope)
        except FormulaFault as fault:
            sound = False
            place = formula.position.moved(fault.column)
            faults.add(place, part_label(family, row, length), fault.wrong, fault.expected)
            break
    return scope if sound else None


def dimensions_shown(part: Part, with_length: bool) -> dict[str, float]:
    """Return the dimensions that a view can state: one that does not show the length none that depends on it."""
    family = part.family
    moving = moving_names(family.lengths, family.formulas) if not with_length else frozenset[str]()
    return {name: value for name, value in part.dimensions.items() if name not in moving}


def _formula_order(family: Family) -> tuple[str, ...]:
    known = {*family.symbols, *family.formulas}
    return order(family.formulas, known, Problems())  # the definition station has reported circles


def make_part(family: Family, row: Row, length: float | None, faults: Faults) -> Part | None:
    """Make one part; None with faults noted at the formula or feature parameter that makes no shape."""
    dimensions = dimensions_of(family, row, length, faults)
    if dimensions is None:
        return None
    label = part_label(family, row, length)
    lowered = [_lower(spec, dimensions, label, faults) for spec in family.body]
    _run_checks(family, dimensions, label, faults)
    if any(low is None for low in lowered):
        return None
    sound = [low for low in lowered if low is not None]
    pieces = tuple(piece for low in sound for piece in low.pieces)
    threads = tuple(thread for low in sound for thread in low.threads)
    body = Body(pieces, threads)
    misfits = tuple(misfits_of(body))
    places = {spec.name: spec.position for spec in family.body}
    for misfit in misfits:
        faults.add(places[misfit.feature], f"{label}, {misfit.feature}", misfit.wrong, misfit.expected)
    return None if misfits else Part(family, row, length, dimensions, body)


def _run_checks(family: Family, dimensions: Mapping[str, float], label: str, faults: Faults) -> None:
    for check in family.checks:
        try:
            holds = check.value(dimensions)
        except FormulaFault as fault:
            faults.add(check.position.moved(fault.column), label, fault.wrong, fault.expected)
            continue
        if not holds:
            values = ", ".join(f"{name} = {dimensions[name]:g}" for name in sorted(check.names))
            faults.add(check.position, label, f"check fails with {values}", f"expected {check.text}")


def _lower(spec: FeatureSpec, dimensions: Mapping[str, float], label: str, faults: Faults) -> Lowered | None:
    numbers: dict[str, float] = {}
    choices: dict[str, str] = {}
    for parameter in feature_kinds()[spec.kind].PARAMETERS:
        stated = spec.parameters.get(parameter.name)
        if parameter.kind is ParameterKind.CHOICE:
            choices[parameter.name] = str(stated or parameter.default)
            continue
        formula, scope = (stated, dimensions) if isinstance(stated, Formula) else (_default(parameter), numbers)
        if formula is None:
            continue
        try:
            numbers[parameter.name] = formula.value(scope)
        except FormulaFault as fault:
            place = spec.positions.get(parameter.name, spec.position)
            faults.add(place.moved(fault.column), label, fault.wrong, fault.expected)
            return None
    try:
        return feature_kinds()[spec.kind].lower(Values(spec.name, numbers, choices))
    except Impossible as fault:
        place = spec.positions.get(fault.parameter, spec.position)
        faults.add(place, f"{label}, {spec.name}", fault.wrong, fault.expected)
        return None


@cache
def _default(parameter: Parameter) -> Formula | None:
    if parameter.default is None:
        return None
    return parse_formula(parameter.default, Position("built in"), Problems())
