"""Finds the known word that somebody most likely meant."""

from collections.abc import Iterable
from difflib import get_close_matches

from builder.words.limits import KEY

SHOWN = 14  # more names than this in one message help nobody
COMPARED = 1_000  # names; more, or longer words, take longer to compare than a reader waits


def suggestion(word: str, known: Iterable[str]) -> str:
    """Return ", did you mean x?" for the nearest known word, or else the known words, if they are few."""
    names = sorted(set(known))
    same = [name for name in names if name.lower() == word.lower()]
    few = len(names) <= COMPARED and len(word) <= KEY
    close = same or (get_close_matches(word, names, n=1, cutoff=0.6) if few else [])
    if close:
        return f", did you mean {close[0]}?"
    return f": {', '.join(names)}" if 0 < len(names) <= SHOWN else ""
