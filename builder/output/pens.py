"""A shop standard becomes the pens that pictures are drawn with. Widths are sub-pixels, four to a finished pixel."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from builder.definition.shop import Shop
from builder.words.roles import Role

OVER = 4
WIDE = 2.0  # pixels: the widest line of a shop's standard
_INK, _HATCH_GREY = 0, 10


class Pen(NamedTuple):
    """How a role is drawn: width, grey from 0, black, to 15, line type (dash, gap, dash, ...; empty: continuous)."""

    width: int
    grey: int
    pattern: tuple[float, ...]


Pens = Mapping[Role, Pen]


def pens_of(shop: Shop) -> dict[Role, Pen]:
    """Return each role's pen: the shop's widest line is WIDE pixels, others in proportion to half of it."""
    widest = max(style.lineweight for style in shop.roles.values()) or 1.0
    pens = {}
    for role, style in shop.roles.items():
        width = max(round(WIDE * OVER * style.lineweight / widest), round(WIDE * OVER / 2))
        grey = _HATCH_GREY if role is Role.HATCHING else _INK
        pens[role] = Pen(width, grey, _pattern(shop.linetypes[style.linetype].pattern, width))
    return pens


def _pattern(paper: Sequence[float], width: int) -> tuple[float, ...]:
    """Turn a line type into sub-pixels: longest dash first, smallest gap three line widths (ISO 128-2)."""
    gaps = [-element for element in paper if element < 0]
    if not gaps or len(gaps) == len(paper):
        return ()
    scale = 3 * width / min(gaps)
    first = paper.index(max(paper))
    turned = (*paper[first:], *paper[:first])
    return tuple(
        min(-e * scale, 8.0 * width) if e < 0 else min(max(e * scale, 1.5 * width), 24.0 * width) for e in turned
    )
