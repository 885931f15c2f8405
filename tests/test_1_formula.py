"""The arithmetic of definitions: what it works out to, what it refuses, and where it points."""

import math
import pickle

import pytest

from builder.words.formula import Formula, FormulaFault, constant, order, parse_formula
from builder.words.problems import Position, Problems

PLACE = Position("bolt.yaml", 7, 11)


def formula(text: str) -> Formula:
    problems = Problems()
    parsed = parse_formula(text, PLACE, problems)
    assert parsed is not None, list(map(str, problems))
    return parsed


def refused(text: str) -> str:
    problems = Problems()
    assert parse_formula(text, PLACE, problems) is None
    (problem,) = problems
    return str(problem)


def fault(text: str, **scope: float) -> FormulaFault:
    with pytest.raises(FormulaFault) as caught:
        formula(text).value(scope)
    return caught.value


# ISO 888: b = 2d + 6 up to l = 125, 2d + 12 up to 200, 2d + 25 above. Values of b for M10, M12 and M20 as the
# table of ISO 4014 prints them, from memory: M10 26; M12 30, 36; M20 46, 52, 65.
@pytest.mark.parametrize(
    ("d", "length", "b"),
    [(10, 45, 26), (12, 125, 30), (12, 130, 36), (20, 125, 46), (20, 200, 52), (20, 220, 65)],
)
def test_thread_lengths_are_those_of_iso_888(d: float, length: float, b: float) -> None:
    text = "2*d + 6 if l <= 125 else 2*d + 12 if l <= 200 else 2*d + 25"
    assert formula(text).value({"d": d, "l": length}) == b


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2 + 3 * 4 ** 2 / 8 - 1", 7.0),
        ("-2 ** 2", -4.0),
        ("2 ** -1", 0.5),
        ("1 < 2 < 3", 1.0),
        ("1 < 3 < 2", 0.0),
        ("not 0 and (0 or 5)", 1.0),
        ("min(3, 1, 2) + max(1, 2) + abs(-4) + sqrt(9)", 10.0),
        ("sin(30)", 0.5),
        ("cos(60)", 0.5),
        ("tan(45)", 1.0),
        ("1 + 1/2", 1.5),
        ("1e3 + .5 + 1.", 1001.5),
        ("43/64", 0.671875),
        ("2*16/sqrt(3)", 18.4752086),  # e = 2s/sqrt(3) of a hexagon 16 across flats, plane geometry
    ],
)
def test_arithmetic(text: str, value: float) -> None:
    assert formula(text).value({}) == pytest.approx(value, rel=1e-8)


def test_decimals_that_agree_to_nine_figures_are_equal() -> None:
    assert formula("a + b == c and a + b <= c and not a + b < c").value({"a": 0.1, "b": 0.2, "c": 0.3}) == 1.0
    assert formula("a == b or a >= b").value({"a": 6.4, "b": 6.40001}) == 0.0


def test_branches_not_taken_are_not_worked_out() -> None:
    assert formula("a if a > 0 else 1 / 0").value({"a": 3.0}) == 3.0
    assert formula("a > 0 or 1 / 0 > 0").value({"a": 3.0}) == 1.0


def test_a_formula_knows_its_names_and_where_they_stand() -> None:
    it = formula("  k_min + k - max(k2, k)")
    assert it.names == {"k", "k_min", "k2"}
    assert it.place("k") == PLACE.moved(10)
    assert it.place("k2") == PLACE.moved(18)


def test_a_formula_survives_pickling_and_equals_one_that_stands_elsewhere() -> None:
    it = formula("2*d + 6")
    copy = pickle.loads(pickle.dumps(it))
    assert copy.value({"d": 5}) == 16.0
    elsewhere = parse_formula("2*d + 6", Position("nut.yaml", 1, 1), Problems())
    assert copy == it == elsewhere


@pytest.mark.parametrize("number", [0.0, -3.5, 1e-7, 123456.789])
def test_a_constant_is_its_number(number: float) -> None:
    assert constant(number).value({}) == number


