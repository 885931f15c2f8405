"""Millimetres and inches, and how a length is written in each."""

from enum import StrEnum
from fractions import Fraction

MM_PER_INCH = 25.4  # exact, ISO 80000-3


class Unit(StrEnum):
    """The unit in which a family's table and geometry are stated."""

    MM = "mm"
    INCH = "in"


def factor(source: Unit, target: Unit) -> float:
    """Return the number by which a length in `source` is multiplied to be in `target`."""
    if source is target:
        return 1.0
    return MM_PER_INCH if source is Unit.INCH else 1.0 / MM_PER_INCH


def length_text(value: float, unit: Unit) -> str:
    """Write a length as the trade does: 2.5 in mm; 2-1/4 in inches where it is a whole number of 64ths."""
    if unit is Unit.INCH:
        parts = Fraction(value).limit_denominator(64)
        if abs(float(parts) - value) < 1e-9:
            return _mixed(parts)
    return f"{value:.6f}".rstrip("0").rstrip(".")


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value.numerator, value.denominator)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}/{value.denominator}" if whole else f"{rest}/{value.denominator}"
