"""Make questions from a sound procedure, each with a key the engine has proved; or take them here.

  torquewright quiz job.toml --count 5 --seed 7
  torquewright quiz --example workboat-gearcase --kinds spot,all,order,number,tool --count 10
  torquewright quiz job.toml --only sealing-washer-count --count 1
  torquewright quiz job.toml --count 5 --seed 7 --into FOLDER      paper and key apart
  torquewright quiz job.toml --count 5 --forms 2 --into FOLDER     parallel forms, no question twice
  torquewright quiz take --example workboat-gearcase --count 5     answer them at the terminal

The same procedure, seed and wishes give the same quiz, byte for byte.
exit status: 0 made · 2 wrong command line · 3 the procedure cannot be used, with the reason
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from torquewright.quiz import Item
    from torquewright.reading.job import Job

_FORMATS = ("text", "html", "json", "csv", "qti3", "qti2.2")


def configure(parser: ArgumentParser) -> None:
    """Declare the arguments of ``torquewright quiz``."""
    parser.add_argument("words", nargs="*", metavar="PROCEDURE", help="a sound procedure; ahead of it, take")
    parser.add_argument("--example", metavar="NAME", help="the sound procedure of a bundled machine")
    parser.add_argument("--count", type=int, default=5, metavar="N", help="how many questions (default 5)")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="which selection and order (default 1)")
    parser.add_argument("--forms", type=int, default=1, metavar="N", help="how many parallel forms (default 1)")
    parser.add_argument("--kinds", default="spot", metavar="KINDS", help="spot, all, order, number, tool; with commas")
    parser.add_argument("--only", action="append", metavar="RULE", help="ask about this rule; may be repeated")
    parser.add_argument("--family", metavar="NAME", help="ask about the rules of this family")
    parser.add_argument("--difficulty", type=int, metavar="N", help="at most this hard, 1 to 5")
    parser.add_argument("--catalogue", metavar="FILE", help="records of the machine, in place of the file it names")
    parser.add_argument("--tools", metavar="FILE", help="the tools at hand")
    parser.add_argument("--kit", metavar="FILE", help="the new parts laid out")
    parser.add_argument("--format", choices=_FORMATS, default="text", help="text is Markdown (default)")
    parser.add_argument("--part", choices=("paper", "key", "both"), default="both", help="what to print (default both)")
    parser.add_argument("--into", metavar="FOLDER", help="write files there instead of printing")


def run(args: Namespace) -> int:
    """Make the quiz and print, write or ask it."""
    words = list(args.words)
    taking = words[:1] == ["take"]
    if taking:
        words = words[1:]
    try:
        kinds = _checked(args, words)
        job = _job(args, words)
        forms = _forms(args, job, kinds)
    except _Refused as refused:
        sys.stderr.write(f"torquewright quiz: {refused}\n")
        return refused.status
    title = job.procedure.title if job.procedure else ""
    if taking:
        from torquewright.quiz.taking import take

        take(title, forms[0], job.catalogue, print, input)
        return 0
    from torquewright.cli.quiz_files import deliver  # asking at the terminal does without

    return deliver(args, title, forms, job.catalogue)


class _Refused(Exception):
    """The quiz cannot be made; ``status`` is the exit status."""

    def __init__(self, told: str, status: int) -> None:
        super().__init__(told)
        self.status = status


def _checked(args: Namespace, words: list[str]) -> list[str]:
    from torquewright.quiz import KINDS
    from torquewright.rules import PLANTERS

    kinds = [kind.strip() for kind in args.kinds.split(",") if kind.strip()]
    for kind in kinds:
        if kind not in KINDS:
            raise _Refused(f"there is no kind {kind!r}; there are {', '.join(KINDS)}", 2)
    for name, value in (("--count", args.count), ("--forms", args.forms)):
        if value < 1:
            raise _Refused(f"{name} must be 1 or more", 2)
    if args.difficulty is not None and not 1 <= args.difficulty <= 5:
        raise _Refused("--difficulty is a number from 1 to 5", 2)
    for rule in args.only or ():
        if rule not in PLANTERS:
            raise _Refused(f"there is no rule {rule!r} to ask about; see: torquewright rules", 2)
    if len(words) + (args.example is not None) != 1:
        raise _Refused("name one procedure, or a bundled machine with --example", 2)
    if (args.forms > 1 or args.format.startswith("qti")) and not args.into and words[:1] != ["take"]:
        raise _Refused("several forms and QTI packages are files: name a folder with --into", 2)
    return kinds


def _job(args: Namespace, words: list[str]) -> Job:
    from torquewright.base.trouble import InputTrouble
    from torquewright.cli.examples import chosen, listing
    from torquewright.reading.files import read_job

    file = words[0] if words else ""
    if args.example is not None:
        sound = [name for name in chosen(args.example) if name.endswith("sound.toml")]
        if not sound:
            raise _Refused(f"no bundled example is called {args.example!r}\n{listing()}", 2)
        file = sound[0]
    text = sys.stdin.read() if file == "-" else None
    try:
        job = read_job(file, catalogue=args.catalogue, tools=args.tools, kit=args.kit, text=text)
    except InputTrouble as trouble:
        raise _Refused("\n".join(f"{held}\n  instead: {held.wanted}" for held in trouble.faults), 3) from None
    if job.procedure is None:
        raise _Refused(f"{file}: there is no step in this file, only records", 3)
    return job


def _forms(args: Namespace, job: Job, kinds: list[str]) -> list[list[Item]]:
    from torquewright.quiz import NotEnough, NotSound, make_forms

    assert job.procedure is not None
    try:
        return make_forms(
            job.procedure, job.catalogue, forms=args.forms, count=args.count, seed=args.seed, rules=args.only,
            kinds=kinds, family=args.family, difficulty=args.difficulty,
        )  # fmt: skip
    except NotSound as fault:
        shown = "\n".join(f"  step {held.step}: {held.message} ({held.rule})" for held in fault.remarks)
        told = f"{job.file}: faults can only be planted in a sound procedure; this one has\n{shown}"
        raise _Refused(told, 3) from None
    except NotEnough as fault:
        raise _Refused(f"{job.file}: {fault}; ask for fewer, for more kinds or for more rules", 3) from None
