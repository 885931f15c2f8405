"""A block's attributes as definitions with a place: stacked below the geometry, the visible ones first."""

from dataclasses import dataclass

from builder.block.block import Attribute, Block
from builder.definition.shop import Shop
from builder.output.dxf.identity import carries_identity, identity_of
from builder.words.shapes import Bounds, Point, Text

LINE_SPACING = 1.6  # baseline to baseline, in text heights
LETTER_WIDTH = 1.0  # room for one letter, in text heights; common practice, no source: fonts run narrower
_INVISIBLE, _CONSTANT = 1, 2


@dataclass(frozen=True, slots=True)
class Definition:
    """One attribute definition as it stands in a file; `identity` is empty but for the one that holds it."""

    tag: str
    prompt: str
    lettering: Text
    flags: int
    identity: tuple[str, ...] = ()

    @property
    def editable(self) -> bool:
        """Tell whether an insert carries an attribute of its own for it."""
        return not self.flags & _CONSTANT

    @property
    def visible(self) -> bool:
        """Tell whether it shows on a drawing."""
        return not self.flags & _INVISIBLE


def definitions_of(block: Block, below: Bounds, shop: Shop) -> tuple[Definition, ...]:
    """Place the attributes of a block, left-aligned below its geometry, in their own order."""
    height = shop.drawn(shop.text.height, block.units)
    pitch = LINE_SPACING * height
    identity = identity_of(block)
    order = sorted(range(len(block.attributes)), key=lambda i: not block.attributes[i].visible)
    lines = {index: line for line, index in enumerate(order, start=1)}
    return tuple(
        Definition(
            attribute.tag,
            attribute.prompt,
            Text(Point(below.left, below.bottom - lines[index] * pitch), height, attribute.text),
            _flags(attribute),
            identity if carries_identity(attribute) else (),
        )
        for index, attribute in enumerate(block.attributes)
    )


def _flags(attribute: Attribute) -> int:
    return (0 if attribute.visible else _INVISIBLE) | (0 if attribute.editable else _CONSTANT)


def extended(bounds: Bounds, definitions: tuple[Definition, ...]) -> Bounds:
    """Return bounds that take in the room of some attributes' texts."""
    left, bottom, right, top = bounds
    for text in (d.lettering for d in definitions):
        left, bottom = min(left, text.at.x), min(bottom, text.at.y)
        right, top = max(right, text.at.x + text_width(text)), max(top, text.at.y + text.height)
    return Bounds(left, bottom, right, top)


def text_width(text: Text) -> float:
    """Return the room that a line of text takes at most."""
    return len(text.text) * LETTER_WIDTH * text.height
