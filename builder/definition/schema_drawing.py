"""The schema of what a family looks like: bodies and their features, drawn shapes, views."""

from collections.abc import Iterable

from builder.body.feature import NAME, Feature, Parameter, ParameterKind
from builder.definition.drawn_kinds import DRAWN_KINDS, DrawnEntry, DrawnKind, States
from builder.definition.schema_parts import Schema, formula, group, listing, one_of, text
from builder.words.limits import KNOTS
from builder.words.roles import Role
from builder.words.views import VIEW_KINDS

_ONE = {"minProperties": 1, "maxProperties": 1}


def drawing() -> Schema:
    """Return the entries of a family that its views are made from."""
    body = {
        "name": text("What the body is called."),
        "section": one_of("cut: cut and hatched in section views; whole: drawn uncut. Default: cut.", ("cut", "whole")),
        "features": _shared("features", "Features of this body."),
    }
    one_body = group("One body: its name and features.", body, required=["name", "features"])
    shapes = {kind: _shared("shapes", f"Shapes in the view {kind}.") for kind in VIEW_KINDS}
    return {
        "body": _shared("features", "Features along the axis, +X away from the head."),
        "bodies": listing("Bodies of a part that has several, instead of body.", one_body, minItems=1, maxItems=50),
        "drawn": group("Shapes drawn as they stand, beside or instead of a body, by view.", shapes),
        "views": listing("Views that every size is drawn in.", _view(), minItems=1, maxItems=len(VIEW_KINDS)),
    }


def shared(features: Iterable[Feature]) -> Schema:
    """Return the definitions that several entries refer to."""
    piece = group("One feature: its kind and parameters.", {feature.KIND: _feature(feature) for feature in features})
    shape = group("One shape: its kind and what states it.", {name: _shape(kind) for name, kind in DRAWN_KINDS.items()})
    return {
        "features": listing("Features.", {**piece, **_ONE}, minItems=1, maxItems=100),
        "shapes": listing("Shapes.", {**shape, **_ONE}, minItems=1),
        "knots": listing("Knots of an outline.", _knot(), minItems=2, maxItems=KNOTS),
    }


def _shared(name: str, doc: str) -> Schema:
    return {"description": doc, "$ref": f"#/$defs/{name}"}


def _view() -> Schema:
    hidden = listing("Features whose hidden lines are drawn; none if empty.", text("Name of a feature."), maxItems=100)
    roll = {
        "description": "Degrees that the part is rolled about its axis, instead of the view's own.",
        "type": "number",
        "minimum": -360,
        "maximum": 360,
    }
    options = {kind: group(f"The view {kind}, with options.", {"hidden": hidden, "roll": roll}) for kind in VIEW_KINDS}
    return {
        "description": "A view by its name, or `name: {roll: 45, hidden: [..]}`.",
        "type": ["string", "object"],
        "if": {"type": "string"},
        "then": {"enum": list(VIEW_KINDS)},
        "else": {"properties": options, "additionalProperties": False, **_ONE},
    }


def _feature(feature: Feature) -> Schema:
    required = [parameter.name for parameter in feature.PARAMETERS if parameter.required]
    properties = {parameter.name: _parameter(parameter) for parameter in feature.PARAMETERS}
    return group(feature.DOC, properties, required)


def _parameter(parameter: Parameter) -> Schema:
    if parameter.name == NAME.name:
        return text(parameter.doc)
    doc = parameter.doc if parameter.default is None else f"{parameter.doc} Default: {parameter.default}."
    if parameter.kind is ParameterKind.CHOICE:
        return one_of(doc, parameter.choices)
    if parameter.kind is ParameterKind.PROFILE:
        return _shared("knots", doc)
    return formula(doc)


def _shape(kind: DrawnKind) -> Schema:
    required = [entry.name for entry in kind.entries if entry.required]
    return group(kind.doc, {entry.name: _entry(entry) for entry in kind.entries}, required)


def _entry(entry: DrawnEntry) -> Schema:
    match entry.states:
        case States.PLACE:
            return _place(entry.doc)
        case States.KNOTS:
            return _shared("knots", entry.doc)
        case States.CLOSED:
            return {"description": entry.doc, "type": "boolean"}
        case States.ROLE:
            return one_of(entry.doc, tuple(map(str, Role)))
        case States.TEXT:
            return text(entry.doc)
    return formula(entry.doc)


def _place(doc: str) -> Schema:
    return listing(doc, formula("A formula."), minItems=2, maxItems=2)


def _knot() -> Schema:
    corner = {"corner": _place("Corner, [x, y]."), "radius": formula("Radius that rounds it.")}
    radius = formula("Radius, > 0 where the arc turns left, < 0 right; at most a half circle.")
    arc = {"arc": _place("End of an arc from the knot before, [x, y]."), "radius": radius}
    rounded = {
        "if": {"required": ["arc"]},
        "then": group("The end of an arc.", arc, required=list(arc)),
        "else": group("A rounded corner.", corner, required=list(corner)),
    }
    sharp = {key: value for key, value in _place("A corner, [x, y].").items() if key != "type"}  # said once, below
    return {
        "description": "A corner [x, y], {corner: [x, y], radius: R} rounded, or {arc: [x, y], radius: R}.",
        "type": ["array", "object"],
        "if": {"type": "object"},
        "then": rounded,
        "else": sharp,
    }
