"""Bodies and their features, read from a file whose schema has been checked."""

from collections.abc import Iterator, Mapping

from builder.body.feature import NAME, Feature, ParameterKind
from builder.definition.family import SINGLE_BODY, BodySpec, FeatureSpec, KnotSpec
from builder.definition.knots import read_formula, read_knots
from builder.definition.node import Node
from builder.words.formula import Formula
from builder.words.problems import Problems


def read_bodies(body: Node | None, bodies: Node | None, problems: Problems) -> tuple[BodySpec, ...]:
    """Read the bodies, be it one under `body` or several under `bodies`; no two have the same name."""
    read: dict[str, BodySpec] = {}
    if body is not None:
        read[SINGLE_BODY] = BodySpec(SINGLE_BODY, whole=False, position=body.named)
    for member in bodies.members if bodies else []:
        named, section = member.entries["name"], member.entries.get("section")
        if named.text in read:
            wrong = f"body {named.text} for the second time, see line {read[named.text].position.line}"
            problems.add(named.position, wrong, "expected another name for one of them")
        whole = section is not None and section.text == "whole"
        read.setdefault(named.text, BodySpec(named.text, whole, member.position))
    return tuple(read.values())


def read_features(
    body: Node | None, bodies: Node | None, kinds: Mapping[str, Feature], problems: Problems
) -> tuple[FeatureSpec, ...]:
    """Read the features of all bodies; no two have the same name."""
    features: dict[str, FeatureSpec] = {}
    for owner, member in _features(body, bodies):
        kind, entry = next(iter(member.entries.items()))
        feature = _feature(kinds[kind], entry, owner, problems)
        if feature.name in features:
            named = entry.entries.get(NAME.name)
            where = named.position if named else feature.position
            line = features[feature.name].position.line
            wrong = f"feature {feature.name} for the second time, see line {line}"
            problems.add(where, wrong, "expected another name: for one of them")
        features.setdefault(feature.name, feature)
    return tuple(features.values())


def _features(body: Node | None, bodies: Node | None) -> Iterator[tuple[str, Node]]:
    yield from ((SINGLE_BODY, member) for member in (body.members if body else []))
    for one in bodies.members if bodies else []:
        yield from ((one.entries["name"].text, member) for member in one.entries["features"].members)


def _feature(kind: Feature, entry: Node, owner: str, problems: Problems) -> FeatureSpec:
    named = entry.entries.get(NAME.name)
    parameters: dict[str, Formula | str | tuple[KnotSpec, ...]] = {}
    for parameter in kind.PARAMETERS:
        node = entry.entries.get(parameter.name)
        if node is None or parameter.name == NAME.name:
            continue
        if parameter.kind is ParameterKind.CHOICE:
            parameters[parameter.name] = node.text
        elif parameter.kind is ParameterKind.PROFILE:
            parameters[parameter.name] = read_knots(node, problems)
        elif (formula := read_formula(node, problems)) is not None:
            parameters[parameter.name] = formula
    positions = {name: node.position for name, node in entry.entries.items()}
    return FeatureSpec(kind.KIND, named.text if named else kind.KIND, parameters, positions, entry.named, owner)
