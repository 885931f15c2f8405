"""Definitions and shop standards from strangers: every hostile one ends in its message, and touches nothing else."""

import os
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import hostile
import pytest
from fuzz.formulas import formula
from fuzz.mutate import Mutator
from fuzz.run import bounded
from fuzz.seeds import definitions, shops
from fuzz.stations import STATIONS
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from builder.block.plan import plan
from builder.definition.reader import read_definitions
from builder.definition.shop_reader import read_shop
from builder.part.part import Faults, make_part
from builder.words.limits import CHAIN, FILE, PROBLEMS
from builder.words.problems import Position, Problem, Problems, Rejected

HERE = Path(__file__).parent
SHOPS = HERE.parent / "blocks" / "shops"
CORPUS = sorted((HERE / "fuzz" / "corpus").glob("*/*"))
LIMIT = 20.0  # seconds: ten times what the harness allows, as another machine may be slower


def said_of(text: str, folder: Path, name: str = "pin.yaml") -> list[str]:
    """Read a definition, make its parts, and return what is said, without the folder."""
    (folder / name).write_text(text, encoding="utf-8")
    problems, faults = Problems(), Faults()
    try:
        for family in read_definitions((folder / name,), problems):
            for row in family.rows:
                for length in family.lengths.of(row) if family.lengths else (None,):
                    make_part(family, row, length, faults)
        faults.report(problems)
    except Rejected as rejected:
        return [str(problem).replace(f"{folder}/", "") for problem in rejected.problems]
    return [str(problem).replace(f"{folder}/", "") for problem in sorted(set(problems))]


@pytest.mark.parametrize("name", hostile.DEFINITIONS)
def test_hostile_definitions_end_in_their_message(name: str, tmp_path: Path) -> None:
    """Aliases, depth, size, characters, keys, formulas, figures and counts, each at its place."""
    text, expected = hostile.DEFINITIONS[name]
    said = bounded(lambda _: "\n".join(said_of(text, tmp_path)), b"", LIMIT).splitlines()
    assert any(line.startswith(expected) for line in said), said


def test_problems_are_reported_up_to_a_number(tmp_path: Path) -> None:
    text = hostile.PIN + "".join(f"unknown{n}: 1\n" for n in range(5 * PROBLEMS))
    said = said_of(text, tmp_path)
    assert len(said) == PROBLEMS + 1
    assert said[0] == "pin.yaml: 1000 problems so far; expected fewer; the rest is not told"


def test_a_real_shops_table_is_read_and_planned(tmp_path: Path) -> None:
    """500 sizes, 60 columns, 300 lengths each: 150,000 parts, and as many blocks of one view."""
    (tmp_path / "pin.yaml").write_text(hostile.large(500, 60, 300), encoding="utf-8")
    problems = Problems()
    families = read_definitions((tmp_path,), problems)
    iso = read_shop("iso", SHOPS, problems)
    assert iso is not None
    plans = plan(families, iso, (), problems)
    assert not list(problems)
    assert sum(len(p.blocks) for p in plans) == 150_000
    assert (tmp_path / "pin.yaml").stat().st_size < FILE / 2


def test_more_parts_than_any_shop_has_are_refused(tmp_path: Path) -> None:
    assert said_of(hostile.large(1000, 4, 300), tmp_path) == [
        "pin.yaml:16:3: 300000 parts, size by size and length by length; expected at most 250000"
    ]


def test_more_arithmetic_than_a_minutes_is_refused(tmp_path: Path) -> None:
    features = [
        f"cylinder: {{name: c{n}, diameter: {'+'.join(['d'] * 45)}, from: {n}, to: {n + 1}}}" for n in range(100)
    ]
    text = hostile.large(500, 4, 300).replace(hostile.CYLINDER, "".join(f"  - {feature}\n" for feature in features))
    assert said_of(text, tmp_path) == [
        "pin.yaml:16:3: 150000 parts, each with formulas of 9100 terms; "
        "expected at most 200000000 terms in all: fewer sizes, lengths or formulas"
    ]


def test_links_that_lead_out_of_a_folder_are_not_followed(tmp_path: Path) -> None:
    """Nor is what they lead to told; a link to another file of the folder is followed."""
    outside, inside = tmp_path / "outside", tmp_path / "inside"
    outside.mkdir()
    inside.mkdir()
    (outside / "secret.yaml").write_text("secret: 1\n", encoding="utf-8")
    (inside / "pin.yaml").symlink_to(outside / "secret.yaml")
    (inside / "loop.yaml").symlink_to(inside / "loop.yaml")
    (inside / "passwd.yaml").symlink_to("/etc/passwd")
    problems = Problems()
    assert read_definitions((inside,), problems) == ()
    said = [str(problem).replace(f"{inside}/", "") for problem in sorted(problems)]
    assert said[1:] == [
        f"{name}.yaml: is a link that leads out of its folder; expected the file itself" for name in ("passwd", "pin")
    ]
    assert said[0].startswith("loop.yaml: cannot be read: ")


