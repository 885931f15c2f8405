"""Lines of text become greys, letter by letter. Pillow's own font has no kerning: letters mind no neighbours."""

import re
import unicodedata
from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

CAPITAL = 0.7  # height of a capital over size
_WORDS = re.compile("[^ -]*[ -]|[^ -]+")  # with what parts them
_OVERHANG = 2  # pixels that a letter may stand out beside its advance
# The font holds little beyond ASCII: times sign, en dash and the two diameter signs are respelt.
_SPELT = {0xD7: "x", 0x2013: "-", 0xD8: "dia ", 0xF8: "dia "}


@lru_cache(maxsize=4096)  # most words of captions recur
def text_width(text: str, size: int) -> int:
    """Return how many pixels a line of text takes across: the sum over its letters."""
    return sum([_advance(letter, size) for letter in spelt(text)])


class Lettering(NamedTuple):
    """The ink of a line of text, 0 to 15, and where on it the line begins: column, row of the baseline."""

    ink: NDArray[np.uint8]
    left: int
    baseline: int


def lettering(text: str, size: int) -> Lettering:
    """Return a line of text as ink."""
    return Lettering(_ink(spelt(text), size), _OVERHANG, font(size).getmetrics()[0])


@lru_cache(maxsize=4096)  # captions of a sheet have lines in common, lines words, and words letters
def _ink(text: str, size: int) -> NDArray[np.uint8]:
    """Return the ink of a line that stands out by the overhang at both ends, set from its words or its letters."""
    above, below = font(size).getmetrics()
    if len(text) == 1:
        return _letter(text, size)
    line = np.zeros((above + below, text_width(text, size) + 2 * _OVERHANG), np.uint8)
    words = _WORDS.findall(text)
    at = 0
    for part in words if len(words) > 1 else text:
        ink = _ink(part, size)
        place = line[:, at : at + ink.shape[1]]
        np.maximum(place, ink, out=place)
        at += ink.shape[1] - 2 * _OVERHANG
    return line


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


def _letter(letter: str, size: int) -> NDArray[np.uint8]:
    above, below = font(size).getmetrics()
    image = Image.new("L", (_advance(letter, size) + 2 * _OVERHANG, above + below))
    ImageDraw.Draw(image).text((_OVERHANG, above), letter, fill=255, font=font(size), anchor="ls")
    return np.asarray(image) // 17
