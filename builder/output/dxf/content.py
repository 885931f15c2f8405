"""A block's content as tags: its shapes, then its attribute definitions, with handles that count up."""

from builder.block.block import Block
from builder.output.dxf.attributes import Definition
from builder.output.dxf.dialect import Dialect
from builder.output.dxf.entities import attdef_tags, shape_tags
from builder.output.dxf.polyline import polyline_tags
from builder.words.shapes import Ellipse

_HAS_EDITABLE = 2  # flag of a block with attribute definitions that are not constant


def content_tags(
    block: Block, definitions: tuple[Definition, ...], first_handle: int, owner: str, dialect: Dialect
) -> tuple[str, int]:
    """Write everything in a block; return the text and the next free handle."""
    parts, handle = [], first_handle
    for shape in block.view.shapes:
        if isinstance(shape, Ellipse) and not dialect.release.ellipses:
            text, handle = polyline_tags(shape, handle, owner, dialect)
        else:
            text, handle = shape_tags(shape, handle, owner, dialect), handle + 1
        parts.append(text)
    parts += (attdef_tags(d, free, owner, dialect) for free, d in enumerate(definitions, handle))
    return "".join(parts), handle + len(definitions)


def block_flags(definitions: tuple[Definition, ...]) -> int:
    """Return the flags of the block that holds those definitions."""
    return _HAS_EDITABLE if any(d.editable for d in definitions) else 0
