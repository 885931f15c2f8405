"""Single values as DXF text: numbers rounded once, and text that every release can hold."""

import math
from functools import lru_cache

LARGEST = 1e9  # far beyond any part or sheet; refuses infinity, and not-a-number fails every comparison
_ROOM = 255  # characters in one text value, R12 and extended data
_CODES = ("%%", "^", "\\U+", "\\M+")  # a reader would decode these into something else


@lru_cache(maxsize=1 << 14)  # most coordinates come back within a block and between its neighbours
def number(value: float) -> str:
    """Write a coordinate or length, rounded to 9 decimals, never as -0.0."""
    if not -LARGEST < value < LARGEST:
        raise ValueError(f"no coordinate: {value}")
    return str(round(value, 9) + 0.0)


def size(value: float) -> str:
    """Write a radius or text height: a number that is still positive after rounding."""
    if not value >= 1e-9:
        raise ValueError(f"not a positive size: {value}")
    return number(value)


def ratio(value: float) -> str:
    """Write minor over major axis; a length multiplies it, so to 12 decimals. DXF readers take no less than 1e-6."""
    if not 1e-6 <= value <= 1.0 + 1e-9:
        raise ValueError(f"no ratio of axes: {value}")
    return str(min(round(value, 12), 1.0))


def radians(degrees: float) -> str:
    """Write an angle from 0 to 360 in radians; a length multiplies it, so to 12 decimals."""
    if not 0.0 <= degrees <= 360.0:
        raise ValueError(f"no angle of an ellipse: {degrees}")
    return str(min(round(math.radians(degrees), 12), math.tau) + 0.0)


@lru_cache(maxsize=1 << 12)  # tags, prompts and most texts are the same from block to block
def plain(text: str) -> str:
    """Return one line of text unchanged; ValueError where some release could not hold it as it is."""
    if len(text) > _ROOM or not text.isprintable() or any(code in text for code in _CODES):
        raise ValueError(f"no plain text for DXF: {text!r}")
    if not text.isascii():
        text.encode("cp1252")  # UnicodeEncodeError is a ValueError
    return text
