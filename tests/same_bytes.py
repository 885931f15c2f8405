"""Builds a selection of the library in another process and compares whole folders to the byte.

As a script it builds with two Pythons that have blockwright installed, and tells every file that differs:
`python tests/same_bytes.py ONE OTHER`.
"""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path


def selection(python: str, environment: Mapping[str, str], *definitions: str) -> list[str]:
    """Return patterns for one block of every view of every family, as the command line lists them."""
    command = [python, "-m", "builder", "list", "*", "--json", *definitions]
    listed = subprocess.run(command, env=environment, check=True, capture_output=True, cwd=tempfile.gettempdir())
    found = {(block["family"], block["view"]): block["block"] for block in json.loads(listed.stdout)["blocks"]}
    return [part for name in found.values() for part in ("--only", name)]


def built(out: Path, python: str, environment: Mapping[str, str], arguments: Sequence[str]) -> dict[str, bytes]:
    """Build a library and return every file of it by its path within."""
    command = [python, "-m", "builder", "build", "--out", str(out), *arguments]
    subprocess.run(command, env=environment, check=True, cwd=tempfile.gettempdir())
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in out.rglob("*") if path.is_file()}


def differing(one: Mapping[str, bytes], other: Mapping[str, bytes]) -> list[str]:
    """Return the files that only one has or that differ."""
    return sorted(name for name in one.keys() | other.keys() if one.get(name) != other.get(name))


def version(python: str) -> str:
    """Return what an interpreter calls itself."""
    return subprocess.run([python, "--version"], check=True, capture_output=True, text=True).stdout.strip()


def main(one: str, other: str) -> int:
    """Compare two Pythons; 1 where anything differs."""
    chosen = selection(one, os.environ)
    with tempfile.TemporaryDirectory() as folder:
        first, second = (built(Path(folder, str(n)), p, os.environ, chosen) for n, p in enumerate((one, other)))
    for library in (first, second):
        del library["build.json"]  # it holds the versions of packages, for the next build
    different = differing(first, second)
    print(f"{len(first)} files from {version(one)} and {version(other)}: {len(different)} differ", *different, sep="\n")
    return 1 if different or not first else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
