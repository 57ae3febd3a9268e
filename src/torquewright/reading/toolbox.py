"""Tools of a draft: the list ahead of the steps, and which tool a step means; substances and amounts beside them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from torquewright.notation.notread import NotRead
from torquewright.records.parts import Amount, Tool
from torquewright.sentences.deeds import Deed
from torquewright.sentences.lexicon import NOUN, singular
from torquewright.sentences.names import thing_at
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word, words_of

if TYPE_CHECKING:
    from torquewright.reading.objects import Roster

_LEAD = re.compile(
    r"\s*(?:[*_-]\s*)?(?:(?:special |required |needed |service "
    r")?(?:tools?|equipment|tooling)[^:]{0,40}:|you(?:'ll| will)? (?:also )?need\b|have\b|bring\b|lay out\b|get\b)",
    re.IGNORECASE,
)


class Toolbox:
    """The tools at hand: those of the records, and those the draft itself lists."""

    def __init__(self, tools: tuple[Tool, ...] | None) -> None:
        self.tools: list[Tool] = list(tools or ())
        self.listed: list[str] = []
        self.own: list[Tool] = []
        self.stated = tools is not None

    def take_list(self, text: str, start: int, end: int) -> None:
        """Take a list such as "Tools: 13 mm socket, torque wrench 40 to 200 N·m"."""
        lead = _LEAD.match(text, start, end)
        words = words_of(text, lead.end() if lead else start, end)
        at = 0
        pending: Tool | None = None
        while at < len(words):
            word = words[at]
            if word.found is not None and word.found.tightening.torque is not None and not _tool_next(words, at):
                torque = word.found.tightening.torque
                low, high = torque.band
                if pending is not None and pending.high is None and pending in self.own:
                    self._ranged(pending, low, high, torque.unit, torque.half)
                elif pending is not None and low is not None and high is not None:
                    self._add(pending.name, low, high, torque.unit, torque.half, text[word.start : word.end])
                at += 1
                continue
            if (
                word.kind == "measure"
                and at + 2 < len(words)
                and words[at + 1].text in ("and", ",", "or", "&")
                and words[at + 2].kind == "measure"
            ):
                # "13 mm and 10 mm sockets"
                later = next((held for held in words[at + 2 : at + 6] if held.flags & NOUN), None)
                if later is not None:
                    self.listed.append(f"{text[word.start : word.end]} {later.text}")
                at += 2
                continue
            thing, after = thing_at(words, at)
            if thing is None or after <= at:
                at += 1
                continue
            name = text[thing.start : thing.end]
            if thing.head == "hand":
                break
            self.listed.append(name)
            ranged = (
                thing.range.found.tightening.torque
                if thing.range is not None and thing.range.found is not None
                else None
            )
            if ranged is not None:
                low, high = ranged.band
                pending = self._add(_plain(thing), low, high, ranged.unit, ranged.half, name)
            elif "torque" in thing.text:
                pending = self._add(_plain(thing), None, None, "", 0.0, name)
            elif thing.kind == "tool":
                pending = None
            elif word.found is not None:
                pass
            at = after
        self._elided(text, words)

    def _elided(self, text: str, words: list[Word]) -> None:
        """ "a 5–25 N·m and a 20–100 N·m torque wrench": a range whose tool is named only once, behind the last."""
        for place, word in enumerate(words):
            if word.found is None or word.found.tightening.torque is None or word.used:
                continue
            torque = word.found.tightening.torque
            low, high = torque.band
            if low is None or high is None or low == high:
                continue
            if any(tool.low == low and tool.high == high for tool in self.own):
                continue
            later = next((held for held in words[place + 1 :] if held.kind == "tool" and "torque" in held.text), None)
            if later is not None:
                self._add(later.text, low, high, torque.unit, torque.half, text[word.start : word.end])

    def _add(self, name: str, low: float | None, high: float | None, unit: str, half: float, text: str) -> Tool:
        key = (
            "-".join(f"{name} {text}".lower().split())
            if any(tool.name == name for tool in self.own)
            else "-".join(name.lower().split())
        )
        for known in self.tools:
            if low is not None and known.low == low and known.high == high:
                return known
        tool = Tool(
            key,
            name,
            kind="torque wrench" if "wrench" in name else "torque driver" if "driver" in name else name,
            low=low,
            high=high,
            unit=unit,
            half=half,
        )
        self.own.append(tool)
        return tool

    def _ranged(self, tool: Tool, low: float | None, high: float | None, unit: str, half: float) -> None:
        """Give a tool just listed the range that stands behind it."""
        from attrs import evolve

        if tool not in self.own:
            return
        if any(known.low == low and known.high == high for known in self.tools):
            self.own.remove(tool)
            return
        self.own[self.own.index(tool)] = evolve(tool, low=low, high=high, unit=unit, half=half)

    def name(self, thing: Thing) -> str:
        """The id of the tool a step means, or the words used."""
        if (
            thing.range is not None
            and thing.range.found is not None
            and thing.range.found.tightening.torque is not None
        ):
            low, high = thing.range.found.tightening.torque.band
            for tool in (*self.tools, *self.own):
                if (
                    tool.low is not None
                    and tool.high is not None
                    and low is not None
                    and high is not None
                    and (
                        abs(tool.low - low) < 0.01 + 0.005 * tool.low
                        and abs(tool.high - high) < 0.01 + 0.005 * tool.high
                    )
                ):
                    return tool.id
            unit = thing.range.found.tightening.torque
            made = self._add(_plain(thing), low, high, unit.unit, unit.half, thing.text)
            return made.id
        words = set(thing.mods) | {thing.head} | {label.lower() for label in thing.labels}  # "wrench B"
        telling = {word for word in words if word.replace("-", "").isalpha()} - {"same", "set"}
        best: list[Tool] = []
        for tool in (*self.tools, *self.own):
            for name in (tool.name, tool.id.replace("-", " "), *tool.aliases):
                if telling and telling <= set(name.lower().split()) | {"wrench" if "wrench" in name else ""}:
                    best.append(tool)
                    break
        if len(best) == 1:
            return best[0].id
        if not best or len(best) > 1:
            sized = self._by_size(words, [tool for tool in (*self.tools, *self.own) if tool.high is not None])
            if sized is not None:
                return sized.id
        return thing.text

    def _by_size(self, words: set[str], tools: list[Tool]) -> Tool | None:
        """ "the small wrench" of two with a range: the one that ends lower."""
        if len(tools) != 2 or tools[0].high == tools[1].high:
            return None
        if not (words & {"wrench", "driver", "torque", "one"}):
            return None
        small, large = sorted(tools, key=lambda tool: tool.high or 0.0)
        if words & {"small", "smaller", "little", "light"}:
            return small
        if words & {"large", "larger", "big", "bigger", "heavy"}:
            return large
        return None


def _tool_next(words: list[Word], at: int) -> bool:
    return at + 1 < len(words) and (
        words[at + 1].kind == "tool" or words[at + 1].text in ("wrench", "driver", "torque", "spanner")
    )


def _plain(thing: Thing) -> str:
    """The name of a tool without its range."""
    words = [word for word in (*thing.mods, thing.head) if not any(sign.isdigit() for sign in word)]
    return " ".join(words)


def substance_of(deed: Deed, roster: Roster) -> str:
    """The words for what is put on or in: lubricant, compound, fluid, lock."""
    thing = deed.substance
    if thing is None and deed.verb == "fill" and deed.thing is not None and deed.thing.kind == "fluid":
        return ""
    if thing is None:
        if deed.verb == "lubricate" and deed.lemma in ("oil", "grease"):
            return deed.lemma
        return ""
    return thing.text


_NO_AMOUNT = re.compile(r"(?:[\d\s-](?:[mc]?m|in\.?|ft\.?)|bar|%)$")  # lengths, pressures, shares; "5 min" is one


_CLOCK = frozenset("minute second hour day".split())


def unclear_amount(deed: Deed) -> str:
    """Why the amount filled in cannot be read ("3 quarts" are American or imperial); "" where it can, or none stands
    there."""
    from torquewright.toml.quantities import read_amount

    word = deed.amount
    if deed.verb != "fill" or word is None or word.kind != "measure" or _NO_AMOUNT.search(word.text):
        return ""
    try:
        read_amount(word.text, ("time", "volume", "distance"))
    except NotRead as unread:
        return str(unread) if "differ" in str(unread) else ""
    return ""


def amount_of(deed: Deed) -> Amount | None:
    """The time, volume or distance a deed states."""
    from torquewright.toml.quantities import read_amount

    for word in (deed.amount, *deed.clause.measures):
        if word is None or word.kind != "measure" or _NO_AMOUNT.search(word.text):
            continue
        try:
            return read_amount(
                word.text.replace("-", " ")
                if word.text[:1].isdigit() and "-" in word.text and word.text.split("-")[-1].isalpha()
                else word.text,
                ("time", "volume", "distance"),
            )
        except NotRead:
            continue
    for text, held in deed.clause.preps:
        if isinstance(held, Thing) and held.count is not None and singular(held.head) in _CLOCK:
            try:
                return read_amount(f"{held.count} {held.head}", "time")
            except NotRead:
                continue
        _ = text
    for thing in deed.clause.objects:
        if thing.count is not None and singular(thing.head) in _CLOCK:
            try:
                return read_amount(f"{thing.count} {thing.head}", "time")
            except NotRead:
                continue
    return None
