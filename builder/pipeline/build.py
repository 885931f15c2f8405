"""Builds a library: reads the definitions, plans the blocks, has every volume drawn, and puts the result in place.

What an earlier build of the same folder has made from the same is taken over from there.
"""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from pathlib import Path

from builder.output.manifest import manifest_parts
from builder.pipeline.job import Done, Job
from builder.pipeline.old import Old
from builder.pipeline.order import Built, Order
from builder.pipeline.place import ENTRIES, MANIFEST, RECORD, staged, write
from builder.pipeline.prepare import Planned
from builder.pipeline.record import Made, Record
from builder.pipeline.volume import Volume, volumes_of
from builder.pipeline.workers import run_all
from builder.words.problems import Problems

Progress = Callable[[str, int], None]  # family, blocks that it brought


def build(order: Order, planned: Planned, progress: Progress, executor: Executor | None = None) -> Built:
    """Build a planned library into `order.out`; Rejected, and the old library left whole, where anything fails.

    An executor handed in must run its work where the folder beside `order.out` can be written under the same path.
    """
    volumes = [volume for p in planned.plans for volume in volumes_of(p, planned.shop)]
    with staged(order.out) as stage:
        old = Old(order.out.resolve())
        done: dict[str, Done] = {}
        jobs: list[Job] = []
        for volume in volumes:
            if old.has(volume):
                done[volume.key] = old.taken_over(volume, stage)
                progress(volume.family.key, len(volume.blocks))
            else:
                jobs.append(Job(volume, planned.shop, stage, old.out, old.kept(volume)))
        old.copy_entries([volume for volume in volumes if volume.key in done], stage)
        problems = Problems()
        counts = {volume.key: (volume.family.key, len(volume.blocks)) for volume in volumes}
        for result in run_all(jobs, order.jobs or os.cpu_count() or 1, executor):
            done[result.volume] = result
            problems.extend(result.problems)
            progress(*counts[result.volume])
        problems.raise_any()
        _finish(planned, volumes, done, stage)
    return Built(order.out, planned.count, len(planned.plans), sum(result.renewed for result in done.values()))


def _finish(planned: Planned, volumes: Sequence[Volume], done: dict[str, Done], stage: Path) -> None:
    """Write the manifest from its parts, and the record last."""
    sheets = [name for volume in volumes for name in _sheets(done[volume.key])]
    head, tail = manifest_parts(planned.shop, sheets)
    with (stage / MANIFEST).open("wb") as file:
        file.write(head.encode())
        between = b""
        for volume in volumes:
            part = stage / ENTRIES / volume.key
            file.write(between + part.read_bytes().rstrip(b"\n").replace(b"\n", b",\n"))
            part.unlink()
            between = b",\n"
        file.write(tail.encode())
        size = file.tell()
    (stage / ENTRIES).rmdir()
    made = {v.key: Made(dict(v.recipes), dict(sorted(done[v.key].files.items())), len(v.blocks)) for v in volumes}
    record = Record(planned.order, len(planned.plans), size, made)
    write(stage / RECORD, record.text().encode())


def _sheets(done: Done) -> list[str]:
    """Return the contact sheets of a volume by their numbers."""
    return sorted((name for name in done.files if name.startswith("index/")), key=lambda name: (len(name), name))
