"""Writes a library beside the old one and moves it into place, the manifest last: a reader finds one or the other."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from builder.words.problems import Position, Problem, Rejected

MANIFEST = "library.json"
FOLDERS = ("blocks", "collections", "thumbnails", "index")
_STAGE = ".blockwright-"


@contextmanager
def staged(out: Path) -> Iterator[Path]:
    """Give a folder to build in; on a clean end its content replaces the library in `out`, else it is thrown away.

    Raises Rejected where `out` is not a folder, cannot be written, or holds something that is no library.
    """
    stage: Path | None = None
    try:
        _refuse_foreign(out)
        out.mkdir(parents=True, exist_ok=True)
        stage = Path(tempfile.mkdtemp(prefix=_STAGE, dir=out))
        yield stage
        _move_into_place(stage, out)
    except OSError as error:
        raise Rejected([problem_of(error, out)]) from error
    finally:
        if stage is not None:
            shutil.rmtree(stage, ignore_errors=True)


def problem_of(error: OSError, path: Path) -> Problem:
    """Say in a drafter's words what the file system refused."""
    where = Position(str(path))
    return Problem(
        where,
        f"cannot be written: {(error.strerror or str(error)).lower()}",
        "the library there is unchanged",
    )


def write(path: Path, content: bytes) -> None:
    """Write a file of the stage, making its folder."""
    try:
        path.write_bytes(content)
    except FileNotFoundError:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _refuse_foreign(out: Path) -> None:
    if out.exists() and not out.is_dir():
        raise Rejected([Problem(Position(str(out)), "is a file", "expected a folder for the library")])
    taken = [name for name in FOLDERS if (out / name).exists()]
    if taken and not _is_library(out / MANIFEST):
        wrong = f"holds a folder {taken[0]} but no blockwright library"
        raise Rejected(
            [Problem(Position(str(out)), wrong, "expected an empty folder, a new one, or a library to replace")]
        )


def _is_library(manifest: Path) -> bool:
    try:
        with manifest.open(encoding="utf-8", errors="replace") as file:
            return "urn:blockwright:schema:library" in file.read(200)
    except OSError:
        return False


def _move_into_place(stage: Path, out: Path) -> None:
    old = stage / "old"
    old.mkdir()
    done: list[str] = []
    try:
        for name in FOLDERS:
            if (out / name).exists():
                (out / name).rename(old / name)
            done.append(name)
            if (stage / name).exists():
                (stage / name).rename(out / name)
        _sync(stage / MANIFEST)
        (stage / MANIFEST).replace(out / MANIFEST)
    except BaseException:
        _move_back(done, stage, old, out)
        raise


def _move_back(done: list[str], stage: Path, old: Path, out: Path) -> None:
    for name in done:
        if (out / name).exists() and not (stage / name).exists():
            (out / name).rename(stage / name)
        if (old / name).exists():
            (old / name).rename(out / name)


def _sync(path: Path) -> None:
    with path.open("rb") as file:
        os.fsync(file.fileno())
