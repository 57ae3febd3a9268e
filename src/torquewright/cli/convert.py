"""Turn a tightening text or another quantity into a unit, with no more digits than it carries.

  torquewright convert "25 ft-lb" N·m
  torquewright convert "125 +10/-5 N·m" ft-lb
  torquewright convert "20 N·m + 90°"          (no unit: N·m and its counterpart)
  torquewright convert "3/8 in" mm
  torquewright convert - < notations.txt       (a notation a line)
  torquewright convert - --column torque --format json < bolts.csv

After each figure stands what its printed digits stand for: "25 ft-lb" may be
anything from 24.5 to 25.5, so it is 34 N·m (33.2 to 34.6). Whatever can be read in
two ways says so, and names the ways.

JSON: an object for a text, a line with an object for each line of standard
input (JSON Lines), in order. min_nm and max_nm are the limits a text states,
nominal_nm its figure, all in N·m; angles_deg are degrees, or pairs of limits;
value is the figure in unit, rounded to the digits it carries. A line that
cannot be read has an error in place of a kind.

exit status: 0 all read · 2 wrong command line · 3 something cannot be read
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from torquewright.cli import GO, NOT_READ, WRONG_COMMAND

if TYPE_CHECKING:
    from torquewright.base.document import Document
    from torquewright.notation.notread import NotRead


def configure(parser: ArgumentParser) -> None:
    parser.add_argument(
        "text", metavar="TEXT", help='"25 ft-lb", "7 to 9 N·m", "3/8 in"; - reads lines from standard input'
    )
    parser.add_argument(
        "unit", metavar="UNIT", nargs="?", help="N·m, ft-lb, in-lb, mm, L, ...; N·m and its counterpart if left out"
    )
    parser.add_argument("--format", choices=("text", "json"), default="text", help="for people or programs")
    parser.add_argument(
        "--column", metavar="COLUMN", help="standard input is a table: the number (from 1) or the heading of its column"
    )
    parser.add_argument(
        "--separator", metavar="SIGN", help='between the columns: ",", ";" or "tab"; found out if left out'
    )


def run(args: Namespace) -> int:
    from torquewright.base.trouble import InputTrouble
    from torquewright.notation.notread import NotRead
    from torquewright.toml.quantities import unit_named

    if args.text != "-" and (args.column or args.separator):
        sys.stderr.write("torquewright convert: --column and --separator need a table on standard input: TEXT is -\n")
        return WRONG_COMMAND
    try:
        unit = unit_named(args.unit) if args.unit else ""
    except NotRead as refused:
        sys.stderr.write(f"torquewright convert: {refused.message}\n  one of: {refused.wanted}\n")
        return WRONG_COMMAND
    try:
        if args.text != "-":
            from torquewright.base.document import Document

            return _each(iter([(0, args.text)]), Document("TEXT", args.text), unit, args.format == "json")
        document = _standard_input()
        texts = _column(document, args.column, args.separator) if args.column else _lines(document)
        return _each(texts, document, unit, args.format == "json")
    except InputTrouble as trouble:
        _complain(trouble)
        return NOT_READ
    except _NoColumn as missing:
        sys.stderr.write(f"torquewright convert: {missing}\n")
        return WRONG_COMMAND


class _NoColumn(Exception):
    """The table has no such column."""


def _standard_input() -> Document:
    from torquewright.toml.opening import LARGEST, decode

    return decode(sys.stdin.buffer.read(LARGEST + 1), "-")


def _lines(document: Document) -> Iterator[tuple[int, str]]:
    """Each line with something in it, and its offset."""
    at = 0
    for line in document.text.split("\n"):
        if line.strip():
            yield at + len(line) - len(line.lstrip()), line.strip()
        at += len(line) + 1


def _column(document: Document, column: str, separator: str | None) -> Iterator[tuple[int, str]]:
    """The cells of one column, and where each stands."""
    import csv  # only a table needs it

    text = document.text
    first = text.split("\n", 1)[0]
    sign = {"tab": "\t", None: "\t" if "\t" in first else ";" if first.count(";") > first.count(",") else ","}.get(
        separator, separator
    )
    if sign is None or len(sign) != 1:
        raise _NoColumn(f'a separator is one sign or "tab", not "{separator}"')
    lines = text.split("\n")
    starts = [0]
    for line in lines:
        starts.append(starts[-1] + len(line) + 1)
    rows = csv.reader(lines, delimiter=sign)
    if column.isdigit():
        number = int(column) - 1
    else:
        heading = next(rows, [])
        names = [name.strip().lower() for name in heading]
        if column.strip().lower() not in names:
            raise _NoColumn(f'there is no column "{column}"; the headings are: {", ".join(heading)}')
        number = names.index(column.strip().lower())
    if number < 0:
        raise _NoColumn("columns count from 1")
    for row in rows:
        if number < len(row) and row[number].strip():
            last = rows.line_num - 1
            cell = row[number].strip()
            yield starts[last] + max(lines[last].find(cell), 0), cell


def _each(texts: Iterator[tuple[int, str]], document: Document, unit: str, as_json: bool) -> int:
    """Convert and print one text after the other; what cannot be read goes to the error stream."""
    from torquewright.base.trouble import Fault, InputTrouble
    from torquewright.notation.notread import NotRead

    status = GO
    for at, text in texts:
        try:
            told: Any = _facts(text, unit) if as_json else _told(text, unit)
        except NotRead as refused:
            status = NOT_READ
            place = document.place(at + refused.start, at + max(refused.end, refused.start + 1))
            fault = Fault(place, refused.message, text, refused.wanted)
            if as_json:
                told = {"text": text, "kind": None, "error": _error(refused), "ambiguous": False}
            else:
                sys.stdout.flush()
                _complain(InputTrouble([fault], {document.name: document}))
                continue
        if as_json:
            from json import dumps

            told = dumps(told, ensure_ascii=False)
        sys.stdout.write(f"{told}\n")
    return status


def _error(refused: NotRead) -> dict[str, Any]:
    return {"message": refused.message, "start": refused.start, "end": refused.end, "instead": refused.wanted}


def _complain(trouble: Any) -> None:
    from torquewright.report.terminal import look_of
    from torquewright.report.text import trouble_lines

    sys.stderr.write("\n".join(trouble_lines(trouble, look_of(sys.stderr))) + "\n")


def _torque(unit: str) -> bool:
    from torquewright.base.units import UNITS

    return not unit or UNITS[unit].measures == "torque"


def _told(text: str, unit: str) -> str:
    """The conversion of one text, for people."""
    from torquewright.conversion import amount_line, counterpart, line
    from torquewright.notation.tightening import read_tightening

    if not _torque(unit):
        return amount_line(text, unit)
    tightening = read_tightening(text)
    units: tuple[str, ...] = (unit,)
    if not unit:
        torque = tightening.torque
        target = torque.target if torque is not None else None
        written = torque.unit if torque is not None else ""
        customary = written.startswith(("lbf", "ozf"))
        units = ("N·m", written) if customary else ("N·m", counterpart("N·m", target or 0.0))
    lines = [line(tightening, units)]
    if tightening.doubt:
        lines.append(f"  ambiguous: {tightening.doubt}")
        if tightening.readings:
            lines.append(f"  it could be: {' · '.join(tightening.readings)}")
    return "\n".join(lines)


def _facts(text: str, unit: str) -> dict[str, Any]:
    from torquewright.conversion import amount_facts, facts
    from torquewright.notation.tightening import read_tightening

    if not _torque(unit):
        return amount_facts(text, unit)
    return facts(read_tightening(text), unit or "N·m")
