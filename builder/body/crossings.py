"""The curves in which faces of different solids cross. Where they are real edges, and how far, is the view's question.

Flat with flat gives lines; faces about one axis give rings; a flat face and a cone a hyperbola or an ellipse; for the
rest a straight ruling of one face is carried round and its roots with the other face are followed.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import pairwise, product

import numpy as np

from builder.body.contour import TINY, Bow, Straight, meets, on_piece, upright
from builder.body.curves import Curve, FaceCurve, Meridian, RingArc, Segment, Traced
from builder.body.faces import Face, Flat, Round
from builder.body.rays import round_roots
from builder.body.vectors import Place, Vector, add, cross, dot, unit

_SAMPLES = 97  # rulings or rings tried round a face; narrower contact is found by the ends of bands


def crossings(faces: Sequence[Face], others: Sequence[Face]) -> Iterator[Curve]:
    """Return the curves in which faces of one solid cross those of another."""
    for a, b in product(faces, others):
        if isinstance(a, Flat) and isinstance(b, Flat):
            yield from _flats(a, b)
        elif isinstance(a, Flat) and isinstance(b, Round):
            yield from _flat_round(a, b)
        elif isinstance(a, Round) and isinstance(b, Flat):
            yield from _flat_round(b, a)
        elif isinstance(a, Round) and isinstance(b, Round):
            yield from _coaxial(a, b) if _share_axis(a.place, b.place) else _rounds(a, b)


def _flats(a: Flat, b: Flat) -> Iterator[Curve]:
    way = cross(a.normal, b.normal)
    if dot(way, way) < 1e-14:
        return
    way = unit(way)
    # the point of the line nearest to a's corner
    down = cross(way, a.normal)
    depth = dot(add(b.corner, a.corner, -1.0), b.normal) / dot(down, b.normal)
    start = add(a.corner, down, depth)
    low, high = _clipped(start, way, a)
    low, high = max(low, (other := _clipped(start, way, b))[0]), min(high, other[1])
    if high - low > TINY:
        yield Segment(add(start, way, low), add(start, way, high))


def _clipped(start: Vector, way: Vector, flat: Flat) -> tuple[float, float]:
    """Return between which places a line in a flat's plane lies within its sides."""
    low, high = -math.inf, math.inf
    off = add(start, flat.corner, -1.0)
    for side, other in ((flat.side_u, flat.side_v), (flat.side_v, flat.side_u)):
        square = add(side, other, -dot(side, other) / dot(other, other))  # square to the other side
        length = dot(square, side)
        place, rate = dot(off, square) / length, dot(way, square) / length
        if abs(rate) < 1e-12:
            if not -1e-9 <= place <= 1.0 + 1e-9:
                return math.inf, -math.inf
            continue
        near, far = sorted((-place / rate, (1.0 - place) / rate))
        low, high = max(low, near), min(high, far)
    return low, high


def _share_axis(a: Place, b: Place) -> bool:
    if a is b:
        return True
    off = a.local(b.origin)
    along = a.local_direction(b.x)
    return max(abs(off[1]), abs(off[2]), abs(along[1]), abs(along[2])) < TINY


def _coaxial(a: Round, b: Round) -> Iterator[Curve]:
    contour = b.contour if a.place is b.place else _moved(b, a.place)
    for x, radius in meets(a.contour, contour):
        if radius > TINY:
            yield RingArc(x, radius, place=a.place)


def _moved(face: Round, place: Place) -> Straight | Bow:
    shift, way, c = place.local(face.place.origin)[0], dot(face.place.x, place.x), face.contour
    a0, a1 = shift + way * c.a0, shift + way * c.a1
    if isinstance(c, Straight):
        return Straight(a0, c.b0, a1, c.b1)
    return Bow(a0, c.b0, a1, c.b1, shift + way * c.ca, c.cb, c.radius)


def _flat_round(flat: Flat, face: Round) -> Iterator[Curve]:
    place, contour = face.place, face.contour
    nx, ny, nz = place.local_direction(flat.normal)
    distance = dot(add(flat.corner, place.origin, -1.0), flat.normal)
    across = math.hypot(ny, nz)
    if across < TINY:
        yield from _square_cut(distance / nx, contour, place)
        return
    if not _near(distance, nx, across, contour):
        return
    angle = math.atan2(nz, ny)
    if isinstance(contour, Bow):
        yield from _bow_cut(contour, place, nx, across, angle, distance)
    elif abs(nx) > TINY:
        yield from _cone_cut(contour, place, nx, across, angle, distance)
    elif abs(contour.b0 - contour.b1) < TINY:
        yield from _lengthwise_cut(contour, place, angle, distance / across)
    elif abs(distance) < TINY * across:
        yield from (Meridian(contour, angle + off, place) for off in (math.pi / 2.0, -math.pi / 2.0))
    else:
        yield from _hyperbola(contour, place, angle, distance / across, flat)


