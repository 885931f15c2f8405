"""What a schema finds in a file, in a drafter's words, at the very place. It alone knows jsonschema."""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any, Protocol

from builder.definition.node import Node, fraction_in, number_words
from builder.definition.schema_parts import NUMBER_WORDS, Schema
from builder.words.near import suggestion
from builder.words.problems import Position, Problems

Found = tuple[Position, str, str]

FEW = 6  # choices that are listed whole
_KINDS = {
    "string": "text",
    "number": "a number",
    "integer": "a whole number",
    "array": "a list",
    "object": "a group of entries",
    "boolean": "true or false",
    "null": "nothing (~)",
}
_RUN_ON = "expected no comma or bracket here; a formula with a comma stands in quotes"


class _Finding(Protocol):
    """The part of a jsonschema error that is used here."""

    validator: Any
    validator_value: Any
    instance: Any
    schema: Any
    absolute_path: Any


def check(root: Node, schema: Schema, problems: Problems) -> frozenset[str]:
    """Note all that a schema finds; return the top-level keys that are missing or cannot be relied on.

    An empty key stands for the file as a whole.
    """
    faulty: set[str] = set()
    seen: set[Found] = set()
    for finding in _validator()(schema).iter_errors(root.plain()):
        path = list(finding.absolute_path)
        faulty.update(_faulty(finding, path))
        for found in _found(root.at(path), path, finding, schema if not path else finding.schema):
            if found not in seen:
                seen.add(found)
                problems.add(*found)
    return frozenset(faulty)


@cache
def _validator() -> Any:
    """Return jsonschema's validator, but patterns hold the whole text and limits hold fractions too.

    In Python `$` leaves room for a line break, which would end a line of a DXF file.
    """
    from jsonschema import Draft202012Validator, ValidationError, validators  # noqa: PLC0415 - slow, not always needed

    def whole(_: Any, pattern: str, instance: object, schema: Schema) -> Iterator[ValidationError]:
        if isinstance(instance, str) and not re.fullmatch(pattern, instance, re.ASCII):
            yield ValidationError(f"does not match {schema['pattern']}")

    def bounded(rule: str) -> Any:
        usual: Any = Draft202012Validator.VALIDATORS[rule]

        def holds(validator: Any, limit: float, instance: object, schema: Schema) -> Iterator[ValidationError]:
            yield from usual(validator, limit, fraction_in(instance) if isinstance(instance, str) else instance, schema)

        return holds

    rules = {rule: bounded(rule) for rule in ("minimum", "exclusiveMinimum", "maximum")}
    return validators.extend(  # type: ignore[no-untyped-call]
        Draft202012Validator, {"pattern": whole, **rules}
    )


def _faulty(finding: _Finding, path: Sequence[str | int]) -> Iterator[str]:
    rule = finding.validator
    if rule == "required" and not path:
        yield from (name for name in finding.validator_value if name not in finding.instance)
    elif rule == "type" and not path:
        yield ""
    elif path and (rule != "additionalProperties" or "maxProperties" in finding.schema):
        # An unknown key can be passed over, except where the key is the choice itself: a feature, a view.
        yield str(path[0])


def _found(node: Node, path: Sequence[str | int], finding: _Finding, schema: Schema) -> Iterator[Found]:
    rule, value = finding.validator, finding.validator_value
    if isinstance(finding.instance, str) and finding.instance in node.entries:  # a key that breaks its pattern
        node = Node(finding.instance, node.entries[finding.instance].named)
    wrong = f"{_called(path)} is {node.described}"
    match rule:
        case "additionalProperties":
            yield from _unknown_keys(node, schema)
        case "required":
            for name in value:
                if name not in node.entries:
                    yield node.named, f"{name} is missing", _meaning(schema, name)
        case "enum":
            yield node.position, wrong, _choice(node, value)
        case "type" | "pattern":
            yield node.position, wrong, _expected(node, schema, value)
        case "minProperties" | "maxProperties" | "minItems" | "maxItems" | "minLength" | "maxLength":
            least = "at least" if rule.startswith("min") else "at most"
            broken = rule == "maxItems" and any(
                "(" in member.text and ")" not in member.text for member in node.members
            )
            expected = _RUN_ON if broken else f"expected {least} {value}"
            yield node.position, f"{_called(path)} is {_counted(node)}", expected
        case "minimum" | "exclusiveMinimum" | "maximum":
            words = {"minimum": "at least", "exclusiveMinimum": "more than", "maximum": "at most"}
            yield node.position, wrong, f"expected {words[rule]} {value:g}"
        case _:
            yield node.position, wrong, "expected what the schema describes"


def _called(path: Sequence[str | int]) -> str:
    names = [step for step in path if isinstance(step, str)]
    if not names:
        return "the file" if not path else "an entry"
    return names[-1] if isinstance(path[-1], str) else f"an entry of {names[-1]}"


def _unknown_keys(node: Node, schema: Schema) -> Iterator[Found]:
    known = schema.get("properties", {})
    kind = "name" if "maxProperties" in schema else "key"
    for name, entry in node.entries.items():
        if name in known:
            continue
        if entry.value is None and any(character in name for character in "(),"):
            yield entry.named, f"{name!r} is no entry", _RUN_ON
        else:
            yield entry.named, f"unknown {kind} {name}", f"expected one known here{suggestion(name, known)}"


def _meaning(schema: Mapping[str, Any], name: str) -> str:
    doc = str(schema.get("properties", {}).get(name, {}).get("description", ""))
    return f"expected {name}: {doc[:1].lower()}{doc[1:].rstrip('.')}" if doc else "expected it here"


def _choice(node: Node, choices: Sequence[Any]) -> str:
    texts = [choice if isinstance(choice, str) else f"{choice:g}" for choice in choices]
    if len(texts) > FEW and isinstance(choices[0], str):
        return f"expected one known here{suggestion(node.text, texts)}"
    return f"expected one of {', '.join(texts)}"


def _expected(node: Node, schema: Schema, kinds: str | Sequence[str]) -> str:
    words = schema.get("patternErrorMessage")
    if words == NUMBER_WORDS:
        return number_words(node)
    if words is None and kinds == "string" and node.number is not None:
        return f'expected text: write it in quotes, "{node.text}"'
    if words is not None:
        return str(words)
    listed = [kinds] if isinstance(kinds, str) else kinds
    return f"expected {' or '.join(_KINDS[kind] for kind in listed)}"


def _counted(node: Node) -> str:
    if isinstance(node.value, str):
        return f"text of {len(node.value)} characters"
    count = len(node.members or node.entries)
    return f"{node.described} with {count or 'no'} {'entry' if count == 1 else 'entries'}"
