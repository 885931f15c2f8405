"""One block as a file: geometry and attribute definitions in model space, base point at the origin.

Inserted into a drawing as a file it behaves as a block.
"""

from builder.block.block import Block
from builder.definition.shop import Shop
from builder.output.dxf.attributes import definitions_of, extended
from builder.output.dxf.content import block_flags, content_tags
from builder.output.dxf.template import Content, template_for


def single_file(block: Block, shop: Shop) -> bytes:
    """Return the DXF file of one block."""
    template = template_for(shop, block.units)
    bounds = block.view.bounds
    definitions = definitions_of(block, bounds, shop)
    owner = template.dialect.owner(template.model_space)
    entities, handle = content_tags(block, definitions, template.first_handle, owner, template.dialect)
    content = Content(extended(bounds, definitions), handle, entities, block_flags(definitions))
    return template.filled(content)
