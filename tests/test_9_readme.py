"""The README's own examples, run as printed: what a new user copies must work."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from builder.body.catalogue import feature_kinds
from builder.cli import cli
from builder.definition.shop import Shop
from builder.definition.shop_reader import read_shop
from builder.pipeline.resources import shops_folder
from builder.words.problems import Problems

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
SAVED = re.findall(r"[Ss]ave this as `([^`]+)`.*?```yaml\n(.*?)```", README, re.DOTALL)
COMMANDS = re.findall(r"^ *(blockwright .+)$", README, re.MULTILINE)


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A folder with the files that the README has its reader save."""
    for name, text in SAVED:
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_there_are_examples():
    """Else the tests below would pass for want of anything to run."""
    assert [name for name, _ in SAVED] == ["winch-shop.yaml", "winch-parts/winch-collar.yaml"]
    assert len(COMMANDS) >= 7


@pytest.mark.usefixtures("folder")
@pytest.mark.parametrize("command", sorted(set(COMMANDS)))
def test_every_command_of_the_walk(command):
    """Exit 0 in the folder that the README describes; what is verified has been built by the walk before."""
    if command.startswith("blockwright verify"):
        run(next(c for c in COMMANDS if "--out winch" in c))
    run(command)


def run(command: str) -> str:
    arguments = [word.strip("'") for word in re.findall(r"'[^']*'|\S+", command)[1:]]
    done = CliRunner().invoke(cli, arguments, catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.output


@pytest.mark.usefixtures("folder")
def test_the_example_of_measures():
    """The rows that the README shows are among those that the tool prints."""
    run(next(c for c in COMMANDS if "--out winch" in c))
    printed = run(next(c for c in COMMANDS if c.endswith("--measures")))
    rows = re.findall(r"^  .*  (?:difference|0)$", README, re.MULTILINE)
    assert len(rows) == 5 and all(row in printed.splitlines() for row in rows)


def test_the_files_that_the_walk_names(folder):
    """The block and the sheet that the reader is sent to are where the README says."""
    command = next(c for c in COMMANDS if "--out winch" in c)
    arguments = [word.strip("'") for word in re.findall(r"'[^']*'|\S+", command)[1:]]
    assert CliRunner().invoke(cli, arguments, catch_exceptions=False).exit_code == 0
    for name in re.findall(r"`(winch/[^`]+)`", README):
        assert (folder / name).exists(), name


def test_the_example_of_a_report(folder):
    """The message that the README shows is the one that the tool gives."""
    (report,) = re.findall(r"^(winch-parts/winch-collar\.yaml:\d+:\d+: .*)$", README, re.MULTILINE)
    path = folder / "winch-parts" / "winch-collar.yaml"
    path.write_text(
        path.read_text(encoding="utf-8").replace('["30", 30, 50, 16]', '["30", 30, "50", 16]'), encoding="utf-8"
    )
    done = CliRunner().invoke(cli, ["check", "winch-parts"], catch_exceptions=False)
    assert report in done.stderr


def test_the_shop_example_means_what_it_says(folder):
    """A stated key wins, the rest comes from the standard that it is based on."""
    problems = Problems()
    shop = read_shop(str(folder / "winch-shop.yaml"), shops_folder(), problems)
    assert isinstance(shop, Shop) and not problems
    assert shop.dxf == "R12" and shop.plot_scale == 0.5 and shop.linetypes and len(shop.stock) == 3


def test_every_feature_kind_is_named():
    """The list of features is complete."""
    assert all(f"`{kind}`" in README for kind in feature_kinds())
