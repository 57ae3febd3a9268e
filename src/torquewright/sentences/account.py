"""What the reading of a sentence accounts for, what it leaves over, and the status that follows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import TIGHTENING
from torquewright.sentences.facts import is_torque
from torquewright.sentences.lexicon import ADJ, NOUN, PUNCT, VERB
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word

if TYPE_CHECKING:
    from torquewright.sentences.sentence import Sentence

_WEIGHTY = frozenset(
    "tighten torque retighten loosen slacken fit refit install reinstall remove replace renew reuse discard".split()
)


_TOLD_OF = frozenset(
    "was were gave would could expect range reads rated delivers drag breakaway running earlier originally factory "
    "click clicks stall took found measured wrong scale between instead".split()
) | {"instead of", "rather than"}


def account(sentence: Sentence) -> None:
    """What no part of the reading accounts for, and the status that follows."""
    pieces: list[tuple[int, int]] = []
    for word in sentence.words:
        if word.used or word.flags & PUNCT:
            continue
        if pieces and not sentence.text[pieces[-1][1] - sentence.start : word.start - sentence.start].strip(" \t\n,"):
            pieces[-1] = (pieces[-1][0], word.end)
        else:
            pieces.append((word.start, word.end))
    sentence.leftover = pieces
    doubtful = (
        _passed_over(sentence)
        or _unheeded(sentence)
        or _unclaimed(sentence)
        or any(_not_understood(clause) for clause in sentence.remarks)
        or _a_share_of_something(sentence)
        or _so_many_of_what(sentence)
        or _at_odds(sentence)
    )
    if pieces and not sentence.deeds and not sentence.remarks:
        sentence.status = "unread"
    elif pieces or doubtful or any(deed.doubt for deed in sentence.deeds):
        sentence.status = "in part"
    elif not sentence.deeds and not sentence.remarks and sentence.words and not sentence.references:
        sentence.status = "unread"


_PIECES = frozenset("fastener washer seal lock compound lubricant".split())
_HELD = frozenset(
    "hold keep put steady grip support counter-hold counterhold grind count be have close tape bend straighten "
    "flatten knock pry prise lever line".split()
)
_BEARING = frozenset("stay remain go come get take need want receive belong return follow leave lose".split())


def _passed_over(sentence: Sentence) -> bool:
    """Whether a clause about a joint or its pieces came to nothing, so that what it says of them may be lost."""
    made = {id(deed.clause) for deed in sentence.deeds if deed.lemma != "note"}
    if not made:
        return any(
            clause.role == "command"
            and clause.lemma not in _HELD
            and not clause.negated
            and any(thing.kind in _PIECES and not thing.pronoun for thing in clause.objects)
            for clause in sentence.clauses
        )
    for clause in sentence.clauses:
        if id(clause) in made:
            continue
        about = [*clause.objects, *([clause.subject] if clause.subject is not None else [])]
        if clause.role == "tail":
            about += [held for _, held in clause.preps if isinstance(held, Thing)]
        if (
            clause.role in ("command", "gerund")
            and clause.lemma in ("let", "allow")
            and clause.complement
            and not clause.negated
        ):
            return True
        if not any(thing.kind in _PIECES for thing in about):
            continue
        if clause.role == "tail" or (clause.role == "fragment" and not clause.link and not _led(sentence, clause)):
            return True
        if clause.role in ("command", "gerund") and clause.lemma not in _HELD:
            return True
        if clause.role == "statement" and not clause.link and clause.tense == "active" and clause.lemma in _BEARING:
            return True
    return False


def _led(sentence: Sentence, clause: Clause) -> bool:
    """Whether a bare name leads to the clause behind it, which took it over: "nut, washer, bolt: assemble …"."""
    return any(deed.thing in clause.objects for deed in sentence.deeds)


def _not_understood(clause: Clause) -> bool:
    """Whether a statement that led to no deed binds somebody all the same: "… must be shimmed"."""
    if clause.role != "statement" or clause.modal not in (
        "must",
        "shall",
        "should",
        "have to",
        "be to",
        "need",
        "ought",
    ):
        return False
    return "passive" in clause.tense and not clause.negated and clause.lemma != "be"


def _a_share_of_something(sentence: Sentence) -> bool:
    """Whether something is tightened to a share of a figure that stands elsewhere: "to 70 percent of final torque"."""
    shares = any(word.kind == "measure" and word.text.endswith(("%", "percent")) for word in sentence.words)
    return shares and any(deed.verb == "tighten" and not deed.torques for deed in sentence.deeds)


_FIGURED = TIGHTENING | {"measure", "loosen", "check", "inspect", "record", "limit", "remove"}


def _at_odds(sentence: Sentence) -> bool:
    """Whether a torque went to a deed that takes none ("run the pump" to 45 N·m): a verb was misunderstood."""
    return any(deed.verb not in _FIGURED and any(is_torque(word) for word in deed.torques) for deed in sentence.deeds)


def _so_many_of_what(sentence: Sentence) -> bool:
    """Whether something is tightened to a number of what is no unit known: "to 4 bar-metres"."""
    return any(
        text in ("to", "at")
        and isinstance(held, Thing)
        and held.count is not None
        and (not held.kind or held.pronoun)
        and deed.verb == "tighten"
        and not deed.torques
        for deed in sentence.deeds
        for text, held in deed.clause.preps
    )


def _unheeded(sentence: Sentence) -> bool:
    """Whether a sentence that led to no deed holds a verb that matters, outside a remark on a thing."""
    if any(deed.lemma != "note" for deed in sentence.deeds):
        return False
    told = {id(clause.verb) for clause in sentence.clauses}
    return any(
        word.lemma in _WEIGHTY
        and word.flags & VERB
        and not word.flags & (NOUN | ADJ)
        and (id(word) not in told or _active(sentence, word))
        for word in sentence.words
    )


def _active(sentence: Sentence, word: Word) -> bool:
    """Whether somebody does it, rather than that it was or could be done."""
    clause = next((held for held in sentence.clauses if held.verb is word), None)
    return (
        clause is not None
        and clause.role == "statement"
        and clause.tense == "active"
        and clause.subject is not None
        and (clause.subject.kind == "person" or clause.subject.head in ("you", "we"))
    )


def _unclaimed(sentence: Sentence) -> bool:
    """Whether a torque stands in the sentence that nothing was made of, with no word that tells it is only told of."""
    claimed = {id(word) for deed in sentence.deeds for word in deed.torques}
    claimed |= {id(word) for word in sentence.preset[0]} | {id(deed.setting) for deed in sentence.deeds}
    claimed |= {id(thing.range) for thing in sentence.things if thing.range is not None} | scales(sentence.words)
    left = [
        word
        for word in sentence.words
        if word.found is not None and word.found.tightening.torque is not None and id(word) not in claimed
    ]
    if not left:
        return False
    words = {word.text for word in sentence.words}
    harm = words & _HARM and not any(clause.role == "command" for clause in sentence.clauses)
    told = words & _TOLD_OF or (harm and _all_beyond(sentence, left))
    told = told or any(clause.tense.startswith(("past", "perfect")) for clause in sentence.clauses)
    return not told and not any(
        clause.subject is not None and clause.subject.kind == "tool" for clause in sentence.clauses
    )


def _all_beyond(sentence: Sentence, left: list[Word]) -> bool:
    """Whether all the figures tell only how much is too much: "above 14 N·m the volute cracks"."""
    ahead: dict[int, list[str]] = {}
    for place, word in enumerate(sentence.words):
        ahead[id(word)] = [held.text for held in sentence.words[max(0, place - 2) : place]]
    return all(word.text.startswith(_BEYOND) or set(ahead[id(word)]) & set(_BEYOND) for word in left)


_BEYOND = (
    "more than", "above", "over", "beyond", "past", "anything above", "anything over", "upwards of", "much above",
)  # fmt: skip
_HARM = frozenset(
    "crack cracks split splits strip strips shear shears break breaks snap snaps bend bends crush crushes pull pulls "
    "tear tears ruin ruins spoil spoils damage damages creep stretch stretches yield yields white distort distorts "
    "warp warps burst bursts squeeze squeezes deform deforms stripped crushed cracked broken".split()
)


def scales(words: list[Word]) -> set[int]:
    """The torques that are the scale or rating of a tool: "with a range of 5 to 25 N·m", "reads 0 to 250 lbf·ft"."""
    return {
        id(word)
        for place, word in enumerate(words)
        if word.found is not None
        and ("range" in word.text or any(held.text in _SCALE_WORDS for held in words[max(0, place - 3) : place]))
    }


_SCALE_WORDS = frozenset("range scale reads reading rated capacity covers covering spans spanning".split())
