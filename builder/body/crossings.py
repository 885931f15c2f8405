"""The curves in which faces of different solids cross. Where they are real edges, and how far, is the view's question.

Flat with flat gives lines; faces about one axis give rings; a flat face and a cone a hyperbola or an ellipse; for the
rest a straight ruling of one face is carried round and its roots with the other face are followed.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from functools import cache, partial
from itertools import pairwise, product

from builder.body.contour import TINY, Bow, Straight, meets, on_piece, upright
from builder.body.curves import Curve, FaceCurve, Meridian, RingArc, Segment, Traced, changed
from builder.body.faces import Face, Flat, Round
from builder.body.rays import line_roots
from builder.body.vectors import Place, Vector, add, cross, dot, unit

_SAMPLES = 33  # places tried in a quarter of a face or along an arc


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
    normal, other = a.normal, b.normal
    way = cross(normal, other)
    if dot(way, way) < 1e-14:
        return
    way = unit(way)
    # the point of the line nearest to a's corner
    down = cross(way, normal)
    depth = dot(add(b.corner, a.corner, -1.0), other) / dot(down, other)
    start = add(a.corner, down, depth)
    low, high = _clipped(start, way, a)
    low_b, high_b = _clipped(start, way, b)
    low, high = max(low, low_b), min(high, high_b)
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
    if a.turn is None:
        a, b = b, a  # a ring is limited as the face is whose place it stands at
    contour = b.contour if a.place is b.place else _moved(b, a.place)
    yield from (_ring(a, x, radius) for x, radius in meets(a.contour, contour) if radius > TINY)


def _ring(face: Round, x: float, radius: float) -> RingArc:
    return RingArc(x, radius, *(face.turn or (0.0, math.tau)), place=face.place)


def _moved(face: Round, place: Place) -> Straight | Bow:
    shift, way, c = place.local(face.place.origin)[0], dot(face.place.x, place.x), face.contour
    a0, a1 = shift + way * c.a0, shift + way * c.a1
    if isinstance(c, Straight):
        return Straight(a0, c.b0, a1, c.b1)
    return Bow(a0, c.b0, a1, c.b1, shift + way * c.ca, c.cb, c.radius)


def _flat_round(flat: Flat, face: Round) -> Iterator[Curve]:
    place, contour = face.place, face.contour
    if flat.disc is not None and _share_axis(flat.disc.place, place):
        yield from _coaxial(flat.disc, face)
        return
    nx, ny, nz = place.local_direction(flat.normal)
    distance = dot(add(flat.corner, place.origin, -1.0), flat.normal)
    across = math.hypot(ny, nz)
    if across < TINY:
        yield from _square_cut(distance / nx, face)
        return
    if not _near(distance, nx, across, contour):
        return
    angle = math.atan2(nz, ny)
    if isinstance(contour, Bow):
        yield from _bow_cut(face, contour, nx, across, angle, distance)
    elif abs(nx) > TINY:
        yield from _cone_cut(face, contour, nx, across, angle, distance)
    elif abs(contour.b0 - contour.b1) < TINY:
        yield from _lengthwise_cut(face, contour, angle, distance / across, flat)
    elif abs(distance) < TINY * across:
        yield from (Meridian(contour, angle + off, place) for off in (math.pi / 2.0, -math.pi / 2.0))
    else:
        yield from _hyperbola(contour, place, angle, distance / across, flat)


def _near(distance: float, nx: float, across: float, contour: Straight | Bow) -> bool:
    """Tell whether a plane comes near enough to a turned piece to cross it."""
    low, high = sorted((nx * contour.a0, nx * contour.a1))
    radius = max(contour.b0, contour.b1)
    return low - across * radius - TINY <= distance <= high + across * radius + TINY


def _square_cut(x: float, face: Round) -> Iterator[Curve]:
    contour = face.contour
    low, high = sorted((contour.a0, contour.a1))
    if low - TINY <= x <= high + TINY and not upright(contour):
        radius = contour.b_at(min(max(x, low), high))
        if radius > TINY:
            yield _ring(face, x, radius)


def _lengthwise_cut(face: Round, contour: Straight, angle: float, distance: float, flat: Flat) -> Iterator[Curve]:
    if abs(distance) >= contour.b0 - TINY:
        return
    off = math.acos(distance / contour.b0)
    first, last = _reach(flat, face.place, angle)
    for side in (off, -off):
        line = Meridian(contour, angle + side, face.place)
        if first - TINY <= contour.b0 * math.sin(side) <= last + TINY and face.holds(line.at(0.5)):
            yield line


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


def _cone_cut(face: Round, cone: Straight, nx: float, across: float, angle: float, distance: float) -> Iterator[Curve]:
    """Carry the cone's rulings round: each meets the plane once."""
    k = (cone.b1 - cone.b0) / (cone.a1 - cone.a0)
    base = cone.b0 - k * cone.a0

    def x_at(off: float) -> float:
        return (distance - across * base * math.cos(off)) / (nx + across * k * math.cos(off))

    def point(off: float) -> Vector:
        x = x_at(off)
        r = base + k * x
        return face.place.world((x, r * math.cos(angle + off), r * math.sin(angle + off)))

    ends = [angle - math.pi, angle + math.pi] if face.turn is None else list(face.turn)
    first, last = ends[0] - angle, ends[1] - angle
    turns = {first, last}
    for a, b in ((cone.a0, cone.b0), (cone.a1, cone.b1)):
        share = (distance - nx * a) / (across * b) if b > TINY else math.inf
        if abs(share) < 1.0:
            offs = ((side * math.acos(share) - first) % math.tau for side in (1.0, -1.0))
            turns |= {first + off for off in offs if off < last - first}
    low, high = sorted((cone.a0, cone.a1))
    for start, end in pairwise(sorted(turns)):
        middle = nx + across * k * math.cos((start + end) / 2.0)
        if end - start > 1e-9 and abs(middle) > 1e-12 and low < x_at((start + end) / 2.0) < high:
            yield Traced(point, start, end, (face,))


