"""A family's blocks become contact sheets: A4 pages of captioned pictures, as PNG bytes."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, groupby, islice

from builder.block.block import Block
from builder.definition.shop import Shop
from builder.output.lettering import text_width
from builder.output.pens import Pens, pens_of
from builder.output.raster import Box, Page, Subject, pictures, subject_of
from builder.words.shapes import Bounds

_WIDTH, _HEIGHT = 1240, 1754  # A4 upright at 150 dots per inch
_EDGE = 70
_TOP = 204  # where the pictures begin
_GUTTER = 14
_MARGIN = 3  # round a picture
_BELOW = 18  # under a row, beside its last baseline
_LOWEST, _HIGHEST = 0.22, 0.6  # height of a row's pictures over the width of one
_TALL = 124  # pixels that a picture may always have in height: narrow columns hold washers
_LOOSEST = 1.1  # paper that rows may take where each size begins one, over the least
_CAPTION, _NAME = 16, 13  # text sizes
_SMALLEST = 11
_CAPTION_LINES, _HEAD_LINES = 4, 2  # more are cut off
_CAUTION = "To draw by. Check dimensions against the current edition of the standard before a part is made or ordered."
_LIGHT, _SOFT = 12, 6  # greys of the rules between sizes and of block names

Blocks = tuple[Block, ...]
Halves = tuple[str, str]
Subjects = Mapping[int, Subject]  # by identity of the block


@dataclass(frozen=True, slots=True)
class _Row:
    """Blocks side by side: width of a cell, size of captions, height of the pictures, height with all below."""

    blocks: Blocks
    cell: int
    caption: int
    picture: int
    height: int

    @property
    def size(self) -> str:
        """The size of the first part."""
        return self.blocks[0].size


def contact_sheets(blocks: Sequence[Block], shop: Shop, title: str, subtitle: str) -> tuple[bytes, ...]:
    """Return the pages of a family as PNGs, blocks in the order given; a part's views stay on one row."""
    subjects = {id(block): subject_of(block.view.shapes) for block in blocks}
    pages = _pages(_layout(blocks, subjects))
    pens = pens_of(shop)
    return tuple(
        _sheet(page, subjects, pens, (title, subtitle, f"Page {number} of {len(pages)}"))
        for number, page in enumerate(pages, 1)
    )


def _layout(blocks: Sequence[Block], subjects: Subjects) -> list[_Row]:
    """Return the rows with the largest pictures that take one page, or those of about five columns."""
    parts = [tuple(part) for _, part in groupby(blocks, key=lambda block: (block.size, block.length))]
    views = Counter(len(part) for part in parts).most_common(1)[0][0] if parts else 1
    even = [count for count in range(3, 7) if count % min(views, 6) == 0] or [5]
    columns = [count for count in even if all(_is_legible(block, count) for block in blocks)] or even[:1]
    usual = min(columns, key=lambda count: abs(count - 5))
    aspects = {block: _aspect(subject.extent) for block, subject in subjects.items()}
    for count in columns:
        rows = _rows(parts, count, aspects)
        if count == usual or len(_pages(rows)) <= 1:
            return rows
    return []


def _is_legible(block: Block, columns: int) -> bool:
    """Tell whether a caption takes at most two lines in that many columns."""
    return len(_fitted(block.designation, _cell_width(columns) - _GUTTER, _CAPTION, _CAPTION_LINES)[1]) <= 2


def _cell_width(columns: int) -> int:
    return (_WIDTH - 2 * _EDGE) // columns


def _aspect(extent: Bounds) -> float:
    return extent.height / max(extent.width, 1e-9)


def _rows(parts: Sequence[Blocks], columns: int, aspects: Mapping[int, float]) -> list[_Row]:
    """Return the rows; each size begins a new one where that costs little paper."""
    cell = _cell_width(columns)
    sizes = [_fitted(b.designation, cell - _GUTTER, _CAPTION, _CAPTION_LINES)[0] for part in parts for b in part]
    caption = max(_NAME, min(sizes, default=_CAPTION))  # one size throughout, but for the longest
    texts = {id(block): _text_height(block, cell - _GUTTER, caption) for part in parts for block in part}
    by_size, dense = (
        [_measured(row, cell, caption, aspects, texts) for row in _filled(parts, columns, apart)]
        for apart in (True, False)
    )
    paper, least = (sum(row.height for row in rows) for rows in (by_size, dense))
    return by_size if paper <= _LOOSEST * least else dense


def _filled(parts: Sequence[Blocks], columns: int, apart: bool) -> list[Blocks]:
    """Fill rows with parts, sizes apart or not, breaking a part only where it is wider than a row."""
    rows: list[Blocks] = []
    for part in parts:
        ends = rows and apart and rows[-1][-1].size != part[0].size
        if not rows or ends or len(rows[-1]) + len(part) > columns:
            rows.append(())
        rows[-1] += part
        while len(rows[-1]) > columns:
            rows[-1:] = [rows[-1][:columns], rows[-1][columns:]]
    return rows


def _measured(blocks: Blocks, cell: int, caption: int, aspects: Mapping[int, float], texts: Mapping[int, int]) -> _Row:
    """Return a row as high as its tallest picture needs, when all are fitted to a column's width."""
    width = cell - _GUTTER
    tallest = max(aspects[id(block)] for block in blocks) * (width - 2 * _MARGIN) + 2 * _MARGIN
    picture = round(min(max(tallest, _LOWEST * width), max(_HIGHEST * width, _TALL)))
    return _Row(blocks, cell, caption, picture, picture + max(texts[id(block)] for block in blocks) + _BELOW)


