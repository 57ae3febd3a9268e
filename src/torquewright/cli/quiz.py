"""Make questions by planting faults in a sound procedure, each with a key the engine has proved."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace, RawDescriptionHelpFormatter

_EXAMPLES = """\
examples:
  torquewright quiz job.toml --count 5 --seed 7
  torquewright quiz job.toml --only sealing-washer-count --count 1
  torquewright quiz job.toml --count 5 --seed 7 --into FOLDER   (paper.md and key.md)

The same procedure, count and seed give the same quiz. The next seed is a parallel form.
exit status: 0 made · 2 wrong command line · 3 the procedure cannot be used, with the reason
"""


def configure(parser: ArgumentParser) -> None:
    """Declare the arguments of ``torquewright quiz``."""
    parser.formatter_class = RawDescriptionHelpFormatter
    parser.epilog = _EXAMPLES
    parser.add_argument("procedure", help="a sound procedure to plant faults in")
    parser.add_argument("--count", type=int, default=5, metavar="N", help="how many questions (default 5)")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="which selection and order (default 1)")
    parser.add_argument("--only", action="append", metavar="RULE", help="ask about this rule; may be repeated")
    parser.add_argument("--catalogue", metavar="FILE", help="records to use besides those the procedure names")
    parser.add_argument("--tools", metavar="FILE", help="tools to use")
    parser.add_argument("--kit", metavar="FILE", help="new parts laid out")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="text is Markdown (default)")
    parser.add_argument("--part", choices=("paper", "key", "both"), default="both", help="what to print (default both)")
    parser.add_argument("--into", metavar="FOLDER", help="write paper.md and key.md there instead of printing")


def run(args: Namespace) -> int:
    """Make the quiz and print or write it."""
    from torquewright.base.trouble import InputTrouble
    from torquewright.quiz import NotEnough, NotSound, make_items
    from torquewright.reading.files import read_job
    from torquewright.rules import PLANTERS

    if args.count < 1:
        return _refuse("--count must be 1 or more", 2)
    for rule in args.only or ():
        if rule not in PLANTERS:
            return _refuse(f"there is no rule {rule!r} to ask about; see: torquewright rules", 2)
    text = sys.stdin.read() if args.procedure == "-" else None
    try:
        job = read_job(args.procedure, catalogue=args.catalogue, tools=args.tools, kit=args.kit, text=text)
    except InputTrouble as trouble:
        return _refuse("\n".join(f"{fault}\n  instead: {fault.wanted}" for fault in trouble.faults), 3)
    if job.procedure is None:
        return _refuse(f"{args.procedure}: there is no step in this file, only records", 3)
    try:
        items = make_items(job.procedure, job.catalogue, count=args.count, seed=args.seed, rules=args.only)
    except NotSound as fault:
        shown = "\n".join(f"  step {remark.step}: {remark.message} ({remark.rule})" for remark in fault.remarks)
        return _refuse(f"{args.procedure}: faults can only be planted in a sound procedure; this one has\n{shown}", 3)
    except NotEnough as fault:
        return _refuse(f"{args.procedure}: {fault}; ask for fewer, or for more rules", 3)
    return _deliver(args, job.procedure.title, items, job.catalogue)


def _deliver(args: Namespace, title: str, items: list, catalogue: object) -> int:  # type: ignore[type-arg]
    from torquewright.quiz import paper as sheets

    if args.format == "json":
        import json

        print(json.dumps(sheets.plain(title, items, args.seed), ensure_ascii=False, indent=2))
        return 0
    questions, answers = sheets.paper(title, items, catalogue), sheets.key(title, items)  # type: ignore[arg-type]
    if args.into:
        return _write(args.into, {"paper.md": questions, "key.md": answers})
    if args.part != "key":
        sys.stdout.write(questions)
    if args.part == "both":
        sys.stdout.write("\n---\n\n")
    if args.part != "paper":
        sys.stdout.write(answers)
    return 0


def _write(folder: str, files: dict[str, str]) -> int:
    import os

    try:
        os.makedirs(folder, exist_ok=True)
        for name, content in files.items():
            # Written aside and moved into place: nobody ever finds half a paper.
            aside = os.path.join(folder, name + ".part")
            with open(aside, "w", encoding="utf-8", newline="\n") as file:
                file.write(content)
            os.replace(aside, os.path.join(folder, name))
    except OSError as fault:
        return _refuse(f"{folder}: cannot be written: {fault.strerror}", 3)
    for name in files:
        print(os.path.join(folder, name))
    return 0


def _refuse(message: str, status: int) -> int:
    sys.stderr.write(f"torquewright quiz: {message}\n")
    return status
