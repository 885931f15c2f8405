"""YAML as we read it: our own scalars, a place for everything, and nothing clever."""

from pathlib import Path

import pytest

from builder.definition.node import Node, Value, merged
from builder.definition.source import parse_source, read_source
from builder.words.limits import FILE
from builder.words.problems import Position, Problems


def read(text: str) -> Node:
    problems = Problems()
    node = parse_source(text, "f.yaml", problems)
    assert node is not None
    assert not problems, list(map(str, problems))
    return node


def refused(text: str) -> list[str]:
    problems = Problems()
    parse_source(text, "f.yaml", problems)
    return [str(problem) for problem in problems]


# YAML 1.2.2, section 10.3 (core schema) for true, false, null and decimals. The traps are those of YAML 1.1:
# sexagesimal 1:50, octal 012, NO as a truth, underscores; all of them text to us.
@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1", 1),
        ("-0.5", -0.5),
        (".5", 0.5),
        ("5.", 5.0),
        ("+3", 3),
        ("1e3", 1000.0),
        ("1.5E-3", 0.0015),
        ("true", True),
        ("False", False),
        ("~", None),
        ("null", None),
        ("", None),
        ("NO", "NO"),
        ("yes", "yes"),
        ("on", "on"),
        ("1:50", "1:50"),
        ("012", "012"),
        ("0x1F", "0x1F"),
        ("1_000", "1_000"),
        (".inf", ".inf"),
        (".nan", ".nan"),
        ("2001-12-14", "2001-12-14"),
        ("43/64", "43/64"),
        ("'1'", "1"),
        ('"true"', "true"),
        ('"~"', "~"),
        ("M12", "M12"),
    ],
)
def test_scalars(text: str, value: Value) -> None:
    found = read(f"a: {text}").entries["a"].value
    assert found == value
    assert type(found) is type(value)


@pytest.mark.parametrize(
    ("text", "number"),
    [("43/64", 0.671875), ("1-1/2", 1.5), ("-1/32", -0.03125), ("7", 7.0), ("2.5", 2.5)],
)
def test_numbers_may_be_plain_fractions(text: str, number: float) -> None:
    assert read(f"a: {text}").entries["a"].number == number


@pytest.mark.parametrize("text", ["'7'", "'1/2'", "1/0", "1 1/2", "M5", "true", "~", "1:50", "012", "[1]"])
def test_nothing_else_is_a_number(text: str) -> None:
    assert read(f"a: {text}").entries["a"].number is None


def test_everything_has_its_place() -> None:
    root = read('a: 1\nbc:\n  - d\n  - {e: "f", \u00e4: g}\n')
    assert root.position == Position("f.yaml", 1, 1)
    entry = root.at(["bc", 1, "e"])
    assert (entry.key, entry.position, entry.inside) == (
        Position("f.yaml", 4, 6),
        Position("f.yaml", 4, 9),
        Position("f.yaml", 4, 10),
    )
    assert root.at(["bc", 1, "\u00e4"]).position == Position("f.yaml", 4, 17)


@pytest.mark.parametrize(
    ("text", "begins"),
    [
        ("a: 1\na: 2", "f.yaml:2:1: a for the second time"),
        ("a: &x 1", "f.yaml:1:4: anchor &x"),
        ("a: *x", "f.yaml:1:4: alias *x"),
        ("<<: {a: 1}", "f.yaml:1:1: merge key <<"),
        ("a: !!str 1", "f.yaml:1:4: tag"),
        ("a: !thing 1", "f.yaml:1:4: tag"),
        ("a: 1\n---\nb: 2", "f.yaml:2:1: second document"),
        ("1: a", "f.yaml:1:1: the number 1 as a key"),
        ("true: a", "f.yaml:1:1: true as a key"),
        ("~: a", "f.yaml:1:1: nothing as a key"),
        ("[a]: b", "f.yaml:1:1: a list as a key"),
        ("a: [1, 2", "f.yaml:2:1: YAML cannot be read"),
        ("a: b: c", "f.yaml:1:5: YAML cannot be read"),
        ("a: " + "[" * 30, "f.yaml:1:23: nested more than 20 deep"),
        ("a: \x00", "f.yaml:1:4: unprintable character 0x00"),
        ("ab\ncd\x07", "f.yaml:2:3: unprintable character 0x07"),
        ("a: 1e999", "f.yaml:1:4: number is too large"),
        ("a: " + "9" * 5000, "f.yaml:1:4: number is too large"),
    ],
)
def test_what_is_refused_and_where(text: str, begins: str) -> None:
    (problem,) = refused(text)
    assert problem.startswith(begins)


def test_faults_that_do_not_stop_reading_are_found_together() -> None:
    assert [text.split(":")[1] for text in refused("a: 1\na: 2\n3: b\n<<: {c: 1}\n")] == ["2", "3", "4"]


def test_a_quoted_merge_key_is_a_plain_key() -> None:
    assert read('"<<": 1').plain() == {"<<": 1}


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"a: 1\nb: \xff", ":2:4: byte 0xff is not UTF-8"),
        ("a: 1".encode("utf-16"), ":1:1: byte 0xff is not UTF-8"),
        (b" " * (FILE + 1), ": file is larger than 2 MB"),
    ],
)
def test_files_that_are_no_text(tmp_path: Path, content: bytes, says: str) -> None:
    path = tmp_path / "f.yaml"
    path.write_bytes(content)
    problems = Problems()
    assert read_source(path, problems) is None
    assert [str(problem).split(";")[0] for problem in problems] == [f"{path}{says}"]


def test_a_byte_order_mark_is_no_content(tmp_path: Path) -> None:
    path = tmp_path / "f.yaml"
    path.write_bytes(b"\xef\xbb\xbfa: 1")
    node = read_source(path, Problems())
    assert node is not None
    assert node.plain() == {"a": 1}
    assert node.position.column == 1


def test_missing_files_and_folders(tmp_path: Path) -> None:
    problems = Problems()
    assert read_source(tmp_path, problems) is None
    assert read_source(tmp_path / "none.yaml", problems) is None
    assert [str(problem).split(": ")[1].split(";")[0] for problem in problems] == [
        "is a folder",
        "does not exist",
    ]


def test_groups_merge_key_by_key_and_all_else_is_replaced() -> None:
    base, own = read("a: {b: 1, c: [1, 2]}\nd: 4"), read("a: {c: [3], e: 5}\nf: 6")
    assert merged(base, own).plain() == {"a": {"b": 1, "c": [3], "e": 5}, "d": 4, "f": 6}
