"""Reads and checks what a build needs, and plans its blocks; nothing is drawn yet."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from builder.block.plan import FamilyPlan, plan
from builder.definition.family import Family
from builder.definition.reader import read_definitions
from builder.definition.shop import Shop
from builder.definition.shop_reader import read_shop
from builder.pipeline.digest import order_digest
from builder.pipeline.order import Order
from builder.pipeline.resources import blocks_folder, shops_folder
from builder.words.problems import Problems


@dataclass(frozen=True, slots=True)
class Planned:
    """A build that can start: the shop standard and every family's blocks."""

    shop: Shop
    plans: tuple[FamilyPlan, ...]
    order: str  # digest of all that the order depends on, taken before anything was read

    @property
    def count(self) -> int:
        """Return how many blocks there will be."""
        return sum(len(p.blocks) for p in self.plans)


def prepare(order: Order) -> Planned:
    """Read and check everything that a build needs; Rejected with all problems where anything is wrong."""
    problems = Problems()
    before = _digest_of(order)
    shop = read_shop(order.shop, shops_folder(), problems)
    families = read_families(order.definitions, problems)
    problems.raise_any()
    assert shop is not None  # or there was a problem
    shop = replace(shop, dxf=order.dxf) if order.dxf else shop
    plans = plan(families, shop, order.patterns, problems)
    problems.raise_any()
    return Planned(shop, plans, before)


def _digest_of(order: Order) -> str:
    try:
        return order_digest(order)
    except OSError:  # which reading will report
        return ""


def read_families(definitions: Sequence[Path], problems: Problems) -> tuple[Family, ...]:
    """Read the shipped definitions and then the shop's own folders, which may refine or replace them."""
    return read_definitions((blocks_folder(), *definitions), problems)
