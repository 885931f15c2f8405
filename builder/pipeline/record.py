"""The record of a build, build.json: what each part of a library was made from, so that the next build makes no more
than it must. Nothing else reads it; without it everything is made anew."""

import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from builder.pipeline.place import FOLDERS, MANIFEST, RECORD

_SCHEMA = "urn:blockwright:build:1"
Sizes = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Made:
    """One volume as it was made: digest of what each size depends on, and its files with their sizes in bytes."""

    sizes: Sizes
    files: Mapping[str, int]
    blocks: int


@dataclass(frozen=True, slots=True)
class Record:
    """What a library was made from: digest of the order, the volumes, size of the manifest in bytes."""

    order: str
    families: int
    manifest: int
    volumes: Mapping[str, Made]

    @property
    def blocks(self) -> int:
        """Return how many blocks the library has."""
        return sum(made.blocks for made in self.volumes.values())

    def text(self) -> str:
        """Return it as JSON."""
        facts = {"schema": _SCHEMA, **asdict(self)}
        return json.dumps(facts, ensure_ascii=False, separators=(",", ":")) + "\n"


def read_record(out: Path) -> Record | None:
    """Return the record of the library in a folder; None where there is none or it makes no sense."""
    try:
        facts = json.loads((out / RECORD).read_bytes())
        if facts["schema"] != _SCHEMA:
            return None
        volumes = {key: _made(made) for key, made in facts["volumes"].items()}
        return Record(str(facts["order"]), int(facts["families"]), int(facts["manifest"]), volumes)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None


def _made(facts: Mapping[str, Mapping[str, object]]) -> Made:
    """Return what a record says of a volume; ValueError and the like where it says anything else."""
    sizes = {size: str(recipe) for size, recipe in facts["sizes"].items()}
    files = {name: size for name, size in facts["files"].items() if isinstance(size, int)}
    blocks = facts["blocks"]
    if not isinstance(blocks, int) or len(files) < len(facts["files"]) or not all(map(_is_ours, files)):
        raise ValueError("no record of a volume")
    return Made(sizes, files, blocks)


def _is_ours(name: str) -> bool:
    """Tell a file of a library from what a forged record might name: files elsewhere, which would be taken over."""
    folder, *rest = name.split("/")
    return folder in FOLDERS and 0 < len(rest) < 3 and not any(part in ("", ".", "..") or "\\" in part for part in rest)


def intact(out: Path, record: Record) -> frozenset[str]:
    """Return the files of a library that are as its build left them: of the same size, and older than the record.

    None of them where the manifest is not.
    """
    try:
        since = (out / RECORD).stat().st_mtime_ns
    except OSError:
        return frozenset()
    stated = {name: size for made in record.volumes.values() for name, size in made.files.items()}
    stated[MANIFEST] = record.manifest
    found = _files(out, {name.rpartition("/")[0] for name in stated}, since)
    good = frozenset(name for name, size in found if stated.get(name) == size)
    return good if MANIFEST in good else frozenset()


def _files(out: Path, folders: Iterable[str], since: int) -> Iterable[tuple[str, int]]:
    """Yield names and sizes of the files in some folders that were not written later."""
    for folder in folders:
        try:
            with os.scandir(out / folder) as items:
                for item in items:
                    facts = item.stat(follow_symlinks=False)
                    if facts.st_mtime_ns <= since and item.is_file(follow_symlinks=False):
                        yield (f"{folder}/{item.name}" if folder else item.name), facts.st_size
        except OSError:
            continue
