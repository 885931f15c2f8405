"""Rows of figures as text."""

from collections.abc import Iterable
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that was measured: what, our figure, and what it is held against."""

    what: str
    ours: str
    against: dict[str, str] = field(default_factory=dict)
    missed: str = ""  # the target, where it was not reached


def unless(reached: bool, target: str) -> str:
    """Return the target, where it was not reached."""
    return "" if reached else target


def table(title: str, rows: Iterable[Row]) -> str:
    """Return a table in Markdown."""
    lines = [f"| {title} | measured | beside it |", "|---|---|---|"]
    for row in rows:
        beside = "; ".join(f"{name}: {figure}" for name, figure in row.against.items())
        lines.append(f"| {row.what} | {row.ours} | {beside}{f'; MISSED: {row.missed}' if row.missed else ''} |")
    return "\n".join([*lines, ""])
