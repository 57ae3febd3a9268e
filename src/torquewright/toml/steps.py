"""A procedure from the parsed tables of its file: steps, actions, safety messages."""

from __future__ import annotations

from typing import Any

from torquewright.base.document import Path
from torquewright.notation.near import nearest, quoted
from torquewright.records.steps import Accepted, Action, Message, Procedure, Step
from torquewright.toml import keys
from torquewright.toml.naming import PIECES, Names, not_called
from torquewright.toml.slips import Slip, Slips, Wrong, kind_of, spelled, unknown
from torquewright.toml.values import READINGS, fields

_VERBS = keys.VERB_KEYS
_OPTIONS = keys.ACTION
_NO_NAMES = Names((), (), (), (), ())
_EXAMPLE = '{ tighten = "drain-screw", to = "7 N·m" }'


def read_procedure(tables: dict[str, Any], names: Names, slips: Slips) -> Procedure:
    """The procedure of a parsed document; what is wrong goes to ``slips``."""
    held: dict[str, Any] = {}
    for key in ("title", "variant", "job-date", "tools-named"):
        if key in tables:
            attribute, reading = keys.PROCEDURE[key][:2]
            try:
                held[attribute] = READINGS[reading](tables[key])
            except Wrong as fault:
                slips.extend(slip._replace(path=(key, *slip.path)) for slip in fault.slips)
    given = _actions(tables["given"], ("given",), names, slips) if "given" in tables else ()
    messages = _messages(tables["messages"], ("messages",), -1, slips) if "messages" in tables else []
    steps = []
    listed_steps = tables.get("step", [])
    if type(listed_steps) is not list:
        found = "[step]" if type(listed_steps) is dict else spelled(listed_steps)
        slips.append(Slip(("step",), f"{kind_of(listed_steps)} where [[step]] tables belong", found,
                          "[[step]] with two brackets, once for each step"))  # fmt: skip
        listed_steps = []
    for at, table in enumerate(listed_steps):
        path: Path = ("step", at)
        if type(table) is not dict:
            slips.append(Slip(path, f"{kind_of(table)} where a step belongs", spelled(table), "[[step]]"))
            continue
        steps.append(_step(table, at, path, names, slips, messages))
    if "accept" in tables:
        held["accepted"] = _accepted(tables["accept"], ("accept",), slips)
    return Procedure(held.pop("title", ""), tuple(steps), given, tuple(messages), **held)


def _step(
    table: dict[str, Any], at: int, path: Path, names: Names, slips: Slips, messages: list[Message]
) -> Step:
    held: dict[str, str] = {}
    actions: tuple[Action, ...] = ()
    accepted: tuple[Accepted, ...] = ()
    for key, value in table.items():
        if key == "do":
            actions = _actions(value, (*path, "do"), names, slips)
        elif key in ("say", "label", "section"):
            try:
                held[key] = READINGS["text"](value)
            except Wrong as fault:
                slips.extend(slip._replace(path=(*path, key)) for slip in fault.slips)
        elif key == "messages":
            messages += _messages(value, (*path, "messages"), at, slips)
        elif key == "accept":
            accepted = _accepted(value, (*path, "accept"), slips)
        else:
            slips.append(unknown(path, key, keys.STEP))
    if "say" not in table and "do" not in table:
        wanted = f'say = "…" or do = [ {_EXAMPLE} ]'
        slips.append(Slip(path, "a step that says nothing and does nothing", "[[step]]", wanted, absent=True))
    return Step(held.get("label") or str(at + 1), held.get("say", ""), actions, held.get("section", ""), accepted)


def _accepted(value: object, path: Path, slips: Slips) -> tuple[Accepted, ...]:
    if type(value) is not dict:
        slips.append(Slip(path, f"{kind_of(value)} where findings with their reasons belong", spelled(value),
                          '{ wrench-out-of-range = "the reason why it is let stand" }'))  # fmt: skip
        return ()
    accepted = []
    for rule, because in value.items():
        if type(because) is str:
            accepted.append(Accepted(rule, because))
        else:
            slips.append(Slip((*path, rule), f"{kind_of(because)} where a reason belongs", spelled(because), '"…"'))
    return tuple(accepted)


def _messages(value: object, path: Path, step: int, slips: Slips) -> list[Message]:
    messages = []
    if type(value) is not list:
        slips.append(Slip(path, f"{kind_of(value)} where a list of messages belongs", spelled(value),
                          '[ { signal = "WARNING", text = "…" } ]'))  # fmt: skip
        return []
    for at, table in enumerate(value):
        if type(table) is not dict:
            slips.append(Slip((*path, at), f"{kind_of(table)} where a message belongs", spelled(table),
                              '{ signal = "WARNING", text = "…" }'))  # fmt: skip
            continue
        held = fields(table, keys.MESSAGE, slips, (*path, at))
        for key in ("signal", "text"):
            if key not in table:
                slips.append(Slip((*path, at), f"a message without {key}", spelled(table), f'{key} = "…"'))
        if "signal" in held and "text" in held:
            messages.append(Message(held["signal"], held["text"], step, not held.get("after", False)))
    return messages


