"""The manifest: library.json, every block with its dimensions, files and fingerprint, for programs."""

import json
from collections.abc import Sequence

from builder import __version__
from builder.block.block import Block
from builder.definition.shop import Shop

SCHEMA = "urn:blockwright:schema:library:1"


def entry(block: Block) -> str:
    """Return one block's entry as a line of JSON; paths are relative to the library and use `/`."""
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
        "dxf": f"blocks/{block.family}/{block.name}.dxf",
        "collection": f"collections/{block.family}.dxf",
        "thumbnail": f"thumbnails/{block.family}/{block.name}.png",
        "fingerprint": block.fingerprint,
    }
    return json.dumps(facts, ensure_ascii=False, separators=(",", ":"))


def manifest(entries: Sequence[str], shop: Shop) -> str:
    """Return the whole manifest; one line a block, so that two libraries can be compared line by line."""
    head = {
        "schema": SCHEMA,
        "generator": f"blockwright {__version__}",
        "shop": {"shop": shop.key, "title": shop.title, "dxf": shop.dxf, "thread_style": shop.thread_style},
        "roles": {
            str(role): {
                "layer": "0" if shop.layer_zero else style.layer,
                "linetype": style.linetype,
                "lineweight": style.lineweight,
            }
            for role, style in shop.roles.items()
        },
    }
    body = ",\n".join(entries)
    return json.dumps(head, ensure_ascii=False, indent=1)[:-2] + f',\n "blocks": [\n{body}\n ]\n}}\n'
