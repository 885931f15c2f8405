"""What several readers see in one DXF file, brought into one form, and where two of them differ.

A sight is a mapping: `reader`; `header` (version, units, measurement, base, low, high); `layers` and `linetypes` with
their `name`; `entities`; `blocks` with `name`, `base`, `entities`; `lacks`, the kinds that its reader passes over. An
entity has its `kind` and whatever its reader gives of: `layer`, `linetype` ("" by layer), `colour` (256 by layer, 0 by
block), and

    LINE      start, end                        TEXT ATTDEF ATTRIB   at, height, text, tag, prompt, invisible, constant
    CIRCLE    centre, radius                    INSERT               at, name
    ARC       centre, radius, from, to          LETTERS              at, text: a TEXT or an ATTDEF
    ELLIPSE   centre, major, ratio, from, to    CHAIN                knots: any line or curve, as chords
    POLYLINE  knots (x, y, bulge), closed

with angles in radians. What one of two does not give is not compared.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

Entity = Mapping[str, Any]
Sight = Mapping[str, Any]
Place = tuple[float, float]

NEAR = 1e-9  # numbers are written to nine decimals
CHORDS = 1e-3  # sagitta of a reader's chords, of the curve's size
ANGLES = {"from", "to"}
NO_CASE = {"name", "linetype"}
EXACTNESS = {"CHAIN": 0, "POLYLINE": 1, "LINE": 2, "CIRCLE": 2, "ARC": 2, "ELLIPSE": 2}
COARSE = {"TEXT": "LETTERS", "ATTDEF": "LETTERS"} | dict.fromkeys(EXACTNESS, "CHAIN")


def differences(one: Sight, other: Sight) -> list[str]:
    """Return a sentence for everything in which two sights of one file differ."""
    both = f"{one['reader']} and {other['reader']}"
    return [f"{both}: {fault}" for fault in _files(one, other)]


def _files(one: Sight, other: Sight) -> Iterator[str]:
    yield from _values("header", one.get("header", {}), other.get("header", {}))
    for table in ("layers", "linetypes"):
        if table in one and table in other:
            yield from _rows(table, one[table], other[table])
    lacks = {*one.get("lacks", ()), *other.get("lacks", ())}
    yield from _entities("sheet", one["entities"], other["entities"], lacks)
    yield from _rows("blocks", one["blocks"], other["blocks"])
    there = {block["name"]: block for block in other["blocks"]}
    for block in one["blocks"]:
        if block["name"] in there:
            yield from _entities(block["name"], block["entities"], there[block["name"]]["entities"], lacks)


def _rows(table: str, one: Sequence[Entity], other: Sequence[Entity]) -> Iterator[str]:
    here, there = ({row["name"].casefold(): row for row in rows} for rows in (one, other))
    if sorted(here) != sorted(there) or len(one) != len(other):
        yield f"{table} {sorted(here)} against {sorted(there)}"
    for name in here.keys() & there.keys():
        yield from _values(f"{table} {name}", here[name], there[name])


def _entities(place: str, one: Sequence[Entity], other: Sequence[Entity], lacks: set[str]) -> Iterator[str]:
    here, there = ([e for e in entities if e["kind"] not in lacks] for entities in (one, other))
    if len(here) != len(there):
        yield f"{place} has {len(here)} entities against {len(there)}"
        return
    for number, (a, b) in enumerate(zip(here, there, strict=True), start=1):
        where = f"{place}, entity {number}, {a['kind']}"
        if a["kind"] == b["kind"]:
            yield from _values(where, a, b)
        elif not _coarsely_alike(a, b):
            yield f"{where} against {b['kind']}"
        else:
            yield from _values(where, a, b)
            yield from _curves(where, a, b)


def _coarsely_alike(a: Entity, b: Entity) -> bool:
    """Tell whether one is what a reader that does not tell kinds apart, or an R12 file, makes of the other."""
    kinds = {a["kind"], b["kind"]}
    return ("LETTERS" in kinds and {COARSE.get(kind, kind) for kind in kinds} == {"LETTERS"}) or (
        bool(kinds & {"CHAIN", "POLYLINE"}) and kinds <= EXACTNESS.keys()
    )


def _values(where: str, one: Entity, other: Entity) -> Iterator[str]:
    for key in one.keys() & other.keys() - {
        "kind",
        "entities",
        "knots" if one.get("kind") != other.get("kind") else "",
    }:
        a, b = one[key], other[key]
        if a != b and a is not None and b is not None and not _near(key, a, b):
            yield f"{where}: {key} {a!r} against {b!r}"


def _near(key: str, a: Any, b: Any) -> bool:
    if isinstance(a, str):
        return key in NO_CASE and isinstance(b, str) and a.casefold() == b.casefold()
    if isinstance(a, bool) or isinstance(b, bool):
        return False
    if isinstance(a, (int, float)):
        off = math.remainder(a - b, math.tau) if key in ANGLES else a - b
        return abs(off) <= NEAR
    return len(a) == len(b) and all(x == y or _near(key, x, y) for x, y in zip(a, b, strict=True))


# --- one curve in two forms ---------------------------------------------------------------------------------


def _curves(where: str, a: Entity, b: Entity) -> Iterator[str]:
    """Compare a curve with its chords or polyline: every knot lies on it, the ends agree, and so does the middle."""
    coarse, exact = sorted((a, b), key=lambda e: EXACTNESS.get(e["kind"], 0))
    if coarse["kind"] == "LETTERS" or "knots" not in coarse:
        return
    within, size = max(e.get("within", 2.0 * NEAR) for e in (a, b)), _size(exact)
    off = max(_off(exact, (x, y)) for x, y, *_ in coarse["knots"])
    if off > within + 1e-10 * size:
        yield f"{where}: a knot lies {off:g} from the {exact['kind']}"
    first, last = _ends(exact)
    for ends in ((first, last), (last, first)):  # GDAL's arcs run clockwise
        if all(math.dist(a, b) <= 2.0 * NEAR + 1e-10 * size for a, b in zip(_ends(coarse), ends, strict=True)):
            break
    else:
        yield f"{where}: ends at {_ends(coarse)} against {(first, last)}"
    off = _off(coarse, _middle(exact))
    if off > within + CHORDS * size:
        yield f"{where}: its middle lies {off:g} from the {coarse['kind']}"


def _size(e: Entity) -> float:
    if "knots" in e:
        return max(math.dist(knot[:2], e["knots"][0][:2]) for knot in e["knots"])
    return float(e["radius"]) if "radius" in e else math.dist(*_vector(e))


def _vector(e: Entity) -> tuple[Place, Place]:
    return (e["start"], e["end"]) if e["kind"] == "LINE" else ((0.0, 0.0), e["major"])


def _ends(e: Entity) -> tuple[Place, Place]:
    match e["kind"]:
        case "LINE":
            return tuple(e["start"]), tuple(e["end"])
        case "CHAIN" | "POLYLINE":
            knots = [tuple(knot[:2]) for knot in e["knots"]]
            return knots[0], knots[0 if e.get("closed") else -1]
    start, end = _span(e)
    return _at(e, start), _at(e, end)


def _middle(e: Entity) -> Place:
    if e["kind"] == "LINE":
        (x1, y1), (x2, y2) = _ends(e)
        return (x1 + x2) / 2.0, (y1 + y2) / 2.0
    if "knots" in e:
        return tuple(e["knots"][len(e["knots"]) // 2][:2])
    start, end = _span(e)
    return _at(e, (start + end) / 2.0)


def _span(e: Entity) -> tuple[float, float]:
    start = e.get("from", 0.0)
    turn = (e.get("to", math.tau) - start) % math.tau
    return start, start + (turn if turn > NEAR else math.tau)


def _at(e: Entity, angle: float) -> Place:
    (x, y), (dx, dy) = e["centre"], e.get("major", (e.get("radius"), 0.0))
    along, across = math.cos(angle), e.get("ratio", 1.0) * math.sin(angle)
    return x + along * dx - across * dy, y + along * dy + across * dx


def _off(e: Entity, place: Place) -> float:
    """Return how far a place lies from a curve; from an ellipse to first order."""
    if e["kind"] == "LINE":
        return _off_piece(e["start"], e["end"], 0.0, place)
    if "knots" in e:
        closed = [e["knots"][0]] if e.get("closed") else []
        return min(_off_piece(a[:2], b[:2], a[2], place) for a, b in pairwise([*e["knots"], *closed]))
    (x, y), (dx, dy) = e["centre"], e.get("major", (e.get("radius"), 0.0))
    a = math.hypot(dx, dy)
    b = a * e.get("ratio", 1.0)
    u, v = ((place[0] - x) * dx + (place[1] - y) * dy) / a, ((place[1] - y) * dx - (place[0] - x) * dy) / a
    start, end = _span(e)
    if (math.atan2(v / b, u / a) - start + 1e-6) % math.tau > end - start + 2e-6:
        return min(math.dist(place, tip) for tip in _ends(e))
    return abs((u / a) ** 2 + (v / b) ** 2 - 1.0) / math.hypot(2.0 * u / a**2, 2.0 * v / b**2)


def _off_piece(a: Place, b: Place, bulge: float, place: Place) -> float:
    """Return the distance from a chord or, by its bulge (tangent of a quarter of its angle), from an arc."""
    if bulge:
        dx, dy, lift = b[0] - a[0], b[1] - a[1], (1.0 / bulge - bulge) / 4.0
        centre = (a[0] + b[0]) / 2.0 - lift * dy, (a[1] + b[1]) / 2.0 + lift * dx
        first, last = (a, b) if bulge > 0.0 else (b, a)
        turns = {f"{n}": math.atan2(p[1] - centre[1], p[0] - centre[0]) for n, p in enumerate((first, last))}
        arc = {"kind": "ARC", "centre": centre, "radius": math.dist(a, centre), "from": turns["0"], "to": turns["1"]}
        return _off(arc, place)
    dx, dy = b[0] - a[0], b[1] - a[1]
    along = ((place[0] - a[0]) * dx + (place[1] - a[1]) * dy) / ((dx * dx + dy * dy) or 1.0)
    along = min(1.0, max(0.0, along))
    return math.dist(place, (a[0] + along * dx, a[1] + along * dy))
