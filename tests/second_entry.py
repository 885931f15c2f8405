"""The published tables in tests/reference, typed by other people from other pages, laid beside the families' tables."""

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from builder.definition.family import Family, Row
from builder.part.part import Faults, dimensions_of
from builder.words.units import Unit

REFERENCE = Path(__file__).parent / "reference"
FOUR_DECIMALS = 0.00006  # the published table rounds a fraction such as 11/64 to four decimals
THREE_DECIMALS = 0.0006  # the family's table states 0.188 "as printed" where the other has 3/16
EXACT = 1e-9

HEAD = {
    "d": "d",
    "P": "P",
    "s": "s_max",
    "s_min": "s_min_A | s_min_B",  # product grade A up to M24, B above, as both tables have it
    "e_min": "e_min_A | e_min_B",
    "k": "k_nom",
    "k_min": "k_min_A | k_min_B",
    "k_max": "k_max_A | k_max_B",
    "c_min": "c_min",
    "c_max": "c_max",
    "dw_min": "dw_min_A | dw_min_B",
    "da_max": "da_max",
    "r": "r_min",
    "l_from": "l_min",
    "l_to": "l_max",
}
INCH_HEAD = {
    "D": "D",
    **{name: name for name in ("E_max", "E_min", "F_max", "F_min", "G_max", "G_min", "H_max", "H_min")},
    "F": "F_basic",
    "H": "H_basic",
    "R_max": "R_max",
    "R_min": "R_min",
    "LT @ 6": "LT_len_le_6",  # the thread length of a screw 6 in long, and of a longer one
    "LT @ 7": "LT_len_gt_6",
}
UNC = {"D": "major_dia", "tpi": "tpi", "P": "pitch"}
ISO_888 = {"b @ 100": "b_l_le125", "b @ 160": "b_125_200", "b @ 260": "b_gt200"}
NUT = {name: name for name in ("d", "P", "s_min", "e_min", "m_min", "da_min", "da_max", "dw_min", "c_min", "c_max")}
INCH_NUT = {"F": "F_basic", "H": "H_basic", "D": "D"} | {
    name: name for name in ("F_max", "F_min", "G_max", "G_min", "H_max", "H_min")
}
WASHER = {"d": "d", "d1": "d1_nom_min", "d2": "d2_nom_max", "h": "h_nom"} | {
    name: name for name in ("d1_max", "d2_min", "h_min", "h_max")
}
INCH_WASHER = {
    "D": "D",
    "A": "ID_basic",
    "A_max": "ID_basic + ID_plus",
    "A_min": "ID_basic - ID_minus",
    "B": "OD_basic",
    "B_max": "OD_basic + OD_plus",
    "B_min": "OD_basic - OD_minus",
    "C": "T_basic",
    "C_max": "T_max",
    "C_min": "T_min",
}
SAE_WASHER = {"D": "D", "A_max": "ID_max", "A_min": "ID_min", "B_max": "OD_max", "B_min": "OD_min"} | {
    "C_max": "T_max",
    "C_min": "T_min",
}


@dataclass(frozen=True, slots=True)
class Beside:
    """A published table beside a family's: what each of the family's columns is called there."""

    table: str
    family: str
    columns: Mapping[str, str]


BOLT, CAP, INCH_NUTS = "asme-b18-2-1-hex-bolt", "asme-b18-2-1-hex-cap-screw", "asme-b18-2-2-hex-nut"
PAIRS = (
    Beside("iso_4014_hexagon_head_bolts", "iso-4014", HEAD | {"d": "ds_max"}),
    Beside(
        "iso_4014_hexagon_head_bolts",
        "iso-4014",
        {"b @ 100": "b_L_le125", "b @ 160": "b_125_200", "b @ 260": "b_gt200"},
    ),
    Beside("iso_888_thread_lengths", "iso-4014", ISO_888),
    Beside("iso_4017_hexagon_head_screws", "iso-4017", HEAD | {"a_max": "a_max", "a_min": "a_min"}),
    Beside("iso_4032_hexagon_nuts", "iso-4032", NUT | {"s": "s_max", "m": "m_max"}),
    *(Beside("iso_261_coarse_threads", f, {"d": "d", "P": "P"}) for f in ("iso-4014", "iso-4017", "iso-4032")),
    *(Beside("widths_across_flats_iso_and_din", f, {"s": "s_iso"}) for f in ("iso-4014", "iso-4017", "iso-4032")),
    Beside("iso_7089_plain_washers", "iso-7089", WASHER),
    Beside("asme_b18_2_1_hex_bolts", BOLT, INCH_HEAD),
    Beside("asme_b18_2_1_hex_cap_screws", CAP, INCH_HEAD),
    Beside("asme_b18_2_2_hex_nuts", INCH_NUTS, INCH_NUT),
    *(Beside("asme_b1_1_unc_threads", f, UNC) for f in (BOLT, CAP, INCH_NUTS)),
    Beside("asme_b18_22_1_plain_washers", "asme-b18-22-1-plain-washer-a", INCH_WASHER),
    Beside("asme_b18_21_1_sae_washers", "asme-b18-22-1-plain-washer-a", SAE_WASHER),
)


