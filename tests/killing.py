"""Ends builds with SIGKILL, at moments told by a clock or by the next call of the file system; run as a script.

Prints as JSON what was found after each: "old", "new", or what is wrong. Forks, so that a build costs no start-up.
"""

import json
import os
import random
import signal
import sys
import time
from pathlib import Path

from builder.pipeline.build import build
from builder.pipeline.order import Order
from builder.pipeline.prepare import Planned, prepare

FILE_CALLS = ("open", "os.", "shutil.", "ctypes.dlsym")


def tree(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def made(order: Order, planned: Planned) -> None:
    build(order, planned, lambda family, blocks: None)


def killed(order: Order, planned: Planned, after: float | int | None) -> None:
    """Build in a child; kill it after seconds (float) or at its n-th call of the file system (int)."""
    child = os.fork()
    if not child:
        if isinstance(after, int):
            _die_at(after)
        made(order, planned)
        os._exit(0)
    if isinstance(after, float):
        time.sleep(after)
        os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


def _die_at(call: int) -> None:
    count = [0]

    def hook(event: str, _: object) -> None:
        if event.startswith(FILE_CALLS):
            count[0] += 1
            if count[0] == call:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(hook)


def main() -> None:
    folder, moments, jobs = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
    orders = [
        Order("iso", patterns=patterns, out=folder / "dist", jobs=jobs)
        for patterns in (("ISO7089-12-*", "ISO4032-M12-SIDEC*"), ("ISO7089-16-*", "ISO7089-12-*"))
    ]
    works = [(order, prepare(order)) for order in orders]
    trees = []
    for work in works:
        made(*work)
        trees.append(tree(folder / "dist"))
    begun = time.perf_counter()
    killed(*works[0], None)
    span = time.perf_counter() - begun
    present, chance, found = 0, random.Random(sys.argv[4]), []
    for moment in range(moments):
        wanted = 1 - present
        killed(*works[wanted], chance.uniform(0.0, span) if moment % 2 else chance.randint(1, 110))
        now = tree(folder / "dist")
        if now == trees[wanted]:
            present, said = wanted, "new"
        else:
            said = "old" if now == trees[present] else f"neither, after {moment}: {sorted(now)}"
        found.append(said)
    made(*works[0])
    whole = tree(folder / "dist") == trees[0]
    print(json.dumps({"found": found, "left": sorted(item.name for item in folder.iterdir()), "whole": whole}))


if __name__ == "__main__":
    main()
