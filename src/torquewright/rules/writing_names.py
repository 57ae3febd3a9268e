"""Names of parts: one that stands in no record, one joint under two names, and "replace", which says two things."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from torquewright.bench import JointTrack, Trace
from torquewright.records import Catalogue, Fastener
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.spot import fastener_place
from torquewright.rules.writing_text import DONE, Told, name_of, sentences, span, words_behind

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.reading.kept import ReadAction
    from torquewright.sentences.things import Thing

UNKNOWN = "part-not-in-record"
DRIFT = "name-drift"
REPLACE = "replace-ambiguous"

_BY_HAND = ("clamp", "clip", "knob", "wing", "thumb", "strap", "tie", "guide")
_NO_NAMES = frozenset({"joint", "connection", "fastener", "fixing"})
_PULLS = frozenset({"tighten", "retighten", "tighten_angle"})

# ---- no record ------------------------------------------------------------------------------------------------


@detector(UNKNOWN)
def part_not_in_record(trace: Trace) -> Iterator[Finding]:
    """A joint is pulled to a figure under a name that no record has, although there are records."""
    if trace.draft is None or not trace.catalogue.unrecorded:
        return
    tables = {row.record.id for row in trace.draft.rows}
    known = [held for held in trace.catalogue.fasteners if trace.catalogue.recorded(held.id)]
    outside = [held for held in known if held.id not in tables]
    for key, track in trace.joints.items():
        if (
            track.recorded
            or track.fastener.name in _NO_NAMES
            or any(word in f"{track.fastener.name} {track.fastener.kind}" for word in _BY_HAND)
        ):
            continue
        near = _nearest(track.fastener.name, known)
        if not (near or outside):
            continue  # the draft's own table need not be whole
        found = _unknown(trace, key, track, near)
        if found is not None:
            yield found


def _nearest(name: str, known: list[Fastener]) -> list[str]:
    """The recorded names that ``name`` may be a slip of: likest letters, or most words shared."""
    from torquewright.notation.near import nearest  # only where a name is not known

    names = [name for held in known for name in (held.name, *held.aliases)]
    return nearest(name, names, cutoff=0.75)


def _unknown(trace: Trace, key: str, track: JointTrack, near: list[str]) -> Finding | None:
    for event in track.events:
        to = event.action.to
        if (
            event.verb not in _PULLS
            or event.action.mode not in DONE
            or to is None
            or not to.has_value
            or event.action.of
        ):
            continue
        behind = words_behind(trace, event)
        thing = behind[1].deed.thing if behind is not None else None
        if thing is not None and not thing.pronoun and thing.kind != "fastener":
            continue  # a tee or a body that takes a figure: what turns on it has another name
        path = span(thing.start, thing.end) if thing is not None and not thing.pronoun else event.path
        facts: dict[str, Fact] = {"words": track.fastener.name}
        sure: Certainty = "unstated"
        if near:
            facts["near"] = " or ".join(near)
            sure = "likely"
        return Finding(UNKNOWN, sure, event.step, key, facts, path, form="near" if near else "")
    return None


# ---- two names ------------------------------------------------------------------------------------------------

_HEADS = frozenset("screw bolt plug cap capscrew setscrew nut stud".split())
_ALIKE = frozenset("screw bolt capscrew setscrew".split())


@detector(DRIFT)
def name_drift(trace: Trace) -> Iterator[Finding]:
    """One joint goes by two names: "drain screw" in one step, "drain plug" in another."""
    if trace.draft is None:
        return
    used: dict[str, dict[str, tuple[int, Thing]]] = {}
    for told, made, thing in _full_names(trace):
        used.setdefault(made.action.what, {}).setdefault(thing.head, (told.step, thing))
    for key, heads in used.items():
        record = trace.catalogue.fastener(key)
        if record is None:
            continue
        own = _heads(record) if trace.catalogue.recorded(key) else {next(iter(heads))}
        for head, (step, thing) in heads.items():
            if head in own:
                continue
            if head in _ALIKE and own & _ALIKE and not own & heads.keys():
                continue  # "bolt" for the record's "screw" all the way through is no drift
            yield _drift(trace.catalogue, record, step, thing)


def _full_names(trace: Trace) -> Iterator[tuple[Told, ReadAction, Thing]]:
    """Every name of a joint that has words of its own, with what is done to it."""
    for told in sentences(trace):
        for made in told.read.actions:
            thing = made.deed.thing
            if thing is None or thing.pronoun or thing.head not in _HEADS or made.action.of or len(thing.parts) > 1:
                continue
            record = trace.catalogue.fastener(made.action.what)
            if record is not None and _telling(record) & set(thing.mods):
                yield told, made, thing


def _telling(record: Fastener) -> set[str]:
    """The words of a record's names but for the last of each."""
    return {word for name in (record.name, *record.aliases) for word in name.lower().split()[:-1]}


def _heads(record: Fastener) -> set[str]:
    names = (record.name, *record.aliases, record.id.replace("-", " "), record.kind)
    return {name.lower().split()[-1] for name in names if name}


def _drift(catalogue: Catalogue, record: Fastener, step: int, thing: Thing) -> Finding:
    facts: dict[str, Fact] = {"words": name_of(thing), "name": record.name.lower()}
    also = (fastener_place(record.id, "name"),) if catalogue.recorded(record.id) else ()
    return Finding(DRIFT, "likely", step, record.id, facts, span(thing.start, thing.end), also=also)


# ---- replace --------------------------------------------------------------------------------------------------


@detector(REPLACE)
def replace_ambiguous(trace: Trace) -> Iterator[Finding]:
    """ "Replace" on something that was neither taken off before nor is renewed as a matter of course."""
    if trace.draft is None:
        return
    for told in sentences(trace):
        made = [held for held in told.read.actions if held.deed.lemma == "replace"]
        doubtful = [held for held in made if held.deed.doubt == "replace" and held.action.mode in DONE]
        if not doubtful:
            continue
        at = told.first + told.read.actions.index(made[0])
        joint = next((held.action.what for held in doubtful if trace.catalogue.fastener(held.action.what)), "")
        words = " and ".join(dict.fromkeys(held.deed.thing.text for held in made if held.deed.thing is not None))
        yield Finding(REPLACE, "unstated", told.step, joint, {"words": words}, ("step", told.step, "do", at))
