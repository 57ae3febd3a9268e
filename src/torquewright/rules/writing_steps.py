"""Steps as they are written: several acts in one, tools that are on no list, sentences nobody could read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from torquewright.bench import Trace
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.writing_text import DONE, Told, plain_words, sentences, short, span

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.sentences.things import Thing

SEVERAL = "several-actions-one-step"
TOOL = "tool-not-listed"
UNREAD = "unread-where-it-matters"

# ---- several acts ---------------------------------------------------------------------------------------------

_ENERGISE = frozenset({"start", "run"})
_CLOSE = frozenset({"tighten", "tighten_angle", "fill", "install", "hand_start", "lock", "replace", "remove", "loosen"})
_OPEN = frozenset({"loosen", "remove", "disconnect"})
_IN_TURN = frozenset("then after before once when afterwards next finally until stop first while later again".split())


@detector(SEVERAL)
def several_actions_one_step(trace: Trace) -> Iterator[Finding]:
    """One sentence starts the machine "and" closes or opens a joint; or one step holds the whole work on several."""
    if trace.draft is None:
        return
    for told in sentences(trace):
        yield from _started_and_closed(trace, told)
    before: set[str] = set()
    for index, step in enumerate(trace.procedure.steps):
        if _repeats(trace, index):
            continue  # "repeat steps 2 to 7 for the other side" holds what several steps hold
        opened: set[str] = set()
        whole: list[str] = []
        for action in step.actions:
            joint = (
                action.what if action.mode in DONE and not action.of and trace.catalogue.fastener(action.what) else ""
            )
            if not joint:
                continue
            if action.verb in _OPEN and joint not in before:
                opened.add(joint)
            elif action.verb in ("tighten", "tighten_angle") and joint in opened and joint not in whole:
                whole.append(joint)
        before.update(action.what for action in step.actions)
        if len(whole) > 1:
            facts: dict[str, Fact] = {"count": len(whole), "first": whole[0], "second": whole[1]}
            yield Finding(SEVERAL, "certain", index, "", facts, ("step", index), form="whole")


def _repeats(trace: Trace, index: int) -> bool:
    assert trace.draft is not None
    if index >= len(trace.draft.steps):
        return False
    return any(held.deed.verb == "repeat" for read in trace.draft.steps[index].sentences for held in read.actions)


def _started_and_closed(trace: Trace, told: Told) -> Iterator[Finding]:
    """ "Start the pump and tighten the plug": which of the two comes first?"""
    begun = None
    for held in told.read.actions:
        verb, mode = held.action.verb, held.action.mode
        if mode not in DONE:
            continue
        if begun is None and verb in _ENERGISE and held.deed.verb != "hand_start":
            begun = held
        elif (
            begun is not None
            and held.deed.start > begun.deed.start
            and verb in _CLOSE
            and (verb == "fill" or trace.catalogue.fastener(held.action.of or held.action.what) is not None)
        ):
            between = {
                word.text for word in told.read.sentence.words if begun.deed.start <= word.start < held.deed.start
            }
            if "and" in between and not between & _IN_TURN and not between & {";", "."}:
                joint = held.action.what if trace.catalogue.fastener(held.action.what) else ""
                facts: dict[str, Fact] = {"words": short(told.read.sentence.text)}
                yield Finding(SEVERAL, "certain", told.step, joint, facts, told.span)
            return


# ---- tools ----------------------------------------------------------------------------------------------------

_SPECIAL = (
    "puller", "extractor", "multiplier", "crowfoot", "mandrel", "strap wrench", "chain wrench", "hook spanner",
    "pin spanner", "pin wrench", "c-spanner", "spring compressor", "angle gauge", "dial gauge", "dial indicator",
    "micrometer",
)  # fmt: skip
"""Tools that no shop is sure to have; sockets, keys, bits, spanners, feelers and hammers are."""


@detector(TOOL)
def tool_not_listed(trace: Trace) -> Iterator[Finding]:
    """The draft lists its tools, and a step needs a torque tool or a special tool that is not on the list."""
    draft, listed = trace.draft, trace.procedure.tools_named
    if draft is None or listed is None:
        return
    text = draft.blocks.shadow
    paper = " ".join(text[held.start : held.end] for held in draft.blocks.tools).lower().replace("feet", "foot")
    records = " ".join(
        f"{tool.name} {tool.kind}".lower()
        for tool in trace.catalogue.tools or ()
        if tool.id not in draft.tools_in_steps
    )
    seen: set[str] = set()
    for told in sentences(trace):
        named = [held.deed.tool for held in told.read.actions if held.deed.tool is not None]
        spoken = told.read.sentence.things if told.read.actions else []  # "A strap wrench is for removal."
        for thing in [*named, *(thing for thing in spoken if thing not in named)]:
            words = _not_there(trace, thing, f"{paper} {records}", told)
            if words and words not in seen:
                seen.add(words)
                yield Finding(TOOL, "certain", told.step, "", {"tool": words}, span(thing.start, thing.end))


def _not_there(trace: Trace, thing: Thing, paper: str, told: Told) -> str:
    """The words of a tool that is on no list; "" where it is, or need not be."""
    assert trace.draft is not None
    if thing.pronoun:
        return ""
    words = thing.text.lower()
    special = next((name for name in _SPECIAL if name in words.replace("-", " ") or name in words), "")
    if special:
        return "" if special in paper.replace("-", " ") or special in paper else words
    if "torque" in (*thing.mods, thing.head) or thing.range is not None:
        if thing.kind != "tool" and thing.head not in ("wrench", "driver", "screwdriver"):
            return ""
        if thing.range is not None:
            used = {held.action.tool for held in told.read.actions if held.deed.tool is thing}
            return words if used & trace.draft.tools_in_steps else ""
        return "" if "torque" in paper or "n·m" in paper or "nm" in paper else words
    return ""


# ---- not read -------------------------------------------------------------------------------------------------

_DANGER = frozenset(
    "danger warning hot pressure electric live voltage kill injure injury burn scald crush explode fire hazard".split()
)


_OTHERWISE = frozenset("plug union fitting clip connector coupler wing-nut wingnut thumbscrew hose-clip".split())
"""Heads that are as often no fastener, or one that is closed by hand."""


def _names_a_joint(thing: Thing) -> bool:
    return thing.kind == "fastener" and thing.head not in _OTHERWISE and "wing" not in thing.text


@detector(UNREAD)
def unread_where_it_matters(trace: Trace) -> Iterator[Finding]:
    """Nothing could be made of a sentence of a step, and it holds a torque, a joint or a word of danger."""
    if trace.draft is None:
        return
    for told in sentences(trace):
        read = told.read
        sentence = read.sentence
        if read.status != "unread" or sentence.signal:
            continue
        what = ""
        if any(word.found is not None and word.found.tightening.torque is not None for word in sentence.words):
            what = "a torque"
        elif plain_words(read) & _DANGER:
            what = "a word of danger"
        elif any(_names_a_joint(thing) for thing in sentence.things):
            what = "a joint"
        if what:
            facts: dict[str, Fact] = {"words": short(sentence.text), "what": what}
            yield Finding(UNREAD, "unstated", told.step, "", facts, told.span)
