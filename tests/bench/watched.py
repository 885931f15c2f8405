"""Runs blockwright and says at the end how much memory, in KiB, the largest of its processes took."""

import atexit
import resource
import sys
from pathlib import Path

sys.path.insert(0, str(Path.cwd()))


def _say() -> None:
    peak = max(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    print(f"peak {peak}", file=sys.stderr)


atexit.register(_say)

from builder.cli import main  # noqa: E402

main()
