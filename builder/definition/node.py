"""A value of a definition file together with its place, so that every later complaint can point at it."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TypeAlias

from builder.words.problems import Position, Problems

Value: TypeAlias = "bool | int | float | str | list[Node] | dict[str, Node] | None"

_LEADING_ZERO = re.compile(r"[-+]?0\d")
FRACTION = re.compile(r"(-?)(?:(\d{1,6})-)?(\d{1,6})/([1-9]\d{0,5})", re.ASCII)


@dataclass(frozen=True, slots=True)
class Node:
    """One value, where it begins, where its key begins, whether it is quoted, how many lines it spans."""

    value: Value
    position: Position
    key: Position | None = None
    quoted: bool = False
    lines: int = 1

    @property
    def entries(self) -> dict[str, "Node"]:
        """Its entries, if it is a group of `key: value`."""
        return self.value if isinstance(self.value, dict) else {}

    @property
    def members(self) -> list["Node"]:
        """Its members, if it is a list."""
        return self.value if isinstance(self.value, list) else []

    @property
    def text(self) -> str:
        """Its text, or its number as text."""
        return self.value if isinstance(self.value, str) else "" if self.value is None else str(self.value)

    @property
    def inside(self) -> Position:
        """Where its text begins: after the quote, if it has one."""
        return self.position.moved(1) if self.quoted else self.position

    @property
    def named(self) -> Position:
        """Where its key begins, or itself where it has none."""
        return self.key or self.position

    @property
    def number(self) -> float | None:
        """Its number, be it written as a decimal or as a fraction; None where it is none."""
        if isinstance(self.value, int | float) and not isinstance(self.value, bool):
            return float(self.value)
        return fraction_in(self.value) if isinstance(self.value, str) and not self.quoted else None

    @property
    def described(self) -> str:
        """What it is, in a few words."""
        match self.value:
            case None:
                return "nothing"
            case bool():
                return f"{self.value}".lower()
            case int() | float():
                return f"the number {self.value:.10g}"
            case str():
                short = self.value if len(self.value) <= 40 else f"{self.value[:37]}..."
                return f"text {short!r}{' in quotes' if self.quoted else ''}"
            case list():
                return "a list"
        return "a group of entries"

    def plain(self) -> object:
        """Return it without places."""
        if isinstance(self.value, dict):
            return {name: node.plain() for name, node in self.value.items()}
        if isinstance(self.value, list):
            return [node.plain() for node in self.value]
        return self.value

    def at(self, path: Iterable[str | int]) -> "Node":
        """Return the value at the end of a path of keys and indexes."""
        node = self
        for step in path:
            node = node.entries[step] if isinstance(step, str) else node.members[step]
        return node


def fraction_in(text: str) -> float | None:
    """Return the number that a text such as 43/64 or 1-1/2 stands for; None where it is no fraction."""
    if (found := FRACTION.fullmatch(text)) is None:
        return None
    sign, whole, over, under = found.groups()
    size = int(whole or 0) + int(over) / int(under)
    return -size if sign else size


def number_words(node: Node) -> str:
    """Return what was expected where a value is no number."""
    expected = "expected a number such as 12.5 or 43/64"
    if node.quoted:
        return f"{expected}, without quotes"
    return f"{expected}, without 0 in front" if _LEADING_ZERO.match(node.text) else expected


def number_in(node: Node, problems: Problems) -> float | None:
    """Return a value's number; None and a problem where it is none."""
    number = node.number
    if number is None:
        problems.add(node.position, f"{node.described} where a number belongs", number_words(node))
    return number


def merged(base: Node, own: Node) -> Node:
    """Lay a file over the one that it builds on: groups merge key by key, everything else is replaced."""
    if not isinstance(base.value, dict) or not isinstance(own.value, dict):
        return own
    entries = dict(base.value)
    for name, node in own.value.items():
        entries[name] = merged(entries[name], node) if name in entries else node
    return replace(own, value=entries)
