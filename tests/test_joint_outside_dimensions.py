"""Dimension tables against an independent CAD package, and the package against the figures carried over from it.

Set TORQUEWRIGHT_OUTSIDE to a folder with the fetched packages (tools/derive_dimension_checks.py says which) to prove
that the fixtures are the packages' own; without it those checks skip.
"""

from __future__ import annotations

import csv
import os
import sys
from pathlib import Path

import pytest

from torquewright.book.tables import table

ROOT = Path(__file__).resolve().parent.parent
FIXTURE = ROOT / "tests" / "published" / "outside_dimensions.csv"


def outside(standard: str, quantity: str) -> dict[str, float]:
    lines = FIXTURE.read_text(encoding="utf-8").splitlines()
    return {
        row["size"]: float(row["value"])
        for row in csv.DictReader(line for line in lines if not line.startswith("#"))
        if row["standard"] == standard and row["quantity"] == quantity
    }


@pytest.mark.parametrize(
    ("name", "column", "standard", "quantity", "least", "slack"),
    [
        ("hex-heads", "across_flats", "ISO 4014", "across flats", 18, 0.0),
        ("hex-heads", "across_flats", "ISO 4017", "across flats", 18, 0.0),
        # the package gives lower limits for the smallest sizes of the older standard
        ("hex-heads", "across_flats_din", "DIN 931", "across flats", 15, 0.2),
        ("hex-nuts", "across_flats", "ISO 4032", "across flats", 15, 0.0),
        ("hex-nuts", "height", "ISO 4032", "height", 15, 0.0),
        ("washers", "hole", "ISO 7089", "hole", 15, 0.0),
        ("washers", "outer", "ISO 7089", "outer", 15, 0.0),
        ("clearance-holes", "fine", "ISO 273", "fine", 20, 0.0),
        ("socket-screws", "cap_key", "ISO 4762", "key", 14, 0.0),
        ("flange-heads", "small_across_flats", "EN 1662", "across flats", 6, 0.0),
        ("flange-heads", "small_flange", "EN 1662", "flange", 6, 0.0),
        ("flange-heads", "heavy_across_flats", "EN 1665", "across flats", 6, 0.0),
        ("flange-heads", "heavy_flange", "EN 1665", "flange", 6, 0.0),
    ],
)
def test_a_table_agrees_with_an_independent_one(
    name: str, column: str, standard: str, quantity: str, least: int, slack: float
) -> None:
    """bd-warehouse 0.4.0."""
    theirs = outside(standard, quantity)
    compared = 0
    for row in table(name):
        size = row.word("thread")
        if size in theirs and row.get(column) is not None:
            assert row.number(column) == pytest.approx(theirs[size], abs=slack + 1e-9), size
            compared += 1
    assert compared >= least


def test_hexalobular_drives_agree_over_the_points() -> None:
    """bd-warehouse 0.4.0: A within 0.02 mm in every row, B in one of the two prints the table keeps."""
    points, flutes = outside("ISO 10664", "across points"), outside("ISO 10664", "across flutes")
    for row in table("hexalobular-drives"):
        assert row.number("across_points") == pytest.approx(points[row.word("drive")], abs=0.02)
    for drive, value in flutes.items():
        ours = [row.number("across_flutes") for row in table("hexalobular-drives").where(drive=drive)]
        assert any(one == pytest.approx(value, abs=0.01) for one in ours), drive


@pytest.mark.parametrize("name", ["outside_dimensions.csv", "outside_threads.csv"])
def test_the_fixture_is_what_the_package_says(name: str, tmp_path: Path) -> None:
    folder = os.environ.get("TORQUEWRIGHT_OUTSIDE")
    if not folder:
        pytest.skip("TORQUEWRIGHT_OUTSIDE names no folder with bd-warehouse and freecad-common")
    sys.path.insert(0, str(ROOT / "tools"))
    try:
        import derive_dimension_checks as derive
    finally:
        sys.path.pop(0)
    if name == "outside_dimensions.csv":
        wheel = derive.find_wheel(Path(folder))
        if wheel is None:
            pytest.skip("the wheel of bd-warehouse 0.4.0 is not there: pip download --no-deps bd-warehouse==0.4.0")
        text = derive.fixture(derive.WHEEL_HEAD, derive.wheel_rows(wheel))
    else:
        threads = derive.find_threads(Path(folder), tmp_path)
        if threads is None:
            pytest.skip("freecad-common 0.20.2 is not there: apt-get download freecad-common")
        text = derive.fixture(derive.DEBIAN_HEAD, derive.debian_rows(threads))
    assert (FIXTURE.parent / name).read_text(encoding="utf-8") == text
