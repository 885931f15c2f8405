"""The table of a definition: columns, and rows of numbers in the family's unit."""

from collections.abc import Mapping
from dataclasses import dataclass

from builder.definition.family import Row
from builder.definition.node import Node, number_in
from builder.words.limits import EXTENT, LABEL
from builder.words.problems import Position, Problems

SIZE = "size"


@dataclass(frozen=True, slots=True)
class Table:
    """The columns besides size with their places, the rows, and where a row's cell is empty."""

    columns: Mapping[str, Position]
    rows: tuple[Row, ...]
    empty: Mapping[tuple[str, str], Position]  # by size and column


def read_table(table: Node, problems: Problems) -> Table:
    """Read a table whose outline the schema has checked; rows with faults are left out."""
    columns = _columns(table.entries["columns"], problems)
    rows: dict[str, Row] = {}
    empty: dict[tuple[str, str], Position] = {}
    first: dict[str, Position] = {}
    for node in table.entries["rows"].members:
        if not _complete(node, columns, problems):
            continue
        size = _size(node.members[0], problems)
        if size.upper() in first:
            wrong = f"size {size} for the second time"
            expected = f"expected every size once: see line {first[size.upper()].line}"
            problems.add(node.members[0].position, wrong, expected)
        first.setdefault(size.upper(), node.members[0].position)
        cells = dict(zip(columns[1:], node.members[1:], strict=True))
        empty.update({(size, name): cell.position for name, cell in cells.items() if cell.value is None})
        filled = {name: cell for name, cell in cells.items() if cell.value is not None}
        values = {name: _cell(cell, name, problems) for name, cell in filled.items()}
        rows[size] = Row(size, {n: v for n, v in values.items() if v is not None}, node.position)
    places = [column.position for column in table.entries["columns"].members]
    return Table(dict(zip(columns[1:], places[1:], strict=True)), tuple(rows.values()), empty)


def _columns(node: Node, problems: Problems) -> tuple[str, ...]:
    names = tuple(column.text for column in node.members)
    if names[0] != SIZE:
        problems.add(node.members[0].position, f"first column is {names[0]}", "expected size as the first column")
    for index, column in enumerate(node.members):
        if column.text in names[:index]:
            problems.add(column.position, f"column {column.text} for the second time", "expected it once")
    return names


def _complete(row: Node, columns: tuple[str, ...], problems: Problems) -> bool:
    count, label = len(row.members), row.members[0].text if row.members else "without cells"
    if count == len(columns):
        return True
    expected = f"expected {len(columns)}, one for each column"
    if count < len(columns):
        wrong = f"row {label} has {count} cells, so nothing stands under {', '.join(columns[count:])}"
        expected = f"{expected}, ~ where the standard gives none"
    else:
        wrong, expected = (
            f"row {label} has {count} cells",
            f"{expected}, and a point in decimal numbers",
        )
    problems.add(row.position, wrong, expected)
    return False


def _size(cell: Node, problems: Problems) -> str:
    if not isinstance(cell.value, str):
        expected = f'expected text: write it in quotes, "{cell.text}"' if cell.text else "expected a label"
        problems.add(cell.position, f"{cell.described} as a size", expected)
    elif not 1 <= len(cell.text.strip()) <= len(cell.text) <= LABEL:
        problems.add(cell.position, f"{cell.described} as a size", f"expected 1 to {LABEL} characters")
    return cell.text


def _cell(cell: Node, column: str, problems: Problems) -> float | None:
    number = number_in(cell, problems)
    if number is None:
        return None
    if number < 0.0:
        problems.add(cell.position, f"{cell.text} in column {column} is negative", "expected 0 or more")
    elif number > EXTENT:
        problems.add(cell.position, f"{cell.text} in column {column}", f"expected at most {EXTENT:g}")
    return number
