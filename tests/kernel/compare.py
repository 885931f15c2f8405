"""Compares two drawings of the same view, ours and the kernel's, both ways, and says in words where they differ."""

from collections.abc import Callable, Iterator, Sequence
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
class _Drawing:
    """One side of the comparison. What is hidden counts only where nothing visible lies on it."""

    whose: str
    visible: Array  # as segments (n, 4)
    hidden: Array
    optional_visible: Array
    optional_hidden: Array
    strokes: tuple[Stroke, ...]  # what the other must have


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
    slack = tolerance * size
    mine, other = _drawing("ours", ours), _drawing("the kernel's", kernels)
    found = [
        mismatch
        for one, two in ((mine, other), (other, mine))
        for visible in (True, False)
        for straight, allowed in ((True, slack), (False, max(slack, bowed)))
        for mismatch in _lacking(one, two, _strokes(one, visible, straight), allowed, exempt)
    ]
    return sorted(found, key=lambda m: -m.length)


def _strokes(drawing: "_Drawing", visible: bool, straight: bool) -> list[Stroke]:
    return [s for s in drawing.strokes if s.visible is visible and (len(s.points) == 2) is straight]


def _drawing(whose: str, strokes: Sequence[Stroke]) -> _Drawing:
    def pick(visible: bool, smooth: bool) -> Array:
        return _segments([s for s in strokes if s.visible is visible and (s.nature is Nature.SMOOTH) is smooth])

    required = tuple(s for s in strokes if s.nature is not Nature.SMOOTH)
    return _Drawing(whose, pick(True, False), pick(False, False), pick(True, True), pick(False, True), required)


def _segments(strokes: Sequence[Stroke]) -> Array:
    chains = [np.concatenate((s.points[:-1], s.points[1:]), axis=1) for s in strokes]
    return np.concatenate(chains) if chains else np.zeros((0, 4))


def _lacking(
    one: _Drawing, other: _Drawing, strokes: Sequence[Stroke], slack: float, exempt: Sequence[Exempt]
) -> Iterator[Mismatch]:
    """Return the stretches of some strokes of one drawing, all visible or all hidden, that the other lacks."""
    if not strokes:
        return
    visible = strokes[0].visible
    chains = [spread(stroke.points, slack) for stroke in strokes]
    wrong = _unmatched(np.concatenate(chains), visible, one, other, slack, exempt)
    parts = np.split(wrong, np.cumsum([len(chain) for chain in chains])[:-1])
    for stroke, chain, part in zip(strokes, chains, parts, strict=True):
        for run in _runs(chain, part):
            if length_of(run) >= SHORTEST * slack:
                yield Mismatch(one.whose, visible, stroke.nature, run, _instead(run, visible, other, slack))


def _unmatched(
    points: Array, visible: bool, one: _Drawing, other: _Drawing, slack: float, exempt: Sequence[Exempt]
) -> Truth:
    targets = [other.visible, other.optional_visible] if visible else [other.hidden, other.optional_hidden]
    wrong = ~_near(points, np.concatenate(targets), slack)
    if not visible:
        for covers in (one.visible, other.visible):
            wrong[wrong] = ~_near(points[wrong], covers, slack)
    for exception in exempt:
        wrong &= ~exception.holds(points)
    return wrong


def _instead(run: Array, visible: bool, other: _Drawing, slack: float) -> str:
    there = _near(run, other.hidden if visible else other.visible, slack).mean()
    return ("a hidden line" if visible else "a visible line") if there > 0.5 else "nothing"


def _runs(chain: Array, wrong: Truth) -> Iterator[Array]:
    """Return the unbroken runs of wrong points."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], wrong, [False]))))
    yield from (chain[a:b] for a, b in zip(edges[::2], edges[1::2], strict=True))


def _near(points: Array, segments: Array, slack: float) -> Truth:
    """Tell which points lie within a distance of any segment: chunks of neighbours against those in their box."""
    if not len(points) or not len(segments):
        return np.zeros(len(points), dtype=bool)
    short = -len(points) % _CHUNK
    chunks = np.concatenate((points, np.repeat(points[-1:], short, axis=0))).reshape(-1, _CHUNK, 2)
    which, line = np.nonzero(_touching(chunks, segments, slack))
    hits = _square_distances(chunks[which], segments[line]) <= slack * slack
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
