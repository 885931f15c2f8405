"""The contract between a feature of the trade (hexagon, thread, bore) and the body: parameters in, solids out."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Protocol

from builder.body.solid import AxisMark, FlatMark, Piece, PitchMark, ThreadMark
from builder.words.knot import Knot
from builder.words.limits import EXTENT, TURNS
from builder.words.limits import STARTS as MOST_STARTS


class ParameterKind(StrEnum):
    """How a definition states a parameter."""

    FORMULA = "formula"
    CHOICE = "choice"
    PROFILE = "profile"


@dataclass(frozen=True, slots=True)
class Parameter:
    """One parameter of a feature: its name, meaning, and default (a formula over the parameters before it)."""

    name: str
    doc: str
    required: bool = True
    default: str | None = None
    kind: ParameterKind = ParameterKind.FORMULA
    choices: tuple[str, ...] = ()
    most: float = EXTENT  # of its number, either way


@dataclass(frozen=True, slots=True)
class Values:
    """A feature's parameters for one part: numbers in the part's unit, angles in degrees, choices as text, outlines."""

    feature: str
    numbers: Mapping[str, float]
    choices: Mapping[str, str]
    profiles: Mapping[str, tuple[Knot, ...]] = field(default_factory=dict)

    def __getitem__(self, name: str) -> float:
        return self.numbers[name]


class Impossible(Exception):
    """A feature cannot be made with these numbers; names the parameter at fault."""

    def __init__(self, parameter: str, wrong: str, expected: str) -> None:
        super().__init__(wrong)
        self.parameter, self.wrong, self.expected = parameter, wrong, expected


@dataclass(frozen=True, slots=True)
class Lowered:
    """What a feature becomes: pieces of the body, and what drafting conventions mark of it."""

    pieces: tuple[Piece, ...]
    threads: tuple[ThreadMark, ...] = ()
    flats: tuple[FlatMark, ...] = ()
    axes: tuple[AxisMark | PitchMark, ...] = ()


class Feature(Protocol):
    """A module in the features folder. `lower` raises Impossible where the numbers make no shape."""

    KIND: str
    DOC: str
    THREADED: bool  # whether the thread style changes how it is drawn
    PARAMETERS: tuple[Parameter, ...]

    def lower(self, values: Values) -> Lowered:
        """Turn one feature of one part into solids."""


NAME = Parameter("name", "What the definition calls this piece of the body; the kind unless stated.", required=False)
FROM = Parameter("from", "Place on the axis where the feature starts; 0 is the bearing plane, + along the shank.")
TO = Parameter("to", "Place on the axis where the feature ends; greater than `from`.")


HAND = Parameter("hand", "Hand of the thread.", False, "right", ParameterKind.CHOICE, ("right", "left"))
STARTS = Parameter("starts", "Number of starts; the lead is so many pitches.", False, "1", most=MOST_STARTS)


def ends(parameter: str, doc: str) -> Parameter:
    """Return a choice of the feature's ends."""
    kinds = ("none", "from", "to", "both")
    return Parameter(parameter, doc, required=False, default="none", kind=ParameterKind.CHOICE, choices=kinds)


def require_positive(values: Values, *names: str) -> None:
    """Raise Impossible for the first of the named parameters that is not greater than 0."""
    for name in names:
        if values[name] <= 0.0:
            raise Impossible(name, f"{name} is {values[name]:g}", "must be greater than 0")


def require_stretch(values: Values) -> float:
    """Return the feature's length along the axis; raise Impossible unless `from` lies before `to`."""
    length = values["to"] - values["from"]
    if length <= 0.0:
        wrong = f"starts at {values['from']:g} and ends at {values['to']:g}"
        raise Impossible("to", wrong, "must end after it starts")
    return length


def require_angle(values: Values, name: str, below: float = 90.0) -> float:
    """Return an angle in degrees; raise Impossible unless it lies between 0 and a limit."""
    angle = values[name]
    if not 0.0 < angle < below:
        wrong = f"{name.replace('_', ' ')} is {angle:g} degrees"
        raise Impossible(name, wrong, f"must lie between 0 and {below:g}")
    return angle


def thread_radii(values: Values) -> tuple[float, float]:
    """Return a thread's major and minor radius; raise Impossible unless the first is the greater."""
    require_positive(values, "diameter", "pitch", "minor_diameter")
    major, minor = values["diameter"], values["minor_diameter"]
    if minor >= major:
        wrong = f"minor diameter {minor:g} is not less than the major {major:g}"
        raise Impossible("minor_diameter", wrong, "must be smaller: check diameter and pitch")
    if (turns := abs(values["to"] - values["from"]) / values["pitch"]) > TURNS:
        raise Impossible("pitch", f"thread of {turns:.0f} turns", f"must be at most {TURNS}")
    return major / 2.0, minor / 2.0


def thread_hand(values: Values) -> tuple[bool, int]:
    """Return whether a thread is left-hand, and its number of starts; Impossible unless that is a whole number."""
    starts = values["starts"]
    if starts < 1.0 or starts != round(starts):
        raise Impossible("starts", f"starts is {starts:g}", "must be a whole number, at least 1")
    return values.choices["hand"] == "left", round(starts)
