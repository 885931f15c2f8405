"""Problems and listings as text for people or JSON for programs. Decides wording and colour, nothing else."""

import json
from collections.abc import Iterable, Sequence

from builder.proof.findings import Compared
from builder.proof.outcome import Outcome
from builder.words.problems import Problem


def problems_text(problems: Sequence[Problem]) -> str:
    """Return one line a problem, `file:line:column: what is wrong; what was expected`, and a count."""
    count = f"{len(problems)} problem{'s' if len(problems) != 1 else ''}"
    return "\n".join([*map(str, problems), count])


def problems_json(problems: Iterable[Problem]) -> str:
    """Return the problems as one JSON object."""
    # in ASCII: names of files may hold anything
    return json.dumps({"ok": False, "problems": list(map(_facts, problems))})


def _facts(problem: Problem) -> dict[str, object]:
    return {
        "file": problem.position.file,
        "line": problem.position.line or None,
        "column": problem.position.column or None,
        "wrong": problem.wrong,
        "expected": problem.expected,
    }


def outcome_text(outcome: Outcome) -> str:
    """Return what was proved in one line, after what could not be."""
    blocks = f"{outcome.blocks} block{'s' if outcome.blocks != 1 else ''}"
    count = f"{blocks}, {outcome.measures} measures, {outcome.files} files: no problems"
    return "\n".join([*outcome.notes, count])


def measures_text(outcome: Outcome) -> str:
    """Return every block with its measures as a table: what, stated, found, difference."""
    parts = []
    for block, compared, left in outcome.listing:
        rows = [_row(one) for one in compared]
        parts.append(f"{block}\n{_indented(table(_HEADINGS, rows))}" if rows else block)
        parts += [f"  not measured: {what}" for what in left]
    return "\n".join(parts)


_HEADINGS = ("measure", "shown", "stated", "found", "difference")


def _row(one: Compared) -> tuple[str, str, str, str, str]:
    m = one.measure
    off = "-" if one.found is None else _off(one.found - m.value)
    found = "-" if one.found is None else f"{one.found:.6f}"
    of = f"{m.name} of {m.feature}" if m.feature else m.name
    symbol = f"{m.symbol}, " if m.symbol else ""
    return f"{symbol}{of.replace('_', ' ')}", str(m.shown), f"{m.value:.6f}", found, off


def _off(difference: float) -> str:
    """Write a difference; below the last written decimal there is none."""
    rounded = round(difference, 9)
    return f"{rounded:.1e}" if rounded else "0"


def _indented(text: str) -> str:
    return "\n".join(f"  {line}" for line in text.split("\n"))


def outcome_json(outcome: Outcome, measures: bool) -> str:
    """Return what was proved as one JSON object, with every measure where that is asked for."""
    facts: dict[str, object] = {
        "ok": not outcome.problems,
        "blocks": outcome.blocks,
        "measures": outcome.measures,
        "files": outcome.files,
        "notes": list(outcome.notes),
        "problems": list(map(_facts, outcome.problems)),
    }
    if measures:
        facts["listing"] = [
            {
                "block": block,
                "measures": [{**one.measure.facts(), "found": one.found, "holds": one.holds} for one in compared],
                "unmeasured": list(left),
            }
            for block, compared, left in outcome.listing
        ]
    return json.dumps(facts)


def table(headings: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Return rows under headings, columns as wide as their longest cell."""
    widths = [max(map(len, column)) for column in zip(headings, *rows, strict=True)]
    lines = (
        "  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip() for row in (headings, *rows)
    )
    return "\n".join(lines)
