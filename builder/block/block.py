"""A block: a named view of a part with attributes and a fingerprint. Everything that an output needs, nothing else."""

from collections.abc import Mapping
from dataclasses import dataclass

from builder.view.view import View
from builder.words.measures import Measure
from builder.words.units import Unit


@dataclass(frozen=True, slots=True)
class Attribute:
    """One attribute of a block: upper-case tag, prompt, text; constant unless the drafter fills it in."""

    tag: str
    prompt: str
    text: str
    editable: bool = False
    visible: bool = False


@dataclass(frozen=True, slots=True)
class Block:
    """A view of one part as it goes into a file. Geometry and dimensions are in `units`; base point at 0,0."""

    name: str
    family: str
    title: str
    standard: str
    size: str
    length: float | None
    view: View
    thread: str | None
    units: Unit
    designation: str
    dimensions: Mapping[str, float]
    attributes: tuple[Attribute, ...]
    fingerprint: str
    measures: tuple[Measure, ...] = ()  # what the view must show, for whoever measures the file
    unmeasured: tuple[str, ...] = ()  # what is left to be looked at by eye
