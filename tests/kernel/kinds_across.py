"""The kernel's solids of features across or off the axis, made from what their parameters mean, not by our lowering."""

import math
from collections.abc import Mapping

from OCP.TopoDS import TopoDS_Shape

from kernel.booleans import fused, unified
from kernel.shapes import Knot, Place, Profile, Vector, box, cone, cylinder, extrude, revolve, torus

Numbers = Mapping[str, float]
Choices = Mapping[str, str]
Profiles = Mapping[str, Profile]
Made = tuple[list[TopoDS_Shape], list[TopoDS_Shape]]
_FAR = 3.0  # times the radius: clear of the part


def _way(degrees: float) -> Vector:
    """Return the direction square to the axis at an angle from up, toward the viewer of the side view."""
    return 0.0, math.cos(math.radians(degrees)), math.sin(math.radians(degrees))


def _ways(n: Numbers) -> list[Vector]:
    return [_way(n["first"] + 360.0 * k / n["count"]) for k in range(round(n["count"]))]


def _across(degrees: float, at: float) -> Place:
    return Place((at, 0.0, 0.0), _way(degrees), (1.0, 0.0, 0.0))


def _flats(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Mill with a square block from the flat outward."""
    radius, flats = n["diameter"] / 2.0, n["across_flats"]
    off = flats - radius if n["count"] % 2 else flats / 2.0
    length = n["to"] - n["from"]
    middle = (n["from"] + n["to"]) / 2.0
    blocks = [
        box(off, _FAR * radius, length, _FAR * radius, Place((middle, 0.0, 0.0), w, (1.0, 0.0, 0.0))) for w in _ways(n)
    ]
    return [], blocks


def _cross_hole(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Drill, then countersink: the sink's diameter is met where the surface stands highest."""
    place, radius, surface = _across(n["angle"], n["at"]), n["diameter"] / 2.0, n["outer"] / 2.0
    both = choices["through"] == "both"
    tools = [cylinder(-_FAR * surface if both else surface - n["depth"], _FAR * surface, radius, place)]
    if n["countersink_diameter"]:
        sink, slope = n["countersink_diameter"] / 2.0, math.tan(math.radians(n["countersink_angle"] / 2.0))
        for side in (0.0, 180.0) if both else (0.0,):
            looks = _across(n["angle"] + side, n["at"])
            tip = surface - sink / slope
            tools.append(cone(tip, 0.0, 2.0 * surface, (2.0 * surface - tip) * slope, looks))
    return [], tools


def _slots(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    half, outer = n["width"] / 2.0, _FAR * n["outer"]
    deep = abs(n["to"] - n["from"])
    way = math.copysign(1.0, n["to"] - n["from"])
    tools = []
    for degrees in (n["first"] + 360.0 * k / n["count"] for k in range(round(n["count"]))):
        place = Place((n["to"], 0.0, 0.0), _way(degrees), (-way, 0.0, 0.0))
        outline: list[Knot | tuple[float, float]] = [(deep, -half), (deep, half)]
        if choices["floor"] == "round":
            outline += [(half, half), Knot(0.0, 0.0, half, arc=True), Knot(half, -half, half, arc=True)]
        else:
            outline += [(0.0, half), (0.0, -half)]
        tools.append(extrude(outline, n["inner"] / 2.0, outer, place))
    return [], tools


def _bolt_holes(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    tools = []
    for _, y, z in _ways(n):
        place = Place((0.0, y * n["circle"] / 2.0, z * n["circle"] / 2.0))
        tools.append(cylinder(n["from"], n["to"], n["diameter"] / 2.0, place))
        if n["counterbore_diameter"]:
            start, end = n["from"], n["from"] + n["counterbore_depth"]
            if choices["counterbored"] == "to":
                start, end = n["to"] - n["counterbore_depth"], n["to"]
            tools.append(cylinder(start, end, n["counterbore_diameter"] / 2.0, place))
    return [], tools


def _carried(n: Numbers, choices: Choices, profiles: Profiles) -> TopoDS_Shape:
    """Extrude the outline in the plane of the view that shows it: to the right and up."""
    away = (0.0, 0.0, -1.0)
    place, back = {
        "axis": (Place((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), away), False),
        "up": (Place((0.0, 0.0, 0.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)), False),
        "across": (Place((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)), True),
    }[choices["along"]]
    start, end = (-n["to"], -n["from"]) if back else (n["from"], n["to"])
    return extrude(profiles["profile"], start, end, place)


def _prism(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    return [_carried(n, choices, profiles)], []


def _pocket(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    return [], [_carried(n, choices, profiles)]


def _round(radius: float, line: float) -> Profile:
    """Return the outline of a round section at a distance from the axis that it is turned about."""
    there = Knot(0.0, line + radius, radius, arc=True)
    return [there, Knot(0.0, line - radius, radius, arc=True)]


def _bend(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Turn a round section about an axis square to the part's, then go on straight."""
    _, y, z = _way(n["direction"])
    line, sweep = n["radius"], math.radians(n["angle"])
    centre = (n["at"], line * y, line * z)
    about = Place(centre, (0.0, -z, y), (0.0, -y, -z))  # turns from the axis first ahead, then outward
    ahead, out = (1.0, 0.0, 0.0), (0.0, y, z)
    end = tuple(
        c + line * (math.sin(sweep) * a - math.cos(sweep) * o) for c, a, o in zip(centre, ahead, out, strict=True)
    )
    leaves = tuple(math.cos(sweep) * a + math.sin(sweep) * o for a, o in zip(ahead, out, strict=True))
    tail = Place(end, leaves, (0.0, z, -y))
    made: Made = ([], [])
    for shapes, radius in zip(made, (n["diameter"] / 2.0, n["bore"] / 2.0), strict=True):
        if radius:
            shapes.append(revolve(_round(radius, line), about, n["angle"]))
            if n["tail"]:
                shapes.append(cylinder(0.0, n["tail"], radius, tail))
    return made


def _branch(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    lean = math.radians(n["inclination"])
    _, y, z = _way(n["angle"])
    place = Place((n["at"], 0.0, 0.0), (math.cos(lean), math.sin(lean) * y, math.sin(lean) * z), (0.0, -z, y))
    bore = [cylinder(0.0, n["length"], n["bore"] / 2.0, place)] if n["bore"] else []
    return [cylinder(0.0, n["length"], n["diameter"] / 2.0, place)], bore


def _eye(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    _, y, z = _way(n["direction"])
    place = Place((n["at"], 0.0, 0.0), (0.0, -z, y), (1.0, 0.0, 0.0))
    return [torus(0.0, (n["diameter"] + n["section"]) / 2.0, n["section"] / 2.0, place)], []


def _keyway(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Mill with a box, and with an end mill at both ends."""
    radius, half = n["diameter"] / 2.0, n["width"] / 2.0
    floor, ends = radius - n["depth"], half if choices["ends"] == "round" else 0.0
    start, end = n["from"] + ends, n["to"] - ends
    place = Place(((start + end) / 2.0, 0.0, 0.0), _way(n["angle"]), (1.0, 0.0, 0.0))
    tools = [box(floor, 2.0 * radius, end - start, n["width"], place)]
    if ends:
        tools += [cylinder(floor, 2.0 * radius, half, _across(n["angle"], at)) for at in (start, end)]
    return [], [unified(fused(tools))]


KINDS = {
    "keyway": _keyway,
    "bend": _bend,
    "bolt_holes": _bolt_holes,
    "branch": _branch,
    "cross_hole": _cross_hole,
    "eye": _eye,
    "flats": _flats,
    "pocket": _pocket,
    "prism": _prism,
    "slots": _slots,
}
