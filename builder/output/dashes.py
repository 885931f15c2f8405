"""Where the dashes of a line fall: on one piece, or on pieces that follow each other as one line.

Lengths are sub-pixels, four to a pixel of the finished picture.
"""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import accumulate

from builder.words.shapes import Arc, Line

_LEAST_DASH = 8.0


@lru_cache(maxsize=256)  # lines come in pairs, one on each side of an axis
def dashes_of(length: float, pattern: tuple[float, ...], closed: bool = False) -> tuple[tuple[float, float], ...]:
    """Return where the dashes of a line begin and stop.

    First and last element is the long dash, which alone gives way; a line too short for a gap is continuous.
    A chain line has an even number of periods, so that two centre lines cross in a dash.
    """
    if not pattern:
        return ((0.0, length),)
    period, longest, last = sum(pattern), pattern[0], 0 if closed else 1
    step = 2 if len(pattern) > 2 else 1
    periods = step * max(1, round((length - longest * last) / (step * period)))
    long = [element == longest and not place % 2 for place, element in enumerate(pattern)]
    fixed = sum(element for element, gives in zip(pattern, long, strict=True) if not gives)
    while periods and (length - periods * fixed) / (periods * sum(long) + last) < _LEAST_DASH:
        periods -= 1
    if not periods:
        return ((0.0, length),)
    dash = (length - periods * fixed) / (periods * sum(long) + last)
    fitted = [dash if gives else element for element, gives in zip(pattern, long, strict=True)]
    edges = [0.0, *accumulate([*fitted * periods, *[dash] * last])]
    return tuple(zip(edges[::2], edges[1::2], strict=False))  # a closed line ends with a gap


def length_of(piece: Arc | Line) -> float:
    """Return the length along an arc or a line."""
    if isinstance(piece, Line):
        return math.dist(piece.start, piece.end)
    return math.radians(piece.end - piece.start) * piece.radius


def along(pieces: Sequence[Arc | Line], begin: float, stop: float) -> Iterator[tuple[Arc | Line, float, float]]:
    """Yield the pieces of a chain under a dash, with where it begins and stops on each.

    What lies before the chain's start is taken from its end: the chain is then a closed one.
    """
    lengths = [length_of(piece) for piece in pieces]
    for turn in (-sum(lengths), 0.0):
        starts = accumulate(lengths, initial=turn)
        for piece, length, start in zip(pieces, lengths, starts, strict=False):
            low, high = max(begin - start, 0.0), min(stop - start, length)
            if low < high:
                yield piece, low, high