def test_what_is_no_file_is_not_waited_for(tmp_path: Path) -> None:
    (tmp_path / "folder.yaml").mkdir()
    os.mkfifo(tmp_path / "pipe.yaml")
    problems = Problems()
    read_definitions((tmp_path,), problems)
    assert [str(problem).replace(f"{tmp_path}/", "") for problem in problems] == [
        "folder.yaml: is a folder; expected a YAML file",
        "pipe.yaml: is a device or pipe; expected a YAML file",
    ]
    other = Problems()
    read_definitions((Path("/dev/zero"), Path("n\0l"), Path("x" * 5000)), other)
    assert [problem.wrong for problem in other] == ["is no file or folder"] * 3


def test_names_of_files_cannot_break_a_report(tmp_path: Path) -> None:
    """A line break, an escape and a byte that is no UTF-8 in a file's name; as JSON too."""
    path = Path(os.fsdecode(bytes(tmp_path) + b"/a\n\x1b[2J\xff.yaml"))
    path.write_text("x: 1\n", encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "builder", "check", str(path), "--json"],
        env={**os.environ, "PYTHONPATH": str(HERE.parent)},
        capture_output=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 1 and done.stdout.isascii() and not done.stderr
    assert str(Problem(Position("a\n\x1b\udcff.yaml"), "x\u202e", "y")) == r"a\n\x1b\udcff.yaml: x\u202e; y"


@pytest.mark.parametrize("name", hostile.SHOPS)
def test_hostile_shop_standards_end_in_their_message(name: str, tmp_path: Path) -> None:
    """Paths elsewhere, names that end a line, scales, dashes and letters beyond any drawing."""
    text, expected = hostile.SHOPS[name]
    house = tmp_path / "house"
    house.mkdir()
    (tmp_path / "other.yaml").write_text("shop: other\nbased_on: iso\n", encoding="utf-8")
    (house / "link.yaml").symlink_to(tmp_path / "other.yaml")
    (house / "own.yaml").write_text(f"shop: own\n{text}", encoding="utf-8")
    problems = Problems()
    assert read_shop(house / "own.yaml", SHOPS, problems) is None
    said = [str(problem).replace(f"{house}/own.yaml:", "own.yaml:") for problem in problems]
    assert any(line.startswith(expected.replace("{house}", str(house))) for line in said), said


def test_files_that_build_on_each_other_without_end_are_refused(tmp_path: Path) -> None:
    """A chain of 1200 files, for families and for shops."""
    (tmp_path / "f0.yaml").write_text(hostile.PIN.replace("family: pin", "family: f0"), encoding="utf-8")
    for n in range(1, 1200):
        (tmp_path / f"f{n}.yaml").write_text(f"family: f{n}\ncode: F{n}\nrefines: f{n - 1}\n", encoding="utf-8")
    with pytest.raises(Rejected) as caught:
        read_definitions((tmp_path,), Problems())
    assert {p.wrong for p in caught.value.problems} == {
        f"{CHAIN} families refine one another in turn",
        f"{PROBLEMS} problems so far",
    }
    for n in range(1200):
        (tmp_path / f"s{n}.yaml").write_text(f"shop: s{n}\nbased_on: s{n + 1}.yaml\n", encoding="utf-8")
    problems = Problems()
    assert read_shop(tmp_path / "s0.yaml", SHOPS, problems) is None
    assert [p.wrong for p in problems] == [f"{CHAIN} shop standards are based on one another"]


def test_stock_of_many_lines_is_planned_in_time(tmp_path: Path) -> None:
    """Two hundred lines of a hundred ranges, over 150,000 parts."""
    (tmp_path / "pin.yaml").write_text(hostile.large(500, 4, 300), encoding="utf-8")
    ranges = ", ".join(f"{n}..{n + 150}" for n in range(1, 101))
    lines = "".join(f"  - {{family: pin, lengths: [{ranges}]}}\n" for _ in range(200))
    (tmp_path / "own.yaml").write_text(f"shop: own\nbased_on: iso\nstock:\n{lines}", encoding="utf-8")

    def planned(_: bytes) -> str:
        problems = Problems()
        shop = read_shop(tmp_path / "own.yaml", SHOPS, problems)
        assert shop is not None, list(map(str, problems))
        plans = plan(read_definitions((tmp_path / "pin.yaml",), problems), shop, (), problems)
        return f"{sum(len(p.blocks) for p in plans)} {len(problems)}"

    assert bounded(planned, b"", 3.0 * LIMIT) == f"{500 * 250} 0"


def test_a_family_may_not_be_called_like_a_device(tmp_path: Path) -> None:
    """A folder `con` cannot be made on Windows."""
    said = said_of(hostile.PIN.replace("family: pin", "family: lpt1"), tmp_path, "lpt1.yaml")
    assert said == ["lpt1.yaml:1:9: family lpt1; expected a name that is no device of Windows"]


