"""Safety messages: one that stands below the step it is about, and one whose signal word says the wrong harm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from torquewright.bench import Trace
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.writing_text import Act, acts, nouns, part_words, plain_words, sentences, short, span

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.base.document import Path
    from torquewright.reading.kept import ReadSentence

AFTER = "warning-after-the-step"
SIGNAL = "signal-word-does-not-fit"

PERSONS = frozenset({"DANGER", "WARNING", "CAUTION"})
"""Signal words that may stand for harm to people."""

KILLS = frozenset(
    "kill kills killed death deaths die dies fatal lethal electrocute electrocuted electrocution amputate "
    "amputated".split()
)
HURTS = KILLS | frozenset(
    "injure injured injury injuries injuring scald scalded scalding eye eyes goggles skin fingers lungs maim "
    "blind blinded hurt shock limb limbs bystander bystanders poisonous unconscious".split()
)
"""Words of harm to people. "Burn", "crush", "hand" and "cut" are not here: coils burn, washers are crushed."""

_BODILY = HURTS | frozenset({"burns", "gloves", "hands", "hair"})
_HAZARDS = HURTS | frozenset(
    "pressure pressurised pressurized electric electrical electricity electrically voltage live mains battery "
    "energised energized hot steam burn burns crush crushed spring tension load loaded stored heavy weight lift "
    "fall falls drop drops hoist suspended moving rotate rotates rotating turn turns turning spin spinning sharp "
    "edge edges fume fumes dust toxic acid caustic fire flammable explosive explode ignite ignition gas fuel "
    "petrol vapour fly flies jack raised runaway person persons people anyone nobody your hands finger clothing "
    "gloves kg brake brakes".split()
)
_DAMAGE = frozenset(
    "strip strips stripped crack cracks cracked damage damages damaged leak leaks warp warps warped distort "
    "distorts distorted bend bends bent break breaks scratch scratches scratched score scores scored seize seizes "
    "ruin ruins ruined tear tears torn corrode corrodes shear shears".split()
)
_FLIES = frozenset(
    "fly flies spring load tension pressure pressurised hot scald live voltage fall falls drop heavy sharp".split()
)
_BEFORE = frozenset(
    {"before", "prior to", "until", "till", "not until", "just before", "immediately before", "only after"}
)
_SAFE = frozenset(
    "isolate support raise lock wait cool_down drain disconnect stop unplug block chock prop pin release bleed "
    "depressurise earth discharge".split()
)
_WORK = frozenset({"work"})
_ANYTHING = frozenset({"work", "job", "anything", "task", "maintenance", "servicing", "service"})
_IDLE = frozenset("the a an first new old one it and both all other each that this".split())


class _Message(NamedTuple):
    """A safety message: its signal word ("" for a plain note), sentences, place, the steps ahead of it, and the step
    it stands in (None: it stands between steps)."""

    signal: str
    sentences: list[ReadSentence]
    path: Path
    ahead: int
    inside: int | None


def _messages(trace: Trace) -> list[_Message]:
    """All messages with a step ahead of them, in the order of the text; those inside the text of a step too."""
    assert trace.draft is not None
    found = []
    for notice, read in trace.draft.notices:
        inside = notice.step if not notice.before else None
        ahead = notice.step + 1 if inside is not None else notice.step
        if ahead > 0:
            found.append(
                _Message(
                    notice.signal, read, span(notice.start, notice.end), min(ahead, len(trace.draft.steps)), inside
                )
            )
    return found


@detector(AFTER)
def warning_after_the_step(trace: Trace) -> Iterator[Finding]:
    """A safety message stands below the step whose danger it speaks of, or holds an act that was due before it."""
    if trace.draft is None:
        return
    for message in _messages(trace):
        found = _due_before(trace, message)
        if found is None and message.signal in PERSONS:
            found = _about_the_step(trace, message)
        if found is not None:
            yield found
    yield from _in_a_breath(trace)


def _due_before(trace: Trace, message: _Message) -> Finding | None:
    """The message demands an act before something that a step ahead of it has done already."""
    for read in message.sentences:
        held = acts(read)
        wanted = next((act for act in held if act.commanded and not act.link), None)
        if wanted is None or not (message.signal in PERSONS or wanted.senses & _SAFE):
            continue
        everything = [Act(_WORK, frozenset(), frozenset(), "before", False)] if _before_all(read) else []
        for act in [*held, *everything]:
            step = _done_ahead(trace, act, message) if act.link in _BEFORE else None
            if step is None or _done_before(trace, wanted, step):
                continue
            facts: dict[str, Fact] = {"words": short(read.sentence.text), "signal": message.signal or "note"}
            at = span(read.sentence.start, read.sentence.end)
            return Finding(
                AFTER,
                "certain",
                step,
                _joint(trace, act),
                facts,
                at,
                also=(("procedure", ("step", step)),),
                form="hidden",
            )
    return None


def _done_ahead(trace: Trace, act: Act, message: _Message) -> int | None:
    """The step ahead of the message in which ``act`` is done; the last one where there are several."""
    anything = act.senses == _WORK
    section = _section(trace, message)
    found = None
    for told in sentences(trace):
        if told.step >= message.ahead:
            break
        for done in acts(told.read):
            if done.link or not done.commanded:
                continue
            if anything:
                if "open" in done.senses and found is None and trace.procedure.steps[told.step].section == section:
                    found = told.step
            elif done.senses & act.senses and _same_thing(done, act):
                found = told.step
    return found


def _before_all(read: ReadSentence) -> bool:
    """ "before starting work", "before anything else": ahead of every step."""
    words = [word.text for word in read.sentence.words]
    return any(
        word in _BEFORE
        and not {"next", "following"} & set(words[at + 1 : at + 5])
        and _ANYTHING & set(words[at + 1 : at + 5])
        for at, word in enumerate(words)
    )


def _same_thing(done: Act, act: Act) -> bool:
    """Whether two acts are done to one thing: one record, or one name where there is no record."""
    if done.ids and act.ids:
        return bool(done.ids & act.ids)
    return bool(done.heads & act.heads)


def _section(trace: Trace, message: _Message) -> str:
    """The section of the step a message stands in or ahead of."""
    steps = trace.procedure.steps
    return steps[min(message.ahead if message.inside is None else message.inside, len(steps) - 1)].section


def _done_before(trace: Trace, wanted: Act, step: int) -> bool:
    """Whether ``step`` itself, one ahead of it, or what is taken as done has what the message demands."""
    for action in trace.procedure.given:
        if action.verb in wanted.senses:
            return True
    for told in sentences(trace):
        if told.step > step:
            break
        if any(done.senses & wanted.senses and done.heads & wanted.heads for done in acts(told.read)):
            return True
    return False


def _about_the_step(trace: Trace, message: _Message) -> Finding | None:
    """A message with harm to people names what the step above it handles, and nothing the next steps do."""
    assert trace.draft is not None
    said = set().union(*(plain_words(read) for read in message.sentences))
    if (not said & _BODILY and message.signal == "CAUTION") or not said & _HAZARDS:
        return None
    named = set().union(*(part_words(read) for read in message.sentences)) - _IDLE
    above = message.ahead - 1
    steps = trace.draft.steps
    mine = named & set().union(*(part_words(read) for read in steps[above].sentences)) - _IDLE
    later = [
        part_words(read) | nouns(read, verbs=False)
        for step in steps[message.ahead : message.ahead + 3]
        for read in step.sentences
    ]
    rest = (named | set().union(*(nouns(read) for read in message.sentences))) & set().union(*later)
    if not mine or not rest < mine or (message.inside is None and rest):
        return None
    facts: dict[str, Fact] = {
        "words": short(" ".join(read.sentence.text for read in message.sentences)),
        "signal": message.signal,
    }
    return Finding(AFTER, "likely", above, "", facts, message.path, also=(("procedure", ("step", above)),))


def _in_a_breath(trace: Trace) -> Iterator[Finding]:
    """ "Remove the spring cap. CAUTION: the spring is under load": in one step, behind the act."""
    assert trace.draft is not None
    for index, step in enumerate(trace.draft.steps):
        for place, read in enumerate(step.sentences):
            signal = read.sentence.signal
            if signal not in PERSONS or any(held.actions and _acts(held) for held in step.sentences[place + 1 :]):
                continue
            ahead = [held for held in step.sentences[:place] if _acts(held)]
            said = plain_words(read)
            if not ahead or not said & (HURTS | _FLIES):
                continue
            mine = set().union(*(part_words(held) for held in ahead)) - _IDLE
            sure: Certainty = "certain" if mine & (part_words(read) | said) else "likely"
            facts: dict[str, Fact] = {"words": short(read.sentence.text), "signal": signal}
            yield Finding(
                AFTER,
                sure,
                index,
                "",
                facts,
                span(read.sentence.start, read.sentence.end),
                also=(("procedure", ("step", index)),),
            )


def _acts(read: ReadSentence) -> bool:
    return any(held.action.mode in ("do", "stated_passively", "if") for held in read.actions)


def _joint(trace: Trace, act: Act) -> str:
    return next((key for key in sorted(act.ids) if trace.catalogue.fastener(key) is not None), "")


# ---- signal words ---------------------------------------------------------------------------------------------

_NOT_PERSONS = frozenset({"NOTICE", "NOTE", "IMPORTANT", "REMARK", "TIP", "INFO", "HINT", "REMINDER"})


@detector(SIGNAL)
def signal_word_does_not_fit(trace: Trace) -> Iterator[Finding]:
    """The signal word of a message stands for another harm than the one its text tells of."""
    if trace.draft is None:
        return
    for notice, read in trace.draft.notices:
        if notice.signal:
            step = min(notice.step, len(trace.draft.steps) - 1) if trace.draft.steps else None
            yield from _misfit(notice.signal, read, step, span(notice.start, notice.end))
    for told in sentences(trace):
        sentence = told.read.sentence
        if sentence.signal:
            yield from _misfit(sentence.signal, [told.read], told.step, span(sentence.start, sentence.end))


def _misfit(signal: str, read: list[ReadSentence], step: int | None, path: Path) -> Iterator[Finding]:
    said = set().union(*(plain_words(held) for held in read))
    telling: set[str] = set()
    form = ""
    if signal in _NOT_PERSONS and "no" not in said:
        telling = said & HURTS
    elif signal == "CAUTION":
        telling, form = said & KILLS, "death"
    elif signal in ("DANGER", "WARNING") and not said & _HAZARDS:
        telling, form = said & _DAMAGE, "things"
    if telling:
        facts: dict[str, Fact] = {"signal": signal, "word": min(telling)}
        yield Finding(SIGNAL, "likely" if form == "things" else "certain", step, "", facts, path, form=form)
