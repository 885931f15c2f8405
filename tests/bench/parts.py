"""Parts of a build in this process, on one core."""

import time
from pathlib import Path

import dxf_oracle
from generated import write_definition
from tables import Row, unless

from builder.block.library import blocks_of
from builder.output.dxf.single import single_file
from builder.pipeline.order import Order
from builder.pipeline.prepare import prepare
from builder.words.problems import Problems

EVERY = 25  # of the blocks the baseline writes one


def writing(folder: Path) -> list[Row]:
    """Go from definition to DXF files, beside a plain ezdxf script that is handed the drawn blocks and only writes."""
    own = write_definition(folder / "own", sizes=1).parent
    orders = {
        "the shipped families": Order("iso"),
        "one size in 499 lengths": Order("iso", (own,), ("large",)),
    }
    return [_written(name, order, folder / "written") for name, order in orders.items()]


def _written(name: str, order: Order, folder: Path) -> Row:
    folder.mkdir(exist_ok=True)
    begun = time.process_time()
    planned = prepare(order)
    blocks = [block for plan in planned.plans for block in _each(plan, planned.shop, folder)]
    ours = (time.process_time() - begun) / len(blocks)
    some = blocks[::EVERY]
    begun = time.process_time()
    for block in some:
        (folder / "plain.dxf").write_bytes(dxf_oracle.single(block, planned.shop))
    plain = (time.process_time() - begun) / len(some)
    figures = f"{1000 * ours:.2f} ms a block of {len(blocks)}"
    return Row(
        f"definition to DXF file, {name}",
        figures,
        {"a plain ezdxf script": f"{1000 * plain:.1f} ms, {plain / ours:.1f} times"},
        unless(plain > 20 * ours, "20 times"),
    )


def _each(plan, shop, folder):
    for block in blocks_of(plan, shop, Problems()):
        (folder / f"{block.name}.dxf").write_bytes(single_file(block, shop))
        yield block
