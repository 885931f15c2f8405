"""A family's blocks become contact sheets: A4 pages of captioned pictures, as PNG bytes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

from builder.block.block import Block
from builder.definition.shop import Shop
from builder.output.raster import Box, Page, text_width

_WIDTH, _HEIGHT = 1240, 1754  # A4 upright at 150 dots per inch
_EDGE = 70
_TOP = 204  # where the pictures begin
_GUTTER = 14
_CAPTION, _NAME = 16, 13  # text sizes
_SMALLEST = 11
_CAPTION_LINES, _HEAD_LINES = 4, 2  # more are cut off
_LIGHT, _SOFT = 204, 102  # greys of the rules between rows and of block names

Row = tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class _Grid:
    """How one family is laid out: columns, rows on a page, height of a row, height of a picture."""

    columns: int
    rows: int
    height: int
    picture: int

    @property
    def width(self) -> int:
        """Width of a cell."""
        return (_WIDTH - 2 * _EDGE) // self.columns


def contact_sheets(blocks: Sequence[Block], shop: Shop, title: str, subtitle: str) -> tuple[bytes, ...]:
    """Return the pages of a family as PNGs, blocks in the order given; a part's views stay on one row."""
    grid = _grid(blocks)
    rows = _rows(blocks, grid.columns)
    pages = [rows[first : first + grid.rows] for first in range(0, len(rows), grid.rows)]
    return tuple(
        _sheet(page, grid, shop, (title, subtitle, f"Page {number} of {len(pages)}"))
        for number, page in enumerate(pages, 1)
    )


def _grid(blocks: Sequence[Block]) -> _Grid:
    """Return the layout with the largest pictures that takes one page, or one of about five columns."""
    views = max((len(part) for part in _parts(blocks)), default=1)
    columns = [count for count in range(3, 7) if count % min(views, 6) == 0] or [5]
    usual = min(columns, key=lambda count: abs(count - 5))
    for count in range(columns[0], usual):
        grid = _grid_of(blocks, count)
        if count in columns and len(_rows(blocks, count)) <= grid.rows:
            return grid
    return _grid_of(blocks, usual)


