"""Tell a rule: what it asks, what happens otherwise, where it comes from, and a
faulty case beside its sound twin. A name that was retired answers too.

  torquewright why sealing-washer-count
  torquewright why --format json wrench-out-of-range
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from torquewright.cli import GO, WRONG_COMMAND


def configure(parser: ArgumentParser) -> None:
    parser.add_argument("rule", metavar="RULE", nargs="+", help="the name of a rule, as a report shows it in brackets")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="for people or programs")


def run(args: Namespace) -> int:
    from torquewright.book.texts import UnknownRule, rule_text

    rules = []
    status = GO
    for name in args.rule:
        try:
            rules.append(rule_text(name.strip("[]"), cases=True))
        except UnknownRule as unknown:
            sys.stderr.write(f"torquewright why: {unknown}\n  torquewright rules lists them all\n")
            status = WRONG_COMMAND
    if args.format == "json":
        if rules:
            from json import dumps

            from torquewright.report.rulebook import rule_part

            print(dumps({"format": "torquewright-rules", "version": 1, "rules": [rule_part(rule) for rule in rules]},
                        ensure_ascii=False, indent=2))  # fmt: skip
        return status
    from torquewright.report.rulebook import rule_lines
    from torquewright.report.terminal import look_of

    look = look_of(sys.stdout)
    for at, rule in enumerate(rules):
        if at:
            print()
        for line in rule_lines(rule, look):
            print(line)
    return status
