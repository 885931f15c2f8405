"""Families that between them have every feature kind, for trying out what views must show of them. Invented data."""

from pathlib import Path

HEAD = """\
family: {key}
code: {code}
title: Trial part
group: trials
standard: {{number: Works 1, edition: "1", source: invented for trying out}}
units: mm
density: 7.85
designation: "Trial {key} {{size}}"
symbols:
  d: {{is: diameter, draws: nominal}}
  l: {{is: length, draws: nominal}}
table:
  columns: [size, d, l]
  rows:
    - [A, 20, 60]
body:
{body}
views:
{views}
"""
VIEWS = ("side", "side across corners", "plan", "broken side", "point end", "base end", "section", "half section")
FAMILIES = {
    "cylbore": [
        "cylinder: {diameter: d, from: 0, to: l, chamfer: both, chamfer_length: 1}",
        "bore: {diameter: d/2, from: 0, to: l}",
    ],
    "cylround": [
        "cylinder: {diameter: d, from: 0, to: l, rounding: both, rounding_radius: 2}",
        "counterbore: {diameter: d*0.7, from: 0, to: 5}",
        "bore: {diameter: d/2, from: 5, to: 20, bottom: drill}",
    ],
    "stepped": [
        "cylinder: {name: a, diameter: d, from: 0, to: l/2, chamfer: from, chamfer_length: 1}",
        "cylinder: {name: b, diameter: d*0.6, from: l/2, to: l, fillet: 1.5, rounding: to, rounding_radius: 1}",
        "groove: {diameter: d*0.5, outer: d*0.6, from: l*0.8, to: l*0.8+2}",
        "groove: {name: g2, diameter: d*0.8, outer: d, from: 5, to: 9, radius: 1}",
        "countersink: {diameter: 6, bore: 3, at: 0, angle: 60}",
        "bore: {diameter: 3, from: 3/tan(30)/2, to: 12, bottom: flat}",
    ],
    "pawl": [
        "crown: {diameter: 1.5*d, from: -d/4, to: -d/2}",
        "cylinder: {name: head, diameter: 1.5*d, from: -d/4, to: 0}",
        "cylinder: {name: shank, diameter: d, from: 0, to: l, chamfer: to, chamfer_length: 2}",
        "fillet: {diameter: d, at: 0, radius: 1, side: from}",
        "flats: {across_flats: 0.8*d, diameter: d, from: d/2, to: d, count: 2}",
        "cross_hole: {diameter: d/4, outer: d, at: l - d/2}",
        "slot: {width: 2, diameter: 1.5*d, from: -d/2, to: -d/4}",
    ],
    "socket": [
        "cylinder: {name: head, diameter: 1.5*d, from: -d, to: 0, chamfer: from, chamfer_length: 1}",
        "cylinder: {name: shank, diameter: d, from: 0, to: l/3, fillet: 1}",
        "thread: {diameter: d, pitch: 2, from: l/3, to: l, point_diameter: d*0.85}",
        "hexagon_socket: {across_flats: 0.8*d, from: -d, to: -d/2, point_angle: 120}",
    ],
    "setscrew": [
        "thread: {diameter: d, pitch: 2, from: 0, to: l, point_diameter: d*0.85, chamfer: both}",
        "hexagon_socket: {across_flats: 0.5*d, from: 0, to: d/2}",
    ],
    "lobe": [
        "cylinder: {name: head, diameter: 1.5*d, from: -d, to: 0}",
        "cylinder: {name: shank, diameter: d, from: 0, to: l}",
        "six_lobe: {diameter: d, inner: d*0.72, from: -d, to: -d/2}",
    ],
    "sqsock": [
        "cylinder: {name: head, diameter: 1.5*d, from: 0, to: l}",
        "square_socket: {across_flats: 0.7*d, from: l, to: l-d/2, mouth: d*1.1}",
    ],
    "oct": [
        "octagon: {across_flats: d, from: 0, to: l/2, chamfer: both}",
        "cylinder: {diameter: d*0.8, from: l/2, to: l}",
    ],
    "sqhead": [
        'square: {across_flats: d, from: 0, to: l/4, chamfer: from, marked: "yes"}',
        "cylinder: {diameter: d*0.6, from: l/4, to: l}",
    ],
    "twelve": [
        "twelve_point: {across_flats: d, from: 0, to: l/4, chamfer: from}",
        "collar: {diameter: 1.6*d, from: l/4+4, to: l/4+1, top_diameter: 1.1*d, angle: 20}",
        "cylinder: {diameter: d*0.6, from: l/4, to: l}",
    ],
    "flange": [
        "cylinder: {diameter: 5*d, from: 0, to: d}",
        "bolt_holes: {circle: 4*d, diameter: d/2, count: 6, first: 30, from: 0, to: d, "
        "counterbore_diameter: d*0.8, counterbore_depth: d/4}",
        "bore: {diameter: 2*d, from: 0, to: d}",
    ],
    "taper": [
        "taper: {diameter: d, end_diameter: d*0.8, from: 0, to: l}",
        "chamfer: {diameter: d*0.8, at: l, length: 1, side: to}",
    ],
    "keyed": ["cylinder: {diameter: d, from: 0, to: l}", "keyway: {diameter: d, width: 6, depth: 3, from: 10, to: 40}"],
    "oring": ["o_ring: {diameter: d, section: 3, at: 0}"],
    "eyeb": [
        "thread: {diameter: d, pitch: 2, from: 10, to: l, point_diameter: d*0.85}",
        "cylinder: {diameter: d, from: -d/2, to: 10}",
        "eye: {diameter: d*1.5, section: d, at: -d*1.5}",
    ],
    "tee": [
        "cylinder: {diameter: d, from: -l/2, to: l/2}",
        "branch: {diameter: d*0.7, at: 0, length: l/2, bore: d/2}",
        "bore: {diameter: d/2, from: -l/2, to: l/2}",
    ],
    "elbow": ["cylinder: {diameter: d, from: -10, to: 0}", "bend: {diameter: d, at: 0, radius: 1.5*d, tail: 10}"],
    "blindtap": [
        "cylinder: {diameter: 2*d, from: 0, to: l}",
        "tapped_bore: {diameter: d, pitch: 2, from: 0, to: l/2, countersink: from, bottom: drill, drill_to: l/2+6}",
    ],
    "tapund": [
        "cylinder: {diameter: 2*d, from: 0, to: l}",
        "tapped_bore: {diameter: d, pitch: 2, from: l, to: l/2, bottom: flat, undercut_diameter: d+1}",
    ],
    "rev": ["revolved: {profile: [[0, 0], [0, d], {corner: [10, d], radius: 2}, [10, d/2], [l, d/2], [l, 0]]}"],
    "revring": ["revolved: {profile: [[0, d/2], [l, d/2], [l, d], {arc: [0, d], radius: l}]}"],
    "key": ["prism: {profile: [[-4, 0], [-4, 7], [4, 7], [4, 0]], from: 0, to: l}"],
    "angle": [
        "prism: {profile: [[0, 0], [0, 40], {corner: [5, 40], radius: 2}, "
        "{corner: [5, 5], radius: 4}, {corner: [40, 5], radius: 2}, [40, 0]], from: 0, to: l}"
    ],
    "castle": [
        "hexagon: {across_flats: d*1.5, from: 0, to: l/3, chamfer: from}",
        "cylinder: {diameter: d*1.4, from: l/3, to: l/2}",
        "tapped_bore: {diameter: d, pitch: 2, from: 0, to: l/2, countersink: both}",
        "slots: {width: 4, from: l/2, to: l/3+1, count: 6, outer: d*1.5}",
    ],
    "under": [
        "cylinder: {name: big, diameter: d*1.5, from: 0, to: 20}",
        "cylinder: {diameter: d, from: 20, to: l}",
        "undercut: {diameter: d, at: 20, radius: 0.8, depth: 0.3, width: 2.5, side: from}",
    ],
    "pocket": [
        "cylinder: {diameter: d, from: 0, to: l}",
        "pocket: {profile: [[5, -2], [5, 2], [15, 2], [15, -2]], along: up, from: 0, to: d}",
    ],
    "ballk": [
        "ball: {diameter: 2*d, at: 0}",
        "cylinder: {diameter: d*0.8, from: 0, to: l, chamfer: to, chamfer_length: 1}",
    ],
    "crossr": [
        "cylinder: {name: h, diameter: 1.5*d, from: -d*0.7, to: 0}",
        "cylinder: {diameter: d*0.6, from: 0, to: l}",
        "cross_recess: {diameter: d*0.7, width: 3, from: -d*0.7, to: -d*0.2}",
    ],
    "balls": ["balls: {diameter: d/3, circle: 2*d, at: 0, count: 9}"],
    "rollers": ["rollers: {diameter: d/3, length: d/2, circle: 2*d, at: 0, count: 9}"],
    "hexflange": [
        "hexagon: {across_flats: d*1.5, from: -d, to: 0, chamfer: from}",
        "collar: {diameter: 2.2*d, from: 0, to: -2, top_diameter: 1.6*d, rounding: from, rounding_radius: 0.5}",
        "cylinder: {name: shank, diameter: d, from: 0, to: l/3, fillet: 1}",
        "thread: {diameter: d, pitch: 2, from: l/3, to: l, run_out: 3}",
    ],
}


def write_families(folder: Path) -> None:
    """Write a definition for each."""
    folder.mkdir()
    views = "\n".join(f"  - {view}" for view in VIEWS)
    for name, features in FAMILIES.items():
        body = "\n".join(f"  - {feature}" for feature in features)
        key = f"trial-{name}"
        text = HEAD.format(key=key, code=f"T{name[:7].upper()}", body=body, views=views)
        (folder / f"{key}.yaml").write_text(text, encoding="utf-8")
