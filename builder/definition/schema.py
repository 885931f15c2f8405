"""What a schema finds in a file, in a drafter's words, at the very place. Only this module knows jsonschema."""

from collections.abc import Iterator, Mapping
from typing import Any, Protocol

from builder.definition.node import Node
from builder.words.near import suggestion
from builder.words.problems import Position, Problems

_KINDS = {
    "string": "text",
    "number": "a number",
    "integer": "a whole number",
    "array": "a list [..]",
    "object": "a group of entries",
    "null": "nothing (~)",
}
_RUN_ON = "expected no comma or bracket here; a formula with a comma stands in quotes"

Found = tuple[Position, str, str]


class _Finding(Protocol):
    """The part of a jsonschema error that is used here."""

    validator: Any
    validator_value: Any
    instance: Any
    schema: Any
    absolute_path: Any


def check(root: Node, schema: Mapping[str, Any], problems: Problems) -> frozenset[str]:
    """Note everything that a schema finds; return the top-level keys whose values cannot be relied on."""
    from jsonschema import Draft202012Validator  # noqa: PLC0415 - slow to import, and not needed by every command

    faulty: set[str] = set()
    seen: set[Found] = set()
    for finding in Draft202012Validator(schema).iter_errors(root.plain()):
        path = list(finding.absolute_path)
        if finding.validator == "required" and not path:
            faulty.update(name for name in finding.validator_value if name not in finding.instance)
        elif path and (finding.validator != "additionalProperties" or "maxProperties" in finding.schema):
            # An unknown key can be passed over, except where the key is the choice itself: a feature, a view.
            faulty.add(str(path[0]))
        elif not path and finding.validator == "type":
            faulty.add("")
        for found in _found(root.at(path), finding):
            if found not in seen:
                seen.add(found)
                problems.add(*found)
    return frozenset(faulty)


def _found(node: Node, finding: _Finding) -> Iterator[Found]:
    value, schema = finding.validator_value, finding.schema
    if isinstance(finding.instance, str) and finding.instance in node.entries:  # from propertyNames
        node = Node(finding.instance, node.entries[finding.instance].named)
    match finding.validator:
        case "additionalProperties" | "unevaluatedProperties":
            yield from _unknown_keys(node, schema.get("properties", {}))
        case "required":
            for name in value:
                if name not in node.entries:
                    yield node.named, f"{name} is missing", f"expected {_meaning(schema, name)}"
        case "enum":
            yield node.position, node.described, _choice(node, value)
        case "type":
            yield node.position, node.described, _expected(node, schema, value)
        case "pattern":
            yield node.position, node.described, str(schema.get("patternErrorMessage", "expected other text"))
        case "minProperties" | "maxProperties" | "minItems" | "maxItems" | "minLength" | "maxLength":
            yield node.position, _counted(node), _limit(finding.validator, value)
        case "minimum" | "exclusiveMinimum" | "maximum":
            words = {"minimum": "at least", "exclusiveMinimum": "more than", "maximum": "at most"}
            yield node.position, node.described, f"expected {words[finding.validator]} {value:g}"
        case _:
            yield (
                node.position,
                f"{node.described} does not belong here",
                "expected what the schema describes",
            )


def _unknown_keys(node: Node, known: Mapping[str, Any]) -> Iterator[Found]:
    for name, entry in node.entries.items():
        if name in known:
            continue
        if entry.value is None and any(character in name for character in "(),"):
            yield entry.named, f"{name!r} is no entry", _RUN_ON
        else:
            yield entry.named, f"unknown key {name}", f"expected a key known here{suggestion(name, known)}"


def _meaning(schema: Mapping[str, Any], name: str) -> str:
    doc = str(schema.get("properties", {}).get(name, {}).get("description", ""))
    return f"it here: {doc[0].lower()}{doc[1:].rstrip('.')}" if doc else "it here"


def _choice(node: Node, choices: list[Any]) -> str:
    if all(isinstance(choice, str) for choice in choices):
        return f"expected one of those known here{suggestion(node.text, choices)}"
    return f"expected one of {', '.join(f'{choice:g}' for choice in choices)}"


def _expected(node: Node, schema: Mapping[str, Any], kinds: str | list[str]) -> str:
    if kinds == "string" and node.number is not None:
        return f'expected text: write it in quotes, "{node.text}"'
    if "patternErrorMessage" in schema:
        return str(schema["patternErrorMessage"])
    listed = [kinds] if isinstance(kinds, str) else kinds
    return f"expected {' or '.join(_KINDS[kind] for kind in listed)}"


def _counted(node: Node) -> str:
    if isinstance(node.value, str):
        return f"text of {len(node.value)} characters"
    count = len(node.members or node.entries)
    return f"{node.described} with {count or 'no'} {'entry' if count == 1 else 'entries'}"


def _limit(rule: str, value: int) -> str:
    return f"expected {'at least' if rule.startswith('min') else 'at most'} {value}"
