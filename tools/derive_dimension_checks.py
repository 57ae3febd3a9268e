"""Derives the outside dimension checks in tests/published from two open CAD packages.

    python tools/derive_dimension_checks.py FOLDER [--check]

FOLDER holds what the package managers fetched, nothing installed:

    pip download --no-deps bd-warehouse==0.4.0       a wheel with CSV tables of heads, nuts, washers, holes, drives
    apt-get download freecad-common                  a Debian package with CSV tables of thread limits

(``freecad-common`` may also be unpacked already.) Only figures that a test compares
are carried over, each with its package and version. ``--check`` writes nothing and fails where a fixture is not what
the package says.
"""

from __future__ import annotations

import argparse
import csv
import io
import subprocess
import sys
import tempfile
import zipfile
from collections.abc import Iterator
from pathlib import Path

PUBLISHED = Path(__file__).resolve().parent.parent / "tests" / "published"
THREADS = "usr/share/freecad/Mod/Path/Data/Threads"

WHEEL_HEAD = """\
# Dimensions from bd-warehouse 0.4.0 (PyPI, Apache-2.0), CSV files inside the wheel; millimetres.
# Derived by tools/derive_dimension_checks.py. Clearance: only the close fit, because its normal and loose columns are
# those of ASME B18.2.8 and not of ISO 273 for M12, M14 and M16.
standard,size,quantity,value
"""
DEBIAN_HEAD = """\
# Thread limits from freecad-common 0.20.2+dfsg1-4+deb12u1 (Debian, LGPL-2+), CSV files of its Path workbench.
# Metric in millimetres (6H, 6g), unified in inches (2A, 2B). Derived by tools/derive_dimension_checks.py.
# The file named 6G holds the external class 6g.
thread,class,diameter,pitch_or_threads_per_inch,major_max,major_min,flank_max,flank_min,minor_max,minor_min
"""

# standard, file inside the wheel, column -> quantity
_WHEEL = (
    ("DIN 931", "hex_head_parameters", {"din931:s": "across flats"}),
    ("ISO 4014", "hex_head_parameters", {"iso4014:s": "across flats"}),
    ("ISO 4017", "hex_head_parameters", {"iso4017:s": "across flats"}),
    ("ISO 4032", "hex_nut_parameters", {"iso4032:s": "across flats", "iso4032:m": "height"}),
    ("ISO 7089", "plain_washer_parameters", {"iso7089:d1": "hole", "iso7089:d2": "outer"}),
    ("ISO 273", "clearance_hole_sizes", {"Close": "fine"}),
    ("ISO 4762", "socket_head_cap_parameters", {"iso4762:s": "key"}),
    ("ISO 10664", "iso10664def", {"A": "across points", "B": "across flutes"}),
    ("EN 1662", "hex_head_with_flange_parameters", {"din1662:s": "across flats", "din1662:dc": "flange"}),
    ("EN 1665", "hex_head_with_flange_parameters", {"din1665:s": "across flats", "din1665:dc": "flange"}),
)
_DEBIAN = (
    ("metric-internal-6H.csv", "6H"),
    ("metric-external-6G.csv", "6g"),
    ("imperial-external-2A.csv", "2A"),
    ("imperial-internal-2B.csv", "2B"),
)


def wheel_rows(wheel: Path) -> Iterator[list[str]]:
    """Rows of the dimension fixture, from the wheel."""
    with zipfile.ZipFile(wheel) as held:
        for standard, name, columns in _WHEEL:
            text = held.read(f"bd_warehouse/data/{name}.csv").decode("utf-8-sig")
            for row in csv.DictReader(io.StringIO(text)):
                row = {key.strip(): value for key, value in row.items() if key}
                for column, quantity in columns.items():
                    if row.get(column) and row["Size"][0] in "MT":  # inch sizes are another matter
                        yield [standard, row["Size"].split("-")[0], quantity, row[column]]


def debian_rows(threads: Path) -> Iterator[list[str]]:
    """Rows of the thread fixture, from the unpacked Debian package."""
    for name, fit in _DEBIAN:
        with open(threads / name, encoding="utf-8") as file:
            for row in csv.DictReader(file):
                diameter = row.get("dNominal") or row["dMajorMin"]
                if fit in ("6H", "6g"):
                    diameter = row["name"].split("x")[0].strip().removeprefix("M")
                if not all(row[column] for column in ("dPitchMin", "dPitchMax", "dMinorMin", "dMinorMax")):
                    continue
                yield [
                    row["name"], fit, diameter, row.get("pitch") or row["tpi"], row["dMajorMax"], row["dMajorMin"],
                    row["dPitchMax"], row["dPitchMin"], row["dMinorMax"], row["dMinorMin"],
                ]  # fmt: skip


def find_wheel(folder: Path) -> Path | None:
    """The bd-warehouse wheel in ``folder``."""
    return next(iter(sorted(folder.glob("bd_warehouse-0.4.0-*.whl"))), None)


def find_threads(folder: Path, scratch: Path) -> Path | None:
    """The folder of thread tables: unpacked in ``folder``, or unpacked now from its Debian package."""
    for root in (folder, folder / "freecad-common"):
        if (root / THREADS).is_dir():
            return root / THREADS
    package = next(iter(sorted(folder.glob("freecad-common_0.20.2*.deb"))), None)
    if package is None:
        return None
    subprocess.run(["dpkg-deb", "-x", str(package), str(scratch)], check=True)
    return scratch / THREADS


def fixture(head: str, rows: Iterator[list[str]]) -> str:
    """The text of a fixture."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return head + out.getvalue()


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description="Derive tests/published dimension checks from open CAD packages.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--check", action="store_true", help="write nothing; fail where a fixture differs")
    options = parser.parse_args(arguments)
    status = 0
    with tempfile.TemporaryDirectory() as scratch:
        wheel, threads = find_wheel(options.folder), find_threads(options.folder, Path(scratch))
        made = {}
        if wheel:
            made["outside_dimensions.csv"] = fixture(WHEEL_HEAD, wheel_rows(wheel))
        if threads:
            made["outside_threads.csv"] = fixture(DEBIAN_HEAD, debian_rows(threads))
        for missing in {"outside_dimensions.csv", "outside_threads.csv"} - set(made):
            print(f"{missing}: its package is not in {options.folder}")
            status = 1
        for name, text in made.items():
            path = PUBLISHED / name
            if options.check:
                same = path.exists() and path.read_text(encoding="utf-8") == text
                print(f"{name}: {'as the package says' if same else 'differs from the package'}")
                status = status if same else 1
            else:
                path.write_text(text, encoding="utf-8")
                print(f"wrote {name}")
    return status


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
