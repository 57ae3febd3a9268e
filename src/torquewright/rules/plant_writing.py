"""Plants faults of writing in the words of a sound draft: what they spoil is in no record."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from torquewright.records import Catalogue, Fastener, Procedure
from torquewright.rules.registry import PlantedInWords, word_planter
from torquewright.rules.terminals import marked_terminal
from torquewright.rules.writing_signals import HURTS, PERSONS
from torquewright.rules.writing_text import plain_words

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.reading.kept import ReadAction, ReadDraft
    from torquewright.sentences.things import Thing

_LEFT = frozenset({"opened-joint-left-loose", "action-cannot-happen", "fastener-count-mismatch", "hand-start-missing"})
"""What follows where a step no longer speaks of the joint it meant."""


class _Pulled(NamedTuple):
    """The only pull to a figure that a joint gets: its step's label, its reading, its record, where its figure is."""

    label: str
    made: ReadAction
    record: Fastener
    start: int
    end: int


def _pulls(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[_Pulled]:
    pulls = [
        (label, made)
        for label, made in _actions(draft, procedure)
        if made.action.verb in ("tighten", "tighten_angle", "retighten")
    ]
    for label, made in pulls:
        action, deed = made.action, made.deed
        record = catalogue.fastener(action.what)
        if record is None or made.sentence is None or action.to is None or len(deed.torques) != 1:
            continue
        figure = deed.torques[0]
        beside = [
            other for _, other in pulls
            if other.action.what == action.what or other.sentence is made.sentence or figure in other.deed.torques
        ]  # fmt: skip
        if len(beside) > 1:
            continue
        scaled = any(thing.range is not None for thing in made.sentence.things)
        repeated = any(other.sentence is None for other_label, other in pulls if other_label == label)
        plain = action.mode == "do" and deed.lemma in ("tighten", "torque")
        if plain and action.to.kind in ("single", "dual_unit") and not scaled and not repeated:
            yield _Pulled(label, made, record, figure.start, figure.end)


def _actions(draft: ReadDraft, procedure: Procedure) -> Iterator[tuple[str, ReadAction]]:
    for index, step in enumerate(draft.steps):
        for sentence in step.sentences:
            for made in sentence.actions:
                yield procedure.steps[index].label, made


def _put(draft: ReadDraft, start: int, end: int, words: str) -> str:
    text = draft.document.text
    return text[:start] + words + text[end:]


def _told_once(draft: ReadDraft, procedure: Procedure) -> Iterator[tuple[int, str]]:
    """Index and label of the steps that the next one does not do over: what is added to the others is told twice."""
    for index, step in enumerate(procedure.steps):
        after = draft.steps[index + 1].sentences if index + 1 < len(draft.steps) else []
        if not any(made.sentence is None for sentence in after for made in sentence.actions):
            yield index, step.label


def _added(draft: ReadDraft, step: int, words: str) -> str:
    """The draft with a sentence more at the end of a step."""
    stretches = draft.steps[step].item.stretches
    end = stretches[-1].end if stretches else draft.steps[step].item.end
    stop = "" if draft.document.text[end - 1 : end] in ".!?:" else "."
    return _put(draft, end, end, f"{stop} {words}")


@word_planter("unit-not-a-torque")
def unit_not_a_torque(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Leaves the unit of a figure out."""
    for held in _pulls(draft, procedure, catalogue):
        words = draft.document.text[held.start : held.end]
        figure = words.split()[0]
        if all(sign.isdigit() or sign in ".," for sign in figure):
            stop = "." if words.endswith(".") else ""
            text = _put(draft, held.start, held.end, figure + stop)
            yield PlantedInWords(text, held.label, held.record.id, f'"{figure}" for "{words}"')


@word_planter("vague-tightening")
def vague_tightening(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Puts a word in place of a figure."""
    for held in _pulls(draft, procedure, catalogue):
        if marked_terminal(held.record):
            continue
        text = draft.document.text
        words = text[held.start : held.end]
        if held.made.deed.lemma == "tighten" and text[: held.start].endswith(" to "):
            stop = "." if words.endswith(".") else ""
            spoiled = _put(draft, held.start - 3, held.end, "securely" + stop)
            yield PlantedInWords(spoiled, held.label, held.record.id, f'"securely" for "to {words}"')


@word_planter("torque-without-part")
def torque_without_part(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Puts a pull ahead of everything, with no part named."""
    if draft.steps and draft.steps[0].item.label == "1":
        at = draft.document.text.rfind("\n", 0, draft.steps[0].item.start) + 1
        if draft.document.text[at:].startswith("1."):
            yield PlantedInWords(_put(draft, at, at, "0. Torque to 14 N·m.\n"), "0", "", "a pull with no part")


@word_planter("warning-after-the-step")
def warning_after_the_step(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Puts a warning below the step that opens a joint, with an act that was due before it."""
    if draft.document.name.endswith(".txt"):
        return  # plain text has no block quotes
    opened: set[str] = set()
    for index, step in enumerate(draft.steps):
        for made in (made for sentence in step.sentences for made in sentence.actions):
            record = catalogue.fastener(made.action.what)
            if record is None or made.action.verb not in ("loosen", "remove") or record.id in opened:
                continue
            opened.add(record.id)
            stretches = step.item.stretches
            if made.action.mode != "do" or not stretches or draft.document.text[step.item.start - 1 :][:1] != "\n":
                continue
            sign = "flag" if " tag" in draft.document.text else "tag"  # what an earlier step has done is not due here
            words = f"Hang the red {sign} on the switch before the {_plural(record)} loosened."
            text = _put(draft, stretches[-1].end, stretches[-1].end, f"\n\n   > **WARNING:** {words}\n\n")
            label = procedure.steps[index].label
            yield PlantedInWords(text, label, record.id, f"a warning below step {label}")


def _plural(record: Fastener) -> str:
    name = record.name.lower()
    return f"{name} is" if (record.count or 1) == 1 else f"{name}s are"


@word_planter("signal-word-does-not-fit")
def signal_word_does_not_fit(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Calls a message of harm to people a note."""
    for notice, read in draft.notices:
        said = set().union(*(plain_words(held) for held in read))
        at = draft.document.text.find(notice.signal, notice.start, notice.end) if notice.signal in PERSONS else -1
        if at >= 0 and said & HURTS and notice.step < len(draft.steps):
            text = _put(draft, at, at + len(notice.signal), "NOTE")
            yield PlantedInWords(text, procedure.steps[notice.step].label, "", f"NOTE for {notice.signal}")


@word_planter("prose-against-table")
def prose_against_table(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Gives a joint another size than its record."""
    for label, thing, record in _named_in_full(draft, procedure, catalogue):
        if record.thread is None or record.thread.family != "metric" or thing.sizes or thing.kind != "fastener":
            continue
        at = draft.document.text.lower().find(record.name.lower(), thing.start, thing.end + 1)
        if at >= 0:
            yield PlantedInWords(_put(draft, at, at, "M33 "), label, record.id, f"M33 for {record.thread.text}")


def _named_in_full(
    draft: ReadDraft, procedure: Procedure, catalogue: Catalogue
) -> Iterator[tuple[str, Thing, Fastener]]:
    """The first place each joint is handled under its whole name."""
    seen: set[str] = set()
    for label, made in _actions(draft, procedure):
        thing, record = made.deed.thing, catalogue.fastener(made.action.what)
        if thing is None or record is None or record.id in seen or made.action.of or made.action.mode != "do":
            continue
        if not catalogue.recorded(record.id) or record.id != record.name.lower().replace(" ", "-"):
            continue
        if thing.pronoun or made.action.verb not in ("hand_start", "tighten", "remove", "loosen"):
            continue
        if record.name.lower() in draft.document.text[thing.start : thing.end + 1].lower() and not thing.parts:
            seen.add(record.id)
            yield label, thing, record


@word_planter("part-not-in-record")
def part_not_in_record(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Puts a letter too many into a name."""
    from torquewright.reading.groups import PLACED  # loaded with the draft

    for held in _pulls(draft, procedure, catalogue):
        thing = held.made.deed.thing
        name = held.record.name.lower()
        if thing is None or thing.pronoun or " " not in name or not catalogue.recorded(held.record.id):
            continue
        if name.split()[-1] not in ("screw", "bolt", "nut", "plug"):
            continue
        if any(name.endswith(alias.lower()) for alias in held.record.aliases):
            continue  # the short name is still there to be read
        at = draft.document.text.lower().find(name, thing.start, thing.end + 1)
        if at >= 0 and len(name.split()[0]) > 3:
            text = _put(draft, at + 2, at + 2, "q")
            ahead = [mod for mod in thing.mods if mod in PLACED and mod not in name.split()]  # "lower bracket bolt"
            key = "-".join([*ahead, *f"{name[:2]}q{name[2:]}".split()])
            yield PlantedInWords(text, held.label, key, f"a letter too many in {name}", _LEFT)


@word_planter("name-drift")
def name_drift(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Calls a screw a plug, once."""
    for label, thing, record in _named_in_full(draft, procedure, catalogue):
        head = record.name.lower().split()[-1]
        if head not in ("screw", "bolt") or " " not in record.name or record.aliases or thing.sizes:
            continue
        at = draft.document.text.lower().find(head, thing.start, thing.end + 1)
        if at >= 0:
            yield PlantedInWords(_put(draft, at, at + len(head), "plug"), label, record.id, f"plug for {head}", _LEFT)


@word_planter("replace-ambiguous")
def replace_ambiguous(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Lets a lid be replaced that nobody took off."""
    if draft.steps:
        last = len(draft.steps) - 1
        text = _added(draft, last, "Replace the hatch lid.")
        yield PlantedInWords(text, procedure.steps[last].label, "", "a lid replaced")


@word_planter("several-actions-one-step")
def several_actions_one_step(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Starts the machine in the same breath as a pull."""
    for held in _pulls(draft, procedure, catalogue):
        sentence = held.made.sentence
        text = draft.document.text
        if sentence is not None and text.startswith("Tighten the ", sentence.start):
            spoiled = _put(draft, sentence.start, sentence.start + 1, "Start the motor and t")
            companions = frozenset({"start-before-fill-and-plug", "cure-time-ignored"})
            yield PlantedInWords(spoiled, held.label, held.record.id, "a start and a pull in one breath", companions)


@word_planter("reference-to-nothing")
def reference_to_nothing(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Points to a step that is not there."""
    for index, label in _told_once(draft, procedure):
        text = _added(draft, index, "See step 977.")
        yield PlantedInWords(text, label, "", f"step {label} points to a step 977")


@word_planter("tool-not-listed")
def tool_not_listed(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Uses a gauge that is not on the list."""
    if procedure.tools_named is not None:
        for index, label in _told_once(draft, procedure):
            text = _added(draft, index, "Check the runout with a dial gauge.")
            yield PlantedInWords(text, label, "", "a dial gauge that is on no list")


@word_planter("unread-where-it-matters")
def unread_where_it_matters(draft: ReadDraft, procedure: Procedure, catalogue: Catalogue) -> Iterator[PlantedInWords]:
    """Adds a sentence that says nothing of a bolt."""
    for index, label in _told_once(draft, procedure):
        text = _added(draft, index, "Whereupon the six gudgeon bolts.")
        yield PlantedInWords(text, label, "", "a sentence without a verb")
