"""The slow way to the same files: ezdxf, entity by entity. What the fast way must equal to the byte."""

import io
import math
from collections.abc import Sequence

from ezdxf.document import Drawing
from ezdxf.layouts import BaseLayout

from builder.block.block import Block
from builder.definition.shop import LineStyle, Shop
from builder.output.dxf.attributes import Definition, definitions_of, extended
from builder.output.dxf.document import fixed_metadata, new_document
from builder.output.dxf.grid import items_of, lay_out, sheet_bounds
from builder.words.roles import Role
from builder.words.shapes import Arc, Bounds, Circle, Ellipse, Line, Point, Shape, Text, arcs_of
from builder.words.units import Unit


def single(block: Block, shop: Shop) -> bytes:
    with fixed_metadata():
        doc = new_document(shop, block.units)
        space = doc.modelspace()
        definitions = definitions_of(block, block.view.bounds, shop)
        _fill(space, block, definitions, shop)
        return _written(doc, extended(block.view.bounds, definitions))


def collection(blocks: Sequence[Block], shop: Shop) -> bytes:
    with fixed_metadata():
        doc = new_document(shop, blocks[0].units)
        items = items_of(blocks, shop)
        for item in items:
            layout = doc.blocks.new(item.block.name, (0.0, 0.0))
            if shop.dxf not in {"R12", "R2000", "R2004"}:
                layout.units = 1 if item.block.units is Unit.INCH else 4
            layout.scale_uniformly = True
            _fill(layout, item.block, item.definitions, shop)
        placed = lay_out(items, shop.drawn(shop.text.height, blocks[0].units))
        space = doc.modelspace()
        for p in placed:
            insert = space.add_blockref(p.item.block.name, _at(p.at))
            for d in p.item.definitions:
                if not d.flags & 2:
                    attribs = _look(shop, Role.TEXT) | {
                        "height": round(d.lettering.height, 9),
                        "style": shop.text.name,
                        "flags": d.flags & 1,
                    }
                    at = _at(Point(p.at.x + d.lettering.at.x, p.at.y + d.lettering.at.y))
                    attrib = insert.add_attrib(d.tag, d.lettering.text, at, dxfattribs=attribs)
                    # ezdxf states this rule for INSERT but only follows it once a file was read again
                    attrib.dxf.owner = insert.dxf.handle
            add_shape(space, p.caption, shop)
        return _written(doc, sheet_bounds(placed))


def _fill(layout: BaseLayout, block: Block, definitions: Sequence[Definition], shop: Shop) -> None:
    for shape in block.view.shapes:
        add_shape(layout, shape, shop)
    for d in definitions:
        attribs = _look(shop, Role.TEXT) | {"prompt": d.prompt, "flags": d.flags, "style": shop.text.name}
        attdef = layout.add_attdef(
            d.tag,
            _at(d.lettering.at),
            d.lettering.text,
            height=round(d.lettering.height, 9),
            dxfattribs=attribs,
        )
        if d.tag == "LIBREV":
            values = (block.name, block.family, block.fingerprint)
            attdef.set_xdata("BLOCKWRIGHT", [(1000, v) for v in values])


def add_shape(layout: BaseLayout, shape: Shape, shop: Shop) -> None:
    look = _look(shop, shape.role)
    match shape:
        case Line(start, end):
            layout.add_line(_at(start), _at(end), dxfattribs=look)
        case Circle(centre, radius):
            layout.add_circle(_at(centre), round(radius, 9), dxfattribs=look)
        case Arc(centre, radius, start, end):
            finish = round(end - 360.0 if end > 360.0 else end, 9)
            layout.add_arc(_at(centre), round(radius, 9), round(start, 9), finish, dxfattribs=look)
        case Ellipse() if shop.dxf == "R12":  # ELLIPSE came later (DXF reference)
            _add_polyline(layout, shape, look)
        case Ellipse(centre, major, ratio, start, end):
            span = (0.0, math.tau) if shape.whole else (_angle(start), _angle(end - 360.0 if end > 360.0 else end))
            layout.add_ellipse(_at(centre), _at(major), round(ratio, 12), *span, dxfattribs=look)
        case Text(at, height, text):
            where = {"insert": _at(at), "style": shop.text.name}
            layout.add_text(text, height=round(height, 9), dxfattribs=look | where)


def _look(shop: Shop, role: Role) -> dict[str, object]:
    style: LineStyle = shop.roles[role]
    if not shop.layer_zero:
        return {"layer": style.layer}
    look: dict[str, object] = {"layer": "0", "linetype": style.linetype, "color": 0}
    return look if shop.dxf == "R12" else look | {"lineweight": round(style.lineweight * 100)}


def _at(point: Point) -> tuple[float, float]:
    return round(point.x, 9) + 0.0, round(point.y, 9) + 0.0


def _add_polyline(layout: BaseLayout, ellipse: Ellipse, look: dict[str, object]) -> None:
    pieces = arcs_of(ellipse, 1e-4 * math.hypot(*ellipse.major))
    knots = []
    for piece in pieces:
        start, sweep = (
            (piece.start, 0.0) if isinstance(piece, Line) else (piece.at(piece.start), piece.end - piece.start)
        )
        knots.append((*_at(start), round(math.tan(math.radians(sweep) / 4), 9)))
    last = pieces[-1]
    if not ellipse.whole:
        knots.append((*_at(last.end if isinstance(last, Line) else last.at(last.end)), 0.0))
    # 128: dashes run on round the vertices; ezdxf gives vertices a layer and line type, but no colour
    polyline = layout.add_polyline2d(knots, format="xyb", close=ellipse.whole, dxfattribs=look | {"flags": 128})
    for part in (*polyline.vertices, polyline.seqend):
        part.dxf.update(look)


def _angle(degrees: float) -> float:
    return min(round(math.radians(degrees), 12), math.tau)


def _written(doc: Drawing, bounds: Bounds) -> bytes:
    space = doc.modelspace()
    left, bottom, right, top = (round(b, 9) + 0.0 for b in bounds)
    space.reset_extents((left, bottom), (right, top))
    view = doc.viewports.get_config("*Active")[0]
    view.dxf.center = _at(Point((bounds.left + bounds.right) / 2, (bounds.bottom + bounds.top) / 2))
    view.dxf.height = round(1.1 * max(bounds.height, bounds.width / 1.34), 9)
    stream = io.StringIO()
    doc.write(stream)
    return doc.encode(stream.getvalue())
