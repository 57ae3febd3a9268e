"""Where fact meets text: findings become remarks with a place and words, and remarks become a verdict.

The policy is the one stated in specs/README.md: what a fault leads to and how sure it is decide between *go*, *ask
first* and *no-go*; what was not stated or not read is never taken for good.
"""

from __future__ import annotations

from os import PathLike, fspath
from typing import Literal, NamedTuple

from torquewright.base.document import Document, Place, Places
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.bench import play
from torquewright.book.texts import CONSEQUENCES, GRAVE, RuleText, rule_text
from torquewright.book.wording import fill
from torquewright.reading.job import Job, Unread
from torquewright.records import Catalogue, Procedure
from torquewright.rules import detect
from torquewright.rules.finding import Finding

Word = Literal["go", "ask first", "no-go"]

_WORST_FIRST = tuple(CONSEQUENCES)

_MOST_NAMED = 4  # names told one by one; a longer list is a list of the whole machine
_TIGHTENS = frozenset({"seat", "tighten", "tighten_angle", "retighten"})

CAUTION = (
    "This looks at the text and the records it was given, nothing else. Work to the maker's current service data and "
    "the local codes, and leave to licensed people what is theirs. A clean result is no proof of safety."
)


class Remark(NamedTuple):
    """A finding in words. ``step`` is the label of the step ("" for the procedure as a whole), ``joint`` the id
    concerned; ``place`` is None when the procedure came without a document; ``also`` are second places."""

    rule: str
    title: str
    consequence: str
    certainty: str
    step: str
    joint: str
    place: Place | None
    also: tuple[Place, ...]
    message: str
    harm: str
    because: str
    instead: str
    sources: tuple[str, ...]

    @property
    def stops(self) -> bool:
        """Whether this remark alone makes the verdict no-go."""
        return self.consequence in GRAVE and self.certainty != "unstated"


class RestsOn(NamedTuple):
    """What a verdict rests on. ``joints`` are the recorded ones the procedure touches; ``tools`` and ``kit`` count
    what was listed, None when nobody listed any; ``missing`` says in words what is not there."""

    steps: int
    steps_with_actions: int
    joints: int
    joints_with_value: int
    tightened_without_record: int
    tools: int | None
    kit: int | None
    unread: int
    policy: str
    missing: tuple[str, ...]


class Verdict(NamedTuple):
    """The word, the reasons for it in a few phrases, what it rests on, and the remarks in the order of harm."""

    word: Word
    reasons: tuple[str, ...]
    rests_on: RestsOn
    remarks: tuple[Remark, ...]


class Report(NamedTuple):
    """The outcome for one document. ``documents`` holds the texts the places point into, by name."""

    file: str
    title: str
    verdict: Verdict
    unread: tuple[Unread, ...]
    documents: dict[str, Document]

    @property
    def findings(self) -> tuple[Remark, ...]:
        """The remarks in the order of harm."""
        return self.verdict.remarks


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
    return Report(job.file, procedure_of(job).title, judge(job, findings), job.unread, job.documents)


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
    rests_on = _rests_on(procedure, catalogue, unread)
    ranked = sorted(
        ((_rank(remark, finding), remark) for finding in findings
         for remark in (_remark(finding, procedure, catalogue, places),)),
        key=lambda pair: pair[0],
    )  # fmt: skip
    remarks = tuple(remark for _, remark in ranked)
    word, reasons = _weigh(remarks, rests_on, unread)
    return Verdict(word, reasons, rests_on, remarks)


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


def _rests_on(procedure: Procedure, catalogue: Catalogue, unread: tuple[Unread, ...]) -> RestsOn:
    joints: set[str] = set()
    unknown: dict[str, None] = {}  # an ordered set: named in the order of the steps
    for step in procedure.steps:
        for action in step.actions:
            for key in (action.what, action.of):
                record = catalogue.fastener(key)
                if record is not None and catalogue.recorded(key):
                    joints.add(key)
                elif key and action.verb in _TIGHTENS and action.mode == "do":
                    unknown[record.name if record else key] = None
    bare = [record.name for record in catalogue.fasteners if record.id in joints and record.tightening is None]
    missing = []
    if unknown:
        missing.append(f"no record of {_named(list(unknown))}")
    if bare:
        missing.append(f"no recorded tightening value for {_named(bare)}")
    if catalogue.tools is None:
        missing.append("no list of tools was given, so reach and range of the wrenches were not judged")
    if catalogue.kit is None:
        missing.append("no kit was given, so nobody knows whether the new parts are at hand")
    return RestsOn(
        len(procedure.steps),
        sum(1 for step in procedure.steps if step.actions),
        len(joints),
        len(joints) - len(bare),
        len(unknown),
        None if catalogue.tools is None else len(catalogue.tools),
        None if catalogue.kit is None else len(catalogue.kit),
        len(unread),
        catalogue.policy,
        tuple(missing),
    )


def _named(names: list[str]) -> str:
    rest = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    return ", ".join(names[:_MOST_NAMED]) + rest


def _weigh(remarks: tuple[Remark, ...], rests_on: RestsOn, unread: tuple[Unread, ...]) -> tuple[Word, tuple[str, ...]]:
    stops = [remark for remark in remarks if remark.stops]
    silent = [remark for remark in remarks if remark.certainty == "unstated"]
    small = len(remarks) - len(stops) - len(silent)
    reasons = []
    for consequence in CONSEQUENCES:
        count = sum(1 for remark in stops if remark.consequence == consequence)
        if count:
            reasons.append(f"{count} × {consequence}")
    if small:
        reasons.append(f"{small} × rework or misreading")
    if silent:
        reasons.append(f"{len(silent)} × not stated")
    matters = sum(1 for sentence in unread if sentence.matters)
    if matters:
        reasons.append(f"{matters} {'sentence' if matters == 1 else 'sentences'} not read")
    nothing = ""
    if rests_on.steps_with_actions == 0:
        nothing = "no step says anything that could be judged"
    elif rests_on.tightened_without_record and not rests_on.joints:
        nothing = "there is no record of anything that is tightened"
    if nothing:
        reasons.append(nothing)
    if stops:
        return "no-go", tuple(reasons)
    if remarks or matters or nothing:
        return "ask first", tuple(reasons)
    return "go", ()
