"""What a hostile file goes through: each function ends well, or in problems, or raises, which is a fault of ours."""

import re
import tempfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from builder.block.block import Block
from builder.block.library import blocks_of
from builder.block.plan import FamilyPlan, plan
from builder.definition.family import Family
from builder.definition.reader import read_definitions
from builder.definition.shop import Shop
from builder.definition.shop_reader import read_shop
from builder.output.contact_sheet import contact_sheets
from builder.output.dxf.collection import collection_file
from builder.output.dxf.single import single_file
from builder.output.thumbnail import thumbnail
from builder.part.part import Faults, Part, make_part
from builder.report import problems_json, problems_text
from builder.words.formula import FormulaFault, order, parse_formula
from builder.words.problems import Position, Problems, Rejected

ROOT = Path(__file__).parents[2]
SHOPS = ROOT / "blocks" / "shops"
SMALL_PIECES, SMALL_TURNS = 12, 60  # of a part that is drawn: a view of it takes a fraction of a second
SCOPES = ({"d": 2.0, "k": 0.5, "l": -3.0, "x_1": 1e12}, {"d": 0.0, "k": 1e-300, "l": 1e300, "x_1": -0.0})


@cache
def _folder() -> Path:
    return Path(tempfile.mkdtemp(prefix="fuzz-"))


@cache
def _iso() -> Shop:
    shop = read_shop("iso", SHOPS, Problems())
    assert shop is not None
    return shop


@cache
def _pin() -> Family:
    return read_definitions((Path(__file__).with_name("pin.yaml"),), Problems())[0]


def try_formula(data: bytes) -> str:
    """Read a formula and work it out; return what came of it."""
    text, problems = data.decode("utf-8", errors="surrogateescape"), Problems()
    formula = parse_formula(text, Position("f.yaml", 1, 1), problems)
    if formula is None:
        return _told(problems)
    order({"d": formula, "k": formula}, formula.names, problems)
    for scope in SCOPES:
        try:
            assert abs(formula.value(scope)) < float("inf")
        except FormulaFault as fault:
            assert fault.wrong and fault.expected and 0 <= fault.column <= len(text)
    return "good"


def try_definition(data: bytes) -> str:
    """Read a definition, make its first parts, plan its blocks, and draw a few if they are small."""
    found = re.match(rb"(?m)\A(?:.*\n)*?family: *[\"']?([a-z0-9-]{1,60})", data[:4000])
    path = _folder() / f"{found[1].decode() if found else 'sample'}.yaml"
    path.write_bytes(data)
    problems = Problems()
    try:
        families = read_definitions((path,), problems)
        plans = plan(families, _iso(), (), problems)
        if problems:
            return _told(problems)
        faults = Faults()
        parts = [part for part in _parts(families, faults) if part is not None]
        faults.report(problems)
        if problems or not all(map(_is_small, parts)):
            return _told(problems) if problems else "good"
        return _drawn(plans, _iso(), problems)
    except Rejected as rejected:
        return _told(rejected.problems)
    finally:
        path.unlink()


def try_shop(data: bytes) -> str:
    """Read a shop standard, and draw a pin to it."""
    path, problems = _folder() / "own.yaml", Problems()
    path.write_bytes(data)
    try:
        shop = read_shop(path, SHOPS, problems)
        if shop is None:
            return _told(problems)
        plans = plan((_pin(),), shop, (), problems)
        return _told(problems) if problems else _drawn(plans, shop, problems)
    except Rejected as rejected:
        return _told(rejected.problems)


def _parts(families: tuple[Family, ...], faults: Faults) -> Iterator[Part | None]:
    for family in families:
        for row in family.rows[:2]:
            for length in family.lengths.of(row)[:1] if family.lengths else (None,):
                yield make_part(family, row, length, faults)


def _is_small(part: Part) -> bool:
    turns = sum((t.end - t.start) / t.pitch for body in part.bodies for t in body.threads)
    knots = sum(len(view) for view in part.drawn.values())
    return sum(len(body.pieces) for body in part.bodies) <= SMALL_PIECES and turns <= SMALL_TURNS and knots <= 100


def _drawn(plans: tuple[FamilyPlan, ...], shop: Shop, problems: Problems) -> str:
    few = tuple(FamilyPlan(p.family, p.blocks[:1]) for p in plans[:1])
    blocks = tuple(block for p in few for block in blocks_of(p, shop, problems))
    if problems:
        return _told(problems)
    for block in blocks:
        single_file(block, shop)
        thumbnail(block, shop)
    return _sheets(blocks, few, shop)


def _sheets(blocks: tuple[Block, ...], plans: tuple[FamilyPlan, ...], shop: Shop) -> str:
    if blocks:
        standard = plans[0].family.standard
        collection_file(blocks, shop)
        contact_sheets(blocks, shop, standard.number, standard.source)
    return "drawn"


def _told(problems: "Problems | tuple[object, ...]") -> str:
    """Return "problems" once they have been put into words; every one is one printable line."""
    found = tuple(problems)
    assert found
    for line in problems_text(found).splitlines():  # type: ignore[arg-type]
        assert line.isprintable() and len(line) < 20_000
    assert problems_json(found).isascii()  # type: ignore[arg-type]
    return "problems"


STATIONS = {"formula": try_formula, "definition": try_definition, "shop": try_shop}
