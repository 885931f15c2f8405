"""The small language of formulas: one text becomes one checked function from symbols to a number. Never eval.

Numbers, names, + - * / **, comparisons, `x if c else y`, and/or/not, min max abs sqrt sin cos tan (degrees).
Truth is 1 and 0. Numbers that agree to nine figures compare as equal: a table's decimals are not binary ones.
"""

import ast
import math
import operator
import warnings
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from builder.words.formula_text import NOTATION, FormulaFault, check_text, syntax_fault
from builder.words.limits import LEVELS, NUMBER, POWER, TERMS
from builder.words.near import suggestion

Scope = Mapping[str, float]
Run = Callable[[Scope], float]

SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Compiled:
    """A formula's text made runnable."""

    run: Run
    names: frozenset[str]
    terms: int


@lru_cache(maxsize=16384)
def compiled(text: str) -> Compiled:
    """Read and check one text, or raise FormulaFault; cached, so that every process compiles it once."""
    check_text(text)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")  # of what is read one way now and otherwise by later versions
            tree = ast.parse(text, mode="eval").body
    except SyntaxError as error:
        raise syntax_fault(text, error) from None
    except (ValueError, MemoryError, RecursionError):
        raise FormulaFault("formula is nested too deeply", "expected a simpler formula", 0) from None
    compiler = _Compiler()
    run = compiler.compile(tree, 1)
    return Compiled(run, frozenset(compiler.names), compiler.terms)


class _Compiler:
    """Walks one tree, admitting only the nodes of the language."""

    def __init__(self) -> None:
        self.names: set[str] = set()
        self.terms = 0

    def compile(self, node: ast.expr, depth: int) -> Run:  # noqa: PLR0911 - one return for each kind of node
        self.terms += 1
        if depth > LEVELS or self.terms > TERMS:
            expected = f"expected at most {LEVELS} levels and {TERMS} terms: split it in two formulas"
            raise FormulaFault("formula is too large", expected, node.col_offset)
        below = depth + 1
        match node:
            case ast.Constant():
                return _number(node)
            case ast.Name(id=name):
                return self._name(name, node.col_offset)
            case ast.BinOp(left=left, op=op, right=right):
                return _binary(op, self.compile(left, below), self.compile(right, below), right.col_offset)
            case ast.UnaryOp(op=unary, operand=operand):
                return _unary(unary, self.compile(operand, below), node.col_offset)
            case ast.Compare(left=left, ops=ops, comparators=others):
                return _comparison(ops, [self.compile(side, below) for side in (left, *others)], node.col_offset)
            case ast.BoolOp(op=ast.And(), values=values):
                return _all([self.compile(value, below) for value in values])
            case ast.BoolOp(values=values):
                return _any([self.compile(value, below) for value in values])
            case ast.IfExp(test=test, body=body, orelse=other):
                return _choice(self.compile(test, below), self.compile(body, below), self.compile(other, below))
            case ast.Call():
                return self._call(node, below)
            case ast.Tuple():
                wrong, expected = "comma in a formula", "expected a point in a decimal number: 0.5"
                raise FormulaFault(wrong, expected, node.col_offset)
        raise FormulaFault("formula cannot be read here", f"expected {NOTATION}", node.col_offset)

    def _name(self, name: str, column: int) -> Run:
        if name in FUNCTIONS:
            raise FormulaFault(f"{name} without brackets", f"expected {name}(...)", column)
        self.names.add(name)

        def run(scope: Scope) -> float:
            try:
                return scope[name]
            except KeyError:
                raise FormulaFault(f"{name} has no value here", "expected a number for it", column) from None

        return run

    def _call(self, node: ast.Call, below: int) -> Run:
        name = node.func.id if isinstance(node.func, ast.Name) else "?"
        if name not in FUNCTIONS:
            expected = f"expected a function{suggestion(name, FUNCTIONS)}"
            raise FormulaFault(f"unknown function {name}", expected, node.col_offset)
        several = name in ("min", "max")
        if node.keywords or (len(node.args) < 2 if several else len(node.args) != 1):
            wrong = f"{name} with {len(node.args) + len(node.keywords)} values"
            raise FormulaFault(wrong, f"expected {'two or more' if several else 'one'}", node.col_offset)
        return _function(name, [self.compile(value, below) for value in node.args], node.col_offset)


