"""Safety messages that stand below the step they are about, or hold an act that was due before it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from torquewright.bench import Trace
from torquewright.rules.finding import Certainty, Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.writing_signals import HAZARDS, HURTS, PERSONS
from torquewright.rules.writing_text import Act, acts, nouns, part_words, plain_words, sentences, short, span

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.base.document import Path
    from torquewright.reading.kept import ReadSentence

AFTER = "warning-after-the-step"

_BODILY = HURTS | frozenset({"burns", "gloves", "hands", "hair"})
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
            late = message.signal in ("DANGER", "WARNING") and act.senses == _WORK  # said too late, done or not
            if step is None or (not late and _done_before(trace, wanted, step)):
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
    done = _done(trace)
    if act.senses == _WORK:
        opened = [step for step in done.opened.get(_section(trace, message), ()) if step < message.ahead]
        # the step it stands below, where that opens something; else the first that did
        return None if not opened else opened[-1] if opened[-1] == message.ahead - 1 else opened[0]
    act = act._replace(ids=_recorded(trace, act))
    steps = [step for sense in act.senses for step in done.last(sense, act, message.ahead)]
    return max(steps, default=None)


class _Done:
    """What the steps do, by what they do it to: the steps in order, for a quick look. ``opened`` has the steps of
    each section that open something."""

    __slots__ = ("named", "opened", "recorded", "unrecorded")

    def __init__(self, trace: Trace) -> None:
        self.opened: dict[str, list[int]] = {}
        self.recorded: dict[tuple[str, str], list[int]] = {}  # by sense and record
        self.named: dict[tuple[str, str], list[int]] = {}  # by sense and name
        self.unrecorded: dict[tuple[str, str], list[int]] = {}  # the same, where no record is meant
        for told in sentences(trace):
            section = trace.procedure.steps[told.step].section
            for act in acts(told.read):
                if act.link or not act.commanded:
                    continue
                if "open" in act.senses:
                    self.opened.setdefault(section, []).append(told.step)
                ids = _recorded(trace, act)
                for sense in act.senses:
                    for key in ids:
                        self.recorded.setdefault((sense, key), []).append(told.step)
                    for head in act.heads:
                        self.named.setdefault((sense, head), []).append(told.step)
                        if not ids:
                            self.unrecorded.setdefault((sense, head), []).append(told.step)

    def last(self, sense: str, act: Act, ahead: int) -> Iterator[int]:
        """The last step ahead of step ``ahead`` that does ``sense`` to the thing of ``act``: to one record, or to one
        name where one of the two means no record."""
        held = [self.recorded.get((sense, key), ()) for key in act.ids]
        by_name = self.unrecorded if act.ids else self.named
        held += [by_name.get((sense, head), ()) for head in act.heads]
        for steps in held:
            place = bisect_left(steps, ahead)
            if place:
                yield steps[place - 1]


def _recorded(trace: Trace, act: Act) -> frozenset[str]:
    """The records an act is done to; what stands in no record goes by its name."""
    catalogue = trace.catalogue
    return frozenset(key for key in act.ids if catalogue.fastener(key) is not None or catalogue.seal(key) is not None)


def _done(trace: Trace) -> _Done:
    held = trace.worked.get("done in words")
    if held is None:
        held = trace.worked["done in words"] = _Done(trace)
    return held  # type: ignore[return-value]  # kept under this name by nobody else


def _before_all(read: ReadSentence) -> bool:
    """ "before starting work", "before anything else": ahead of every step."""
    words = [word.text for word in read.sentence.words]
    return any(
        word in _BEFORE
        and not {"next", "following"} & set(words[at + 1 : at + 5])
        and _ANYTHING & set(words[at + 1 : at + 5])
        for at, word in enumerate(words)
    )


def _section(trace: Trace, message: _Message) -> str:
    """The section of the step a message stands in or ahead of."""
    steps = trace.procedure.steps
    return steps[min(message.ahead if message.inside is None else message.inside, len(steps) - 1)].section


def _done_before(trace: Trace, wanted: Act, step: int) -> bool:
    """Whether ``step`` itself, one ahead of it, or what is taken as done has what the message demands."""
    for action in trace.procedure.given:
        about = not action.what or not wanted.heads or any(head in action.what for head in wanted.heads)
        if action.verb in wanted.senses and about:
            return True
    named = _done(trace).named
    earliest = [named.get((sense, head), ()) for sense in wanted.senses for head in wanted.heads]
    return any(steps[0] <= step for steps in earliest if steps)


def _about_the_step(trace: Trace, message: _Message) -> Finding | None:
    """A message with harm to people names what the step above it handles, and nothing the next steps do."""
    assert trace.draft is not None
    said = set().union(*(plain_words(read) for read in message.sentences))
    if (not said & _BODILY and message.signal == "CAUTION") or not said & HAZARDS:
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
