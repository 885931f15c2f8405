"""A build makes no more than it must, and what it leaves is to the byte what a build from nothing makes."""

import json
import os
import re
import shutil
from pathlib import Path

import pytest

from builder.pipeline import digest, volume
from builder.pipeline.build import build
from builder.pipeline.order import Order
from builder.pipeline.prepare import prepare
from builder.pipeline.unchanged import unchanged
from builder.words.problems import Rejected

OWN = "winch-pin"
DEFINITION = """\
family: winch-pin
code: WPIN
title: Hinge pin of the pawl
group: pins
standard: {number: SHOP-7, edition: "2026", source: "the shop's own drawing, invented"}
units: mm
symbols:
  d: {is: diameter, draws: nominal}
  l: {is: length, draws: nominal}
table:
  columns: [size, d, l]
  rows:
    - [P8, 8, 40]
    - [P10, 10, 50]
    - [P12, 12, 60]
body:
  - cylinder: {diameter: d, from: 0, to: l, chamfer: both, chamfer_length: 1}
views: [side, end]
designation: Pin {size}
density: 7.85
"""


def tree(folder: Path) -> dict:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def identities(folder: Path) -> dict:
    """Inode of every file: the same one means that nobody has written it again."""
    return {str(p.relative_to(folder)): p.stat().st_ino for p in sorted(folder.rglob("*")) if p.is_file()}


