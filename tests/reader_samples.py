"""Files for readers: hand-made blocks, every shipped family, and a part that has every view kind in every style."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import samples
from sights import VERSIONS, Sight, put_in

from builder.block.block import Block
from builder.block.library import blocks_of
from builder.block.plan import plan
from builder.definition.family import Family
from builder.definition.reader import read_definitions
from builder.definition.shop import Shop
from builder.definition.shop_reader import read_shop
from builder.output.dxf.collection import collection_file
from builder.output.dxf.single import single_file
from builder.pipeline.resources import blocks_folder, shops_folder
from builder.view.catalogue import thread_styles
from builder.words.problems import Problems
from builder.words.units import Unit
from builder.words.views import VIEW_KINDS

# Invented data: a stud of a hand-cranked canal lock-gate winch.
STUD = """
family: winch-stud
code: WSTUD
title: Winch stud
group: studs
standard: {{number: Works 14, edition: "1", source: invented for the tests}}
units: mm
density: 7.85
designation: "Winch stud {{size}}"
symbols:
  d: {{is: diameter, draws: nominal}}
  P: {{is: pitch, draws: nominal}}
table:
  columns: [size, d, P]
  rows:
    - [M12, 12, 1.75]
body:
  - hexagon: {{across_flats: 1.5*d, from: -0.6*d, to: 0}}
  - cylinder: {{diameter: d, from: 0, to: 12*d}}
  - thread: {{diameter: d, pitch: P, from: 12*d, to: 15*d}}
  - cross_hole: {{diameter: d/4, outer: d, at: 2*d}}
views: [{views}]
"""


@dataclass(frozen=True, slots=True)
class Sample:
    """A written file and what went into it."""

    path: Path
    blocks: tuple[Block, ...]
    shop: Shop
    collection: bool

    @property
    def put_in(self) -> Sight:
        """Return what it must show."""
        return put_in(self.blocks, self.shop, collection=self.collection)


def all_samples(folder: Path, families: Sequence[Family]) -> list[Sample]:
    """Write all of them."""
    return [*_hand_made(folder), *_shipped(folder, families), *_stud(folder)]


def _hand_made(folder: Path) -> Iterator[Sample]:
    """Every kind of shape and attribute flag, both units, layers by role and zero."""
    for version in VERSIONS:
        for layer_zero in (False, True):
            for unit in Unit:
                shop = samples.shop(version, layer_zero=layer_zero, plot_scale=0.5)
                blocks = tuple(replace(block, units=unit) for block in samples.blocks(1))
                yield _written(folder, blocks, shop, collection=True)
                yield _written(folder, blocks[:1], shop, collection=False)


def _shipped(folder: Path, families: Sequence[Family]) -> Iterator[Sample]:
    """One size of every family in all its views, in either shop; thread styles in turn."""
    shops = {unit: _shop(key) for unit, key in ((Unit.MM, "iso"), (Unit.INCH, "asme"))}
    styles = sorted(thread_styles())
    for number, family in enumerate(families):
        size = family.rows[len(family.rows) // 2]
        shop = replace(shops[family.units], thread_style=styles[number % len(styles)])
        yield from _in_all_versions(folder, replace(family, rows=(size,)), shop)


def _stud(folder: Path) -> Iterator[Sample]:
    own = folder / "own"
    own.mkdir()
    (own / "winch-stud.yaml").write_text(STUD.format(views=", ".join(VIEW_KINDS)), encoding="utf-8")
    problems = Problems()
    (*_, stud) = (f for f in read_definitions((blocks_folder(), own), problems) if f.key == "winch-stud")
    problems.raise_any()
    for style in thread_styles():
        yield from _in_all_versions(folder, stud, replace(_shop("iso"), thread_style=style))


def _in_all_versions(folder: Path, family: Family, shop: Shop) -> Iterator[Sample]:
    """All views of the first length as a collection in every version; each alone in a version, in turn."""
    problems = Problems()
    (planned,) = plan([family], shop, (), problems)
    first = {block.view.kind: block for block in reversed(planned.blocks)}
    blocks = tuple(blocks_of(replace(planned, blocks=tuple(first.values())), shop, problems))
    problems.raise_any()
    assert len(blocks) == len(family.views)
    for number, version in enumerate(VERSIONS):
        issued = replace(shop, dxf=version)
        yield _written(folder, blocks, issued, collection=True)
        for block in blocks[number :: len(VERSIONS)]:
            yield _written(folder, (block,), issued, collection=False)


def _shop(key: str) -> Shop:
    problems = Problems()
    shop = read_shop(key, shops_folder(), problems)
    problems.raise_any()
    assert shop is not None
    return shop


def _written(folder: Path, blocks: tuple[Block, ...], shop: Shop, *, collection: bool) -> Sample:
    path = folder / f"{len(list(folder.iterdir()))}.dxf"
    path.write_bytes(collection_file(blocks, shop) if collection else single_file(blocks[0], shop))
    return Sample(path, blocks, shop, collection)
