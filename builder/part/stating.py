"""What the features of a part state of themselves, with the symbols that the definition takes the numbers from."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from builder.body.catalogue import feature_kinds
from builder.body.feature import Values
from builder.body.statement import EVERYWHERE, Disturbed, Statement, Unmeasured
from builder.definition.family import Family, FeatureSpec
from builder.part.faults import Faults, Figures, NoNumber
from builder.part.lowering import values_of
from builder.words.formula import Formula

_BARE = re.compile(r"-?\s*([A-Za-z_]\w*)")


@dataclass(frozen=True, slots=True)
class Said:
    """One statement, and where it comes from."""

    feature: str
    body: int  # number of the body
    whole: bool  # whether sections leave the body uncut
    statement: Statement
    symbols: dict[str, str]  # parameter to symbol

    def symbol(self, parameter: str) -> str:
        """Return the symbol that a parameter is, or is the negative of; empty where it is worked out."""
        return self.symbols.get(parameter, "")


def said_of(family: Family, dimensions: Mapping[str, float]) -> Iterator[Said]:
    """Yield what every feature of a family states for one part's dimensions."""
    bodies = {spec.name: (number, spec.whole) for number, spec in enumerate(family.bodies)}
    figures = Figures(dimensions, family.key, Faults())
    for spec in family.body:
        symbols = _symbols(spec, family)
        for statement in _statements(spec, figures):
            yield Said(spec.name, *bodies[spec.body], statement, symbols)


def _statements(spec: FeatureSpec, figures: Figures) -> tuple[Statement, ...]:
    state: Callable[[Values], tuple[Statement, ...]] | None = getattr(feature_kinds()[spec.kind], "stated", None)
    if state is None:
        return Disturbed(*EVERYWHERE), Unmeasured(f"{spec.name}: nothing is stated of the kind {spec.kind}")
    try:
        return state(values_of(spec, figures))
    except NoNumber:
        return ()  # the part could not have been made


def _symbols(spec: FeatureSpec, family: Family) -> dict[str, str]:
    found = {}
    for name, stated in spec.parameters.items():
        bare = _BARE.fullmatch(stated.text) if isinstance(stated, Formula) else None
        if bare and bare[1] in family.symbols:
            found[name] = bare[1]
    return found
