"""Lowers the features of one part to solids, with every fault at its place in the definition."""

from functools import cache

from builder.body.catalogue import feature_kinds
from builder.body.feature import Impossible, Lowered, Parameter, ParameterKind, Values
from builder.definition.family import FeatureSpec
from builder.part.faults import Figures, NoNumber
from builder.words.formula import Formula, FormulaFault, parse_formula
from builder.words.knot import Knot
from builder.words.outline import KnotFault, outline
from builder.words.problems import Position, Problems
from builder.words.roles import Role


def lower(spec: FeatureSpec, figures: Figures) -> Lowered | None:
    """Lower one feature; None with the fault noted where it makes no shape."""
    try:
        values = values_of(spec, figures)
    except NoNumber:
        return None
    try:
        _check_limits(values, spec)
        return feature_kinds()[spec.kind].lower(values)
    except Impossible as fault:
        if not _bad_knot(spec, fault.parameter, values, figures):
            place = spec.positions.get(fault.parameter, spec.position)
            figures.refuse(place, spec.name, fault.wrong, fault.expected)
        return None


def values_of(spec: FeatureSpec, figures: Figures) -> Values:
    """Return a feature's parameters for one part; NoNumber with the fault noted where one has no value."""
    numbers: dict[str, float] = {}
    choices: dict[str, str] = {}
    profiles: dict[str, tuple[Knot, ...]] = {}
    for parameter in feature_kinds()[spec.kind].PARAMETERS:
        stated = spec.parameters.get(parameter.name)
        if isinstance(stated, Formula):
            numbers[parameter.name] = figures.number(stated)
        elif isinstance(stated, tuple):
            profiles[parameter.name] = figures.knots(stated)
        elif parameter.kind is ParameterKind.CHOICE:
            choices[parameter.name] = str(stated or parameter.default)
        elif (formula := _default(parameter)) is not None:
            numbers[parameter.name] = _number_unstated(formula, numbers, spec, figures)
    return Values(spec.name, numbers, choices, profiles)


def _check_limits(values: Values, spec: FeatureSpec) -> None:
    for parameter in feature_kinds()[spec.kind].PARAMETERS:
        number = values.numbers.get(parameter.name, 0.0)
        if abs(number) > parameter.most:
            raise Impossible(parameter.name, f"{parameter.name} is {number:g}", f"must be at most {parameter.most:g}")


def _number_unstated(formula: Formula, numbers: dict[str, float], spec: FeatureSpec, figures: Figures) -> float:
    """Return a default, worked out from the parameters before it."""
    try:
        return formula.value(numbers)
    except FormulaFault as fault:
        figures.refuse(spec.position, spec.name, fault.wrong, fault.expected)
        raise NoNumber from None


def _bad_knot(spec: FeatureSpec, parameter: str, values: Values, figures: Figures) -> bool:
    """Note a fault of a profile at the knot that has it; tell whether one has."""
    stated = spec.parameters.get(parameter)
    if not isinstance(stated, tuple):
        return False
    try:
        outline(values.profiles[parameter], True, Role.OUTLINE)
    except KnotFault as fault:
        figures.refuse(stated[fault.index].position, spec.name, fault.wrong, fault.expected)
        return True
    return False


@cache
def _default(parameter: Parameter) -> Formula | None:
    if parameter.default is None:
        return None
    return parse_formula(parameter.default, Position("built in"), Problems())
