"""The entities of a block as text, in its own file and in a collection: the same there but for handles and owners."""

import hashlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from builder.proof.records import Frame
from builder.proof.strict import Tagged, entities_in, read_whole
from builder.proof.tags import Unpaired, text_of

_HANDLES = re.compile(r"(?m)^  5\n([0-9A-F]+)\n(?:330\n([0-9A-F]+)\n)?")


@dataclass(frozen=True, slots=True)
class Content:
    """What a sound file of one block holds: a digest of its entities, and the names that tables must have for them."""

    digest: bytes
    references: frozenset[tuple[str, str]]  # table and upper-case name


@dataclass(frozen=True, slots=True)
class _Piece:
    """The text of a block's entities in a collection."""

    text: str
    digest: bytes
    handles: tuple[str, ...]
    owners: frozenset[str | None]


@dataclass(frozen=True, slots=True)
class Collected:
    """A collection: its tags, the text of every block's entities, and which of them are as in their own files."""

    tagged: Tagged
    texts: Mapping[str, str]
    same: frozenset[str]


def content_of(tagged: Tagged) -> Content:
    """Return the content of a block's own file, one that was found sound."""
    return Content(_piece(entities_in(tagged.text)).digest, tagged.frame.references)


def read_collection(data: bytes, known: Mapping[str, Content]) -> Collected:
    """Read and check a collection; `known` are contents of sound files by block.

    Entities that a sound file has too are sound here if their handles, owners and the tables are: the rest of the
    file is checked without them, and then these. Where anything is wrong, all is checked at once, to tell what.
    """
    try:
        return _collected(text_of(data), known)
    except Unpaired as error:
        return Collected(Tagged(faults=[str(error)]), {}, frozenset())


def _collected(text: str, known: Mapping[str, Content]) -> Collected:
    pieces: dict[str, _Piece] = {}
    kept, at = [], 0
    for name, start, stop in _blocks(text):
        if name in pieces:
            return Collected(read_whole(text), {}, frozenset())  # which finds the name twice, too
        pieces[name] = piece = _piece(text[start:stop])
        if name in known and piece.digest == known[name].digest:
            kept.append(text[at:start])
            at = stop
    same = {name: piece for name, piece in pieces.items() if name in known and piece.digest == known[name].digest}
    tagged = read_whole("".join((*kept, text[at:])))
    if tagged.faults or not _fit(same, known, tagged):
        tagged = read_whole(text)
    return Collected(tagged, {name: piece.text for name, piece in pieces.items()}, frozenset(same))


def _blocks(text: str) -> Iterator[tuple[str, int, int]]:
    """Yield name, begin and end of each block's entities; of a sound file all that have any."""
    at = text.find("  2\nBLOCKS\n")
    last = text.find("  2\nENTITIES\n", at)
    while (at := text.find("  0\nBLOCK\n", at, last)) >= 0:
        end = text.find("  0\nENDBLK\n", at, last)
        mark = text.find("\n  2\n", at, end) + 5
        name = text[mark : text.find("\n", mark)]
        start = text.find("\n  0\n", text.find(f"  3\n{name}\n", mark, end), end) + 1
        if 0 < at < start <= end:
            yield name, start, end
        at += 1


def _piece(text: str) -> _Piece:
    parts = _HANDLES.split(text)  # what stands between handles, handle, owner, and so on
    digest = hashlib.blake2b("\0".join(parts[::3]).encode(), digest_size=16).digest()
    return _Piece(text, digest, tuple(parts[1::3]), frozenset(parts[2::3]))


def _fit(same: Mapping[str, _Piece], known: Mapping[str, Content], tagged: Tagged) -> bool:
    """Tell whether handles, owners and names of blocks that were left out are right in what is around them."""
    frame, seed = tagged.frame, int(tagged.header("$HANDSEED")[0], 16)
    seen: set[int] = set()
    count = 0
    for name, piece in same.items():
        if name not in tagged.blocks or piece.owners != {_owner(name, frame)}:
            return False
        if piece.text.count("\n  0\n") + 1 != len(piece.handles):
            return False
        seen.update(int(handle, 16) for handle in piece.handles)
        count += len(piece.handles)
    wanted = frozenset().union(*{known[name].references for name in same})
    unique = len(seen) == count and seen.isdisjoint(frame.handles)
    return unique and wanted <= frame.references and (not seen or (min(seen) > 0 and max(seen) < seed))


def _owner(name: str, frame: Frame) -> str | None:
    return None if frame.r12 else frame.rows.get(("BLOCK_RECORD", name.upper()), {}).get(5, "")
