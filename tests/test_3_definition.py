"""Definitions: what a good one becomes, what is said of bad ones, and how a shop's folder refines them."""

import json
import math
import pickle
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from builder.body.catalogue import feature_kinds
from builder.definition.draft import Draft
from builder.definition.family import Draws, Family
from builder.definition.node import Node, Value
from builder.definition.reader import read_definitions
from builder.definition.schema import check
from builder.definition.schema_text import family_schema
from builder.definition.shop_schema import shop_schema
from builder.definition.source import parse_source, read_source
from builder.part.part import Faults, Part, make_part
from builder.view.catalogue import view_kinds
from builder.words.formula import Formula
from builder.words.problems import Problems
from builder.words.regions import Region
from builder.words.roles import Role
from builder.words.shapes import Arc, Circle, Ellipse, Line, Point, Text
from builder.words.units import Unit
from builder.words.views import VIEW_KINDS

HERE = Path(__file__).parent
BAD = sorted((HERE / "definitions" / "bad").glob("*.yaml"))
BLOCKS = HERE.parent / "blocks"
SCHEMAS = HERE.parent / "schemas"
README = HERE.parent / "README.md"

# A part made up for the tests, to no standard.
SAMPLE = """\
family: sample
code: SAMPLE
title: Sample pin
group: pins
standard: {number: SAMPLE 1, edition: "2020", source: made up}
units: in
density: 7.85
attributes: {class: "5"}
designation: "Pin {size}[ x {l}][ - {class}]"
symbols:
  d:      {is: diameter, draws: nominal}
  k:      {is: head height, draws: nominal}
  k_max:  {is: greatest head height, draws: maximum}
  l_from: {is: shortest length, draws: nominal}
  l_to:   {is: longest length, draws: nominal}
  l:      {is: nominal length, draws: nominal}
  dk:     {is: head diameter, draws: reference}
table:
  columns: [size,  d,    k,    k_max, l_from, l_to]
  rows:
    -      [1/4,   1/4,  1/8,  9/64,  1/2,    1-1/2]
    -      ["1/2", 0.5,  17/64, ~,    1/2,    2]
lengths: {symbol: l, from: l_from, to: l_to, listed: [1/2, 1, 1-1/2, 2]}
formulas:
  dk: 2*d
checks:
  - k <= k_max
body:
  - cylinder: {name: head, diameter: dk, from: -k, to: 0, chamfer: from, chamfer_length: 0.01}
  - cylinder: {diameter: "max(d, 0.1)", from: 0, to: l, fillet: 0}
views: [side, {end: {hidden: []}}]
"""


def read_family(path: Path, problems: Problems) -> Family | None:
    """Read one definition by itself."""
    families = read_definitions((path,), problems)
    return families[0] if families and not problems else None


def written(folder: Path, text: str, name: str = "sample") -> Path:
    folder.mkdir(exist_ok=True)
    path = folder / f"{name}.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def found(problems: Problems) -> list[str]:
    return [str(problem) for problem in sorted(set(problems))]


def good(path: Path) -> Family:
    problems = Problems()
    family = read_family(path, problems)
    assert family is not None, found(problems)
    return family


@pytest.fixture
def sample(tmp_path: Path) -> Family:
    return good(written(tmp_path, SAMPLE))


def test_a_definition_becomes_a_family(sample: Family) -> None:
    assert (sample.key, sample.code, sample.units, sample.density) == ("sample", "SAMPLE", Unit.INCH, 7.85)
    assert (sample.standard.number, sample.standard.edition) == ("SAMPLE 1", "2020")
    assert sample.attributes == {"class": "5"}
    assert sample.symbols["k_max"].draws is Draws.MAXIMUM
    assert sample.symbols["k_max"].position.line == 13
    assert sample.formulas["dk"].value({"d": 0.5}) == 1.0
    assert [check.text for check in sample.checks] == ["k <= k_max"]


