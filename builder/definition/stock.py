"""Whether what a shop standard says of families, sizes and lengths agrees with the definitions."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from builder.definition.family import Family, Row
from builder.definition.shop import Shop, StockLine
from builder.words.near import suggestion
from builder.words.problems import Problems
from builder.words.units import length_text


def check_stock(shop: Shop, families: Sequence[Family], problems: Problems) -> None:
    """Note families, sizes and lengths that no definition has."""
    by_key = {family.key: family for family in families}
    listed: dict[tuple[str, tuple[str, ...]], list[float]] = {}
    for key in sorted(shop.family_defaults.keys() - by_key.keys()):
        expected = f"expected the key of a definition{suggestion(key, by_key)}"
        problems.add(f"shop standard {shop.key}", f"attributes for the unknown family {key}", expected)
    for line in shop.stock:
        family = by_key.get(line.family)
        if family is None:
            expected = f"expected the key of a definition{suggestion(line.family, by_key)}"
            problems.add(line.position, f"stock of the unknown family {line.family}", expected)
            continue
        kept = _kept(line, family, problems)
        which = (line.family, line.sizes)
        if line.lengths and which not in listed:
            listed[which] = sorted({n for row in kept for n in family.lengths.of(row)}) if family.lengths else []
        _check_lengths(line, family, listed.get(which, []), problems)


def _kept(line: StockLine, family: Family, problems: Problems) -> list[Row]:
    """Return the rows of the sizes kept; note those that the family has not."""
    rows = {row.size: row for row in family.rows}
    for size in line.sizes:
        if size not in rows:
            expected = f"expected a size of {family.key}{suggestion(size, rows)}"
            problems.add(line.position, f"stock of the unknown size {size}", expected)
    return [rows[size] for size in line.sizes if size in rows] if line.sizes else list(family.rows)


def _check_lengths(line: StockLine, family: Family, listed: Sequence[float], problems: Problems) -> None:
    for low, high in line.lengths:
        if bisect_left(listed, low - 1e-9) == bisect_right(listed, high + 1e-9):
            texts = " to ".join(dict.fromkeys(length_text(end, family.units) for end in (low, high)))
            wrong = f"stock of {family.key} in length {texts}"
            problems.add(line.position, wrong, "expected a length that the definition lists for a size kept")
