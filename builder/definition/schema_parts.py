"""The building blocks of the two schemas: described texts, numbers, lists and groups."""

from collections.abc import Sequence
from typing import Any

from builder.words.limits import NAME

Schema = dict[str, Any]  # JSON has no narrower type

NUMBER_WORDS = "expected a number such as 12.5 or 43/64, without quotes"
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def text(doc: str) -> Schema:
    """Return the schema of a text that is not empty and fits in a DXF attribute."""
    return {"description": doc, "type": "string", "minLength": 1, "maxLength": 250}


def patterned(pattern: str, words: str) -> Schema:
    """Return the schema of a short text with a pattern, and the pattern in words."""
    return {"type": "string", "pattern": pattern, "maxLength": NAME, "patternErrorMessage": words}


def one_of(doc: str, choices: Sequence[str]) -> Schema:
    """Return the schema of a choice."""
    return {"description": doc, "enum": list(choices)}


def fraction(doc: str, **limits: float) -> Schema:
    """Return the schema of a number or plain fraction within limits."""
    return {
        "description": doc,
        "type": ["number", "string"],
        "pattern": r"^-?(\d+-)?\d+/[1-9]\d*$",
        "patternErrorMessage": NUMBER_WORDS,
        **limits,
    }


def listing(doc: str, of: Schema, minItems: int = 0, maxItems: int = 1000) -> Schema:  # noqa: N803 - JSON Schema's words
    """Return the schema of a list."""
    return {"description": doc, "type": "array", "items": of, "minItems": minItems, "maxItems": maxItems}


def group(doc: str, properties: Schema, required: Sequence[str] = ()) -> Schema:
    """Return the schema of a group of known entries."""
    schema: Schema = {
        "description": doc,
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
    }
    return {**schema, "required": list(required)} if required else schema


def formula(doc: str) -> Schema:
    """Return the schema of a formula."""
    return {
        "description": doc,
        "type": ["string", "number"],
        "patternErrorMessage": "expected a formula",
        "minLength": 1,
    }


FAMILY_KEY = patterned(
    r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$", "expected lower case letters and digits, joined by -, such as iso-4014"
)
