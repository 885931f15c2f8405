"""YAML text becomes plain values, each with its place in the file. The only module that knows YAML.

Scalars are resolved here, not by YAML 1.1's rules, under which 1:50 is 110, 012 is 10 and NO is false:
to us all three are text, and so refused where a number belongs.
Anchors, aliases, merge keys and tags are refused: a file reads like the standard's table, top to bottom.
"""

import re
import stat
from collections.abc import Iterator
from pathlib import Path

import yaml

from builder.definition.node import FRACTION, Node, Value
from builder.words.limits import DEPTH, DIGITS, FILE, KEY, NUMBER, VALUES
from builder.words.problems import Position, Problems

try:
    from yaml import CSafeLoader as Loader
except ImportError:  # PyYAML built without its C half: same events, three times slower
    from yaml import SafeLoader as Loader  # type: ignore[assignment]

_NUMBER = re.compile(r"[-+]?(?:(?:0|[1-9]\d*)(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?", re.ASCII)
_WHOLE = re.compile(r"[-+]?\d+", re.ASCII)
_DIRECTIVE = re.compile("^%", re.MULTILINE)
_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_WORDS: dict[str, bool | None] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}


class _Refused(Exception):
    """Reading a file stops here; its problem has been noted."""


def read_source(path: Path, problems: Problems) -> Node | None:
    """Read a file; None and problems where it cannot be used."""
    file = str(path)
    try:
        mode = path.stat().st_mode
        if not stat.S_ISREG(mode):  # a pipe would keep us waiting, a device never ends
            what = "is a folder" if stat.S_ISDIR(mode) else "is a device or pipe"
            problems.add(file, what, "expected a YAML file")
            return None
        with path.open("rb") as stream:
            content = stream.read(FILE + 1)
    except FileNotFoundError:
        problems.add(file, "does not exist", "expected a YAML file")
        return None
    except (OSError, ValueError) as error:  # ValueError: a NUL in the path
        reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
        problems.add(file, f"cannot be read: {reason}", "expected a readable YAML file")
        return None
    text = _decoded(content, file, problems)
    return None if text is None else parse_source(text, file, problems)


def is_file(path: Path) -> bool:
    """Tell whether there is a file at a path, whatever the path."""
    try:
        return stat.S_ISREG(path.stat().st_mode)
    except (OSError, ValueError):  # too long, not permitted, links in a circle; a NUL in it
        return False


def parse_source(text: str, file: str, problems: Problems) -> Node | None:
    """Turn YAML text into a node; None where it breaks off, problems for everything in it that is refused."""
    if found := _UNPRINTABLE.search(text):
        where = _position(text, found.start(), file)
        problems.add(where, f"unprintable character {ord(found[0]):#04x}", "expected plain text")
        return None
    if found := _DIRECTIVE.search(text):
        where = _position(text, found.start(), file)
        problems.add(where, "directive %", "expected quotes round text with % in front")
        return None
    try:
        return _Builder(file, problems).document(text)
    except _Refused:
        return None
    except yaml.MarkedYAMLError as error:
        problems.add(*_complaint(error, file))
        return None
    except (yaml.YAMLError, ValueError, OverflowError) as error:  # an escape beyond Unicode
        problems.add(file, f"YAML cannot be read: {error}", "expected plain text")
        return None


def _decoded(content: bytes, file: str, problems: Problems) -> str | None:
    if len(content) > FILE:
        problems.add(file, "file is larger than 2 MB", "expected one family or one shop standard")
        return None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = content[: error.start].decode("utf-8", errors="replace")
        wrong = f"byte {content[error.start]:#04x} is not UTF-8"
        problems.add(_position(before, len(before), file), wrong, "expected the file saved as UTF-8")
        return None


def _position(text: str, offset: int, file: str) -> Position:
    line = text.count("\n", 0, offset) + 1
    return Position(file, line, offset - (text.rfind("\n", 0, offset) + 1) + 1)


def _complaint(error: yaml.MarkedYAMLError, file: str) -> tuple[Position, str, str]:
    mark = error.problem_mark or error.context_mark
    where = Position(file, mark.line + 1, mark.column + 1) if mark else Position(file)
    wrong = f"YAML cannot be read: {error.problem}"
    if "cannot start any token" in str(error.problem):
        return where, wrong, "expected blanks instead of a tab, and quotes round text with @ ` or % in front"
    if "mapping values" in str(error.problem):
        return where, wrong, "expected quotes round text that contains a colon, or fewer blanks in front"
    expected = "expected every bracket and quote closed, and entries of one group equally far in"
    began = error.context_mark.line + 1 if error.context_mark else where.line
    return where, wrong, expected if began == where.line else f"{expected}: see what begins in line {began}"