def test_fractions_in_the_table_are_exact_and_empty_cells_are_left_out(sample: Family) -> None:
    first, second = sample.rows
    assert (first.size, second.size) == ("1/4", "1/2")
    assert first.values == {"d": 0.25, "k": 0.125, "k_max": 0.140625, "l_from": 0.5, "l_to": 1.5}
    assert second.values == {"d": 0.5, "k": 0.265625, "l_from": 0.5, "l_to": 2.0}
    assert second.position.line == 22


def test_each_size_has_its_listed_lengths(sample: Family) -> None:
    assert sample.lengths is not None
    assert [sample.lengths.of(row) for row in sample.rows] == [(0.5, 1.0, 1.5), (0.5, 1.0, 1.5, 2.0)]


def test_features_have_names_formulas_and_choices(sample: Family) -> None:
    head, shank = sample.body
    assert (head.kind, head.name, shank.kind, shank.name) == ("cylinder", "head", "cylinder", "cylinder")
    assert head.parameters["chamfer"] == "from"
    assert "name" not in head.parameters
    diameter = shank.parameters["diameter"]
    assert isinstance(diameter, Formula)
    assert diameter.value({"d": 0.25}) == 0.25
    assert (diameter.position.line, diameter.position.column) == (30, 27)  # after the quote


def test_views_say_whose_hidden_lines_are_drawn(sample: Family) -> None:
    assert [(view.kind, view.hidden) for view in sample.views] == [("side", None), ("end", frozenset())]


def test_a_family_can_be_handed_to_another_process(sample: Family) -> None:
    assert pickle.loads(pickle.dumps(sample)) == sample


