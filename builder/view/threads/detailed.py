"""Threads to ASME Y14.6, detailed: the 60 degree V profile, its helices as straight sloped lines.

The V is sharp at the crest and root of an external thread and at the root of an internal one; the crest of an
internal thread stands at the true minor diameter. Hidden threads and end views are drawn simplified.
"""

import math
from collections.abc import Callable, Iterator
from itertools import pairwise

from builder.body.solid import Surface, ThreadMark
from builder.view.frame import Frame
from builder.view.projection import Offer
from builder.view.thread_style import full_thread_limit, is_chamfer_rim, straight
from builder.view.threads import simplified
from builder.words.roles import Role
from builder.words.shapes import Point

NAME = "detailed"
CODE = "D"
DOC = "ASME Y14.6 detailed: the V profile with sloped lines."

_FLANK = math.tan(math.radians(60.0))  # rise of a flank over its run along the axis: 60 degrees between flanks


def lines(mark: ThreadMark, frame: Frame, gap: float) -> Iterator[Offer]:
    """Offer the profile above and below the axis and a sloped line for each crest and root."""
    if not _applies(mark, frame):
        yield from simplified.lines(mark, frame, gap)
        return
    for side in (1.0, -1.0):
        yield from _profile(mark, frame, side)
    yield from _helices(mark, frame)
    yield from full_thread_limit(mark, frame)


def replaces(offer: Offer, mark: ThreadMark, frame: Frame) -> bool:
    """Leave out the outlines of crests and chamfers, and the rim where an external thread's chamfer starts."""
    if not _applies(mark, frame):
        return is_chamfer_rim(offer, mark, frame)
    if offer.feature != mark.feature or offer.surface is Surface.PLAIN:
        return False
    inner_rim = offer.is_rim and mark.start < offer.curve.at(0.0)[0] < mark.end
    return offer.is_silhouette or (mark.external and inner_rim)


def empty(mark: ThreadMark, frame: Frame, point: Point) -> bool:
    """Cut away the grooves, so that hatching runs to the profile."""
    if not (_applies(mark, frame) and mark.start <= point.x <= mark.end):
        return False
    surface = _radius(mark, math.copysign(1.0, point.y))(point.x)
    return abs(point.y) > surface if mark.external else abs(point.y) < surface


def _applies(mark: ThreadMark, frame: Frame) -> bool:
    return not frame.at_end and (mark.external or frame.cut)


def _radius(mark: ThreadMark, side: float) -> Callable[[float], float]:
    """Return the drawn surface's radius over the axis, above (+1) or half a turn on, below (-1)."""
    first = _first_crest(mark) + (0.0 if side > 0.0 else mark.pitch / 2.0)

    def radius(x: float) -> float:
        run = abs((x - first + mark.pitch / 2.0) % mark.pitch - mark.pitch / 2.0)  # from the nearest crest
        if mark.external:
            return min(mark.major - _FLANK * run, _chamfer(mark, x))
        return max(mark.minor, mark.major - _FLANK * (mark.pitch / 2.0 - run), _chamfer(mark, x))

    return radius


def _first_crest(mark: ThreadMark) -> float:
    return mark.start if mark.external else (mark.start + mark.end) / 2.0


def _chamfer(mark: ThreadMark, x: float) -> float:
    inner = mark.major if mark.external else mark.minor
    if x > mark.chamfer_x:
        return inner + (mark.end_radius - inner) * (x - mark.chamfer_x) / (mark.end - mark.chamfer_x)
    if x < mark.lead_in:
        return inner + (mark.end_radius - inner) * (mark.lead_in - x) / (mark.lead_in - mark.start)
    return inner


def _profile(mark: ThreadMark, frame: Frame, side: float) -> Iterator[Offer]:
    radius = _radius(mark, side)
    corners = [Point(x, side * radius(x)) for x in _corners(mark, radius)]
    for a, b in pairwise(corners):
        if math.dist(a, b) > 1e-9:
            yield straight(mark, frame, a, b, Role.OUTLINE)


def _corners(mark: ThreadMark, radius: Callable[[float], float]) -> list[float]:
    """Return where the profile turns: at crests, roots, ends and chamfers, and where a flank meets a chamfer."""
    half = mark.pitch / 2.0
    first = _first_crest(mark)
    n0, n1 = math.floor((mark.start - first) / half), math.ceil((mark.end - first) / half)
    tips = [first + half * n for n in range(n0, n1 + 1)]
    flat = half - (mark.major - mark.minor) / _FLANK  # half width of an internal crest's flat
    flats = [] if mark.external else [tip + d for tip in tips for d in (flat, -flat)]
    turns = {mark.start, mark.lead_in, mark.chamfer_x, mark.end, *tips, *flats}
    places = sorted(t for t in turns if mark.start <= t <= mark.end)
    return sorted({*places, *(x for a, b in pairwise(places) for x in _bend(radius, a, b))})


def _bend(radius: Callable[[float], float], a: float, b: float) -> Iterator[float]:
    """Return where flank and chamfer meet between two corners: both are straight, so their lines cross there."""
    if b - a < 1e-9:
        return
    step = (b - a) * 1e-3
    ra, rb = radius(a), radius(b)
    slope_a, slope_b = (radius(a + step) - ra) / step, (rb - radius(b - step)) / step
    if abs(slope_a - slope_b) > 1e-6:
        x = (rb - ra + slope_a * a - slope_b * b) / (slope_a - slope_b)
        if a < x < b:
            yield x


def _helices(mark: ThreadMark, frame: Frame) -> Iterator[Offer]:
    half = mark.pitch / 2.0
    crest = mark.major if mark.external else mark.minor
    root = mark.major - half * _FLANK if mark.external else mark.major
    first = _first_crest(mark)
    n0, n1 = math.floor((mark.start - first) / mark.pitch) - 1, math.ceil((mark.end - first) / mark.pitch) + 1
    for n in range(n0, n1):
        x = first + n * mark.pitch
        for at, radius in ((x, crest), (x + half, root)):
            # a right-hand thread falls to the right in front of the axis and rises behind it
            start, end = Point(at, radius), Point(at + half, -radius)
            if not mark.external:
                start, end = Point(at - half, -radius), Point(at, radius)
            clipped = _clip(mark, start, end)
            if clipped is not None:
                yield straight(mark, frame, *clipped, Role.OUTLINE if radius == crest else Role.THREAD)


def _clip(mark: ThreadMark, start: Point, end: Point) -> tuple[Point, Point] | None:
    """Keep what lies between the thread's ends and within its point chamfer."""
    low, high = (mark.start, mark.end) if mark.external else (mark.lead_in, mark.chamfer_x)
    planes = [(1.0, 0.0, -low), (-1.0, 0.0, high)]
    if mark.external and mark.end > mark.chamfer_x:
        slope = (mark.end_radius - mark.major) / (mark.end - mark.chamfer_x)
        level = mark.major - slope * mark.chamfer_x
        planes += [(slope, -1.0, level), (slope, 1.0, level)]
    t0, t1 = 0.0, 1.0
    for a, b, c in planes:
        at_start, at_end = a * start.x + b * start.y + c, a * end.x + b * end.y + c
        if at_start < 0.0 and at_end < 0.0:
            return None
        if at_start < 0.0:
            t0 = max(t0, at_start / (at_start - at_end))
        elif at_end < 0.0:
            t1 = min(t1, at_start / (at_start - at_end))
    if t1 - t0 < 1e-6:
        return None
    dx, dy = end.x - start.x, end.y - start.y
    return start.plus(t0 * dx, t0 * dy), start.plus(t1 * dx, t1 * dy)
