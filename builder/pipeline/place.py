"""Builds a library beside the old one and exchanges the two: a reader finds one or the other, whole.

Beside a library `dist` stand, while a build runs, a lock `.dist.lock` and the next library `.dist.next`; after the
exchange the latter holds the old one until it is removed. What a build that was killed has left there, the next clears.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from builder.pipeline.exchange import exchanged
from builder.pipeline.lock import locked
from builder.words.problems import Position, Problem, Rejected

MANIFEST, RECORD = "library.json", "build.json"
FOLDERS = ("blocks", "collections", "thumbnails", "index")
ENTRIES = ".entries"  # of the stage: each volume's part of the manifest until all are there
_OWN = frozenset((*FOLDERS, MANIFEST, RECORD, ENTRIES))


@contextmanager
def staged(out: Path) -> Iterator[Path]:
    """Give a folder to build in; on a clean end it takes the place of the library in `out`, else it is thrown away.

    Other files that lie in `out` stay there. Raises Rejected where `out` is not a folder, cannot be written, holds
    something that is no library, or is being built by somebody else.
    """
    home = out.resolve()
    try:
        _refuse_foreign(home, out)
        home.parent.mkdir(parents=True, exist_ok=True)
        with locked(_beside(home, "lock")) as mine:
            if not mine:
                wrong, expected = "another build is at work on this library", "expected to run when that has ended"
                raise Rejected([Problem(Position(str(out)), wrong, expected)])
            with _stage(home) as stage:
                yield stage
                _put_in_place(stage, home)
    except OSError as error:
        raise Rejected([problem_of(error, out)]) from error


@contextmanager
def _stage(home: Path) -> Iterator[Path]:
    _clear(home)
    stage = _beside(home, "next")
    stage.mkdir()
    try:
        yield stage
    finally:
        _clear(home)


def problem_of(error: OSError, path: Path) -> Problem:
    """Say in a drafter's words what the file system refused."""
    where = Position(str(path))
    return Problem(
        where,
        f"cannot be written: {(error.strerror or str(error)).lower()}",
        "the library there is unchanged",
    )


def write(path: Path, content: bytes) -> int:
    """Write a file of the stage, making its folder; return its size."""
    try:
        return path.write_bytes(content)
    except FileNotFoundError:
        path.parent.mkdir(parents=True, exist_ok=True)
        return path.write_bytes(content)


def take_over(old: Path, new: Path) -> None:
    """Let a file of the old library stand in the new one too."""
    new.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(old, new)
    except OSError:  # a file system without links
        shutil.copy2(old, new)


def is_library(out: Path) -> bool:
    """Tell whether a folder holds a library, if perhaps a harmed one."""
    return any(_begins_as_ours(out / name) for name in (MANIFEST, RECORD))


def _begins_as_ours(path: Path) -> bool:
    try:
        with path.open(encoding="utf-8", errors="replace") as file:
            return "urn:blockwright:" in file.read(200)
    except OSError:
        return False


def _beside(home: Path, what: str) -> Path:
    return home.with_name(f".{home.name}.{what}")


def _refuse_foreign(home: Path, named: Path) -> None:
    if home.exists() and not home.is_dir():
        raise Rejected([Problem(Position(str(named)), "is a file", "expected a folder for the library")])
    taken = [name for name in FOLDERS if (home / name).exists()]
    if taken and not is_library(home):
        wrong = f"holds a folder {taken[0]} but no blockwright library"
        raise Rejected(
            [Problem(Position(str(named)), wrong, "expected an empty folder, a new one, or a library to replace")]
        )


def _put_in_place(stage: Path, home: Path) -> None:
    _sync(stage / MANIFEST)
    if not home.exists():
        stage.rename(home)
        return
    shutil.copymode(home, stage)
    if exchanged(stage, home):
        return
    last = _beside(home, "last")
    home.rename(last)
    try:
        stage.rename(home)
    except BaseException:
        last.rename(home)
        raise


def _clear(home: Path) -> None:
    """Remove what stands beside a library, but for a person's files in it; put back one that was left aside."""
    stage, last = _beside(home, "next"), _beside(home, "last")
    if last.exists() and not home.exists():  # between two renames, where folders cannot be exchanged
        (stage if (stage / MANIFEST).exists() else last).rename(home)
    for rest in (stage, last):
        if rest.exists():
            _keep_foreign(rest, home)
            shutil.rmtree(rest)


def _keep_foreign(rest: Path, home: Path) -> None:
    for item in rest.iterdir():
        if item.name not in _OWN and home.exists() and not (home / item.name).exists():
            item.rename(home / item.name)


def _sync(path: Path) -> None:
    with path.open("rb") as file:
        os.fsync(file.fileno())
