"""Lines of text become greys, letter by letter. Pillow's own font has no kerning: letters mind no neighbours."""

import unicodedata
from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

CAPITAL = 0.7  # height of a capital over size
_OVERHANG = 2  # pixels that a letter may stand out beside its advance
# The font holds little beyond ASCII: times sign, en dash and the two diameter signs are respelt.
_SPELT = {0xD7: "x", 0x2013: "-", 0xD8: "dia ", 0xF8: "dia "}


@lru_cache(maxsize=4096)  # most words of captions recur
def text_width(text: str, size: int) -> int:
    """Return how many pixels a line of text takes across: the sum over its letters."""
    return sum([_advance(letter, size) for letter in spelt(text)])


@lru_cache(maxsize=256)  # captions of a sheet have lines in common
def lettering(text: str, size: int) -> tuple[NDArray[np.uint8], int, int]:
    """Return the ink of a line of text, 0 to 15, and where on it the line begins: column, row of the baseline."""
    letters = spelt(text)
    above, below = font(size).getmetrics()
    line = np.zeros((above + below, text_width(text, size) + 2 * _OVERHANG), np.uint8)
    at = 0
    for letter in letters:
        ink = _letter(letter, size)
        place = line[:, at : at + ink.shape[1]]
        np.maximum(place, ink, out=place)
        at += _advance(letter, size)
    return line, _OVERHANG, above


def spelt(text: str) -> str:
    """Return a text in letters that the font has: accents are dropped, signs spelt out."""
    if text.isascii():
        return text
    plain = unicodedata.normalize("NFKD", text.translate(_SPELT))
    return "".join(letter for letter in plain if not unicodedata.combining(letter))


@cache
def font(size: int) -> ImageFont.FreeTypeFont:
    """Return Pillow's own font at a size in pixels."""
    loaded = ImageFont.load_default(size)
    if not isinstance(loaded, ImageFont.FreeTypeFont):
        raise RuntimeError("Pillow was built without FreeType, which the text of contact sheets needs")
    return loaded


@lru_cache(maxsize=4096)
def _advance(letter: str, size: int) -> int:
    return round(font(size).getlength(letter))


@lru_cache(maxsize=4096)
def _letter(letter: str, size: int) -> NDArray[np.uint8]:
    above, below = font(size).getmetrics()
    image = Image.new("L", (_advance(letter, size) + 2 * _OVERHANG, above + below))
    ImageDraw.Draw(image).text((_OVERHANG, above), letter, fill=255, font=font(size), anchor="ls")
    return np.asarray(image) // 17
