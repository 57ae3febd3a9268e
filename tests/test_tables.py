"""The reference tables are whole: every figure has a unit, a source and a confidence, and prints agree."""

from __future__ import annotations

from math import pi

import pytest

from torquewright.book.tables import CONFIDENCES, table, table_names


@pytest.mark.parametrize("name", table_names())
def test_every_row_is_sourced_and_means_something(name: str) -> None:
    held = table(name)
    assert held.title
    assert held.rows, "a table without rows tells nobody anything"
    assert all(column.says for column in held.columns)
    names = [column.name for column in held.columns]
    assert len(set(names)) == len(names)
    for row in held:
        assert row.source.document
        assert row.confidence in CONFIDENCES
        assert ";" not in row.cite(), "a sheet lists sources one by one, split at semicolons"
        assert any(row.get(column) is not None for column in names[1:])


@pytest.mark.parametrize("name", table_names())
def test_figures_are_positive_and_finite_and_in_one_kind_of_column(name: str) -> None:
    held = table(name)
    for column in held.columns:
        kinds = {isinstance(row[column.name], str) for row in held if row.get(column.name) is not None}
        assert len(kinds) <= 1, f"{column.name} mixes words and figures"
        if kinds == {False}:
            assert all(0 <= row.number(column.name) < 1e7 for row in held if row.get(column.name) is not None)
        else:
            assert column.unit == "" or not kinds, f"{column.name} has a unit but holds words"


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("materials", "low", "high"),
        ("friction-classes", "low", "high"),
        ("conditions", "low", "high"),
        ("conditions", "nominal", "high"),
        ("conditions", "low", "nominal"),
        ("shear-ratios", "low", "high"),
        ("tightening-factors", "low", "high"),
        ("nut-factors", "low", "high"),
        ("prevailing-nuts", "fifth_off", "first_off"),
        ("prevailing-nuts", "first_off", "first_on"),
        ("bolt-classes", "proof", "yield"),
        ("bolt-classes", "yield", "tensile"),
        ("inch-grades", "proof", "yield"),
        ("inch-grades", "yield", "tensile"),
        ("stainless-classes", "yield", "tensile"),
        ("plug-torques", "into_aluminium", "into_iron"),
        ("washers", "hole", "outer"),
        ("clearance-holes", "fine", "medium"),
        ("clearance-holes", "medium", "coarse"),
        ("metric-threads", "root", "minor"),
        ("metric-threads", "minor", "flank"),
        ("inch-torques", "low", "high"),
    ],
)
def test_the_lower_figure_is_not_above_the_higher(name: str, low: str, high: str) -> None:
    for row in table(name):
        if row.get(low) is not None and row.get(high) is not None:
            assert row.number(low) <= row.number(high), repr(row)


def test_printed_proof_loads_are_stress_area_times_proof_stress() -> None:
    """ISO 898-1:2013 Tables 3, 5 and 7: 1.2 % for cells rounded to three figures."""
    stress = {(row.word("class"), row.get("over")): row.number("proof") for row in table("bolt-classes")}
    areas = {row.word("thread"): row.number("stress_area") for row in table("metric-threads")}
    compared = 0
    for row in table("bolt-loads"):
        thread = row.word("thread")
        diameter = float(thread[1:].split("x")[0])
        for name in ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"):
            load = row.get(f"class_{name.replace('.', '_')}")
            if load is None:
                continue
            proof = stress.get((name, 16 if diameter > 16 else 0)) or stress[(name, 0)]
            assert float(load) == pytest.approx(proof * areas[thread], rel=0.012)
            compared += 1
    assert compared > 250


def test_printed_nut_loads_follow_the_stress_steps_of_the_standard() -> None:
    """ISO 898-2: proof stress of class 8 lies between 855 and 920 MPa, class 10 1040-1060, class 12 1150-1200."""
    areas = {row.word("thread"): row.number("stress_area") for row in table("metric-threads")}
    for row in table("nut-loads"):
        area = areas[row.word("thread")]
        for column, low, high in (("class_8", 855, 920), ("class_10", 1040, 1060), ("class_12", 1148, 1200)):
            assert low * 0.998 <= row.number(column) / area <= high * 1.002


def test_rings_and_washers_go_over_their_thread() -> None:
    for name in ("washers", "clearance-holes"):
        column = "hole" if name == "washers" else "fine"
        assert all(row.number(column) > float(row.word("thread")[1:]) for row in table(name))
    assert all(row.number("inner") < row.number("outer") for row in table("sealing-rings"))


def test_names_of_materials_lead_to_rows_that_exist() -> None:
    wanted = {
        "strength": {row.word("material") for row in table("materials")},
        "bearing": {row.word("material") for row in table("bearing-limits")},
        "engagement": {row.word("material") for row in table("engagement-rules")},
        "galvanic": {row.word("metal") for row in table("galvanic-index")},
    }
    for row in table("material-names"):
        for column, names in wanted.items():
            assert row.get(column) is None or row.word(column) in names


def test_nothing_from_memory_counts_as_firm() -> None:
    memory = [row for name in table_names() for row in table(name) if row.confidence == "memory"]
    assert memory
    assert not any(row.firm for row in memory)
    assert all("memory" in row.cite() for row in memory)


def test_where_sources_disagree_the_cautious_row_is_taken() -> None:
    """FAA AC 43.13-1B Table 7-2 says 8 lbf·in for 7/16-20, the Army manuals 14: the higher drag is demanded."""
    row = table("prevailing-reuse").cautious("least", max, thread="7/16-20")
    assert row is not None
    assert row.number("least") == 14
    # VDI 2230-1: structural steel 490 MPa in 2003, 260 MPa in 1986
    both = [r for r in table("bearing-limits") if r.word("material") in {"S235 (USt 37-2)", "St 37"}]
    assert {r.number("limit") for r in both} == {490, 260}


def test_firm_rows_come_before_rows_from_memory() -> None:
    held = table("tightening-factors")
    assert held.rows[0].confidence == "memory"
    best = held.cautious("low", min)
    assert best is not None
    assert best.firm
    assert best.number("low") == 1.2


def test_a_table_nobody_has_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        table("no-such-table")


def test_stress_area_column_is_the_area_of_the_mean_of_flank_and_root() -> None:
    """ISO 898-1:2013 clause 9.1.6.1: A = pi/4 ((d2 + d3)/2)², printed to three figures."""
    for row in table("metric-threads"):
        area = pi / 4 * ((row.number("flank") + row.number("root")) / 2) ** 2
        assert row.number("stress_area") == pytest.approx(area, rel=0.005)
