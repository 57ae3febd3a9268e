"""Writes specs/tables/*.toml from a folder of plain CSV tables.

    python tools/build_tables.py FOLDER [--check]

FOLDER holds the facts as they were gathered, one table a CSV file (comment lines start with "#"), in the folder
itself or one level below. What becomes of each is declared in tools/table_plans: the name and title of the table,
its columns with unit and meaning, its sources, and how a CSV row turns into a row. ``--check`` writes nothing and
names the tables that differ from what would be written.
"""

from __future__ import annotations

import argparse
import csv
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from table_plans import PLANS
from table_plans.plan import Cell, Facts, Plan

TABLES = Path(__file__).resolve().parent.parent / "specs" / "tables"


def read_facts(folder: Path) -> Facts:
    """All CSV files of ``folder`` and the folders directly in it, by file name without ending."""
    held: Facts = {}
    for path in sorted([*folder.glob("*.csv"), *folder.glob("*/*.csv")]):
        lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
        held[path.stem] = list(csv.DictReader(lines))
    return held


def quoted(text: str) -> str:
    """A TOML basic string."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def cell(value: Cell) -> str:
    """A TOML value for a cell: words quoted, whole figures without a point."""
    if isinstance(value, str):
        return quoted(value)
    return str(int(value)) if float(value).is_integer() else repr(float(value))


def written(plan: Plan, facts: Facts) -> str:
    """The text of the table."""
    rows = [list(row) for row in plan.rows(facts)]
    width = len(plan.columns) + 2
    for row in rows:
        if len(row) != width or row[-2] not in plan.sources:
            raise SystemExit(f"{plan.name}: row {row} does not fit {width} columns or names no source")
    lines = [
        "# Written by tools/build_tables.py; specs/tables/README.md says how to read it.",
        f"title = {quoted(plan.title)}",
        "columns = [" + ", ".join(quoted(name) for name, _, _ in plan.columns) + "]",
        "units = [" + ", ".join(quoted(unit) for _, unit, _ in plan.columns) + "]",
        "meanings = [",
        *(f"  {quoted(says)}," for _, _, says in plan.columns),
        "]",
        "rows = [",
        *("  [" + ", ".join(cell(value) for value in row) + "]," for row in rows),
        "]",
    ]
    used = {str(row[-2]) for row in rows}
    for key, source in plan.sources.items():
        if key not in used:
            raise SystemExit(f"{plan.name}: no row uses source {key}")
        lines += ["", f"[source.{key}]", *(f"{name} = {quoted(text)}" for name, text in source.items())]
    return "\n".join(lines) + "\n"


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description="Write specs/tables/*.toml from a folder of CSV tables.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--check", action="store_true", help="write nothing; name the tables that differ")
    options = parser.parse_args(arguments)
    facts = read_facts(options.folder)
    differing = 0
    for plan in PLANS:
        path = TABLES / f"{plan.name}.toml"
        text = written(plan, facts)
        if path.exists() and path.read_text(encoding="utf-8") == text:
            continue
        differing += 1
        if options.check:
            print(f"{path.name} differs")
        else:
            path.write_text(text, encoding="utf-8")
            print(f"wrote {path.name}")
    return 1 if options.check and differing else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
