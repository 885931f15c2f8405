"""A block becomes a small square picture of its view, as PNG bytes."""

from builder.block.block import Block
from builder.definition.shop import Shop
from builder.output.raster import Box, Page, subject_of
from builder.output.strokes import pens_of

_MARGIN = 1 / 21  # of the picture's side: 12 pixels of 256


def thumbnail(block: Block, shop: Shop, size: int = 256) -> bytes:
    """Return a square PNG, 16 greys, in the line widths and line types of a shop standard."""
    page = Page(size, size)
    page.picture(subject_of(block.view.shapes), pens_of(shop), Box(0, 0, size, size), round(size * _MARGIN))
    return page.png()
