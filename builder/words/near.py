"""Finds the known word that somebody most likely meant."""

from collections.abc import Iterable
from difflib import get_close_matches

SHOWN = 14  # more names than this in one message help nobody


def suggestion(word: str, known: Iterable[str]) -> str:
    """Return ", did you mean x?" for the nearest known word, or else the known words, if they are few."""
    names = sorted(set(known))
    same = [name for name in names if name.lower() == word.lower()]
    close = same or get_close_matches(word, names, n=1, cutoff=0.6)
    if close:
        return f", did you mean {close[0]}?"
    return f": {', '.join(names)}" if 0 < len(names) <= SHOWN else ""
