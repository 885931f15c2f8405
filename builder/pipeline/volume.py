"""A volume: as many blocks of a family as one collection holds. A usual family is one; of a very large one a size, or
several, make each. It is the unit of work of a build."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from builder.block.plan import FamilyPlan, Planned
from builder.definition.family import Family
from builder.definition.shop import Shop
from builder.pipeline.digest import digest, tool_digest, value_digest

MOST = 1000  # blocks; more make a collection unwieldy in any editor, and a build's memory grow


@dataclass(frozen=True, slots=True)
class Volume:
    """Some sizes of a family; `number` counts from 1 where the family has several, else it is 0."""

    family: Family
    number: int
    blocks: tuple[Planned, ...]
    recipes: Mapping[str, str]  # by size: digest of all that its blocks depend on

    @property
    def key(self) -> str:
        """Return the name of its files; a family's key has no underscore."""
        return f"{self.family.key}_{self.number}" if self.number else self.family.key


def volumes_of(plan: FamilyPlan, shop: Shop) -> tuple[Volume, ...]:
    """Part a family into volumes, sizes whole."""
    family = plan.family
    common = digest(tool_digest(), value_digest(replace(family, rows=())), value_digest(replace(shop, stock=())))
    slices = tuple(_slices(plan.blocks))
    return tuple(
        Volume(family, number if len(slices) > 1 else 0, blocks, _recipes(blocks, common))
        for number, blocks in enumerate(slices, start=1)
    )


def _slices(blocks: tuple[Planned, ...]) -> Iterator[tuple[Planned, ...]]:
    slice_: list[Planned] = []
    for _, group in groupby(blocks, key=lambda block: block.row.size):
        size = list(group)
        if slice_ and len(slice_) + len(size) > MOST:
            yield tuple(slice_)
            slice_ = []
        slice_ += size
    if slice_:
        yield tuple(slice_)


def _recipes(blocks: tuple[Planned, ...], common: str) -> dict[str, str]:
    sizes = groupby(blocks, key=lambda block: block.row.size)
    return {size: _recipe(tuple(group), common) for size, group in sizes}


def _recipe(blocks: tuple[Planned, ...], common: str) -> str:
    views = [(block.name, block.length, block.view) for block in blocks]
    return digest(common, value_digest(blocks[0].row), value_digest(views))
