"""Bodies and drawn shapes made of anything there is: most hold together, as the rest is soon refused."""

import json
from random import Random

from builder.body.catalogue import feature_kinds
from builder.body.feature import NAME, Parameter, ParameterKind
from builder.definition.drawn_kinds import DRAWN_KINDS
from builder.words.views import VIEW_KINDS
from fuzz.trees import Map, Seq
from fuzz.values import NUMBERS


def build(random: Random, tree: Map) -> None:
    """Give a definition a body, or drawn shapes, made of anything there is."""
    kept = [(key, value) for key, value in tree.items if key not in ("body", "bodies", "drawn", "views")]
    views = random.sample(VIEW_KINDS, random.choice((1, 1, 2)))
    made: list[tuple[str, str | Seq | Map]] = [("views", Seq([*views]))]
    flat = random.random() < 0.15
    if not flat:
        ends = {"from": "0", "to": random.choice(("10", "10", "10", "10", "d", _number(random)))}
        stock = Map(
            [
                ("name", "stock"),
                ("diameter", random.choice(("20", "20", "10", "50", _number(random)))),
                *ends.items(),
            ]
        )
        first: list[str | Seq | Map] = [Map([("cylinder", stock)])] if random.random() < 0.8 else []
        made.append(("body", Seq([*first, *(_feature(random) for _ in range(random.choice((1, 1, 2, 2, 3))))])))
        made.append(("density", "7.85"))
    if flat or random.random() < 0.15:
        made.append(("drawn", Map([(views[0], Seq([_shape(random) for _ in range(random.randint(1, 3))]))])))
    tree.items = [pair for pair in kept if pair[0] != "density"] + made


def _feature(random: Random) -> Map:
    kind = random.choice(tuple(feature_kinds()))
    entries: list[tuple[str, str | Seq | Map]] = []
    for parameter in feature_kinds()[kind].PARAMETERS:
        if parameter.name == NAME.name:
            entries.append(("name", f"f{random.randrange(1000)}"))
        elif parameter.required or random.random() < 0.15:
            entries.append((parameter.name, _stated(random, parameter)))
    return Map([(kind, Map(entries))])


_USUAL = {"from": "0", "to": "10", "at": "5", "count": "4", "pitch": "1", "width": "2", "depth": "2", "length": "4"}
_OTHERS = {
    **dict.fromkeys(("from", "at"), ("10", "5", "-5")),
    **dict.fromkeys(("to", "count"), ("5", "3", "15", "20", "0")),
    **dict.fromkeys(("circle", "outer", "across_flats", "surface"), ("20", "15", "12", "10", "18")),
}


def _stated(random: Random, parameter: Parameter) -> "str | Seq | Map":
    if parameter.kind is ParameterKind.CHOICE:
        return random.choice(parameter.choices)
    if parameter.kind is ParameterKind.PROFILE:
        return _knots(random)
    if parameter.name in _USUAL and random.random() < 0.7:
        return _USUAL[parameter.name]
    return random.choice((*_OTHERS.get(parameter.name, ()), _number(random)))


def _number(random: Random) -> str:
    kind = random.random()
    if kind < 0.92:
        return f"{random.choice((0.1, 1.0, 1.0, 1.0, 10.0)) * random.choice((1, 2, 2, 3, 4, 5, 6, 8, 10, 20)):g}"
    return random.choice(NUMBERS) if kind < 0.96 else random.choice(("d", "2*d", "-d", "1e5*3", "3*1e-8", "1/3"))


def _knots(random: Random) -> Seq:
    knots: list[str | Seq | Map] = []
    for _ in range(random.choice((3, 3, 4, 5, 8))):
        at = Seq([_number(random), _number(random)])
        kind = random.choice(("", "", "corner", "arc"))
        knots.append(Map([(kind, at), ("radius", _number(random))]) if kind else at)
    return Seq(knots)


def _shape(random: Random) -> Map:
    kind = random.choice(tuple(DRAWN_KINDS))
    entries: list[tuple[str, str | Seq | Map]] = []
    for entry in DRAWN_KINDS[kind].entries:
        if not entry.required and random.random() < 0.6:
            continue
        match str(entry.states):
            case "number":
                entries.append((entry.name, _number(random)))
            case "place":
                entries.append((entry.name, Seq([_number(random), _number(random)])))
            case "knots":
                entries.append((entry.name, _knots(random)))
            case "closed":
                entries.append((entry.name, random.choice(("true", "false"))))
            case "role":
                entries.append((entry.name, random.choice(("outline", "axis", "hidden", "text", "narrow"))))
            case _:
                entries.append((entry.name, json.dumps(random.choice(("A", "SHRUNK ON", "50 %", "x" * 200)))))
    return Map([(kind, Map(entries))])
