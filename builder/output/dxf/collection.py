"""Many blocks in one file: every block a definition, with an insert of each on a captioned sheet."""

from collections.abc import Sequence

from builder.block.block import Block
from builder.definition.shop import Shop
from builder.output.dxf.content import block_flags, content_tags
from builder.output.dxf.dialect import Dialect
from builder.output.dxf.entities import Insert, block_tags, insert_tags, record_tags, shape_tags
from builder.output.dxf.grid import Item, Placed, items_of, lay_out, sheet_bounds
from builder.output.dxf.template import Content, Template, template_for


def collection_file(blocks: Sequence[Block], shop: Shop) -> bytes:
    """Return the DXF file of several blocks; ValueError where names or units do not go together."""
    _check(blocks)
    unit = blocks[0].units
    template = template_for(shop, unit)
    items = items_of(blocks, shop)
    handle = template.first_handle
    records, bodies = [], []
    for item in items:
        records.append(record_tags(item.block.name, handle, template.record_table, template.dialect))
        body, handle = _definition(item, handle, template.dialect)
        bodies.append(body)
    placed = lay_out(items, shop.drawn(shop.text.height, unit))
    entities, handle = _sheet(placed, handle, template)
    return template.filled(
        Content(sheet_bounds(placed), handle, entities, records=tuple(records), blocks="".join(bodies))
    )


def _check(blocks: Sequence[Block]) -> None:
    if not blocks:
        raise ValueError("a collection needs at least one block")
    if len({block.units for block in blocks}) > 1:
        raise ValueError("a collection has one unit")
    if len({block.name.upper() for block in blocks}) < len(blocks):
        raise ValueError("two blocks of a collection have the same name")


def _definition(item: Item, record: int, dialect: Dialect) -> tuple[str, int]:
    """Write a block definition whose record, opening and end take three handles before its content."""
    begin, end = block_tags(item.block.name, block_flags(item.definitions), record, dialect)
    content, handle = content_tags(item.block, item.definitions, record + 3, dialect.owner(record), dialect)
    return begin + content + end, handle


def _sheet(placed: Sequence[Placed], handle: int, template: Template) -> tuple[str, int]:
    """Write the inserts and captions; return the text and the next free handle."""
    parts = []
    dialect = template.dialect
    owner = dialect.owner(template.model_space)
    for p in placed:
        insert = Insert(p.item.block.name, p.at, tuple(d for d in p.item.definitions if d.editable))
        parts.append(insert_tags(insert, handle, owner, dialect))
        handle += insert.handles
        parts.append(shape_tags(p.caption, handle, owner, dialect))
        handle += 1
    return "".join(parts), handle
