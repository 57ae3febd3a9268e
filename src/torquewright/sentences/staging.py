"""Several figures of one deed made into one tightening: stages in order, or one figure for each of several things."""

from __future__ import annotations

from torquewright.notation.notread import NotRead
from torquewright.notation.tightening import read_tightening
from torquewright.records.tightening import LOOSE, Angle, Stage, Tightening, Torque
from torquewright.sentences.deeds import Deed
from torquewright.sentences.words import Word


def tightening_of(word: Word, following: list[Word]) -> Tightening | None:
    """The tightening a word stands for; a bare figure takes the unit of the next quantity ("12, 12 and 8 N·m")."""
    if word.found is not None:
        return word.found.tightening
    for later in following:
        if later.found is not None:
            torque = later.found.tightening.torque
            if torque is None or not torque.unit:
                return None
            try:
                return read_tightening(f"{word.text} {torque.unit}")
            except NotRead:
                return None
    return None


def readings_of(deed: Deed) -> list[Tightening]:
    """The tightening of each pull or part of a deed, in the order written."""
    torques = deed.torques
    result = []
    for place, word in enumerate(torques):
        held = tightening_of(word, torques[place + 1 :])
        if held is not None:
            result.append(held)
    thing = deed.thing
    if (
        len(result) == 1
        and thing is not None
        and len(thing.parts) >= 2
        and len(result[0].stages) == len(thing.parts)
        and result[0].kind == "stage"
    ):
        # one notation of as many figures as the name has parts
        return [Tightening(result[0].text, "single", (stage,)) for stage in result[0].stages]
    return result


def shared_out(deed: Deed) -> bool:
    """Whether the figures go to the parts of one name, one each ("17 and 23 N·m respectively")."""
    thing = deed.thing
    if thing is None or len(thing.parts) < 2:
        return False
    return len(readings_of(deed)) == len(thing.parts)


def pulls_of(deed: Deed) -> list[Tightening]:
    """The tightening a deed adds to a row of stages; backing off is a turn the other way."""
    held = one_tightening(deed)
    if deed.verb != "back_off":
        return [held] if held is not None else []
    if held is None:
        return [Tightening("back off", "turns", (Stage(None, Angle(LOOSE)),))]
    return [
        Tightening(
            f"back off {held.text}", "turns", tuple(Stage(None, Angle(-abs(angle.nominal))) for angle in held.angles)
        )
    ]


def one_tightening(deed: Deed) -> Tightening | None:
    """The whole demand of a deed as one tightening: a single notation, or its pulls as stages."""
    held = [
        reading
        for place, word in enumerate(deed.torques)
        if (reading := tightening_of(word, deed.torques[place + 1 :])) is not None
    ]
    if not held:
        return None
    added = "added" in deed.said
    if len(held) == 1:
        first = held[0]
        if "at most" in deed.said and first.kind in ("single", "minimum"):
            try:
                return read_tightening(f"max {first.text.lower().removeprefix('more than ').removeprefix('over ')}")
            except NotRead:
                return first
        if "at least" in deed.said and first.kind == "maximum" and first.torque is not None:
            low = Torque(None, first.torque.high, None, first.torque.unit, first.torque.half)
            return Tightening(first.text, "minimum", (Stage(low),))
        if added and not first.added:
            try:
                return read_tightening(f"{first.text} + running torque")
            except NotRead:
                return first
        return first
    return staged(held)


def staged(held: list[Tightening]) -> Tightening:
    """Pulls in order as one tightening. The text is such that it reads back to the same record where it can."""
    if len(held) == 2 and held[1].kind == "maximum" and held[0].kind in ("single", "minimum"):
        first, most = held[0].torque, held[1].torque
        if held[0].kind == "single" or first is None or most is None or first.unit != most.unit:
            return held[0]
        if first.low is not None and most.high is not None and most.high >= first.low:
            torque = Torque(None, first.low, most.high, first.unit, max(first.half, most.half))
            return Tightening(f"{held[0].text}, {held[1].text}", "range", (Stage(torque),))
    text = ", then ".join(tightening.text for tightening in held)
    try:
        read = read_tightening(text)
        if len(read.stages) == sum(len(tightening.stages) for tightening in held):
            return read
    except NotRead:
        pass
    stages: list[Stage] = []
    for tightening in held:
        stages.extend(tightening.stages)
    angles = any(stage.angle is not None for stage in stages)
    return Tightening(text, "stage_angle" if angles else "stage", tuple(stages), held[-1].also)


def between(low: Tightening, limit: Deed) -> Tightening | None:
    """A least figure and the limit told with it, as one range."""
    first, held = low.torque, one_tightening(limit)
    second = held.torque if held is not None else None
    if first is None or second is None or first.unit != second.unit:
        return None
    least = first.low if first.low is not None else first.nominal
    high = second.high if second.high is not None else second.nominal
    if high is None or least is None or high < least:
        return None
    torque = Torque(None, least, high, first.unit, max(first.half, second.half))
    return Tightening(f"{low.text}, {held.text if held else ''}", "range", (Stage(torque),))


def in_unit(held: Tightening, unit: str) -> Tightening:
    """A bare figure with the unit that a wrench's scale or the document itself states for it."""
    if not unit or held.has_value or not held.text.rstrip(". ")[-1:].isdigit():
        return held
    try:
        return read_tightening(f"{held.text.rstrip('. ')} {unit}")
    except NotRead:
        return held
