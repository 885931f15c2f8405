"""Plans a library: which blocks the families make under a shop standard, by name, before anything is drawn."""

import fnmatch
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from builder.block.names import block_name, fault_of
from builder.body.catalogue import feature_kinds
from builder.definition.family import Family, Row, ViewSpec
from builder.definition.shop import Shop, StockLine
from builder.definition.stock import check_stock
from builder.view.catalogue import thread_styles, view_kinds
from builder.words.near import suggestion
from builder.words.problems import Problems


@dataclass(frozen=True, slots=True)
class Planned:
    """One block to be drawn: its name, and which view of which part it is."""

    name: str
    row: Row
    length: float | None  # that of the part drawn; a view that does not show it takes the longest
    view: ViewSpec


@dataclass(frozen=True, slots=True)
class FamilyPlan:
    """A family with the blocks that are wanted of it."""

    family: Family
    blocks: tuple[Planned, ...]


def plan(families: Sequence[Family], shop: Shop, patterns: Sequence[str], problems: Problems) -> tuple[FamilyPlan, ...]:
    """Return what is to be built; bad or clashing names and patterns without a match are problems."""
    check_stock(shop, families, problems)
    stocked = [FamilyPlan(family, tuple(_blocks(family, shop))) for family in families]
    _check_names(stocked, problems)
    _check_patterns(stocked, patterns, problems)
    chosen = [FamilyPlan(p.family, tuple(b for b in p.blocks if _wanted(p.family, b, patterns))) for p in stocked]
    return tuple(p for p in chosen if p.blocks)


def _blocks(family: Family, shop: Shop) -> Iterator[Planned]:
    threaded = any(feature_kinds()[spec.kind].THREADED for spec in family.body)
    code = thread_styles()[shop.thread_style].CODE if threaded else ""
    unit = shop.unit_for(family.units)
    lines = [line for line in shop.stock if line.family == family.key]
    for row in family.rows:
        lengths = family.lengths.of(row) if family.lengths else ()
        kept = _kept(row, lengths, lines) if shop.stock else lengths
        if kept is None or (lengths and not kept):
            continue
        for spec in family.views:
            kind = view_kinds()[spec.kind]
            shown: Iterable[float | None] = kept if kept and kind.shows_length else (lengths[-1] if lengths else None,)
            for length in shown:
                yield Planned(block_name(family, row, length, kind, code, unit), row, length, spec)


def _kept(row: Row, lengths: tuple[float, ...], lines: Sequence[StockLine]) -> tuple[float, ...] | None:
    """Return the lengths of a size that the shop's lines of its family keep; None where they keep no such size."""
    holding = [line for line in lines if not line.sizes or row.size in line.sizes]
    if not holding or any(not line.lengths for line in holding):
        return lengths if holding else None
    kept: set[float] = set()
    for low, high in {span for line in holding for span in line.lengths}:
        kept.update(lengths[bisect_left(lengths, low - 1e-9) : bisect_right(lengths, high + 1e-9)])
    return tuple(sorted(kept))


def _check_names(plans: Sequence[FamilyPlan], problems: Problems) -> None:
    seen: dict[str, Planned] = {}
    for family_plan in plans:
        for block in family_plan.blocks:
            fault = fault_of(block.name)
            if fault:
                problems.add(block.row.position, fault, "expected at most 31 of A-Z 0-9 - _; shorten code or size")
            other = seen.setdefault(block.name.upper(), block)
            if other is not block:
                wrong = f"block name {block.name} is taken at {other.row.position}"
                problems.add(block.row.position, wrong, "expected names unique in the whole library")


def _check_patterns(plans: Sequence[FamilyPlan], patterns: Sequence[str], problems: Problems) -> None:
    for pattern in patterns:
        if not any(_matches(p.family, block, pattern) for p in plans for block in p.blocks):
            words = {
                w for p in plans for w in (p.family.key, p.family.standard.number, *(b.row.size for b in p.blocks))
            }
            expected = f"expected a family, standard, size or block name, * and ? allowed{suggestion(pattern, words)}"
            problems.add("--only", f"nothing matches {pattern!r}", expected)


def _wanted(family: Family, block: Planned, patterns: Sequence[str]) -> bool:
    return not patterns or any(_matches(family, block, pattern) for pattern in patterns)


def _matches(family: Family, block: Planned, pattern: str) -> bool:
    words = (family.key, family.standard.number, block.row.size, block.name)
    return any(fnmatch.fnmatchcase(word.lower(), pattern.lower()) for word in words)
