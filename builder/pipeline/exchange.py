"""Two folders change names in one step, where the operating system can do that."""

import ctypes
import os
import sys
from pathlib import Path

_HERE = -100  # AT_FDCWD: paths are as the process sees them
_RENAME_EXCHANGE = 2  # Linux, renameat2(2)
_RENAME_SWAP = 2  # macOS, renamex_np(2)


def exchanged(one: Path, other: Path) -> bool:
    """Exchange two folders on one file system; False, and nothing done, where that cannot be had in one step."""
    call = _call(os.fsencode(one), os.fsencode(other))
    return call is not None and call == 0


def _call(one: bytes, other: bytes) -> int | None:
    try:
        library = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "linux":
            return int(library.renameat2(_HERE, one, _HERE, other, _RENAME_EXCHANGE))
        if sys.platform == "darwin":
            return int(library.renamex_np(one, other, _RENAME_SWAP))
    except (AttributeError, OSError, TypeError):
        return None
    return None