def _near(distance: float, nx: float, across: float, contour: Straight | Bow) -> bool:
    """Tell whether a plane comes near enough to a turned piece to cross it."""
    low, high = sorted((nx * contour.a0, nx * contour.a1))
    radius = max(contour.b0, contour.b1)
    return low - across * radius - TINY <= distance <= high + across * radius + TINY


def _square_cut(x: float, contour: Straight | Bow, place: Place) -> Iterator[Curve]:
    low, high = sorted((contour.a0, contour.a1))
    if low - TINY <= x <= high + TINY and not upright(contour):
        radius = contour.b_at(min(max(x, low), high))
        if radius > TINY:
            yield RingArc(x, radius, place=place)


def _lengthwise_cut(contour: Straight, place: Place, angle: float, distance: float) -> Iterator[Curve]:
    if abs(distance) >= contour.b0 - TINY:
        return
    off = math.acos(distance / contour.b0)
    yield from (Meridian(contour, angle + side * off, place) for side in (1.0, -1.0))


def _hyperbola(cone: Straight, place: Place, angle: float, distance: float, flat: Flat) -> Iterator[Curve]:
    if distance < 0.0:
        angle, distance = angle + math.pi, -distance
    low, high = sorted((cone.b0, cone.b1))
    if high - distance < TINY:
        return
    outer, inner = math.sqrt(high**2 - distance**2), math.sqrt(max(0.0, low**2 - distance**2))
    # no further than the flat: one arc stands for the whole, so its ends matter
    first, last = _reach(flat, place, angle)
    halves = ((-outer, -inner), (inner, outer)) if inner > 1e-6 * outer else ((-outer, outer),)
    for w0, w1 in halves:
        start, end = max(w0, first), min(w1, last)
        if end - start > TINY:
            yield FaceCurve(cone, angle, distance, start, end, place)


def _reach(flat: Flat, place: Place, angle: float) -> tuple[float, float]:
    """Return from where to where a flat reaches, square to the axis and to the direction at an angle."""
    way = place.world_direction((0.0, -math.sin(angle), math.cos(angle)))
    corner = dot(add(flat.corner, place.origin, -1.0), way)
    u, v = dot(flat.side_u, way), dot(flat.side_v, way)
    return corner + min(0.0, u) + min(0.0, v), corner + max(0.0, u) + max(0.0, v)


def _cone_cut(cone: Straight, place: Place, nx: float, across: float, angle: float, distance: float) -> Iterator[Curve]:
    """Carry the cone's rulings round: each meets the plane once."""
    k = (cone.b1 - cone.b0) / (cone.a1 - cone.a0)
    base = cone.b0 - k * cone.a0

    def x_at(off: float) -> float:
        return (distance - across * base * math.cos(off)) / (nx + across * k * math.cos(off))

    def point(off: float) -> Vector:
        x = x_at(off)
        r = base + k * x
        return place.world((x, r * math.cos(angle + off), r * math.sin(angle + off)))

    turns = {-math.pi, math.pi}
    for a, b in ((cone.a0, cone.b0), (cone.a1, cone.b1)):
        share = (distance - nx * a) / (across * b) if b > TINY else math.inf
        if abs(share) < 1.0:
            turns |= {math.acos(share), -math.acos(share)}
    low, high = sorted((cone.a0, cone.a1))
    for first, last in pairwise(sorted(turns)):
        middle = nx + across * k * math.cos((first + last) / 2.0)
        if last - first > 1e-9 and abs(middle) > 1e-12 and low < x_at((first + last) / 2.0) < high:
            yield Traced(point, first, last)


def _bow_cut(bow: Bow, place: Place, nx: float, across: float, angle: float, distance: float) -> Iterator[Curve]:
    if abs(bow.cb) < TINY:
        yield from _ball_cut(bow, place, (nx, across * math.cos(angle), across * math.sin(angle)), distance)
        return
    if abs(nx) < TINY and abs(distance) < TINY:
        yield from (Meridian(bow, angle + off, place) for off in (math.pi / 2.0, -math.pi / 2.0))
        return

    def share(t: float) -> float:
        a, b = bow.at(t)
        return (distance - nx * a) / (across * b) if b > TINY else math.inf

    def point(branch: float, t: float) -> Vector:
        a, b = bow.at(t)
        off = angle + branch * math.acos(min(1.0, max(-1.0, share(t))))
        return place.world((a, b * math.cos(off), b * math.sin(off)))

    for first, last in _stretches(lambda t: abs(share(t)) <= 1.0, 0.0, 1.0):
        for branch in (1.0, -1.0):
            yield _eased(partial(point, branch), first, last)


