"""Safe edits of a procedure's text: a unit spelled properly, the other unit added, a count named, a warning moved.

A number is never changed. Whatever is applied reads back to the same procedure, and a second run changes nothing;
an edit that would not is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from attrs import evolve

from torquewright.base.document import Document
from torquewright.notation.spelling import tokens
from torquewright.notation.tightening import find_tightenings
from torquewright.notation.unit_words import torque_unit_at
from torquewright.notation.writing import torque_text
from torquewright.reading.job import Job
from torquewright.reading.wording import number_word
from torquewright.records import Action, Procedure, Stage, Tightening

_SIMPLE = frozenset({"single", "range", "tolerance", "minimum", "maximum"})
_IMPERIAL = frozenset({"lbf·ft", "lbf·in", "ozf·in"})
_SMALL = 20.0  # N·m; below it the other system is told in inch pounds, as wrenches of that size are marked
_NAMED_COUNT = frozenset(
    "loosen remove discard install reuse replace hand_start seat tighten tighten_angle retighten".split()
)


class Edit(NamedTuple):
    """Replace the characters ``start`` to ``end`` of the procedure's document with ``new``; ``why`` in a few words,
    "" for the second half of a move."""

    start: int
    end: int
    new: str
    why: str


class Rewrite(NamedTuple):
    """The text after the edits that held, those edits, and the text before."""

    before: str
    after: str
    edits: tuple[Edit, ...]


def rewrite(job: Job, *, read_again: ReadAgain) -> Rewrite:
    """Rewrite the procedure of a job. ``read_again`` reads a text as the job's own file was read.

    All edits are tried together; where the result does not read back to the same procedure, they are tried one by
    one and only those that hold are kept. Raises ValueError for a job without a document.
    """
    document = job.places.document("procedure")
    if document is None or job.procedure is None:
        raise ValueError("this job has no text to rewrite")
    wanted = list(edits(job))
    text = document.text
    plain = meaning(job.procedure)
    kept: list[Edit] = []
    for batch in ([wanted], [[edit] for edit in wanted]):
        kept = []
        for some in batch:
            after = applied(text, [*kept, *some])
            again = read_again(after)
            if again is not None and meaning(again) == plain:
                kept += some
        if kept or not wanted:
            break
    return Rewrite(text, applied(text, kept), tuple(sorted(kept)))


class ReadAgain:
    """Reads a changed text the way a job was read: same name, same records from outside, same ``texts``."""

    def __init__(
        self,
        file: str,
        *,
        catalogue: str | None = None,
        tools: str | None = None,
        kit: str | None = None,
        texts: Mapping[str, str] | None = None,
    ) -> None:
        self.file = file
        self.texts = texts
        self.records = {"catalogue": catalogue, "tools": tools, "kit": kit}

    def __call__(self, text: str) -> Procedure | None:
        """The procedure of ``text``, or None when it cannot be read."""
        from torquewright.base.trouble import InputTrouble
        from torquewright.reading.files import read_job

        try:
            return read_job(self.file, text=text, texts=self.texts, **self.records).procedure
        except InputTrouble:
            return None


def applied(text: str, wanted: list[Edit]) -> str:
    """``text`` with the edits put in; of two that overlap the earlier one is taken."""
    parts: list[str] = []
    at = 0
    for edit in sorted(wanted):
        if edit.start < at:
            continue
        parts += [text[at : edit.start], edit.new]
        at = edit.end
    return "".join((*parts, text[at:]))


def meaning(procedure: Procedure) -> Procedure:
    """The procedure without what a rewrite may change: sentences, spellings, second units, where warnings stand."""
    return evolve(
        procedure,
        steps=tuple(
            evolve(step, say="", actions=tuple(_plain(action) for action in step.actions)) for step in procedure.steps
        ),
        given=tuple(_plain(action) for action in procedure.given),
        messages=tuple(sorted((evolve(held, step=0, before=True) for held in procedure.messages), key=repr)),
    )


def _plain(action: Action) -> Action:
    # A count that was named is the one every position of the record already meant.
    return evolve(action, to=_figures(action.to), setting=_figures(action.setting), count=None, note="")


def _figures(held: Tightening | None) -> Tightening | None:
    if held is None:
        return None
    stages = tuple(_rounded(stage) for stage in held.stages)
    kind = "single" if held.kind == "dual_unit" else held.kind
    return Tightening("", "single" if kind in _SIMPLE else kind, stages, added=held.added)


def _rounded(stage: Stage) -> Stage:
    torque = stage.torque
    return stage if torque is None else evolve(stage, torque=evolve(torque, half=round(torque.half, 9)))


def edits(job: Job) -> Iterator[Edit]:
    """Every edit that would be an improvement, in no order; whether it is safe is for :func:`rewrite` to try."""
    document = job.places.document("procedure")
    if document is None or job.procedure is None:
        return
    seen: set[int] = set()
    for index, step in enumerate(job.procedure.steps):
        for number, action in enumerate(step.actions):
            if action.to is None or action.mode == "mentioned_only":
                continue
            place = job.places.find(("step", index, "do", number, "to"))
            if place is None or place.file != document.name:
                continue
            start = document.offset(place.line, place.column)
            end = document.offset(place.end_line, place.end_column)
            for edit in _units(document.text, start, end):
                if edit.start not in seen:
                    seen.add(edit.start)
                    yield edit
    if job.draft is not None:
        yield from _counts(job)
        yield from _warnings(job, document)


def _units(text: str, start: int, end: int) -> Iterator[Edit]:
    """Units spelled properly, and the other system's figure behind a figure that stands alone."""
    for found in find_tightenings(text, start, end):
        held = found.tightening
        if held.doubt:
            continue
        written = text[found.start : found.end]
        for at, stop, name in _spelled(written):
            if written[at:stop] != name:
                yield Edit(found.start + at, found.start + stop, name, f"{written[at:stop]} is written {name}")
        torque = held.torque
        if held.kind in _SIMPLE and len(held.stages) == 1 and torque is not None and torque.unit and not held.added:
            other = "N·m"
            if torque.unit not in _IMPERIAL:
                other = "lbf·in" if (torque.target or 0.0) < _SMALL else "lbf·ft"
            if held.kind in ("minimum", "maximum"):
                continue
            yield Edit(found.end, found.end, f" ({torque_text(torque, other)})", f"the same in {other}")