@dataclass(frozen=True, slots=True)
class Published:
    """One row of a published table."""

    cells: Mapping[str, str]

    def number(self, name: str) -> float | None:
        """Return a cell's number, a sum of cells, or the first of `a | b` that is filled; None where it is empty."""
        for choice in name.split("|"):
            terms = re.findall(r"([+-]?)\s*(\w+)", choice)
            if all(self.cells[term] for _, term in terms):
                return sum((-1.0 if sign == "-" else 1.0) * float(self.cells[term]) for sign, term in terms)
        return None

    def read(self, name: str) -> bool:
        """Tell whether somebody read the cell on a page; the others were recalled or computed."""
        if self.cells["source"] != "page":
            return False
        recalled = self.cells["memory_cols"].split("|")
        choice = next(c for c in name.split("|") if all(self.cells[t] for t in re.findall(r"\w+", c)))
        return not any(term in recalled for term in re.findall(r"\w+", choice))

    @property
    def sizes(self) -> Sequence[str]:
        """Return the size in the ways in which tables write it."""
        if "size" not in self.cells:
            return (f"M{self.cells['d']}",)
        size = self.cells["size"]
        if size.startswith("#"):
            return (f"No. {size[1:]}",)
        series = self.cells.get("series", "")
        if series in ("N", "W"):
            return (f"{size} {series}",)
        bare = size.removeprefix("M")
        return (size, f"{size} N", bare) if "ID_max" in self.cells else (size, bare)


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure in both tables."""

    table: str
    family: str
    size: str
    column: str
    ours: float
    published: float
    read: bool

    @property
    def agrees(self) -> bool:
        """Tell whether the two figures are the same, but for decimals that one table leaves off."""
        return abs(self.ours - self.published) <= self.slack

    @property
    def key(self) -> tuple[str, str, str, str]:
        """Return what names the cell in the ledger."""
        return (self.family, self.size, self.column, self.table)

    @property
    def slack(self) -> float:
        """Return how far the two figures may lie apart for want of decimals."""
        if not self.family.startswith("asme"):
            return EXACT
        if self.column == "D" and "washer" in self.family:
            return THREE_DECIMALS
        fractions = self.column in ("D", "F", "H", "P") or self.column.startswith("LT")
        return FOUR_DECIMALS if fractions else EXACT


@cache
def published(table: str) -> tuple[Published, ...]:
    """Return the rows of a published table."""
    with (REFERENCE / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(Published(row) for row in csv.DictReader(file))


def of_size(table: str, family: Family, size: str) -> Published | None:
    """Return the row for one size of a family, None where the published table leaves it out."""
    label = re.sub(r"-[\d.]+$", "", size) if _threaded_inch(family) else size  # 1-1/8-7: the threads per inch go
    return next((row for row in published(table) if label in row.sizes), None)


def cells(families: Sequence[Family]) -> Iterator[Cell]:
    """Return every figure that both tables have."""
    by_key = {family.key: family for family in families}
    for pair in PAIRS:
        family = by_key[pair.family]
        for row in family.rows:
            other = of_size(pair.table, family, row.size)
            if other is not None:
                yield from _cells(pair, family, row, other)


def _cells(pair: Beside, family: Family, row: Row, other: Published) -> Iterator[Cell]:
    for column, name in pair.columns.items():
        number = other.number(name)
        if number is not None:
            ours = _ours(family, row, column)
            yield Cell(pair.table, family.key, row.size, column, ours, number, other.read(name))


def _ours(family: Family, row: Row, column: str) -> float:
    name, _, length = column.partition(" @ ")
    dimensions = dimensions_of(family, row, float(length or 100.0), Faults())
    assert dimensions is not None
    return dimensions[name]


def _threaded_inch(family: Family) -> bool:
    return family.units is Unit.INCH and "tpi" in family.symbols
