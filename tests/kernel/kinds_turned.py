"""The kernel's solids of turned features, made from what their parameters mean, not by our lowering."""

import math
from collections.abc import Mapping

from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.TopoDS import TopoDS_Shape

from kernel.shapes import Knot, Place, Profile, Spot, Vector, cone, cylinder, revolve, torus

Numbers = Mapping[str, float]
Choices = Mapping[str, str]
Profiles = Mapping[str, Profile]
Made = tuple[list[TopoDS_Shape], list[TopoDS_Shape]]


def _less(shape: TopoDS_Shape, *cuts: TopoDS_Shape) -> TopoDS_Shape:
    for cut in cuts:
        shape = BRepAlgoAPI_Cut(shape, cut).Shape()
    return shape


def _ring(a: float, b: float, inner: float, outer: float) -> TopoDS_Shape:
    low, high = sorted((a, b))
    return revolve([(low, inner), (low, outer), (high, outer), (high, inner)])


def _taper(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    return [cone(n["from"], n["diameter"] / 2.0, n["to"], n["end_diameter"] / 2.0)], []


def _ball(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    return [_sphere(n["diameter"] / 2.0, (n["at"], 0.0, 0.0))], []


def _sphere(radius: float, centre: Vector) -> TopoDS_Shape:
    """Return a sphere made of a half circle, its seam where no line is looked for."""
    return revolve([(-radius, 0.0), Knot(radius, 0.0, -radius, arc=True)], Place(centre))


def _crown(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Cut the segment from the whole sphere through base circle and top."""
    base, top, radius = n["from"], n["to"], n["diameter"] / 2.0
    height, way = abs(top - base), math.copysign(1.0, top - base)
    whole = (radius**2 + height**2) / (2.0 * height)
    low, high = sorted((base, top + way * whole))
    slab = cylinder(low, high, 2.0 * whole)
    return [BRepAlgoAPI_Common(_sphere(whole, (top - way * whole, 0.0, 0.0)), slab).Shape()], []


def _side(choices: Choices) -> float:
    return 1.0 if choices["side"] == "from" else -1.0


def _chamfer(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Leave the cone through the chamfer's two circles of a ring about the edge."""
    radius, at, way, along = n["diameter"] / 2.0, n["at"], _side(choices), n["length"]
    slope = math.tan(math.radians(n["angle"]))
    ring = _ring(at, at + 1.2 * way * along, radius - 1.01 * along * slope, 1.5 * radius)
    a, b = at - way * along / 2.0, at + 3.0 * way * along
    spots = [(x, radius + ((x - at) * way - along) * slope) for x in (a, b)]
    (a, first), (b, last) = sorted(spots)
    return [], [_less(ring, cone(a, max(0.0, first), b, last))]


def _fillet(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Take a torus out of a square ring in the corner."""
    inner, at, way, r = n["diameter"] / 2.0, n["at"], _side(choices), n["radius"]
    return [_less(_ring(at, at + way * r, inner * 0.9, inner + r), torus(at + way * r, inner + r, r))], []


def _groove(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Turn the groove with the kernel's tangent arcs; a full round floor is half a circle."""
    start, end, floor, top, r = n["from"], n["to"], n["diameter"] / 2.0, n["outer"], n["radius"]
    if end - start > 2.0 * r:
        return [], [revolve([(start, top), Knot(start, floor, r), Knot(end, floor, r), (end, top)])]
    return [], [revolve([(start, top), (start, floor + r), Knot(end, floor + r, r, arc=True), (end, top)])]


def _undercut(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Turn the relief as the standard's figure shows it; fill the corner that the radius leaves above the shaft.

    Places are the distance from the shoulder's face and the height above the shaft's surface.
    """
    r, t1, t2, f = n["radius"], n["depth"], n["shoulder_depth"], n["width"]
    lean = math.radians(n["shoulder_angle"]) if t2 else 0.0
    u, v = r - t2, r - t1
    touch = (u - r * math.cos(lean), v + r * math.sin(lean))
    mouth = touch[1] - touch[0] / math.tan(lean) if t2 else touch[1]
    slope = math.tan(math.radians(n["run_out_angle"]))
    air = max(mouth, t1) + r
    cut = [touch, Knot(u, -t1, r, arc=True), (f - t1 / slope, -t1), (f + air / slope, air), (0.0, air)]
    cut += [(0.0, mouth)] if t2 else []
    filled = []
    if u > 0.0 and v > 0.0 and math.hypot(u, v) > r:
        up, out = v - math.sqrt(max(0.0, r * r - u * u)), u - math.sqrt(r * r - v * v)
        filled = [revolve(_at_shoulder([(0.0, up), Knot(out, 0.0, r, arc=True), (-t2 / 2.0 - r, 0.0)], n, choices))]
        filled = [_less(filled[0], _ring(n["at"], n["at"] - _side(choices) * 4.0 * r, 0.0, n["diameter"]))]
    return filled, [revolve(_at_shoulder(cut, n, choices))]


def _at_shoulder(marks: Profile, n: Numbers, choices: Choices) -> Profile:
    way = _side(choices)
    placed: list[Knot | Spot] = []
    for mark in marks:
        if isinstance(mark, Knot):
            placed.append(Knot(n["at"] + way * mark.x, n["diameter"] / 2.0 + mark.y, way * mark.radius, mark.arc))
        else:
            placed.append((n["at"] + way * mark[0], n["diameter"] / 2.0 + mark[1]))
    return placed


def _collar(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Stack rim and coned top; the kernel's tangent arcs round the rim, cones cut its chamfers."""
    start, end, radius, top = n["from"], n["to"], n["diameter"] / 2.0, n["top_diameter"] / 2.0
    way = math.copysign(1.0, end - start)
    high = end + way * (radius - top) * math.tan(math.radians(n["angle"]))
    r = n["rounding_radius"]
    first, last = (r if choices["rounding"] in (side, "both") else 0.0 for side in ("from", "to"))
    knots: list[Knot | Spot] = [(start, 0.0), Knot(start, radius, first), Knot(end, radius, last)]
    knots += [(high, top)] if top < radius else []
    solid = revolve([*knots, (high, 0.0)])
    cuts = []
    for side, at, inward in (("from", start, way), ("to", end, -way)):
        if choices["chamfer"] in (side, "both"):
            edge = {"diameter": n["diameter"], "at": at, "length": n["chamfer_length"], "angle": n["chamfer_angle"]}
            cuts += _chamfer(edge, {"side": "from" if inward > 0.0 else "to"}, {})[1]
    return [_less(solid, *cuts)], []


def _revolved(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    solid = revolve(profiles["profile"])
    return ([], [solid]) if choices["fills"] == "void" else ([solid], [])


def _o_ring(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Return a torus whose seam lies where no line is looked for."""
    turned = Place(up=(0.0, math.cos(0.1234), math.sin(0.1234)))
    return [torus(n["at"], (n["diameter"] + n["section"]) / 2.0, n["section"] / 2.0, turned)], []


def _round(n: Numbers) -> list[Vector]:
    """Return the directions from the axis to each of a row."""
    angles = [math.radians(n["first"] + 360.0 * k / n["count"]) for k in range(round(n["count"]))]
    return [(0.0, math.cos(a), math.sin(a)) for a in angles]


def _balls(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    half = n["circle"] / 2.0
    return [_sphere(n["diameter"] / 2.0, (n["at"], half * y, half * z)) for _, y, z in _round(n)], []


def _rollers(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    half, long, r = n["circle"] / 2.0, n["length"] / 2.0, n["rounding_radius"]
    c, s = math.cos(math.radians(n["tilt"])), math.sin(math.radians(n["tilt"]))
    section = [
        (-long, 0.0),
        Knot(-long, n["diameter"] / 2.0, r),
        Knot(long, n["end_diameter"] / 2.0, r),
        (long, 0.0),
    ]
    return [
        revolve(section, Place((n["at"], half * y, half * z), (c, s * y, s * z), (-s, c * y, c * z)))
        for _, y, z in _round(n)
    ], []


def _cylinder(n: Numbers, choices: Choices, profiles: Profiles) -> Made:
    """Turn the outline; the kernel's tangent arcs round its edges, cones cut its chamfers, a torus the fillet."""
    start, end, radius = n["from"], n["to"], n["diameter"] / 2.0
    rounds = [n["rounding_radius"] if choices["rounding"] in (side, "both") else 0.0 for side in ("from", "to")]
    solid = revolve([(start, 0.0), Knot(start, radius, rounds[0]), Knot(end, radius, rounds[1]), (end, 0.0)])
    edge = {"diameter": n["diameter"], "length": n["chamfer_length"], "angle": n["chamfer_angle"]}
    for side in ("from", "to"):
        if choices["chamfer"] in (side, "both"):
            solid = _less(solid, *_chamfer({**edge, "at": n[side]}, {"side": side}, profiles)[1])
    corner = {"diameter": n["diameter"], "at": start, "radius": n["fillet"]}
    return [solid, *(_fillet(corner, {"side": "from"}, profiles)[0] if n["fillet"] else [])], []


KINDS = {
    "ball": _ball,
    "balls": _balls,
    "chamfer": _chamfer,
    "collar": _collar,
    "crown": _crown,
    "cylinder": _cylinder,
    "fillet": _fillet,
    "groove": _groove,
    "o_ring": _o_ring,
    "revolved": _revolved,
    "rollers": _rollers,
    "taper": _taper,
    "undercut": _undercut,
}