def _text_height(block: Block, width: int, caption: int) -> int:
    return sum(_line_height(at) * len(lines) for _, lines, at, _ in _texts(block, width, caption))


def _pages(rows: Sequence[_Row]) -> list[list[_Row]]:
    """Return the rows of each page."""
    pages: list[list[_Row]] = []
    room = 0
    for row in rows:
        if row.height > room:
            pages.append([])
            room = _HEIGHT - _TOP - _EDGE + _BELOW  # the last row needs no space below
        pages[-1].append(row)
        room -= row.height
    return pages


def _sheet(rows: Sequence[_Row], subjects: Subjects, pens: Pens, heading: tuple[str, str, str]) -> bytes:
    page = Page(_WIDTH, _HEIGHT)
    _head(page, *heading)
    wanted: list[tuple[Subject, Box]] = []
    top, last = _TOP, rows[0]
    for row in rows:
        if row.size != last.size:
            page.rule(Box(_EDGE, top - _BELOW // 2, _WIDTH - 2 * _EDGE, 1), _LIGHT)
        for column, block in enumerate(row.blocks):
            box = Box(_EDGE + column * row.cell + _GUTTER // 2, top, row.cell - _GUTTER, row.picture)
            wanted.append((subjects[id(block)], box))
            _caption(page, block, box, row.caption)
        top, last = top + row.height, row
    for picture in pictures(wanted, pens, _MARGIN):
        page.place(picture)
    page.text((_EDGE, _HEIGHT - _EDGE // 2), _CAUTION, _NAME, grey=_SOFT)
    return page.png()


def _head(page: Page, title: str, subtitle: str, number: str) -> None:
    right = _WIDTH - _EDGE
    page.text((right, 104), number, 18, "r")
    room = right - _EDGE - round(text_width(number, 18)) - 3 * _GUTTER
    size, lines = _fitted(title, room, 34, _HEAD_LINES)
    for line, text in enumerate(lines):
        page.text((_EDGE, 104 - (len(lines) - 1 - line) * _line_height(size)), text, size)
    size, lines = _fitted(subtitle, right - _EDGE, 18, _HEAD_LINES)
    for line, text in enumerate(lines):
        page.text((_EDGE, 132 + line * _line_height(size)), text, size, grey=_SOFT)
    page.rule(Box(_EDGE, 174, right - _EDGE, 2))


def _caption(page: Page, block: Block, box: Box, size: int) -> None:
    """Write a block's caption and name below the box of its picture."""
    middle, baseline = box.left + box.width // 2, box.top + box.height
    for fitted, lines, largest, grey in _texts(block, box.width, size):
        for line in lines:
            baseline += _line_height(largest)
            page.text((middle, baseline), line, fitted, "m", grey=grey)


def _texts(block: Block, width: int, caption: int) -> Iterator[tuple[int, tuple[str, ...], int, int]]:
    """Yield size, lines, usual size and grey of a block's caption and name."""
    for text, usual, grey in ((block.designation, caption, 0), (block.name, _NAME, _SOFT)):
        yield *_fitted(text, width, usual, _CAPTION_LINES), usual, grey


def _line_height(size: int) -> int:
    return round(size * 1.3)


@lru_cache(maxsize=4096)  # the views of a part share one caption
def _fitted(text: str, width: int, size: int, most: int) -> tuple[int, tuple[str, ...]]:
    """Return size and lines of a text: one or two, in smaller letters if need be, else more."""
    words = text.split()
    for smaller in range(size, _SMALLEST - 1, -1):
        widths, space = [text_width(word, smaller) for word in words], text_width(" ", smaller)
        whole = sum(widths) + space * (len(words) - 1)
        if whole <= width:
            return smaller, (" ".join(words),)
        if whole > 2 * width:
            continue
        ends = [end + space * number for number, end in enumerate(accumulate(widths))]
        best = min(_breaks(words, ends, space, width), default=None)
        if best and (best[0] < 2 or smaller <= size - 3):
            return smaller, best[2]
    lines = tuple(islice(_wrapped(text, width), most + 1))
    return _SMALLEST, lines if len(lines) <= most else (*lines[: most - 1], lines[most - 1][:-3] + "...")


def _breaks(words: Sequence[str], ends: Sequence[int], space: int, width: int) -> Iterator[tuple[int, int, Halves]]:
    """Yield the ways to break a text in two that fit a width: how awkward, width of the wider half, the halves."""
    for count, end in enumerate(ends[:-1], 1):
        widest = max(end, ends[-1] - end - space)
        if widest <= width:
            yield _awkwardness(words[:count]), widest, (" ".join(words[:count]), " ".join(words[count:]))


def _awkwardness(first: Sequence[str]) -> int:
    """Rank a break after some words: 0 after a dash or comma, 2 amid ISO 4014 or M12 x 60, else 1."""
    if first[-1].endswith(("-", ",")):
        return 0
    return 2 if first[-1].isupper() or (first[-1] == "x" and len(first) > 1) else 1


def _wrapped(text: str, width: int) -> Iterator[str]:
    """Yield lines of the smallest letters, broken between words, or within one that is wider than a line."""
    line = ""
    for word in text.split():
        if line and text_width(f"{line} {word}", _SMALLEST) > width:
            yield line
            line = ""
        line = f"{line} {word}".lstrip()
        while text_width(line, _SMALLEST) > width:
            fits = max(1, bisect_right(range(1, len(line)), width, key=lambda n: text_width(line[:n], _SMALLEST)))
            yield line[:fits]
            line = line[fits:]
    yield line
