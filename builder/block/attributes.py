"""The attributes of a block: twelve tags after ISO 7573's fields, editable where the drafter types."""

import re
from collections.abc import Mapping

from builder.block.block import Attribute
from builder.definition.family import FILLED_IN, Family
from builder.definition.shop import Shop
from builder.part.part import Part, dimensions_shown
from builder.view.kind import ViewKind
from builder.words.units import Unit, length_text

KG_PER_POUND = 0.45359237  # exact, international pound

_PROMPTS = {
    "DESIGNATION": "Designation to the standard",
    "STANDARD": "Standard and edition",
    "SIZE": "Size",
    "LENGTH": "Nominal length",
    "MATERIAL": "Material and class",
    "FINISH": "Finish",
    "PARTNO": "Part number",
    "ITEM": "Item number in the parts list",
    "COUNT": "Parts that this view counts for",
    "VIEW": "View",
    "MASS": "Mass of one part",
    "LIBREV": "Fingerprint of the block",
}
LONGEST_TEXT = 255  # characters of one text value in DXF R12 and in extended data
_EDITABLE = frozenset({"MATERIAL", "FINISH", "PARTNO", "ITEM", "COUNT"})


def attributes_of(texts: Mapping[str, str], shop: Shop, fingerprint: str) -> tuple[Attribute, ...]:
    """Return a block's attributes in their fixed order, from their texts and the fingerprint."""
    filled = {**texts, "LIBREV": fingerprint}
    return tuple(
        Attribute(tag, prompt, filled[tag], tag in _EDITABLE, tag in shop.visible) for tag, prompt in _PROMPTS.items()
    )


def attribute_texts(part: Part, kind: ViewKind, shop: Shop) -> dict[str, str]:
    """Return the text of every tag but LIBREV."""
    family, filled = part.family, filled_in(part.family, shop)
    has_length = part.length is not None and kind.shows_length
    known = family.lengths is None or has_length
    return {
        "DESIGNATION": designation(part, kind, shop),
        "STANDARD": f"{family.standard.number}:{family.standard.edition}",
        "SIZE": part.row.size,
        "LENGTH": length_text(part.length, family.units) if has_length and part.length is not None else "",
        "MATERIAL": ", ".join(filter(None, (filled["material"], filled["class"]))),
        "FINISH": filled["finish"],
        "PARTNO": "",
        "ITEM": "",
        "COUNT": str(kind.counts),
        "VIEW": kind.name.upper(),
        "MASS": mass_text(part.mass, family.units) if known and part.bodies else "",
    }


def filled_in(family: Family, shop: Shop) -> Mapping[str, str]:
    """Return class, material and finish: the family's own, the shop's where it states them."""
    own = dict.fromkeys(FILLED_IN, "") | dict(family.attributes)
    return own | dict(shop.defaults) | dict(shop.family_defaults.get(family.key, {}))


def designation(part: Part, kind: ViewKind, shop: Shop) -> str:
    """Fill in the family's designation; a part in [brackets] falls away where a name in it has no value."""
    family = part.family
    shown = dimensions_shown(part, kind.shows_length)
    values = {name: _dimension_text(value, family.units) for name, value in shown.items()}
    values |= {"size": part.row.size, **filled_in(family, shop)}
    if family.lengths is not None and (length := shown.get(family.lengths.symbol)) is not None:
        values[family.lengths.symbol] = length_text(length, family.units)
    text = re.sub(r"\[([^\]]*)\]", lambda found: _filled(found[1], values, optional=True), family.designation)
    return _filled(text, values, optional=False)


def _filled(text: str, values: Mapping[str, str], optional: bool) -> str:
    names = re.findall(r"\{(\w+)\}", text)
    if optional and not all(values.get(name) for name in names):
        return ""
    return re.sub(r"\{(\w+)\}", lambda found: values.get(found[1], ""), text)


def _dimension_text(value: float, unit: Unit) -> str:
    return f"{value:.3f}" if unit is Unit.INCH else length_text(value, unit)


def mass_text(kilograms: float, unit: Unit) -> str:
    """Write a mass to three significant figures, in kg for metric parts and lb for inch parts."""
    value, name = (kilograms, "kg") if unit is Unit.MM else (kilograms / KG_PER_POUND, "lb")
    return f"{float(f'{value:.3g}'):.6f}".rstrip("0").rstrip(".") + f" {name}"
