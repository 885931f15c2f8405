"""Shapes, attributes, blocks and inserts as DXF tags, in any release. Text only; nothing here knows files.

Group codes and their order follow the DXF reference as ezdxf writes it; tests hold the two equal to the byte.
"""

import math
from dataclasses import dataclass

from builder.output.dxf.attributes import Definition
from builder.output.dxf.dialect import Dialect
from builder.output.dxf.identity import APPID
from builder.output.dxf.tags import number, plain, radians, ratio, size
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Shape, Text

_TURN = 360.0


def shape_tags(shape: Shape, handle: int, owner: str, dialect: Dialect) -> str:
    """Write one shape as LINE, ARC, CIRCLE, ELLIPSE or TEXT; R12 knows no ELLIPSE."""
    match shape:
        case Line():
            return _line(shape, handle, owner, dialect)
        case Arc():
            return _arc(shape, handle, owner, dialect)
        case Circle():
            return f"  0\nCIRCLE\n  5\n{handle:X}\n{owner}{_circle(shape, dialect)}"
        case Ellipse():
            return _ellipse(shape, handle, owner, dialect)
        case Text():
            text = _text(shape, dialect)
            return f"  0\nTEXT\n  5\n{handle:X}\n{owner}{text}{dialect.marker('AcDbText')}"


def _line(line: Line, handle: int, owner: str, dialect: Dialect) -> str:
    head = f"  0\nLINE\n  5\n{handle:X}\n{owner}{dialect.line[line.role]}"
    return f"{head}{_place(line.start)} 11\n{number(line.end.x)}\n 21\n{number(line.end.y)}\n 31\n0.0\n"


def _arc(arc: Arc, handle: int, owner: str, dialect: Dialect) -> str:
    end = arc.end - _TURN if arc.end > _TURN else arc.end
    head = f"  0\nARC\n  5\n{handle:X}\n{owner}{_circle(arc, dialect)}{dialect.marker('AcDbArc')}"
    return f"{head} 50\n{number(arc.start)}\n 51\n{number(end)}\n"


def _circle(shape: Circle | Arc, dialect: Dialect) -> str:
    return f"{dialect.circle[shape.role]}{_place(shape.centre)} 40\n{size(shape.radius)}\n"


def _ellipse(ellipse: Ellipse, handle: int, owner: str, dialect: Dialect) -> str:
    size(ellipse.ratio * math.hypot(*ellipse.major))  # refuses one that vanishes
    start, end = "0.0", str(math.tau)  # what a full one must have, to the last digit
    if not ellipse.whole:
        start, end = radians(ellipse.start), radians(ellipse.end - _TURN if ellipse.end > _TURN else ellipse.end)
    head = f"  0\nELLIPSE\n  5\n{handle:X}\n{owner}{dialect.ellipse[ellipse.role]}{_place(ellipse.centre)}"
    major = f" 11\n{number(ellipse.major.x)}\n 21\n{number(ellipse.major.y)}\n 31\n0.0\n"
    return f"{head}{major} 40\n{ratio(ellipse.ratio)}\n 41\n{start}\n 42\n{end}\n"


def _text(text: Text, dialect: Dialect) -> str:
    lettering = f" 40\n{size(text.height)}\n  1\n{plain(text.text)}\n{dialect.text_style}"
    return f"{dialect.text[text.role]}{_place(text.at)}{lettering}"


def _place(at: Point) -> str:
    return f" 10\n{number(at.x)}\n 20\n{number(at.y)}\n 30\n0.0\n"


def attdef_tags(definition: Definition, handle: int, owner: str, dialect: Dialect) -> str:
    """Write an attribute definition, with the block's identity as extended data where it holds it."""
    head = f"  0\nATTDEF\n  5\n{handle:X}\n{owner}{_text(definition.lettering, dialect)}"
    prompt, tag = plain(definition.prompt), plain(definition.tag)
    named = f"{dialect.marker('AcDbAttributeDefinition')}  3\n{prompt}\n  2\n{tag}\n"
    return f"{head}{named} 70\n{definition.flags}\n{dialect.attribute_kind}{_extended(definition.identity)}"


def _extended(values: tuple[str, ...]) -> str:
    return "".join((f"1001\n{APPID}\n", *(f"1000\n{plain(v)}\n" for v in values))) if values else ""


@dataclass(frozen=True, slots=True)
class Insert:
    """A block placed in a drawing, with attributes for those of its definitions that are not constant."""

    name: str
    at: Point
    editable: tuple[Definition, ...]

    @property
    def handles(self) -> int:
        """Return how many handles it takes; the end mark's is set aside even where none is written."""
        return 2 + len(self.editable)


def insert_tags(insert: Insert, handle: int, owner: str, dialect: Dialect) -> str:
    """Write an insert on layer 0 with its attributes."""
    follow = " 66\n1\n" if insert.editable else ""
    head = f"  0\nINSERT\n  5\n{handle:X}\n{owner}{dialect.bare}{dialect.marker('AcDbBlockReference')}"
    reference = f"{head}{follow}  2\n{insert.name}\n{_place(insert.at)}"
    if not insert.editable:
        return reference
    # the end mark has the handle after the insert's, as in a document that grows entity by entity
    mine = dialect.owner(handle)
    attribs = [_attrib(d, insert.at, free, mine, dialect) for free, d in enumerate(insert.editable, handle + 2)]
    return f"{reference}{''.join(attribs)}  0\nSEQEND\n  5\n{handle + 1:X}\n{mine}{dialect.bare}"


def _attrib(definition: Definition, base: Point, handle: int, owner: str, dialect: Dialect) -> str:
    own = definition.lettering
    text = _text(Text(own.at.plus(base.x, base.y), own.height, own.text, own.role), dialect)
    named = f"{dialect.marker('AcDbAttribute')}  2\n{plain(definition.tag)}\n 70\n{definition.flags & 1}\n"
    return f"  0\nATTRIB\n  5\n{handle:X}\n{owner}{text}{named}{dialect.attribute_kind}"


def record_tags(name: str, handle: int, table: int, dialect: Dialect) -> str:
    """Write the row of a block in the table of block records; R12 has no such table."""
    if not dialect.release.owners:
        return ""
    # explodable, and scaled uniformly only: a stretched standard part is a drafting fault
    units = f" 70\n{dialect.insert_units}\n280\n1\n281\n1\n" if dialect.release.record_units else ""
    markers = "100\nAcDbSymbolTableRecord\n100\nAcDbBlockTableRecord\n"
    return f"  0\nBLOCK_RECORD\n  5\n{handle:X}\n{dialect.owner(table)}{markers}  2\n{name}\n340\n0\n{units}"


def block_tags(name: str, flags: int, record: int, dialect: Dialect) -> tuple[str, str]:
    """Write the opening and the end of a block definition; they take the two handles after the record's."""
    owner = f"{dialect.owner(record)}{dialect.bare}"
    begin = f"  0\nBLOCK\n  5\n{record + 1:X}\n{owner}{dialect.marker('AcDbBlockBegin')}"
    end = f"  0\nENDBLK\n  5\n{record + 2:X}\n{owner}{dialect.marker('AcDbBlockEnd')}"
    return f"{begin}  2\n{name}\n 70\n{flags}\n{_place(Point(0.0, 0.0))}  3\n{name}\n  1\n\n", end
