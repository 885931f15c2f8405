"""How many pictures a second, beside ezdxf's drawing add-on in the same run: `python -m tests.bench.pictures`.

Everybody draws the same blocks on one core. Ours begins with the blocks in memory; the add-on with their DXF files
already read and its render context made: drawing and saving as PNG alone are timed. Attribute definitions, which we do
not draw, are left out of its pictures too. Seconds are the processor's; the best of some rounds counts, and all take
turns, so that a busy machine slows them alike.
"""

import io
import time
import warnings
from collections.abc import Callable, Sequence
from itertools import groupby
from typing import NamedTuple

import ezdxf
from ezdxf.addons.drawing import Frontend, RenderContext
from ezdxf.addons.drawing.config import BackgroundPolicy, ColorPolicy, Configuration
from ezdxf.addons.drawing.layout import Margins, Page
from ezdxf.document import Drawing
from ezdxf.entities import DXFGraphic

from builder.block.block import Block
from builder.block.library import blocks_of
from builder.definition.shop import Shop
from builder.output.contact_sheet import contact_sheets
from builder.output.dxf.single import single_file
from builder.output.thumbnail import thumbnails
from builder.pipeline.order import Order
from builder.pipeline.prepare import prepare
from builder.words.problems import Problems

FAMILIES = ("iso-4014", "iso-4032", "iso-7089")  # whole ones, as sheets have a page's cost whatever stands on it
SIZE = 256  # pixels
DPI = 96
LOOK = Configuration(background_policy=BackgroundPolicy.WHITE, color_policy=ColorPolicy.BLACK)


class Row(NamedTuple):
    """What was measured: name, how many a second we make, how many the others do."""

    name: str
    ours: float
    others: dict[str, float]


def rows(patterns: Sequence[str] = FAMILIES, most: int = 40, rounds: int = 3) -> list[Row]:
    """Time thumbnails of at most so many blocks of the ISO shop against both backends, and sheets of them all."""
    shop, blocks = sample(patterns)
    few = blocks[:: -(-len(blocks) // most)]
    read = [opened(block, shop) for block in few]
    ways: dict[str, Callable[[], object]] = {
        "ours": lambda: list(thumbnails(few, shop)),
        "ezdxf, matplotlib": lambda: [with_matplotlib(*one) for one in read],
        "ezdxf, PyMuPDF": lambda: [with_pymupdf(*one) for one in read],
    }
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the add-on uses names that its libraries want renamed
        best = {name: len(few) / seconds for name, seconds in timed(ways, rounds).items()}
    families = [tuple(family) for _, family in groupby(blocks, key=lambda block: block.family)]
    sheets = {"ours": lambda: [contact_sheets(family, shop, family[0].title, "") for family in families]}
    return [
        Row(f"thumbnails, {SIZE} x {SIZE}", best.pop("ours"), best),
        Row("blocks on contact sheets", len(blocks) / timed(sheets, rounds)["ours"], {}),
    ]


def sample(patterns: Sequence[str]) -> tuple[Shop, list[Block]]:
    """Draw the blocks that patterns select."""
    planned = prepare(Order("iso", patterns=tuple(patterns)))
    return planned.shop, [block for plan in planned.plans for block in blocks_of(plan, planned.shop, Problems())]


def opened(block: Block, shop: Shop) -> tuple[Drawing, RenderContext]:
    """Read a block's own file as ezdxf does, and prepare to draw it."""
    document = ezdxf.read(io.StringIO(single_file(block, shop).decode()))
    return document, RenderContext(document)


def timed(ways: dict[str, Callable[[], object]], rounds: int) -> dict[str, float]:
    """Return the seconds that each way takes at best, all taking turns; a first round is not counted."""
    best = dict.fromkeys(ways, float("inf"))
    for count in range(rounds + 1):
        for name, run in ways.items():
            start = time.process_time()
            run()
            if count:
                best[name] = min(best[name], time.process_time() - start)
    return best


def with_matplotlib(document: Drawing, context: RenderContext) -> bytes:
    from ezdxf.addons.drawing.matplotlib import MatplotlibBackend
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(SIZE / DPI, SIZE / DPI), dpi=DPI)
    canvas = FigureCanvasAgg(figure)  # without pyplot, which would take longer
    backend = MatplotlibBackend(figure.add_axes((0, 0, 1, 1)), adjust_figure=False)
    Frontend(context, backend, LOOK).draw_layout(document.modelspace(), filter_func=is_drawn)
    file = io.BytesIO()
    canvas.print_png(file)
    return file.getvalue()


def with_pymupdf(document: Drawing, context: RenderContext) -> bytes:
    from ezdxf.addons.drawing.pymupdf import PyMuPdfBackend

    backend = PyMuPdfBackend()
    Frontend(context, backend, LOOK).draw_layout(document.modelspace(), filter_func=is_drawn)
    side = (SIZE + 0.5) * 25.4 / DPI  # mm; the half pixel is cut off
    return backend.get_pixmap_bytes(Page(side, side, margins=Margins.all(side / 21)), fmt="png", dpi=DPI)


def is_drawn(entity: DXFGraphic) -> bool:
    return entity.dxftype() != "ATTDEF"


def main() -> None:
    for name, ours, others in rows():
        print(f"{name}: {ours:.0f} a second, {1e3 / ours:.2f} ms each")
        for other, rate in others.items():
            print(f"    {other}: {rate:.1f} a second, {1e3 / rate:.1f} ms each; {ours / rate:.0f} times as fast")


if __name__ == "__main__":
    main()