def _number(node: ast.Constant) -> Run:
    if isinstance(node.value, bool) or not isinstance(node.value, int | float):
        raise FormulaFault(f"{node.value!r} in a formula", f"expected {NOTATION}", node.col_offset)
    if not abs(node.value) <= NUMBER:
        raise FormulaFault("number is too large", "expected at most 1e12", node.col_offset)
    number = float(node.value)
    return lambda _: number


def _divide(left: float, right: float) -> float:
    if right == 0.0:
        raise ValueError("division by zero")
    return left / right


def _power(base: float, exponent: float) -> float:
    if abs(exponent) > POWER:
        raise ValueError(f"power of {exponent:g}, more than {POWER:g}")
    if base < 0.0 and exponent != math.floor(exponent):
        raise ValueError(f"broken power of the negative number {base:g}")
    return float(base**exponent) if base or exponent >= 0.0 else _divide(1.0, 0.0)


_BINARY: Mapping[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: _divide,
    ast.Pow: _power,
}


def _binary(op: ast.operator, left: Run, right: Run, column: int) -> Run:
    work = _BINARY.get(type(op))
    if work is None:
        raise FormulaFault("unknown operation before this place", "expected + - * / or **", column)

    def run(scope: Scope) -> float:
        try:
            result = work(left(scope), right(scope))
        except (ValueError, OverflowError) as error:
            wrong = str(error) if isinstance(error, ValueError) else "number grows too large"
            raise FormulaFault(wrong, "expected a finite number", column) from None
        if math.isfinite(result):
            return result
        raise FormulaFault("number grows too large", "expected a finite number", column)

    return run


def _unary(op: ast.unaryop, operand: Run, column: int) -> Run:
    match op:
        case ast.USub():
            return lambda scope: -operand(scope)
        case ast.UAdd():
            return operand
        case ast.Not():
            return lambda scope: 0.0 if operand(scope) else 1.0
    raise FormulaFault("unknown operation", "expected - or not", column)


def _margin(left: float, right: float) -> float:
    return SAME * max(1.0, abs(left), abs(right))


_COMPARE: Mapping[type[ast.cmpop], Callable[[float, float], bool]] = {
    ast.Lt: lambda a, b: a < b - _margin(a, b),
    ast.LtE: lambda a, b: a <= b + _margin(a, b),
    ast.Gt: lambda a, b: a > b + _margin(a, b),
    ast.GtE: lambda a, b: a >= b - _margin(a, b),
    ast.Eq: lambda a, b: abs(a - b) <= _margin(a, b),
    ast.NotEq: lambda a, b: abs(a - b) > _margin(a, b),
}


def _comparison(ops: list[ast.cmpop], sides: list[Run], column: int) -> Run:
    if not all(type(op) in _COMPARE for op in ops):
        raise FormulaFault("unknown comparison", "expected < <= == != >= or >", column)
    steps = list(zip([_COMPARE[type(op)] for op in ops], sides[1:], strict=True))
    first = sides[0]

    def run(scope: Scope) -> float:
        left = first(scope)
        for holds, side in steps:
            right = side(scope)
            if not holds(left, right):
                return 0.0
            left = right
        return 1.0

    return run


def _all(values: list[Run]) -> Run:
    return lambda scope: 1.0 if all(value(scope) for value in values) else 0.0


def _any(values: list[Run]) -> Run:
    return lambda scope: 1.0 if any(value(scope) for value in values) else 0.0


def _choice(test: Run, body: Run, other: Run) -> Run:
    return lambda scope: body(scope) if test(scope) else other(scope)


def _root(value: float) -> float:
    if value < 0.0:
        raise ValueError(f"square root of the negative number {value:g}")
    return math.sqrt(value)


def _tangent(degrees: float) -> float:
    if abs(math.cos(math.radians(degrees))) < SAME:
        raise ValueError(f"tangent of {degrees:g} degrees")
    return math.tan(math.radians(degrees))


FUNCTIONS: Mapping[str, Callable[..., float]] = {
    "min": min,
    "max": max,
    "abs": abs,
    "sqrt": _root,
    "sin": lambda degrees: math.sin(math.radians(degrees)),
    "cos": lambda degrees: math.cos(math.radians(degrees)),
    "tan": _tangent,
}


def _function(name: str, arguments: list[Run], column: int) -> Run:
    work = FUNCTIONS[name]

    def run(scope: Scope) -> float:
        try:
            return work(*[argument(scope) for argument in arguments])
        except ValueError as error:
            raise FormulaFault(str(error), "expected a number in its range", column) from None

    return run
