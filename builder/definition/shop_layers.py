"""The files of a shop standard: one, the one that it is based on, and so on, laid over each other in mm."""

import os
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

from builder.definition.files import shop_path
from builder.definition.node import Node, merged, number_in
from builder.definition.schema import check
from builder.definition.schema_parts import Schema
from builder.definition.shop_schema import REQUIRED, shop_schema
from builder.definition.source import is_file, read_source
from builder.words.limits import CHAIN
from builder.words.near import suggestion
from builder.words.problems import Position, Problems
from builder.words.units import MM_PER_INCH, Unit

ALL = "*"
PAPER_LENGTHS = (("axis_overhang",), ("text", "height"), ("linetypes", ALL, "pattern", ALL))


@cache
def _schema() -> Schema:
    return shop_schema()


def read_layers(name: str, shops: Path, problems: Problems) -> Node | None:
    """Return everything that a shop standard states or takes over; None where a file of it cannot be used."""
    return _Layers(shops, problems).read(name, Path(), None, ())


class _Layers:
    def __init__(self, shops: Path, problems: Problems) -> None:
        self.shops = shops
        self.problems = problems

    def read(self, name: str, beside: Path, place: Position | None, trail: tuple[Path, ...]) -> Node | None:
        """Read a file named at a place in another one, or by the user, and those that it is based on."""
        path = self.find(name, beside, place)
        if path is None or (place and not self.is_near(path, beside, place)):
            return None
        real = Path(os.path.realpath(path)) if is_file(path) else path
        if len(trail) >= CHAIN:
            self.problems.add(place or str(path), f"{CHAIN} shop standards are based on one another", "expected fewer")
            return None
        if real in trail:
            wrong = f"shop standard {name} is based on itself"
            self.problems.add(place or str(path), wrong, "expected one that is not based on this one in turn")
            return None
        root = self.sound(path, place)
        if root is None:
            return None
        base: Node | None = None
        based_on = root.entries.get("based_on")
        if based_on is not None and based_on.value is not None:
            base = self.read(based_on.text, path.parent, based_on.position, (*trail, real))
        in_mm = self.in_mm(root, base)
        whole = merged(base, in_mm) if base else in_mm
        return whole if whole.entries.keys() >= set(REQUIRED) else None

    def sound(self, path: Path, place: Position | None) -> Node | None:
        """Return a file without the entries in which the schema finds faults."""
        if place and not is_file(path):
            self.problems.add(place, f"{path} does not exist", "expected the path of a .yaml file from this one")
            return None
        root = read_source(path, self.problems)
        faulty = check(root, _schema(), self.problems) if root else frozenset(("",))
        if root is None or "" in faulty:
            return None
        return replace(root, value={name: node for name, node in root.entries.items() if name not in faulty})

    def is_near(self, path: Path, beside: Path, place: Position) -> bool:
        """Tell whether a file that another one names lies beside it, below it or among the shops; note it if not."""
        if not is_file(path):
            return True  # said elsewhere
        real = Path(os.path.realpath(path))
        if any(real.is_relative_to(os.path.realpath(folder)) for folder in (beside, self.shops)):
            return True
        self.problems.add(place, f"{path} lies elsewhere", "expected a file in the same folder or below it")
        return False

    def find(self, name: str, beside: Path, place: Position | None) -> Path | None:
        """Return the path of a standard named by a word, or by a path from the file that names it."""
        path = shop_path(name, beside, self.shops)
        if path is not None:
            return path
        known = [file.stem for file in self.shops.glob("*.yaml")]
        expected = f"expected the path of a .yaml file, or a name{suggestion(name, known)}"
        self.problems.add(place or name, f"unknown shop standard {name}", expected)
        return None

    def in_mm(self, root: Node, base: Node | None) -> Node:
        """Return a file with its lengths on paper in mm; unless it states a unit, they are in the base's."""
        paper = root.entries.get("paper") or (base.entries.get("paper") if base else None)
        factor = MM_PER_INCH if paper and paper.text == Unit.INCH else 1.0

        def turned(node: Node) -> Node:
            number = number_in(node, self.problems)
            return replace(node, value=round((number or 0.0) * factor, 6))

        for path in PAPER_LENGTHS:
            root = _changed(root, path, turned)
        return root


def _changed(node: Node, path: tuple[str, ...], change: Callable[[Node], Node]) -> Node:
    """Return a node with the values at the end of a path changed; ALL stands for every key and member."""
    if not path:
        return change(node)
    step, rest = path[0], path[1:]
    if isinstance(node.value, dict):
        entries = node.value.items()
        return replace(node, value={n: _changed(e, rest, change) if step in (n, ALL) else e for n, e in entries})
    if isinstance(node.value, list):
        return replace(node, value=[_changed(member, rest, change) for member in node.value])
    return node
