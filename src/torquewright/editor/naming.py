"""Names in a text and the records they mean: at one place, and all there are to choose from."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from torquewright.editor.desk import Sight
from torquewright.records.catalogue import Catalogue
from torquewright.records.parts import Fastener, Fluid, Part, Seal, Tool
from torquewright.toml.naming import singular

Known = Fastener | Seal | Fluid | Part | Tool


class Named(NamedTuple):
    """The characters ``start`` to ``end`` mean ``record``."""

    start: int
    end: int
    record: Known


def records_of(catalogue: Catalogue) -> Iterator[Known]:
    """All records that have a name, parts before tools."""
    for records in (catalogue.fasteners, catalogue.seals, catalogue.fluids, catalogue.parts, catalogue.tools or ()):
        yield from records


def names_of(record: Known) -> tuple[str, ...]:
    """The names a record goes by in sentences, each once."""
    return tuple(dict.fromkeys(name for name in (record.name, *record.aliases) if name))


def named_at(sight: Sight, offset: int) -> Named | None:
    """What the words at ``offset`` mean: as the sentence was read, else by the longest name that stands there."""
    return _as_read(sight, offset) or _by_name(sight, offset)


def _as_read(sight: Sight, offset: int) -> Named | None:
    """By the reading of the sentence, which knows what "it" and "the remaining ones" are."""
    job = sight.job
    if job is None or job.draft is None:
        return None
    best: Named | None = None
    for step in job.draft.steps:
        for sentence in step.sentences:
            for held in sentence.actions:
                thing = held.deed.thing
                if held.sentence is None or thing is None or not thing.start <= offset < thing.end:
                    continue
                record = _record(job.catalogue, held.action.what) or _record(job.catalogue, held.action.of)
                if record is not None and (best is None or thing.end - thing.start < best.end - best.start):
                    best = Named(thing.start, thing.end, record)
    return best


def _record(catalogue: Catalogue, key: str) -> Known | None:
    return next((record for record in records_of(catalogue) if record.id == key), None) if key else None


def _by_name(sight: Sight, offset: int) -> Named | None:
    text = sight.document.text
    start = text.rfind("\n", 0, offset) + 1
    end = text.find("\n", offset)
    line = text[start : len(text) if end < 0 else end].lower()
    at = offset - start
    best: Named | None = None
    for record in records_of(sight.catalogue):
        for name in (record.id, *names_of(record)):
            for found in re.finditer(rf"(?<![\w-]){re.escape(name.lower())}(?:'s|e?s)?(?![\w-])", line):
                long = best is None or found.end() - found.start() > best.end - best.start
                if found.start() <= at < found.end() and long and _is(found.group(), name.lower()):
                    best = Named(start + found.start(), start + found.end(), record)
    return best


def _is(words: str, name: str) -> bool:
    return words == name or words.endswith("'s") or name in singular(words)
