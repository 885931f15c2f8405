"""Silhouettes are cut where they leave the surface: where they pass into another solid or out of one.

Seen along the surface, the curve in which two faces cross touches the silhouette that it ends: where their images
meet cannot be found from the images.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import pairwise

import numpy as np

from builder.body.contour import Bow, Contour, Straight
from builder.body.curves import BowLimb, Level, Limb, Meridian, RingArc, Segment, changed
from builder.body.solid import Solid
from builder.body.vectors import Array, Vector, add

_TRIED = 48  # places at which a curved silhouette is asked what it is in
_ASIDE = 1e-7  # how far off it, in the part's unit


def parted(limbs: Sequence[Limb], solids: Sequence[Solid]) -> Iterator[Limb]:
    """Return the silhouettes in parts, none of which passes through a face of the solids."""
    if not (limbs and solids):
        yield from limbs
        return
    straight = [limb for limb in limbs if _is_straight(limb)]
    for limb, places in zip(straight, _pierced(straight, solids), strict=True):
        yield from _parts(limb, places)
    for limb in limbs:
        if not _is_straight(limb):
            yield from _parts(limb, _passed(limb, solids))


def _is_straight(limb: Limb) -> bool:
    return isinstance(limb, Segment) or (isinstance(limb, Meridian) and isinstance(limb.contour, Straight))


def _pierced(limbs: Sequence[Limb], solids: Sequence[Solid]) -> list[list[float]]:
    """Return where straight silhouettes meet faces, lines of one direction at once."""
    found: list[list[float]] = [[] for _ in limbs]
    starts, ends = (np.array([limb.at(t) for limb in limbs]).reshape(-1, 3) for t in (0.0, 1.0))
    lengths = np.maximum(np.sqrt(((ends - starts) ** 2).sum(axis=1)), 1e-300)
    ways = np.round((ends - starts) / lengths[:, None], 12)
    for way in np.unique(ways, axis=0):
        index = np.nonzero((ways == way).all(axis=1))[0]
        toward: Vector = (float(way[0]), float(way[1]), float(way[2]))
        roots = np.concatenate([solid.roots(starts[index], toward) for solid in solids], axis=1)
        for n, own in zip(index.tolist(), roots / lengths[index, None], strict=True):
            found[n] = own[np.isfinite(own)].tolist()
    return found


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
