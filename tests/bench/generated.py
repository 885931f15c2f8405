"""A definition as large as one likes: bolts of invented sizes, each in 499 lengths and two ends, about 1,000 blocks."""

from pathlib import Path

PER_SIZE = 2 * 499 + 2
_HEAD = """\
family: large
code: LARGE
title: Hexagon bolt of invented sizes
group: bolts
standard: {number: NONE, edition: "0", source: "invented, to measure with"}
units: mm
density: 7.85
designation: "Bolt {size}[ x {l}]"
symbols:
  d: {is: nominal thread diameter, draws: nominal}
  P: {is: thread pitch, draws: nominal}
  s: {is: width across flats, draws: maximum}
  k: {is: head height, draws: nominal}
  l: {is: nominal length, draws: nominal}
  l_from: {is: shortest length, draws: reference}
  l_to: {is: longest length, draws: reference}
  d3: {is: root diameter of the external thread, draws: reference}
formulas:
  d3: d - 1.226869*P
lengths:
  symbol: l
  from: l_from
  to: l_to
  listed: [LENGTHS]
body:
  - hexagon: {name: head, across_flats: s, from: -k, to: 0, chamfer: from, chamfer_angle: 30, chamfer_diameter: 0.95*s}
  - cylinder: {name: shank, diameter: d, from: 0, to: l - 2*d, fillet: d/20}
  - thread: {diameter: d, pitch: P, from: l - 2*d, to: l, minor_diameter: d3, point_angle: 45, point_diameter: d3}
views:
  - side across corners
  - side across flats
  - head end: {hidden: [shank, thread]}
  - point end: {hidden: []}
table:
  columns: [size, d, P, s, k, l_from, l_to]
  rows:
"""


def write_definition(folder: Path, sizes: int) -> Path:
    """Write the definition with so many sizes into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "large.yaml"
    path.write_text(_HEAD.replace("LENGTHS", ", ".join(map(str, range(102, 601)))) + _rows(sizes), encoding="utf-8")
    return path


def _rows(sizes: int) -> str:
    diameters = [round(8 + 40 * n / max(1, sizes), 3) for n in range(sizes)]
    return "".join(
        f"    - [S{n}, {d}, {round(d / 8, 4)}, {round(1.5 * d, 3)}, {round(0.625 * d, 4)}, 102, 600]\n"
        for n, d in enumerate(diameters)
    )
