"""The sights of a DXF file: of its blocks as they went in, of two readers from PyPI and of two from npm."""

import json
import math
import shutil
import struct
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import cadkit
import pyogrio.raw
from sight import Entity, Place, Sight

from builder.block.block import Block
from builder.definition.shop import Shop
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Shape, Text

READERS = Path(__file__).parent / "readers"
# $ACADVER, DXF reference, header section; text is UTF-8 from R2007 on
VERSIONS = {
    "R12": "AC1009",
    "R2000": "AC1015",
    "R2004": "AC1018",
    "R2007": "AC1021",
    "R2010": "AC1024",
    "R2013": "AC1027",
    "R2018": "AC1032",
}
LATIN = {"R12", "R2000", "R2004"}
ALWAYS_THERE = {"layers": ("0", "Defpoints"), "linetypes": ("ByBlock", "ByLayer", "Continuous")}


# --- the blocks that went in --------------------------------------------------------------------------------


def put_in(blocks: Sequence[Block], shop: Shop, *, collection: bool) -> Sight:
    """Return what a file must show; the places of inserts and attributes are left to the readers to agree on."""
    drawn = [{"name": block.name, "base": (0.0, 0.0), "entities": _content(block, shop)} for block in blocks]
    units = {"in": (1, 0), "mm": (4, 1)}[blocks[0].units.value]  # $INSUNITS, $MEASUREMENT: DXF reference
    header: dict[str, Any] = {"version": VERSIONS[shop.dxf], "base": (0.0, 0.0)}
    if shop.dxf != "R12":
        header |= {"units": units[0], "measurement": units[1]}
    return {
        "reader": "the block",
        "header": header,
        **_tables(shop),
        "entities": list(_sheet(blocks, shop)) if collection else drawn[0]["entities"],
        "blocks": drawn if collection else [],
    }


def _tables(shop: Shop) -> dict[str, list[Entity]]:
    styles = () if shop.layer_zero else shop.roles.values()
    layers = {s.layer: {"name": s.layer, "colour": s.colour, "linetype": s.linetype} for s in styles}
    linetypes = {name for name in shop.linetypes if name.casefold() != "continuous"}
    return {
        "layers": [*layers.values(), *({"name": name} for name in ALWAYS_THERE["layers"])],
        "linetypes": [{"name": name} for name in (*linetypes, *ALWAYS_THERE["linetypes"])],
    }


def _content(block: Block, shop: Shop) -> list[Entity]:
    shapes = [_shape(shape, shop) for shape in block.view.shapes]
    return shapes + [
        {
            "kind": "ATTDEF",
            **_look(Role.TEXT, shop),
            "tag": a.tag,
            "prompt": a.prompt,
            "text": a.text,
            "invisible": not a.visible,
            "constant": not a.editable,
        }
        for a in block.attributes
    ]


def _sheet(blocks: Sequence[Block], shop: Shop) -> Iterator[Entity]:
    for block in blocks:
        yield {"kind": "INSERT", "name": block.name, "layer": "0"}
        for a in block.attributes:
            if a.editable:
                shown = {"tag": a.tag, "text": a.text, "invisible": not a.visible}
                yield {"kind": "ATTRIB", "layer": _look(Role.TEXT, shop)["layer"]} | shown
        yield {"kind": "TEXT", **_look(Role.TEXT, shop), "text": block.designation}


def _look(role: Role, shop: Shop) -> dict[str, Any]:
    style = shop.roles[role]
    if shop.layer_zero:
        return {"layer": "0", "linetype": style.linetype, "colour": 0}
    return {"layer": style.layer, "linetype": "", "colour": 256}


def _shape(shape: Shape, shop: Shop) -> Entity:
    look = _look(shape.role, shop)
    match shape:
        case Line(start, end):
            return {"kind": "LINE", **look, "start": start, "end": end}
        case Circle(centre, radius):
            return {"kind": "CIRCLE", **look, "centre": centre, "radius": radius}
        case Arc(centre, radius):
            return {"kind": "ARC", **look, "centre": centre, "radius": radius, **_angles(shape)}
        case Ellipse(centre, major, ratio):
            # R12 knows none and has a polyline of arcs within 1e-4 of the major half axis
            within = {"within": 1e-4 * math.hypot(*major)} if shop.dxf == "R12" else {}
            return {
                "kind": "ELLIPSE",
                **look,
                "centre": centre,
                "major": major,
                "ratio": ratio,
                **_angles(shape),
            } | within
        case Text(at, height, text):
            return {"kind": "TEXT", **look, "at": at, "height": height, "text": text}


