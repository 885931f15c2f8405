"""DXF text as tags: pairs of a group code and a value, records that begin with code 0. Nothing is repaired."""

import math
from collections.abc import Iterator, Sequence

Tag = tuple[int, str]
Record = list[Tag]

LATER = (b"AC1021", b"AC1024", b"AC1027", b"AC1032")  # releases whose text is UTF-8
REALS = frozenset(code for r in ((10, 60), (110, 150), (210, 240), (1010, 1060)) for code in range(*r))
INTEGERS = frozenset(
    code for r in ((60, 80), (90, 100), (170, 180), (270, 290), (370, 380), (1060, 1072)) for code in range(*r)
)


class Unpaired(ValueError):
    """The text of a file cannot be paired into tags."""


class _Codes(dict[str, int]):
    """Group codes by their text, as DXF writes it: right-aligned in three characters."""

    def __missing__(self, text: str) -> int:
        if not (text.strip().isdigit() and text.isascii() and 3 <= len(text) <= 5):
            raise KeyError(text)
        if len(self) > 10_000:  # a file of rubbish must not fill the memory
            self.clear()
        self[text] = int(text)
        return self[text]


_CODES = _Codes()


def text_of(data: bytes) -> str:
    """Decode a file as its release has it; Unpaired where a byte has no meaning."""
    later = any(b"\n%s\n" % version in data[:200] for version in LATER)
    try:
        return data.decode("utf-8" if later else "cp1252")
    except UnicodeDecodeError as error:
        raise Unpaired(f"byte {error.start} is no text") from None


def tags_of(text: str) -> list[Tag]:
    """Pair text into tags; Unpaired where it does not pair up."""
    if not text:
        return []
    lines = text.split("\n")
    if lines.pop() != "" or len(lines) % 2:
        raise Unpaired("group codes and values do not pair up")
    try:
        return list(zip(map(_CODES.__getitem__, lines[::2]), lines[1::2], strict=True))
    except KeyError as error:
        number = 2 * lines[::2].index(error.args[0]) + 1
        raise Unpaired(f"line {number}: no group code: {error.args[0][:40]!r}") from None


def records_of(tags: list[Tag]) -> list[Record]:
    """Cut tags before every code 0."""
    if not tags:
        return []
    starts = [place for place, tag in enumerate(tags) if tag[0] == 0]
    if not starts or starts[0]:
        starts.insert(0, 0)
    return [tags[a:b] for a, b in zip(starts, [*starts[1:], len(tags)], strict=True)]


def value_faults(tags: Sequence[Tag]) -> Iterator[str]:
    """Yield what is no number where one belongs, or no finite one."""
    for code, value in tags:
        try:
            if code in REALS:
                if not math.isfinite(float(value)):
                    yield f"group {code} is not finite: {value}"
            elif code in INTEGERS:
                int(value)
        except ValueError:
            yield f"group {code} is not a number: {value[:40]!r}"


def first(record: Record, code: int) -> str | None:
    """Return the value of a group among the common ones, those before the first subclass marker."""
    for c, value in record:
        if c == code:
            return value
        if c == 100:
            return None
    return None


def handle_of(text: str | None) -> int | None:
    """Return a handle's number; None where it is none."""
    try:
        return None if text is None else int(text, 16)
    except ValueError:
        return None
