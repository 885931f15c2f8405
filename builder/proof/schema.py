"""Tells quickly whether a value fits a JSON schema, of the keywords that the manifest's schema uses; says not why.

A manifest has thousands of entries and nearly all of them fit: what does not is looked at again by jsonschema.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any

Schema = Mapping[str, Any]
Fits = Callable[[Any], bool]

_TYPES: Mapping[str, Fits] = {
    "object": lambda value: isinstance(value, dict),
    "array": lambda value: isinstance(value, list),
    "string": lambda value: isinstance(value, str),
    "number": lambda value: isinstance(value, int | float) and not isinstance(value, bool),
    "integer": lambda value: isinstance(value, int) and not isinstance(value, bool),
    "boolean": lambda value: isinstance(value, bool),
    "null": lambda value: value is None,
}
_WORDS = frozenset({"$schema", "$id", "$defs", "title", "description"})


def fits_of(schema: Schema, root: Schema) -> Fits:
    """Compile a schema into a function; ValueError for a keyword that is not known here."""
    if "$ref" in schema:
        found: Any = root
        for step in str(schema["$ref"]).removeprefix("#/").split("/"):
            found = found[step]
        return fits_of(found, root)
    rules = [_rule(name, value, schema, root) for name, value in schema.items() if name not in _WORDS]
    kept = [rule for rule in rules if rule is not None]
    return kept[0] if len(kept) == 1 else _all(kept)


def _all(rules: Sequence[Fits]) -> Fits:
    def fit(value: Any) -> bool:
        for rule in rules:  # noqa: SIM110 - a generator for every value of a large manifest takes twice as long
            if not rule(value):
                return False
        return True

    return fit


def _rule(name: str, value: Any, schema: Schema, root: Schema) -> Fits | None:
    match name:
        case "type":
            kinds = [_TYPES[kind] for kind in ([value] if isinstance(value, str) else value)]
            return kinds[0] if len(kinds) == 1 else lambda v: any(kind(v) for kind in kinds)
        case "const":
            return lambda v: bool(v == value)
        case "enum":
            return lambda v: v in value
        case "pattern":
            search = re.compile(value).search
            return lambda v: not isinstance(v, str) or search(v) is not None
        case "minimum":
            return lambda v: not isinstance(v, int | float) or v >= value
        case "minItems":
            return lambda v: not isinstance(v, list) or len(v) >= value
        case "maxItems":
            return lambda v: not isinstance(v, list) or len(v) <= value
        case "items":
            item = fits_of(value, root)
            return lambda v: not isinstance(v, list) or all(map(item, v))
        case "required":
            needed = frozenset(value)
            return lambda v: not isinstance(v, dict) or needed <= v.keys()
        case "propertyNames":
            key = fits_of(value, root)
            return lambda v: not isinstance(v, dict) or all(map(key, v))
        case "properties" | "additionalProperties":
            return _members(schema, root) if name == "properties" or "properties" not in schema else None
    raise ValueError(f"no rule for {name}")


def _members(schema: Schema, root: Schema) -> Fits:
    known = {name: fits_of(member, root) for name, member in schema.get("properties", {}).items()}
    more = schema.get("additionalProperties", True)
    other: Fits = fits_of(more, root) if isinstance(more, dict) else lambda v: bool(more)

    def fit(value: Any) -> bool:
        if isinstance(value, dict):
            for name, member in value.items():
                if not known.get(name, other)(member):
                    return False
        return True

    return fit
