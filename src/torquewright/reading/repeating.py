"""Deeds done again: "do the same with the level screw", "repeat step 3 at the far end"."""

from __future__ import annotations

from attrs import evolve

from torquewright.reading.objects import Roster
from torquewright.records.steps import Action
from torquewright.sentences.things import Thing


def done_again(source: list[Action], beside: list[Thing], joints: list[str], roster: Roster) -> list[Action]:
    """The actions of ``source`` done to other joints: ``joints`` named outright, or those that the places named
    ``beside`` set apart ("the far end"). Empty where it is not certain which joints are meant."""
    old = list(
        dict.fromkeys(key for action in source for key in (action.of or action.what,) if roster.kind(key) == "fastener")
    )
    if not old:
        return []
    if joints:
        return [held for key in joints for held in _moved(source, dict.fromkeys(old, key), roster)]
    for thing in beside:
        words = {word for word in (*thing.mods, thing.head) if word not in ("other", "same", "second")}
        change: dict[str, str] = {}
        for key in old:
            first = roster.by_id[key]
            others = [
                group
                for group in roster.groups
                if group.kind == "fastener"
                and group.id != key
                and group.heads & first.heads
                and words & (group.words - first.words)
                and len(first.words - group.words) <= len(words)
            ]
            if len(others) == 1:
                change[key] = others[0].id
        if len(change) == len(old):
            return _moved(source, change, roster)
    return []


def other_parts(source: list[Action], beside: list[Thing], roster: Roster) -> list[Action]:
    """The actions of ``source`` once more, where each number they state is half of its joint: "repeat steps 2 to 7 for
    the outlet side"; twice more where it is a third: "for the second and for the third head". Empty where they state
    none, or another share."""
    stated = [
        (action.count, group.count)
        for action in source
        if action.count is not None and (group := roster.by_id.get(action.what)) is not None and group.count is not None
    ]
    shares = {whole / count for count, whole in stated if count != whole}
    if len(shares) != 1:
        return []
    times = shares.pop() - 1
    if times != 1 and times != sum(thing.count or max(1, len(thing.parts)) for thing in beside):
        return []
    again = [action for action in source if roster.kind(action.of or action.what) in ("fastener", "seal")]
    return again * int(times)


def _moved(source: list[Action], change: dict[str, str], roster: Roster) -> list[Action]:
    moved = []
    for action in source:
        if action.of in change:
            moved.append(evolve(action, of=change[action.of]))
        elif action.what in change:
            group = roster.by_id[change[action.what]]
            moved.append(evolve(action, what=group.id, count=group.count if action.count else None))
    return moved