def test_names_that_differ_in_case_alone_are_one_name(tmp_path: Path) -> None:
    text = hostile.PIN.replace('    - ["6", 6]\n', '    - ["6a", 6]\n    - ["6A", 7]\n')
    assert said_of(text, tmp_path) == [
        "pin.yaml:15:8: size 6A for the second time; expected every size once: see line 14"
    ]


def test_codes_that_come_about_when_texts_meet_are_refused(tmp_path: Path) -> None:
    """`{size}%` and a class `%c` make the code of a diameter sign."""
    text = hostile.PIN.replace("[ - {class}]", "%{class}").replace("views:", 'attributes: {class: "%c"}\nviews:')
    done = build(tmp_path, text)
    assert done.returncode == 1
    assert "pin.yaml:1:1: PIN-6-SIDE: attribute DESIGNATION has %% in it; expected no formatting codes" in done.stderr


def test_a_failed_build_leaves_the_old_library_alone(tmp_path: Path) -> None:
    """Exit 1, messages and no traceback, every byte as before."""
    assert build(tmp_path, hostile.PIN).returncode == 0
    before = dict(_files(tmp_path / "out"))
    assert "library.json" in before
    for name in ("laughs", "thread", "everything-cut-away"):
        done = build(tmp_path, hostile.DEFINITIONS[name][0] if name in hostile.DEFINITIONS else _corpus(name))
        assert done.returncode == 1 and "Traceback" not in done.stderr
        assert done.stderr.splitlines()[-1].endswith(("problem", "problems"))
        assert dict(_files(tmp_path / "out")) == before


def test_no_code_runs_and_no_other_file_is_touched(tmp_path: Path) -> None:
    """Every open, exec, import, system call, process and socket while hostile files are read and built is watched."""
    done = subprocess.run(
        [sys.executable, str(HERE / "fuzz" / "watched.py"), str(tmp_path)],
        env={**os.environ, "PYTHONPATH": f"{HERE.parent}{os.pathsep}{HERE}"},
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert lines == [f"{len(hostile.DEFINITIONS)} definitions, {len(hostile.SHOPS)} shop standards, 2 of 6 builds"]


@pytest.mark.parametrize("path", CORPUS, ids=[f"{path.parent.name}-{path.stem}" for path in CORPUS])
def test_what_was_found_stays_mended(path: Path) -> None:
    assert bounded(STATIONS[path.parent.name], path.read_bytes(), LIMIT) in ("good", "drawn", "problems")


@cache
def mutator(kind: str) -> Mutator:
    return Mutator(*(definitions() if kind == "definition" else shops()), kind == "definition")


BRIEF = settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])


@BRIEF
@given(st.randoms(use_true_random=False))
def test_any_formula_ends_well(random) -> None:
    for _ in range(20):
        bounded(STATIONS["formula"], formula(random).encode("utf-8", errors="surrogatepass"), LIMIT)


@settings(BRIEF, max_examples=300)
@given(st.text(max_size=60))
def test_any_text_as_a_formula_ends_well(text: str) -> None:
    bounded(STATIONS["formula"], text.encode("utf-8", errors="surrogatepass"), LIMIT)


@BRIEF
@given(st.randoms(use_true_random=False))
def test_any_definition_ends_well(random) -> None:
    bounded(STATIONS["definition"], mutator("definition").made(random), LIMIT)


@BRIEF
@given(st.randoms(use_true_random=False))
def test_any_shop_standard_ends_well(random) -> None:
    bounded(STATIONS["shop"], mutator("shop").made(random), LIMIT)


@settings(BRIEF, max_examples=100)
@given(st.binary(max_size=200))
def test_any_bytes_end_well(data: bytes) -> None:
    bounded(STATIONS["definition"], data, LIMIT)
    bounded(STATIONS["shop"], data, LIMIT)


def build(folder: Path, text: str) -> subprocess.CompletedProcess[str]:
    """Build a definition alone, as a user would."""
    (folder / "own").mkdir(exist_ok=True)
    (folder / "own" / "pin.yaml").write_text(text, encoding="utf-8")
    command = [sys.executable, "-m", "builder", "build", "-d", "own", "--only", "pin", "--out", "out", "-j", "1"]
    env = {**os.environ, "PYTHONPATH": str(HERE.parent)}
    return subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True, check=False, timeout=120)


def _files(folder: Path) -> Iterator[tuple[str, bytes]]:
    yield from ((str(path.relative_to(folder)), path.read_bytes()) for path in folder.rglob("*") if path.is_file())


def _corpus(name: str) -> str:
    return (HERE / "fuzz" / "corpus" / "definition" / f"{name}.yaml").read_text(encoding="utf-8")
