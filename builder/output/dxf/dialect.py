"""What a release and a shop standard add to every entity: markers, owner, layer, colour, line type, width.

Computed once per template, so that writing an entity only joins ready-made text.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from builder.definition.shop import LineStyle, Shop
from builder.output.dxf.releases import RELEASES, Release
from builder.words.roles import Role
from builder.words.units import Unit

_BYBLOCK = 0
INSERT_UNITS = {Unit.INCH: 1, Unit.MM: 4}


@dataclass(frozen=True, slots=True)
class Look:
    """How the entities of one role look, in DXF terms. None: by layer."""

    layer: str
    linetype: str | None = None
    colour: int | None = None
    lineweight: int | None = None


@dataclass(frozen=True, slots=True)
class Dialect:
    """Ready-made text for one release and one shop standard: what stands between owner and coordinates."""

    release: Release
    line: Mapping[Role, str]
    circle: Mapping[Role, str]
    ellipse: Mapping[Role, str]
    text: Mapping[Role, str]
    bare: str  # on layer 0, with nothing said about the look
    text_style: str
    attribute_kind: str
    insert_units: int

    def owner(self, handle: int) -> str:
        """Name the owner of an entity."""
        return f"330\n{handle:X}\n" if self.release.owners else ""

    def marker(self, name: str) -> str:
        """Return a subclass marker."""
        return f"100\n{name}\n" if self.release.owners else ""


def look_of(shop: Shop, role: Role) -> Look:
    """Return how a role looks: by layer, or on layer 0 in the insert's colour with its own line."""
    style = shop.roles[role]
    if not shop.layer_zero:
        return Look(style.layer)
    return Look("0", style.linetype, _BYBLOCK, lineweight_of(style))


def lineweight_of(style: LineStyle) -> int:
    """Return a width as DXF states it, in hundredths of a millimetre."""
    return round(style.lineweight * 100)


def dialect_of(shop: Shop, unit: Unit) -> Dialect:
    """Return the dialect in which a shop's blocks of one unit are written."""
    release = RELEASES[shop.dxf]
    return Dialect(
        release=release,
        line=_openings("AcDbLine", shop, release),
        circle=_openings("AcDbCircle", shop, release),
        ellipse=_openings("AcDbEllipse", shop, release),
        text=_openings("AcDbText", shop, release),
        bare=_look_tags(Look("0"), release),
        # "Standard" is what a text has that names no style, and is then left out
        text_style="" if shop.text.name == "Standard" else f"  7\n{shop.text.name}\n",
        attribute_kind=" 71\n1\n 72\n0\n" if release.attribute_kind else "",  # 1: a single line of text
        insert_units=INSERT_UNITS[unit],
    )


def _openings(marker: str, shop: Shop, release: Release) -> Mapping[Role, str]:
    marked = f"100\n{marker}\n" if release.owners else ""
    return {role: _look_tags(look_of(shop, role), release) + marked for role in Role}


def _look_tags(look: Look, release: Release) -> str:
    marker = "100\nAcDbEntity\n" if release.owners else ""
    linetype = "" if look.linetype is None else f"  6\n{look.linetype}\n"
    colour = "" if look.colour is None else f" 62\n{look.colour}\n"
    weight = "" if look.lineweight is None or not release.owners else f"370\n{look.lineweight}\n"
    return f"{marker}  8\n{look.layer}\n{linetype}{colour}{weight}"
