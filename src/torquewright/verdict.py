"""Where fact meets text: findings become remarks with a place and words, and remarks become a verdict."""

from __future__ import annotations

from os import PathLike, fspath
from typing import NamedTuple

from torquewright.base.document import Document, Place, Places
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.bench import play
from torquewright.book.texts import CONSEQUENCES, GRAVE, RuleText, rule_text
from torquewright.book.wording import fill
from torquewright.reading.job import Job, Unread
from torquewright.records import Catalogue, Procedure
from torquewright.rules import detect
from torquewright.rules.finding import Finding
from torquewright.weighing import Remark, RestsOn, SetAside, Verdict, rests_on_of, weigh

_WORST_FIRST = tuple(CONSEQUENCES)
_UNREAD = "unread-where-it-matters"

__all__ = ["CAUTION", "Remark", "Report", "RestsOn", "SetAside", "Verdict", "check", "check_job", "check_records"]

CAUTION = (
    "This looks at the text and the records it was given, nothing else. Work to the maker's current service data and "
    "the local codes, and leave to licensed people what is theirs. A clean result is no proof of safety."
)


class Report(NamedTuple):
    """The outcome for one document. ``documents`` holds the texts the places point into, by name; ``job`` is what was
    judged, for whoever shows more of it."""

    file: str
    title: str
    verdict: Verdict
    unread: tuple[Unread, ...]
    documents: dict[str, Document]
    job: Job | None = None

    @property
    def findings(self) -> tuple[Remark, ...]:
        """The remarks in the order of harm."""
        return self.verdict.remarks

    @property
    def untold(self) -> tuple[Unread, ...]:
        """The sentences that matter and were not read, without those a finding tells of already."""
        remarks = (*self.verdict.remarks, *(held.remark for held in self.verdict.set_aside))
        told = [remark.place for remark in remarks if remark.rule == _UNREAD and remark.place is not None]
        return tuple(
            sentence for sentence in self.unread
            if sentence.matters and not any(_within(sentence.place, place) for place in told)
        )  # fmt: skip


def _within(inner: Place, outer: Place) -> bool:
    return (
        inner.file == outer.file
        and (outer.line, outer.column) <= (inner.line, inner.column)
        and (inner.end_line, inner.end_column) <= (outer.end_line, outer.end_column)
    )


def check(
    path: str | PathLike[str] = "-",
    *,
    text: str | None = None,
    catalogue: str | PathLike[str] | None = None,
    tools: str | PathLike[str] | None = None,
    kit: str | PathLike[str] | None = None,
) -> Report:
    """Read a procedure, play it through and judge it.

    ``path`` names a TOML procedure or a Markdown draft; with ``text`` given the text is taken instead and ``path``
    is only its name (``"-"``: whether it is TOML or a draft is told from the text). ``catalogue``, ``tools`` and
    ``kit`` name files to use in place of those the procedure names. Raises InputTrouble with every fault of the
    input.
    """
    from torquewright.reading.files import read_job  # records built without a file are judged without a reader

    return check_job(read_job(fspath(path), catalogue=_path(catalogue), tools=_path(tools), kit=_path(kit), text=text))


def _path(name: str | PathLike[str] | None) -> str | None:
    return None if name is None else fspath(name)


def check_job(job: Job) -> Report:
    """Play and judge a job that has been read. Raises InputTrouble when it holds records and no step."""
    return report(job, detect(play(procedure_of(job), job.catalogue, job.draft)))


def procedure_of(job: Job) -> Procedure:
    """The procedure of a job; InputTrouble when its file holds records only."""
    if job.procedure is None:
        document = job.places.document("procedure") or next(iter(job.documents.values()), Document(job.file, ""))
        fault = Fault(
            document.whole(),
            "there is no step in this file, only records",
            document.line(1),
            "a procedure with [[step]] tables, and this file as its catalogue (--catalogue)",
        )
        raise InputTrouble([fault], job.documents)
    return job.procedure


def check_records(procedure: Procedure, catalogue: Catalogue) -> Verdict:
    """Judge records that were built without a file; the remarks carry no places."""
    findings = detect(play(procedure, catalogue))
    return _judged(procedure, catalogue, Places(), (), findings)