def _grid_of(blocks: Sequence[Block], columns: int) -> _Grid:
    width = (_WIDTH - 2 * _EDGE) // columns - _GUTTER
    extents = [block.view.bounds for block in blocks]
    tallest = max((extent.height / max(extent.width, 1e-9) for extent in extents), default=1.0)
    picture = round(width * min(1.0, max(0.4, tallest)))
    captions = {block.caption for block in blocks}
    lines = max((len(_fitted(text, width, _CAPTION, _CAPTION_LINES)[1]) for text in captions), default=1)
    height = picture + _line_height(_CAPTION) * lines + _line_height(_NAME) * 2 + 2 * _GUTTER
    room = _HEIGHT - _TOP - _EDGE
    rows = max(1, room // height)
    return _Grid(columns, rows, room // rows, picture)


def _parts(blocks: Sequence[Block]) -> Iterator[Row]:
    """Yield the blocks that show one part, as far as they follow each other."""
    for _, part in groupby(blocks, key=lambda block: (block.size, block.length)):
        yield tuple(part)


def _rows(blocks: Sequence[Block], columns: int) -> list[Row]:
    """Return the rows; each size begins a new one where that costs no more than a quarter of the paper."""
    parts = list(_parts(blocks))
    dense = _filled(parts, columns)
    by_size = [
        row
        for _, size in groupby(parts, key=lambda part: part[0].size)
        for row in _filled(list(size), columns)
    ]
    return by_size if len(by_size) <= 1.25 * len(dense) else dense


def _filled(parts: Sequence[Row], columns: int) -> list[Row]:
    """Fill rows with parts, breaking a part only where it is wider than a row."""
    rows: list[Row] = [()]
    for part in parts:
        if rows[-1] and len(rows[-1]) + len(part) > columns:
            rows.append(())
        rows[-1] += part
        while len(rows[-1]) > columns:
            rows[-1:] = [rows[-1][:columns], rows[-1][columns:]]
    return rows


def _sheet(rows: Sequence[Row], grid: _Grid, shop: Shop, heading: tuple[str, str, str]) -> bytes:
    page = Page(_WIDTH, _HEIGHT)
    _head(page, *heading)
    for place, row in enumerate(rows):
        top = _TOP + place * grid.height
        if place and row[0].size != rows[place - 1][0].size:
            page.rule(Box(_EDGE, top - _GUTTER // 2, _WIDTH - 2 * _EDGE, 1), _LIGHT)
        for column, block in enumerate(row):
            _cell(page, block, shop, Box(_EDGE + column * grid.width, top, grid.width, grid.picture))
    return page.png()


def _head(page: Page, title: str, subtitle: str, number: str) -> None:
    right = _WIDTH - _EDGE
    page.text((right, 104), number, 18, "rs")
    room = right - _EDGE - round(text_width(number, 18)) - 3 * _GUTTER
    size, lines = _fitted(title, room, 34, _HEAD_LINES)
    for line, text in enumerate(lines):
        page.text((_EDGE, 104 - (len(lines) - 1 - line) * _line_height(size)), text, size)
    size, lines = _fitted(subtitle, right - _EDGE, 18, _HEAD_LINES)
    for line, text in enumerate(lines):
        page.text((_EDGE, 132 + line * _line_height(size)), text, size, grey=_SOFT)
    page.rule(Box(_EDGE, 174, right - _EDGE, 2))


def _cell(page: Page, block: Block, shop: Shop, box: Box) -> None:
    """Draw one block: the box holds the picture, its caption and name stand below."""
    inner = Box(box.left + _GUTTER // 2, box.top, box.width - _GUTTER, box.height)
    page.picture(block.view.shapes, shop, inner, _GUTTER // 2)
    middle, baseline = box.left + box.width // 2, box.top + box.height
    for text, largest, grey in ((block.caption, _CAPTION, 0), (block.name, _NAME, _SOFT)):
        size, lines = _fitted(text, inner.width, largest, _CAPTION_LINES)
        for line in lines:
            baseline += _line_height(largest)
            page.text((middle, baseline), line, size, "ms", grey=grey)


def _line_height(size: int) -> int:
    return round(size * 1.3)


@lru_cache(maxsize=4096)  # the views of a part share one caption
def _fitted(text: str, width: int, size: int, most: int) -> tuple[int, tuple[str, ...]]:
    """Return size and lines of a text: one or two, in smaller letters if need be, else more."""
    for smaller in range(size, _SMALLEST - 1, -1):
        whole = text_width(text, smaller)
        if whole <= width:
            return smaller, (text,)
        if whole > 2 * width:
            continue
        halves = [pair for pair in _halves(text) if all(text_width(half, smaller) <= width for half in pair)]
        best = min(halves, key=_awkwardness, default=None)
        if best and (_awkwardness(best)[0] < 2 or smaller <= size - 3):
            return smaller, best
    lines = tuple(_wrapped(text, width))
    return _SMALLEST, lines if len(lines) <= most else (*lines[: most - 1], lines[most - 1][:-3] + "...")


def _halves(text: str) -> list[tuple[str, str]]:
    words = text.split()
    return [(" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words))]


def _awkwardness(halves: tuple[str, str]) -> tuple[int, float]:
    """Rank a break: 0 after a dash or comma, 2 between ISO and 4014, else 1; then by how uneven it is."""
    first, _ = halves
    widest = max(text_width(half, _CAPTION) for half in halves)
    if first.endswith(("-", ",")):
        return 0, widest
    return 2 if first.split()[-1].isupper() else 1, widest


def _wrapped(text: str, width: int) -> Iterator[str]:
    """Yield lines of the smallest letters, broken between words, or within one that is wider than a line."""
    line = ""
    for word in text.split():
        if line and text_width(f"{line} {word}", _SMALLEST) > width:
            yield line
            line = ""
        line = f"{line} {word}".lstrip()
        while text_width(line, _SMALLEST) > width:
            fits = next(
                n for n in range(len(line), 0, -1) if n == 1 or text_width(line[:n], _SMALLEST) <= width
            )
            yield line[:fits]
            line = line[fits:]
    yield line
