"""What is wrong with an input, where, and what was expected. Problems are collected and reported all at once."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from builder.words.limits import PROBLEMS


@dataclass(frozen=True, slots=True, order=True)
class Position:
    """A place in a text file; line and column count from 1, 0 means the file as a whole."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file

    def moved(self, columns: int) -> "Position":
        """Return the place some columns further right on the same line."""
        return replace(self, column=self.column + columns) if self.line else self


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One fault: where it is, what is wrong, what was expected instead."""

    position: Position
    wrong: str
    expected: str

    def __str__(self) -> str:
        text = f"{self.position}: {self.wrong}; {self.expected}"
        return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)


class Rejected(Exception):
    """An input was refused. Carries every problem found; raised once, at the end of a station."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__("\n".join(map(str, self.problems)))

    def __reduce__(self) -> tuple[type["Rejected"], tuple[tuple[Problem, ...]]]:
        return Rejected, (self.problems,)  # from another process too


class Problems:
    """A collector that stations append to and that ends in `Rejected` where anything was found."""

    def __init__(self) -> None:
        self._found: list[Problem] = []

    def add(self, position: Position | Path | str, wrong: str, expected: str) -> None:
        """Note one fault; a bare path stands for the file as a whole. Raises Rejected where it is one too many."""
        where = position if isinstance(position, Position) else Position(str(position))
        self._found.append(Problem(where, wrong, expected))
        if len(self._found) >= PROBLEMS:
            more = Problem(Position(where.file), f"{PROBLEMS} problems so far", "expected fewer; the rest is not told")
            raise Rejected([*self._found, more])

    def extend(self, problems: Iterable[Problem]) -> None:
        """Take over the problems of another station."""
        self._found.extend(problems)

    def __bool__(self) -> bool:
        return bool(self._found)

    def __len__(self) -> int:
        return len(self._found)

    def __iter__(self) -> Iterator[Problem]:
        return iter(self._found)

    def raise_any(self) -> None:
        """Raise `Rejected` with everything collected, if anything was."""
        if self._found:
            raise Rejected(self._found)
