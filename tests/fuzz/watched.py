"""Reads and builds hostile files with every door watched; prints each step through one that must stay shut."""

import os
import sys
from collections.abc import Callable
from pathlib import Path

import hostile

from builder.definition.reader import read_definitions
from builder.definition.shop_reader import read_shop
from builder.part.part import Faults, make_part
from builder.pipeline.build import build
from builder.pipeline.order import Order
from builder.pipeline.prepare import prepare
from builder.pipeline.resources import shops_folder
from builder.words.problems import Problems, Rejected

ROOT = Path(__file__).resolve().parents[2]
OWN = [ROOT / name for name in ("builder", "blocks", "schemas")]
SHUT = (
    *("exec", "import", "os.system", "os.exec", "os.posix_spawn", "os.spawn", "os.fork", "subprocess.Popen"),
    "socket.",
)
WRITES = (
    "os.mkdir",
    "os.rename",
    "os.remove",
    "os.rmdir",
    "os.symlink",
    "os.link",
    "os.chmod",
    "os.truncate",
    "shutil.",
)
BUILT = ("laughs", "balls", "code-with-break", "thread")


class Watch:
    """Notes what happens while it is on."""

    def __init__(self, given: Path, out: Path) -> None:
        self.given, self.on = given, False
        self.outs = [out, *(out.with_name(f".{out.name}.{what}") for what in ("lock", "next", "last"))]
        self.steps: list[str] = []

    def __call__(self, event: str, arguments: tuple[object, ...]) -> None:
        if self.on and self.is_step(event, arguments):
            self.steps.append(f"{event} {arguments}")

    def is_step(self, event: str, arguments: tuple[object, ...]) -> bool:
        """Tell whether something happens that must not."""
        if event == "open":
            return not self.may_open(arguments[0], int(str(arguments[2])))
        if event == "os.mkdir" and Path(str(arguments[0])).is_dir():
            return False  # it is there, and stays as it is
        if event.startswith(WRITES):
            return not all(_within(place, *self.outs) for place in arguments if isinstance(place, str | Path))
        return event.startswith(SHUT) or (event == "compile" and arguments[1] != "<unknown>")  # as ast.parse calls it

    def may_open(self, path: object, flags: int) -> bool:
        """Tell whether a file may be opened: written below --out, read where the user or the tool keeps its files."""
        if not isinstance(path, str | bytes | Path):
            return True  # what is open already
        writes = flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT)
        return _within(path, *self.outs) or not (writes or not _within(path, self.given, *OWN))

    def during(self, work: Callable[[], object]) -> bool:
        """Do something; tell whether it ended well."""
        self.on = True
        try:
            work()
        except Rejected:
            return False
        finally:
            self.on = False
        return True


def main(folder: Path) -> None:
    """Build once, so that all is imported, then watch."""
    given, out = folder / "given", folder / "given" / "out"
    given.mkdir()
    pin, own = given / "pin.yaml", given / "own.yaml"
    order = Order(str(own), (pin,), ("pin",), None, out, 1)
    watch = Watch(given, out)

    def put(text: str, shop: str) -> None:
        pin.write_text(text, encoding="utf-8")
        own.write_text(f"shop: own\n{shop}", encoding="utf-8")

    def built(text: str) -> bool:
        put(text, "based_on: iso\n")
        return watch.during(lambda: build(order, prepare(order), lambda family, blocks: None))

    built(hostile.PIN)
    put(hostile.PIN, "based_on: nowhere\n")
    read_shop(own, shops_folder(), Problems())
    sys.addaudithook(watch)
    for text, _ in hostile.DEFINITIONS.values():
        put(text, "based_on: iso\n")
        watch.during(lambda: _read(pin))
    for shop, _ in hostile.SHOPS.values():
        put(hostile.PIN, shop)
        watch.during(lambda: read_shop(own, shops_folder(), Problems()))
    texts = [hostile.PIN, *(hostile.DEFINITIONS[name][0] for name in BUILT), hostile.PIN]
    libraries = sum(built(text) for text in texts)
    counts = f"{len(hostile.DEFINITIONS)} definitions, {len(hostile.SHOPS)} shop standards"
    print(*watch.steps, f"{counts}, {libraries} of {len(texts)} builds", sep="\n")


def _read(path: Path) -> None:
    for family in read_definitions((path,), Problems()):
        for row in family.rows:
            make_part(family, row, None, Faults())


def _within(path: object, *folders: Path) -> bool:
    """Tell whether a path lies in a folder; a bare name is one in the open folder of a tree that is being removed."""
    place = Path(path.decode() if isinstance(path, bytes) else str(path))
    return len(place.parts) == 1 or any(place.resolve().is_relative_to(folder.resolve()) for folder in folders)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
