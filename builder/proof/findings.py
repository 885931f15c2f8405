"""What a proof finds: faults, measures with what was found of them, and what could not be proved."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from builder.words.measures import Measure
from builder.words.problems import Position, Problem

FEW = 12  # faults of one file that are reported: the rest follows from them


@dataclass(frozen=True, slots=True)
class Compared:
    """A measure, and the number that the file shows for it; None where it shows nothing like it."""

    measure: Measure
    found: float | None
    holds: bool


@dataclass(slots=True)
class Findings:
    """What was found of one block or file; hands on from process to process."""

    faults: list[Problem] = field(default_factory=list)
    compared: tuple[Compared, ...] = ()
    measures: int = 0  # how many were compared
    left: tuple[str, ...] = ()  # what is not measured, in words

    def add(self, file: Path, wrong: str, expected: str) -> None:
        """Note a fault of a file."""
        if len(self.faults) <= FEW:
            self.faults.append(Problem(Position(str(file)), wrong, expected))

    def add_all(self, file: Path, block: str, faults: Iterable[str], expected: str) -> None:
        """Note faults that are told in a sentence each; those of a block name it."""
        for sentence in faults:
            self.add(file, f"{block}: {sentence}" if block else sentence, expected)
