"""Builds specs/suite/cases.jsonl from the rule files: ``python tools/build_suite.py``; ``--check`` only compares.

The environment the package is installed in must run it.
"""

from __future__ import annotations

import sys
from pathlib import Path

from torquewright.book.texts import all_rules
from torquewright.suite.cases import suite_file, suite_lines


def built() -> str:
    """What the file should hold."""
    return "".join(line + "\n" for line in suite_lines(all_rules(cases=True)))


def main(words: list[str]) -> int:
    path = Path(suite_file())
    held = path.read_text(encoding="utf-8") if path.exists() else ""
    if words == ["--check"]:
        if held == built():
            return 0
        print(f"{path} is stale; run: python tools/build_suite.py", file=sys.stderr)
        return 1
    if words:
        print(__doc__, file=sys.stderr)
        return 2
    path.write_text(built(), encoding="utf-8")
    print(f"{path}: {built().count(chr(10)) - 1} cases")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
