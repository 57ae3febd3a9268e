"""Show what was understood of a draft, step by step, and what was not.

  torquewright read draft.md
  torquewright read draft.md --catalogue heron.toml
  torquewright read --format toml draft.md > job.toml    a procedure check accepts
  torquewright read --format json draft.md

exit status: 0 read · 3 cannot be read
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from torquewright.cli import GO, NOT_READ


def configure(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a draft, or - for standard input")
    parser.add_argument("--catalogue", metavar="FILE", help="records of the machine, in place of the file it names")
    parser.add_argument("--tools", metavar="FILE", help="the tools at hand")
    parser.add_argument("--kit", metavar="FILE", help="the new parts laid out for the job")
    parser.add_argument("--format", choices=("text", "toml", "json"), default="text", help="for people, or programs")


def run(args: Namespace) -> int:
    from torquewright.base.trouble import InputTrouble
    from torquewright.reading.files import read_job
    from torquewright.report.terminal import look_of
    from torquewright.toml.opening import LARGEST, decode

    look = look_of(sys.stdout)
    try:
        text = decode(sys.stdin.buffer.read(LARGEST + 1), "-").text if args.file == "-" else None
        job = read_job(args.file, catalogue=args.catalogue, tools=args.tools, kit=args.kit, text=text)
    except InputTrouble as trouble:
        from torquewright.report.text import trouble_lines

        for line in trouble_lines(trouble, look_of(sys.stderr)):
            sys.stderr.write(line + "\n")
        return NOT_READ
    if args.format == "toml":
        from torquewright.toml.writing import to_toml

        sys.stdout.write(to_toml(job.procedure, job.catalogue))
        return GO
    if args.format == "json":
        from json import dumps

        from torquewright.report.understood import understood_part

        sys.stdout.write(dumps(understood_part(job), ensure_ascii=False, indent=2) + "\n")
        return GO
    from torquewright.report.understood import understood_lines

    for line in understood_lines(job, look):
        sys.stdout.write(line + "\n")
    return GO
