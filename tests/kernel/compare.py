"""Compares two drawings of the same view, ours and the kernel's, both ways, and says in words where they differ."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from kernel.strokes import Array, Nature, Stroke, Truth, length_of, spread

TOLERANCE = 1e-3  # of the size: how far apart lines may lie and be the same
SHORTEST = 3.0  # tolerances: a shorter stretch that differs is no difference
_CHUNK = 24  # neighbouring points that are looked for together


@dataclass(frozen=True, slots=True)
class Exempt:
    """A place on the drawing where the two may differ, and why."""

    reason: str
    holds: Callable[[Array], Truth]


@dataclass(frozen=True, slots=True)
class Mismatch:
    """A stretch of a line in one drawing that the other lacks."""

    whose: str
    visible: bool
    nature: Nature
    points: Array
    instead: str

    @property
    def length(self) -> float:
        """Its length along the line."""
        return length_of(self.points)

    def __str__(self) -> str:
        seen = "visible" if self.visible else "hidden"
        (x0, y0), (xm, ym), (x1, y1) = self.points[[0, len(self.points) // 2, -1]]
        way = f"from ({x0:.3f}, {y0:.3f}) past ({xm:.3f}, {ym:.3f}) to ({x1:.3f}, {y1:.3f}), {self.length:.3f} long"
        return f"{self.whose}: {seen} {self.nature.value} {way}; the other has {self.instead} there"


@dataclass(frozen=True, slots=True)
class _Ink:
    """Strokes as segments (n, 4), and which of them are parts of bowed lines."""

    segments: Array
    bowed: Truth


@dataclass(frozen=True, slots=True)
class _Drawing:
    """One side of the comparison. What is hidden counts only where nothing visible lies on it."""

    whose: str
    strokes: tuple[Stroke, ...]  # what the other must have
    ink: Mapping[bool, _Ink]  # visible or hidden: what the other may have
    cover: _Ink  # what makes hidden lines count for nothing


@dataclass(frozen=True, slots=True)
class _Slack:
    """How far apart lines may lie and be the same; bowed ones, if that is more, stand for others by convention."""

    straight: float
    bowed: float


def mismatches(
    ours: Sequence[Stroke],
    kernels: Sequence[Stroke],
    size: float,
    tolerance: float = TOLERANCE,
    exempt: Sequence[Exempt] = (),
    bowed: float = 0.0,
) -> list[Mismatch]:
    """Return where the two differ, the longest stretch first.

    The tolerance is a share of the size. `bowed` is a length: how far bowed lines may lie apart, if that is more,
    since ours stand for them by convention.
    """
    slack = _Slack(tolerance * size, max(tolerance * size, bowed))
    mine, other = _drawing("ours", ours), _drawing("the kernel's", kernels)
    found = [
        mismatch
        for one, two in ((mine, other), (other, mine))
        for visible in (True, False)
        for straight in (True, False)
        for mismatch in _lacking(one, two, visible, straight, slack, exempt)
    ]
    return sorted(found, key=lambda m: -m.length)


def _drawing(whose: str, strokes: Sequence[Stroke]) -> _Drawing:
    required = tuple(s for s in strokes if s.nature is not Nature.SMOOTH)
    ink = {visible: _ink([s for s in strokes if s.visible is visible]) for visible in (True, False)}
    return _Drawing(whose, required, ink, _ink([s for s in required if s.visible]))


def _ink(strokes: Sequence[Stroke]) -> _Ink:
    if not strokes:
        return _Ink(np.zeros((0, 4)), np.zeros(0, dtype=bool))
    chains = [np.concatenate((s.points[:-1], s.points[1:]), axis=1) for s in strokes]
    bowed = np.repeat([_is_bowed(s) for s in strokes], [len(chain) for chain in chains])
    return _Ink(np.concatenate(chains), bowed)


def _is_bowed(stroke: Stroke) -> bool:
    return len(stroke.points) > 2


def _lacking(
    one: _Drawing, other: _Drawing, visible: bool, straight: bool, slack: _Slack, exempt: Sequence[Exempt]
) -> Iterator[Mismatch]:
    """Return the stretches of one drawing's straight or bowed lines that the other lacks."""
    strokes = [s for s in one.strokes if s.visible is visible and _is_bowed(s) is not straight]
    if not strokes:
        return
    own = slack if straight else _Slack(slack.bowed, slack.bowed)
    chains = [spread(stroke.points, own.straight) for stroke in strokes]
    wrong = _unmatched(np.concatenate(chains), visible, one, other, own, exempt)
    parts = np.split(wrong, np.cumsum([len(chain) for chain in chains])[:-1])
    for stroke, chain, part in zip(strokes, chains, parts, strict=True):
        for run in _runs(chain, part):
            if length_of(run) >= SHORTEST * own.straight:
                instead = _instead(run, visible, other, own)
                yield Mismatch(one.whose, visible, stroke.nature, run, instead)


