"""Silhouettes are cut where they leave the surface: where they pass into another solid or out of one.

Seen along the surface, the curve in which two faces cross touches the silhouette that it ends: where their images
meet cannot be found from the images.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import pairwise

import numpy as np

from builder.body.contour import Bow, Contour, Straight, on_piece
from builder.body.curves import BowLimb, Level, Limb, Meridian, RingArc, Segment, changed
from builder.body.faces import Face, Flat, Round
from builder.body.rays import line_roots
from builder.body.solid import Solid
from builder.body.vectors import Array, Vector, add, cross, dot

_TRIED = 48  # places at which a curved silhouette is asked what it is in
_ASIDE = 1e-7  # how far off it, in the part's unit
_BEYOND = 1e-6  # of a flat face's sides: so far off it still counts as met


def parted(limbs: Iterable[Limb], solids: Sequence[Solid]) -> Iterator[Limb]:
    """Return the silhouettes in parts, none of which passes through a face of the solids."""
    if not solids:
        yield from limbs
        return
    for limb in limbs:
        yield from _parts(limb, _pierced(limb, solids) if _is_straight(limb) else _passed(limb, solids))


def _is_straight(limb: Limb) -> bool:
    return isinstance(limb, Segment) or (isinstance(limb, Meridian) and isinstance(limb.contour, Straight))


def _pierced(limb: Limb, solids: Sequence[Solid]) -> list[float]:
    """Return where a straight silhouette meets faces."""
    start = limb.at(0.0)
    way = add(limb.at(1.0), start, -1.0)
    faces = (face for solid in solids for face in solid.faces() if not _apart(limb, face))
    return [t for face in faces for t in _roots(face, start, way) if 0.0 < t < 1.0]


def _apart(limb: Limb, face: Face) -> bool:
    """Tell, of a silhouette turned about the axis of a face, that it keeps clear of the face."""
    if not (isinstance(limb, Meridian) and isinstance(face, Round) and limb.place is face.place):
        return False
    p, q = limb.contour, face.contour
    a = max(p.a0, p.a1) < min(q.a0, q.a1) - _ASIDE or max(q.a0, q.a1) < min(p.a0, p.a1) - _ASIDE
    return a or max(p.b0, p.b1) < min(q.b0, q.b1) - _ASIDE or max(q.b0, q.b1) < min(p.b0, p.b1) - _ASIDE


def _roots(face: Face, start: Vector, way: Vector) -> Iterator[float]:
    """Return where a line, start + t way, meets a face."""
    if isinstance(face, Flat):
        normal, off = cross(face.side_u, face.side_v), add(face.corner, start, -1.0)
        rate = dot(way, normal)
        if rate * rate > 1e-24 * dot(normal, normal) * dot(way, way):
            t = dot(off, normal) / rate
            inward = add(off, way, -t)  # from the place of meeting to the corner
            if all(-_BEYOND <= -dot(inward, side) / dot(side, side) <= 1.0 + _BEYOND for side in face.sides):
                yield t
        return
    place, contour = face.place, face.contour
    for t in line_roots(contour, place.local(start), place.local_direction(way)):
        x, y, z = place.local(add(start, way, t))
        if on_piece(contour, (x, math.hypot(y, z))):
            yield t


def _passed(limb: Limb, solids: Sequence[Solid]) -> list[float]:
    """Return where a curved silhouette passes into a solid or out of it."""
    places = [n / _TRIED for n in range(_TRIED + 1)]
    points = np.concatenate([_sides(limb, t) for t in places])
    found = []
    for solid in solids:
        within = solid.contains(points).reshape(-1, 2)
        for low in np.nonzero((within[1:] != within[:-1]).any(axis=1))[0].tolist():
            found.append(changed(partial(_within, limb, solid), places[low], places[low + 1]))
    return found


def _within(limb: Limb, solid: Solid, t: float) -> tuple[bool, bool]:
    one, other = solid.contains(_sides(limb, t)).tolist()
    return one, other


def _sides(limb: Limb, t: float) -> Array:
    """Return points just inside and outside of a silhouette: what lies on a surface is neither."""
    point, normal = limb.at(t), limb.normal(t)
    return np.array([add(point, normal, by) for by in (_ASIDE, -_ASIDE)])


def _parts(limb: Limb, places: Sequence[float]) -> Iterator[Limb]:
    inner = sorted(t for t in places if 1e-7 < t < 1.0 - 1e-7)
    if not inner:
        yield limb
        return
    for t0, t1 in pairwise((0.0, *inner, 1.0)):
        if t1 - t0 > 1e-7:
            yield _part(limb, t0, t1)


def _part(limb: Limb, t0: float, t1: float) -> Limb:
    match limb:
        case Segment():
            return replace(limb, start=limb.at(t0), end=limb.at(t1))
        case Meridian():
            return replace(limb, contour=_piece(limb.contour, t0, t1))
        case BowLimb():
            sweep = limb.last - limb.first
            return replace(limb, first=limb.first + t0 * sweep, last=limb.first + t1 * sweep)
        case RingArc():
            return _arc(limb, t0, t1)
        case Level():
            return Level(_arc(limb.ring, t0, t1))
    raise AssertionError(limb)


def _arc(ring: RingArc, t0: float, t1: float) -> RingArc:
    sweep = ring.end - ring.start
    return replace(ring, start=ring.start + t0 * sweep, end=ring.start + t1 * sweep)


def _piece(contour: Contour, t0: float, t1: float) -> Contour:
    ends = (*contour.at(t0), *contour.at(t1))
    return Bow(*ends, contour.ca, contour.cb, contour.radius) if isinstance(contour, Bow) else Straight(*ends)
