"""Tightening demands whose words make no torque: a unit that is none, a vague word, a figure for no part."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from torquewright.bench import Event, Trace
from torquewright.records import Tightening
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.judging import judge
from torquewright.rules.registry import detector
from torquewright.rules.spot import at, fastener_place
from torquewright.rules.statements import valueless
from torquewright.rules.terminals import marked_terminal
from torquewright.rules.writing_text import DONE, Told, recorded_as, sentences, span, words_behind

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.base.document import Path
    from torquewright.reading.draft_tables import Row
    from torquewright.sentences.deeds import Deed

UNIT = "unit-not-a-torque"
VAGUE = "vague-tightening"
PARTLESS = "torque-without-part"

_PULLS = frozenset({"tighten", "retighten"})
_NO_TORQUE = {
    "lb": "{0} lbf·ft or {0} lbf·in", "lbs": "{0} lbf·ft or {0} lbf·in", "lb.": "{0} lbf·ft or {0} lbf·in",
    "pound": "{0} lbf·ft or {0} lbf·in", "n": "{0} N·m", "newton": "{0} N·m", "kg": "{0} kgf·m or {0} kgf·cm",
    "kilo": "{0} kgf·m or {0} kgf·cm", "ft": "{0} lbf·ft", "ft.": "{0} lbf·ft", "foot": "{0} lbf·ft",
    "feet": "{0} lbf·ft",
    "in.": "{0} lbf·in", "": "{0} N·m, {0} lbf·ft or {0} lbf·in",
}  # fmt: skip
"""Words put behind a figure that make no torque, with the torques they may stand for."""


class _Unfit(NamedTuple):
    """A figure whose unit is no torque: its words, what they could mean, where they stand."""

    words: str
    readings: str
    path: Path
    sure: Certainty
    form: str


# ---- units ----------------------------------------------------------------------------------------------------


@detector(UNIT)
def unit_not_a_torque(trace: Trace) -> Iterator[Finding]:
    """A tightening figure has no unit, or one that is no torque."""
    if trace.draft is None:
        return
    for event, unfit in _unfit(trace):
        joint = event.joint
        facts: dict[str, Fact] = {"words": unfit.words, "readings": unfit.readings}
        also: tuple[tuple[str, Path], ...] = ()
        form = unfit.form
        if joint is not None and joint.tightening is not None and joint.tightening.has_value:
            facts["wanted"] = joint.tightening.text
            also = (fastener_place(joint.id, "tightening"),)
        elif not form:
            form = "no-record"
        yield Finding(UNIT, unfit.sure, event.step, joint.id if joint else "", facts, unfit.path, also=also, form=form)
    for row in trace.draft.rows:
        yield from _in_a_cell(row, recorded_as(row.record, trace.catalogue))


def _unfit(trace: Trace) -> list[tuple[Event, _Unfit]]:
    """Every pull whose figure is no torque as it is written; a figure for several joints counts once."""
    held = trace.worked.get("unfit")
    if held is None:
        found: dict[Path, tuple[Event, _Unfit]] = {}
        for event in trace.events:
            unfit = _of(trace, event) if event.verb in _PULLS and event.step >= 0 else None
            if unfit is not None:
                found.setdefault(unfit.path, (event, unfit))
        held = trace.worked["unfit"] = list(found.values())
    return held  # type: ignore[return-value]  # kept under this name by nobody else


def _of(trace: Trace, event: Event) -> _Unfit | None:
    to = event.action.to
    behind = words_behind(trace, event)
    if behind is None:
        return None
    deed = behind[1].deed
    if to is None:
        return _bare_figure(trace, deed) if not deed.torques else None
    unfit = _unfit_reading(to, (*event.path, "to")) if deed.torques else None  # else taken over from another step
    if unfit is not None and unfit.form == "quotient" and _out_anyway(trace, event):
        return None
    return unfit


def _out_anyway(trace: Trace, event: Event) -> bool:
    """Whether the figure is wrong even as the product it stands for, which a rule on values tells."""
    return any(slip.pull.event is event for slip in judge(trace).slips)


def _unfit_reading(to: Tightening, path: Path) -> _Unfit | None:
    """What was read as a figure with a unit that is none (``30 lbs``), or with a quotient (``47 ft/lb``)."""
    torque = to.torque
    if torque is None:
        return None
    if not torque.unit:
        figure = f"{torque.target:g}" if torque.target is not None else ""
        return _Unfit(
            to.text.rstrip("."), " or ".join(to.readings) or _NO_TORQUE[""].format(figure), path, "certain", ""
        )
    if " meant" in to.doubt and to.readings:
        return _Unfit(to.text, " or ".join(to.readings), path, "unstated", "quotient")
    return None


def _bare_figure(trace: Trace, deed: Deed) -> _Unfit | None:
    """ "to 45", "to 20 lbs", "to 14 pounds": a figure where the torque should stand."""
    assert trace.draft is not None
    if deed.tool is not None and deed.tool.range is not None:
        return None  # the unit is that of the scale
    text = trace.draft.document.text
    for small, held in deed.clause.preps:
        if small not in ("to", "up to", "at", "of") or held is None:
            continue
        words = text[held.start : held.end].rstrip(".,;")
        figure = words.split()[0].rstrip("lbsLBSNkgft.") if words else ""
        if not figure or not all(sign.isdigit() or sign in ".,–-" for sign in figure):
            continue
        unit = words[len(figure) :].strip(" -").lower().rstrip("s.") if len(words) > len(figure) else ""
        if (unit == "" and "°" not in words) or unit in _NO_TORQUE:
            return _Unfit(
                words, _NO_TORQUE[unit].format(figure), span(held.start, held.start + len(words)), "certain", ""
            )
    return None


def _in_a_cell(row: Row, joint: str) -> Iterator[Finding]:
    """A figure in the draft's own table, with no unit beside it nor in the heading."""
    cell = row.cells.get("torque")
    if cell is None or not any(sign.isdigit() for sign in cell.text):
        return
    to = row.tightening
    unfit = _unfit_reading(to, span(cell.start, cell.end)) if to is not None else None
    if to is None and all(sign.isdigit() or sign in " .,–-+±to/()" for sign in cell.text.lower()):
        unfit = _Unfit(cell.text, _NO_TORQUE[""].format(cell.text), span(cell.start, cell.end), "certain", "")
    if unfit is not None:
        facts: dict[str, Fact] = {"words": unfit.words, "readings": unfit.readings}
        yield Finding(UNIT, unfit.sure, None, joint, facts, unfit.path, form=unfit.form or "no-record")