def _angles(curve: Arc | Ellipse) -> dict[str, float]:
    if isinstance(curve, Ellipse) and curve.whole:
        return {"from": 0.0, "to": math.tau}
    return {"from": math.radians(curve.start), "to": math.radians(curve.end)}


# --- PyPI pycadkit: everything, arcs as arcs ----------------------------------------------------------------


def by_cadkit(path: Path) -> Sight:
    """Return what cadkit sees; it states a unit for every file but R12, none for those."""
    whole = cadkit.read(str(path)).to_dict()
    raw = {key.removeprefix("dxf.$"): value for key, value in whole["props"].items()}
    header = {"version": whole["source"]["version"], "base": raw["INSBASE"][:2]}
    header |= {"low": raw["EXTMIN"][:2], "high": raw["EXTMAX"][:2], "measurement": raw.get("MEASUREMENT")}
    header |= {"units": {"inch": 1, "millimeter": 4, "unitless": None}[whole["units"]["unit"]]}
    model = next(m for m in whole["models"] if m["name"] == "Model")
    return {
        "reader": "cadkit",
        "header": header,
        "layers": [
            {"name": n["name"], "colour": n["color"]["index"], "linetype": n["linetype"]} for n in whole["layers"]
        ],
        "linetypes": [{"name": n["name"], "pattern": n["pattern"]} for n in whole["linetypes"]],
        "entities": [seen for e in model["entities"] for seen in cad_entity(e)],
        "blocks": [
            {
                "name": b["name"],
                "base": _xy(b["base_point"]),
                "entities": [seen for e in b["entities"] for seen in cad_entity(e)],
            }
            for b in whole["blocks"]
        ],
    }


def cad_entity(entity: dict[str, Any]) -> Iterator[Entity]:
    """Return an entity of cadkit's, and after an INSERT its attributes."""
    kind, props = entity["kind"], entity["props"]
    colour = {"by_layer": 256, "by_block": 0}.get(entity["color"]["type"], entity["color"].get("index"))
    look = {"layer": entity["layer"], "linetype": entity["linetype"] or "", "colour": colour}
    match kind["type"]:
        case "line":
            yield {"kind": "LINE", **look, "start": _xy(kind["start"]), "end": _xy(kind["end"])}
        case "circle":
            yield {"kind": "CIRCLE", **look, "centre": _xy(kind["center"]), "radius": kind["radius"]}
        case "arc":
            angles = {"from": kind["start_angle"], "to": kind["end_angle"]}
            yield {"kind": "ARC", **look, "centre": _xy(kind["center"]), "radius": kind["radius"], **angles}
        case "ellipse":
            angles = {"from": kind["start_param"], "to": kind["end_param"]}
            axes = {"centre": _xy(kind["center"]), "major": _xy(kind["major_axis"]), "ratio": kind["ratio"]}
            yield {"kind": "ELLIPSE", **look, **axes, **angles}
        case "polyline":
            knots = [(*_xy(vertex["position"]), vertex["bulge"]) for vertex in kind["vertices"]]
            yield {"kind": "POLYLINE", **look, "knots": knots, "closed": kind["closed"]}
        case "text":
            where = {"at": _xy(kind["position"]), "height": kind["height"]}
            yield {"kind": "TEXT", **look, **where, "text": kind["value"]}
        case "insert":
            yield {"kind": "INSERT", **look, "at": _xy(kind["position"]), "name": kind["block"]}
            for a in entity["attributes"]:
                where = {
                    "layer": a.get("layer", look["layer"]),
                    "at": _xy(a["position"]),
                    "height": a["display"]["height"],
                }
                yield {"kind": "ATTRIB", **where, "tag": a["tag"], "text": a["value"], "invisible": a["invisible"]}
        case "unknown" if kind["type_name"] == "dxf.ATTDEF":
            own = {key.removeprefix("dxf.attdef."): value for key, value in props.items()}
            flags = {"invisible": bool(own["flags"] & 1), "constant": bool(own["flags"] & 2)}  # DXF reference, 70
            where = {"at": own["position"][:2], "height": own["height"], "text": own["default"]}
            yield {"kind": "ATTDEF", **look, **where, "tag": own["tag"], "prompt": own["prompt"], **flags}
        case _:
            raise AssertionError(f"cadkit gives {kind}")


