"""How fast the library is built, beside baselines in the same run: `.venv/bin/python tests/bench`.

`--growth` adds libraries of 1,000, 10,000 and 100,000 blocks, which takes minutes and some gigabytes of disk. Whole
commands are timed from outside, with their start-up; parts in this process, on one core. `--only verify` and the like
measures one part. A target that is missed is named, and ends in exit code 1; a busy machine misses some.
"""

import argparse
import os
import platform
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent), str(HERE.parents[1])]

import commands  # noqa: E402  # beside this file, which the line above lets it find
import parts  # noqa: E402
import pictures  # noqa: E402
from tables import Row, table  # noqa: E402


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--growth", action="store_true", help="libraries of 1,000 to 100,000 blocks too")
    asked.add_argument("--only", choices=sorted(MEASURES), action="append", help="one part; repeatable")
    chosen = asked.parse_args()
    print(f"{platform.machine()}, {os.cpu_count()} cores, {platform.system()}, Python {platform.python_version()}\n")
    missed = False
    with tempfile.TemporaryDirectory(dir=os.environ.get("BENCH_FOLDER")) as folder:
        for name, measure in MEASURES.items():
            if (chosen.only and name in chosen.only) or (not chosen.only and (name != "growth" or chosen.growth)):
                rows = measure(Path(folder))
                missed |= any(row.missed for row in rows)
                print(table(name, rows), flush=True)
    sys.exit(missed)


def _pictures(_: Path) -> list[Row]:
    return [
        Row(
            row.name,
            f"{row.ours:.0f} a second",
            {name: f"{row.ours / other:.1f} times" for name, other in row.others.items()},
        )
        for row in pictures.rows()
    ]


MEASURES = {
    "start-up": commands.start_up,
    "library": commands.library,
    "rebuild": commands.rebuild,
    "verify": commands.verify,
    "writing": parts.writing,
    "pictures": _pictures,
    "growth": commands.growth,
}

if __name__ == "__main__":
    main()
