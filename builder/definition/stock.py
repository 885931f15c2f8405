"""Whether what a shop standard says of families, sizes and lengths agrees with the definitions."""

from collections.abc import Mapping, Sequence

from builder.definition.family import Family
from builder.definition.shop import Shop, StockLine
from builder.words.near import suggestion
from builder.words.problems import Problems
from builder.words.units import length_text


def check_stock(shop: Shop, families: Sequence[Family], problems: Problems) -> None:
    """Note families, sizes and lengths that no definition has."""
    by_key = {family.key: family for family in families}
    for key in sorted(shop.family_defaults.keys() - by_key.keys()):
        expected = f"expected the key of a definition{suggestion(key, by_key)}"
        problems.add(f"shop standard {shop.key}", f"attributes for the unknown family {key}", expected)
    for line in shop.stock:
        _check_line(line, by_key, problems)


def _check_line(line: StockLine, families: Mapping[str, Family], problems: Problems) -> None:
    family = families.get(line.family)
    if family is None:
        expected = f"expected the key of a definition{suggestion(line.family, families)}"
        problems.add(line.position, f"stock of the unknown family {line.family}", expected)
        return
    rows = {row.size: row for row in family.rows}
    for size in line.sizes:
        if size not in rows:
            expected = f"expected a size of {family.key}{suggestion(size, rows)}"
            problems.add(line.position, f"stock of the unknown size {size}", expected)
    kept = [row for size, row in rows.items() if not line.sizes or size in line.sizes]
    listed = {length for row in kept for length in family.lengths.of(row)} if family.lengths else set()
    for low, high in line.lengths:
        if not any(low - 1e-9 <= length <= high + 1e-9 for length in listed):
            texts = " to ".join(dict.fromkeys(length_text(end, family.units) for end in (low, high)))
            wrong = f"stock of {family.key} in length {texts}"
            problems.add(line.position, wrong, "expected a length that the definition lists for a size kept")
