"""The schema of shop standards. A file that is based on another states only what differs."""

from builder.definition.schema_parts import (
    DIALECT,
    FAMILY_KEY,
    Schema,
    fraction,
    group,
    listing,
    one_of,
    patterned,
    text,
)
from builder.words.roles import Role

DXF_VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")
THREAD_STYLES = ("iso", "simplified", "schematic", "detailed")
SHOWABLE = (  # every tag but LIBREV, which identifies the block and stays invisible
    "DESIGNATION",
    "STANDARD",
    "SIZE",
    "LENGTH",
    "MATERIAL",
    "FINISH",
    "PARTNO",
    "ITEM",
    "COUNT",
    "VIEW",
    "MASS",
)
LINEWEIGHTS = (  # mm; the only ones that a DXF file can state
    *(0.0, 0.05, 0.09, 0.13, 0.15, 0.18, 0.20, 0.25, 0.30, 0.35, 0.40, 0.50),
    *(0.53, 0.60, 0.70, 0.80, 0.90, 1.00, 1.06, 1.20, 1.40, 1.58, 2.00, 2.11),
)

_ROLES = {
    Role.OUTLINE: "Visible edges and outlines.",
    Role.THREAD: "Roots of threads.",
    Role.HIDDEN: "Hidden edges and outlines.",
    Role.AXIS: "Axes, centre lines, pitch circles.",
    Role.HATCHING: "Hatching of cut faces.",
    Role.TEXT: "Attributes, captions and other text.",
    Role.NARROW: "Narrow continuous lines: diagonals of flats, break lines.",
}

DXF_NAME = patterned(r"^[A-Z0-9$_-]{1,31}$", "expected at most 31 of A-Z 0-9 $ - _, as every DXF version allows")
REQUIRED = (
    *("shop", "title", "paper", "dxf", "units", "plot_scale", "thread_style", "hidden_lines", "axis_overhang"),
    *("layers", "roles", "linetypes", "text"),
)


def shop_schema() -> Schema:
    """Return the JSON Schema of a shop standard."""
    roles = {role.value: _role(role) for role in Role}
    stated = ["layer", "colour", "linetype", "width"]
    complete = {
        "required": list(REQUIRED),
        "properties": {
            "roles": {
                "required": list(roles),
                "properties": {role.value: {"description": _ROLES[role], "required": stated} for role in Role},
            },
            "text": {"required": ["style", "font", "height"]},
        },
    }
    properties = {**_about(), **_look(roles), "attributes": _attributes(), "stock": _stock()}
    return {
        "$schema": DIALECT,
        "$id": "urn:blockwright:schema:shop:1",
        "title": "Shop standard",
        **group("How one shop wants its blocks drawn, named and filled in.", properties, required=["shop"]),
        "if": {"properties": {"based_on": {"type": "null"}}},
        "then": complete,
    }


def _about() -> Schema:
    scale = fraction("Paper over part: 1/2 draws at half size. Text and overhangs follow it.", exclusiveMinimum=0)
    scale["pattern"] = r"^\d+[/:][1-9]\d*$"
    scale["patternErrorMessage"] = "expected a scale such as 1, 0.5, 1/2 or 1:2, without quotes"
    return {
        "shop": {"description": "Key of the shop standard.", **FAMILY_KEY},
        "title": text("Name of the shop standard, for people."),
        "based_on": {
            "description": "Shop standard for all that is not stated here: iso, asme, or a .yaml file.",
            "type": ["string", "null"],
            "minLength": 1,
            "maxLength": 250,
        },
        "paper": one_of("Unit of the lengths on paper in this file; widths are in mm always.", ("mm", "in")),
        "dxf": one_of("Version of the DXF files.", DXF_VERSIONS),
        "units": one_of("Unit that blocks are drawn in; own leaves each family its own.", ("own", "mm", "in")),
        "plot_scale": scale,
        "thread_style": one_of("How threads are drawn, in the whole library.", THREAD_STYLES),
        "hidden_lines": one_of("Whether hidden lines are drawn, in the whole library.", ("drawn", "left out")),
        "layers": one_of("By role, or everything on layer 0 to take the layer inserted on.", ("by role", "zero")),
    }


def _look(roles: Schema) -> Schema:
    element = fraction("An element.", minimum=-100, maximum=100)
    pattern = listing("Dashes positive, gaps negative, dots 0; on paper.", element, maxItems=12)
    linetype = {"description": text("What the line type is, for people."), "pattern": pattern}
    style = {
        "style": {"description": "Name of the text style.", **DXF_NAME},
        "font": {
            "description": "File name of the font; a plain stroke font exists everywhere.",
            **patterned(r"^[A-Za-z0-9_-]+\.(shx|ttf)$", "expected the file name of a font, such as txt.shx, no folder"),
        },
        "height": fraction("Height of capitals, on paper.", exclusiveMinimum=0, maximum=100),
    }
    return {
        "axis_overhang": fraction("How far axes run over the outline, on paper.", minimum=0, maximum=100),
        "roles": group("How the lines of each role are drawn.", roles),
        "linetypes": {
            "description": "Line types by name, besides CONTINUOUS.",
            "type": "object",
            "propertyNames": DXF_NAME,
            "additionalProperties": group("One line type.", linetype, required=list(linetype)),
            "maxProperties": 100,
        },
        "text": group("Text style of attributes and captions.", style),
    }


def _role(role: Role) -> Schema:
    properties = {
        "layer": {"description": "Layer.", **DXF_NAME},
        "colour": {
            "description": "DXF colour number, 1 to 255.",
            "type": "integer",
            "minimum": 1,
            "maximum": 255,
        },
        "linetype": {"description": "CONTINUOUS, or a name from linetypes.", **DXF_NAME},
        "width": {
            "description": "Line weight in mm, one of those that DXF knows.",
            "enum": list(LINEWEIGHTS),
        },
    }
    return group(_ROLES[role], properties)


def _attributes() -> Schema:
    own = {
        "class": text("Property class or grade."),
        "material": text("Material."),
        "finish": text("Surface finish or coating."),
    }
    families = {
        "description": "The same for single families, by key.",
        "type": "object",
        "propertyNames": FAMILY_KEY,
        "additionalProperties": group("For one family.", own),
        "maxProperties": 1000,
    }
    visible = listing("Tags that show on the drawing.", one_of("A tag.", SHOWABLE), maxItems=len(SHOWABLE))
    return group("What blocks say of their parts.", {"visible": visible, **own, "families": families})


def _stock() -> Schema:
    stretch = {
        "description": "A length, or 20..60 for all listed lengths between.",
        "type": ["number", "string"],
        "pattern": r"^[0-9./-]+$",
        "patternErrorMessage": "expected a length such as 80, or a range such as 20..60, without quotes",
    }
    line = {
        "family": {"description": "Key of the family.", **FAMILY_KEY},
        "sizes": listing("Sizes that the shop keeps; all if left out.", text("Label of a size."), maxItems=2000),
        "lengths": listing("Lengths that it keeps; all if left out.", stretch, maxItems=2000),
    }
    return listing("What the shop keeps; everything if left out.", group("One family.", line, required=["family"]))
