"""What was understood of a draft, step by step: for people, and as plain values for programs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from torquewright.reading.job import Job
from torquewright.reading.kept import ReadAction, ReadSentence
from torquewright.reading.wording import amount
from torquewright.records import Action
from torquewright.report.excerpt import clean
from torquewright.report.terminal import Look
from torquewright.sentences.deeds import Deed

_MODES = {"do_not": "do not ", "if": "if so, ", "mentioned_only": "only mentioned: ", "stated_passively": ""}
_MANNER = {"read": "go", "in part": "ask first", "unread": "no-go"}


def understood_lines(job: Job, look: Look) -> Iterator[str]:
    """The reading of a draft, line by line, without line ends. For a TOML job only its steps."""
    if job.procedure is None:
        return
    yield clean(f"{job.file} ({job.procedure.title})" if job.procedure.title else job.file)
    draft = job.draft
    if draft is None:
        return
    counts = {"read": 0, "in part": 0, "unread": 0}
    if job.procedure.given:
        given = ", ".join(_verb_and_thing(action.verb, action.what) for action in job.procedure.given)
        yield f"before step 1, taken as done: {given}"
    for step in draft.steps:
        yield ""
        section = f" ({clean(step.item.section)})" if step.item.section else ""
        yield look.paint(f"step {clean(step.item.label)}{section}", "strong")
        for sentence in step.sentences:
            counts[sentence.status] += 1
            yield from _sentence(sentence, job, look)
    for notice in draft.notices:
        yield ""
        place = draft.document.place(notice.notice.start, notice.notice.end)
        yield look.paint(f"{clean(notice.notice.signal) or 'aside'} at line {place.line}", "strong")
        for sentence in notice.sentences:
            yield from _sentence(sentence, job, look)
    yield ""
    told = ", ".join(f"{number} {name}" for name, number in counts.items() if number)
    yield f"sentences in steps: {told or 'none'}"
    if job.catalogue.unrecorded:
        yield from look.paragraph("in no record:", clean(", ".join(job.catalogue.unrecorded)))


def _sentence(sentence: ReadSentence, job: Job, look: Look) -> Iterator[str]:
    reading = sentence.sentence
    mark = "" if sentence.status == "read" else look.paint(f"{sentence.status}: ", _MANNER[sentence.status])
    yield from look.paragraph("", mark + clean(" ".join(reading.text.split())))
    for held in sentence.actions:
        yield f"      → {clean(action_line(held))}"
    for doubt in sentence.doubts:
        yield f"      ? {clean(doubt)}"
    assert job.draft is not None
    if reading.leftover and sentence.status != "read":
        shadow = job.draft.blocks.shadow
        left = ", ".join(f'"{" ".join(shadow[start:end].split())}"' for start, end in reading.leftover)
        yield f"      left over: {clean(left)}"


def _verb_and_thing(verb: str, what: str) -> str:
    return f"{verb.replace('_', ' ')} {what}".strip()


def action_line(held: ReadAction) -> str:
    """One action in a line: mode, verb, number, state, thing, figure, tool."""
    action = held.action
    words = [_MODES.get(action.mode, "") + action.verb.replace("_", " ")]
    if action.count is not None:
        words.append(str(action.count))
    if action.state and not action.what.startswith(f"{action.state} "):
        words.append(action.state.replace("_", " "))
    if action.what:
        words.append(action.what)
    if action.of:
        words.append(f"of {action.of}")
    if action.washer is not None:
        use = action.washer
        number = "" if use.count is None else f"{use.count} "
        words.append(f"with {number}{use.state + ' ' if use.state else ''}{use.kind + ' ' if use.kind else ''}washer")
    if action.to is not None:
        words.append(f"to {action.to.text}" if action.verb != "tighten_angle" else f"by {action.to.text}")
    if action.with_what:
        words.append(f"with {action.with_what}")
    if action.amount is not None:
        words.append(amount(action))
    if action.tool:
        words.append(f"using {action.tool}")
    if action.order:
        words.append(f"in order {action.order}")
    if action.by_hand:
        words.append("by hand")
    return " ".join(words)


def understood_part(job: Job) -> dict[str, Any]:
    """The reading as plain values: ``steps[].sentences[]`` with text, place, status, actions and leftover."""
    draft = job.draft
    steps: list[dict[str, Any]] = []
    notices: list[dict[str, Any]] = []
    if draft is not None:
        for step in draft.steps:
            steps.append(
                {
                    "label": step.item.label,
                    "section": step.item.section,
                    "sentences": [_plain(sentence, job) for sentence in step.sentences],
                }
            )
        for notice in draft.notices:
            notices.append(
                {
                    "signal": notice.notice.signal,
                    "step": notice.notice.step,
                    "before": notice.notice.before,
                    "sentences": [_plain(sentence, job) for sentence in notice.sentences],
                }
            )
    elif job.procedure is not None:
        steps = [
            {
                "label": step.label,
                "section": step.section,
                "sentences": [],
                "actions": [_action(action, job) for action in step.actions],
            }
            for step in job.procedure.steps
        ]
    title = job.procedure.title if job.procedure is not None else ""
    return {
        "file": job.file,
        "title": title,
        "steps": steps,
        "notices": notices,
        "in_no_record": list(job.catalogue.unrecorded),
    }


def _plain(sentence: ReadSentence, job: Job) -> dict[str, Any]:
    draft = job.draft
    assert draft is not None
    reading = sentence.sentence
    shadow = draft.blocks.shadow
    return {
        "text": draft.document.text[reading.start : reading.end],
        "place": _place(job, reading.start, reading.end),
        "status": sentence.status,
        "actions": [_read_action(held, job) for held in sentence.actions]
        or [_noted(deed) for deed in reading.told if deed.lemma == "note"],
        "leftover": [{"text": shadow[start:end], "place": _place(job, start, end)} for start, end in reading.leftover],
        "questions": list(sentence.doubts),
    }


def _place(job: Job, start: int, end: int) -> dict[str, Any]:
    assert job.draft is not None
    return job.draft.document.place(start, end)._asdict()


def _read_action(held: ReadAction, job: Job) -> dict[str, Any]:
    plain = _action(held.action, job)
    deed = held.deed
    plain["verb"] = deed.verb if deed.verb != "repeat" or held.sentence is not None else held.action.verb
    if deed.thing is not None:
        plain["object"] = deed.thing.text
    return plain


def _action(action: Action, job: Job) -> dict[str, Any]:
    """One action; ``joint`` is the id of a fastener or seal, None where it is done to something else."""
    joint = action.of or action.what
    known = job.catalogue.fastener(joint) is not None or job.catalogue.seal(joint) is not None
    return {
        "verb": action.verb,
        "mode": action.mode,
        "joint": joint if known else None,
        "object": action.what or None,
        "count": action.count,
        "state": action.state or None,
        "tightening": action.to.text if action.to is not None else None,
        "tool": action.tool or None,
        "amount": amount(action).removeprefix("for ").strip("()") or None,
    }


def _noted(deed: Deed) -> dict[str, Any]:
    """A statement that demands nothing."""
    words = deed.thing.text if deed.thing is not None else None
    return {
        "verb": deed.verb,
        "mode": deed.mode,
        "joint": None,
        "object": words,
        "count": None,
        "state": None,
        "tightening": None,
        "tool": None,
        "amount": None,
    }