def _bow_cut(face: Round, bow: Bow, nx: float, across: float, angle: float, distance: float) -> Iterator[Curve]:
    place = face.place
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

    for stretch in _stretches(lambda t: abs(share(t)) <= 1.0, 0.0, 1.0):
        for branch in (1.0, -1.0):
            yield _eased(partial(point, branch), stretch, (0.0, 1.0), (face,))


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
    if _is_cylinder(a) and _is_cylinder(b) and _parallel(a.place, b.place):
        yield from _lines(a, b)
        return
    ruled = min(straight, key=lambda f: max(f.contour.b0, f.contour.b1))
    yield from _followed(ruled, b if ruled is a else a)


def _is_cylinder(face: Round) -> bool:
    return isinstance(face.contour, Straight) and abs(face.contour.b0 - face.contour.b1) < TINY


def _parallel(a: Place, b: Place) -> bool:
    way = cross(a.x, b.x)
    return dot(way, way) < TINY * TINY


def _lines(a: Round, b: Round) -> Iterator[Curve]:
    """Return the lines in which cylinders with parallel axes cross."""
    _, y, z = a.place.local(b.place.origin)
    apart, r, other = math.hypot(y, z), a.contour.b0, b.contour.b0
    share = (apart * apart + r * r - other * other) / (2.0 * apart * r)
    if abs(share) < 1.0:
        for side in (1.0, -1.0):
            yield Meridian(a.contour, math.atan2(z, y) + side * math.acos(share), a.place)


