"""Signal words: one that stands for another harm than its text tells of, and the words that tell of harm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from torquewright.bench import Trace
from torquewright.rules.finding import Fact, Finding
from torquewright.rules.registry import detector
from torquewright.rules.writing_text import plain_words, sentences, span

if TYPE_CHECKING:  # the reader of sentences is not loaded for a procedure in TOML
    from torquewright.base.document import Path
    from torquewright.reading.kept import ReadSentence

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

HAZARDS = HURTS | frozenset(
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
    if signal in _NOT_PERSONS:
        told = [plain_words(held) for held in read]  # "no risk of injury": a sentence that tells of none
        telling = set(HURTS) & set().union(*(words for words in told if "no" not in words))
    elif signal == "CAUTION":
        telling, form = said & KILLS, "death"
    elif signal in ("DANGER", "WARNING") and not said & HAZARDS:
        telling, form = said & _DAMAGE, "things"
    if telling:
        facts: dict[str, Fact] = {"signal": signal, "word": min(telling)}
        yield Finding(SIGNAL, "likely" if form == "things" else "certain", step, "", facts, path, form=form)