def report(job: Job, findings: list[Finding]) -> Report:
    """The report on a job that has been read, given what the rules found."""
    return Report(job.file, procedure_of(job).title, judge(job, findings), job.unread, job.documents, job)


def judge(job: Job, findings: list[Finding]) -> Verdict:
    """Weigh ``findings`` and what was left unread into a verdict."""
    return _judged(procedure_of(job), job.catalogue, job.places, job.unread, findings)


def _judged(
    procedure: Procedure,
    catalogue: Catalogue,
    places: Places,
    unread: tuple[Unread, ...],
    findings: list[Finding],
) -> Verdict:
    ranked = []
    for finding in findings:
        remark = _unsure(_remark(finding, procedure, catalogue, places), unread)
        ranked.append((_rank(remark, finding), remark, let_stand(finding, procedure)))
    ranked.sort(key=lambda held: held[0])
    remarks = tuple(remark for _, remark, because in ranked if not because)
    set_aside = tuple(SetAside(remark, "accepted", because) for _, remark, because in ranked if because)
    return weigh(remarks, rests_on_of(procedure, catalogue, unread), unread, set_aside)


def _unsure(remark: Remark, unread: tuple[Unread, ...]) -> Remark:
    """A remark on what no step says of a joint: not certain where a sentence speaks of the joint and was not read."""
    if remark.certainty == "unstated" or not remark.joint or not rule_text(remark.rule).silence:
        return remark
    held = next((held for held in unread if held.matters and remark.joint in held.about), None)
    if held is None:
        return remark
    open_to = f"What stands in line {held.place.line} speaks of it and was not understood; it may say so."
    return remark._replace(certainty="unstated", because=f"{remark.because} {open_to}".strip())


def let_stand(finding: Finding, procedure: Procedure) -> str:
    """The reason why the writer lets the finding stand; "" when nobody does, or gives no reason."""
    step = finding.step
    accepted = procedure.accepted
    if step is not None:
        accepted = procedure.steps[step].accepted if 0 <= step < len(procedure.steps) else ()
    return next((held.because.strip() for held in accepted if held.rule == finding.rule), "")


def _rank(remark: Remark, finding: Finding) -> tuple[int, int, int, int, int, str]:
    """The order of harm, then of place."""
    step = -1 if finding.step is None else finding.step
    line, column = (remark.place.line, remark.place.column) if remark.place else (0, 0)
    sure = ("certain", "likely", "unstated").index(remark.certainty)
    return _WORST_FIRST.index(remark.consequence), step, line, column, sure, remark.rule


def _remark(finding: Finding, procedure: Procedure, catalogue: Catalogue, places: Places) -> Remark:
    rule = rule_text(finding.rule)

    def name(key: str) -> str:
        return _name(catalogue, key)

    def label(step: int) -> str:
        return procedure.steps[step].label if 0 <= step < len(procedure.steps) else "?"

    facts = {"joint": finding.joint, "step": -1 if finding.step is None else finding.step, **finding.facts}
    kinds = {"joint": "name", "step": "step", **rule.facts}
    wording = rule.wording(finding.form)

    def say(part: str) -> str:
        return fill(wording.get(part, ""), facts, kinds, finding.unit, name, label)

    also = tuple(place for part, path in finding.also if (place := places.find(path, part)) is not None)
    return Remark(
        rule.id,
        rule.title,
        _consequence(rule, finding, catalogue),
        finding.certainty,
        "" if finding.step is None else label(finding.step),
        finding.joint,
        places.find(finding.path, finding.part),
        also,
        say("fault"),
        rule.reason,
        say("because"),
        say("instead"),
        rule.cited,
    )


def _consequence(rule: RuleText, finding: Finding, catalogue: Catalogue) -> str:
    """The rule's consequence; on a joint whose record says its failure can hurt somebody, a grave one is injury."""
    if rule.consequence in GRAVE:
        fastener = catalogue.fastener(finding.joint)
        if fastener is not None and fastener.safety:
            return "injury"
    return rule.consequence


def _name(catalogue: Catalogue, key: str) -> str:
    record = catalogue.fastener(key) or catalogue.seal(key) or catalogue.fluid(key) or catalogue.tool(key)
    if record is not None:
        return record.name
    return next((part.name for part in catalogue.parts if part.id == key), key)
