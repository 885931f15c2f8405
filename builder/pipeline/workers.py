"""Runs jobs, here or on an executor of any kind: processes of this machine unless another is handed in."""

import os
import signal
import threading
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import BrokenExecutor, Executor, ProcessPoolExecutor, as_completed
from multiprocessing import parent_process

from builder.pipeline.job import Done, Job, run
from builder.words.problems import Position, Problem, Rejected

_MOMENT = 0.5  # seconds in which an interrupt that has ended the workers reaches this process too


def run_all(jobs: Sequence[Job], workers: int, executor: Executor | None) -> Iterator[Done]:
    """Yield what jobs hand back as they end, in any order; those not begun are dropped when the caller stops.

    Rejected where a worker is gone before it has handed back anything.
    """
    if executor is not None:
        yield from _run_on(executor, jobs)
    elif workers == 1 or len(jobs) <= 1:
        yield from map(run, jobs)
    else:
        with ProcessPoolExecutor(min(workers, len(jobs)), initializer=_begin_worker) as pool:
            yield from _run_on(pool, jobs)


def _run_on(executor: Executor, jobs: Sequence[Job]) -> Iterator[Done]:
    futures = [executor.submit(run, job) for job in sorted(jobs, key=_work, reverse=True)]
    try:
        for future in as_completed(futures):
            yield future.result()
    except BrokenExecutor as error:
        time.sleep(_MOMENT)
        wrong, expected = (
            "a process of the build was ended from outside",
            "expected enough memory; --jobs 1 takes least",
        )
        raise Rejected([Problem(Position("--jobs"), wrong, expected)]) from error
    finally:
        for future in futures:
            future.cancel()


def _work(job: Job) -> int:
    """Estimate how long a job takes: to project a view, once a size, takes as long as four blocks."""
    blocks = job.volume.blocks
    return len(blocks) + 4 * len({(block.row.size, block.view.kind) for block in blocks})


def _begin_worker() -> None:
    """Make a worker end at once at an interrupt, and as soon as the build itself is gone.

    It would else wait for work for ever, and keep the build's lock.
    """
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
