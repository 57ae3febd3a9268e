"""What a verdict is, what it rests on, and how remarks are weighed into one word.

The policy is the one stated in specs/README.md: what a fault leads to and how sure it is decide between *go*, *ask
first* and *no-go*; what was not stated or not read is never taken for good.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from torquewright.base.document import Place
from torquewright.book.texts import CONSEQUENCES, GRAVE
from torquewright.reading.job import Unread
from torquewright.records import Catalogue, Procedure

Word = Literal["go", "ask first", "no-go"]

_MOST_NAMED = 4  # names told one by one; a longer list is a list of the whole machine
_TIGHTENS = frozenset({"seat", "tighten", "tighten_angle", "retighten"})


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


class SetAside(NamedTuple):
    """A remark that was not counted: ``why`` is "accepted" (the writer lets it stand, ``because`` of the reason
    written beside it) or "known" (it stood in the baseline)."""

    remark: Remark
    why: Literal["accepted", "known"]
    because: str


class Verdict(NamedTuple):
    """The word, the reasons for it in a few phrases, what it rests on, the remarks in the order of harm, and those
    that were set aside."""

    word: Word
    reasons: tuple[str, ...]
    rests_on: RestsOn
    remarks: tuple[Remark, ...]
    set_aside: tuple[SetAside, ...] = ()


def rests_on_of(procedure: Procedure, catalogue: Catalogue, unread: tuple[Unread, ...]) -> RestsOn:
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


def weigh(
    remarks: tuple[Remark, ...], rests_on: RestsOn, unread: tuple[Unread, ...], set_aside: tuple[SetAside, ...] = ()
) -> Verdict:
    """The verdict on remarks. What can hurt somebody and is let stand never comes to *go*, only to *ask first*."""
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
    risks = sum(1 for held in set_aside if held.why == "accepted" and held.remark.consequence == "injury")
    if risks:
        reasons.append(f"{risks} × injury let stand by the writer")
    word: Word = "no-go" if stops else "ask first" if reasons else "go"
    return Verdict(word, tuple(reasons), rests_on, remarks, set_aside)