def _actions(value: object, path: Path, names: Names, slips: Slips) -> tuple[Action, ...]:
    if type(value) is not list:
        hint = f"[ {_EXAMPLE} ]" if type(value) is not dict else "[ { … } ] with square brackets round it"
        slips.append(Slip(path, f"{kind_of(value)} where a list of actions belongs", spelled(value), hint))
        return ()
    actions = []
    for at, table in enumerate(value):
        if type(table) is not dict:
            slips.append(Slip((*path, at), f"{kind_of(table)} where an action belongs", spelled(table), _EXAMPLE))
            continue
        action = _action(table, (*path, at), names, slips)
        if action is not None:
            actions.append(action)
    return tuple(actions)


def _action(table: dict[str, Any], path: Path, names: Names, slips: Slips) -> Action | None:
    verb_key = ""
    held: dict[str, Any] = {}
    for key, value in table.items():
        if key in _VERBS:
            if verb_key:
                slips.append(Slip((*path, key), f"two verbs in one action, {verb_key} and {key}", key,
                                  "one action for each verb: [ { … }, { … } ]", at_key=True))  # fmt: skip
                continue
            verb_key = key
            continue
        entry = _OPTIONS.get(key)
        if entry is None:
            slips.append(unknown(path, key, _OPTIONS, tuple(_VERBS)))
            continue
        if entry[0] in held:
            message = "amount, time and distance exclude one another"
            slips.append(Slip((*path, key), message, key, "one of them", at_key=True))
            continue
        try:
            held[entry[0]] = READINGS[entry[1]](value)
        except Wrong as fault:
            slips.extend(slip._replace(path=(*path, key, *slip.path)) for slip in fault.slips)
    if not verb_key:
        known = [key for key in table if key not in _OPTIONS]
        if not any(nearest(key, _VERBS, most=1) for key in known):
            slips.append(Slip(path, "an action without a verb", spelled(table), _EXAMPLE))
        return None
    verb = _VERBS[verb_key][0]
    if held.pop("as_written", False):
        names = _NO_NAMES
    held["what"] = _object(table[verb_key], verb_key, path, held, names, slips)
    if "of" in held:
        held["of"] = _joint(held["of"], (*path, "of"), names, slips)
    if "with" in held:
        product = verb in keys.PRODUCT_VERBS
        attribute = "with_what" if product else "tool"
        if attribute in held:
            message = f"with and {'lubricant' if product else 'tool'} say the same here"
            slips.append(Slip((*path, "with"), message, "with", "one of them", at_key=True))
        held[attribute] = held.pop("with")
    if "tool" in held:
        held["tool"] = _tool(held["tool"], (*path, "with" if "with" in table else "tool"), names, slips)
    if "adapter" in held:
        held["adapter"] = _tool(held["adapter"], (*path, "adapter"), names, slips)
    if "by" in held:
        if verb != "tighten_angle":
            wanted = 'turn = "…" takes by; here write to = "…"'
            slips.append(Slip((*path, "by"), f"an angle for {verb_key}", "by", wanted, at_key=True))
        elif "to" in held:
            wanted = "by for the angle, and to in an action of its own"
            slips.append(Slip((*path, "to"), "both to and by", "to", wanted, at_key=True))
        held["to"] = held.pop("by")
    return Action(verb, **held)


def _object(value: object, verb_key: str, path: Path, held: dict[str, Any], names: Names, slips: Slips) -> str:
    path = (*path, verb_key)
    if type(value) is not str:
        hint = "one action for each of them" if type(value) is list else f'{verb_key} = "what it is done to"'
        slips.append(Slip(path, f"{kind_of(value)} where the object of {verb_key} belongs", spelled(value), hint))
        return ""
    if not value:
        return ""
    if verb_key in ("wait", "run") and value[0].isdigit() and "amount" not in held and names is not _NO_NAMES:
        try:
            held["amount"] = READINGS["time"](value)
            return ""
        except Wrong:
            pass  # not a time after all: words, as everywhere
    if value.lower() in PIECES:
        return value
    key = names.find(value)
    if key is None:
        near = names.nearly(value)
        if near:
            slips.append(not_called("record", path, value, near))
        return value
    several = names.several(value)
    if several:
        found = spelled(value)
        slips.append(Slip(path, f'"{found}" is the name of several records', found, f"the id: {quoted(several)}"))
    return key


def _joint(value: str, path: Path, names: Names, slips: Slips) -> str:
    key = names.find(value)
    if key is not None:
        return key
    if names.fasteners:
        near = names.nearly(value) or nearest(value, names.fasteners)
        slip = not_called("record", path, value, near)
        some = quoted(list(names.fasteners)[:6])
        slips.append(slip if near else slip._replace(wanted=f"the id of a fastener: {some}"))
    return value


def _tool(value: str, path: Path, names: Names, slips: Slips) -> str:
    key = names.find(value)
    if key is not None:
        return key
    near = names.nearly(value)
    if near:
        slips.append(not_called("tool", path, value, near))
    return value
