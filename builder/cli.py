"""The command line: options in, one function of a station called, a report and an exit code out. No logic here.

Imports of the stations wait until a command runs, so that `--help` and completion answer at once.
"""

import json
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, ParamSpec

import click

from builder import __version__
from builder.words.problems import Rejected

if TYPE_CHECKING:
    from builder.pipeline.order import Built, Order

P = ParamSpec("P")
EXIT_PROBLEMS, EXIT_BUG, EXIT_INTERRUPTED = 1, 3, 130
DXF_VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")

EPILOG = """\b
Exit codes: 0 done; 1 problems found, all reported; 2 the command line is wrong; 3 a fault of blockwright's own;
130 interrupted.
The blocks help a drafter draw. They do not replace the current edition of the standard, local codes, or the
engineer who answers for the joint."""


def _reported(command: Callable[P, None]) -> Callable[P, None]:
    """Turn problems into a report and exit code 1."""

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        from builder.report import problems_json, problems_text

        try:
            command(*args, **kwargs)
        except Rejected as rejected:
            if kwargs.get("as_json"):
                click.echo(problems_json(rejected.problems))
            else:
                click.echo(problems_text(rejected.problems), err=True)
            sys.exit(EXIT_PROBLEMS)

    return run


_json = click.option("--json", "as_json", is_flag=True, help="Print the outcome as JSON, for programs.")
_definitions = click.option(
    "--definitions",
    "-d",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="A folder with the shop's own definitions; they may refine or replace shipped ones. Repeatable.",
)
_shop = click.option(
    "--shop",
    "-s",
    default="iso",
    show_default=True,
    metavar="NAME|FILE",
    help="The shop standard: iso, asme, or a file of the shop's own.",
)


@click.group(context_settings={"help_option_names": ["-h", "--help"]}, epilog=EPILOG)
@click.version_option(__version__, prog_name="blockwright")
def cli() -> None:
    """Build a shop's library of standard-part DXF blocks from the standards' own tables.

    \b
    A first walk:
      blockwright list                      the families that come with the tool
      blockwright list 'M12'                the blocks of one size
      blockwright build --only iso-4014     one family into dist/
      blockwright build --shop asme         everything, drawn to ASME line conventions
      blockwright check my-blocks/          prove the shop's own definitions before building
      blockwright verify                    measure what was built
    """


@cli.command(short_help="Build the library into a folder.")
@click.option(
    "--only",
    multiple=True,
    metavar="PATTERN",
    help="Build only what matches: a family (iso-4014), a standard ('ISO 4014'), a size (M12) or a block name; "
    "* and ? stand for any text and any character. Repeatable: what matches any of them is built.",
)
@_shop
@_definitions
@click.option(
    "--dxf",
    type=click.Choice(DXF_VERSIONS, case_sensitive=False),
    metavar="VERSION",
    help="DXF version, if not the shop's: " + ", ".join(DXF_VERSIONS) + ".",
)
@click.option(
    "--out",
    "-o",
    default="dist",
    show_default=True,
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Where the library goes. A library that is there is replaced as a whole, and only when the new one is whole.",
)
@click.option("--jobs", "-j", default=0, type=click.IntRange(0), metavar="N", help="Processes; 0 for one per core.")
@_json
@_reported
def build(
    only: tuple[str, ...],
    shop: str,
    definitions: tuple[Path, ...],
    dxf: str | None,
    out: Path,
    jobs: int,
    as_json: bool,
) -> None:
    """Build the library: DXF blocks, collections, thumbnails, contact sheets and the manifest.

    \b
    blockwright build
    blockwright build --only M12 --only M16 --out winch
    blockwright build --shop our-shop.yaml --definitions our-blocks --dxf R12
    """
    from builder.pipeline.order import Order
    from builder.pipeline.unchanged import unchanged

    order = Order(shop, definitions, only, dxf, out, jobs)
    built = unchanged(order) or _built(order, quiet=as_json)
    if as_json:
        counts = {"blocks": built.blocks, "families": built.families, "renewed": built.renewed}
        click.echo(json.dumps({"ok": True, "out": str(built.out), **counts}))
    elif sys.stdout.isatty():
        click.echo(
            f"{built.blocks} blocks of {built.families} families in {built.out}, {built.renewed} of them renewed"
        )


def _built(order: "Order", quiet: bool) -> "Built":
    from builder.pipeline.build import build as build_library
    from builder.pipeline.prepare import prepare

    planned = prepare(order)
    with _progress(planned.count, quiet) as advance:
        return build_library(order, planned, advance)


@contextmanager
def _progress(total: int, quiet: bool) -> Iterator[Callable[[str, int], None]]:
    """Show a bar on a terminal, nothing in a pipe."""
    if quiet or not sys.stderr.isatty():
        yield lambda family, blocks: None
        return
    with click.progressbar(length=total, label="Drawing", file=sys.stderr, item_show_func=lambda item: item) as bar:
        yield lambda family, blocks: bar.update(blocks, family)


