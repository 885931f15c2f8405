"""What the proof of a library comes to."""

from dataclasses import dataclass

from builder.proof.findings import Compared
from builder.words.problems import Problem


@dataclass(frozen=True, slots=True)
class Outcome:
    """How much was proved, what is wrong, and in words what could not be proved, and of how many blocks."""

    blocks: int
    measures: int
    files: int
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]
    listing: tuple[tuple[str, tuple[Compared, ...], tuple[str, ...]], ...]  # block, its measures, what is left
