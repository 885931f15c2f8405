"""The families' tables against the same figures in tests/reference, which other people typed from other pages.

A cell that somebody read on a page must agree or stand in the ledger, blocks/LEDGER.md. Cells recalled from memory
are a weaker witness: they are compared in a test of their own, and a misfit stands in the ledger as well.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest
import second_entry
from conftest import ROOT
from second_entry import Cell

from builder.definition.family import Family

Key = tuple[str, str, str, str]
SCREWS_4017 = "iso_4017_hexagon_head_screws"

# The ledger: family, size, column, published table -> our figure, the published one.
LEDGER_OF_READ: dict[Key, tuple[float, float]] = {
    ("asme-b18-2-1-hex-bolt", "1-3/4-5", "G_max", "asme_b18_2_1_hex_bolts"): (3.031, 3.301),
}
LEDGER_OF_RECALLED: dict[Key, tuple[float, float]] = {
    **{("iso-4017", size, "l_to", SCREWS_4017): (200.0, 150.0) for size in ("M16", "M18", "M20", "M22")},
    ("iso-4032", "M3.5", "dw_min", "iso_4032_hexagon_nuts"): (5.0, 5.1),
}

# Cells that both tables have and that agree: read on a page, recalled. Measured; a test fails when one drops.
CONFIRMED = {
    "asme-b18-2-1-hex-bolt": (225, 23),
    "asme-b18-2-1-hex-cap-screw": (178, 55),
    "asme-b18-2-2-hex-nut": (120, 0),
    "asme-b18-22-1-plain-washer-a": (231, 101),
    "iso-4014": (267, 193),
    "iso-4017": (235, 198),
    "iso-4032": (305, 4),
    "iso-7089": (56, 128),
}


@pytest.fixture(scope="module")
def cells(families: tuple[Family, ...]) -> tuple[Cell, ...]:
    return tuple(second_entry.cells(families))


def test_cells_read_on_a_page_agree(cells: Sequence[Cell]) -> None:
    assert misfits(cells, read=True) == LEDGER_OF_READ


def test_recalled_cells_agree(cells: Sequence[Cell]) -> None:
    assert misfits(cells, read=False) == LEDGER_OF_RECALLED


@pytest.mark.parametrize("family", CONFIRMED)
def test_as_many_cells_are_confirmed_as_ever(cells: Sequence[Cell], family: str) -> None:
    counts = Counter(cell.read for cell in cells if cell.family == family and cell.agrees)
    read, recalled = CONFIRMED[family]
    assert counts[True] >= read
    assert counts[False] >= recalled


def test_every_family_has_a_second_entry(families: Sequence[Family]) -> None:
    assert {family.key for family in families} == set(CONFIRMED)


def test_every_published_cell_is_looked_at(families: Sequence[Family], cells: Sequence[Cell]) -> None:
    """A changed figure is found wherever it stands: each compared cell, moved by 1 %, is a misfit."""
    assert len(families) == len(CONFIRMED)
    for cell in cells:
        moved = replace(cell, ours=cell.ours * 1.01)
        if cell.ours != 0.0 and cell.agrees:
            assert not moved.agrees, cell


def test_widths_are_not_those_of_the_withdrawn_national_series(families: Sequence[Family]) -> None:
    """M10, M12, M14 and M22 have other widths across flats in DIN 931, 933 and 934 than in ISO 4014, 4017, 4032."""
    for family in families:
        for row in family.rows:
            old = second_entry.of_size("widths_across_flats_iso_and_din", family, row.size)
            if "s" in row.values and old is not None:
                assert row.values["s"] != old.number("s_din")


def test_ledger_file_says_the_same() -> None:
    """Every line of the two dicts stands in the file, with both figures, and the file has no other line."""
    stated = {(family, size, column): (float(ours), float(other)) for family, size, column, ours, other in lines()}
    both = LEDGER_OF_READ | LEDGER_OF_RECALLED
    assert stated == {(family, size, column): figures for (family, size, column, _), figures in both.items()}


def lines() -> Iterator[list[str]]:
    """Return family, size, column and the two figures of each line of the ledger file's table of misfits."""
    text = (ROOT / "blocks" / "LEDGER.md").read_text(encoding="utf-8")
    table = text.split("## Misfits")[1].split("\n## ")[0]
    for line in table.splitlines():
        fields = [field.strip() for field in line.strip("|").split("|")]
        if line.startswith("|") and fields[0] not in ("family", "---"):
            yield fields[:5]


def misfits(cells: Sequence[Cell], *, read: bool) -> dict[Key, tuple[float, float]]:
    """Return the cells that differ, with our figure and the published one."""
    return {cell.key: (round(cell.ours, 6), cell.published) for cell in cells if cell.read is read and not cell.agrees}