@cli.command(short_help="Check definitions and shop standards.")
@click.argument("paths", nargs=-1, metavar="[PATH]...", type=click.Path(path_type=Path))
@_json
@_reported
def check(paths: tuple[Path, ...], as_json: bool) -> None:
    """Check definitions and shop standards without building: every size and length of every family.

    PATH is a definition, a shop standard, or a folder of definitions; without one, what comes with the tool.
    """
    from builder.pipeline.checking import check_paths

    checked = check_paths(paths)
    if as_json:
        click.echo(
            json.dumps({"ok": True, "families": checked.families, "parts": checked.parts, "shops": checked.shops})
        )
    else:
        click.echo(f"{checked.families} families, {checked.parts} parts, {checked.shops} shop standards: no problems")


@cli.command(short_help="Measure a built library and prove it.")
@click.argument("dist", default="dist", metavar="[DIST]", type=click.Path(path_type=Path))
@click.option(
    "--only",
    multiple=True,
    metavar="PATTERN",
    help="Prove only what matches: a family, standard, size or block name, as in build --only. Repeatable.",
)
@_definitions
@click.option("--measures", is_flag=True, help="List every measure of every block: stated, found, difference.")
@click.option("--jobs", "-j", default=0, type=click.IntRange(0), metavar="N", help="Processes; 0 for one per core.")
@_json
@_reported
def verify(
    dist: Path, only: tuple[str, ...], definitions: tuple[Path, ...], measures: bool, jobs: int, as_json: bool
) -> None:
    """Measure a built library: every block, back from its written file, against the manifest and the definitions.

    The files are read by a reader that shares no code with what wrote them. DIST is the library's folder.

    \b
    blockwright verify
    blockwright verify winch --only ISO4014-M12X60-SIDEC-I --measures
    blockwright verify --definitions our-blocks
    """
    from builder.pipeline.resources import blocks_folder, schemas_folder
    from builder.proof.verify import Request
    from builder.proof.verify import verify as prove
    from builder.report import measures_text, outcome_json, outcome_text

    schema = schemas_folder() / "library.schema.json"
    outcome = prove(Request(dist, (blocks_folder(), *definitions), schema, only, jobs, listing=measures))
    if as_json:
        click.echo(outcome_json(outcome, measures))
    elif measures:
        click.echo(measures_text(outcome))
    if outcome.problems:
        if as_json:
            sys.exit(EXIT_PROBLEMS)
        raise Rejected(outcome.problems)
    if not as_json:
        click.echo(outcome_text(outcome))


@cli.command("list", short_help="List families, or the blocks that match.")
@click.argument("pattern", required=False)
@_shop
@_definitions
@_json
@_reported
def list_(pattern: str | None, shop: str, definitions: tuple[Path, ...], as_json: bool) -> None:
    """List the families; with PATTERN, the blocks that match it (as in build --only)."""
    from builder.pipeline.listing import blocks_listed, families_listed
    from builder.pipeline.order import Order
    from builder.pipeline.prepare import prepare
    from builder.report import table

    planned = prepare(Order(shop, definitions, (pattern,) if pattern else ()))
    listing = blocks_listed(planned.plans) if pattern else families_listed(planned.plans)
    if as_json:
        click.echo(
            json.dumps(
                {
                    "ok": True,
                    listing.kind: [dict(zip(listing.headings, r, strict=True)) for r in listing.rows],
                }
            )
        )
    else:
        click.echo(table(listing.headings, listing.rows))


@cli.command(short_help="Print a script for shell completion.")
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
def completion(shell: str) -> None:
    """Print the script that teaches a shell to complete blockwright's commands.

    \b
    bash: blockwright completion bash >> ~/.bashrc
    zsh:  blockwright completion zsh >> ~/.zshrc
    fish: blockwright completion fish > ~/.config/fish/completions/blockwright.fish
    """
    from click.shell_completion import get_completion_class

    maker = get_completion_class(shell)
    assert maker is not None
    click.echo(maker(cli, {}, "blockwright", "_BLOCKWRIGHT_COMPLETE").source())


def main() -> None:
    """Run the command line; a fault of blockwright's own ends in a short report, exit code 3."""
    try:
        sys.exit(cli.main(prog_name="blockwright", standalone_mode=False))
    except click.Abort:  # what click makes of an interrupt
        click.echo("interrupted: nothing was changed", err=True)
        sys.exit(EXIT_INTERRUPTED)
    except click.ClickException as wrong:
        wrong.show()
        sys.exit(wrong.exit_code)
    except BrokenPipeError:  # the reader of a listing has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except Exception as fault:
        click.echo(f"blockwright: a fault of its own, please report it: {type(fault).__name__}: {fault}", err=True)
        sys.exit(EXIT_BUG)
