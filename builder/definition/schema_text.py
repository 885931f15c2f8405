"""The schema of family definitions, put together from the feature kinds; and the files in the schemas folder.

`python -m builder.definition.schema_text` writes them anew after a feature kind or a key has changed.
A `patternErrorMessage` says in words what a pattern means, to an editor and to our own reports alike.
"""

import json
from collections.abc import Iterable
from pathlib import Path

from builder.body.catalogue import feature_kinds
from builder.body.feature import Feature
from builder.definition.family import Draws, Measure
from builder.definition.schema_drawing import drawing, shared
from builder.definition.schema_parts import (
    DIALECT,
    FAMILY_KEY,
    NUMBER_WORDS,
    Schema,
    formula,
    fraction,
    group,
    listing,
    one_of,
    patterned,
    text,
)
from builder.definition.shop_schema import shop_schema

SYMBOL = patterned(r"^[A-Za-z][A-Za-z0-9_]*$", "expected a letter, then letters, digits or _")


def family_schema(features: Iterable[Feature]) -> Schema:
    """Return the JSON Schema of a family definition that may use some feature kinds."""
    properties = {**_about(), **_figures(), **drawing()}
    required = ["family", "code", "title", "group", "standard", "units", "designation", "symbols", "table", "views"]
    whole = {"properties": {"refines": False}, "required": ["family"]}
    shapes = {
        "anyOf": [{"required": [key]} for key in ("body", "bodies", "drawn")],
        "not": {"required": ["body", "bodies"]},
        "dependentRequired": {"body": ["density"], "bodies": ["density"]},
    }
    return {
        "$schema": DIALECT,
        "$id": "urn:blockwright:schema:family:1",
        "title": "Family definition",
        **group("One standard's part in all its sizes.", properties, required=["family"]),
        "if": whole,
        "then": {"required": required, **shapes},
        "$defs": shared(features),
    }


def _about() -> Schema:
    standard = {
        "number": text("Number of the standard, as it is cited: ISO 4014."),
        "edition": text("Year or letter of the edition, in quotes."),
        "source": {**text("Where the figures were read, and which are from memory."), "maxLength": 4000},
    }
    attributes = {
        "class": text("Property class or grade: 8.8, in quotes."),
        "material": text("Material."),
        "finish": text("Surface finish or coating."),
    }
    code = patterned(r"^[A-Z][A-Z0-9_]{0,7}$", "expected at most 8 of A-Z 0-9 _, beginning with a letter")
    group_name = patterned(r"^[a-z][a-z0-9 -]*$", "expected lower case words, such as bolts")
    return {
        "family": {"description": "Key of the family, and name of its file without .yaml.", **FAMILY_KEY},
        "refines": {
            "description": "Key of the family from which everything is taken that is not stated here.",
            **FAMILY_KEY,
        },
        "replaces": {
            "description": "Key of the family that this one takes the place of, whole.",
            **FAMILY_KEY,
        },
        "code": {"description": "What every block name of the family begins with.", **code},
        "title": text("Name of the part, as a parts list has it."),
        "group": {"description": "Kind of part under which a catalogue lists it: bolts, nuts.", **group_name},
        "standard": group("The standard and where its figures were read.", standard, required=list(standard)),
        "units": one_of("Unit of every length in the file.", ("mm", "in")),
        "density": fraction("Density of the material, g/cm3, for the mass.", exclusiveMinimum=0, maximum=30),
        "attributes": group("What a block says of the part unless the shop states otherwise.", attributes),
        "designation": text("Ordering text; {size} {l} {class} are filled in, [..] falls away where one has no value."),
    }


def _figures() -> Schema:
    draws, measures = tuple(map(str, Draws)), tuple(map(str, Measure))
    symbol = {
        "is": text("What the letter stands for, in the standard's words."),
        "draws": one_of("Which of the standard's limits the column holds, and so what is drawn.", draws),
        "measure": one_of("What it measures, if no length: it is not converted to another unit.", measures),
    }
    column = {"description": "Symbol of a column; the first column is size.", **SYMBOL}
    cell = {
        "description": "A number or fraction in the family's unit; ~ where the standard gives none.",
        "type": ["number", "string", "null"],
        "pattern": r"^(\d+-)?\d+/[1-9]\d*$",
        "patternErrorMessage": NUMBER_WORDS,
        "minimum": 0,
    }
    row = {
        "description": "One size: its label, then a cell for every column.",
        "type": "array",
        "prefixItems": [text("Label of the size, as in the designation: M12, 1/2-13.")],
        "items": cell,
    }
    table = {
        "columns": listing("Columns from left to right: size, then symbols.", column, minItems=1, maxItems=60),
        "rows": listing("One row a size, like the standard's table.", row, minItems=1, maxItems=2000),
    }
    lengths = {
        "symbol": {"description": "Symbol of the nominal length.", **SYMBOL},
        "from": {"description": "Column with the shortest listed length of a size.", **SYMBOL},
        "to": {"description": "Column with the longest listed length of a size.", **SYMBOL},
        "listed": listing(
            "Every length that the standard lists, ascending.",
            fraction("A length.", exclusiveMinimum=0, maximum=100000),
            minItems=1,
            maxItems=2000,
        ),
    }
    symbols = _named("Every column and formula, each explained once.", group("One symbol.", symbol, ["is", "draws"]))
    return {
        "symbols": symbols,
        "table": group("The standard's table.", table, required=list(table)),
        "lengths": group("Lengths; left out for parts without.", lengths, required=list(lengths)),
        "formulas": _named("Dimensions that the standard gives as a formula.", formula("A formula.")),
        "checks": listing(
            "Comparisons that hold for every part.",
            formula("A comparison, such as k_min <= k."),
            maxItems=200,
        ),
    }


def _named(doc: str, of: Schema) -> Schema:
    return {
        "description": doc,
        "type": "object",
        "propertyNames": SYMBOL,
        "additionalProperties": of,
        "maxProperties": 200,
    }


def main(folder: Path) -> None:
    """Write both schemas into a folder."""
    schemas = {"family": family_schema(feature_kinds().values()), "shop": shop_schema()}
    for name, schema in schemas.items():
        (folder / f"{name}.schema.json").write_text(json.dumps(schema, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(__file__).parents[2] / "schemas")