def _spelled(written: str) -> Iterator[tuple[int, int, str]]:
    """(start, end, proper name) of each torque unit in a notation that can be spelled properly without a number."""
    held = tokens(written)
    at = 0
    while at < len(held):
        unit = torque_unit_at(held, at) if at and held[at].kind in ("word", "sign") else None
        if unit is None or not unit.name:
            at += 1
            continue
        if unit.scale == 1.0 and not unit.doubt:
            start, stop = held[at].start, held[unit.after - 1].end
            space = "" if start == 0 or written[start - 1].isspace() else " "
            if written[start] == "-":
                space, start = " ", start
            yield start, stop, space + unit.name
        at = unit.after


def _counts(job: Job) -> Iterator[Edit]:
    """ "the screws" becomes "the six screws" where the record says six and the step means them all."""
    assert job.draft is not None
    text = job.draft.document.text
    for step in job.draft.steps:
        for sentence in step.sentences:
            for held in sentence.actions:
                action, thing = held.action, held.deed.thing
                record = job.catalogue.fastener(action.what)
                if thing is None or held.sentence is None or record is None or record.count is None:
                    continue
                if thing.count is not None or thing.quantifier or thing.pronoun or not thing.plural or thing.sizes:
                    continue
                if record.count < 2 or action.count is not None or action.verb not in _NAMED_COUNT or action.of:
                    continue
                if action.mode not in ("do", "stated_passively"):
                    continue
                if text[max(0, thing.start - 4) : thing.start].lower() == "the " and job.catalogue.recorded(record.id):
                    word = number_word(record.count)
                    yield Edit(thing.start, thing.start, f"{word} ", f"the record counts {word}")


def _warnings(job: Job, document: Document) -> Iterator[Edit]:
    """A warning that stands below the step it is about is moved ahead of it."""
    from torquewright.bench import play
    from torquewright.rules import DETECTORS

    if job.draft is None or job.procedure is None:
        return
    work = DETECTORS.get("warning-after-the-step")
    if work is None:
        return
    steps = job.draft.steps
    taken: set[tuple[int, int]] = set()
    for finding in work(play(job.procedure, job.catalogue, job.draft)):
        index = finding.step
        if index is None or not 0 <= index < len(steps):
            continue
        here = _line_start(document.text, steps[index].item.start)
        for held in job.draft.notices:
            notice = held.notice
            span = _block(document.text, notice.start, notice.end)
            if span in taken or span[0] <= here or notice.step != index or notice.before:
                continue
            block = document.text[span[0] : span[1]]
            if not all(line.lstrip().startswith(">") for line in block.strip().splitlines()):
                continue  # only a block quote can be moved as it stands
            taken.add(span)
            moved = "\n".join(line.strip() for line in block.strip().splitlines())
            ahead = "" if document.text[:here].endswith("\n\n") or here == 0 else "\n"
            yield Edit(here, here, f"{ahead}{moved}\n\n", "the warning goes ahead of its step")
            yield Edit(span[0], span[1], "", "")  # told with the other half of the move


def _line_start(text: str, at: int) -> int:
    return text.rfind("\n", 0, at) + 1


def _block(text: str, start: int, end: int) -> tuple[int, int]:
    """The whole lines of a block, with one empty line behind it."""
    first = _line_start(text, start)
    last = text.find("\n", end - 1 if text[end - 1 : end] == "\n" else end)
    stop = len(text) if last < 0 else last + 1
    if text[stop : stop + 1] == "\n":
        stop += 1
    return first, stop
