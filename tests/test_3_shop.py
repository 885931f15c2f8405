"""Shop standards: the two that come with the tool, a shop's own on top of them, and what is refused."""

from pathlib import Path

import pytest

from builder.definition.reader import read_definitions
from builder.definition.shop import Shop
from builder.definition.shop_reader import read_shop
from builder.definition.shop_schema import LINEWEIGHTS, THREAD_STYLES
from builder.definition.stock import check_stock
from builder.view.catalogue import thread_styles
from builder.words.problems import Problems
from builder.words.roles import Role
from builder.words.units import Unit

HERE = Path(__file__).parent
BAD = sorted((HERE / "definitions" / "bad-shops").glob("*.yaml"))
BLOCKS = HERE.parent / "blocks"
SHOPS = BLOCKS / "shops"


def shop(name: str | Path) -> Shop:
    problems = Problems()
    read = read_shop(name, SHOPS, problems)
    assert read is not None, list(map(str, problems))
    return read


def own(folder: Path, text: str, name: str = "own") -> Shop:
    path = folder / f"{name}.yaml"
    path.write_text(f"shop: {name}\n{text}")
    return shop(path)


def test_iso_widths_and_patterns() -> None:
    """ISO 128 line group 0.5: wide 0.5, narrow 0.25; ISO 128-2: 12d 3d and 24d 3d 0.5d 3d, from memory."""
    iso = shop("iso")
    assert iso.roles[Role.OUTLINE].lineweight == 0.5
    assert {iso.roles[role].lineweight for role in Role if role is not Role.OUTLINE} == {0.25}
    assert iso.linetypes[iso.roles[Role.HIDDEN].linetype].pattern == (12 * 0.25, -3 * 0.25)
    assert iso.linetypes[iso.roles[Role.AXIS].linetype].pattern == (6.0, -0.75, 0.125, -0.75)
    assert (iso.axis_overhang, iso.text.height, iso.thread_style) == (3.0, 3.5, "iso")
    assert iso.linetypes[iso.roles[Role.NARROW].linetype].pattern == ()


def test_asme_widths_and_lengths_in_mm() -> None:
    """ASME Y14.2: thick 0.6 mm, thin 0.3 mm, letters 0.12 in. Dash lengths: common practice, no source."""
    asme = shop("asme")
    assert asme.roles[Role.OUTLINE].lineweight == 0.6
    assert {asme.roles[role].lineweight for role in Role if role is not Role.OUTLINE} == {0.3}
    assert asme.linetypes[asme.roles[Role.HIDDEN].linetype].pattern == pytest.approx((3.175, -0.79375))
    assert asme.text.height == pytest.approx(3.048)
    assert asme.axis_overhang == pytest.approx(3.175)
    assert asme.thread_style == "simplified"
    assert asme.linetypes[asme.roles[Role.NARROW].linetype].pattern == ()


@pytest.mark.parametrize("name", ["iso", "asme"])
def test_every_line_type_named_is_defined(name: str) -> None:
    standard = shop(name)
    assert set(standard.roles) == set(Role)
    assert len({style.layer for style in standard.roles.values()}) == len(Role)
    assert standard.hidden_lines
    assert {style.linetype for style in standard.roles.values()} <= set(standard.linetypes)
    assert standard.linetypes["CONTINUOUS"].pattern == ()
    assert standard.units is None
    assert standard.stock == ()


# The line weights that the DXF reference lists for group code 370, in hundredths of a mm.
LEGAL = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)


def test_only_legal_line_weights_are_known() -> None:
    assert [round(width * 100) for width in LINEWEIGHTS] == list(LEGAL)


def test_a_shop_states_only_what_differs(tmp_path: Path) -> None:
    mine = own(tmp_path, "based_on: iso\nroles: {outline: {colour: 3}}\nunits: in\nplot_scale: 1:2\nlayers: zero\n")
    iso = shop("iso")
    assert (mine.key, mine.title) == ("own", iso.title)
    assert mine.roles[Role.OUTLINE].colour == 3
    assert mine.roles[Role.OUTLINE].layer == iso.roles[Role.OUTLINE].layer
    assert mine.roles[Role.AXIS] == iso.roles[Role.AXIS]
    assert (mine.units, mine.plot_scale, mine.layer_zero) == (Unit.INCH, 0.5, True)


@pytest.mark.parametrize(("text", "drawn"), [("", True), ("drawn", True), ("left out", False)])
def test_a_shop_may_leave_hidden_lines_out(tmp_path: Path, text: str, drawn: bool) -> None:
    mine = own(tmp_path, f"based_on: iso\n{f'hidden_lines: {text}' if text else ''}\n")
    assert mine.hidden_lines is drawn
    house = own(tmp_path, "based_on: own.yaml\ndxf: R12\n", "house")
    assert house.hidden_lines is drawn


