"""Judge procedures: go, ask first or no-go, with every finding's place, reason and cure.

A procedure is a TOML file with [[step]] tables or a Markdown draft with
numbered steps; a folder is searched for both, "-" is standard input.

  torquewright check job.toml
  torquewright check draft.md --catalogue heron.toml --tools bench.toml
  torquewright check --format json jobs/
  torquewright check --format sarif --output check.sarif jobs/
  torquewright check --example             the bundled machines, and one checked
  torquewright check --example workboat    one machine, sound and faulty

exit status: 0 go · 1 no-go · 3 cannot be read · 4 ask first;
of several files the worst counts: 3 before 1 before 4 before 0
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from torquewright.cli import WRONG_COMMAND

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable
    from typing import TextIO

    from torquewright.cli.outcomes import Outcome


def configure(parser: ArgumentParser) -> None:
    parser.add_argument("files", nargs="*", metavar="FILE", help="procedure, draft, folder, or - for standard input")
    parser.add_argument("--catalogue", metavar="FILE", help="records of the machine, in place of the file it names")
    parser.add_argument("--tools", metavar="FILE", help="the tools at hand")
    parser.add_argument("--kit", metavar="FILE", help="the new parts laid out for the job")
    parser.add_argument(
        "--format", choices=("text", "json", "sarif", "junit", "lines"), default="text",
        help="text for people; json, SARIF 2.1.0, JUnit XML or one line a finding for programs",
    )  # fmt: skip
    parser.add_argument("--output", metavar="FILE", help="write the report to this file")
    parser.add_argument(
        "--if-procedure", action="store_true", help="pass over files that are no procedures, as a folder search does"
    )
    parser.add_argument("--baseline", metavar="FILE", help="count only findings that are not in this baseline")
    parser.add_argument("--baseline-write", metavar="FILE", help="write down today's findings as the baseline")
    parser.add_argument("--diff", action="store_true", help="show safe edits of the text instead of judging")
    parser.add_argument("--rewrite", action="store_true", help="apply them; no number is ever changed")
    parser.add_argument(
        "--example", nargs="?", const="", metavar="NAME", help="check the procedures of a bundled, invented machine"
    )


def run(args: Namespace) -> int:
    files = list(args.files)
    if args.example is not None:
        from torquewright.cli.examples import chosen, listing

        example = chosen(args.example)
        if not example:
            sys.stderr.write(f"torquewright check: no bundled example is called {args.example!r}\n{listing()}")
            return WRONG_COMMAND
        if not args.example:
            sys.stderr.write(f"{listing()}\n")
        files += example
    elif not files and not args.if_procedure:
        sys.stderr.write("torquewright check: name a procedure, a folder or -, or ask for --example\n")
        return WRONG_COMMAND
    if args.if_procedure:
        from torquewright.cli.gather import is_procedure

        files = [file for file in files if file == "-" or is_procedure(file)]
    if args.rewrite or args.diff:
        from torquewright.cli.rewriting import rewritten  # judging does without

        return rewritten(
            files, apply=args.rewrite and not args.diff, catalogue=args.catalogue, tools=args.tools, kit=args.kit
        )
    from torquewright.cli.outcomes import judged  # brings in the engine; --help does without

    outcomes = judged(files, catalogue=args.catalogue, tools=args.tools, kit=args.kit)
    if args.baseline or args.baseline_write:
        from torquewright.cli.known import set_known_aside, write_known

        if args.baseline_write:
            return write_known(outcomes, args.baseline_write)
        outcomes = set_known_aside(outcomes, args.baseline)
    if args.output:
        from torquewright.cli.placing import written_to

        return written_to(args.output, outcomes, lambda held, out: _write(held, out, args))
    return _write(outcomes, sys.stdout, args)


def _write(outcomes: Iterable[tuple[str, Outcome]], out: TextIO, args: Namespace) -> int:
    if args.format == "text":
        from torquewright.cli.outcomes import write_text

        return write_text(outcomes, out)
    from torquewright.cli.formats import write_for_programs  # a report for people does without

    return write_for_programs(outcomes, args.format, out, baseline=bool(args.baseline))
