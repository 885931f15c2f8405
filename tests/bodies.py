"""Bodies for tests, stated as a definition would state them: feature kind, parameters, choices."""

from collections.abc import Mapping

from builder.body.catalogue import feature_kinds
from builder.body.feature import Lowered, ParameterKind, Values
from builder.body.solid import Body
from builder.words.formula import parse_formula
from builder.words.knot import Knot
from builder.words.problems import Position, Problems


def lower(
    kind: str,
    numbers: Mapping[str, float],
    name: str = "",
    profiles: Mapping[str, tuple[Knot, ...]] | None = None,
    **choices: str,
) -> Lowered:
    feature = feature_kinds()[kind]
    values, chosen = {}, {}
    for parameter in feature.PARAMETERS:
        if parameter.kind is ParameterKind.CHOICE:
            chosen[parameter.name] = choices.get(parameter.name, parameter.default)
        elif parameter.name in numbers:
            values[parameter.name] = numbers[parameter.name]
        elif parameter.default is not None:
            formula = parse_formula(parameter.default, Position("default"), Problems())
            assert formula is not None
            values[parameter.name] = formula.value(values)
    return feature.lower(Values(name or kind, values, chosen, profiles or {}))


def body(*lowered: Lowered) -> Body:
    return Body(
        tuple(p for low in lowered for p in low.pieces),
        tuple(t for low in lowered for t in low.threads),
        tuple(f for low in lowered for f in low.flats),
        tuple(a for low in lowered for a in low.axes),
    )


# M12 x 50, ISO 4014: s 18, k 7.5, b 30, P 1.75 (published table); washer face and fillet of plausible size
M12 = {"d": 12.0, "P": 1.75, "s": 18.0, "k": 7.5, "c": 0.6, "dw": 16.63, "r": 0.6, "b": 30.0, "l": 50.0}


def bolt_features(of: Mapping[str, float] = M12) -> list[Lowered]:
    d3 = of["d"] - 1.226869 * of["P"]
    start = of["l"] - of["b"]
    return [
        lower("hexagon", {"across_flats": of["s"], "from": -of["k"], "to": -of["c"]}, chamfer="from"),
        lower("cylinder", {"diameter": of["dw"], "from": -of["c"], "to": 0.0}, "washer face"),
        lower("cylinder", {"diameter": of["d"], "from": 0.0, "to": start, "fillet": of["r"]}, "shank"),
        lower(
            "thread",
            {"diameter": of["d"], "pitch": of["P"], "from": start, "to": of["l"], "point_diameter": d3},
        ),
    ]


def bolt(of: Mapping[str, float] = M12) -> Body:
    return body(*bolt_features(of))


def nut(d: float = 12.0, pitch: float = 1.75, s: float = 18.0, m: float = 10.8) -> Body:
    hexagon = lower("hexagon", {"across_flats": s, "from": 0.0, "to": m}, chamfer="both")
    return body(
        hexagon,
        lower("tapped_bore", {"diameter": d, "pitch": pitch, "from": 0.0, "to": m}, countersink="both"),
    )


def washer(inner: float = 13.0, outer: float = 24.0, h: float = 2.5) -> Body:
    ring = lower("cylinder", {"diameter": outer, "from": 0.0, "to": h}, "washer")
    return body(ring, lower("bore", {"diameter": inner, "from": 0.0, "to": h}))