def test_a_file_from_before_a_role_is_told_what_it_lacks(tmp_path: Path) -> None:
    """Based on no other, it must state every role; based on a shipped one, it has the new role from there."""
    text = (SHOPS / "iso.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.lstrip().startswith(("narrow:", "hidden_lines:"))]
    old = tmp_path / "old.yaml"
    old.write_text("\n".join(lines) + "\n", encoding="utf-8")
    problems = Problems()
    assert read_shop(old, SHOPS, problems) is None
    assert [str(problem).split(": ", 1)[1] for problem in problems] == [
        "hidden_lines is missing; expected hidden_lines: whether hidden lines are drawn, in the whole library",
        "narrow is missing; expected narrow: narrow continuous lines: diagonals of flats, break lines",
    ]
    old.write_text("\n".join([*lines, "based_on: iso"]) + "\n", encoding="utf-8")
    assert shop(old).roles[Role.NARROW] == shop("iso").roles[Role.NARROW]


@pytest.mark.parametrize(
    ("text", "overhang"),
    [
        ("based_on: iso\naxis_overhang: 5\n", 5.0),
        ("based_on: asme\naxis_overhang: 1/4\n", 6.35),
        ("based_on: asme\npaper: mm\naxis_overhang: 2\n", 2.0),
        ("based_on: iso\npaper: in\naxis_overhang: 1-1/2\n", 38.1),
    ],
)
def test_lengths_are_in_the_unit_of_the_file_or_else_of_its_base(tmp_path: Path, text: str, overhang: float) -> None:
    mine = own(tmp_path, text)
    assert mine.axis_overhang == pytest.approx(overhang)
    assert mine.text == shop(text.split()[1]).text


@pytest.mark.parametrize(
    ("text", "scale"),
    [("1", 1.0), ("0.5", 0.5), ("1/2", 0.5), ("1:2", 0.5), ("2:1", 2.0), ("1:2.5", None), ("1:0", None)],
)
def test_plot_scales(tmp_path: Path, text: str, scale: float | None) -> None:
    path = tmp_path / "own.yaml"
    path.write_text(f"shop: own\nbased_on: iso\nplot_scale: {text}\n")
    read = read_shop(path, SHOPS, Problems())
    assert (read.plot_scale if read else None) == scale


def test_a_base_may_lie_beside_the_file_and_have_a_base_itself(tmp_path: Path) -> None:
    own(tmp_path, "based_on: asme\ndxf: R12\n", "house")
    desk = own(tmp_path, "based_on: house.yaml\ntitle: Desk\n", "desk")
    assert (desk.title, desk.dxf, desk.thread_style) == ("Desk", "R12", "simplified")


def test_files_based_on_each_other_are_refused(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("shop: a\nbased_on: b.yaml\n")
    (tmp_path / "b.yaml").write_text("shop: b\nbased_on: a.yaml\n")
    problems = Problems()
    assert read_shop(tmp_path / "a.yaml", SHOPS, problems) is None
    assert [str(problem).split(";")[0] for problem in problems] == [
        f"{tmp_path}/b.yaml:2:11: shop standard a.yaml is based on itself"
    ]


def test_attributes_and_what_shows(tmp_path: Path) -> None:
    mine = own(
        tmp_path,
        "based_on: iso\nattributes: {visible: [ITEM], finish: zinc, families: {iso-4014: {class: '10.9'}}}\n",
    )
    assert mine.visible == {"ITEM"}
    assert mine.defaults == {"finish": "zinc"}
    assert mine.family_defaults == {"iso-4014": {"class": "10.9"}}


def test_stock_lines(tmp_path: Path) -> None:
    line = "{family: iso-4014, sizes: [M6, M8], lengths: [20..60, 80, 1/2..1-1/2]}"
    mine = own(tmp_path, f"based_on: iso\nstock: [{line}, {{family: x}}]\n")
    first, second = mine.stock
    assert (first.family, first.sizes) == ("iso-4014", ("M6", "M8"))
    assert first.lengths == ((20.0, 60.0), (80.0, 80.0), (0.5, 1.5))
    assert (second.sizes, second.lengths) == ((), ())


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (
            "family: iso-4041",
            "stock of the unknown family iso-4041; expected the key of a definition, did you mean iso-4014?",
        ),
        ("family: iso-4014, sizes: [M11]", "stock of the unknown size M11"),
        ("family: iso-4014, sizes: [M6], lengths: [30..60, 7]", "stock of iso-4014 in length 7; "),
        ("family: iso-4014, sizes: [M6], lengths: [41..44]", "stock of iso-4014 in length 41 to 44; "),
    ],
)
def test_stock_is_checked_against_the_definitions(tmp_path: Path, line: str, says: str) -> None:
    (family,) = read_definitions((BLOCKS / "iso-4014.yaml",), Problems())
    problems = Problems()
    check_stock(own(tmp_path, f"based_on: iso\nstock: [{{{line}}}]\n"), [family], problems)
    (problem,) = problems
    assert says in str(problem)


def test_attributes_for_an_unknown_family_are_found(tmp_path: Path) -> None:
    mine = own(tmp_path, "based_on: iso\nattributes: {families: {iso-1: {class: a}}}\n")
    problems = Problems()
    check_stock(mine, [], problems)
    assert [str(problem).split(";")[0] for problem in problems] == [
        "shop standard own: attributes for the unknown family iso-1"
    ]


@pytest.mark.parametrize("path", BAD, ids=[path.stem for path in BAD])
def test_bad_shop_standards_are_reported(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(path.parent)
    problems = Problems()
    assert read_shop(Path(path.name), SHOPS, problems) is None
    assert [str(problem) for problem in sorted(set(problems))] == path.with_suffix(".txt").read_text(
        encoding="utf-8"
    ).splitlines()


def test_an_unknown_name_is_reported_with_the_one_meant() -> None:
    problems = Problems()
    assert read_shop("asmee", SHOPS, problems) is None
    assert [str(problem)[-18:] for problem in problems] == ["did you mean asme?"]


def test_the_schema_knows_every_thread_style() -> None:
    """The definition station may not import the styles, so its list of them is held equal here."""
    assert sorted(THREAD_STYLES) == sorted(thread_styles())