def _xy(place: dict[str, float]) -> Place:
    return place["x"], place["y"]


# --- PyPI pyogrio: GDAL, curves as chords -------------------------------------------------------------------


def by_gdal(path: Path, version: str) -> Sight:
    """Return what GDAL sees: neither header nor tables, no colour, a tag only of some attributes."""
    entities = [seen for _, found in _features(path, version, "entities") for seen in found]
    blocks: dict[str, list[Entity]] = {}
    for name, found in _features(path, version, "blocks") if any(e["kind"] == "INSERT" for e in entities) else ():
        blocks.setdefault(name, []).extend(found)
    named = [{"name": name, "entities": found} for name, found in blocks.items()]
    return {"reader": "GDAL", "entities": entities, "blocks": named}


def _features(path: Path, version: str, layer: str) -> Iterator[tuple[str, list[Entity]]]:
    """Return block (of the layer of blocks) and entity, with attributes after an INSERT."""
    options = {"INLINE_BLOCKS": "NO", "MERGE_BLOCK_GEOMETRIES": "NO"}
    if version not in LATIN:
        options["ENCODING"] = "UTF-8"
    wanted = ["Layer", "Linetype", "Text", "BlockName", "BlockAttributes", "Block", "AttributeTag"]
    meta, _, shapes, columns = pyogrio.raw.read(path, layer=layer, columns=wanted, **options)
    for shape, *values in zip(shapes, *columns, strict=True):
        told = dict(zip(meta["fields"], values, strict=True))
        look = {"layer": told["Layer"], "linetype": told["Linetype"] or ""}
        yield told["Block"], list(_feature(_points(shape), look, told))


def _feature(points: list[Place], look: Entity, told: dict[str, Any]) -> Iterator[Entity]:
    if told["BlockName"] is not None:
        yield {"kind": "INSERT", **look, "at": points[0], "name": told["BlockName"]}
        for attribute in told["BlockAttributes"]:
            tag, text = attribute.split(" ", 1)
            yield {"kind": "ATTRIB", "tag": tag, "text": text}
    elif told["Text"] is not None:
        yield {"kind": "LETTERS", **look, "at": points[0], "text": told["Text"], "tag": told["AttributeTag"]}
    else:
        yield {"kind": "CHAIN", **look, "knots": [(*point, 0.0) for point in points]}


def _points(wkb: bytes) -> list[Place]:
    """Return the places of a point or a string of lines in well-known binary, x y z each."""
    point = struct.unpack_from("<I", wkb, 1)[0] & 0xFF == 1
    at = 5 if point else 9
    numbers = struct.unpack(f"<{(len(wkb) - at) // 8}d", wkb[at:])
    return list(zip(numbers[::3], numbers[1::3], strict=True))


# --- npm dxf and dxf-parser ---------------------------------------------------------------------------------


def node_missing() -> str:
    """Return why the readers on node cannot be asked, nothing where they can."""
    if shutil.which("node") and (READERS / "node_modules").is_dir():
        return ""
    return "node or tests/readers/node_modules is missing; with node installed: npm ci --prefix tests/readers"


def by_node(paths: Sequence[tuple[Path, str]]) -> list[list[Sight]]:
    """Return what two readers on node see of each file, given with its version; all in one process."""
    asked = "".join(f"{path}\t{'latin1' if version in LATIN else 'utf8'}\n" for path, version in paths)
    command = ["node", str(READERS / "read.js")]
    done = subprocess.run(command, input=asked, capture_output=True, check=False, encoding="utf-8", timeout=300)
    assert done.returncode == 0, done.stderr
    sights = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(sights) == len(paths)
    return sights
