"""Runs jobs, here or on an executor of any kind: processes of this machine unless another is handed in."""

import os
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor, as_completed
from multiprocessing import parent_process

from builder.pipeline.job import Done, Job, run


def run_all(jobs: Sequence[Job], workers: int, executor: Executor | None) -> Iterator[Done]:
    """Yield what jobs hand back as they end, in any order; those not begun are dropped when the caller stops."""
    if executor is not None:
        yield from _run_on(executor, jobs)
    elif workers == 1 or len(jobs) <= 1:
        yield from map(run, jobs)
    else:
        with ProcessPoolExecutor(min(workers, len(jobs)), initializer=_end_with_parent) as pool:
            yield from _run_on(pool, jobs)


def _run_on(executor: Executor, jobs: Sequence[Job]) -> Iterator[Done]:
    largest_first = sorted(jobs, key=lambda job: -len(job.volume.blocks))
    futures = [executor.submit(run, job) for job in largest_first]
    try:
        for future in as_completed(futures):
            yield future.result()
    finally:
        for future in futures:
            future.cancel()


def _end_with_parent() -> None:
    """End this worker as soon as the build is gone: it would wait for work for ever, and hold the build's lock."""
    parent = parent_process()
    if parent is not None:
        threading.Thread(target=_wait_for, args=(parent.join,), daemon=True).start()


def _wait_for(end: object) -> None:
    assert callable(end)
    end()
    os._exit(1)
