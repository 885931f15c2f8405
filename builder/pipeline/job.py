"""The unit of work: one volume, drawn and written into the stage. Runs in any process that sees the stage's folder."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from builder.block.block import Block
from builder.block.library import blocks_of
from builder.block.plan import FamilyPlan
from builder.definition.shop import Shop
from builder.output.contact_sheet import contact_sheets
from builder.output.dxf.collection import collection_file
from builder.output.dxf.single import single_file
from builder.output.manifest import entry, paths_of
from builder.output.thumbnail import thumbnails
from builder.pipeline.place import ENTRIES, problem_of, take_over, write
from builder.pipeline.volume import Volume
from builder.words.problems import Problem, Problems


@dataclass(frozen=True, slots=True)
class Job:
    """A volume to build into a folder; files of the sizes in `kept` are those of the old library."""

    volume: Volume
    shop: Shop
    stage: Path
    old: Path
    kept: frozenset[str]


@dataclass(frozen=True, slots=True)
class Done:
    """What a job hands back: the files that stand in the stage with their sizes in bytes, or problems."""

    volume: str
    files: Mapping[str, int]
    renewed: int  # blocks whose own files were written
    problems: tuple[Problem, ...]


def run(job: Job) -> Done:
    """Build one volume; any process may do it."""
    problems = Problems()
    volume = job.volume
    files: dict[str, int] = {}
    renewed = 0
    try:
        blocks = tuple(blocks_of(FamilyPlan(volume.family, volume.blocks), job.shop, problems))
        if not problems:
            renewed = _write_blocks(blocks, job, files)
            _write_overviews(blocks, job, files)
            entries = "".join(f"{entry(block, _collection(volume))}\n" for block in blocks)
            write(job.stage / ENTRIES / volume.key, entries.encode())
    except OSError as error:
        problems.extend([problem_of(error, job.old)])
    return Done(volume.key, files, renewed, tuple(problems))


def _write_blocks(blocks: tuple[Block, ...], job: Job, files: dict[str, int]) -> int:
    """Write or take over every block's own files; return how many blocks were written."""
    renewed = [block for block in blocks if block.size not in job.kept]
    for block in blocks:
        if block.size in job.kept:
            for name in paths_of(block.family, block.name):
                take_over(job.old / name, job.stage / name)
                files[name] = (job.stage / name).stat().st_size
    for block, png in zip(renewed, thumbnails(renewed, job.shop), strict=True):
        dxf, picture = paths_of(block.family, block.name)
        files[dxf] = write(job.stage / dxf, single_file(block, job.shop))
        files[picture] = write(job.stage / picture, png)
    return len(renewed)


def _write_overviews(blocks: tuple[Block, ...], job: Job, files: dict[str, int]) -> None:
    key, family = job.volume.key, job.volume.family
    name = _collection(job.volume)
    files[name] = write(job.stage / name, collection_file(blocks, job.shop))
    standard = family.standard
    title = f"{family.title}, {standard.number}:{standard.edition}"
    for number, sheet in enumerate(contact_sheets(blocks, job.shop, title, standard.source), start=1):
        name = f"index/{key}-{number}.png"
        files[name] = write(job.stage / name, sheet)


def _collection(volume: Volume) -> str:
    return f"collections/{volume.key}.dxf"
