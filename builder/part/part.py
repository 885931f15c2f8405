"""Makes a part: evaluates a family's formulas for one size and length, lowers its features, works out drawn shapes."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from builder.body.measure import volume
from builder.body.solid import Body
from builder.body.soundness import misfits_of
from builder.definition.family import BodySpec, Family, Row, moving_names
from builder.part.drawn import shapes_of
from builder.part.faults import Faults, Figures, NoNumber
from builder.part.lowering import lower
from builder.words.formula import FormulaFault, order
from builder.words.limits import EXTENT, PIECES
from builder.words.problems import Position, Problems
from builder.words.regions import Region
from builder.words.shapes import Shape
from builder.words.units import MM_PER_INCH, Unit, length_text

__all__ = ["Faults", "Part", "dimensions_of", "dimensions_shown", "make_part", "part_label"]


@dataclass(frozen=True)
class Part:
    """One size (and length) of a family; dimensions, bodies and what views draw directly in the family's unit."""

    family: Family
    row: Row
    length: float | None
    dimensions: Mapping[str, float]
    bodies: tuple[Body, ...]
    drawn: Mapping[str, tuple[Shape | Region, ...]]  # by view kind

    @cached_property
    def mass(self) -> float:
        """Return the mass in kg: volume of the bodies times the family's density."""
        cubic_cm = sum(map(volume, self.bodies)) / 1000.0
        if self.family.units is Unit.INCH:
            cubic_cm *= MM_PER_INCH**3
        return cubic_cm * self.family.density / 1000.0


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
    figures = Figures(dimensions, part_label(family, row, length), faults)
    bodies = [_body(family, spec, figures) for spec in family.bodies]
    drawn = {view: [shapes_of(spec, figures) for spec in specs] for view, specs in family.drawn.items()}
    _run_checks(family, figures)
    sound = tuple(body for body in bodies if body is not None)
    if len(sound) < len(bodies) or any(shapes is None for view in drawn.values() for shapes in view):
        return None
    flat = {view: tuple(shape for shapes in made for shape in shapes or ()) for view, made in drawn.items()}
    return Part(family, row, length, dimensions, sound, flat)


def _body(family: Family, spec: BodySpec, figures: Figures) -> Body | None:
    """Make one body; None with faults noted where its features make no shape or do not fit together."""
    features = [feature for feature in family.body if feature.body == spec.name]
    lowered = [low for feature in features if (low := lower(feature, figures)) is not None]
    if len(lowered) < len(features):
        return None
    body = Body(
        pieces=tuple(piece for low in lowered for piece in low.pieces),
        threads=tuple(thread for low in lowered for thread in low.threads),
        flats=tuple(flat for low in lowered for flat in low.flats),
        axes=tuple(axis for low in lowered for axis in low.axes),
        name=spec.name,
        whole=spec.whole,
    )
    places = {feature.name: feature.position for feature in features}
    if _is_too_much(body, spec, places, figures):
        return None
    misfits = tuple(misfits_of(body))
    for misfit in misfits:
        figures.refuse(places[misfit.feature], misfit.feature, misfit.wrong, misfit.expected)
    return None if misfits else body


def _is_too_much(body: Body, spec: BodySpec, places: Mapping[str, Position], figures: Figures) -> bool:
    """Note a body of more pieces than a view can be found of, or a feature that reaches beyond any part."""
    if len(body.pieces) > PIECES:
        wrong = f"is made of {len(body.pieces)} solids and voids"
        figures.refuse(spec.position, spec.name, wrong, f"expected at most {PIECES}")
        return True
    for piece in body.pieces:
        reach = max(abs(place) for corner in piece.solid.box() for place in corner)
        if not reach <= 2.0 * EXTENT:
            figures.refuse(places[piece.feature], piece.feature, f"reaches to {reach:g}", f"must end before {EXTENT:g}")
            return True
    return False


def _run_checks(family: Family, figures: Figures) -> None:
    for check in family.checks:
        if not check.names <= figures.dimensions.keys():
            continue  # of an empty cell, as the definition's own trial leaves it out
        try:
            holds = figures.number(check)
        except NoNumber:
            continue
        if not holds:
            values = ", ".join(f"{name} = {figures.dimensions[name]:g}" for name in sorted(check.names))
            figures.faults.add(check.position, figures.part, f"check fails with {values}", f"expected {check.text}")
