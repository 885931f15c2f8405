"""Blocks become small square pictures of their views, as PNG bytes."""

from collections.abc import Iterator, Sequence

from builder.block.block import Block
from builder.definition.shop import Shop
from builder.output.pens import pens_of
from builder.output.raster import Box, Page, pictures, subject_of

_MARGIN = 1 / 21  # of the picture's side: 12 pixels of 256


def thumbnails(blocks: Sequence[Block], shop: Shop, size: int = 256) -> Iterator[bytes]:
    """Yield a square PNG of each block, 16 greys, in the line widths and line types of a shop standard."""
    box = Box(0, 0, size, size)
    wanted = [(subject_of(block.view.shapes), box) for block in blocks]
    for picture in pictures(wanted, pens_of(shop), round(size * _MARGIN)):
        page = Page(size, size)
        page.place(picture)
        yield page.png()


def thumbnail(block: Block, shop: Shop, size: int = 256) -> bytes:
    """Return the picture of one block."""
    return next(thumbnails((block,), shop, size))
