"""Make the job sheet of a procedure: verdict, tools and parts to lay out, steps to tick, values to write down.

  torquewright sheet job.toml                     Markdown on the screen
  torquewright sheet job.toml --html sheet.html   one page to print

exit status: as for check; the sheet is made for any verdict and says which one it was
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from torquewright.cli import ASK_FIRST, GO, NO_GO, NOT_READ


def configure(parser: ArgumentParser) -> None:
    """Declare the arguments of ``torquewright sheet``."""
    parser.add_argument("file", metavar="FILE", help="a procedure or a draft")
    parser.add_argument("--catalogue", metavar="FILE", help="records of the machine, in place of the file it names")
    parser.add_argument("--tools", metavar="FILE", help="the tools at hand")
    parser.add_argument("--kit", metavar="FILE", help="the new parts laid out for the job")
    parser.add_argument("--html", metavar="FILE", help="write one self-contained page there, for printing")


def run(args: Namespace) -> int:
    """Make the sheet; the exit status is that of the check."""
    from torquewright.base.trouble import InputTrouble
    from torquewright.reading.files import read_job
    from torquewright.report.lines import trouble_lines
    from torquewright.report.sheet import as_html, as_markdown
    from torquewright.verdict import check_job

    text = sys.stdin.read() if args.file == "-" else None
    try:
        job = read_job(args.file, text=text, catalogue=args.catalogue, tools=args.tools, kit=args.kit)
        report = check_job(job)
    except InputTrouble as trouble:
        for line in trouble_lines(trouble):
            sys.stderr.write(line + "\n")
        return NOT_READ
    if args.html is None:
        sys.stdout.write(as_markdown(job, report))
    elif not _written(args.html, as_html(job, report)):
        return NOT_READ
    return {"go": GO, "ask first": ASK_FIRST, "no-go": NO_GO}[report.verdict.word]


def _written(name: str, page: str) -> bool:
    import os

    try:
        # Written aside and moved into place: nobody ever finds half a sheet.
        with open(name + ".part", "w", encoding="utf-8", newline="\n") as file:
            file.write(page)
        os.replace(name + ".part", name)
    except OSError as fault:
        sys.stderr.write(f"{name}: cannot be written: {fault.strerror}\n")
        return False
    print(name)
    return True
