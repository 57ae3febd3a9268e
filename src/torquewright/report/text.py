"""The report for people: findings with their place in the source, then the verdict and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from torquewright.base.document import Document, Place
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.book.texts import CONSEQUENCES
from torquewright.reading.job import Job
from torquewright.report.excerpt import clean, excerpt
from torquewright.report.terminal import Look
from torquewright.verdict import CAUTION, Remark, Report, RestsOn, SetAside

_SHORTEST_LINE = 12  # columns; less of a source line tells nothing
_SHORT_OF = {"certain": "", "likely": "likely ", "unstated": "not stated: "}


def report_lines(report: Report, look: Look) -> Iterator[str]:
    """The report on one document, line by line, without line ends."""
    for remark in report.findings:
        yield from _remark(remark, report.documents, look)
        yield ""
    for sentence in report.untold:
        yield f"{clean(str(sentence.place))}: not read: {clean(sentence.reason)}"
        yield from _source_line(report.documents, sentence.place, look)
        yield ""
    yield from _verdict(report, look)
    if report.job is not None and report.job.catalogue.tools:
        yield from _settings(report.job, frozenset((held.step, held.joint) for held in report.findings), look)


def _settings(job: Job, doubted: frozenset[tuple[str, str]], look: Look) -> Iterator[str]:
    """What to set the wrenches to; nothing where no torque tool is known."""
    from torquewright.report.settings import settings_lines  # only where tools are listed

    lines = [clean(line) for line in settings_lines(job, look.width, doubted)]
    if lines:
        yield f"  {look.paint('wrench settings:', 'strong')}"
        yield from lines


def _remark(remark: Remark, documents: Mapping[str, Document], look: Look) -> Iterator[str]:
    where = f"{clean(str(remark.place))}: " if remark.place else ""
    step = f"step {clean(remark.step)}: " if remark.step else ""
    manner = "no-go" if remark.stops else "ask first"
    kind = look.paint(f"{_SHORT_OF[remark.certainty]}{remark.consequence}", manner)
    yield f"{where}{kind}: {step}{clean(remark.message)} [{remark.rule}]"
    if remark.place:
        yield from _source_line(documents, remark.place, look)
    yield from look.paragraph("what happens:", f"{CONSEQUENCES[remark.consequence]} {remark.harm}")
    if remark.because:
        yield from look.paragraph("because:", clean(remark.because))
    for place in remark.also:
        yield from _second_place(documents, place, look)
    yield from look.paragraph("instead:", clean(remark.instead))
    yield from look.paragraph("source:", "; ".join(remark.sources))


def _source_line(documents: Mapping[str, Document], place: Place, look: Look) -> Iterator[str]:
    document = documents.get(place.file)
    if document is None:
        return
    text, carets = excerpt(document, place, look.width - 4)
    if text:
        yield f"    {text}"
        blank = len(carets) - len(carets.lstrip(" "))
        yield " " * (4 + blank) + look.paint(carets[blank:], "caret")


def _second_place(documents: Mapping[str, Document], place: Place, look: Look) -> Iterator[str]:
    document = documents.get(place.file)
    line = clean(document.line(place.line).strip()) if document else ""
    told = f"  see {clean(str(place))}"
    room = look.width - len(told) - 2  # the place itself is never cut: it is what one looks for
    if line and len(line) <= room:
        yield f"{told}: {line}"
    elif room < _SHORTEST_LINE or not line:
        yield told
    else:
        yield f"{told}: {line[: room - 1]}…"


def _verdict(report: Report, look: Look) -> Iterator[str]:
    verdict = report.verdict
    title = f" ({clean(report.title)})" if report.title else ""
    reasons = f": {', '.join(verdict.reasons)}" if verdict.reasons else ""
    yield f"{clean(report.file)}{title}"
    known = sum(1 for held in verdict.set_aside if held.why == "known")
    if known and verdict.word == "go":
        # Nothing new is not the same as sound: whoever holds the wrench must not read "go" here.
        yield f"  NOTHING NEW: {_count(known, 'finding')} of the baseline not counted; this is no go for the job"
    else:
        yield f"  {look.paint(verdict.word.upper(), verdict.word)}{reasons}"
    yield from look.paragraph("rests on:", _rests_on(verdict.rests_on))
    for missing in verdict.rests_on.missing:
        yield from look.paragraph("missing:", clean(missing))
    for held in verdict.set_aside:
        yield from look.paragraph("let stand:" if held.why == "accepted" else "known:", _set_aside(held))


def _set_aside(held: SetAside) -> str:
    remark = held.remark
    step = f"step {clean(remark.step)}: " if remark.step else ""
    because = f"; because: {clean(held.because)}" if held.because else ""
    return f"{remark.consequence}: {step}{clean(remark.message)} [{remark.rule}]{because}"


def _count(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def _rests_on(rests: RestsOn) -> str:
    told = _count(rests.steps, "step")
    if rests.steps_with_actions < rests.steps:
        told += f" ({rests.steps - rests.steps_with_actions} of them only words)"
    parts = [told, f"{_count(rests.joints, 'joint')}, {rests.joints_with_value} with a recorded value"]
    if rests.tools is not None:
        parts.append(_count(rests.tools, "tool"))
    if rests.kit is not None:
        parts.append(f"{_count(rests.kit, 'kind')} of new parts in the kit")
    if rests.unread:
        parts.append(f"{_count(rests.unread, 'sentence')} not or not wholly read")
    if rests.policy != "general":
        parts.append(f"practice: {clean(rests.policy)}")
    return "; ".join(parts)


def caution_lines(look: Look) -> Iterator[str]:
    """The closing caution."""
    yield ""
    for line in look.paragraph("", CAUTION):
        yield look.paint(line, "quiet")


def trouble_lines(trouble: InputTrouble, look: Look) -> Iterator[str]:
    """The faults of an input that cannot be read, each with its place, what was found and what to write."""
    for fault in trouble.faults:
        yield from _fault(fault, trouble.documents, look)


def _fault(fault: Fault, documents: Mapping[str, Document], look: Look) -> Iterator[str]:
    yield f"{clean(str(fault.place))}: {look.paint('cannot be read', 'no-go')}: {clean(fault.message)}"
    if fault.place.file in documents:
        yield from _source_line(documents, fault.place, look)
    elif fault.found:
        yield from look.paragraph("found:", clean(fault.found))
    if fault.wanted:
        yield from look.paragraph("instead:", clean(fault.wanted))
