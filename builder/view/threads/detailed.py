"""Threads to ASME Y14.6, detailed: the 60 degree V profile, its helices as straight sloped lines.

The V is sharp at the crest and root of an external thread and at the root of an internal one; the crest of an
internal thread stands at the true minor diameter. Hidden threads, end views and threads of more turns than a drawing
has room for are drawn simplified.
"""

import math
from collections.abc import Callable, Iterator
from itertools import pairwise

from builder.body.curves import RingArc
from builder.body.solid import Surface, ThreadMark
from builder.view.frame import Cut, Frame
from builder.view.offer import Kind, Offer
from builder.view.thread_style import front, full_thread_limit, is_chamfer_rim, run_outs, straight, surface
from builder.view.threads import simplified
from builder.words.limits import LINES
from builder.words.roles import Role
from builder.words.shapes import Point

NAME = "detailed"
CODE = "D"
DOC = "ASME Y14.6 detailed: the V profile with sloped lines."
UNIFORM = False

STUB = 0.2  # of a helix line: less, cut off at a chamfer, is left out
_FLANK = math.tan(math.radians(60.0))  # rise of a flank over its run along the axis: 60 degrees between flanks


def lines(mark: ThreadMark, frame: Frame, gap: float) -> Iterator[Offer]:
    """Offer the profile above and below the axis and a sloped line for each crest and root."""
    if not _applies(mark, frame):
        yield from simplified.lines(mark, frame, gap)
        return
    for side in (1.0, -1.0):
        yield from _profile(mark, frame, side)
    yield from _helices(mark, frame)
    yield from _end_rims(mark, frame) if mark.external else _sink_rims(mark, frame)
    yield from run_outs(mark, frame, _root(mark), Role.THREAD)
    yield from full_thread_limit(mark, frame, _root(mark))


def replaces(offer: Offer, mark: ThreadMark, frame: Frame) -> bool:
    """Leave out the outlines of crests and chamfers, and the rims that end on the profile instead."""
    if not _applies(mark, frame):
        return is_chamfer_rim(offer, mark, frame)
    if offer.feature != mark.feature or offer.surface is Surface.PLAIN:
        return False
    if offer.kind in (Kind.LIMB, Kind.CUT):
        return True
    return offer.is_rim and any(math.isclose(offer.curve.at(0.0)[0], x, abs_tol=1e-9) for x in _rims(mark))


def empty(mark: ThreadMark, frame: Frame, x: float, y: float) -> bool:
    """Cut away the grooves, so that hatching runs to the profile."""
    if not (_applies(mark, frame) and mark.start <= x <= mark.end):
        return False
    profile = _radius(mark, math.copysign(1.0, y))(x)
    return abs(y) > profile if mark.external else abs(y) < profile


def _applies(mark: ThreadMark, frame: Frame) -> bool:
    turns = (mark.end - mark.start) / mark.pitch
    return not frame.at_end and (mark.external or frame.cuts) and turns <= LINES


def _radius(mark: ThreadMark, side: float) -> Callable[[float], float]:
    """Return the drawn surface's radius over the axis, above (+1) or half a turn on, below (-1)."""
    first = _first_crest(mark) + (0.0 if side > 0.0 else _half_lead(mark))

    def radius(x: float) -> float:
        run = abs((x - first + mark.pitch / 2.0) % mark.pitch - mark.pitch / 2.0)  # from the nearest crest
        if mark.external:
            return min(mark.major - _FLANK * run, surface(mark, x))
        return max(mark.minor, mark.major - _FLANK * (mark.pitch / 2.0 - run), surface(mark, x))

    return radius


def _half_lead(mark: ThreadMark) -> float:
    """Return how far a crest advances on its way round the front, from above the axis to below it."""
    return mark.pitch * mark.starts / 2.0 * (-1.0 if mark.left_hand else 1.0)


def _first_crest(mark: ThreadMark) -> float:
    """Return where a crest stands above the axis: where the full thread ends, or else halfway through a hole."""
    if mark.limits:
        return mark.limits[0]
    return mark.start if mark.external else (mark.start + mark.end) / 2.0


def _root(mark: ThreadMark) -> float:
    """Return how far the sharp roots reach."""
    return mark.major - _FLANK * mark.pitch / 2.0 if mark.external else mark.major


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


def _end_faces(mark: ThreadMark) -> tuple[float, ...]:
    """Return where an external thread ends in a face of its own, not in the material."""
    return tuple(x for x in (mark.start, mark.end) if mark.external and x not in mark.limits)


def _rims(mark: ThreadMark) -> tuple[float, ...]:
    """Return where the profile takes the place of a rim: at chamfers and countersinks, and at end faces."""
    return (*_end_faces(mark), *(x for x in (mark.lead_in, mark.chamfer_x) if mark.start < x < mark.end))


def _end_rims(mark: ThreadMark, frame: Frame) -> Iterator[Offer]:
    """Offer the end faces' edges as far as the profile reaches, in front of the axis, behind it where they are cut."""
    above, below = _radius(mark, 1.0), _radius(mark, -1.0)
    up = math.atan2(frame.up[2], frame.up[1])
    for x in _end_faces(mark):
        rim = max(surface(mark, x), above(x), below(x))
        top, bottom = math.acos(above(x) / rim), math.acos(-below(x) / rim)
        cuts = {Cut.NONE: (top, bottom), Cut.FULL: (-bottom, -top)}
        spans = (cuts[frame.cut],) if frame.cut in cuts else ((-math.pi / 2.0, -top), (math.pi / 2.0, bottom))
        for first, last in spans:
            yield Offer(RingArc(x, rim, up + first, up + last), mark.feature)


def _sink_rims(mark: ThreadMark, frame: Frame) -> Iterator[Offer]:
    """Offer the inner edges of a hole's countersinks."""
    above, below = _radius(mark, 1.0), _radius(mark, -1.0)
    for x in _rims(mark):
        yield straight(mark, frame, Point(x, -below(x)), Point(x, above(x)), Role.OUTLINE)


def _helices(mark: ThreadMark, frame: Frame) -> Iterator[Offer]:
    """Offer a line across for each crest, wide, and each root, narrow, from tip to tip of the profile."""
    half, first = mark.pitch / 2.0, _first_crest(mark)
    above, below = _radius(mark, 1.0), _radius(mark, -1.0)
    lead, over = _half_lead(mark), mark.starts
    n0, n1 = math.floor((mark.start - first) / half) - over, math.ceil((mark.end - first) / half) + over
    for n in range(n0, n1):
        x = first + n * half
        # a right-hand thread falls to the right in front of the axis and rises behind it
        ends = (Point(x, above(x)), Point(x + lead, -below(x + lead)))
        if not mark.external:
            ends = (Point(x - lead, -below(x - lead)), Point(x, above(x)))
        clipped = _clip(mark, *ends)
        if clipped is not None:
            yield from front(mark, frame, *clipped, Role.OUTLINE if n % 2 == 0 else Role.THREAD)


def _clip(mark: ThreadMark, start: Point, end: Point) -> tuple[Point, Point] | None:
    """Keep what lies between the thread's ends, or between the countersinks of an internal one."""
    low, high = (mark.start, mark.end) if mark.external else (mark.lead_in, mark.chamfer_x)
    run, rise = end.x - start.x, end.y - start.y
    enters, leaves = sorted(((low - start.x) / run, (high - start.x) / run))
    t0, t1 = max(0.0, enters), min(1.0, leaves)
    if t1 - t0 < STUB:
        return None
    return start.plus(t0 * run, t0 * rise), start.plus(t1 * run, t1 * rise)
