"""The pieces of a family, each read from its part of the file once the schema has found that part sound."""

from collections.abc import Mapping

from builder.body.feature import NAME, Feature, ParameterKind
from builder.definition.family import Draws, FeatureSpec, Lengths, Measure, Symbol, ViewSpec
from builder.definition.node import Node, number_in
from builder.words.formula import Formula, parse_formula
from builder.words.problems import Problems


def read_formula(node: Node, problems: Problems) -> Formula | None:
    """Read a formula, be it a number, plain text or text in quotes."""
    if node.lines > 1:
        problems.add(node.position, f"formula over {node.lines} lines", "expected it on one line")
        return None
    return parse_formula(node.text, node.inside, problems)


def read_formulas(node: Node | None, problems: Problems) -> dict[str, Formula]:
    """Read the formulas that have a name."""
    entries = node.entries if node else {}
    read = {name: read_formula(entry, problems) for name, entry in entries.items()}
    return {name: formula for name, formula in read.items() if formula is not None}


def read_checks(node: Node | None, problems: Problems) -> tuple[Formula, ...]:
    """Read the comparisons that must hold."""
    read = [read_formula(member, problems) for member in (node.members if node else [])]
    return tuple(formula for formula in read if formula is not None)


def read_symbols(node: Node) -> dict[str, Symbol]:
    """Read the explanations of the standard's letters."""
    return {
        name: Symbol(name, told["is"].text, Draws(told["draws"].text), entry.named, _measure(told))
        for name, entry in node.entries.items()
        if (told := entry.entries)
    }


def _measure(told: Mapping[str, Node]) -> Measure:
    return Measure(told["measure"].text) if "measure" in told else Measure.LENGTH


def read_lengths(node: Node | None, problems: Problems) -> Lengths | None:
    """Read the listed lengths, which must ascend."""
    if node is None:
        return None
    listed: list[float] = []
    for member in node.entries["listed"].members:
        number = number_in(member, problems)
        if number is None:
            continue
        if number <= 0.0:
            problems.add(member.position, f"length {member.text}", "expected more than 0")
        if listed and number <= listed[-1]:
            problems.add(member.position, f"{member.text} after {listed[-1]:g}", "expected ascending lengths")
        listed.append(number)
    entries = node.entries
    return Lengths(entries["symbol"].text, entries["from"].text, entries["to"].text, tuple(listed))


def read_body(node: Node, kinds: Mapping[str, Feature], problems: Problems) -> tuple[FeatureSpec, ...]:
    """Read the features; no two have the same name."""
    features: dict[str, FeatureSpec] = {}
    for member in node.members:
        kind, entry = next(iter(member.entries.items()))
        feature = _feature(kinds[kind], entry, problems)
        if feature.name in features:
            named = entry.entries.get(NAME.name)
            where = named.position if named else feature.position
            line = features[feature.name].position.line
            wrong = f"feature {feature.name} for the second time, see line {line}"
            problems.add(where, wrong, "expected another name: for one of them")
        features.setdefault(feature.name, feature)
    return tuple(features.values())


def _feature(kind: Feature, entry: Node, problems: Problems) -> FeatureSpec:
    named = entry.entries.get(NAME.name)
    parameters: dict[str, Formula | str] = {}
    for parameter in kind.PARAMETERS:
        node = entry.entries.get(parameter.name)
        if node is None or parameter.name == NAME.name:
            continue
        if parameter.kind is ParameterKind.CHOICE:
            parameters[parameter.name] = node.text
        elif (formula := read_formula(node, problems)) is not None:
            parameters[parameter.name] = formula
    positions = {name: node.position for name, node in entry.entries.items()}
    return FeatureSpec(kind.KIND, named.text if named else kind.KIND, parameters, positions, entry.named)


def read_views(node: Node, features: frozenset[str], problems: Problems) -> tuple[ViewSpec, ...]:
    """Read the views; no view twice, and hidden lines of known features only."""
    views: dict[str, ViewSpec] = {}
    for member in node.members:
        view = _view(member)
        if view.kind in views:
            problems.add(view.position, f"view {view.kind} for the second time", "expected every view once")
        views.setdefault(view.kind, view)
        _check_hidden(member, features, problems)
    return tuple(views.values())


def _view(member: Node) -> ViewSpec:
    if isinstance(member.value, str):
        return ViewSpec(member.value, None, member.position)
    kind, options = next(iter(member.entries.items()))
    hidden = options.entries.get("hidden")
    names = None if hidden is None else frozenset(name.text for name in hidden.members)
    return ViewSpec(kind, names, options.named)


def _check_hidden(member: Node, features: frozenset[str], problems: Problems) -> None:
    for options in member.entries.values():
        for name in options.entries["hidden"].members if "hidden" in options.entries else []:
            if name.text not in features:
                listed = ", ".join(sorted(features))
                problems.add(name.position, f"unknown feature {name.text}", f"expected one of the body's: {listed}")