@pytest.mark.parametrize("path", BAD, ids=[path.stem for path in BAD])
def test_bad_definitions_are_reported(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(path.parent)
    problems = Problems()
    assert read_family(Path(path.name), problems) is None
    assert found(problems) == path.with_suffix(".txt").read_text(encoding="utf-8").splitlines()


def test_the_stem_of_the_bad_definitions_is_good(tmp_path: Path) -> None:
    """Otherwise their reports would prove nothing."""
    text = (HERE / "definitions" / "bad" / "failing-check.yaml").read_text(encoding="utf-8")
    good(written(tmp_path, text.replace("4.9", "3.9"), "failing-check"))


def test_a_size_that_lacks_a_limit_is_not_checked_against_it(tmp_path: Path) -> None:
    text = SAMPLE.replace("17/64, ~", "17/64, 1/4")
    problems = Problems()
    assert read_family(written(tmp_path, text), problems) is None
    (problem,) = found(problems)
    assert ":22:12: check k <= k_max fails for 1/2 x 0.5: k = 0.265625, k_max = 0.25; " in problem


def test_the_length_enters_checks_at_both_ends(tmp_path: Path) -> None:
    text = SAMPLE.replace("k <= k_max", "l < 1.9")
    problems = Problems()
    read_family(written(tmp_path, text), problems)
    assert [text.split(": ", 1)[1].split(";")[0] for text in found(problems)] == [
        "check l < 1.9 fails for 1/2 x 2: l = 2"
    ]


RING = """\
bodies:
  - name: ring
    features:
      - revolved: {name: race, profile: [[0, dk], {corner: [k, dk], radius: k/8}, [k, 2*dk], [0, 2*dk]]}
  - name: pin
    section: whole
    features:
      - cylinder: {diameter: d, from: -l, to: k}
drawn:
  side:
    - line: {from: [0, 0], to: [k, -k], role: narrow}
    - polyline: {knots: [[0, 0], [k, 0], {arc: [k, d], radius: d/2}], closed: true}
    - arc: {centre: [0, k], radius: d, start: -90, end: 90, role: hidden}
    - circle: {centre: [k, 0], radius: d/2, role: axis}
    - ellipse: {centre: [0, 0], major: [0, d], ratio: 1/2}
    - text: {at: [k, "max(k, d)"], height: 0.1, text: "2 off"}
    - region: {knots: [[0, 0], [k, 0], [0, k]]}
views: [{side: {roll: 22.5, hidden: [race]}}, {end: {hidden: [cylinder]}}]
"""


@pytest.fixture
def ring(tmp_path: Path) -> Family:
    return good(written(tmp_path, SAMPLE[: SAMPLE.index("body:")] + RING))


def smallest(family: Family, length: float | None = 1.0) -> Part:
    """Make the part of the first size, 1/4: d 0.25, k 0.125, dk 0.5."""
    problems, faults = Problems(), Faults()
    part = make_part(family, family.rows[0], length, faults)
    faults.report(problems)
    assert part is not None, found(problems)
    return part


def test_a_family_of_one_body_calls_it_body(sample: Family) -> None:
    assert [(body.name, body.whole) for body in sample.bodies] == [("body", False)]
    assert {feature.body for feature in sample.body} == {"body"}
    assert dict(sample.drawn) == {}


def test_several_bodies_have_names_and_features_of_their_own(ring: Family) -> None:
    assert [(body.name, body.whole) for body in ring.bodies] == [("ring", False), ("pin", True)]
    assert [(feature.name, feature.body) for feature in ring.body] == [("race", "ring"), ("cylinder", "pin")]
    bodies = smallest(ring).bodies
    assert [(body.name, body.whole, len(body.pieces)) for body in bodies] == [("ring", False, 1), ("pin", True, 1)]


def test_a_part_weighs_as_much_as_its_bodies(ring: Family) -> None:
    """A ring of radii 0.5 to 1 and width 0.125 with one rounded edge; a pin of diameter 0.25 and length 1.125, inches.

    The rounding of radius r takes (1 - pi/4) r^2 at its centroid, (10 - 3 pi) / (12 - 3 pi) r from the flanks
    (centroid of a spandrel, any handbook of mechanics).
    """
    r = 0.125 / 8.0
    inward = (10.0 - 3.0 * math.pi) / (12.0 - 3.0 * math.pi) * r
    rounding = (1.0 - math.pi / 4.0) * r * r * math.tau * (0.5 + inward)
    cubic_inches = math.pi * (1.0 - 0.25) * 0.125 - rounding + math.pi * 0.125**2 * 1.125
    assert smallest(ring).mass == pytest.approx(cubic_inches * 16.387064 * 7.85 / 1000.0, rel=1e-9)


def test_views_may_be_rolled(ring: Family, sample: Family) -> None:
    assert [(view.kind, view.roll, view.hidden) for view in ring.views] == [
        ("side", 22.5, {"race"}),
        ("end", None, {"cylinder"}),
    ]
    assert {view.roll for view in sample.views} == {None}


def test_a_profile_is_knots_of_formulas(ring: Family) -> None:
    knots = ring.body[0].parameters["profile"]
    assert isinstance(knots, tuple)
    assert [knot.arc for knot in knots] == [False] * 4
    assert [knot.radius and knot.radius.text for knot in knots] == [None, "k/8", None, None]
    assert (knots[1].position.line, knots[1].position.column) == (31, 51)


def test_drawn_shapes_are_worked_out_for_each_part(ring: Family) -> None:
    line, *polyline, arc, circle, ellipse, text, region = smallest(ring).drawn["side"]
    origin, d, k = Point(0, 0), 0.25, 0.125
    assert line == Line(origin, Point(k, -k), Role.NARROW)
    assert polyline == [
        Line(origin, Point(k, 0), Role.OUTLINE),
        Arc(Point(k, k), k, 270.0, 450.0, Role.OUTLINE),
        Line(Point(k, d), origin, Role.OUTLINE),
    ]
    assert arc == Arc(Point(0, k), d, 270.0, 450.0, Role.HIDDEN)
    assert circle == Circle(Point(k, 0), k, Role.AXIS)
    assert ellipse == Ellipse(origin, Point(0, d), 0.5, 0.0, 360.0, Role.OUTLINE)
    assert text == Text(Point(k, d), 0.1, "2 off", Role.TEXT)
    corners = (origin, Point(k, 0), Point(0, k), origin)
    assert region == Region(tuple(Line(a, b, Role.OUTLINE) for a, b in pairwise(corners)), 45.0)


def test_the_example_of_bodies_in_the_readme_is_sound(tmp_path: Path) -> None:
    """Its lines in place of the body and views of the definition before it."""
    collar, instead = re.findall(r"```yaml\n((?:family|bodies):.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    family = good(written(tmp_path, collar[: collar.index("body:")] + instead, "winch-collar"))
    part = smallest(family, None)
    assert ([body.name for body in part.bodies], len(part.drawn["section"])) == (["collar", "shaft"], 2)


def test_a_family_may_be_drawn_without_a_body(tmp_path: Path) -> None:
    """A symbol has no body, no density and no mass."""
    text = SAMPLE[: SAMPLE.index("body:")].replace("density: 7.85\n", "")
    family = good(written(tmp_path, text + "drawn: {end: [{circle: {centre: [0, 0], radius: d}}]}\nviews: [end]\n"))
    part = smallest(family)
    assert (part.bodies, part.mass, family.density) == ((), 0.0, 0.0)
    assert part.drawn == {"end": (Circle(Point(0, 0), 0.25, Role.OUTLINE),)}


def test_bodies_and_drawn_shapes_can_be_handed_to_another_process(ring: Family) -> None:
    assert pickle.loads(pickle.dumps(ring)) == ring


@pytest.mark.parametrize(
    ("old", "new", "where", "report"),
    [
        ("radius: k/8}", "radius: 4*k}", "{corner: [k, dk]", "race: corner of radius 0.5 is too large: "),
        ("[k, 2*dk], [0", "[k, dk], [0", "[k, dk], [0", "race: knot 3 is where knot 2 is; "),
        ("[0, dk], {", "[0, -dk], {", "[[0, -dk]", "race: knot 1 "),
        ("radius: k/8}", "radius: k/(l-1)}", "l-1)", "division by zero; "),
        ("diameter: d,", "diameter: d-0.25,", "d-0.25", "cylinder: diameter is 0; must be greater than 0"),
        ("to: [k, -k]", "to: [0, 0]", "[0, 0], role: narrow", "line: line ends where it starts; "),
        ("[k, d], radius: d/2", "[k, d], radius: d/4", "{arc: [k, d]", "polyline: arc of radius 0.0625 does not reach"),
        ("end: 90", "end: 270", "270", "arc: arc of a whole turn; expected a circle, or another end"),
        ("end: 90", "end: -90", "-90, role", "arc: starts and ends at -90 degrees; "),
        ("end: 90", "end: 280", "280", "arc: runs from -90 to 280 degrees; "),
        ("radius: d/2, role", "radius: d-2*k, role", "d-2*k", "circle: radius is 0; must be greater than 0"),
        ("ratio: 1/2", "ratio: 2", "2}\n    - text", "ellipse: ratio is 2; expected at most 1: "),
        ("major: [0, d]", "major: [0, 0]", "[0, 0], ratio", "ellipse: major axis has no length; "),
        ("height: 0.1", "height: -0.1", "-0.1", "text: height is -0.1; must be greater than 0"),
        ("height: 0.1", "height: 1/(l-1)", "l-1)", "division by zero; "),
        ("[0, k]]}", "[k, 0]]}", "[k, 0]]}", "region: knot 3 is where knot 2 is; "),
    ],
)
def test_what_cannot_be_made_is_reported_at_its_place(
    tmp_path: Path, old: str, new: str, where: str, report: str
) -> None:
    """At length 1, which is neither the shortest nor the longest, so that only the part shows it."""
    text = SAMPLE[: SAMPLE.index("body:")] + RING
    assert text.count(old) == 1
    text = text.replace(old, new)
    family = good(written(tmp_path, text))
    problems, faults = Problems(), Faults()
    assert make_part(family, family.rows[0], 1.0, faults) is None
    faults.report(problems)
    (problem,) = found(problems)
    (before, _) = text.split(where)
    line, column = before.count("\n") + 1, len(before) - before.rindex("\n")
    assert problem.startswith(f"{tmp_path}/sample.yaml:{line}:{column}: 1/4 x 1")
    assert problem.split(": 1/4 x 1", 1)[1].lstrip(",: ").startswith(report)


def test_bodies_that_do_not_fit_together_are_reported_one_by_one(tmp_path: Path) -> None:
    """Features of one body must touch; those of two need not."""
    one = "cylinder: {diameter: d, from: 0, to: k}"
    two = "cylinder: {name: far, diameter: d, from: 2*k, to: 3*k}"
    start = SAMPLE[: SAMPLE.index("body:")]
    apart = f"bodies: [{{name: a, features: [{one}]}}, {{name: b, features: [{two}]}}]\nviews: [side]\n"
    assert len(smallest(good(written(tmp_path, start + apart))).bodies) == 2
    family = good(written(tmp_path, f"{start}bodies: [{{name: a, features: [{one}, {two}]}}]\nviews: [side]\n"))
    assert make_part(family, family.rows[0], 1.0, Faults()) is None


def test_problems_of_all_files_are_found_together(tmp_path: Path) -> None:
    written(tmp_path, SAMPLE.replace("dk: 2*d", "dk: 2*dd"))
    written(tmp_path, SAMPLE.replace("family: sample", "family: other").replace("units: in", "units: ft"), "other")
    (tmp_path / "third.yaml").write_text("a: [")
    problems = Problems()
    read_definitions([tmp_path], problems)
    assert {text.split(":")[0].rsplit("/")[-1] for text in found(problems)} == {
        "sample.yaml",
        "other.yaml",
        "third.yaml",
    }


def read(*folders: Path) -> tuple[Family, ...]:
    problems = Problems()
    families = read_definitions(folders, problems)
    assert not problems, found(problems)
    return families


def wrong(*folders: Path) -> str:
    problems = Problems()
    read_definitions(folders, problems)
    (problem,) = found(problems)
    return problem


@pytest.fixture
def tool(tmp_path: Path) -> Path:
    return written(tmp_path / "tool", SAMPLE).parent


@pytest.fixture
def house(tmp_path: Path) -> Path:
    (tmp_path / "house").mkdir()
    return tmp_path / "house"


def test_a_later_folder_refines_a_family(tool: Path, house: Path) -> None:
    written(house, "family: sample\nrefines: sample\nattributes: {finish: zinc}\nviews: [end]\n")
    (family,) = read(tool, house)
    assert family.attributes == {"class": "5", "finish": "zinc"}
    assert [view.kind for view in family.views] == ["end"]
    assert len(family.rows) == 2


def test_a_refined_family_may_have_a_key_of_its_own(tool: Path, house: Path) -> None:
    written(house, "family: mine\nrefines: sample\ncode: MINE\n", "mine")
    assert [(family.key, family.code) for family in read(tool, house)] == [
        ("mine", "MINE"),
        ("sample", "SAMPLE"),
    ]


@pytest.mark.parametrize("views", ["", "views: [end]\n"])
def test_a_refinement_states_the_body_anew_in_either_way(tool: Path, house: Path, views: str) -> None:
    """What was one body becomes several, and one again; the table and all else stays."""
    written(house, f"family: sample\nrefines: sample\n{RING[: RING.index('views')].replace('-l', '0')}")
    (family,) = read(tool, house)
    assert [body.name for body in family.bodies] == ["ring", "pin"]
    body = "body: [cylinder: {diameter: d, from: 0, to: k}]\n"
    written(house, f"family: mine\nrefines: sample\ncode: MINE\n{body}{views}", "mine")
    mine, _ = read(tool, house)
    assert ([body.name for body in mine.bodies], len(mine.body)) == (["body"], 1)
    assert list(mine.drawn) == ([] if views else ["side"])


def test_drawn_shapes_are_refined_view_by_view(house: Path, tmp_path: Path) -> None:
    tool = written(tmp_path / "tool", SAMPLE[: SAMPLE.index("body:")] + RING).parent
    drawn = "drawn: {end: [{circle: {centre: [0, 0], radius: d}}]}\n"
    written(house, f"family: sample\nrefines: sample\n{drawn}")
    (family,) = read(tool, house)
    assert {view: len(shapes) for view, shapes in family.drawn.items()} == {"side": 7, "end": 1}


def test_refining_goes_on_from_folder_to_folder(tool: Path, house: Path, tmp_path: Path) -> None:
    written(house, "family: sample\nrefines: sample\ntitle: House pin\n")
    desk = written(tmp_path / "desk", "family: sample\nrefines: sample\ngroup: desk\n").parent
    (family,) = read(tool, house, desk)
    assert (family.title, family.group) == ("House pin", "desk")


def test_a_refinement_is_checked_at_its_own_place(tool: Path, house: Path) -> None:
    written(house, "family: sample\nrefines: sample\nformulas: {dk: 2*dd}\n")
    assert wrong(tool, house).startswith(f"{house}/sample.yaml:3:18: unknown symbol dd in a formula")


def test_a_family_may_be_replaced_whole(tool: Path, house: Path) -> None:
    text = SAMPLE.replace("family: sample", "family: other\nreplaces: sample").replace("Sample pin", "Other")
    written(house, text, "other")
    assert [family.title for family in read(tool, house)] == ["Other"]


def test_the_same_key_twice_names_both_files(tool: Path, house: Path) -> None:
    written(house, SAMPLE)
    problem = wrong(tool, house)
    assert problem.startswith(f"{house}/sample.yaml:1:9: sample is the family of {tool}/sample.yaml already; ")


def test_the_same_code_twice_is_refused(tool: Path, house: Path) -> None:
    written(house, "family: mine\nrefines: sample\n", "mine")
    assert "code SAMPLE is that of " in wrong(tool, house)


@pytest.mark.parametrize("key", ["refines", "replaces"])
def test_an_unknown_family_is_named_with_the_one_meant(tool: Path, house: Path, key: str) -> None:
    written(house, SAMPLE.replace("sample", "mine", 1).replace("SAMPLE", "MINE", 1) + f"{key}: sampel\n", "mine")
    problem = wrong(tool, house)
    assert f": {key} the unknown family sampel; " in problem
    assert problem.endswith("did you mean sample?")


def test_families_that_refine_each_other_are_refused(house: Path) -> None:
    for own, other in (("a", "b"), ("b", "c"), ("c", "a")):
        written(house, f"family: {own}\nrefines: {other}\n", own)
    problems = Problems()
    assert read_definitions([house], problems) == ()
    assert [text.rsplit("/", 1)[1].split(";")[0] for text in found(problems)] == [
        "a.yaml:2:10: a -> b -> c -> a refine each other",
        "b.yaml:2:10: b -> c -> a -> b refine each other",
        "c.yaml:2:10: c -> a -> b -> c refine each other",
    ]


def test_a_family_cannot_refine_itself_out_of_nothing(house: Path) -> None:
    written(house, "family: sample\nrefines: sample\n")
    assert ": refines the unknown family sample; " in wrong(house)


def test_folders_without_definitions(tmp_path: Path) -> None:
    assert "no definitions" in wrong(tmp_path)
    assert "is no file or folder" in wrong(tmp_path / "none")
    (tmp_path / "a.yml").write_text("")
    assert "ends in .yml" in wrong(tmp_path)


def test_the_shops_folder_is_not_read_as_definitions(tool: Path) -> None:
    written(tool / "shops", "shop: x\n", "x")
    assert [family.key for family in read(tool)] == ["sample"]


def test_the_definitions_that_come_with_the_tool_are_sound() -> None:
    families = read(BLOCKS)
    assert [family.key for family in families] == sorted(path.stem for path in BLOCKS.glob("*.yaml"))


def test_the_view_kinds_are_those_of_the_view_station() -> None:
    assert set(VIEW_KINDS) == set(view_kinds())


FAMILY, SHOP = family_schema(feature_kinds().values()), shop_schema()


@pytest.mark.parametrize(("name", "schema"), [("family", FAMILY), ("shop", SHOP)])
def test_the_schema_files_are_current_and_sound(name: str, schema: dict[str, Any]) -> None:
    """Written anew by python -m builder.definition.schema_text."""
    text = (SCHEMAS / f"{name}.schema.json").read_text(encoding="utf-8")
    assert json.loads(text) == schema
    Draft202012Validator.check_schema(schema)


def properties(schema: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    if isinstance(schema, dict):
        for key, value in schema.items():
            if key == "properties" and "then" not in path and "if" not in path:
                yield from ((f"{path}/{name}", entry) for name, entry in value.items())
            yield from properties(value, f"{path}/{key}")
    elif isinstance(schema, list):
        for value in schema:
            yield from properties(value, path)


@pytest.mark.parametrize("schema", [FAMILY, SHOP], ids=["family", "shop"])
def test_every_key_is_described(schema: dict[str, Any]) -> None:
    listed = list(properties(schema))
    assert len(listed) > 40
    assert [path for path, entry in listed if not entry.get("description")] == []


@pytest.mark.parametrize(("schema", "folder"), [(FAMILY, BLOCKS), (SHOP, BLOCKS / "shops")], ids=["family", "shop"])
def test_editors_accept_what_comes_with_the_tool(schema: dict[str, Any], folder: Path) -> None:
    """The published schema covers the rows as well, which our own check leaves to the table's reader."""
    paths = sorted(folder.glob("*.yaml"))
    assert paths
    for path in paths:
        root = read_source(path, Problems())
        assert root is not None
        errors = [
            f"{path.name}: {error.json_path}: {error.message}"
            for error in Draft202012Validator(schema).iter_errors(root.plain())
        ]
        assert errors == []


def places(node: Node, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    yield path
    for name, entry in node.entries.items():
        yield from places(entry, (*path, name))
    for index, member in enumerate(node.members):
        yield from places(member, (*path, index))


def with_value(node: Node, path: tuple[str | int, ...], value: Value) -> Node:
    if not path:
        return replace(node, value=value)
    step, rest = path[0], path[1:]
    if isinstance(step, str):
        return replace(node, value={**node.entries, step: with_value(node.entries[step], rest, value)})
    members = list(node.members)
    members[step] = with_value(members[step], rest, value)
    return replace(node, value=members)


@pytest.mark.parametrize("value", [None, "x", [], {}], ids=["nothing", "text", "list", "group"])
def test_whatever_stands_anywhere_is_read_or_reported(value: Value) -> None:
    root = parse_source(SAMPLE, "sample.yaml", Problems())
    assert root is not None
    for path in places(root):
        changed, problems = with_value(root, path, value), Problems()
        faulty = check(changed, FAMILY, problems)
        if "" not in faulty:
            draft = Draft(changed, faulty, problems)
            draft.check_figures()
            draft.check_drawing()
            draft.check_texts()
            assert problems or draft.family().title in ("Sample pin", value), path
        else:
            assert problems


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("17/64, ~", "17/64, '0.3'"),
        ("17/64, ~", "17/64, -1"),
        ("head,", "[head],"),
        ("units: in", "units: ft"),
    ],
)
def test_editors_refuse_what_we_refuse(tmp_path: Path, text: str, instead: str) -> None:
    root = read_source(written(tmp_path, SAMPLE.replace(text, instead)), Problems())
    assert root is not None
    assert not Draft202012Validator(FAMILY).is_valid(root.plain())
