"""Builds a library: reads the definitions, plans the blocks, has every family drawn, and puts the result in place."""

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor, as_completed
from dataclasses import dataclass, replace
from pathlib import Path

from builder.block.plan import FamilyPlan, plan
from builder.definition.family import Family
from builder.definition.reader import read_definitions
from builder.definition.shop import Shop
from builder.definition.shop_reader import read_shop
from builder.output.manifest import manifest
from builder.pipeline import job
from builder.pipeline.files import MANIFEST, staged, write
from builder.pipeline.resources import blocks_folder, shops_folder
from builder.words.problems import Problems

Progress = Callable[[str, int], None]  # family, blocks that it brought


@dataclass(frozen=True, slots=True)
class Order:
    """What a build is asked for."""

    shop: str
    definitions: tuple[Path, ...] = ()
    patterns: tuple[str, ...] = ()
    dxf: str | None = None
    out: Path = Path("dist")
    jobs: int = 0  # 0: as many as the machine has cores


@dataclass(frozen=True, slots=True)
class Planned:
    """A build that can start: the shop standard and every family's blocks."""

    shop: Shop
    plans: tuple[FamilyPlan, ...]

    @property
    def count(self) -> int:
        """Return how many blocks there will be."""
        return sum(len(p.blocks) for p in self.plans)


@dataclass(frozen=True, slots=True)
class Built:
    """What a build has made."""

    out: Path
    blocks: int
    families: int


def prepare(order: Order) -> Planned:
    """Read and check everything that a build needs; Rejected with all problems where anything is wrong."""
    problems = Problems()
    shop = read_shop(order.shop, shops_folder(), problems)
    families = read_families(order.definitions, problems)
    problems.raise_any()
    assert shop is not None  # or there was a problem
    shop = replace(shop, dxf=order.dxf) if order.dxf else shop
    plans = plan(families, shop, order.patterns, problems)
    problems.raise_any()
    return Planned(shop, plans)


def read_families(definitions: Sequence[Path], problems: Problems) -> tuple[Family, ...]:
    """Read the shipped definitions and then the shop's own folders, which may refine or replace them."""
    return read_definitions((blocks_folder(), *definitions), problems)


def build(order: Order, planned: Planned, progress: Progress) -> Built:
    """Build a planned library into `order.out`; Rejected, and the old library left whole, where anything fails."""
    with staged(order.out) as stage:
        jobs = [job.Job(family_plan, planned.shop, stage) for family_plan in planned.plans]
        done: dict[str, job.Done] = {}
        problems = Problems()
        for result in _run(jobs, order.jobs or os.cpu_count() or 1):
            done[result.family] = result
            problems.extend(result.problems)
            progress(result.family, len(result.entries))
        problems.raise_any()
        entries = [entry for p in planned.plans for entry in done[p.family.key].entries]
        write(stage / MANIFEST, manifest(entries, planned.shop).encode())
    return Built(order.out, len(entries), len(planned.plans))


def _run(jobs: Sequence[job.Job], workers: int) -> Iterator[job.Done]:
    if workers == 1 or len(jobs) == 1:
        yield from map(job.run, jobs)
        return
    with ProcessPoolExecutor(min(workers, len(jobs))) as executor:
        yield from _run_on(executor, jobs)


def _run_on(executor: Executor, jobs: Sequence[job.Job]) -> Iterator[job.Done]:
    largest_first = sorted(jobs, key=lambda j: -len(j.plan.blocks))
    futures = [executor.submit(job.run, j) for j in largest_first]
    try:
        for future in as_completed(futures):
            yield future.result()
    finally:
        for future in futures:
            future.cancel()
