"""Tables and header of a file against what the manifest says of the shop standard: layers, line types, units."""

from collections.abc import Iterator, Mapping

from builder.proof.manifest import Manifest
from builder.proof.records import Frame
from builder.proof.strict import Tagged

ACAD: Mapping[str, str] = {
    "R12": "AC1009",
    "R2000": "AC1015",
    "R2004": "AC1018",
    "R2007": "AC1021",
    "R2010": "AC1024",
    "R2013": "AC1027",
    "R2018": "AC1032",
}
_INSERT_UNITS = {"in": "1", "mm": "4"}
_NEAR = 1e-6


def header_faults(tagged: Tagged, manifest: Manifest, unit: str) -> Iterator[str]:
    """Yield what header variables say otherwise: release, unit, base point."""
    dxf = str(manifest.shop["dxf"])
    wanted = {"$ACADVER": [ACAD[dxf]]}
    if dxf != "R12":
        wanted |= {"$INSUNITS": [_INSERT_UNITS[unit]], "$MEASUREMENT": ["0" if unit == "in" else "1"]}
    for name, values in wanted.items():
        if (found := tagged.header(name)) != values:
            yield f"{name} is {', '.join(found) or 'not set'}; expected {values[0]}"
    base = tagged.header("$INSBASE")
    if len(base) < 2 or any(float(place) != 0.0 for place in base):
        yield f"$INSBASE is {', '.join(base) or 'not set'}; expected 0, 0, 0"


def table_faults(frame: Frame, manifest: Manifest, unit: str) -> Iterator[str]:
    """Yield layers, line types and text style that are not those of the shop standard."""
    r12 = manifest.shop["dxf"] == "R12"
    for role, style in manifest.roles.items():
        row = frame.rows.get(("LAYER", str(style["layer"]).upper()))
        if row is None:
            yield f"no layer {style['layer']} for {role}"
        elif style["layer"] != "0":
            found = row.get(62), row.get(6, "").upper(), row.get(370)
            width = None if r12 else str(round(100.0 * style["lineweight"]))
            wanted = str(style["colour"]), str(style["linetype"]).upper(), width
            if found != wanted:
                yield f"layer {style['layer']} has colour, line type and width {found}, expected {wanted}"
    yield from _linetype_faults(frame, manifest, unit)
    text = manifest.shop["text"]
    row = frame.rows.get(("STYLE", str(text["style"]).upper()))
    if row is None or row.get(3) != text["font"]:
        yield f"text style {text['style']} has font {row and row.get(3)}, expected {text['font']}"


def _linetype_faults(frame: Frame, manifest: Manifest, unit: str) -> Iterator[str]:
    for name, pattern in manifest.facts["linetypes"].items():
        dashes = frame.patterns.get(name.upper())
        if dashes is None:
            yield f"no line type {name}"
        elif len(dashes) != len(pattern) or any(
            abs(dash - manifest.drawn(stated, unit)) > _NEAR for dash, stated in zip(dashes, pattern, strict=True)
        ):
            yield f"line type {name} has dashes and gaps {list(dashes)}, expected {pattern} mm on paper"
