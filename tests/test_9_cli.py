"""The command line as a person or a program uses it."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner

from builder.cli import cli

ROOT = Path(__file__).parents[1]
WASHER = ("--only", "ISO7089-12-*")


def run(*arguments: str):
    return CliRunner().invoke(cli, arguments, catch_exceptions=False)


def process(*arguments: str, cwd: Path = ROOT, **environment: str) -> subprocess.CompletedProcess:
    env = {**os.environ, "PYTHONPATH": str(ROOT), **environment}
    command = [sys.executable, "-m", "builder", *arguments]
    return subprocess.run(command, cwd=cwd, env=env, capture_output=True, text=True, timeout=120, check=False)


def test_build_is_quiet_in_a_pipe(tmp_path):
    """Nothing to say, exit 0, and the library is there; run from another folder as a module."""
    done = process("build", *WASHER, cwd=tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert (tmp_path / "dist" / "library.json").is_file()


def test_build_as_json(tmp_path):
    """One object on standard output."""
    done = run("build", *WASHER, "--out", str(tmp_path / "dist"), "--json")
    assert done.exit_code == 0
    assert json.loads(done.stdout) == {
        "ok": True,
        "out": str(tmp_path / "dist"),
        "blocks": 3,
        "families": 1,
        "renewed": 3,
    }


def test_problems_are_reported_all_at_once(tmp_path):
    """`file:line:column: what is wrong; what was expected`, exit 1; as JSON the same in fields."""
    (tmp_path / "one.yaml").write_text("family: one\nfamily: two\n", encoding="utf-8")
    (tmp_path / "two.yaml").write_text("family: [\n", encoding="utf-8")
    done = run("check", str(tmp_path))
    assert done.exit_code == 1
    assert f"{tmp_path}/one.yaml:2:1: " in done.stderr and f"{tmp_path}/two.yaml:" in done.stderr
    asked = run("check", str(tmp_path), "--json")
    problems = json.loads(asked.stdout)["problems"]
    assert asked.exit_code == 1 and {p["file"] for p in problems} == {
        str(tmp_path / n) for n in ("one.yaml", "two.yaml")
    }
    assert all(p["wrong"] and p["expected"] for p in problems)


def test_impossible_dimensions_are_found_at_their_place(tmp_path):
    """A shank wider than the flats, a thread longer than the screw: at the feature, with the size and both values."""
    (tmp_path / "winch-bolt.yaml").write_text(
        "family: winch-bolt\nrefines: iso-4014\ncode: WINCH\nchecks: []\nformulas: {b: 2*l}\n",
        encoding="utf-8",
    )
    done = run("check", str(tmp_path))
    assert done.exit_code == 1
    assert "M1.6 x 12" in done.stderr and "must end after it starts" in done.stderr


def test_check_without_a_path_checks_what_comes_with_the_tool():
    """Every size and length of every shipped family makes a body."""
    done = run("check", "--json")
    facts = json.loads(done.stdout)
    assert done.exit_code == 0 and facts["families"] >= 8 and facts["shops"] >= 2 and facts["parts"] > 1000


def test_check_of_one_file():
    """A definition or shop standard by itself."""
    assert json.loads(run("check", "blocks/iso-7089.yaml", "--json").stdout)["families"] == 1
    assert json.loads(run("check", "blocks/shops/asme.yaml", "--json").stdout) == {
        "ok": True, "families": 0, "parts": 0, "shops": 1
    }  # fmt: skip


def test_list():
    """Families without a pattern, blocks with one."""
    families = run("list")
    assert families.exit_code == 0 and "iso-4014" in families.stdout and "ASME B18.2.2" in families.stdout
    blocks = json.loads(run("list", "ISO4032-M12-*", "--json").stdout)["blocks"]
    assert [b["view"] for b in blocks] == ["side across corners", "side across flats", "end", "section"]
    assert run("list", "M13").exit_code == 1


@pytest.mark.parametrize(
    "arguments", [("build", "--dxf", "R14"), ("build", "--jobs", "-1"), ("burn",), ("build", "--onyl", "M12")]
)
def test_a_wrong_command_line_exits_with_2(arguments):
    """Usage errors are the shell's, not problems of an input."""
    assert run(*arguments).exit_code == 2


def test_missing_inputs():
    """A missing definitions folder, a missing shop standard: exit 1 with the name."""
    folder, shop = run("build", "--definitions", "nowhere"), run("build", "--shop", "nowhere.yaml")
    assert folder.exit_code == shop.exit_code == 1
    assert "nowhere" in folder.stderr and "nowhere.yaml" in shop.stderr


def test_help_teaches():
    """Every command explains itself with an example; exit codes and the caution stand in the main help."""
    main = run("--help").stdout
    assert "Exit codes" in main and "current edition of the standard" in main
    for command in ("build", "check", "list", "completion"):
        assert len(run(command, "--help").stdout.splitlines()) > 5


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion(shell):
    """The script is printed, and it asks the command itself."""
    assert "_BLOCKWRIGHT_COMPLETE" in run("completion", shell).stdout


def test_no_colour_codes_in_output(tmp_path):
    """NO_COLOR is honoured: no escape codes."""
    done = process("check", str(tmp_path / "nothing.yaml"), NO_COLOR="1")
    assert done.returncode == 1 and "\x1b" not in done.stdout + done.stderr


def test_check_of_what_is_no_definition(tmp_path):
    """A missing file, an empty folder; a shop standard among definitions is checked as such."""
    assert "is no file or folder" in run("check", str(tmp_path / "nowhere.yaml")).stderr
    assert "no definitions" in run("check", str(tmp_path)).stderr
    (tmp_path / "winch.yaml").write_text("shop: winch\ntitle: Winch\nbased_on: iso\n", encoding="utf-8")
    assert json.loads(run("check", str(tmp_path), "--json").stdout)["shops"] == 1


@pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
def test_an_interrupt_exits_with_130_and_changes_nothing(tmp_path):
    """Control-C in the middle of a build reaches all its processes; no traceback, nothing left behind."""
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    some = ["--only", "iso-7089", "--only", "iso-4014", "--jobs", "2"]  # the small family is written long before
    command = [sys.executable, "-m", "builder", "build", *some, "--out", str(tmp_path / "dist")]
    with subprocess.Popen(command, env=env, stderr=subprocess.PIPE, text=True, start_new_session=True) as build:
        deadline = time.monotonic() + 60
        while not list(tmp_path.glob(".dist.next/blocks/*/*.dxf")) and time.monotonic() < deadline:
            time.sleep(0.05)
        os.killpg(build.pid, signal.SIGINT)
        _, errors = build.communicate(timeout=60)
    assert build.returncode == 130 and "Traceback" not in errors and "interrupted" in errors
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("arguments", [("--version",), ("--help",), ("list", "ISO7089-12-*")])
def test_a_good_process_exits_with_0(arguments):
    """The real entry point, not only the command called from a test."""
    assert process(*arguments).returncode == 0


def test_a_wrong_process_exits_with_2():
    """Usage errors keep their message and code through the entry point."""
    done = process("build", "--jobs", "none")
    assert done.returncode == 2 and "--jobs" in done.stderr
