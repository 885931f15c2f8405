"""One build at a time in a folder: a lock that the operating system frees when its holder ends, however it ends."""

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]
    import msvcrt

PATIENCE = 3.0  # seconds


@contextmanager
def locked(path: Path) -> Iterator[bool]:
    """Hold a lock file while the block runs and remove it afterwards; False, and no lock, where another holds it.

    Workers of a build that was killed hold it for a moment longer: so long is waited.
    """
    deadline = time.monotonic() + PATIENCE
    while (held := _acquire(path)) is None and time.monotonic() < deadline:
        time.sleep(0.02)
    if held is None:
        yield False
        return
    try:
        yield True
    finally:
        if fcntl:
            path.unlink(missing_ok=True)
        os.close(held)  # which frees it
        if not fcntl:
            path.unlink(missing_ok=True)


def _acquire(path: Path) -> int | None:
    while True:
        file = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
        if not _seize(file):
            os.close(file)
            return None
        if _is_still(path, file):
            return file
        os.close(file)  # its last holder has removed it meanwhile


def _seize(file: int) -> bool:
    try:
        if fcntl:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        else:
            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
    except (BlockingIOError, PermissionError):
        return False
    return True


def _is_still(path: Path, file: int) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(file))
    except FileNotFoundError:
        return False
