"""The outcomes of a check in the forms programs read: JSON, SARIF, JUnit XML, one line a finding."""

from __future__ import annotations

from collections.abc import Iterable
from json import dump
from typing import Any, TextIO

from torquewright import __version__
from torquewright.base.trouble import InputTrouble
from torquewright.cli.outcomes import Outcome, status_of, worst


def write_for_programs(
    outcomes: Iterable[tuple[str, Outcome]], form: str, out: TextIO, *, baseline: bool = False
) -> int:
    """Write the outcomes to ``out`` as one document; the exit status. ``baseline``: they were held against one."""
    held = list(outcomes)
    status = worst({status_of(outcome) for _, outcome in held})
    if form == "json":
        from torquewright.report.plain_json import file_part, trouble_part, whole

        parts = [trouble_part(file, o) if isinstance(o, InputTrouble) else file_part(o) for file, o in held]
        _json(whole(parts), out, ascii_only=False)
    elif form == "sarif":
        from torquewright.book.texts import all_rules
        from torquewright.report.sarif import log

        _json(log(held, all_rules(), version=__version__, status=status, baseline=baseline), out, ascii_only=True)
    elif form == "junit":
        from torquewright.book.texts import rule_ids
        from torquewright.report.junit import document

        out.write(document(held, rule_ids()))
    else:
        from torquewright.report.lines import finding_lines, trouble_lines

        for _, outcome in held:
            lines = trouble_lines(outcome) if isinstance(outcome, InputTrouble) else finding_lines(outcome)
            out.writelines(line + "\n" for line in lines)
    return status


def _json(told: dict[str, Any], out: TextIO, *, ascii_only: bool) -> None:
    dump(told, out, ensure_ascii=ascii_only, indent=2)
    out.write("\n")
