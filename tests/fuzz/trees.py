"""YAML as trees that can be changed at will, keys twice and all, and written again as text."""

import json
from collections.abc import Iterator
from dataclasses import dataclass, field

from builder.definition.node import Node
from builder.definition.source import parse_source
from builder.words.problems import Problems

Tree = "str | Seq | Map"
_PLAIN = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_+*/(). -~<>=^%")


@dataclass(slots=True)
class Seq:
    """A list."""

    items: list["str | Seq | Map"] = field(default_factory=list)


@dataclass(slots=True)
class Map:
    """A group: pairs, so that a key may stand there twice."""

    items: list[tuple[str, "str | Seq | Map"]] = field(default_factory=list)


def tree_of(text: str) -> "str | Seq | Map | None":
    """Read a file's text; None where that cannot be done."""
    root = parse_source(text, "seed.yaml", Problems())
    return None if root is None else _tree(root)


def _tree(node: Node) -> "str | Seq | Map":
    if isinstance(node.value, dict):
        return Map([(key, _tree(entry)) for key, entry in node.value.items()])
    if isinstance(node.value, list):
        return Seq([_tree(member) for member in node.value])
    if node.quoted:
        return json.dumps(node.text)
    return "~" if node.value is None else str(node.value).lower() if isinstance(node.value, bool) else node.text


def text_of(tree: "str | Seq | Map") -> str:
    """Write a file: the first level line by line, everything else in brackets."""
    if isinstance(tree, Map):
        return "".join(f"{_scalar(key)}: {_flow(value)}\n" for key, value in tree.items)
    return _flow(tree)


def _flow(tree: "str | Seq | Map") -> str:
    if isinstance(tree, Map):
        return "{" + ", ".join(f"{_scalar(key)}: {_flow(value)}" for key, value in tree.items) + "}"
    if isinstance(tree, Seq):
        return "[" + ", ".join(map(_flow, tree.items)) + "]"
    return _scalar(tree)


def _scalar(text: str) -> str:
    if text.startswith('"') or (text and text[0] not in " -~%*>=<" and _PLAIN.issuperset(text) and text[-1] != " "):
        return text
    if text == "~" or (text[:1] == "-" and text[1:2].isalnum() and _PLAIN.issuperset(text)):
        return text
    return json.dumps(text)


def places(tree: "str | Seq | Map") -> Iterator[tuple["Seq | Map", int]]:
    """Yield every list or group with the index of each of its members."""
    if isinstance(tree, Seq | Map):
        for index, item in enumerate(tree.items):
            yield tree, index
            yield from places(item[1] if isinstance(item, tuple) else item)
