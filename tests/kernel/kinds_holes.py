"""The kernel's solids of holes, threads and drives, made from what their parameters mean, not by our lowering."""

import math
from collections.abc import Callable, Mapping

from OCP.TopoDS import TopoDS_Shape

from kernel.booleans import common, cut_from, fused, unified
from kernel.shapes import Place, Profile, box, cone, cylinder, extrude, regular, revolve

Numbers = Mapping[str, float]
Choices = Mapping[str, str]
Profiles = Mapping[str, Profile]
Made = tuple[list[TopoDS_Shape], list[TopoDS_Shape]]


def _way(n: Numbers) -> float:
    return math.copysign(1.0, n["to"] - n["from"])


def _facing(at: float, way: float) -> Place:
    """Return the place of a drill that starts at a face and goes one way along the axis."""
    return Place((at, 0.0, 0.0), (way, 0.0, 0.0))


def _tip(radius: float, angle: float) -> float:
    return radius / math.tan(math.radians(angle / 2.0))


def _bore(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    drill, depth, radius = _facing(n["from"], _way(n)), abs(n["to"] - n["from"]), n["diameter"] / 2.0
    tools = [cylinder(0.0, depth, radius, drill)]
    if choices["bottom"] == "drill":
        tools.append(cone(depth, radius, depth + _tip(radius, n["point_angle"]), 0.0, drill))
    return [], tools


def _counterbore(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    return [], [cylinder(0.0, abs(n["to"] - n["from"]), n["diameter"] / 2.0, _facing(n["from"], _way(n)))]


def _countersink(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    mouth, bore = n["diameter"] / 2.0, n["bore"] / 2.0
    place = _facing(n["at"], 1.0 if choices["side"] == "to" else -1.0)
    return [], [cone(0.0, mouth, _tip(mouth, n["angle"]) - _tip(bore, n["angle"]), bore, place)]


def _tapped_bore(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Drill at the minor diameter, relieve, then countersink what is named."""
    way, length, crest = _way(n), abs(n["to"] - n["from"]), n["minor_diameter"] / 2.0
    place, mouth = _facing(n["from"], way), n["countersink_diameter"] / 2.0
    blind = choices["bottom"] != "through"
    relief = n["undercut_width"] if blind and n["undercut_diameter"] else 0.0
    deep = max(way * (n["drill_to"] - n["from"]), length + relief) if blind else length
    tools = [cylinder(0.0, deep, crest, place)]
    if relief:
        tools.append(cylinder(length, length + relief, n["undercut_diameter"] / 2.0, place))
    if choices["bottom"] == "drill":
        tools.append(cone(deep, crest, deep + _tip(crest, n["point_angle"]), 0.0, place))
    sink = _tip(mouth, n["countersink_angle"])
    if choices["countersink"] in ("from", "both"):
        tools.append(cone(0.0, mouth, sink, 0.0, place))
    if choices["countersink"] in ("to", "both"):
        tools.append(cone(length - sink, 0.0, length, mouth, place))
    return [], [unified(fused(tools))]


def _thread(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Turn the cylinder through the crests with its point, or both, cut at an angle."""
    way, length, crest, point = _way(n), abs(n["to"] - n["from"]), n["diameter"] / 2.0, n["point_diameter"] / 2.0
    if not point:
        return [cylinder(*sorted((n["from"], n["to"])), crest)], []
    along = (crest - point) / math.tan(math.radians(n["point_angle"]))
    outline = [(0.0, 0.0), (0.0, point), (along, crest)] if choices["chamfer"] == "both" else [(0.0, 0.0), (0.0, crest)]
    outline += [(length - along, crest), (length, point), (length, 0.0)]
    spots = [(n["from"] + way * along, radius) for along, radius in outline]
    return [revolve(spots if way > 0.0 else spots[::-1])], []


def _socket(profile: TopoDS_Shape, n: Numbers, inscribed: float) -> Made:
    way, place = _way(n), _facing(n["to"], _way(n))
    tools = [profile]
    if n["point_angle"]:
        tools.append(cone(0.0, inscribed, _tip(inscribed, n["point_angle"]), 0.0, place))
    if n["mouth"]:
        tools.append(cone(0.0, n["mouth"] / 2.0, n["mouth"] / 2.0, 0.0, _facing(n["from"], way)))
    return [], [unified(fused(tools))]


def _regular(sides: int) -> Callable[[Numbers, Choices, Profiles], Made]:
    def make(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
        start, end = sorted((n["from"], n["to"]))
        prism = extrude(regular(sides, n["across_flats"]), start, end)
        return _socket(prism, n, n["across_flats"] / 2.0)

    return make


def _six_lobe(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Take hollows from a disc through the points of tangency and add the lobes; the hollow by bisection."""
    outer, inner, lobe = n["diameter"] / 2.0, n["inner"] / 2.0, n["lobe_radius"]
    away = outer - lobe
    low, high = 1e-6, 10.0 * outer
    for _ in range(200):
        hollow = (low + high) / 2.0
        far = math.dist((away, 0.0), ((inner + hollow) * math.sqrt(0.75), (inner + hollow) / 2.0))
        low, high = (hollow, high) if far > lobe + hollow else (low, hollow)
    start, end = sorted((n["from"], n["to"]))

    def pillars(distance: float, radius: float, first: float) -> list[TopoDS_Shape]:
        angles = (math.radians(first + 60.0 * k) for k in range(6))
        return [
            cylinder(start, end, radius, Place((0.0, distance * math.cos(a), distance * math.sin(a)))) for a in angles
        ]

    share = lobe / (lobe + hollow)
    touch = math.hypot(away + ((inner + hollow) * math.sqrt(0.75) - away) * share, (inner + hollow) / 2.0 * share)
    star = cut_from(cylinder(start, end, touch), pillars(inner + hollow, hollow, 30.0))
    return _socket(unified(fused([star, *pillars(away, lobe, 0.0)])), n, inner)


def _slot(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Cut a long box, its width turned from Y toward Z with the slot's run."""
    way, deep, run = _way(n), abs(n["to"] - n["from"]), math.radians(n["angle"])
    place = Place((n["from"], 0.0, 0.0), (way, 0.0, 0.0), (0.0, math.cos(run), math.sin(run)))
    return [], [box(-deep, deep, 3.0 * n["diameter"], n["width"], place)]


def _cross_recess(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Keep of a punch, two cones as long as their angles make them, what two crossing boxes leave."""
    way, deep, outer = _way(n), abs(n["to"] - n["from"]), n["diameter"] / 2.0
    slope, flat = math.radians(n["slope"]), math.radians(n["point_angle"] / 2.0)
    blunt = cone(0.0, deep * math.tan(flat), deep, 0.0, _facing(n["from"], way))
    sharp = outer / math.tan(slope)
    wings = cone(0.0, outer, sharp, 0.0, _facing(n["from"], way))
    bars = [box(0.0, deep, long, wide, _facing(n["from"], way)) for long, wide in _sides(n, outer)]
    return [], [unified(common(common(blunt, [wings]), [fused(bars)]))]


def _sides(n: Numbers, outer: float) -> tuple[tuple[float, float], tuple[float, float]]:
    return (3.0 * outer, n["width"]), (n["width"], 3.0 * outer)


KINDS: Mapping[str, Callable[[Numbers, Choices, Profiles], Made]] = {
    "bore": _bore,
    "counterbore": _counterbore,
    "countersink": _countersink,
    "cross_recess": _cross_recess,
    "hexagon_socket": _regular(6),
    "six_lobe": _six_lobe,
    "slot": _slot,
    "square_socket": _regular(4),
    "tapped_bore": _tapped_bore,
    "thread": _thread,
}
