"""Proves a whole library: manifest, files, definitions; every block measured, in as many processes as are wanted."""

import fnmatch
import gc
import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import chain, groupby
from pathlib import Path
from typing import TypeVar

from builder.definition.family import Family
from builder.proof.collection import prove_collection, prove_sheet
from builder.proof.contents import Content
from builder.proof.definitions import Source, families_at_hand
from builder.proof.findings import Findings
from builder.proof.manifest import NAME, Entry, Manifest, misplaced, read_manifest, volume_of, volume_of_sheet
from builder.proof.outcome import Outcome
from builder.proof.single import Proved, prove_block
from builder.words.near import suggestion
from builder.words.problems import Problems

Progress = Callable[[int], None]  # blocks that were proved
_Job = TypeVar("_Job")
_Done = TypeVar("_Done")
_CHUNK = 64  # blocks that go to a process at once


@dataclass(frozen=True, slots=True)
class Request:
    """What to prove, and by which definitions: folders, later ones refining or replacing what earlier ones hold."""

    folder: Path
    definitions: tuple[Path, ...]
    schema: Path
    patterns: tuple[str, ...] = ()
    jobs: int = 0  # 0: as many as the machine has cores
    listing: bool = True  # whether every measure is handed back


@dataclass(frozen=True, slots=True)
class _Chunk:
    """Some blocks of one family, with its definition where it is at hand."""

    folder: Path
    entries: tuple[Entry, ...]
    manifest: Manifest
    family: Family | None
    listing: bool


@dataclass(frozen=True, slots=True)
class _Collection:
    """A collection to prove."""

    folder: Path
    entries: tuple[Entry, ...]
    contents: Mapping[str, Content]
    manifest: Manifest


def verify(request: Request, progress: Progress = lambda blocks: None) -> Outcome:
    """Prove a library; all that is wrong with it comes back as problems."""
    with _uncollected():
        return _verify(request, progress)


def _verify(request: Request, progress: Progress) -> Outcome:
    problems = Problems()
    manifest = read_manifest(request.folder, request.schema, problems)
    families = families_at_hand(request.definitions, problems)
    if manifest is None or problems:
        return Outcome(0, 0, 0, tuple(sorted(set(problems))), (), ())
    wanted = _wanted(manifest, request, problems)
    for path, wrong, expected in misplaced(request.folder, manifest):
        problems.add(path, wrong, expected)
    sink: list[Proved] = []
    sheets = _sheets(wanted, manifest, request.folder)
    with _processes(request.jobs or os.cpu_count() or 1, len(wanted)) as executor:
        chunks = _run(executor, _prove_chunk, _chunks(wanted, manifest, families, request))
        pictures = _run(executor, prove_sheet, sheets)  # for whoever has no blocks left
        for done in chunks:
            sink += done
            progress(len(done))
        for proved in sink:
            problems.extend(proved.findings.faults)
        collections = list(_collections(wanted, manifest, sink, request.folder))
        collections.sort(key=lambda collection: -len(collection.entries))  # the longest work first
        for findings in chain(_run(executor, _prove_collection, collections), pictures):
            problems.extend(findings.faults)
    files = 1 + 2 * len(wanted) + len(collections) + len(sheets)
    listing = tuple((p.name, p.findings.compared, p.findings.left) for p in sink)
    measures = sum(p.findings.measures for p in sink)
    notes = tuple(_notes(wanted, families, sink))
    return Outcome(len(wanted), measures, files, tuple(sorted(set(problems))), notes, listing)


def _wanted(manifest: Manifest, request: Request, problems: Problems) -> tuple[Entry, ...]:
    """Return the entries that any pattern matches, all where there is none; family by family."""
    entries = sorted(manifest.entries, key=lambda entry: str(entry["family"]))
    if not request.patterns:
        return tuple(entries)
    for pattern in request.patterns:
        if not any(_matches(entry, pattern) for entry in entries):
            words = {word for entry in entries for word in _words(entry)}
            expected = f"expected a family, standard, size or block name, * and ? allowed{suggestion(pattern, words)}"
            problems.add("--only", f"nothing matches {pattern!r}", expected)
    return tuple(entry for entry in entries if any(_matches(entry, pattern) for pattern in request.patterns))


