"""Rules that the standards' figures follow, tried on every size: a slip of the pen that both entries share breaks one.

Sources: ISO 286-1 (IT grades), ISO 68-1 and 261 (threads), ISO 888 (thread lengths), ASME B1.1, B18.2.1, B18.2.2. The
rules that join e, dw, da and a to other columns are those that the tables were found to follow; none is printed.
"""

import math
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import pytest
import second_entry

from builder.definition.family import Family, Row
from builder.part.part import Faults, dimensions_of
from builder.words.units import Unit

# ISO 286-1, mm, for sizes over 0, 3, 6, 10, 18, 30, 50, 80 up to 120. IT13 to IT16 are 10 times IT8 to IT11, which
# were compared with an open table of ISO 286.
UP_TO = (3, 6, 10, 18, 30, 50, 80, 120)
IT = {
    13: (0.14, 0.18, 0.22, 0.27, 0.33, 0.39, 0.46, 0.54),
    14: (0.25, 0.30, 0.36, 0.43, 0.52, 0.62, 0.74, 0.87),
    15: (0.40, 0.48, 0.58, 0.70, 0.84, 1.00, 1.20, 1.40),
    16: (0.60, 0.75, 0.90, 1.10, 1.30, 1.60, 1.90, 2.20),
}
# ISO 261, coarse pitches; from memory, most of them read in tests/reference as well.
COARSE = {
    **{1.6: 0.35, 2.0: 0.4, 2.5: 0.45, 3.0: 0.5, 3.5: 0.6, 4.0: 0.7, 5.0: 0.8, 6.0: 1.0, 8.0: 1.25, 10.0: 1.5},
    **{12.0: 1.75, 14.0: 2.0, 16.0: 2.0, 18.0: 2.5, 20.0: 2.5, 22.0: 2.5, 24.0: 3.0, 27.0: 3.0, 30.0: 3.5},
    **{33.0: 3.5, 36.0: 4.0, 39.0: 4.0, 42.0: 4.5, 45.0: 4.5, 48.0: 5.0, 52.0: 5.0, 56.0: 5.5, 60.0: 5.5, 64.0: 6.0},
}
# ASME B1.1, UNC; from memory, most of them read in tests/reference as well.
UNC = {
    **{1 / 4: 20, 5 / 16: 18, 3 / 8: 16, 7 / 16: 14, 1 / 2: 13, 9 / 16: 12, 5 / 8: 11, 3 / 4: 10, 7 / 8: 9, 1.0: 8},
    **{1.125: 7, 1.25: 7, 1.375: 6, 1.5: 6, 1.75: 5, 2.0: 4.5, 2.25: 4.5, 2.5: 4, 2.75: 4, 3.0: 4},
}
# ANSI B18.22.1, plus and minus, as the published table has them.
WASHER_TOLERANCES = {
    *((0.0, 0.005), (0.008, 0.005), (0.015, 0.005), (0.015, 0.007), (0.030, 0.007), (0.045, 0.010), (0.065, 0.010)),
}
METRIC_HEADS = ("iso-4014", "iso-4017", "iso-4032")
INCH_HEADS = (second_entry.BOLT, second_entry.CAP, second_entry.INCH_NUTS)
GROWING = ("d", "D", "P", "s", "s_min", "e_min", "k", "m", "dw_min", "da_max", "r", "l_from", "l_to", "d1", "d2", "h")
GROWING_INCH = ("E_max", "E_min", "F", "F_max", "F_min", "G_max", "G_min", "H", "H_max", "H_min", "R_max", "R_min")


def it(grade: int, size: float) -> float:
    return IT[grade][bisect_left(UP_TO, size)]


@pytest.fixture(scope="module")
def by_key(families: tuple[Family, ...]) -> dict[str, Family]:
    return {family.key: family for family in families}


def rows(by_key: Mapping[str, Family], keys: Sequence[str]) -> Iterator[tuple[str, Row, Mapping[str, float]]]:
    for key in keys:
        for row in by_key[key].rows:
            yield f"{key} {row.size}", row, row.values


