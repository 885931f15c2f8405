"""Checks definitions and shop standards without building: reads them and makes every part of every family."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from builder.block.plan import plan
from builder.definition.family import Family
from builder.definition.reader import read_definitions
from builder.definition.shop_reader import read_shop
from builder.definition.source import read_source
from builder.part.part import Faults, make_part
from builder.pipeline.resources import blocks_folder, shops_folder
from builder.words.problems import Problems


@dataclass(frozen=True, slots=True)
class Checked:
    """How much was checked and found right."""

    families: int
    parts: int
    shops: int


def check_paths(paths: Sequence[Path]) -> Checked:
    """Check definitions, folders of them and shop standards, or all that is shipped; Rejected with all faults."""
    problems = Problems()
    shop_files = [path for path in paths if _is_shop(path)] if paths else sorted(shops_folder().glob("*.yaml"))
    shops = [read_shop(path, shops_folder(), problems) for path in shop_files]
    definitions = [path for path in paths if path not in shop_files]
    families = _families(definitions, problems) if definitions or not paths else ()
    parts = sum(_make_all(family, problems) for family in families)
    usual = read_shop("iso", shops_folder(), problems)
    if usual is not None:
        plan(families, usual, (), problems)  # for the block names
    problems.raise_any()
    return Checked(len(families), parts, len(shops))


def _is_shop(path: Path) -> bool:
    """Tell a shop standard by the key that it must have; what cannot be read is left to the definition reader."""
    root = read_source(path, Problems()) if path.is_file() else None
    return root is not None and "shop" in root.entries


def _families(paths: Sequence[Path], problems: Problems) -> tuple[Family, ...]:
    """Read the named definitions over the shipped ones, and return the named ones; all where none is named."""
    shipped = blocks_folder()
    own = [path for path in paths if not path.resolve().is_relative_to(shipped.resolve())]
    families = read_definitions((shipped, *own), problems)
    named = [path.resolve() for path in paths]
    if not named:
        return families
    return tuple(f for f in families if any(Path(f.position.file).resolve().is_relative_to(path) for path in named))


def _make_all(family: Family, problems: Problems) -> int:
    faults, count = Faults(), 0
    for row in family.rows:
        for length in family.lengths.of(row) if family.lengths else (None,):
            make_part(family, row, length, faults)
            count += 1
    faults.report(problems)
    return count