@pytest.mark.parametrize(
    ("text", "column", "words"),
    [
        ("2d", 11, "2*d"),
        ("3 + 2e*k", 15, "2*e"),
        ("d^2", 12, "**"),
        ("d \u2264 5", 13, "<="),
        ("0,95*s", 11, "0.5"),
        ("a = b", 13, "=="),
        ("(a + b", 11, "a ) for every ("),
        ("a + b)", 16, "a ( for every )"),
        ("a +", 14, "at its end"),
        ("a if b", 11, "else"),
        ("sqr(2)", 11, "did you mean sqrt?"),
        ("2 + sqrt", 15, "sqrt(...)"),
        ("sqrt(1, 2)", 11, "expected one"),
        ("min(1)", 11, "two or more"),
        ("1-1/2", 11, "1 + 1/2"),
        ("", 11, "empty"),
        ("1e999", 11, "too large"),
        ("a // b", 16, "+ - * / or **"),
        ("a in b", 11, "comparison"),
        ("x.real", 11, "cannot be read"),
        ("max(1, *a)", 18, "cannot be read"),
        ("f(x=1)", 11, "unknown function"),
        ("True", 11, "True"),
        ("012", 11, "cannot be read"),
    ],
)
def test_what_cannot_be_read_is_pointed_at(text: str, column: int, words: str) -> None:
    problem = refused(text)
    assert problem.startswith(f"bolt.yaml:7:{column}: ")
    assert words in problem


@pytest.mark.parametrize(
    "text",
    [
        "__import__('os').system('true')",
        "().__class__",
        "[1 for x in y]",
        "lambda: 1",
        "x := 1",
        "f'{x}'",
        "await x",
        "...",
        "0x10",
        "1j",
        "1_000",
        "a; b",
        "a\nb",
        "a @ b",
        "{1}",
    ],
)
def test_python_beyond_arithmetic_is_refused(text: str) -> None:
    refused(text)


@pytest.mark.parametrize("text", ["+".join("a" * 240), "(" * 240 + "1" + ")" * 240, "-" * 60 + "1", "a" * 501])
def test_monsters_are_refused(text: str) -> None:
    refused(text)


@pytest.mark.parametrize(
    ("text", "scope", "column", "words"),
    [
        ("1 + d / (a - a)", {"a": 2.0, "d": 1.0}, 9, "division by zero"),
        ("sqrt(a)", {"a": -1.0}, 0, "square root"),
        ("9**9**9", {}, 3, "power"),
        ("a ** 0.5", {"a": -2.0}, 5, "power"),
        ("a ** -1", {"a": 0.0}, 5, "zero"),
        ("a * a", {"a": 1e200}, 4, "too large"),
        ("tan(a)", {"a": 90.0}, 0, "tangent"),
        ("2 * q", {}, 4, "q has no value"),
        ("a", {"a": math.nan}, 0, "finite"),
    ],
)
def test_what_has_no_value_is_a_fault(text: str, scope: dict[str, float], column: int, words: str) -> None:
    found = fault(text, **scope)
    assert found.column == column
    assert words in found.wrong


def formulas(**texts: str) -> tuple[dict[str, Formula], Problems]:
    problems = Problems()
    read = {n: parse_formula(t, Position("f", i + 1, 1), problems) for i, (n, t) in enumerate(texts.items())}
    return {name: it for name, it in read.items() if it}, problems


def test_each_formula_comes_after_those_it_needs() -> None:
    read, problems = formulas(a="b + c", b="c + d", c="2", x="d")
    assert order(read, {"d"}, problems) == ("c", "b", "a", "x")
    assert not problems


def test_circular_formulas_are_named_round() -> None:
    read, problems = formulas(z="a", a="b + 1", b="2 * c", c="a")
    order(read, set(), problems)
    assert list(map(str, problems)) == [
        "f:4:1: circular formula a -> b -> c -> a; expected formulas that do not need their own result"
    ]


def test_a_formula_that_needs_itself_is_circular() -> None:
    read, problems = formulas(a="1 + a")
    order(read, set(), problems)
    assert [str(problem)[:31] for problem in problems] == ["f:1:5: circular formula a -> a;"]


def test_every_unknown_symbol_is_found_with_the_one_meant() -> None:
    read, problems = formulas(a="D + dv", b="q")
    order(read, {"d", "dw"}, problems)
    found = sorted(map(str, problems))
    assert [text.split(";")[0] for text in found] == [
        "f:1:1: unknown symbol D in a formula",
        "f:1:5: unknown symbol dv in a formula",
        "f:2:1: unknown symbol q in a formula",
    ]
    assert found[0].endswith("did you mean d?")