def test_corners_of_metric_hexagons(by_key: dict[str, Family]) -> None:
    """e_min = 1.13 s_min, rounded to hundredths."""
    for label, _, v in rows(by_key, METRIC_HEADS):
        assert v["e_min"] == pytest.approx(1.13 * v["s_min"], abs=0.0056), label


def test_corners_of_inch_hexagons(by_key: dict[str, Family]) -> None:
    """G_max = 1.1547 F, sharp; G_min = 1.14 F_min, save the nut of 7/16 (0.768 for 0.7695, as all pages print it)."""
    for label, row, v in rows(by_key, INCH_HEADS):
        assert v["G_max"] == pytest.approx(2 / math.sqrt(3) * v["F"], abs=0.0011), label
        odd = label.startswith(second_entry.INCH_NUTS) and row.size == "7/16-14"
        assert v["G_min"] == pytest.approx(1.14 * v["F_min"], abs=0.0016 if odd else 0.0011), label


def test_tolerances_of_metric_hexagons(by_key: dict[str, Family]) -> None:
    """Width across flats h13 to h16; head height js14 up to M24, js15 above; nut height h14, from M14 h15, M20 h16."""
    for label, _, v in rows(by_key, METRIC_HEADS):
        grades = (13, 14, 15, 16)
        fits = [g for g in grades if v["s"] - v["s_min"] == pytest.approx(it(g, v["s"]))]
        assert len(fits) == 1, label
        bolt = "k" in v
        grade_a = v["d"] <= (24 if bolt else 16)
        assert fits[0] == ((13 if v["s"] <= 30 else 14) if grade_a else (15 if v["s"] <= 60 else 16)), label
        if bolt:
            half = it(14 if grade_a else 15, v["k"]) / 2
            assert (v["k_min"], v["k_max"]) == pytest.approx((v["k"] - half, v["k"] + half)), label
        else:
            grade = 14 if v["d"] <= 12 else 15 if v["d"] <= 18 else 16
            assert v["m"] - v["m_min"] == pytest.approx(it(grade, v["m"])), label


def test_washer_faces(by_key: dict[str, Family]) -> None:
    """dw_min = s_min less IT16 up to s = 20, 0.95 s_min above; nuts to tenths, M1.6 and M3.5 printed otherwise."""
    for label, row, v in rows(by_key, METRIC_HEADS):
        rule = v["s_min"] - it(16, v["s"]) if v["s"] < 21 else 0.95 * v["s_min"]
        nut = "m" in v
        slack = 0.14 if nut and row.size in ("M1.6", "M3.5") else 0.056 if nut else 0.0051
        assert v["dw_min"] == pytest.approx(rule, abs=slack), label


def test_metric_washers(by_key: dict[str, Family]) -> None:
    """Hole H13 up to 30, H14 above (31 is H13 still); outside h14 up to 30 mm threads, h15 above."""
    for label, _, v in rows(by_key, ("iso-7089",)):
        assert v["d1_max"] - v["d1"] == pytest.approx(it(13 if v["d"] <= 30 else 14, v["d1"])), label
        assert v["d2"] - v["d2_min"] == pytest.approx(it(14 if v["d"] <= 30 else 15, v["d2"])), label
        assert v["h_max"] - v["h"] == pytest.approx(v["h"] - v["h_min"]), label


def test_nut_faces_and_wrenching(by_key: dict[str, Family]) -> None:
    """mw_min = 0.8 m_min and, from M10 on, da_max = 1.08 d, in tenths; da_min = d; c comes in seven pairs, growing."""
    pairs = []
    for label, _, v in rows(by_key, ("iso-4032",)):
        assert v["mw_min"] == pytest.approx(0.8 * v["m_min"], abs=0.0501), label
        assert v["da_min"] == v["d"], label
        if v["d"] >= 10:
            assert v["da_max"] == pytest.approx(1.08 * v["d"], abs=0.0601), label
        pairs.append((v["c_min"], v["c_max"]))
    assert pairs == sorted(pairs)
    assert set(pairs) == {(0.1, 0.2), (0.1, 0.3), (0.15, 0.4), (0.15, 0.5), (0.15, 0.6), (0.2, 0.8), (0.3, 1.0)}