def _ball_cut(bow: Bow, place: Place, normal: Vector, distance: float) -> Iterator[Curve]:
    off = distance - normal[0] * bow.ca
    if abs(off) < bow.radius - TINY:
        y = unit(cross(normal, (0.0, 0.0, 1.0) if abs(normal[2]) < 0.9 else (0.0, 1.0, 0.0)))
        about = Place(
            place.world(add((bow.ca, 0.0, 0.0), normal, off)),
            place.world_direction(normal),
            place.world_direction(y),
        )
        yield RingArc(0.0, math.sqrt(bow.radius**2 - off * off), place=about)


def _rounds(a: Round, b: Round) -> Iterator[Curve]:
    """Carry the rulings of the thinner straight face round and follow their roots with the other."""
    straight = [f for f in (a, b) if isinstance(f.contour, Straight)]
    if not straight:
        return  # two tori about different axes: no feature makes them meet
    ruled = min(straight, key=lambda f: max(f.contour.b0, f.contour.b1))
    other = b if ruled is a else a
    assert isinstance(ruled.contour, Straight)
    yield from _followed(ruled.contour, ruled.place, other)


def _followed(cone: Straight, place: Place, other: Round) -> Iterator[Curve]:
    def roots(angle: float) -> tuple[Vector, Vector, list[float]]:
        (a0, b0), (a1, b1) = cone.at(0.0), cone.at(1.0)
        c, s = math.cos(angle), math.sin(angle)
        start = place.world((a0, b0 * c, b0 * s))
        way = add(place.world((a1, b1 * c, b1 * s)), start, -1.0)
        length = math.sqrt(dot(way, way))
        local, sight = other.place.local(start), unit(other.place.local_direction(way))
        found = round_roots(_whole(other.contour), np.array([local]), sight)[0]
        return start, way, sorted(float(t) / length for t in found if math.isfinite(t))

    def within(branch: int, angle: float) -> bool:
        start, way, found = roots(angle)
        if branch >= len(found) or not -1e-9 <= found[branch] <= 1.0 + 1e-9:
            return False
        x, y, z = other.place.local(add(start, way, found[branch]))
        return on_piece(other.contour, (x, math.hypot(y, z)))

    def point(branch: int, angle: float) -> Vector:
        start, way, found = roots(angle)
        return add(start, way, found[min(branch, len(found) - 1)]) if found else start

    for branch in range(2 if isinstance(other.contour, Straight) else 4):
        for first, last in _stretches(partial(within, branch), 0.0, math.tau):
            yield _eased(partial(point, branch), first, last)


def _whole(contour: Straight | Bow) -> Straight | Bow:
    """Return a straight piece beyond both ends, so that the number of roots does not change at them."""
    if isinstance(contour, Bow):
        return contour
    da, db = contour.a1 - contour.a0, contour.b1 - contour.b0
    return Straight(contour.a0 - da * 1e-6, contour.b0 - db * 1e-6, contour.a1 + da * 1e-6, contour.b1 + db * 1e-6)


def _stretches(holds: Callable[[float], bool], first: float, last: float) -> Iterator[tuple[float, float]]:
    """Return the stretches of an interval on which something holds, their ends found by halving."""
    places = [first + (last - first) * n / (_SAMPLES - 1) for n in range(_SAMPLES)]
    truths = [holds(place) for place in places]
    begin = places[0] if truths[0] else None
    for (p, before), (q, after) in pairwise(zip(places, truths, strict=True)):
        if before == after:
            continue
        edge = _edge(holds, p, q, before)
        if before and begin is not None:
            yield begin, edge
            begin = None
        else:
            begin = edge
    if begin is not None and places[-1] - begin > 1e-9:
        yield begin, places[-1]


def _edge(holds: Callable[[float], bool], low: float, high: float, at_low: bool) -> float:
    for _ in range(50):
        middle = (low + high) / 2.0
        if holds(middle) == at_low:
            low = middle
        else:
            high = middle
    return low if at_low else high


def _eased(of: Callable[[float], Vector], first: float, last: float) -> Traced:
    """Return a curve that sets off and arrives gently: where two roots meet it would bend without end."""
    middle, half = (first + last) / 2.0, (last - first) / 2.0
    return Traced(lambda u: of(middle - half * math.cos(u)), 0.0, math.pi)