def _followed(ruled: Round, other: Round) -> Iterator[Curve]:
    """Follow the roots of the rulings of one face with another, one at a time, as long as none comes or goes."""
    (a0, b0), (a1, b1) = ruled.contour.at(0.0), ruled.contour.at(1.0)

    @cache
    def roots(angle: float) -> tuple[Vector, Vector, list[float]]:
        c, s = math.cos(angle), math.sin(angle)
        start = ruled.place.world((a0, b0 * c, b0 * s))
        way = add(ruled.place.world((a1, b1 * c, b1 * s)), start, -1.0)
        return start, way, line_roots(other.contour, other.place.local(start), other.place.local_direction(way))

    def point(branch: int, angle: float) -> Vector:
        start, way, found = roots(angle)
        return add(start, way, found[min(branch, len(found) - 1)]) if found else start

    def on_both(branch: int, angle: float) -> int:
        """Return how many roots there are where the branch's lies on both faces; 0 elsewhere."""
        found = roots(angle)[2]
        if branch >= len(found) or not -1e-9 <= found[branch] <= 1.0 + 1e-9:
            return 0
        at = point(branch, angle)
        x, y, z = other.place.local(at)
        if not (on_piece(other.contour, (x, math.hypot(y, z))) and other.holds(at)) or _touching(ruled, other, at):
            return 0
        return len(found)

    for low, high in pairwise(_quarters(ruled, other)):
        for branch in range(2 if isinstance(other.contour, Straight) or abs(other.contour.cb) < TINY else 4):
            for stretch in _stretches(partial(on_both, branch), low, high):
                curve = _eased(partial(point, branch), stretch, (low, high), (ruled, other))
                if max(math.dist(curve.at(0.0), curve.at(t)) for t in (0.5, 1.0)) > 1e-6 * max(b0, b1):
                    yield curve  # faces that touch at a corner have no more than that in common


def _touching(a: Round, b: Round, point: Vector) -> bool:
    """Tell a place where faces do not cross but touch, as a bend and its tail do all round."""
    across = cross(unit(a.normal(point)), unit(b.normal(point)))
    return dot(across, across) < 1e-8


def _quarters(ruled: Round, other: Round) -> list[float]:
    """Return the limits of a face and, between them, where it looks along and square to the other's axis.

    Curves that touch themselves, as those of equal cylinders do, touch there.
    """
    first, last = ruled.turn or (0.0, math.tau)
    _, y, z = ruled.place.local_direction(other.place.x)
    square = math.atan2(z, y) if math.hypot(y, z) > TINY else 0.0
    inner = sorted((square + n * math.pi / 2.0 - first) % math.tau for n in range(4))
    return [first, *(first + off for off in inner if 1e-9 < off < last - first - 1e-9), last]


def _stretches(holds: Callable[[float], int], first: float, last: float) -> Iterator[tuple[float, float]]:
    """Return the stretches of an interval on which an answer is the same and not 0, their ends found by halving."""
    places = [first + (last - first) * n / (_SAMPLES - 1) for n in range(_SAMPLES)]
    begin = first
    for (p, before), (q, after) in pairwise((place, holds(place)) for place in places):
        if before == after:
            continue
        if before:
            yield begin, changed(holds, p, q)
        if after:
            begin = changed(holds, q, p)
    if holds(last) and last - begin > 1e-9:
        yield begin, last


def _eased(
    of: Callable[[float], Vector], stretch: tuple[float, float], limits: tuple[float, float], rounds: tuple[Round, ...]
) -> Traced:
    """Return a curve that sets off and arrives gently, except at limits: where two roots meet it bends without end."""
    (first, last), near = stretch, 1e-3 * (limits[1] - limits[0])
    u0 = 0.0 if first > limits[0] + near else math.pi / 2.0
    u1 = math.pi if last < limits[1] - near else math.pi / 2.0
    if u0 == u1:
        return Traced(of, first, last, rounds)
    rate = (last - first) / (math.cos(u0) - math.cos(u1))
    return Traced(lambda u: of(first + rate * (math.cos(u0) - math.cos(u))), u0, u1, rounds)
