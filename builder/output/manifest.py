"""The manifest: library.json, every block with its dimensions, files and fingerprint, for programs."""

import json
from collections.abc import Iterable

from builder import __version__
from builder.block.block import Block
from builder.definition.shop import Shop

SCHEMA = "urn:blockwright:schema:library:1"
_FIRST = b'{"block":"'  # how every entry begins


def paths_of(family: str, block: str) -> tuple[str, str]:
    """Return where in a library a block's DXF file and its thumbnail lie."""
    return f"blocks/{family}/{block}.dxf", f"thumbnails/{family}/{block}.png"


def entry(block: Block, collection: str) -> str:
    """Return one block's entry as a line of JSON; paths are relative to the library and use `/`."""
    dxf, picture = paths_of(block.family, block.name)
    facts = {
        "block": block.name,
        "family": block.family,
        "standard": block.standard,
        "size": block.size,
        "length": block.length,
        "view": block.view.kind,
        "thread": block.thread,
        "units": str(block.units),
        "designation": block.designation,
        "dimensions": dict(block.dimensions),
        "attributes": {attribute.tag: attribute.text for attribute in block.attributes},
        "base_point": [0.0, 0.0],
        "bounds": [round(place, 9) + 0.0 for place in block.view.bounds],
        "dxf": dxf,
        "collection": collection,
        "thumbnail": picture,
        "fingerprint": block.fingerprint,
        "measures": [measure.facts() for measure in block.measures],
        "unmeasured": list(block.unmeasured),
    }
    return json.dumps(facts, ensure_ascii=False, separators=(",", ":"))


def block_of_line(line: bytes) -> str | None:
    """Return the block that a line of a manifest is about, None for the lines of its head and tail."""
    before, after = line.startswith(_FIRST), line.find(b'"', len(_FIRST))
    return line[len(_FIRST) : after].decode() if before else None


def manifest_parts(shop: Shop, sheets: Iterable[str]) -> tuple[str, str]:
    """Return what stands before and after the entries, which are parted by a comma and a line break.

    `sheets` are the paths of the contact sheets.

    One line a block, so that two libraries can be compared line by line.
    """
    head = {
        "schema": SCHEMA,
        "generator": f"blockwright {__version__}",
        "shop": _shop(shop),
        "roles": {
            str(role): {
                "layer": "0" if shop.layer_zero else style.layer,
                "colour": style.colour,
                "linetype": style.linetype,
                "lineweight": style.lineweight,
            }
            for role, style in shop.roles.items()
        },
        "linetypes": {name: list(linetype.pattern) for name, linetype in shop.linetypes.items()},
    }
    listed = json.dumps(list(sheets), ensure_ascii=False, indent=1).replace("\n", "\n ")
    return json.dumps(head, ensure_ascii=False, indent=1)[
        :-2
    ] + ',\n "blocks": [\n', f'\n ],\n "sheets": {listed}\n}}\n'


def _shop(shop: Shop) -> dict[str, object]:
    """State what of a shop standard shows in the files."""
    return {
        "shop": shop.key,
        "title": shop.title,
        "dxf": shop.dxf,
        "thread_style": shop.thread_style,
        "hidden_lines": shop.hidden_lines,
        "plot_scale": shop.plot_scale,
        "axis_overhang": shop.axis_overhang,
        "text": {"style": shop.text.name, "font": shop.text.font, "height": shop.text.height},
        "visible": sorted(shop.visible),
    }