def _lines(event: yaml.Event) -> int:
    first, last = event.start_mark, event.end_mark
    return last.line - first.line + 1 if first and last else 1


class _Builder:
    """Puts nodes together from YAML's events, one file at a time."""

    def __init__(self, file: str, problems: Problems) -> None:
        self.file = file
        self.problems = problems
        self.values = 0

    def document(self, text: str) -> Node:
        events = yaml.parse(text, Loader=Loader)
        root: Node | None = None
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                if root is not None:
                    self.refuse(event, "second document in the file", "expected one, without --- between")
                root = self.node(next(events), events, None, 1)
        if root is None:
            root = Node(None, Position(self.file, 1, 1))
        return root

    def node(self, event: yaml.Event, events: Iterator[yaml.Event], key: Position | None, depth: int) -> Node:
        self.values += 1
        if depth > DEPTH:
            self.refuse(event, f"nested more than {DEPTH} deep", "expected a flatter file")
        if self.values > VALUES:
            self.refuse(event, f"file has more than {VALUES} values", "expected one family or one shop standard")
        if isinstance(event, yaml.AliasEvent):
            self.refuse(
                event,
                f"alias *{event.anchor}",
                "expected the value itself; quotes round text with * in front",
            )
        assert isinstance(event, yaml.NodeEvent)
        if event.anchor is not None:
            self.refuse(
                event,
                f"anchor &{event.anchor}",
                "expected the value alone; quotes round text with & in front",
            )
        if getattr(event, "tag", None) is not None:
            self.refuse(event, "tag with !", "expected the value alone; quotes round text with ! in front")
        where = self.place(event)
        if isinstance(event, yaml.MappingStartEvent):
            return Node(self.mapping(events, depth), where, key)
        if isinstance(event, yaml.SequenceStartEvent):
            return Node(self.sequence(events, depth), where, key)
        assert isinstance(event, yaml.ScalarEvent)
        quoted = event.style not in (None, "")
        lines = _lines(event)
        if found := _UNPRINTABLE.search(event.value):  # written as an escape
            self.refuse(event, f"unprintable character {ord(found[0]):#04x}", "expected plain text")
        value: Value = event.value if quoted else self.resolve(event.value, where)
        return Node(value, where, key, quoted, lines)

    def mapping(self, events: Iterator[yaml.Event], depth: int) -> dict[str, Node]:
        entries: dict[str, Node] = {}
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            key = self.node(event, events, None, depth + 1)
            name = self.key(key)
            value = self.node(next(events), events, key.position, depth + 1)
            if name is None:
                continue
            if name in entries:
                first = entries[name].key
                line = first.line if first else 0
                self.problems.add(key.position, f"{name} for the second time", f"expected it once: see line {line}")
            else:
                entries[name] = value
        return entries

    def key(self, key: Node) -> str | None:
        if isinstance(key.value, str) and len(key.value) > KEY:
            self.problems.add(key.position, f"key of {len(key.value)} characters", f"expected at most {KEY}")
            return None
        if isinstance(key.value, str) and (key.quoted or key.value != "<<"):
            return key.value
        if key.value == "<<":
            self.problems.add(key.position, "merge key <<", "expected every entry written out")
        else:
            expected = "expected a word before the colon; in quotes if it looks like a number"
            self.problems.add(key.position, f"{key.described} as a key", expected)
        return None

    def sequence(self, events: Iterator[yaml.Event], depth: int) -> list[Node]:
        members: list[Node] = []
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            members.append(self.node(event, events, None, depth + 1))
        return members

    def resolve(self, text: str, where: Position) -> Value:
        if text in _WORDS:
            return _WORDS[text]
        if not _NUMBER.fullmatch(text) or FRACTION.fullmatch(text):
            return text
        number = float(text)
        if len(text) > DIGITS or not abs(number) <= NUMBER:
            self.problems.add(where, "number is too large", f"expected at most 1e12, in at most {DIGITS} digits")
            return 0
        return int(text) if _WHOLE.fullmatch(text) else number

    def place(self, event: yaml.Event) -> Position:
        mark = event.start_mark
        return Position(self.file, mark.line + 1, mark.column + 1) if mark else Position(self.file)

    def refuse(self, event: yaml.Event, wrong: str, expected: str) -> None:
        self.problems.add(self.place(event), wrong, expected)
        raise _Refused
