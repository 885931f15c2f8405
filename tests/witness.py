"""Compares measured figures with the part's own and with the published ones, and remembers which it has seen."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

import pytest
import second_entry
from readback import Block
from second_entry import Cell
from test_3_tables import LEDGER_OF_READ

from builder.definition.family import Family
from builder.part.part import Faults, dimensions_of

DRAWN = 2e-7  # twice a rounding to nine decimals, and then some

# The letters of the two systems of standards for what is measured here. ISO names come first.
LETTERS = {
    "flats": ("s", "F"),
    "height of head": ("k", "H"),
    "height of nut": ("m", "H"),
    "diameter": ("d", "D"),
    "length": ("l", "L"),
    "washer face": ("dw_min", "Dw"),
    "height of washer face": ("c_max", "C"),
    "fillet": ("r", "R_min"),
    "end of point": ("Dp", "d3"),
    "hole": ("d1", "A"),
    "outside": ("d2", "B"),
    "thickness": ("h", "C"),
    "countersink": ("da_max", "Dc"),
}


class Witness:
    """Holds figures measured on drawings against the tables."""

    def __init__(self, families: Sequence[Family]) -> None:
        self.rows = {(f.key, row.size): (f, row) for f in families for row in f.rows}
        self.read: dict[tuple[str, str, str], list[Cell]] = defaultdict(list)
        self.seen: set[tuple[str, str, str]] = set()
        for cell in second_entry.cells(families):
            if cell.read and cell.key not in LEDGER_OF_READ:
                self.read[cell.family, cell.size, cell.column].append(cell)

    def own(self, block: Block) -> dict[str, float]:
        """Return the part's own dimensions."""
        family, row = self.rows[block.facts["family"], block.size]
        length = block.facts["length"]
        if length is None and family.lengths is not None:  # an end view, the same for every length
            length = family.lengths.of(row)[-1]
        own = dimensions_of(family, row, length, Faults())
        assert own is not None
        return own

    def check(self, block: Block, measured: Mapping[str, float]) -> None:
        """Hold each measured figure against both."""
        own = self.own(block)
        for what, figure in measured.items():
            name = next(letter for letter in LETTERS.get(what, (what,)) if letter in own)
            assert figure == pytest.approx(own[name], abs=DRAWN), (block.label, what)
            self.published(block, name, figure)

    def published(self, block: Block, column: str, figure: float) -> None:
        """Hold one figure against the published cells of a column, if anybody read one."""
        key = (block.facts["family"], block.size, column)
        for cell in self.read[key]:
            assert abs(figure - cell.published) <= cell.slack + DRAWN, (block.label, column, cell)
            self.seen.add(key)

    def shown(self, family: str) -> int:
        """Return how many published cells of a family were seen in its drawings."""
        return sum(key[0] == family for key in self.seen)
