"""What is known of the word under the pointer: a torque in both units, a part with its record."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from typing import NamedTuple

from torquewright.base.document import Place
from torquewright.conversion import counterpart, line
from torquewright.editor.desk import Sight
from torquewright.editor.naming import named_at
from torquewright.records.catalogue import Catalogue
from torquewright.records.parts import Amount, Fastener, Fluid, Lock, Part, Seal, Tool, Washer
from torquewright.records.tightening import Tightening

Known = Fastener | Seal | Fluid | Part | Tool


class Card(NamedTuple):
    """Markdown to show about the characters ``start`` to ``end``."""

    start: int
    end: int
    text: str


def card_at(sight: Sight, offset: int) -> Card | None:
    """What is known of the torque or the part at ``offset``; None where there is neither."""
    figure = _torque_at(sight, offset)
    if figure is not None:
        return figure
    named = named_at(sight, offset)
    if named is None:
        return None
    return Card(named.start, named.end, "\n\n".join(record_lines(named.record, sight)))


def _torque_at(sight: Sight, offset: int) -> Card | None:
    from torquewright.notation.tightening import find_tightenings

    text = sight.document.text
    for found in find_tightenings(text, *_stretch(sight, offset), hand=False):
        if found.start <= offset < found.end:
            lines = [f"**{escaped(found.tightening.text)}**", in_both_units(found.tightening)]
            record = _demanded_for(sight, found.start)
            if record is not None:
                lines += ["---", *record_lines(record, sight)]
            return Card(found.start, found.end, "\n\n".join(lines))
    return None


def _stretch(sight: Sight, offset: int) -> tuple[int, int]:
    """The sentence around ``offset`` where there is one, else its line."""
    if sight.job is not None and sight.job.draft is not None:
        for step in sight.job.draft.steps:
            for held in step.sentences:
                if held.sentence.start <= offset < held.sentence.end:
                    return held.sentence.start, held.sentence.end
    text = sight.document.text
    end = text.find("\n", offset)
    return text.rfind("\n", 0, offset) + 1, len(text) if end < 0 else end


def _demanded_for(sight: Sight, start: int) -> Fastener | None:
    """The fastener a demand that begins at ``start`` is for."""
    job = sight.job
    if job is None or job.procedure is None:
        return None
    for index, step in enumerate(job.procedure.steps):
        for number, action in enumerate(step.actions):
            if action.to is None:
                continue
            place = job.places.find(("step", index, "do", number, "to"))
            if place is not None and sight.document.offset(place.line, place.column) == start:
                return job.catalogue.fastener(action.what) or job.catalogue.fastener(action.of)
    return None


def in_both_units(tightening: Tightening) -> str:
    """``20 Nm ± 2 = 20 ± 2 N·m (…); 15 ± 1 lbf·ft (…)``, with what the printed digits stand for."""
    torque = tightening.torque
    unit = torque.unit if torque is not None else ""
    units = (unit, counterpart(unit, torque.target or 0.0)) if torque is not None and unit else ()
    told = escaped(line(tightening, units))
    if tightening.doubt:
        readings = " or ".join(tightening.readings)
        told += f"  \nambiguous: {escaped(tightening.doubt)}"
        told += f"; it could be {escaped(readings)}" if readings else ""
    return told


def record_lines(record: Known, sight: Sight) -> Iterator[str]:
    """A record in Markdown: a heading and its facts, one paragraph each."""
    catalogue = sight.catalogue
    if isinstance(record, Fastener):
        yield from _fastener(record, catalogue)
    elif isinstance(record, Tool):
        yield f"**{escaped(record.name)}**"
        if record.low is not None and record.high is not None:
            yield f"range: {_figure(record.low, record.unit)} to {_figure(record.high, record.unit)} {record.unit}"
        if record.drive is not None:
            yield f"drives: {escaped(f'{record.drive.kind} {record.drive.size}'.strip())}"
    else:
        yield f"**{_counted(record)}**"
        if isinstance(record, Seal):
            yield f"one-time use: {_stated(record.one_time_use)}"
            if record.lubricant:
                yield f"fitted with: {escaped(record.lubricant)}"
        if isinstance(record, Fluid) and record.amount is not None:
            yield f"amount: {_amount(record.amount)}"
        if isinstance(record, Part) and record.material:
            yield f"material: {escaped(record.material)}"
    source = getattr(record, "source", None)
    if source is not None:
        yield f"source: {escaped(', '.join(part for part in (source.text, source.revision) if part))}"
    if record.id in catalogue.unrecorded:
        yield "no record: known from this text alone"
    elif (place := _record_place(record, sight)) is not None:
        yield f"record: {escaped(os.path.basename(place.file))}, line {place.line}"


def _fastener(record: Fastener, catalogue: Catalogue) -> Iterator[str]:
    head = [_counted(record)]
    if record.thread is not None:
        left = ", left-hand thread" if record.thread.hand == "left" else ""
        head.append(escaped(record.thread.text) + left)
    if record.property_class:
        head.append(f"class {escaped(record.property_class)}")
    if record.drive is not None:
        head.append(escaped(f"{record.drive.kind} {record.drive.size}".strip()))
    yield f"**{head[0]}**" + "".join(f", {part}" for part in head[1:])
    condition = f", {escaped(record.condition)}" if record.condition else ""
    yield f"tightening: {'not stated' if record.tightening is None else in_both_units(record.tightening)}{condition}"
    if record.washer is not None:
        yield f"washers: {_washer(record.washer)}"
    else:
        yield f"washers: {'not stated' if record.washer_unstated else 'none'}"
    if record.lock is not None:
        yield f"lock: {_lock(record.lock)}"
    yield f"one-time use: {_reuse(record)}"
    if record.seals:
        held = [catalogue.seal(key) for key in record.seals]
        yield f"clamps: {', '.join(escaped(seal.name) for seal in held if seal is not None)}"
    if record.safety:
        yield "its failure can hurt somebody"


def _counted(record: Fastener | Seal | Fluid | Part) -> str:
    count = getattr(record, "count", 1)
    return escaped(record.name) if count in (None, 1) else f"{count} × {escaped(record.name)}"


def _washer(washer: Washer) -> str:
    again = {True: ", new each time", False: ", may go back on", None: ""}[washer.one_time_use]
    return f"{washer.count} {escaped(washer.kind)}{again}{', captive' if washer.captive else ''}"


def _lock(lock: Lock) -> str:
    again = {True: ", new each time", False: ", may be used again", None: ""}[lock.one_time_use]
    product = f" {escaped(lock.product)}" if lock.product else ""
    return f"{escaped(lock.kind)}{product}{', built in' if lock.built_in else ''}{again}"


def _reuse(record: Fastener) -> str:
    if record.reuse == "limited":
        return f"no, but at most {record.reuse_limit} times" if record.reuse_limit else "no, but not for ever"
    if record.reuse == "after measuring":
        return "no, but only after measuring"
    reason = f" ({escaped(record.one_time_reason)})" if record.one_time_reason else ""
    return _stated(record.single_use) + reason


def _stated(flag: bool | None) -> str:
    return {True: "yes", False: "no", None: "not stated"}[flag]


def _figure(value: float, unit: str) -> str:
    from torquewright.base.figures import neat
    from torquewright.base.units import from_si

    return neat(from_si(value, unit) if unit else value, 4)


def _amount(amount: Amount) -> str:
    return f"{_figure(amount.value, amount.unit)} {amount.unit}"


def _record_place(record: Known, sight: Sight) -> Place | None:
    """The line a record begins on."""
    if sight.job is None:
        return None
    path = (type(record).__name__.lower(), record.id)
    part = "tools" if isinstance(record, Tool) else "catalogue"
    for key, value in (("id", record.id), ("name", record.name)):
        place = sight.job.places.find((*path, key), part)
        # a path that is not found is shortened; what stands there tells whether it was found
        if place is not None and _written(place, sight) == value:
            return sight.job.places.find(path, part)
    return None


def _written(place: Place, sight: Sight) -> str:
    document = sight.documents.get(os.path.abspath(place.file))
    return "" if document is None else document.line(place.line)[place.column - 1 : place.end_column - 1]


def escaped(text: str) -> str:
    """``text`` as Markdown that shows just that."""
    return re.sub(r"([\\`*_{}\[\]<>#|~])", r"\\\1", text)