def test_washer_faces_of_bolts(by_key: dict[str, Family]) -> None:
    """The heads of ISO 4014 and 4017 are the same, size by size; c comes in six pairs, growing."""
    bolts, screws = by_key["iso-4014"].rows, by_key["iso-4017"].rows
    for bolt, screw in zip(bolts, screws, strict=True):
        shared = bolt.values.keys() & screw.values.keys() - {"l_from", "l_to"}
        assert len(shared) == 13
        assert all(bolt.values[name] == screw.values[name] for name in shared), bolt.size
    pairs = [(row.values["c_min"], row.values["c_max"]) for row in bolts]
    assert pairs == sorted(pairs)
    assert set(pairs) == {(0.1, 0.25), (0.15, 0.4), (0.15, 0.5), (0.15, 0.6), (0.2, 0.8), (0.3, 1.0)}


def test_limits_of_inch_washers(by_key: dict[str, Family]) -> None:
    """Tolerances come from a short list, and washers of the same sheet have the same limits of thickness."""
    sheets: dict[float, tuple[float, float]] = {}
    for label, _, v in rows(by_key, ("asme-b18-22-1-plain-washer-a",)):
        for name in ("A", "B"):
            plus, minus = round(v[f"{name}_max"] - v[name], 3), round(v[name] - v[f"{name}_min"], 3)
            assert (plus, minus) in WASHER_TOLERANCES, (label, name)
        limits = (v["C_min"], v["C_max"])
        assert sheets.setdefault(v["C"], limits) == limits, label
    assert len(sheets) == 15


def test_nominal_lies_between_its_limits(families: Sequence[Family]) -> None:
    for family in families:
        for row in family.rows:
            v = row.values
            for name in v:
                low, high = v.get(f"{name}_min", -math.inf), v.get(f"{name}_max", math.inf)
                assert low - 6e-4 <= v[name] <= high + 6e-4, (family.key, row.size, name)


def test_basic_height_is_the_middle_of_its_limits(by_key: dict[str, Family]) -> None:
    """True of cap screws and nuts; hex bolts have unequal limits."""
    for label, _, v in rows(by_key, (second_entry.CAP, second_entry.INCH_NUTS)):
        assert v["H"] == pytest.approx((v["H_max"] + v["H_min"]) / 2, abs=0.0011), label


def test_columns_grow_with_the_size(families: Sequence[Family]) -> None:
    for family in families:
        if family.units is Unit.INCH and "A" in family.symbols:
            continue
        for one, two in pairwise(family.rows):
            for name in (*GROWING, *GROWING_INCH):
                if name in one.values:
                    assert one.values[name] <= two.values[name], (family.key, two.size, name)
            assert one.values.get("d", one.values.get("D", 0)) < two.values.get("d", two.values.get("D", 0))


def test_inch_washers_grow_within_their_series(by_key: dict[str, Family]) -> None:
    family = by_key["asme-b18-22-1-plain-washer-a"]
    for mark in ("No.", " N", " W"):
        series = [row for row in family.rows if mark in row.size]
        assert len(series) > 5
        for one, two in pairwise(series):
            for name in family.symbols:
                assert one.values[name] <= two.values[name], (two.size, name)


def test_pitches(by_key: dict[str, Family]) -> None:
    for label, _, v in rows(by_key, METRIC_HEADS):
        assert v["P"] == COARSE[v["d"]], label
    for label, _, v in rows(by_key, INCH_HEADS):
        assert v["tpi"] == UNC[v["D"]], label


def test_size_label_says_the_diameter(families: Sequence[Family]) -> None:
    for family in families:
        for row in family.rows:
            v = row.values
            label = row.size.split(" ")[0].removeprefix("M")
            if row.size.startswith("No."):
                assert v["D"] == pytest.approx(0.060 + 0.013 * int(row.size[4:]), abs=6e-4)
            elif "tpi" in v:
                size, _, threads = label.rpartition("-")
                assert (inches(size), float(threads)) == (v["D"], v["tpi"])
            else:
                assert inches(label) == pytest.approx(v.get("d", v.get("D", 0.0)), abs=6e-4)


