"""Records written back as TOML, in the vocabulary the reader takes: what ``read`` shows and ``check`` accepts.

cattrs takes the records apart by the same key tables that reading goes by; ``tomli_w`` writes the text.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from torquewright.records.catalogue import Catalogue
from torquewright.records.parts import (
    Amount,
    Drive,
    Fastener,
    Fluid,
    KitItem,
    Lock,
    Part,
    Retorque,
    Seal,
    Source,
    Thread,
    Tool,
    Washer,
)
from torquewright.records.steps import Action, Message, Procedure, WasherUse
from torquewright.records.tightening import Tightening
from torquewright.toml import keys
from torquewright.toml.naming import PIECES, Names
from torquewright.toml.printing import amount_text, drive_text, length_text, percent_text, torque_text
from torquewright.toml.records import tool_kind

if TYPE_CHECKING:
    from cattrs import Converter

Plain = dict[str, Any]

_KEY_OF = {verb: key for key, (verb, _) in reversed(keys.VERB_KEYS.items())}
_TIMES = {"volume": "amount", "time": "time", "distance": "distance", "length": "distance"}


def to_toml(procedure: Procedure | None, catalogue: Catalogue | None = None) -> str:
    """A procedure and the records it is checked against as one TOML text, which reads as the same again."""
    import tomli_w

    return tomli_w.dumps(to_tables(procedure, catalogue))


def to_tables(procedure: Procedure | None, catalogue: Catalogue | None = None) -> Plain:
    """The same as plain tables, spelled as the TOML files and their JSON Schemas are."""
    catalogue = catalogue or Catalogue()
    return {**(_procedure(procedure, _names(catalogue)) if procedure else {}), **_catalogue(catalogue)}


def _names(catalogue: Catalogue) -> Names:
    return Names(catalogue.fasteners, catalogue.seals, catalogue.fluids, catalogue.parts, catalogue.tools or ())


@lru_cache(maxsize=1)
def _converter() -> Converter:
    # cattrs only serves when something is written; it costs more than a whole check to load
    from cattrs import Converter
    from cattrs.gen import make_dict_unstructure_fn, override

    converter = Converter(omit_if_default=True)
    # what a mechanic writes as one text is no table; these come first, since the tables below are made from them
    converter.register_unstructure_hook(Tightening, lambda tightening: tightening.text)
    converter.register_unstructure_hook(Thread, lambda thread: thread.text)
    converter.register_unstructure_hook(Drive, drive_text)
    converter.register_unstructure_hook(Source, lambda source: source.text)
    for held, table in (
        (Washer, keys.WASHER),
        (Lock, keys.LOCK),
        (Retorque, keys.RETORQUE),
        (Fastener, keys.FASTENER),
        (Seal, keys.SEAL),
        (Fluid, keys.FLUID),
        (Part, keys.PART),
        (Tool, keys.TOOL),
        (KitItem, keys.KIT),
    ):
        spelled = {entry[0]: override(rename=key) for key, entry in table.items()}
        apart = make_dict_unstructure_fn(held, converter, _cattrs_omit_if_default=True, **spelled)  # type: ignore[arg-type]
        converter.register_unstructure_hook(held, apart)
    return converter


def _ordered(plain: Plain, table: keys.Keys) -> Plain:
    return {key: plain[key] for key in table if key in plain}


def _catalogue(catalogue: Catalogue) -> Plain:
    plain: Plain = {}
    if catalogue.policy != "general":
        plain["policy"] = catalogue.policy
    machine = _sourced({"name": catalogue.machine} if catalogue.machine else {}, catalogue)
    for key in ("variant", "surroundings"):
        if getattr(catalogue, key):
            machine[key] = getattr(catalogue, key)
    if machine:
        plain["machine"] = machine
    unrecorded = frozenset(catalogue.unrecorded)
    if catalogue.fasteners:
        plain["fastener"] = [_fastener(record, unrecorded) for record in catalogue.fasteners]
    if catalogue.seals:
        plain["seal"] = [_seal(record, unrecorded) for record in catalogue.seals]
    if catalogue.fluids:
        plain["fluid"] = [_fluid(record) for record in catalogue.fluids]
    if catalogue.parts:
        plain["part"] = [_apart(record, keys.PART) for record in catalogue.parts]
    if catalogue.tools is not None:
        plain["tool"] = [_tool(record) for record in catalogue.tools]
    if catalogue.kit is not None:
        names = _names(catalogue)
        plain["kit"] = [_kit(record, names) for record in catalogue.kit]
    return plain


def _apart(record: object, table: keys.Keys) -> Plain:
    plain: Plain = _converter().unstructure(record)
    return _ordered(plain, table)


def _sourced(plain: Plain, record: Any) -> Plain:
    plain.pop("source", None)
    if record.source is not None:
        if record.source.text:
            plain["source"] = record.source.text
        if record.source.revision:
            plain["revision"] = record.source.revision
    return plain


def _fastener(record: Fastener, unrecorded: frozenset[str]) -> Plain:
    plain = _sourced(_converter().unstructure(record), record)
    if record.thread is not None:
        plain["size"] = plain.pop("thread")
        if not _reads_as(record.thread):
            plain["thread-hand"] = record.thread.hand
    for key, amount in (("length", record.length), ("engagement", record.engagement), ("stack", record.stack),
                        ("hole-depth", record.hole_depth)):  # fmt: skip
        if amount is not None:
            plain[key] = amount_text(amount, "length")
    if record.mating_thread is not None:
        plain["mating-size"] = record.mating_thread.text
    if record.prevailing is not None:
        plain["prevailing"] = amount_text(record.prevailing, "torque")
    if record.lock is not None and record.lock.cure is not None:
        plain["lock"]["cure"] = amount_text(record.lock.cure, "time")
    if record.reuse == "limited":
        plain["reuse"] = f"{record.reuse_limit} times"
    if record.washer is None and not record.washer_unstated:
        plain["washer"] = "none"
    if record.options:
        plain["options"] = dict(record.options)
    if record.id in unrecorded:
        plain["recorded"] = False
    return _ordered(plain, keys.FASTENER)


def _reads_as(thread: Thread) -> bool:
    from torquewright.toml.quantities import read_size

    return read_size(thread.text) == thread


def _seal(record: Seal, unrecorded: frozenset[str]) -> Plain:
    plain = _sourced(_converter().unstructure(record), record)
    if record.cure is not None:
        plain["cure"] = amount_text(record.cure, "time")
    if record.id in unrecorded:
        plain["recorded"] = False
    return _ordered(plain, keys.SEAL)


def _fluid(record: Fluid) -> Plain:
    plain = _sourced(_converter().unstructure(record), record)
    for key, volume in (("amount", record.amount), ("capacity", record.capacity)):
        if volume is not None:
            plain[key] = amount_text(volume, "volume")
    if record.level_temperature is not None:
        plain["level-temperature"] = amount_text(record.level_temperature, "temperature")
    return _ordered(plain, keys.FLUID)


def _tool(record: Tool) -> Plain:
    plain: Plain = _converter().unstructure(record)
    if record.low is not None and record.high is not None:
        middle = (record.low + record.high) / 2
        plain["range"] = amount_text(Amount(middle, record.unit, record.half, record.low, record.high), "torque range")
    for key, torque in (("usable-from", record.usable_low), ("scale-step", record.step)):
        if torque is not None:
            plain[key] = torque_text(torque, record.unit)
    if record.deviation is not None:
        plain["deviation"] = percent_text(record.deviation)
    for key, length in (("arm", record.arm), ("length", record.length)):
        if length is not None:
            plain[key] = length_text(length)
    if record.kind == tool_kind(record.name):
        plain.pop("kind", None)
    return _ordered(plain, keys.TOOL)


def _kit(item: KitItem, names: Names) -> Plain:
    plain = _apart(item, keys.KIT)
    if item.length is not None:
        plain["length"] = amount_text(item.length, "length")
    if item.amount is not None:
        plain["amount"] = amount_text(item.amount, "volume")
    if item.part.lower() not in PIECES and not names.says(item.part):
        plain["as-written"] = True
    return plain


def _procedure(procedure: Procedure, names: Names) -> Plain:
    plain: Plain = {}
    for key, held in (("title", procedure.title), ("variant", procedure.variant), ("job-date", procedure.job_date)):
        if held:
            plain[key] = held
    if procedure.tools_named is not None:
        plain["tools-named"] = list(procedure.tools_named)
    if procedure.given:
        plain["given"] = [_action(action, names) for action in procedure.given]
    if procedure.accepted:
        plain["accept"] = {held.rule: held.because for held in procedure.accepted}
    ahead = [_message(message) for message in procedure.messages if message.step < 0]
    if ahead:
        plain["messages"] = ahead
    steps = []
    for at, step in enumerate(procedure.steps):
        held_step: Plain = {}
        if step.label != str(at + 1):
            held_step["label"] = step.label
        if step.section:
            held_step["section"] = step.section
        if step.say:
            held_step["say"] = step.say
        if step.actions or not step.say:
            held_step["do"] = [_action(action, names) for action in step.actions]
        messages = [_message(message) for message in procedure.messages if message.step == at]
        if messages:
            held_step["messages"] = messages
        if step.accepted:
            held_step["accept"] = {held.rule: held.because for held in step.accepted}
        steps.append(held_step)
    plain["step"] = steps
    return plain


def _message(message: Message) -> Plain:
    plain: Plain = {"signal": message.signal, "text": message.text}
    if not message.before:
        plain["after"] = True
    return plain


def _action(action: Action, names: Names) -> Plain:
    plain: Plain = {_KEY_OF[action.verb]: action.what}
    options: Plain = {
        "of": action.of,
        "count": action.count,
        "state": "new if needed" if action.state == "new_if" else action.state,
        "by" if action.verb == "tighten_angle" else "to": action.to and action.to.text,
        "setting": action.setting and action.setting.text,
        "washer": action.washer and _washers(action.washer),
        "order": action.order,
        "passes": action.passes,
        "adapter": action.adapter,
        "adapter-angle": None if action.adapter_angle is None else f"{action.adapter_angle:.12g}°",
        "size": action.size and action.size.text,
        "property-class": action.property_class,
        "length": action.length and amount_text(action.length, "length"),
        "direction": action.direction,
        "end": action.end,
        "hold": action.hold,
        "temperature": action.temperature and amount_text(action.temperature, "temperature"),
        "by-hand": action.by_hand,
        "mode": "" if action.mode == "do" else action.mode.replace("_", " "),
        "note": action.note,
    }
    product = action.verb in keys.PRODUCT_VERBS
    options["with"] = action.with_what if product else action.tool
    options["tool"] = action.tool if product else ""
    options["lubricant"] = "" if product else action.with_what
    if action.amount is not None:
        key = _TIMES[_measure(action.amount)]
        written = amount_text(action.amount, keys.ACTION[key][1])
        if key == "time" and action.verb == "wait" and not action.what:
            plain[_KEY_OF["wait"]] = written  # wait = "10 min"
        else:
            options[key] = written
    words = [word for word in (action.what, action.tool, action.adapter) if word and word.lower() not in PIECES]
    time = action.verb in ("wait", "run") and action.what[:1].isdigit()  # would be read as how long
    if time or not all(names.says(word) for word in words) or (action.of and names.find(action.of) != action.of):
        options["as-written"] = True
    return plain | _ordered({key: held for key, held in options.items() if held}, keys.ACTION)


def _measure(amount: Amount) -> str:
    from torquewright.base.units import UNITS

    return UNITS[amount.unit].measures


def _washers(use: WasherUse) -> str:
    if use.count == 0:
        return "none"
    state = "new if needed" if use.state == "new_if" else use.state
    count = "" if use.count is None else str(use.count)
    return " ".join(word for word in (count, state, use.kind) if word) or "some"
