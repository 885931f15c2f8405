"""The views of a family, read from a file whose schema has been checked."""

from collections.abc import Iterator, Mapping
from collections.abc import Set as AbstractSet

from builder.definition.family import ViewSpec
from builder.definition.node import Node
from builder.words.problems import Problems


def read_views(node: Node, features: AbstractSet[str], problems: Problems) -> tuple[ViewSpec, ...]:
    """Read the views; no view twice, and options that the features, if any, make sense of."""
    views: dict[str, ViewSpec] = {}
    for member in node.members:
        view = _view(member)
        if view.kind in views:
            problems.add(view.position, f"view {view.kind} for the second time", "expected every view once")
        views.setdefault(view.kind, view)
        for options in _options(member):
            _check_options(options, features, problems)
    return tuple(views.values())


def check_drawn_views(views: Node, drawn: Node | None, has_body: bool, problems: Problems) -> None:
    """What is drawn directly belongs to a view, and every view shows something."""
    shown = {view.kind: view.position for view in map(_view, views.members)}
    drawn_views = drawn.entries if drawn else {}
    for kind, node in drawn_views.items():
        if kind not in shown:
            problems.add(
                node.named, f"drawn for the view {kind}, which the family lacks", "expected it under views too"
            )
    for kind, place in {} if has_body else shown.items():
        if kind not in drawn_views:
            wrong = f"view {kind} shows nothing: there is no body, and nothing is drawn for it"
            problems.add(place, wrong, f"expected {kind}: under drawn, or body:")


def _view(member: Node) -> ViewSpec:
    if isinstance(member.value, str):
        return ViewSpec(member.value, None, member.position)
    kind, options = next(iter(member.entries.items()))
    hidden, roll = options.entries.get("hidden"), options.entries.get("roll")
    names = None if hidden is None else frozenset(name.text for name in hidden.members)
    return ViewSpec(kind, names, options.named, roll.number if roll else None)


def _options(member: Node) -> Iterator[Mapping[str, Node]]:
    yield from (options.entries for options in member.entries.values())


def _check_options(options: Mapping[str, Node], features: AbstractSet[str], problems: Problems) -> None:
    for name in options["hidden"].members if "hidden" in options else []:
        if name.text not in features:
            listed = f"one of the body's: {', '.join(sorted(features))}" if features else "none: there is no body"
            problems.add(name.position, f"unknown feature {name.text}", f"expected {listed}")
    if "roll" in options and not features:
        problems.add(options["roll"].named, "roll of a view without a body", "expected it left out: drawn shapes stay")
