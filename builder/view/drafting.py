"""The sizes that drafting conventions need, in the drawing's unit."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Drafting:
    """What the shop standard asks of a view: thread style by name; lengths as drawn, in the drawing's unit."""

    thread_style: str
    thread_gap: float  # least distance between the crest and root lines of a thread (ISO 6410-1)
    axis_overhang: float
    hatch_spacing: tuple[float, float]  # least and most; between them it follows the part's size
    hidden_lines: bool = True  # whether hidden lines are drawn at all