class Shop:
    """A folder of the shop's own definitions, and the library that is built from it."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.out = folder, folder / "dist"
        (folder / "mine").mkdir()
        self.file = folder / "mine" / f"{OWN}.yaml"
        self.file.write_text(DEFINITION, encoding="utf-8")

    def order(self, out: Path | None = None, jobs: int = 1, patterns=(OWN, "ISO7089-12-*")) -> Order:
        return Order("iso", (self.folder / "mine",), patterns, out=out or self.out, jobs=jobs)

    def build(self, **more):
        order = self.order(**more)
        return unchanged(order) or build(order, prepare(order), lambda family, blocks: None)

    def edit(self, old: str, new: str) -> None:
        text = self.file.read_text(encoding="utf-8")
        assert text.count(old) == 1
        self.file.write_text(text.replace(old, new), encoding="utf-8")

    def like_new(self) -> None:
        """Hold the library against one that is built from nothing."""
        clean = self.folder / "clean"
        self.build(out=clean)
        assert tree(clean) == tree(self.out)
        shutil.rmtree(clean)


@pytest.fixture
def shop(tmp_path) -> Shop:
    made = Shop(tmp_path)
    assert made.build().renewed == 9
    return made


def renewed_files(shop: Shop, before: dict) -> set:
    now = identities(shop.out)
    return {name for name in now if now[name] != before.get(name)}


def test_nothing_changed(shop):
    """No file is written, not even the record; the manifest says the same."""
    before = identities(shop.out)
    built = shop.build()
    assert (built.renewed, built.blocks, built.families) == (0, 9, 2)
    assert identities(shop.out) == before


def test_one_cell(shop):
    """Of the size whose row was changed all files are new, of the others none; so are the overviews of its family."""
    before = identities(shop.out)
    shop.edit("[P10, 10, 50]", "[P10, 10, 52]")
    assert shop.build().renewed == 2
    assert renewed_files(shop, before) == {
        "blocks/winch-pin/WPIN-P10-SIDE.dxf",
        "blocks/winch-pin/WPIN-P10-END.dxf",
        "thumbnails/winch-pin/WPIN-P10-SIDE.png",
        "thumbnails/winch-pin/WPIN-P10-END.png",
        "collections/winch-pin.dxf",
        "index/winch-pin-1.png",
        "library.json",
        "build.json",
    }
    shop.like_new()


@pytest.mark.parametrize(
    ("old", "new", "renewed"),
    [
        ("    - [P12, 12, 60]\n", "", 0),
        ("    - [P12, 12, 60]\n", "    - [P12, 12, 60]\n    - [P16, 16, 80]\n", 2),
        ("views: [side, end]", "views: [side, end]  # as the foreman wants it", 0),
        ("views: [side, end]", "views: [end, side]", 6),
        ("title: Hinge pin of the pawl", "title: Hinge pin of the lock gate", 6),
        ("density: 7.85", "density: 8.4", 6),
    ],
)
def test_other_edits(shop, old, new, renewed):
    """Rows that come and go, a remark, the order of views, a title, the density: what depends on it is renewed."""
    shop.edit(old, new)
    assert shop.build().renewed == renewed
    shop.like_new()
    assert shop.build().renewed == 0


def test_another_order(shop):
    """Other patterns, another shop standard, a family more: what both libraries hold is taken over where it can be."""
    order = shop.order(patterns=(OWN, "ISO7089-12-*", "ISO7089-16-*"))
    assert build(order, prepare(order), lambda family, blocks: None).renewed == 3
    asme = Order("asme", order.definitions, order.patterns, out=shop.out, jobs=1)
    assert build(asme, prepare(asme), lambda family, blocks: None).renewed == 12
    assert shop.build().renewed == 9
    shop.like_new()


def test_a_shop_standard_based_on_another_file(shop):
    """What a shop standard is based on counts as much as its own file, and what that is based on in turn."""
    first, second, third = (shop.folder / f"{name}.yaml" for name in ("first", "second", "third"))
    for file, base, more in (
        (first, "second.yaml", ""),
        (second, "third.yaml", ""),
        (third, "iso", "attributes: {finish: Red}\n"),
    ):
        file.write_text(f"shop: {file.stem}\ntitle: Winch\nbased_on: {base}\n{more}", encoding="utf-8")
    order = Order(str(first), patterns=("ISO7089-12-*",), out=shop.out, jobs=1)

    def again() -> int:
        return (unchanged(order) or build(order, prepare(order), lambda family, blocks: None)).renewed

    assert [again(), again()] == [3, 0]
    third.write_text(third.read_text(encoding="utf-8").replace("Red", "Green"), encoding="utf-8")
    assert [again(), again()] == [3, 0]


def write_over(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[-30] ^= 1
    path.write_bytes(bytes(content))
    later = path.stat().st_mtime_ns + 1_000_000_000  # clocks of file systems are coarse
    os.utime(path, ns=(later, later))


@pytest.mark.parametrize("harm", [Path.unlink, write_over, lambda path: path.write_bytes(path.read_bytes()[:-9])])
@pytest.mark.parametrize(
    ("name", "renewed"),
    [
        ("blocks/winch-pin/WPIN-P10-SIDE.dxf", 2),
        ("thumbnails/iso-7089/ISO7089-12-END.png", 3),
        ("collections/winch-pin.dxf", 0),
        ("index/iso-7089-1.png", 0),
        ("library.json", 9),
        ("build.json", 9),
    ],
)
def test_a_library_that_was_harmed(shop, name, renewed, harm):
    """A file is missing, was edited, or cut short: it is made again, at worst with everything."""
    harm(shop.out / name)
    if name == "build.json" and harm is write_over:
        renewed = 2  # the letter that was changed is in the name of a picture of one size
    assert shop.build().renewed == renewed
    shop.like_new()


@pytest.mark.parametrize(
    "name", ["blocks/../../secret", "/etc/hostname", "../secret", "blocks/a/b/c", "notes", "blocks/.."]
)
def test_a_forged_record(shop, name):
    """A record that names files elsewhere is none: nothing is taken over from there."""
    record = json.loads((shop.out / "build.json").read_text(encoding="utf-8"))
    record["volumes"][OWN]["files"][name] = 7
    (shop.out / "build.json").write_text(json.dumps(record), encoding="utf-8")
    assert shop.build().renewed == 9
    shop.like_new()


@pytest.mark.parametrize(
    "text",
    [
        "[]",
        "{}",
        "7",
        "[" * 100_000,
        '{"schema": "urn:blockwright:build:1"}',
        '{"schema": "urn:blockwright:build:1", "order": "", "families": 1, "manifest": 1, "volumes": {"a": []}}',
        '{"schema": "urn:blockwright:build:1", "order": "", "families": [], "manifest": 1, "volumes": {}}',
        *(
            '{"schema": "urn:blockwright:build:1", "order": "", "families": 1, "manifest": 1, "volumes": {"winch-pin": '
            + made
            + "}}"
            for made in (
                '{"sizes": [], "files": {}, "blocks": 1}',
                '{"sizes": {}, "files": [], "blocks": 1}',
                '{"sizes": {}, "files": {"index/a.png": "7"}, "blocks": 1}',
                '{"sizes": {}, "files": {}, "blocks": "1"}',
            )
        ),
    ],
)
def test_a_record_that_makes_no_sense(shop, text):
    """Whatever stands in its place, everything is made anew; nothing ends in a fault of the tool."""
    (shop.out / "build.json").write_text(text, encoding="utf-8")
    assert shop.build().renewed == 9
    shop.like_new()


def test_a_link_in_a_library_is_not_taken_over(shop):
    """Where a file was, a link leads elsewhere: the file is made again, and what the link led to stays."""
    block = shop.out / "blocks" / "winch-pin" / "WPIN-P10-SIDE.dxf"
    secret = shop.folder / "secret"
    secret.write_bytes(block.read_bytes())
    block.unlink()
    block.symlink_to(secret)
    assert shop.build().renewed == 2
    assert not block.is_symlink() and secret.exists()
    shop.like_new()


def test_another_tool(shop, monkeypatch):
    """Another release of the tool, or of a package that has a say in the bytes, makes everything anew."""
    other = digest.digest("another")
    for module in (digest, volume):
        monkeypatch.setattr(module, "tool_digest", lambda: other)
    assert shop.build().renewed == 9


def test_the_digest_of_the_tool_counts_code_and_packages(monkeypatch):
    before = digest.tool_digest()
    digest.tool_digest.cache_clear()
    monkeypatch.setattr(digest.importlib.metadata, "version", lambda name: "99")
    try:
        assert digest.tool_digest() != before
    finally:
        digest.tool_digest.cache_clear()


def test_a_value_has_a_digest_whatever_the_order_of_its_sets():
    """Values that are equal have one digest, others have others; what has no meaning of its own is refused."""
    ones = [
        {"a": 1.0, "b": (1, "x")},
        {"b": (1, "x"), "a": 1.0},
        {"a": 1.0, "b": (1, "y")},
        {"a": "1.0", "b": (1, "x")},
    ]
    digests = [digest.value_digest(one) for one in ones]
    assert digests[0] == digests[1] and len(set(digests)) == 3
    words = frozenset(map(str, range(50)))
    assert digest.value_digest(words) == digest.value_digest(frozenset(sorted(words, reverse=True)))
    with pytest.raises(TypeError):
        digest.value_digest(object())


def test_files_are_read_as_they_were_before(shop):
    """A definition that is edited while a build runs is seen by the next build."""
    order = shop.order()
    shop.edit("[P10, 10, 50]", "[P10, 10, 51]")
    planned = prepare(order)
    shop.edit("[P10, 10, 51]", "[P10, 10, 53]")
    build(order, planned, lambda family, blocks: None)
    assert shop.build().renewed == 2
    shop.like_new()


def test_a_large_family_makes_several_volumes(tmp_path, monkeypatch):
    """Sizes stay whole; every block is in one collection, which the manifest names; numbers and names fit."""
    monkeypatch.setattr(volume, "MOST", 20)
    order = Order("iso", patterns=("iso-7089",), out=tmp_path / "dist", jobs=1)
    build(order, prepare(order), lambda family, blocks: None)
    library = json.loads((order.out / "library.json").read_text(encoding="utf-8"))["blocks"]
    sizes: dict = {}
    for entry in library:
        text = (order.out / entry["collection"]).read_text(encoding="utf-8")
        assert text.count(f"\n{entry['block']}\n") >= 2
        sizes.setdefault(entry["collection"], set()).add(entry["size"])
    names = sorted(sizes, key=lambda name: int(re.search(r"_(\d+)\.", name)[1]))
    assert names == [f"collections/iso-7089_{n}.dxf" for n in range(1, len(names) + 1)] and len(names) > 3
    assert sum(map(len, sizes.values())) == len({entry["size"] for entry in library})
    assert {p.name for p in (order.out / "index").iterdir()} == {
        f"iso-7089_{n}-1.png" for n in range(1, len(names) + 1)
    }
    two = Order("iso", patterns=("iso-7089",), out=tmp_path / "two", jobs=2)
    build(two, prepare(two), lambda family, blocks: None)
    assert tree(two.out) == tree(order.out)


def test_an_executor_of_another_kind(tmp_path):
    """Workers of a dask cluster on this machine's loopback make the same bytes as a build in one process."""
    distributed = pytest.importorskip("distributed", reason="the extra `cluster` is not installed")
    patterns = ("ISO7089-12-*", "ISO4032-M12-*", "ISO4014-M12X5?-*")
    alone, far = (Order("iso", patterns=patterns, out=tmp_path / name, jobs=1) for name in ("alone", "far"))
    build(alone, prepare(alone), lambda family, blocks: None)
    settings = {"n_workers": 2, "threads_per_worker": 1, "host": "127.0.0.1", "dashboard_address": None}
    with distributed.LocalCluster(processes=True, **settings) as cluster, distributed.Client(cluster) as client:
        executor = client.get_executor()
        names: set = set()
        build(far, prepare(far), lambda family, blocks: names.add(family), executor)
        assert executor.submit(os.getpid).result() != os.getpid()
    assert names == {"iso-7089", "iso-4032", "iso-4014"}
    assert tree(far.out) == tree(alone.out)


def test_a_worker_that_is_gone(tmp_path, monkeypatch):
    """The system has ended a worker, for want of memory perhaps: a message, and the folder is as it was."""

    class Broken:
        def submit(self, *_):
            from concurrent.futures import BrokenExecutor, Future

            future: Future = Future()
            future.set_exception(BrokenExecutor("gone"))
            return future

    monkeypatch.setattr("builder.pipeline.workers._MOMENT", 0.0)
    order = Order("iso", patterns=("ISO7089-12-*",), out=tmp_path / "dist")
    with pytest.raises(Rejected, match="a process of the build was ended from outside"):
        build(order, prepare(order), lambda family, blocks: None, Broken())
    assert not list(tmp_path.iterdir())
