"""Draws planned blocks: part, view, attributes and fingerprint of each, in the unit that the shop wants."""

from collections.abc import Iterator
from itertools import groupby

from builder.block.attributes import LONGEST_TEXT, attribute_texts, attributes_of
from builder.block.block import Block
from builder.block.drawings import Drawings
from builder.block.fingerprint import fingerprint
from builder.block.plan import FamilyPlan, Planned
from builder.definition.family import Family, Measure
from builder.definition.shop import Shop
from builder.part.looks import Conventions, thread_gap
from builder.part.measures import Stated
from builder.part.part import Faults, Part, dimensions_shown
from builder.view.catalogue import view_kinds
from builder.view.drafting import Drafting
from builder.view.kind import ViewKind
from builder.view.view import View
from builder.words.problems import Problems
from builder.words.roles import Role
from builder.words.units import MM_PER_INCH, Unit, factor

LEAST_THREAD_GAP = 0.7  # mm on paper, ISO 6410-1; or two wide lines, whichever is more
HATCH_SPACING = (0.35, 3.0)  # mm on paper; thin sections are nearly filled (common practice, no source)

_NOTHING = "view shows nothing", "expected features that leave some of the body"


def blocks_of(family_plan: FamilyPlan, shop: Shop, problems: Problems) -> Iterator[Block]:
    """Draw the planned blocks of a family in order; parts that cannot be made become problems and are left out."""
    family, faults = family_plan.family, Faults()
    drafting = drafting_for(family, shop)
    for _, group in groupby(family_plan.blocks, key=lambda planned: planned.row.size):
        size = tuple(group)
        drawings = Drawings(family, size[0].row, drafting, {planned.length for planned in size}, faults)
        stated: dict[float | None, Stated] = {}
        for planned in size:
            part = drawings.part(planned.length)
            if part is not None:
                if planned.length not in stated:
                    stated[planned.length] = Stated(family, part.dimensions)
                block = _block(part, drawings.view(part, planned.view), stated[planned.length], planned, shop)
                _check_texts(block, family, faults)
                if block.view.shapes:
                    yield block
                else:
                    faults.add(planned.view.position, block.name, *_NOTHING)
    faults.report(problems)


def _check_texts(block: Block, family: Family, faults: Faults) -> None:
    for attribute in block.attributes:
        if len(attribute.text) > LONGEST_TEXT:
            wrong = f"attribute {attribute.tag} has {len(attribute.text)} characters"
            expected = f"expected at most {LONGEST_TEXT}: shorten the designation, class, material or finish"
            faults.add(family.position, block.name, wrong, expected)
        elif "%%" in attribute.text:  # from parts that each end or begin with one
            expected = "expected no formatting codes: see designation, class and material"
            faults.add(family.position, block.name, f"attribute {attribute.tag} has %% in it", expected)


def _block(part: Part, drawn: View, stated: Stated, planned: Planned, shop: Shop) -> Block:
    family, kind = part.family, view_kinds()[planned.view.kind]
    unit = shop.unit_for(family.units)
    scale = factor(family.units, unit)
    view = View(drawn.kind, tuple(shape.scaled(scale) for shape in drawn.shapes)) if scale != 1.0 else drawn
    conventions = conventions_for(family, shop, planned.view.hidden)
    measures = stated.measures(kind.name, planned.view.roll, conventions)
    texts = attribute_texts(part, kind, shop)
    digest = fingerprint(planned.name, unit, view, texts)
    return Block(
        name=planned.name,
        family=family.key,
        title=family.title,
        standard=texts["STANDARD"],
        size=part.row.size,
        length=part.length if kind.shows_length else None,
        view=view,
        thread=shop.thread_style if any(body.threads for body in part.bodies) else None,
        units=unit,
        designation=texts["DESIGNATION"],
        dimensions=_dimensions(part, kind, unit),
        attributes=attributes_of(texts, shop, digest),
        fingerprint=digest,
        measures=tuple(measure.scaled(scale) for measure in measures),
        unmeasured=stated.unmeasured(kind.name, planned.view.roll),
    )


def _dimensions(part: Part, kind: ViewKind, unit: Unit) -> dict[str, float]:
    known = dimensions_shown(part, kind.shows_length)
    scale = factor(part.family.units, unit)
    scales = {name for name, symbol in part.family.symbols.items() if symbol.measure is Measure.LENGTH}
    return {name: round(value * (scale if name in scales else 1.0), 9) for name, value in known.items()}


def conventions_for(family: Family, shop: Shop, hidden: frozenset[str] | None) -> Conventions:
    """Return what a shop's drafting says of the lines by which a view is measured."""
    per_mm = MM_PER_INCH if family.units is Unit.INCH else 1.0
    gap = thread_gap(shop.roles[Role.OUTLINE].lineweight, shop.plot_scale, per_mm)
    return Conventions(shop.thread_style, gap, shop.hidden_lines, hidden)


def drafting_for(family: Family, shop: Shop) -> Drafting:
    """Turn the shop's lengths on paper into lengths in the family's unit."""
    wide = shop.roles[Role.OUTLINE].lineweight
    return Drafting(
        thread_style=shop.thread_style,
        thread_gap=shop.drawn(max(LEAST_THREAD_GAP, 2.0 * wide), family.units),
        axis_overhang=shop.drawn(shop.axis_overhang, family.units),
        hatch_spacing=(shop.drawn(HATCH_SPACING[0], family.units), shop.drawn(HATCH_SPACING[1], family.units)),
        hidden_lines=shop.hidden_lines,
    )
