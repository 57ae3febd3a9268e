"""Plant every fault the rule book knows into every sound procedure, and see that each is found, alone, where it is.

Run in the project's environment: ``python tools/plant_matrix.py [--most N] [--rule RULE] [FILE...]``. The procedures
are the sound ones of the checkout: the bundled examples, ``tests/sound`` and ``tests/drafts/sound``. It prints one
row a rule and one column a procedure: how many faults of that rule were planted and found, ``.`` where the rule does
not apply, ``-n`` for faults missed and ``+n`` for findings that nobody planted. It leaves with 1 when anything was
missed or invented, or when a sound procedure is not silent.

``--most N`` plants at most N faults of a rule in a procedure, spread over it; without it, all.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from attrs import evolve

from torquewright import read
from torquewright.base.trouble import InputTrouble
from torquewright.bench import play
from torquewright.reading.job import Job
from torquewright.records import Catalogue, Procedure
from torquewright.rules import PLANTERS, WORD_PLANTERS, detect
from torquewright.rules.finding import Finding
from torquewright.verdict import let_stand

CHECKOUT = Path(__file__).resolve().parent.parent
SOUND = (
    ("specs/examples", "*/sound.*"),
    ("tests/sound", "*.*"),
    ("tests/drafts/sound", "*.md"),
)


class Cell(NamedTuple):
    """What became of the faults of one rule in one procedure, and each miss and invention in words."""

    planted: int = 0
    found: int = 0
    invented: int = 0
    trouble: tuple[str, ...] = ()

    @property
    def missed(self) -> int:
        return self.planted - self.found

    def __str__(self) -> str:
        if not self.planted:
            return "."
        amiss = f"-{self.missed}" if self.missed else ""
        return f"{self.found}{amiss}" + (f"+{self.invented}" if self.invented else "")


def sound_files() -> list[Path]:
    """The sound procedures of the checkout, in a fixed order."""
    return [path for folder, shape in SOUND for path in sorted((CHECKOUT / folder).glob(shape))]


def read_sound(path: Path, text: str | None = None) -> Job:
    """Read a procedure, or ``text`` in its place. A draft without front matter may have its records in a TOML file
    of the same name beside it, when that file has no step."""
    beside = path.with_suffix(".toml")
    records = path.suffix == ".md" and path.parent.name == "sound" and path.parent.parent.name == "drafts"
    return read(str(path), text=text, catalogue=str(beside) if records and beside.exists() else None)


def judged(procedure: Procedure, job: Job) -> list[Finding]:
    return [held for held in detect(play(procedure, job.catalogue, job.draft)) if not let_stand(held, procedure)]


def spread(things: Sequence[object], most: int | None) -> list[int]:
    """Which of ``things`` to take, by number: all, or ``most`` of them from the first to the last."""
    if most is None or len(things) <= most:
        return list(range(len(things)))
    if most == 1:
        return [0]
    return sorted({round(at * (len(things) - 1) / (most - 1)) for at in range(most)})


def wordless(procedure: Procedure) -> Procedure:
    """The procedure without its sentences: those of steps that were not changed still tell of the sound job."""
    return evolve(procedure, steps=tuple(evolve(step, say="") for step in procedure.steps))


def records_cell(rule: str, procedure: Procedure, catalogue: Catalogue, most: int | None) -> Cell:
    """Plants in the records of a procedure, whatever it was read from.

    What only the words of a draft say is in no record, and a step that is changed loses its sentence. So what the
    records alone leave open before anything is planted is left out, and that rule is not planted in that joint.
    """
    cell = Cell()
    open_before = {(held.rule, held.joint) for held in detect(play(wordless(procedure), catalogue))}
    faults = [fault for fault in PLANTERS[rule](procedure, catalogue) if (rule, fault.joint) not in open_before]
    for at in spread(faults, most):
        fault = faults[at]
        findings = detect(play(wordless(fault.procedure), fault.catalogue))
        told = [(held.rule, held.step, held.joint) for held in findings if (held.rule, held.joint) not in open_before]
        cell = _weighed(cell, told, (rule, fault.step, fault.joint), fault.companions, fault.changed)
    return cell


def words_cell(rule: str, path: Path, job: Job, most: int | None) -> Cell:
    """Plants in the words of a draft, which is read anew."""
    cell = Cell()
    assert job.draft is not None
    assert job.procedure is not None
    faults = list(WORD_PLANTERS[rule](job.draft, job.procedure, job.catalogue))
    for at in spread(faults, most):
        fault = faults[at]
        spoiled = read_sound(path, fault.text)
        assert spoiled.procedure is not None
        labels = [step.label for step in spoiled.procedure.steps]
        findings = judged(spoiled.procedure, spoiled)
        told = [(held.rule, "" if held.step is None else labels[held.step], held.joint) for held in findings]
        cell = _weighed(cell, told, (rule, fault.step, fault.joint), fault.companions, fault.changed)
    return cell


Told = tuple[str, object, str]
"""(rule, step, joint) of a finding."""


def _weighed(cell: Cell, told: list[Told], wanted: Told, companions: frozenset[str], why: str) -> Cell:
    others = [held for held in told if held != wanted and held[0] not in companions]
    others += [wanted] * max(0, told.count(wanted) - 1)
    trouble = list(cell.trouble)
    if wanted not in told:
        trouble.append(f"missed {wanted[0]} at step {wanted[1]}, {wanted[2] or 'no joint'}: {why}")
    trouble += [f"invented {rule} at step {step}, {joint or 'no joint'}: {why}" for rule, step, joint in others]
    return Cell(cell.planted + 1, cell.found + (wanted in told), cell.invented + len(others), tuple(trouble))


def not_silent(path: Path, job: Job) -> Iterator[str]:
    """What is wrong with a procedure that should be sound."""
    if job.procedure is None:
        yield "it has no step"
        return
    labels = [step.label for step in job.procedure.steps]
    for held in judged(job.procedure, job):
        yield f"{held.rule} at step {'' if held.step is None else labels[held.step]}, {held.joint or 'no joint'}"


Cells = dict[tuple[str, Path], Cell]


def matrix(paths: Sequence[Path], rules: Sequence[str], most: int | None) -> tuple[Cells, list[str]]:
    """Every cell by rule and procedure, and what is wrong with procedures that are not silent."""
    cells: Cells = {}
    noise: list[str] = []
    for path in paths:
        try:
            job = read_sound(path)
        except InputTrouble as trouble:
            noise.append(f"{path.name}: {trouble}")
            continue
        wrong = [f"{path.name}: {told}" for told in not_silent(path, job)]
        noise += wrong
        if wrong or job.procedure is None:
            continue  # what is planted in a job that is not sound proves nothing
        for rule in rules:
            if rule in PLANTERS:
                cells[rule, path] = records_cell(rule, job.procedure, job.catalogue, most)
            elif job.draft is not None:
                cells[rule, path] = words_cell(rule, path, job, most)
    return cells, noise


def table(cells: Cells, paths: Sequence[Path], rules: Sequence[str]) -> Iterator[str]:
    """The lines to print: a key of the columns, the rows, the totals."""
    for number, path in enumerate(paths, 1):
        yield f"{number:3} {path.relative_to(CHECKOUT) if path.is_relative_to(CHECKOUT) else path}"
    wide = max(map(len, rules), default=0)
    yield ""
    yield " " * wide + "".join(f"{number:>5}" for number in range(1, len(paths) + 1)) + "  planted  missed  invented"
    sums = [0, 0, 0]
    for rule in rules:
        row = [cells.get((rule, path), Cell()) for path in paths]
        counts = [sum(getattr(cell, what) for cell in row) for what in ("planted", "missed", "invented")]
        sums = [one + other for one, other in zip(sums, counts, strict=True)]
        shown = "".join(f"{cell!s:>5}" for cell in row)
        yield f"{rule:{wide}}{shown}{counts[0]:9}{counts[1]:8}{counts[2]:10}"
    planted, missed, invented = sums
    share = math.floor(1000 * (planted - missed) / planted) / 10 if planted else 0.0  # 100 % means all
    yield ""
    yield f"{planted} planted, {planted - missed} found ({share} %), {missed} missed, {invented} invented"


def main(words: Sequence[str]) -> int:
    """Plant, print, and leave with 1 when the book does not hold."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("files", nargs="*", type=Path, help="sound procedures (by default those of the checkout)")
    parser.add_argument("--most", type=int, help="plant at most so many faults of a rule in a procedure")
    parser.add_argument("--rule", action="append", help="only this rule; may be given again")
    args = parser.parse_args(words)
    known = sorted({*PLANTERS, *WORD_PLANTERS})
    unknown = sorted(set(args.rule or ()) - set(known))
    if unknown:
        parser.error(f"no planter for {', '.join(unknown)}")
    rules = sorted(set(args.rule)) if args.rule else known
    paths = [path.resolve() for path in args.files] or sound_files()
    cells, noise = matrix(paths, rules, args.most)
    for line in table(cells, paths, rules):
        print(line)
    amiss = [(path, told) for (_, path), cell in cells.items() for told in cell.trouble]
    for told in noise:
        print(f"not silent: {told}")
    for path, told in amiss:
        print(f"{path.parent.name}/{path.name}: {told}")
    never = [rule for rule in rules if not any(cells.get((rule, path), Cell()).planted for path in paths)]
    if never:
        print(f"planted nowhere: {', '.join(never)}")
    return 1 if amiss or noise else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
