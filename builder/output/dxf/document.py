"""An empty drawing to a shop's standard: layers, line types, text style, units. ezdxf makes and writes it."""

from collections.abc import Iterator
from contextlib import contextmanager

from ezdxf._options import options  # ezdxf.options itself: strict typing does not see it there
from ezdxf.document import Drawing

from builder.definition.shop import LineType, Shop
from builder.output.dxf.dialect import INSERT_UNITS, lineweight_of
from builder.output.dxf.identity import APPID
from builder.words.roles import Role
from builder.words.units import Unit

_R12 = "AC1009"  # knows neither units nor line widths


@contextmanager
def fixed_metadata() -> Iterator[None]:
    """Pin time stamps and identifiers while ezdxf makes and writes documents; the switch is process-wide."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def new_document(shop: Shop, unit: Unit) -> Drawing:
    """Return an empty document to a shop's standard, every table filled and every handle of it given out."""
    doc = Drawing.new(shop.dxf)  # ezdxf.new() would set metres, and warn of it in R12
    _set_header(doc, unit)
    _add_linetypes(doc, shop, unit)
    if not shop.layer_zero:
        _add_layers(doc, shop)
    _add_text_style(doc, shop)
    doc.appids.add(APPID)
    doc.set_modelspace_vport(1.0)
    _add_classes(doc)
    doc.update_all()  # ezdxf's own application names take their handles before any content does
    return doc


def _add_classes(doc: Drawing) -> None:
    # left to itself ezdxf lists classes in the order of a set, which changes from process to process
    for kind in sorted(doc.entitydb.dxf_types_in_use()):
        doc.classes.add_class(kind)


def _set_header(doc: Drawing, unit: Unit) -> None:
    header = doc.header
    header["$INSBASE"] = (0.0, 0.0, 0.0)
    header["$LTSCALE"] = 1.0
    if doc.dxfversion > _R12:
        header["$INSUNITS"] = INSERT_UNITS[unit]
        header["$MEASUREMENT"] = 0 if unit is Unit.INCH else 1
        header["$LWDISPLAY"] = 1


def _add_linetypes(doc: Drawing, shop: Shop, unit: Unit) -> None:
    for linetype in shop.linetypes.values():
        if not doc.linetypes.has_entry(linetype.name):
            doc.linetypes.add(linetype.name, _pattern(linetype, shop, unit), description=linetype.description)


def _pattern(linetype: LineType, shop: Shop, unit: Unit) -> list[float]:
    drawn = [round(shop.drawn(dash, unit), 9) for dash in linetype.pattern]
    return [round(sum(map(abs, drawn)), 9), *drawn]  # DXF states the total length first


def _add_layers(doc: Drawing, shop: Shop) -> None:
    for role in Role:
        style = shop.roles[role]
        name = style.layer
        layer = doc.layers.get(name) if doc.layers.has_entry(name) else doc.layers.add(name)
        layer.dxf.color, layer.dxf.linetype = style.colour, style.linetype
        if doc.dxfversion > _R12:
            layer.dxf.lineweight = lineweight_of(style)


def _add_text_style(doc: Drawing, shop: Shop) -> None:
    name, font = shop.text.name, shop.text.font
    style = doc.styles.get(name) if doc.styles.has_entry(name) else doc.styles.add(name, font=font)
    style.dxf.font = font
