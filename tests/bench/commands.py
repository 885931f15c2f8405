"""Whole commands, each in a process of its own: building, building again, verifying, starting."""

import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from generated import PER_SIZE, write_definition
from tables import Row, unless

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True)
class Run:
    """One command: seconds by the wall, and the most memory that one of its processes took, in MiB."""

    seconds: float
    memory: float


def run(*arguments: str) -> Run:
    """Run blockwright once; its largest process counts for memory."""
    command = [sys.executable, str(Path(__file__).with_name("watched.py")), *arguments]
    begun = time.perf_counter()
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    seconds = time.perf_counter() - begun
    if done.returncode:
        raise SystemExit(f"blockwright {' '.join(arguments)}:\n{done.stdout}{done.stderr}")
    return Run(seconds, float(done.stderr.rpartition("peak ")[2]) / 1024.0)


def best(times: int, work: Callable[[], float]) -> float:
    """Return the least of some timings: what the machine can do when nothing else disturbs it."""
    return min(work() for _ in range(times))


def build(out: Path, *more: str) -> Run:
    """Build a library into a new folder; nothing is removed first: some file systems are slow for a while after."""
    return run("build", "--out", str(out), *more)


def blocks_in(out: Path) -> int:
    return sum(1 for _ in (out / "blocks").rglob("*.dxf"))


def start_up(_: Path) -> list[Row]:
    """Time commands that do next to nothing, beside a Python that does nothing."""
    bare = best(5, lambda: _seconds(sys.executable, "-c", "pass"))
    python = [sys.executable, "-m", "builder"]
    rows = []
    for words in (["--help"], ["build", "--help"], ["completion", "bash"]):
        seconds = best(5, lambda words=words: _seconds(*python, *words))
        beside, missed = {"a bare Python": f"{bare:.3f} s"}, unless(seconds < 0.15, "0.15 s")
        rows.append(Row(f"blockwright {' '.join(words)}", f"{seconds:.3f} s", beside, missed))
    return rows


def _seconds(*command: str) -> float:
    begun = time.perf_counter()
    subprocess.run(command, cwd=ROOT, capture_output=True, check=True)
    return time.perf_counter() - begun


def library(folder: Path) -> list[Row]:
    """Build all that ships, on one core and on all, beside the mere writing of the same bytes."""
    rows = []
    for jobs in ("1", "0"):
        outs = [folder / f"dist{jobs}{n}" for n in range(2)]
        done = min((build(out, "--jobs", jobs) for out in outs), key=lambda one: one.seconds)
        count = blocks_in(outs[0])
        floor = min(_floor(outs[0], folder / f"floor{jobs}{n}", parallel=jobs == "0") for n in range(2))
        rows.append(
            Row(
                f"build of {count} blocks, {'one core' if jobs == '1' else 'all cores'}",
                f"{done.seconds:.2f} s, {count / done.seconds:.0f} blocks/s, {done.memory:.0f} MiB",
                {"writing the same bytes": f"{floor:.2f} s, {done.seconds / floor:.1f} times that"},
                unless(jobs == "1" or (count > 1000 * done.seconds and done.seconds < 5 * floor), "1,000/s, 5 times"),
            )
        )
    return rows


def _floor(out: Path, to: Path, parallel: bool) -> float:
    """Write all files of a library again, from memory."""
    files = [(path.relative_to(out), path.read_bytes()) for path in out.rglob("*") if path.is_file()]
    for folder in {(to / name).parent for name, _ in files}:
        folder.mkdir(parents=True, exist_ok=True)
    if not parallel:
        return _written(to, files)
    with ProcessPoolExecutor(2) as pool:
        list(pool.map(abs, range(4)))  # the workers are there
        return max(pool.map(_written, (to, to), (files[::2], files[1::2])))


def _written(to: Path, files: list[tuple[Path, bytes]]) -> float:
    begun = time.perf_counter()
    for name, content in files:
        (to / name).write_bytes(content)
    return time.perf_counter() - begun


def rebuild(folder: Path) -> list[Row]:
    """Build 10,000 blocks again with nothing changed, then with one cell changed, beside the first build."""
    definition = write_definition(folder / "own", sizes=10)
    out = folder / "again"
    order = ("--definitions", str(definition.parent), "--only", "large")
    first = build(out, *order)
    count = blocks_in(out)
    same = best(3, lambda: run("build", "--out", str(out), *order).seconds)
    beside = {"the first build": f"{first.seconds:.2f} s"}
    rows = [Row(f"{count} blocks, nothing changed", f"{same:.2f} s", beside, unless(same < 0.5, "0.5 s"))]
    text = definition.read_text(encoding="utf-8")
    definition.write_text(text.replace("[S3, 20.0, 2.5, 30.0,", "[S3, 20.0, 2.5, 31.0,"), encoding="utf-8")
    changed = run("build", "--out", str(out), *order).seconds
    return [
        *rows,
        Row(f"{count} blocks, one cell changed ({PER_SIZE} blocks depend on it)", f"{changed:.2f} s", beside),
    ]


def verify(folder: Path) -> list[Row]:
    """Verify all that ships."""
    out = folder / "proved"
    built = run("build", "--out", str(out))
    done = min((run("verify", str(out)) for _ in range(2)), key=lambda one: one.seconds)
    count = blocks_in(out)
    figures = f"{done.seconds:.2f} s, {count / done.seconds:.0f} blocks/s, {done.memory:.0f} MiB"
    beside, missed = {"building them": f"{built.seconds:.2f} s"}, unless(count > 1000 * done.seconds, "1,000/s")
    return [Row(f"verify of {count} blocks, all cores", figures, beside, missed)]


def growth(folder: Path) -> list[Row]:
    """Build ten and a hundred times as many blocks: time a block and memory should not grow."""
    rows: list[Row] = []
    first, least = 0.0, 0.0
    for sizes in (1, 10, 100):
        definition, out = write_definition(folder / "own", sizes), folder / f"grown{sizes}"
        done = build(out, "--definitions", str(definition.parent), "--only", "large")
        count = blocks_in(out)
        each = 1000.0 * done.seconds / count
        first, least = first or each, least or done.memory
        rows.append(
            Row(
                f"build of {count} blocks",
                f"{done.seconds:.1f} s, {count / done.seconds:.0f} blocks/s, {done.memory:.0f} MiB",
                {"a block": f"{each:.2f} ms, {each / first:.2f} times that of the first row"},
                unless(each < 1.2 * first and done.memory < 1.2 * least, "time a block and memory as in the first row"),
            )
        )
    return rows
