"""A sheet of blocks in captioned rows: a size stays together, and base points line up in a row."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from builder.block.block import Block
from builder.definition.shop import Shop
from builder.output.dxf.attributes import LINE_SPACING, Definition, definitions_of, extended, text_width
from builder.words.shapes import Bounds, Point, Text

SHEET_ASPECT = math.sqrt(2.0)  # a landscape sheet, ISO 216
_ORIGIN = Point(0.0, 0.0)
_STRETCH = 1.5  # the sheet may be so much wider where that keeps a size in one row
_GAP = 3.0  # between cells, in text heights


@dataclass(frozen=True, slots=True)
class Item:
    """A block with its attribute definitions and the room it needs round its base point, caption left out."""

    block: Block
    definitions: tuple[Definition, ...]
    room: Bounds


@dataclass(frozen=True, slots=True)
class Placed:
    """A block at its place on the sheet, and the caption below it."""

    item: Item
    at: Point
    caption: Text


def items_of(blocks: Sequence[Block], shop: Shop) -> tuple[Item, ...]:
    """Measure blocks for the sheet; attributes that are not visible need no room there."""
    return tuple(_item(block, shop) for block in blocks)


def _item(block: Block, shop: Shop) -> Item:
    bounds = block.view.bounds
    definitions = definitions_of(block, bounds, shop)
    return Item(block, definitions, extended(bounds, tuple(d for d in definitions if d.visible)))


def lay_out(items: Sequence[Item], height: float) -> tuple[Placed, ...]:
    """Place items in rows from the origin downward; captions have the given text height."""
    placed: list[Placed] = []
    top = 0.0
    for row in _rows(items, height):
        base = top - max(item.room.top for item in row)
        caption = base + min(item.room.bottom for item in row) - LINE_SPACING * height
        left = 0.0
        for item in row:
            text = Text(Point(left, caption), height, item.block.designation)
            placed.append(Placed(item, Point(left - item.room.left, base), text))
            left += _width(item, height)
        top = caption - _GAP * height
    return tuple(placed)


def sheet_bounds(placed: Sequence[Placed]) -> Bounds:
    """Return the extent of everything on the sheet, captions included."""
    rooms = [p.item.room for p in placed]
    right = max(p.at.x + room.right for p, room in zip(placed, rooms, strict=True))
    lettered = max(p.caption.at.x + text_width(p.caption) for p in placed)
    top = max(p.at.y + room.top for p, room in zip(placed, rooms, strict=True))
    left = min(p.caption.at.x for p in placed)
    return Bounds(left, min(p.caption.at.y for p in placed), max(right, lettered), top)


def _rows(items: Sequence[Item], height: float) -> Iterator[list[Item]]:
    limit = _row_width(items, height)
    row: list[Item] = []
    for _, group in groupby(items, key=_size):
        size = list(group)
        if row and _span([*row, *size], height) > limit:
            yield row
            row = []
        for item in size:  # a size that is longer than a row takes several
            if row and _span([*row, item], height) > limit:
                yield row
                row = []
            row.append(item)
    if row:
        yield row


def _row_width(items: Sequence[Item], height: float) -> float:
    lettering = (LINE_SPACING + _GAP) * height
    area = sum(_width(item, height) * (item.room.height + lettering) for item in items)
    sheet = math.sqrt(area * SHEET_ASPECT)
    widest = max(_span(list(group), height) for _, group in groupby(items, key=_size))
    return max(sheet, min(widest, _STRETCH * sheet))


def _span(row: Sequence[Item], height: float) -> float:
    return sum(_width(item, height) for item in row)


def _size(item: Item) -> str:
    return item.block.size


def _width(item: Item, height: float) -> float:
    return max(item.room.width, text_width(Text(_ORIGIN, height, item.block.designation))) + _GAP * height
