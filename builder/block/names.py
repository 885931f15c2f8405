"""Block names: letters, digits, `-` and `_`, at most 31 characters, each naming one view of one part.

    CODE-SIZE[XLENGTH]-VIEW[-THREAD]      ISO4014-M12X80-SIDEC-I     B1821C-1_2-13X1-3_4-SIDEC-S

In SIZE and LENGTH `_` stands for the stroke of an inch fraction and for the point of a metric number, so that
`1-3_4` reads 1-3/4 and `M1_6` reads M1.6. THREAD is the thread style's letter; where a library is built in
another unit than the family's own, M (mm) or N (inches) follows it, since the same name must never stand for two
drawings of different size.
"""

import re

from builder.definition.family import Family, Row
from builder.view.kind import ViewKind
from builder.words.limits import LABEL
from builder.words.units import Unit, length_text

_LEGAL = re.compile(r"[A-Z0-9_-]+")


def block_name(family: Family, row: Row, length: float | None, kind: ViewKind, thread: str, unit: Unit) -> str:
    """Return a block's name; `thread` is the style's code, empty where the part has no thread."""
    part = encoded(row.size)
    if length is not None and kind.shows_length:
        part += "X" + encoded(length_text(length, family.units))
    foreign = "" if unit is family.units else {Unit.MM: "M", Unit.INCH: "N"}[unit]
    return "-".join(filter(None, (family.code, part, kind.code, thread + foreign)))


def encoded(text: str) -> str:
    """Write a size or length in the alphabet of block names."""
    return re.sub(r"[/.]", "_", text.upper()).replace(" ", "")


def fault_of(name: str) -> str | None:
    """Say what makes a name unusable, or None."""
    if len(name) > LABEL:
        return f"block name {name} has {len(name)} characters"
    if not _LEGAL.fullmatch(name):
        return f"block name {name} has characters outside A-Z 0-9 - _"
    return None