# ---- vague words ----------------------------------------------------------------------------------------------

_LOOSE_WORDS = frozenset(
    "securely secure firmly firm tightly tight well properly adequately sufficiently snug snugly hard moderately "
    "reasonably gently lightly carefully enough good nicely correctly fully normally comfortably".split()
)
_ABOUT = ("about", "approximately", "approx", "approx.", "roughly", "around", "circa", "ca.", "some", "~", "nearly")


@detector(VAGUE)
def vague_tightening(trace: Trace) -> Iterator[Finding]:
    """The last pull on a joint has a word such as "securely" in place of a figure, or a figure that is only about."""
    if trace.draft is None:
        return
    for event, words, about in _vague(trace):
        joint = event.joint
        facts: dict[str, Fact] = {"words": words}
        also: tuple[tuple[str, Path], ...] = ()
        form = "about" if about else ""
        recorded = joint is not None and joint.tightening is not None and joint.tightening.has_value
        if joint is not None and joint.tightening is not None and recorded:
            facts["wanted"] = joint.tightening.text
            also = (fastener_place(joint.id, "tightening"),)
        else:
            form = "about-no-record" if about else "no-record"
        sure: Certainty = "certain" if recorded and not about else "unstated"
        yield at(VAGUE, sure, event, joint.id if joint else "", facts, form, "to" if about else "", also)


def _vague(trace: Trace) -> list[tuple[Event, str, bool]]:
    """(event, the vague words, whether they soften a figure) of every pull that ends on such words."""
    held = trace.worked.get("vague")
    if held is None:
        held = trace.worked["vague"] = [*_worded(trace), *_softened(trace)]
    return held  # type: ignore[return-value]  # kept under this name by nobody else


def _worded(trace: Trace) -> Iterator[tuple[Event, str, bool]]:
    unfit = {event.order for event, _ in _unfit(trace)}
    for track, pull in valueless(trace):
        event = pull.event
        if marked_terminal(track.fastener):
            continue  # told as a terminal done by feel, whatever the words
        by_hand = track.fastener.tightening is not None and track.fastener.tightening.kind == "hand_tight"
        behind = words_behind(trace, event) if event.order not in unfit and not by_hand else None
        if behind is None:
            continue
        told, made = behind
        said = [word for phrase in (*made.deed.said, *made.deed.clause.particles) for word in phrase.split()]
        rest = [
            word.text
            for word in told.read.sentence.words
            if word.start > made.deed.start and word.text.startswith("snug")
        ]
        loose = [word for word in (*said, *rest) if word in _LOOSE_WORDS]
        if loose:
            yield event, " ".join(dict.fromkeys(loose)), False


def _softened(trace: Trace) -> Iterator[tuple[Event, str, bool]]:
    for event in trace.events:
        to = event.action.to
        if to is not None and event.verb in _PULLS and event.step >= 0 and to.text.lower().startswith(_ABOUT):
            yield event, to.text.rstrip("."), True


def told_by_words(trace: Trace) -> frozenset[int]:
    """The events (by order) whose words are the concern of this module, and of no other rule on figures."""
    unfit = (
        event.order
        for event in trace.events
        if event.action.to is not None and _unfit_reading(event.action.to, ()) is not None
    )
    bare = (event.order for event, _ in _unfit(trace))
    return frozenset((*unfit, *bare, *(event.order for event, _, about in _vague(trace) if not about)))


# ---- no part --------------------------------------------------------------------------------------------------


@detector(PARTLESS)
def torque_without_part(trace: Trace) -> Iterator[Finding]:
    """A torque is demanded, and the text does not say of which joint."""
    if trace.draft is None:
        return
    for told in sentences(trace):
        for place, held in enumerate(told.read.actions):
            action = held.action
            if action.verb not in _PULLS or action.mode not in DONE or action.to is None or not action.to.has_value:
                continue
            if trace.catalogue.fastener(action.of or action.what) is not None:
                continue
            yield _partless(told, place, action.what, action.to)


def _partless(told: Told, place: int, what: str, to: Tightening) -> Finding:
    facts: dict[str, Fact] = {"value": to.text.rstrip(".")}
    doubt = next(
        (doubt.rstrip("?").removeprefix("is it ") for doubt in told.read.doubts if doubt.startswith("is it ")), ""
    )
    form = ""
    if doubt:
        form, facts["choice"] = "choice", doubt
    elif what:
        form, facts["words"] = "no-joint", what
    return Finding(
        PARTLESS, "unstated", told.step, "", facts, ("step", told.step, "do", told.first + place, "to"), form=form
    )