def inches(text: str) -> float:
    """Read 1-1/8 and 1.6."""
    total = 0.0
    for part in text.split("-"):
        over, _, under = part.partition("/")
        total += float(over) / float(under or 1)
    return total


def test_proportions(families: Sequence[Family]) -> None:
    """Millimetres and inches, diameters and radii, columns that changed places: each is far outside these bounds."""
    bounds = {"s": (1.45, 2.01), "F": (1.42, 1.76), "k": (0.6, 0.7), "H": (0.6, 0.9), "m": (0.78, 0.95)}
    washer = {"d1": (1.02, 1.12), "d2": (1.75, 2.51), "h": (0.1, 0.27), "A": (1.02, 1.34), "B": (1.8, 3.14)}
    for family in families:
        metric = family.units is Unit.MM
        for row in family.rows:
            d = row.values["d" if metric else "D"]
            assert 1.6 <= d <= 64 if metric else 0.06 <= d <= 3.0
            for name, (low, high) in (bounds | washer).items():
                if name in row.values:
                    assert low <= row.values[name] / d <= high, (family.key, row.size, name)


def test_thread_lengths_of_bolts(by_key: dict[str, Family]) -> None:
    """ISO 888: 2d + 6 up to 125, 2d + 12 up to 200, 2d + 25 above; M1.6 is printed without its 0.2."""
    for row, length, v in parts(by_key["iso-4014"]):
        rule = 2 * row.values["d"] + (6 if length <= 125 else 12 if length <= 200 else 25)
        printed = math.floor(rule) if row.size == "M1.6" else rule
        assert v["b"] == pytest.approx(printed), (row.size, length)


@pytest.mark.parametrize("key", [second_entry.BOLT, second_entry.CAP])
def test_thread_lengths_of_inch_screws(by_key: dict[str, Family], key: str) -> None:
    """ASME B18.2.1: 2D + 1/4 up to 6 in, 2D + 1/2 above; full thread within 2.5 pitches of the head, over 1 in 3.5."""
    for row, length, v in parts(by_key[key]):
        d, pitch = row.values["D"], 1 / row.values["tpi"]
        thread = 2 * d + (0.25 if length <= 6 else 0.5)
        start = max(length - thread, (2.5 if d <= 1 else 3.5) * pitch)
        assert (v["LT"], v["Lb"]) == pytest.approx((thread, start)), (row.size, length)


def test_screws_threaded_to_the_head(by_key: dict[str, Family]) -> None:
    """ISO 4017: a_min = P, a_max = 3 P, printed 4 for M8 and 5.3 for M12; ISO 3508, normal series, where it lists P."""
    runouts = {
        float(r.cells["P"]): float(r.cells["a_max_normal"]) for r in second_entry.published("iso_3508_thread_runouts")
    }
    met = 0
    for label, row, v in rows(by_key, ("iso-4017",)):
        assert v["a_min"] == v["P"], label
        assert v["a_max"] == pytest.approx({"M8": 4.0, "M12": 5.3}.get(row.size, 3 * v["P"])), label
        if v["P"] in runouts:
            met += 1
            assert v["a_max"] == runouts[v["P"]], label
    assert met == 14


def test_lengths_are_listed_ones(families: Sequence[Family]) -> None:
    """First and last length of a size stand in its family's list; metric ones in ISO 888 (recalled)."""
    preferred = {
        float(r.cells["l"]) for r in second_entry.published("iso_888_lengths") if r.cells["preferred"] == "yes"
    }
    for family in families:
        if family.lengths is None:
            continue
        listed = family.lengths.listed
        assert list(listed) == sorted(set(listed))
        assert family.units is Unit.INCH or preferred.issuperset(listed)
        for row in family.rows:
            assert {row.values[family.lengths.first], row.values[family.lengths.last]} <= set(listed)


def parts(family: Family) -> Iterator[tuple[Row, float, Mapping[str, float]]]:
    """Return every size in every length with its dimensions."""
    assert family.lengths is not None
    for row in family.rows:
        for length in family.lengths.of(row):
            dimensions = dimensions_of(family, row, length, Faults())
            assert dimensions is not None
            yield row, length, dimensions
