"""Builds hostile files in a folder with every door watched; prints each step through one that is not allowed."""

import os
import sys
from pathlib import Path

import hostile

from builder.pipeline.build import Order, build, prepare
from builder.words.problems import Rejected

ROOT = Path(__file__).resolve().parents[2]
OWN = [str(place) for place in (ROOT / "builder", ROOT / "blocks", ROOT / "schemas")]
SHUT = (
    "exec",
    "import",
    "os.system",
    "os.exec",
    "os.posix_spawn",
    "os.spawn",
    "os.fork",
    "subprocess.Popen",
    "socket.",
    "ctypes.",
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


def main(folder: Path) -> None:
    """Build once, so that all is imported, then watch."""
    given, out = folder / "given", folder / "given" / "out"
    given.mkdir()
    steps: list[str] = []
    watching = False

    def watch(event: str, arguments: tuple[object, ...]) -> None:
        if not watching:
            return
        if _is_step(event, arguments, given, out):
            steps.append(f"{event} {arguments}")

    (given / "pin.yaml").write_text(hostile.PIN, encoding="utf-8")
    order = Order("iso", (given,), ("pin",), None, out, 1)
    build(order, prepare(order), lambda family, blocks: None)
    _try(Order("nowhere", (given,), (), None, out, 1))
    os.chdir(out)  # names without a folder, as where a tree is removed, stand for what is in it
    sys.addaudithook(watch)
    orders = libraries = 0
    for text, shop in _files():
        (given / "pin.yaml").write_text(text, encoding="utf-8")
        (given / "own.shop").write_text(shop, encoding="utf-8")
        (given / "own.shop").rename(given / "own.yaml")
        watching = True
        libraries += _try(Order(str(given / "own.yaml"), (given / "pin.yaml",), ("pin",), None, out, 1))
        watching = False
        orders += 1
    print(*steps, f"{orders} orders, {libraries} libraries", sep="\n")


def _is_step(event: str, arguments: tuple[object, ...], given: Path, out: Path) -> bool:
    """Tell whether something happens that must not."""
    if event == "open":
        return not _may_open(arguments, given, out)
    if event.startswith(WRITES):
        return not all(_within(place, out) for place in arguments if isinstance(place, str | Path))
    return event.startswith(SHUT) or (event == "compile" and arguments[1] != "<unknown>")  # as ast.parse calls it


def _files() -> list[tuple[str, str]]:
    """Return definitions with the shop standards that they are built to."""
    iso = "shop: own\nbased_on: iso\n"
    bad = [(text, iso) for text, _ in hostile.DEFINITIONS.values()]
    shops = [(hostile.PIN, f"shop: own\n{text}") for text, _ in hostile.SHOPS.values()]
    return [(hostile.PIN, iso), *bad, *shops, (hostile.PIN, iso)]


def _try(order: Order) -> int:
    try:
        build(order, prepare(order), lambda family, blocks: None)
    except Rejected:
        return 0
    return 1


def _may_open(arguments: tuple[object, ...], given: Path, out: Path) -> bool:
    """Tell whether a file may be opened: written below --out, read where the user or the tool keeps its files."""
    path, mode = arguments[0], arguments[1]
    if not isinstance(path, str | bytes | Path):
        return True  # what is open already
    reads = mode in (None, "r", "rb", "rt")
    return _within(path, out) or (reads and any(_within(path, Path(place)) for place in (given, *OWN)))


def _within(path: object, folder: Path) -> bool:
    text = path.decode() if isinstance(path, bytes) else str(path)
    return Path(text).resolve().is_relative_to(folder.resolve())


if __name__ == "__main__":
    main(Path(sys.argv[1]))
