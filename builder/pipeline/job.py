"""The unit of work: one family, drawn and written into the stage. Runs in any process."""

from dataclasses import dataclass
from pathlib import Path

from builder.block.block import Block
from builder.block.library import blocks_of
from builder.block.plan import FamilyPlan
from builder.definition.shop import Shop
from builder.output.contact_sheet import contact_sheets
from builder.output.dxf.collection import collection_file
from builder.output.dxf.single import single_file
from builder.output.manifest import entry
from builder.output.thumbnail import thumbnail
from builder.pipeline.files import problem_of, write
from builder.words.problems import Problem, Problems


@dataclass(frozen=True, slots=True)
class Job:
    """A family to build into a folder."""

    plan: FamilyPlan
    shop: Shop
    folder: Path


@dataclass(frozen=True, slots=True)
class Done:
    """What a job hands back: its blocks' manifest entries as JSON text, or the problems that it met."""

    family: str
    entries: tuple[str, ...]
    problems: tuple[Problem, ...]


def run(job: Job) -> Done:
    """Build one family."""
    problems = Problems()
    family = job.plan.family
    try:
        blocks = tuple(blocks_of(job.plan, job.shop, problems))
        if not problems:
            _write_outputs(blocks, job)
    except OSError as error:
        problems.extend([problem_of(error, job.folder.parent)])
    return Done(family.key, () if problems else tuple(map(entry, blocks)), tuple(problems))


def _write_outputs(blocks: tuple[Block, ...], job: Job) -> None:
    family, shop, folder = job.plan.family, job.shop, job.folder
    for block in blocks:
        write(folder / "blocks" / family.key / f"{block.name}.dxf", single_file(block, shop))
        write(folder / "thumbnails" / family.key / f"{block.name}.png", thumbnail(block, shop))
    write(folder / "collections" / f"{family.key}.dxf", collection_file(blocks, shop))
    standard = family.standard
    title = f"{family.title}, {standard.number}:{standard.edition}"
    for number, sheet in enumerate(contact_sheets(blocks, shop, title, standard.source), start=1):
        write(folder / "index" / f"{family.key}-{number}.png", sheet)
