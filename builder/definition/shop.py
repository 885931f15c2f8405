"""The values of a shop standard: how one shop wants its blocks drawn, named and filled in. No reading here.

Lengths are as they are plotted on paper, in mm; a definition file may state them in inches.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from builder.words.problems import Position
from builder.words.roles import Role
from builder.words.units import MM_PER_INCH, Unit


@dataclass(frozen=True, slots=True)
class LineStyle:
    """How one role is drawn: layer, DXF colour number 1 to 255, name of a line type, width in mm."""

    layer: str
    colour: int
    linetype: str
    lineweight: float


@dataclass(frozen=True, slots=True)
class LineType:
    """A line type: dashes positive, gaps negative, dots 0; mm on paper. Empty: continuous."""

    name: str
    description: str
    pattern: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class TextStyle:
    """Name and font file of the text style, height of capitals in mm on paper."""

    name: str
    font: str
    height: float


@dataclass(frozen=True, slots=True)
class StockLine:
    """What the shop keeps of one family; empty sizes or lengths mean all."""

    family: str
    sizes: tuple[str, ...]
    lengths: tuple[tuple[float, float], ...]  # closed ranges, in the family's unit
    position: Position


@dataclass(frozen=True, slots=True)
class Shop:
    """One shop's standard, complete: what its own file leaves out has been taken from the one it is based on."""

    key: str
    title: str
    dxf: str  # "R12" to "R2018"
    units: Unit | None  # None: each family's own
    plot_scale: float  # paper over part: 0.5 is 1:2
    thread_style: str
    hidden_lines: bool  # whether lines that other parts of the body hide are drawn at all
    axis_overhang: float
    layer_zero: bool  # everything on layer 0, BYBLOCK, so that the block takes the target layer
    roles: Mapping[Role, LineStyle]
    linetypes: Mapping[str, LineType]
    text: TextStyle
    visible: frozenset[str]  # attribute tags that show on the drawing
    defaults: Mapping[str, str]  # class, material, finish for every family
    family_defaults: Mapping[str, Mapping[str, str]]  # the same for one family
    stock: tuple[StockLine, ...]  # empty: everything

    def drawn(self, paper: float, unit: Unit) -> float:
        """Turn a length in mm on paper into one in the drawing, in the drawing's unit."""
        return paper / self.plot_scale / (MM_PER_INCH if unit is Unit.INCH else 1.0)

    def unit_for(self, own: Unit) -> Unit:
        """Return the unit in which a family's blocks are built."""
        return self.units or own