def _unmatched(
    points: Array, visible: bool, one: _Drawing, other: _Drawing, slack: _Slack, exempt: Sequence[Exempt]
) -> Truth:
    wrong = ~_near(points, other.ink[visible], slack)
    if not visible:
        for drawing in (one, other):
            wrong[wrong] = ~_near(points[wrong], drawing.cover, slack)
    for exception in exempt:
        wrong &= ~exception.holds(points)
    return wrong


def _instead(run: Array, visible: bool, other: _Drawing, slack: _Slack) -> str:
    there = _near(run, other.ink[not visible], slack).mean() > 0.5
    return ("a hidden line" if visible else "a visible line") if there else "nothing"


def _runs(chain: Array, wrong: Truth) -> Iterator[Array]:
    """Return the unbroken runs of wrong points."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], wrong, [False]))))
    yield from (chain[a:b] for a, b in zip(edges[::2], edges[1::2], strict=True))


def _near(points: Array, ink: _Ink, slack: _Slack) -> Truth:
    """Tell which points lie on any line: chunks of neighbours against the segments in their box."""
    if not len(points) or not len(ink.segments):
        return np.zeros(len(points), dtype=bool)
    short = -len(points) % _CHUNK
    chunks = np.concatenate((points, np.repeat(points[-1:], short, axis=0))).reshape(-1, _CHUNK, 2)
    which, line = np.nonzero(_touching(chunks, ink.segments, slack.bowed))
    allowed = np.where(ink.bowed[line], slack.bowed, slack.straight)
    hits = _square_distances(chunks[which], ink.segments[line]) <= allowed[:, None] ** 2
    near = np.zeros((len(chunks), _CHUNK), dtype=bool)
    first = np.flatnonzero(np.diff(which, prepend=-1))
    if len(first):
        near[which[first]] = np.logical_or.reduceat(hits, first, axis=0)
    return near.reshape(-1)[: len(points)]


def _touching(chunks: Array, segments: Array, slack: float) -> Truth:
    low, high = chunks.min(axis=1) - slack, chunks.max(axis=1) + slack
    least = np.minimum(segments[:, :2], segments[:, 2:])
    most = np.maximum(segments[:, :2], segments[:, 2:])
    apart = [(low[:, None, k] > most[None, :, k]) | (high[:, None, k] < least[None, :, k]) for k in (0, 1)]
    return ~(apart[0] | apart[1])


def _square_distances(points: Array, segments: Array) -> Array:
    """Return the squared distances of rows of points (m, k, 2) from one segment each (m, 4)."""
    start, along = segments[:, None, :2], (segments[:, 2:] - segments[:, :2])[:, None, :]
    offset = points - start
    square = np.maximum((along**2).sum(axis=2), 1e-300)
    share = np.clip((offset * along).sum(axis=2) / square, 0.0, 1.0)
    return ((offset - share[..., None] * along) ** 2).sum(axis=2)
