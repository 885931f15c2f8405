"""Directly drawn shapes, read from a file whose schema has been checked."""

from collections.abc import Iterable

from builder.definition.drawn_kinds import DRAWN_KINDS, States, axes_of
from builder.definition.family import DrawnSpec
from builder.definition.knots import read_formula, read_knots
from builder.definition.node import Node
from builder.words.formula import Formula, constant
from builder.words.problems import Problems
from builder.words.roles import Role
from builder.words.views import VIEW_KINDS


def read_drawn(node: Node | None, problems: Problems) -> dict[str, tuple[DrawnSpec, ...]]:
    """Read the shapes of every view."""
    return {view: tuple(_shape(member, problems) for member in shapes.members) for view, shapes in _views(node).items()}


def _shape(member: Node, problems: Problems) -> DrawnSpec:
    kind, node = next(iter(member.entries.items()))
    entries, numbers = node.entries, dict[str, Formula]()
    for entry in DRAWN_KINDS[kind].entries:
        if entry.states is States.NUMBER and entry.name not in entries:
            numbers[entry.name] = constant(entry.default or 0.0)
        elif entry.states in (States.NUMBER, States.PLACE):
            stated, place = entries[entry.name], entry.states is States.PLACE
            named: Iterable[tuple[str, Node]]
            named = zip(axes_of(entry.name), stated.members, strict=True) if place else [(entry.name, stated)]
            read = ((name, read_formula(value, problems)) for name, value in named)
            numbers |= {name: formula for name, formula in read if formula is not None}
    return DrawnSpec(
        kind=kind,
        numbers=numbers,
        knots=read_knots(entries["knots"], problems) if "knots" in entries else (),
        closed=kind == "region" or ("closed" in entries and entries["closed"].value is True),
        role=Role(entries["role"].text) if "role" in entries else Role.TEXT if kind == "text" else Role.OUTLINE,
        text=entries["text"].text if "text" in entries else "",
        positions={name: value.position for name, value in entries.items()},
        position=node.named,
    )


def texts_of(node: Node | None) -> list[Node]:
    """Return the texts among the shapes."""
    shapes = [member for view in _views(node).values() for member in view.members]
    return [shape.entries["text"].entries["text"] for shape in shapes if "text" in shape.entries]


def _views(node: Node | None) -> dict[str, Node]:
    """Return the shapes by view; without unknown views, into which the schema has not looked."""
    return {view: shapes for view, shapes in node.entries.items() if view in VIEW_KINDS} if node else {}
