"""Tries so many hostile files, or for so many minutes, and keeps each that ends badly in a folder.

    cd tests && PYTHONPATH=..:. python -m fuzz.run definition --cases 100000 --found found
    cd tests && PYTHONPATH=..:. python -m fuzz.run formula --minutes 10 --atheris

Badly: anything raised but Rejected, more than LIMIT seconds of CPU time, more than MEMORY bytes.
"""

import argparse
import faulthandler
import hashlib
import os
import resource
import signal
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from random import Random

LIMIT = 2.0  # seconds of CPU time for one case
STUCK = 120  # seconds after which the process is given up: some C code never came back
MEMORY = 3 << 30


class TooSlow(BaseException):
    """A case took more than its time; no `except Exception` shall swallow it."""


def bounded(station: Callable[[bytes], str], data: bytes, limit: float = LIMIT) -> str:
    """Return what came of a case; raise what it raises, or TooSlow."""

    def ring(*_: object) -> None:
        raise TooSlow(f"more than {limit:g} s")

    signal.signal(signal.SIGVTALRM, ring)
    signal.setitimer(signal.ITIMER_VIRTUAL, limit)
    try:
        return station(data)
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0.0)


class Finds:
    """Keeps what ends badly: one input for each place in the code."""

    def __init__(self, kind: str, folder: Path) -> None:
        self.kind, self.folder, self.seen = kind, folder, Counter[str]()
        folder.mkdir(parents=True, exist_ok=True)
        self.last = os.open(folder / f"last-{kind}-{os.getpid()}", os.O_CREAT | os.O_RDWR)

    def trial(self, station: Callable[[bytes], str], data: bytes) -> str:
        """Return what came of a case; "bad" where it was kept."""
        os.pwrite(self.last, data, 0)  # what is left there when the process dies
        os.ftruncate(self.last, len(data))
        try:
            return bounded(station, data)
        except (Exception, TooSlow) as fault:
            self.keep(fault, data)
            return "bad"

    def keep(self, fault: BaseException, data: bytes) -> None:
        """Keep an input, if no other ended at the same place."""
        frames = [f for f in traceback.extract_tb(fault.__traceback__) if "builder" in f.filename]
        place = f"{Path(frames[-1].filename).stem}-{frames[-1].lineno}" if frames else "outside"
        where = f"{self.kind}-{type(fault).__name__}-{place}"
        self.seen[where] += 1
        if self.seen[where] <= 3:
            name = f"{where}-{hashlib.sha1(data).hexdigest()[:6]}"
            (self.folder / name).write_bytes(data)
            (self.folder / f"{name}.txt").write_text("".join(traceback.format_exception(fault)), errors="replace")


def maker(kind: str) -> Callable[[Random], bytes]:
    """Return what makes cases of a kind."""
    from fuzz import seeds
    from fuzz.formulas import formula
    from fuzz.mutate import Mutator

    if kind == "formula":
        return lambda random: formula(random).encode("utf-8", errors="surrogatepass")
    return Mutator(*(seeds.definitions() if kind == "definition" else seeds.shops()), kind == "definition").made


def run(kind: str, cases: int, minutes: float, seed: int, folder: Path) -> int:
    """Try cases until there are enough or the time is over; return how many ended badly."""
    from fuzz.stations import STATIONS

    made, finds, outcomes = maker(kind), Finds(kind, folder), Counter[str]()
    began, number = time.monotonic(), 0
    while number < cases and time.monotonic() - began < minutes * 60.0:
        if number % 64 == 0:
            faulthandler.dump_traceback_later(STUCK, exit=True)
        outcomes[finds.trial(STATIONS[kind], made(Random(seed + number)))] += 1
        number += 1
    faulthandler.cancel_dump_traceback_later()
    print(f"{kind}: {number} cases from seed {seed} in {time.monotonic() - began:.0f} s: {dict(outcomes)}")
    for where, count in finds.seen.most_common():
        print(f"  {count:6} {where}")
    return outcomes["bad"]


def guided(kind: str, cases: int, minutes: float, folder: Path) -> None:
    """Let atheris, which follows coverage, choose among the changes; it ends the process."""
    import atheris  # type: ignore[import-not-found,unused-ignore]

    with atheris.instrument_imports(include=["builder"]):
        from fuzz.stations import STATIONS
    from fuzz import seeds
    from fuzz.formulas import formula
    from fuzz.mutate import Mutator

    finds, count = Finds(kind, folder), Counter[str]()
    mutator = Mutator(*(seeds.definitions() if kind == "definition" else seeds.shops()), kind == "definition")

    def change(data: bytes, most: int, seed: int) -> bytes:
        random = Random(seed)
        if random.random() < 0.3:
            return bytes(atheris.Mutate(data, most))
        if kind == "formula":
            return formula(random).encode("utf-8", errors="surrogatepass")[:most]
        return mutator.changed_bytes(random, data)[:most]

    def one(data: bytes) -> None:
        try:
            count[finds.trial(STATIONS[kind], data)] += 1
        except UnicodeDecodeError:
            return

    begin = folder / f"begin-{kind}"
    begin.mkdir(exist_ok=True)
    for number, text in enumerate(mutator.seeds if kind != "formula" else ["2*d", "min(d, k) if l > 1 else 3"]):
        (begin / str(number)).write_text(text)
    limits = [f"-runs={cases}", f"-max_total_time={int(minutes * 60)}", "-max_len=20000", "-rss_limit_mb=0"]
    atheris.Setup([sys.argv[0], *limits, str(begin)], one, custom_mutator=change)
    import atexit

    atexit.register(lambda: print(f"{kind}: {sum(count.values())} cases guided: {dict(count)}, {dict(finds.seen)}"))
    atheris.Fuzz()


def main() -> None:
    """Read the command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("kind", choices=("formula", "definition", "shop"))
    parser.add_argument("--cases", type=int, default=1_000_000_000)
    parser.add_argument("--minutes", type=float, default=1.0)
    parser.add_argument("--seed", type=int, default=time.time_ns() >> 20)
    parser.add_argument("--found", type=Path, default=Path("found"))
    parser.add_argument("--atheris", action="store_true", help="let coverage guide the changes")
    given = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    if given.atheris:
        guided(given.kind, given.cases, given.minutes, given.found)
    elif run(given.kind, given.cases, given.minutes, given.seed, given.found):
        sys.exit(1)


if __name__ == "__main__":
    main()
