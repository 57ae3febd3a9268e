"""List the rules by family, with what breaking each one leads to.

  torquewright rules
  torquewright rules --family seals
  torquewright rules --format json
  torquewright rules --practice aviation    what holds where trades disagree
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from torquewright.cli import GO, WRONG_COMMAND


def configure(parser: ArgumentParser) -> None:
    parser.add_argument("--family", metavar="NAME", help="only this family")
    parser.add_argument("--practice", metavar="TRADE", help="what this trade answers where trades disagree")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="for people or programs")


def run(args: Namespace) -> int:
    if args.practice is not None:
        return _practice(args.practice, args.format)
    from torquewright.book.texts import all_rules

    rules = all_rules()
    if args.family is not None:
        families = sorted({rule.family for rule in rules})
        rules = tuple(rule for rule in rules if rule.family == args.family)
        if not rules:
            sys.stderr.write(f"torquewright rules: no family {args.family!r}; there are {', '.join(families)}\n")
            return WRONG_COMMAND
    if args.format == "json":
        from json import dumps

        table = [
            {"id": r.id, "family": r.family, "since": r.since, "consequence": r.consequence, "title": r.title}
            for r in rules
        ]
        print(dumps({"format": "torquewright-rules", "version": 1, "rules": table}, ensure_ascii=False, indent=2))
        return GO
    from torquewright.report.rulebook import list_lines
    from torquewright.report.terminal import look_of

    for line in list_lines(rules, look_of(sys.stdout)):
        print(line)
    return GO


def _practice(name: str, form: str) -> int:
    from torquewright.book.policies import answers, practices

    if name not in practices():
        sys.stderr.write(f"torquewright rules: no practice {name!r}; there are {', '.join(practices())}\n")
        return WRONG_COMMAND
    told = answers(name)
    if form == "json":
        from json import dumps

        keys = ("asks", "value", "says", "source")
        table = [dict(zip(keys, (asks, *held), strict=True)) for asks, held in told.items()]
        print(dumps({"format": "torquewright-practice", "version": 1, "answers": table}, ensure_ascii=False, indent=2))
        return GO
    for asks, (_, says, source) in told.items():
        print(f"{asks}\n    {says}\n    source: {source}")
    return GO
