"""Blocks and shop standards made by hand, for tests of the outputs."""

from dataclasses import replace

from builder.block.block import Attribute, Block
from builder.definition.shop import LineStyle, LineType, Shop, TextStyle
from builder.view.view import View
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Shape, Text
from builder.words.units import Unit

# Elements in line widths d, ISO 128-2: dashed 12d 3d, long-dash dot 24d 3d 0.5d 3d (from memory).
NARROW = 0.25
LINETYPES = {
    "CONTINUOUS": LineType("CONTINUOUS", "Solid", ()),
    "BW_DASHED": LineType("BW_DASHED", "Dashed __ __ __", (12 * NARROW, -3 * NARROW)),
    "BW_CHAIN": LineType(
        "BW_CHAIN", "Long dash dot ____ . ____", (24 * NARROW, -3 * NARROW, 0.5 * NARROW, -3 * NARROW)
    ),
}
ROLES = {
    Role.OUTLINE: LineStyle("BW-OUTLINE", 7, "CONTINUOUS", 0.5),
    Role.THREAD: LineStyle("BW-NARROW", 3, "CONTINUOUS", 0.25),
    Role.HIDDEN: LineStyle("BW-HIDDEN", 2, "BW_DASHED", 0.25),
    Role.AXIS: LineStyle("BW-AXIS", 1, "BW_CHAIN", 0.25),
    Role.HATCHING: LineStyle("BW-NARROW", 3, "CONTINUOUS", 0.25),
    Role.TEXT: LineStyle("BW-TEXT", 4, "CONTINUOUS", 0.35),
    Role.NARROW: LineStyle("BW-NARROW", 3, "CONTINUOUS", 0.25),
}
FINGERPRINT = "bw1-0123456789abcdef"


def shop(dxf: str = "R2018", *, layer_zero: bool = False, plot_scale: float = 1.0) -> Shop:
    """A shop in the manner of ISO 128: wide and narrow 0.5/0.25, dashed hidden lines, chain axes."""
    return Shop(
        key="sample",
        title="Sample shop",
        dxf=dxf,
        units=None,
        plot_scale=plot_scale,
        thread_style="simplified",
        hidden_lines=True,
        axis_overhang=3.0,
        layer_zero=layer_zero,
        roles=ROLES,
        linetypes=LINETYPES,
        text=TextStyle("BW_TEXT", "txt", 2.5),
        visible=frozenset({"DESIGNATION"}),
        defaults={},
        family_defaults={},
        stock=(),
    )


def attributes(designation: str, size: str) -> tuple[Attribute, ...]:
    """The twelve attributes of a block: three for the drafter to fill in, one of all visible."""
    return (
        Attribute("DESIGNATION", "Designation", designation, visible=True),
        Attribute("STANDARD", "Standard", "ISO 4014"),
        Attribute("SIZE", "Size", size),
        Attribute("LENGTH", "Length", "80"),
        Attribute("CLASS", "Property class", "8.8", editable=True),
        Attribute("MATERIAL", "Material", "Steel", editable=True),
        Attribute("FINISH", "Finish", "Plain", editable=True),
        Attribute("UNITS", "Unit", "mm"),
        Attribute("MASS", "Mass in kg", "0.085"),
        Attribute("COUNT", "Counts in parts lists", "1"),
        Attribute("PARTNO", "Part number", "", editable=True, visible=True),
        Attribute("LIBREV", "Library revision", FINGERPRINT),
    )


def side_shapes(d: float) -> tuple[Shape, ...]:
    """A bolt-like outline of diameter d with every kind of shape and every role in it."""
    r, shank = d / 2, 4.0 * d / 3.0
    return (
        Line(Point(0.0, -r), Point(shank, -r), Role.OUTLINE),
        Line(Point(shank, -r), Point(shank, r), Role.OUTLINE),
        Line(Point(shank, r), Point(-0.0, r), Role.OUTLINE),
        Arc(Point(0.0, 0.0), r, 90.0, 270.0, Role.OUTLINE),
        Arc(Point(shank, 0.0), r, 270.0, 450.0, Role.OUTLINE),  # over the 0 mark
        Arc(Point(shank, 0.0), r, 180.0, 360.0, Role.HIDDEN),
        Line(Point(shank / 3, 0.85 * r), Point(shank, 0.85 * r), Role.THREAD),
        Circle(Point(shank / 2, 1.0 / 3.0), r / 3, Role.HIDDEN),
        Ellipse(Point(shank / 2, 0.0), Point(r / 4, r / 3), 0.4, 0.0, 360.0, Role.HIDDEN),
        Ellipse(Point(shank, 0.0), Point(0.0, r), 0.3, 180.0, 370.0, Role.NARROW),  # over the 0 mark
        Line(Point(-r - 3.0, 0.0), Point(shank + r + 3.0, 0.0), Role.AXIS),
        Line(Point(0.0, -r), Point(r, 0.0), Role.HATCHING),
        Text(Point(0.1, r + 1.0), d / 4, "Ø° 12.9", Role.TEXT),
    )


def block(size: str = "M12", view: str = "side", d: float = 12.0, unit: Unit = Unit.MM) -> Block:
    """One block; name and caption follow from size and view."""
    designation = f"Hexagon head bolt ISO 4014 - {size} x 80 - 8.8"
    return Block(
        name=f"ISO4014-{size}X80-{view.upper()}",
        family="iso-4014",
        title="Hexagon head bolt",
        standard="ISO 4014",
        size=size,
        length=80.0,
        view=View(view, side_shapes(d)),
        thread="simplified",
        units=unit,
        designation=f"{size} x 80 {view}",
        dimensions={"d": d},
        attributes=attributes(designation, size),
        fingerprint=FINGERPRINT,
    )


def blocks(sizes: int = 3, views: tuple[str, ...] = ("side", "end")) -> tuple[Block, ...]:
    """Several sizes, each in several views."""
    return tuple(block(f"M{d}", view, float(d)) for d in range(8, 8 + sizes) for view in views)


def with_shapes(base: Block, *shapes: Shape) -> Block:
    """The same block with other shapes."""
    return replace(base, view=View(base.view.kind, shapes))
