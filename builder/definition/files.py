"""Which files a definition folder and a shop standard stand for. Reads no more of them than that takes."""

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

from builder.definition.source import is_file, read_source
from builder.words.limits import CHAIN
from builder.words.problems import Problems


def yaml_files(place: Path, problems: Problems) -> list[Path]:
    """Return a file itself, or the YAML files of a folder by name."""
    if is_file(place):
        return [place]
    if not os.path.isdir(place):  # noqa: PTH112 - unlike Path's it never raises
        problems.add(place, "is no file or folder", "expected a definition or a folder of definitions")
        return []
    for path in sorted(place.glob("*.yml")):
        problems.add(path, "ends in .yml", "expected .yaml")
    files = [path for path in sorted(place.glob("*.yaml")) if not path.name.startswith(".")]
    return list(_inside(place, files, problems))


def _inside(place: Path, files: Sequence[Path], problems: Problems) -> Iterator[Path]:
    """Yield the files that lie in a folder; a link in it may point to anything that its reader may read."""
    folder = Path(os.path.realpath(place))
    for file in files:
        if Path(os.path.realpath(file)).is_relative_to(folder):
            yield file
        else:
            problems.add(file, "is a link that leads out of its folder", "expected the file itself")


def shop_path(name: str, beside: Path, shops: Path) -> Path | None:
    """Return where a shop standard lies that is named by a path from some folder, or by a word; None if unknown."""
    path = Path(name)
    if path.suffix in (".yaml", ".yml") or len(path.parts) > 1:
        return beside / path
    return {file.stem: file for file in shops.glob("*.yaml")}.get(name)


def shop_files(name: str, shops: Path) -> tuple[Path, ...]:
    """Return the files of a shop standard: its own, that which it is based on, and so on while they can be read."""
    found: list[Path] = []
    path = shop_path(name, Path(), shops)
    while path is not None and is_file(path) and path not in found and len(found) <= CHAIN:
        found.append(path)
        root = read_source(path, Problems())
        base = root.entries.get("based_on") if root else None
        path = shop_path(base.text, path.parent, shops) if base and base.text else None
    return tuple(found)
