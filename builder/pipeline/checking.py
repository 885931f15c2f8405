"""Checks definitions and shop standards without building: reads them and makes every part of every family."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from builder.block.plan import plan
from builder.definition.family import Family
from builder.definition.files import yaml_files
from builder.definition.reader import read_definitions
from builder.definition.shop_reader import read_shop, tells_shop
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
    files = [file for path in paths or (blocks_folder(), shops_folder()) for file in yaml_files(path, problems)]
    shop_files = [file for file in files if tells_shop(read_source(file, Problems()))]
    for shop in shop_files:
        read_shop(shop, shops_folder(), problems)
    named = {file.resolve() for file in files}.difference(file.resolve() for file in shop_files)
    families = _families(paths, problems) if named or not shop_files else ()
    checked = [family for family in families if Path(family.position.file).resolve() in named]
    parts = sum(_make_all(family, problems) for family in checked)
    problems.raise_any()
    return Checked(len(checked), parts, len(shop_files))


def _families(paths: Sequence[Path], problems: Problems) -> tuple[Family, ...]:
    """Read the named definitions over the shipped ones, with all that their block names could clash with."""
    shipped = blocks_folder()
    own = [path for path in paths if not path.resolve().is_relative_to(shipped.resolve())]
    families = read_definitions((shipped, *own), problems)
    usual = read_shop("iso", shops_folder(), problems)
    if usual is not None:
        plan(families, usual, (), problems)
    return families


def _make_all(family: Family, problems: Problems) -> int:
    faults, count = Faults(), 0
    for row in family.rows:
        for length in family.lengths.of(row) if family.lengths else (None,):
            make_part(family, row, length, faults)
            count += 1
    faults.report(problems)
    return count
