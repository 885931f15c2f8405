"""What a library would hold, as rows of text: the families, or the blocks that a pattern picked."""

from collections.abc import Sequence
from dataclasses import dataclass

from builder.block.plan import FamilyPlan
from builder.definition.family import Family
from builder.view.catalogue import view_kinds
from builder.words.units import length_text


@dataclass(frozen=True, slots=True)
class Listing:
    """A table of text: what kind of thing a row is, the headings, the rows."""

    kind: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def families_listed(plans: Sequence[FamilyPlan]) -> Listing:
    """Return one row a family."""
    headings = ("family", "standard", "title", "sizes", "lengths", "blocks")
    return Listing("families", headings, tuple(_family_row(plan) for plan in plans))


def _family_row(plan: FamilyPlan) -> tuple[str, ...]:
    family = plan.family
    sizes = list(dict.fromkeys(block.row.size for block in plan.blocks))
    standard = f"{family.standard.number}:{family.standard.edition}"
    span = f"{sizes[0]} to {sizes[-1]} ({len(sizes)})" if len(sizes) > 1 else sizes[0]
    return family.key, standard, family.title, span, _length_span(plan), str(len(plan.blocks))


def _length_span(plan: FamilyPlan) -> str:
    lengths = sorted({block.length for block in plan.blocks if block.length is not None})
    if not lengths:
        return "-"
    low, high = (length_text(length, plan.family.units) for length in (lengths[0], lengths[-1]))
    return f"{low} to {high} {plan.family.units}"


def blocks_listed(plans: Sequence[FamilyPlan]) -> Listing:
    """Return one row a block."""
    headings = ("block", "family", "size", "length", "view")
    rows = tuple(
        (
            block.name,
            plan.family.key,
            block.row.size,
            _length(plan.family, block.length, block.view.kind),
            block.view.kind,
        )
        for plan in plans
        for block in plan.blocks
    )
    return Listing("blocks", headings, rows)


def _length(family: Family, length: float | None, view: str) -> str:
    return length_text(length, family.units) if length is not None and view_kinds()[view].shows_length else "-"
