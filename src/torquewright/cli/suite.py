"""The conformance suite: every case of every rule, for this engine or for another.

  torquewright suite list                        the cases
  torquewright suite run                         put them to this engine
  torquewright suite run --subject "./engine"    put them to another program
  torquewright suite run sealing-washer-count    only the cases of one rule
  torquewright suite answer                      be the program that is asked

specs/suite/README.md tells what a program reads and answers, a line a case.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable

from torquewright.cli import GO, NO_GO, WRONG_COMMAND

TYPE_CHECKING = False
if TYPE_CHECKING:
    from torquewright.suite.cases import SuiteCase
    from torquewright.suite.driver import Subject


def configure(parser: ArgumentParser) -> None:
    verbs = parser.add_subparsers(dest="what", required=True, metavar="{list,run,answer}")
    for name, told in (("list", "list the cases"), ("run", "put the cases to an implementation")):
        verb = verbs.add_parser(
            name, help=told, description=told, allow_abbrev=False, formatter_class=parser.formatter_class
        )
        verb.add_argument("which", nargs="*", metavar="RULE[/CASE]", help="only these")
        verb.add_argument("--format", choices=("text", "json"), default="text", help="for people or programs")
        if name == "run":
            verb.add_argument("--subject", metavar="COMMAND", help="the program to ask; this engine when left out")
    verbs.add_parser(
        "answer", help="answer cases from standard input", allow_abbrev=False, formatter_class=parser.formatter_class
    )


def run(args: Namespace) -> int:
    if args.what == "answer":
        from torquewright.subject import answer
        from torquewright.suite.process import serve

        serve(answer, sys.stdin, sys.stdout)
        return GO
    from torquewright.suite.cases import read_suite

    cases = [case for case in read_suite() if not args.which or case.rule in args.which or case.id in args.which]
    if not cases:
        sys.stderr.write(f"torquewright suite: no case is called {' or '.join(args.which) or 'anything'}\n")
        return WRONG_COMMAND
    if args.what == "list":
        return _list(cases, args.format)
    if args.subject is None:
        from torquewright.subject import answer

        return _run(answer, cases, args.format, all_facts=True)
    from torquewright.suite.process import Program

    try:
        program = Program(args.subject)
    except OSError as fault:
        sys.stderr.write(f"torquewright suite: {args.subject!r} cannot be started: {fault.strerror}\n")
        return WRONG_COMMAND
    with program:
        return _run(program, cases, args.format)


def _list(cases: Iterable[SuiteCase], form: str) -> int:
    if form == "json":
        from json import dumps

        for case in cases:
            print(dumps({"id": case.id, "clause": case.clause, "form": case.form, "sound": case.sound}))
        return GO
    held = list(cases)
    wide = max(len(case.id) for case in held)
    for case in held:
        manner = "sound" if case.sound else "faulty"
        limit = f", {case.limit} the limit" if case.limit else ""
        print(f"{case.id:{wide}}  {manner:6}  {case.form:8}  clause {case.clause}{limit}")
    return GO


def _run(subject: Subject, cases: Iterable[SuiteCase], form: str, *, all_facts: bool = False) -> int:
    from torquewright.suite.driver import run_cases

    outcomes = []
    for outcome in run_cases(subject, cases, all_facts=all_facts):
        outcomes.append(outcome)
        if form == "text" and not outcome.passed:
            print(outcome, flush=True)
    kept = sum(outcome.passed for outcome in outcomes)
    if form == "json":
        from json import dumps

        for outcome in outcomes:
            print(dumps({
                "id": outcome.case.id, "passed": outcome.passed, "missed": outcome.missed,
                "invented": outcome.invented, "facts": outcome.wrong_facts, "trouble": outcome.trouble,
            }, ensure_ascii=False))  # fmt: skip
    else:
        print(f"{kept} of {len(outcomes)} cases as they should be")
    return GO if kept == len(outcomes) else NO_GO
