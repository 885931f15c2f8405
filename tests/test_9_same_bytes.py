"""The same definitions give the same bytes, pictures included, whatever the day, folder, processes or surroundings."""

import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from conftest import ROOT
from same_bytes import built, differing, selection

from builder.definition.family import Family

# Invented data: shipped families that a shop refines under keys of its own.
OWN = {
    "a-bolt.yaml": "family: a-bolt\nrefines: iso-4014\ncode: ABOLT\ntitle: Winch bolt\n",
    "b-nut.yaml": "family: b-nut\nrefines: iso-4032\ncode: BNUT\ntitle: Winch nut, schön 1°\n",
}
# Every Python process runs this at its start. Another day: all clocks of Python go twenty years ahead.
ANOTHER_DAY = """
import datetime, time
AHEAD = 20 * 365.25 * 86400.0
ahead, wall, local, utc, written = time.time, time.time_ns, time.localtime, time.gmtime, time.strftime
time.time = lambda: ahead() + AHEAD
time.time_ns = lambda: wall() + int(AHEAD * 1e9)
time.localtime = lambda seconds=None: local(time.time() if seconds is None else seconds)
time.gmtime = lambda seconds=None: utc(time.time() if seconds is None else seconds)
time.strftime = lambda form, when=None: written(form, time.localtime() if when is None else when)
class Moment(datetime.datetime):
    @classmethod
    def now(cls, tz=None): return cls.fromtimestamp(time.time(), tz)
    @classmethod
    def utcnow(cls): return cls.fromtimestamp(time.time(), datetime.timezone.utc).replace(tzinfo=None)
    @classmethod
    def today(cls): return cls.now()
class Day(datetime.date):
    @classmethod
    def today(cls): return cls.fromtimestamp(time.time())
datetime.datetime, datetime.date = Moment, Day
"""
# Another order of the files in every folder that is listed.
ANOTHER_ORDER = """
import os
class Reversed:
    def __init__(self, found): self.found = found
    def __enter__(self): return self
    def __exit__(self, *why): return None
    def __iter__(self): return iter(self.found)
    def __next__(self): raise StopIteration
    def close(self): return None
names, entries = os.listdir, os.scandir
os.listdir = lambda *place: sorted(names(*place), reverse=True)
os.scandir = lambda *place: Reversed(sorted(entries(*place), key=lambda entry: entry.name, reverse=True))
"""


@dataclass(frozen=True)
class Surroundings:
    """What differs from the first build."""

    variables: Mapping[str, str] = field(default_factory=dict)
    at_start: str = ""
    jobs: int = 1
    umask: int = 0o022


OTHERS = {
    "processes, hash seed, locale, time zone, umask": Surroundings(
        {"PYTHONHASHSEED": "4711", "LC_ALL": "POSIX", "TZ": "Pacific/Kiritimati"}, jobs=2, umask=0o077
    ),
    "day": Surroundings({"SOURCE_DATE_EPOCH": "1"}, ANOTHER_DAY),
    "order of files": Surroundings(at_start=ANOTHER_ORDER),
}


@dataclass(frozen=True)
class Bench:
    """A folder to build in, with the shop's own definitions and a start-up file."""

    folder: Path
    others: Surroundings

    def environment(self) -> dict[str, str]:
        """Lay out the folder and return the environment of its processes."""
        own = self.folder / "own"
        own.mkdir(parents=True)
        for name, text in OWN.items():
            (own / name).write_text(text, encoding="utf-8")
        (self.folder / "sitecustomize.py").write_text(self.others.at_start, encoding="utf-8")
        kept = {key: value for key, value in os.environ.items() if key not in {"SOURCE_DATE_EPOCH", "PYTHONUTF8"}}
        fixed = {"PYTHONHASHSEED": "0", "LC_ALL": "C.UTF-8", "TZ": "UTC"}
        path = os.pathsep.join((str(self.folder), str(ROOT)))
        return {**kept, **fixed, **self.others.variables, "PYTHONPATH": path}

    def build(self, chosen: Sequence[str]) -> dict[str, bytes]:
        """Build what is chosen."""
        own = ["--definitions", str(self.folder / "own"), "--jobs", str(self.others.jobs)]
        before = os.umask(self.others.umask)
        try:
            return built(self.folder / "dist", sys.executable, self.environment(), [*chosen, *own])
        finally:
            os.umask(before)


@pytest.fixture(scope="module")
def chosen(tmp_path_factory: pytest.TempPathFactory) -> Sequence[str]:
    """One block of every view of every family, the shop's own included."""
    bench = Bench(tmp_path_factory.mktemp("chosen"), Surroundings())
    return selection(sys.executable, bench.environment(), "--definitions", str(bench.folder / "own"))


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory, chosen: Sequence[str]) -> Mapping[str, bytes]:
    return Bench(tmp_path_factory.mktemp("first"), Surroundings()).build(chosen)


@pytest.mark.parametrize("what", OTHERS)
def test_another(what: str, first: Mapping[str, bytes], chosen: Sequence[str], tmp_path: Path) -> None:
    """Two builds that differ in this, and in their folders, are equal to the byte."""
    again = Bench(tmp_path / "another folder, ä", OTHERS[what]).build(chosen)
    assert differing(first, again) == []


def test_everything_is_built(first: Mapping[str, bytes], families: Sequence[Family]) -> None:
    """Every family, every view of it, every kind of file."""
    keys = {*(family.key for family in families), "a-bolt", "b-nut"}
    kinds = {"blocks", "collections", "thumbnails", "index", "library.json", "build.json"}
    assert {name.split("/")[0] for name in first} == kinds
    assert {f"collections/{key}.dxf" for key in keys} | {f"index/{key}-1.png" for key in keys} <= first.keys()
    for family in families:
        assert sum(name.startswith(f"thumbnails/{family.key}/") for name in first) == len(family.views)


YEARS = """
import datetime, time
print(datetime.datetime.now().year, datetime.date.today().year, time.gmtime().tm_year)
print(int(time.time() / 31557600 + 1970))
"""


def said(bench: Bench, code: str) -> list[str]:
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, env=bench.environment(), capture_output=True, text=True, check=True)
    return done.stdout.split()


def test_the_clock_and_the_order_are_really_changed(tmp_path: Path) -> None:
    """Else the tests above would compare a thing with itself."""
    now = said(Bench(tmp_path / "now", Surroundings()), YEARS)
    later = said(Bench(tmp_path / "later", OTHERS["day"]), YEARS)
    assert [int(b) - int(a) for a, b in zip(now, later, strict=True)] == [20] * 4
    listed = f"from pathlib import Path; print(*(p.name for p in Path({str(ROOT / 'blocks')!r}).iterdir()))"
    turned = said(Bench(tmp_path / "turned", OTHERS["order of files"]), listed)
    assert len(turned) > 5 and turned == sorted(turned, reverse=True)


def test_the_comparison_can_fail() -> None:
    """A byte, a file too many, a file too few."""
    assert differing({"a": b"1", "b": b"2"}, {"a": b"1", "b": b"3"}) == ["b"]
    assert differing({"a": b"1"}, {"a": b"1", "c": b""}) == ["c"]
    assert differing({"a": b"1"}, {}) == ["a"]
