"""Problems and listings as text for people or JSON for programs. Decides wording and colour, nothing else."""

import json
from collections.abc import Iterable, Sequence

from builder.words.problems import Problem


def problems_text(problems: Sequence[Problem]) -> str:
    """Return one line a problem, `file:line:column: what is wrong; what was expected`, and a count."""
    count = f"{len(problems)} problem{'s' if len(problems) != 1 else ''}"
    return "\n".join([*map(str, problems), count])


def problems_json(problems: Iterable[Problem]) -> str:
    """Return the problems as one JSON object."""
    found = [
        {
            "file": p.position.file,
            "line": p.position.line or None,
            "column": p.position.column or None,
            "wrong": p.wrong,
            "expected": p.expected,
        }
        for p in problems
    ]
    return json.dumps({"ok": False, "problems": found})  # in ASCII: names of files may hold anything


def table(headings: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Return rows under headings, columns as wide as their longest cell."""
    widths = [max(map(len, column)) for column in zip(headings, *rows, strict=True)]
    lines = (
        "  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip() for row in (headings, *rows)
    )
    return "\n".join(lines)
