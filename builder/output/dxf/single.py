"""One block as a file: geometry and attribute definitions in model space, base point at the origin.

Inserted into a drawing as a file it behaves as a block.
"""

from builder.block.block import Block
from builder.definition.shop import Shop
from builder.output.dxf.attributes import definitions_of, extended
from builder.output.dxf.content import block_flags, content_handles, content_tags
from builder.output.dxf.template import Content, template_for


def single_file(block: Block, shop: Shop) -> bytes:
    """Return the DXF file of one block."""
    template = template_for(shop, block.units)
    bounds = block.view.bounds
    definitions = definitions_of(block, bounds, shop)
    first, dialect = template.first_handle, template.dialect
    owner = dialect.owner(template.model_space)
    content = Content(
        extended(bounds, definitions),
        first + content_handles(block),
        content_tags(block, definitions, first, owner, dialect),
        block_flags(definitions),
    )
    return template.filled(content)
