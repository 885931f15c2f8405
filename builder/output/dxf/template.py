"""A file without its content, as ezdxf writes it, cut where a block's own text belongs.

Serialising a document takes milliseconds and hardly differs between blocks: it is done once per release,
shop standard and unit. What differs stands there as an unlikely number, or is found by its neighbours.
"""

import io
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from ezdxf.document import Drawing

from builder.definition.shop import Shop
from builder.output.dxf.dialect import Dialect, dialect_of
from builder.output.dxf.document import fixed_metadata, new_document
from builder.output.dxf.tags import number
from builder.words.shapes import Bounds
from builder.words.units import Unit

VIEW_ASPECT = 1.34  # width over height that ezdxf gives the first view
VIEW_MARGIN = 1.1
_CUT = "\0"
_NUMBERS = ("left", "bottom", "right", "top", "view_x", "view_y", "view_height")


@dataclass(frozen=True, slots=True)
class Content:
    """What one file adds to a template, as tag text."""

    bounds: Bounds
    next_handle: int
    entities: str
    flags: int = 0
    records: tuple[str, ...] = ()
    blocks: str = ""


@dataclass(frozen=True, slots=True)
class Template:
    """Fixed bytes, and between them the names of what is filled in; the first free handle and two owners."""

    fixed: tuple[bytes, ...]
    slots: tuple[str, ...]
    dialect: Dialect
    first_handle: int
    model_space: int
    record_table: int

    def filled(self, content: Content) -> bytes:
        """Return the whole file."""
        values, encoding = _values(content), self.dialect.release.encoding
        parts = [self.fixed[0]]
        for slot, fixed in zip(self.slots, self.fixed[1:], strict=True):
            parts += values[slot].encode(encoding), fixed
        return b"".join(parts)


def _values(content: Content) -> Mapping[str, str]:
    left, bottom, right, top = content.bounds
    return {
        "left": number(left),
        "bottom": number(bottom),
        "right": number(right),
        "top": number(top),
        "view_x": number((left + right) / 2),
        "view_y": number((bottom + top) / 2),
        "view_height": number(view_height(content.bounds)),
        "next_handle": f"{content.next_handle:X}",
        "flags": str(content.flags),
        "record_count": str(2 + len(content.records)),  # model space and paper space come first
        "records": "".join(content.records),
        "blocks": content.blocks,
        "entities": content.entities,
    }


def view_height(bounds: Bounds) -> float:
    """Return the height of the first view that shows all of the bounds with a margin."""
    return VIEW_MARGIN * max(bounds.height, bounds.width / VIEW_ASPECT)


@dataclass(frozen=True, slots=True)
class _Setup:
    """What a template depends on: equal shops share one, also across copies that processes pass about."""

    shop: Shop = field(compare=False)
    unit: Unit
    key: tuple[object, ...]


def template_for(shop: Shop, unit: Unit) -> Template:
    """Return the template of a shop for blocks of one unit, made on first use in each process."""
    looks = tuple(shop.roles.items()), tuple(shop.linetypes.items()), shop.text
    return _template(_Setup(shop, unit, (shop.dxf, shop.layer_zero, shop.plot_scale, *looks)))


@lru_cache(maxsize=32)
def _template(setup: _Setup) -> Template:
    with fixed_metadata():
        doc = new_document(setup.shop, setup.unit)
        text = _marked_text(doc)
    dialect = dialect_of(setup.shop, setup.unit)
    pieces = _cut(text, doc, dialect).split(_CUT)
    return Template(
        tuple(piece.encode(dialect.release.encoding, "dxfreplace") for piece in pieces[::2]),
        tuple(pieces[1::2]),
        dialect,
        int(str(doc.entitydb.handles), 16),
        int(doc.modelspace().layout_key, 16),
        int(doc.block_records.head.dxf.handle, 16),
    )


def _marked_text(doc: Drawing) -> str:
    marks = {slot: 70000001.5 + i for i, slot in enumerate(_NUMBERS)}
    space = doc.modelspace()
    space.reset_extents((marks["left"], marks["bottom"]), (marks["right"], marks["top"]))
    view = doc.viewports.get_config("*Active")[0]
    view.dxf.center, view.dxf.height = (marks["view_x"], marks["view_y"]), marks["view_height"]
    stream = io.StringIO()
    doc.write(stream)
    text = stream.getvalue()
    for slot, mark in marks.items():
        text = text.replace(f"\n{mark}\n", f"\n{_slot(slot)}\n")
    return text


def _cut(text: str, doc: Drawing, dialect: Dialect) -> str:
    seed = f"$HANDSEED\n  5\n{doc.entitydb.handles}\n"
    text = _replaced(text, seed, f"$HANDSEED\n  5\n{_slot('next_handle')}\n")
    space = f"  2\n{'*' if dialect.release.owners else '$'}Model_Space\n 70\n"
    text = _replaced(text, f"{space}0\n 10\n", f"{space}{_slot('flags')}\n 10\n")
    after_blocks = "  0\nENDSEC\n  0\nSECTION\n  2\nENTITIES\n"
    text = _replaced(text, after_blocks, f"{_slot('blocks')}{after_blocks}{_slot('entities')}")
    if not dialect.release.owners:
        return text
    handle = doc.block_records.head.dxf.handle
    table = f"  2\nBLOCK_RECORD\n  5\n{handle}\n330\n0\n100\nAcDbSymbolTable\n 70\n"
    text = _replaced(text, f"{table}2\n", f"{table}{_slot('record_count')}\n")
    after_records = "  0\nENDTAB\n  0\nENDSEC\n  0\nSECTION\n  2\nBLOCKS\n"
    return _replaced(text, after_records, _slot("records") + after_records)


def _slot(name: str) -> str:
    return f"{_CUT}{name}{_CUT}"


def _replaced(text: str, old: str, new: str) -> str:
    if text.count(old) != 1:
        raise RuntimeError(f"ezdxf writes this other than expected: {old!r} stands {text.count(old)} times")
    return text.replace(old, new)
