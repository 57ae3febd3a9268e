"""Words to choose from at the cursor: names of parts, verbs and keys of an action, rules to let stand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from torquewright.editor.cursor import Cursor, cursor_at
from torquewright.editor.desk import Sight
from torquewright.editor.naming import Known, names_of, records_of
from torquewright.records.parts import Fastener, Fluid, Seal, Tool
from torquewright.toml import keys
from torquewright.toml.words_taken import OPEN_WORDS, WORDS

_ACCEPT = re.compile(r"<!--\s*accept\s+([a-z-]*)$")
_LONGEST = 60  # characters of a name that may stand ahead of the cursor


class Offer(NamedTuple):
    """Put ``text`` in place of the characters ``start`` to ``end``. ``kind`` is "part", "verb", "key", "word" or
    "rule"; ``search`` is what the typed word is compared with."""

    text: str
    kind: str
    detail: str
    about: str
    start: int
    end: int
    search: str = ""


def offers_at(sight: Sight, offset: int) -> list[Offer]:
    """What may be written at ``offset``, in a sensible order; empty where there is nothing to choose."""
    text = sight.document.text
    if sight.document.name.lower().endswith(".toml"):
        return list(_in_toml(sight, cursor_at(text, offset), offset))
    front = sight.job.draft.blocks.front if sight.job is not None and sight.job.draft is not None else None
    if front is not None and front[0] <= offset <= front[1]:
        return list(_in_toml(sight, cursor_at(text, offset, front[0]), offset))
    line = text[text.rfind("\n", 0, offset) + 1 : offset]
    accepting = _ACCEPT.search(line)
    if accepting:
        return list(_rules(offset - len(accepting.group(1)), offset))
    return list(_in_sentence(sight, offset))


# -- TOML -------------------------------------------------------------------------------------------------------------


def _in_toml(sight: Sight, cursor: Cursor | None, offset: int) -> Iterator[Offer]:
    if cursor is None:
        return
    in_action = cursor.inside[:1] in (("do",), ("given",)) and len(cursor.inside) == 2
    if not cursor.quoted:
        if in_action and cursor.in_table and not cursor.key:
            yield from _action_keys(cursor, offset)
        elif cursor.inside == ("accept",) and not cursor.key:
            yield from _rules(cursor.start, offset)
        return
    if in_action:
        yield from _action_values(sight, cursor, offset)
    elif cursor.key == "fluid" and cursor.table == "fastener":
        yield from _parts(_only(sight, Fluid), cursor.start, offset)
    elif cursor.inside == ("seals",) and cursor.table == "fastener":
        yield from _parts(_only(sight, Seal), cursor.start, offset)
    elif cursor.table == "kit" and cursor.key in ("part", "of"):
        yield from _parts(_only(sight, Fastener, Seal), cursor.start, offset)


def _action_keys(cursor: Cursor, offset: int) -> Iterator[Offer]:
    if not any(key in keys.VERB_KEYS for key in cursor.before):
        for key, (_, meaning) in keys.VERB_KEYS.items():
            yield Offer(key, "verb", meaning, "", cursor.start, offset)
        return
    for key, (_, _, meaning, example) in keys.ACTION.items():
        if key not in cursor.before:
            yield Offer(key, "key", meaning, f"{key} = {example}", cursor.start, offset)


def _action_values(sight: Sight, cursor: Cursor, offset: int) -> Iterator[Offer]:
    if cursor.key in keys.VERB_KEYS:
        records: Iterable[Known] = (record for record in records_of(sight.catalogue) if not isinstance(record, Tool))
        yield from _parts(records, cursor.start, offset)
    elif cursor.key == "of":
        yield from _parts(_only(sight, Fastener), cursor.start, offset)
    elif cursor.key in ("with", "tool"):
        yield from _parts(_only(sight, Tool), cursor.start, offset)
    elif cursor.key in keys.ACTION:
        reading = keys.ACTION[cursor.key][1]
        for word in WORDS.get(reading) or OPEN_WORDS.get(reading) or ():
            yield Offer(word, "word", "", "", cursor.start, offset)


def _only(sight: Sight, *kinds: type) -> Iterator[Known]:
    return (record for record in records_of(sight.catalogue) if isinstance(record, kinds))


def _parts(records: Iterable[Known], start: int, end: int) -> Iterator[Offer]:
    """Records by their ids, which is what a TOML file names them by; any of their names finds them."""
    for record in records:
        search = " ".join((record.id, *names_of(record)))
        yield Offer(record.id, "part", record.name, short(record), start, end, search)


def _rules(start: int, end: int) -> Iterator[Offer]:
    from torquewright.book.texts import all_rules

    for rule in all_rules():
        yield Offer(rule.id, "rule", rule.title, rule.reason, start, end)


# -- sentences --------------------------------------------------------------------------------------------------------


def _in_sentence(sight: Sight, offset: int) -> Iterator[Offer]:
    """Names that go on from what has been typed: "drain sc" is the beginning of "drain screw"."""
    text = sight.document.text
    ahead = text[max(text.rfind("\n", 0, offset) + 1, offset - _LONGEST) : offset]
    if ahead and not (ahead[-1].isspace() or ahead[-1].isalnum() or ahead[-1] in "-'("):
        return
    for record in records_of(sight.catalogue):
        if record.id in sight.catalogue.unrecorded:
            continue  # known from this text alone, where it may be just what is being typed
        for name in names_of(record):
            typed = _begun(ahead, name)
            if typed is None:
                continue
            written = name[0].upper() + name[1:] if typed[:1].isupper() else name
            yield Offer(written, "part", short(record), "", offset - len(typed), offset, name)


def _begun(ahead: str, name: str) -> str | None:
    """How much of ``name`` stands at the end of ``ahead``: "" after a space, None where another word was begun."""
    lower, low_name = ahead.lower(), name.lower()
    for length in range(min(len(name), len(ahead)), 0, -1):
        boundary = len(ahead) == length or not ahead[-length - 1].isalnum()
        if boundary and lower.endswith(low_name[:length]):
            return ahead[-length:]
    return "" if not ahead or not (ahead[-1].isalnum() or ahead[-1] in "-'") else None


def short(record: Known) -> str:
    """A record in a few words: how many, size, tightening."""
    parts: list[str] = []
    count = getattr(record, "count", None)
    if isinstance(record, Fastener):
        size = record.thread.text if record.thread is not None else ""
        parts.append(" × ".join(part for part in (str(count or ""), size or record.kind or "fastener") if part))
        if record.tightening is not None:
            parts.append(record.tightening.text)
    elif isinstance(record, Tool):
        parts.append(record.kind or "tool")
    else:
        parts.append(type(record).__name__.lower())
    return ", ".join(parts)
