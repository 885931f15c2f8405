"""A block's content as tags: its shapes, then its attribute definitions, with handles that count up."""

from itertools import chain

from builder.block.block import Block
from builder.output.dxf.attributes import Definition
from builder.output.dxf.dialect import Dialect
from builder.output.dxf.entities import attdef_tags, shape_tags

_HAS_EDITABLE = 2  # flag of a block with attribute definitions that are not constant


def content_tags(
    block: Block, definitions: tuple[Definition, ...], first_handle: int, owner: str, dialect: Dialect
) -> str:
    """Write everything in a block; it takes `content_handles` handles."""
    shapes = block.view.shapes
    after = first_handle + len(shapes)
    return "".join(
        chain(
            (shape_tags(shape, handle, owner, dialect) for handle, shape in enumerate(shapes, first_handle)),
            (attdef_tags(d, handle, owner, dialect) for handle, d in enumerate(definitions, after)),
        )
    )


def content_handles(block: Block) -> int:
    """Return how many handles a block's content takes."""
    return len(block.view.shapes) + len(block.attributes)


def block_flags(definitions: tuple[Definition, ...]) -> int:
    """Return the flags of the block that holds those definitions."""
    return _HAS_EDITABLE if any(d.editable for d in definitions) else 0