def _words(entry: Entry) -> tuple[str, ...]:
    number = str(entry["standard"]).rpartition(":")[0]
    return str(entry["family"]), number, str(entry["size"]), str(entry["block"])


def _matches(entry: Entry, pattern: str) -> bool:
    return any(fnmatch.fnmatchcase(word.lower(), pattern.lower()) for word in _words(entry))


def _chunks(
    entries: Sequence[Entry], manifest: Manifest, families: Mapping[str, Family], request: Request
) -> Iterator[_Chunk]:
    for key, group in groupby(entries, key=lambda entry: str(entry["family"])):
        members = tuple(group)
        for start in range(0, len(members), _CHUNK):
            slim = Manifest({**manifest.facts, "blocks": ()})
            part = members[start : start + _CHUNK]
            yield _Chunk(request.folder, part, slim, families.get(key), request.listing)


def _prove_chunk(chunk: _Chunk) -> list[Proved]:
    source = None if chunk.family is None else Source(chunk.family, chunk.manifest)
    return [_prove_one(chunk, entry, source) for entry in chunk.entries]


def _prove_one(chunk: _Chunk, entry: Entry, source: Source | None) -> Proved:
    wanted = None if source is None else source.measures(entry)
    proved = prove_block(chunk.folder, entry, chunk.manifest, wanted)
    if source is not None:
        departs = "expected what the definition says; name the shop's own with --definitions"
        proved.findings.add_all(chunk.folder / NAME, proved.name, source.faults(entry), departs)
    if not chunk.listing:
        proved.findings.compared = ()  # to hand so many values from process to process takes longer than to find them
    return proved


def _collections(
    entries: Sequence[Entry], manifest: Manifest, proved: Sequence[Proved], folder: Path
) -> Iterator[_Collection]:
    """Yield the collections in which blocks that were asked for lie, whole."""
    contents = {p.name: p.content for p in proved}
    asked = {volume_of(entry) for entry in entries}
    slim = Manifest({**manifest.facts, "blocks": ()})
    members = sorted((e for e in manifest.entries if volume_of(e) in asked), key=volume_of)
    for _, group in groupby(members, key=volume_of):
        own = tuple(group)
        found = ((name, contents.get(name)) for name in (str(entry["block"]) for entry in own))
        known = {name: content for name, content in found if content is not None}
        yield _Collection(folder, own, known, slim)


def _sheets(entries: Sequence[Entry], manifest: Manifest, folder: Path) -> tuple[Path, ...]:
    """Return the contact sheets of the collections in which blocks that were asked for lie."""
    asked = {volume_of(entry) for entry in entries}
    return tuple(folder / sheet for sheet in manifest.sheets if volume_of_sheet(sheet) in asked)


def _prove_collection(collection: _Collection) -> Findings:
    return prove_collection(collection.folder, collection.entries, collection.contents, collection.manifest)


@contextmanager
def _uncollected() -> Iterator[None]:
    """Leave garbage uncollected: nothing here makes cycles, and to look for them among so many values takes a fifth."""
    collected = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collected:
            gc.enable()


@contextmanager
def _processes(jobs: int, blocks: int) -> Iterator[Executor | None]:
    """Give processes to work in; none where there is little to do."""
    if jobs == 1 or blocks <= 2 * _CHUNK:
        yield None
        return
    with ProcessPoolExecutor(jobs, initializer=gc.disable) as executor:
        try:
            yield executor
        finally:
            executor.shutdown(cancel_futures=True)


def _run(executor: Executor | None, work: Callable[[_Job], _Done], jobs: Iterable[_Job]) -> Iterator[_Done]:
    return map(work, jobs) if executor is None else executor.map(work, jobs)


def _notes(entries: Sequence[Entry], families: Mapping[str, Family], proved: Sequence[Proved]) -> Iterator[str]:
    gone = sorted({str(entry["family"]) for entry in entries} - families.keys())
    for key in gone:
        yield f"no definition of {key} at hand: its blocks were proved against the manifest alone"
    left: dict[str, int] = {}
    for p in proved:
        for what in p.findings.left:
            left[what] = left.get(what, 0) + 1
    for what, count in sorted(left.items()):
        yield f"not measured in {count} block{'s' if count != 1 else ''}: {what}"
