"""A shop standard's files become a shop, checked for what no DXF file can hold."""

import re
from pathlib import Path

from builder.definition.dxf_text import check_text
from builder.definition.family import FILLED_IN
from builder.definition.node import Node, fraction_in
from builder.definition.shop import LineStyle, LineType, Shop, StockLine, TextStyle
from builder.definition.shop_layers import read_layers
from builder.words.limits import SCALES, SHORTEST
from builder.words.near import suggestion
from builder.words.problems import Problems
from builder.words.roles import Role
from builder.words.units import Unit

CONTINUOUS = LineType("CONTINUOUS", "Solid line", ())
_RESERVED = (CONTINUOUS.name, "BYLAYER", "BYBLOCK")
_SCALE = re.compile(r"(\d{1,6})[/:]([1-9]\d{0,5})", re.ASCII)
_DECIMAL = re.compile(r"\d{1,6}(?:\.\d{1,6})?|\.\d{1,6}", re.ASCII)


def tells_shop(root: Node | None) -> bool:
    """Tell a shop standard from a definition by the key that it must have."""
    return root is not None and "shop" in root.entries and "family" not in root.entries


def read_shop(name_or_path: str | Path, shops_folder: Path, problems: Problems) -> Shop | None:
    """Read a shop standard: one that lies in the shops folder, by its name, or a .yaml file, by its path."""
    before = len(problems)
    root = read_layers(str(name_or_path), shops_folder, problems)
    if root is None:
        return None
    for key in ("title", "attributes", "linetypes"):
        if key in root.entries:
            check_text(root.entries[key], problems)
    shop = _shop(root, problems)
    return shop if len(problems) == before else None


def _shop(root: Node, problems: Problems) -> Shop:
    entries = root.entries
    linetypes = _linetypes(entries["linetypes"], problems)
    attributes = entries.get("attributes", root)  # root: it has none of the keys asked for below
    families = attributes.entries.get("families")
    visible = attributes.entries.get("visible")
    stock = entries["stock"].members if "stock" in entries else []
    return Shop(
        key=entries["shop"].text,
        title=entries["title"].text,
        dxf=entries["dxf"].text,
        units=None if entries["units"].text == "own" else Unit(entries["units"].text),
        plot_scale=_scale(entries["plot_scale"], problems),
        thread_style=entries["thread_style"].text,
        hidden_lines=entries["hidden_lines"].text == "drawn",
        axis_overhang=entries["axis_overhang"].number or 0.0,
        layer_zero=entries["layers"].text == "zero",
        roles={role: _style(entries["roles"].entries[role], linetypes, problems) for role in Role},
        linetypes=linetypes,
        text=_text(entries["text"], problems),
        visible=frozenset(tag.text for tag in visible.members) if visible else frozenset(),
        defaults=_defaults(attributes),
        family_defaults={key: _defaults(node) for key, node in families.entries.items()} if families else {},
        stock=tuple(_stock(line, problems) for line in stock),
    )


def _defaults(node: Node) -> dict[str, str]:
    return {key: node.entries[key].text for key in FILLED_IN if key in node.entries}


def _scale(node: Node, problems: Problems) -> float:
    scale = node.number
    if scale is None and not node.quoted and (found := _SCALE.fullmatch(node.text)):
        scale = int(found[1]) / int(found[2])
    if scale is None or scale <= 0.0:
        expected = "expected a scale such as 1, 0.5, 1/2 or 1:2, without quotes"
        problems.add(node.position, f"{node.described} as plot scale", expected)
        return 1.0
    if not SCALES[0] <= scale <= SCALES[1]:
        problems.add(node.position, f"{node.described} as plot scale", "expected from 1:10000 to 1000:1")
    return scale


def _style(node: Node, linetypes: dict[str, LineType], problems: Problems) -> LineStyle:
    linetype = node.entries["linetype"]
    if linetype.text not in linetypes:
        expected = f"expected one that is defined{suggestion(linetype.text, linetypes)}"
        problems.add(linetype.position, f"unknown line type {linetype.text}", expected)
    colour, width = node.entries["colour"].number or 0.0, node.entries["width"].number or 0.0
    return LineStyle(node.entries["layer"].text, int(colour), linetype.text, width)


def _linetypes(node: Node, problems: Problems) -> dict[str, LineType]:
    """Return the line types that are defined, and the continuous one that every drawing has."""
    linetypes = {CONTINUOUS.name: CONTINUOUS}
    for name, entry in node.entries.items():
        pattern = tuple(element.number or 0.0 for element in entry.entries["pattern"].members)
        if name in _RESERVED:
            problems.add(entry.named, f"line type {name} is built in", "expected another name")
        if not _drawable(pattern):
            expected = "expected pairs of a dash (or 0 for a dot) and a negative gap"
            problems.add(entry.entries["pattern"].position, f"pattern of {name} cannot be drawn", expected)
        elif sum(map(abs, pattern)) < SHORTEST:
            wrong = f"pattern of {name} is {sum(map(abs, pattern)):g} mm long"
            problems.add(entry.entries["pattern"].position, wrong, f"expected {SHORTEST} or more")
        linetypes[name] = LineType(name, entry.entries["description"].text, pattern)
    return linetypes


def _drawable(pattern: tuple[float, ...]) -> bool:
    dashes, gaps = pattern[::2], pattern[1::2]
    paired = len(dashes) == len(gaps) > 0
    return paired and all(dash >= 0.0 for dash in dashes) and all(gap < 0.0 for gap in gaps)


def _text(node: Node, problems: Problems) -> TextStyle:
    height = node.entries["height"]
    if not (height.number or 0.0) > 0.0:
        problems.add(height.position, "text without height", "expected more than 0")
    return TextStyle(node.entries["style"].text, node.entries["font"].text, height.number or 0.0)


def _stock(node: Node, problems: Problems) -> StockLine:
    sizes = node.entries["sizes"].members if "sizes" in node.entries else []
    lengths = node.entries["lengths"].members if "lengths" in node.entries else []
    stretches = tuple(_stretch(length, problems) for length in lengths)
    return StockLine(node.entries["family"].text, tuple(s.text for s in sizes), stretches, node.position)


def _stretch(node: Node, problems: Problems) -> tuple[float, float]:
    if node.number is not None:
        return node.number, node.number
    ends = [_end(end) for end in node.text.split("..")] if not node.quoted else []
    match ends:
        case [float(low), float(high)] if low <= high:
            return low, high
    expected = "expected a length such as 80, or a range such as 20..60, without quotes"
    problems.add(node.position, f"{node.described} as a length", expected)
    return 0.0, 0.0


def _end(text: str) -> float | None:
    return float(text) if _DECIMAL.fullmatch(text) else fraction_in(text)
