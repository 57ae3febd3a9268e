"""Words a step from its actions: the way back from a procedure to sentences a mechanic can read.

Used where a step has no sentence of its own any more (a planted fault in a quiz) or never had one.
"""

from __future__ import annotations

from torquewright.records import Action, Catalogue, Fastener, Step
from torquewright.records.parts import KitItem

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")

_PLAIN = {
    "isolate": "Isolate {it}",
    "support": "Support {it}",
    "raise": "Raise {it}",
    "lower": "Lower {it}",
    "mark": "Mark {it}",
    "loosen": "Loosen {it}",
    "remove": "Remove {it}",
    "disconnect": "Disconnect {it}",
    "drain": "Drain {it}",
    "discard": "Discard {it}",
    "clean": "Clean {it}",
    "inspect": "Inspect {it}",
    "measure": "Measure {it}",
    "lubricate": "Lubricate {it}",
    "seal": "Apply sealing compound to {it}",
    "position": "Put {it} in place",
    "install": "Fit {it}",
    "reuse": "Put {it} back",
    "replace": "Replace {it} with new",
    "connect": "Connect {it}",
    "hand_start": "Start {it} by hand",
    "seat": "Seat {it}",
    "tighten": "Tighten {it}",
    "tighten_angle": "Turn {it}",
    "back_off": "Back off {it}",
    "retighten": "Check the tightness of {it}",
    "lock": "Lock {it}",
    "fill": "Fill in {it}",
    "bleed": "Bleed {it}",
    "check_level": "Check the level of {it}",
    "start": "Start {it}",
    "run": "Run {it}",
    "stop": "Stop {it}",
    "wait": "Wait",
    "warm_up": "Let {it} warm up",
    "cool_down": "Let {it} cool down",
    "check_leak": "Check {it} for leaks",
    "check": "Check {it}",
    "record": "Write down the tightening of {it}",
    "insert": "Insert {it}",
    "take_out": "Take out {it}",
    "repeat": "Repeat {it}",
    "refer": "See {it}",
}


def number_word(count: int) -> str:
    """A number as it is written in a sentence: in words up to twelve."""
    return NUMBERS[count] if 0 <= count < len(NUMBERS) else str(count)


def plural(name: str) -> str:
    """The plural of a part's name ("clutch" gives "clutches"); only the last word changes."""
    if name.endswith(("s", "x", "ch", "sh")):
        return name + "es"
    if name.endswith("y") and name[-2:-1] not in "aeiou":
        return name[:-1] + "ies"
    return name + "s"


def class_words(grade: str) -> str:
    """A property class as it is spoken of: "class 8.8"; "A2-70" says by itself what it is."""
    return f"class {grade}" if grade[:1].isdigit() else grade


def word_step(step: Step, catalogue: Catalogue) -> str:
    """The step's own sentence, or sentences made from its actions when it has none."""
    if step.say:
        return step.say
    return " ".join(word_action(action, catalogue) for action in step.actions)


def word_action(action: Action, catalogue: Catalogue) -> str:
    """One imperative sentence for one action."""
    verb = _PLAIN.get(action.verb, action.verb.replace("_", " ").capitalize() + " {it}")
    words = [verb.format(it=_object(action, catalogue)).strip()]
    grade = class_words(action.property_class)
    described = [action.size.text if action.size is not None else "", grade, _length(action)]
    if any(described):
        words.append(f"({', '.join(word for word in described if word)})")
    washer = action.washer
    if washer is not None:
        if washer.count == 0:
            words.append("without a washer")
        else:
            fastener = catalogue.fastener(action.what)
            several = fastener is not None and fastener.positions > 1
            kind = washer.kind or (fastener.washer.kind if fastener and fastener.washer else "")
            words.append(_with_washers(washer.count, washer.state, kind, several))
    if action.verb in ("lubricate", "seal", "lock") and action.with_what:
        state = f"{action.state} " if action.verb == "lock" and action.state in ("new", "old") else ""
        article = ("an " if (state + action.with_what)[0] in "aeiou" else "a ") if action.verb == "lock" else ""
        words.append(f"with {article}{state}{action.with_what}")
    elif action.with_what and action.verb != "fill":
        words.append(f"wetted with {action.with_what}" if action.with_what != "dry" else "dry")
    if action.order:
        words.append(f"in the order {action.order}" if action.order[:1].isdigit() else f"in a {action.order} pattern")
    if action.to is not None:
        words.append(_to(action))
    if action.by_hand and action.verb != "hand_start":
        words.append("by hand")
    if action.tool:
        tool = catalogue.tool(action.tool)
        words.append(f"with the {tool.name if tool else action.tool}")
    if action.adapter:
        held = catalogue.tool(action.adapter)
        stands = "" if action.adapter_angle is None else f" at {action.adapter_angle:g}°"
        words.append(f"and the {held.name if held else action.adapter}{stands}")
    if action.setting is not None:
        words.append(f"set to {action.setting.text}")
    if action.amount is not None:
        words.append(amount(action))
    text = " ".join(words)
    if action.mode == "if":
        text = f"If needed, {text[0].lower()}{text[1:]}"
    elif action.mode == "do_not":
        text = f"Do not {text[0].lower()}{text[1:]}"
    return text + "."


def _object(action: Action, catalogue: Catalogue) -> str:
    joint = catalogue.fastener(action.of) if action.of else None
    if joint is not None:
        state = f"{action.state} " if action.state in ("new", "old") else ""
        several = (joint.count or 1) > 1
        item = action.what
        if item == "lock" and joint.lock is not None:
            item = joint.lock.kind
        elif item == "washer" and joint.washer is not None:
            item = f"{joint.washer.kind} washer"
        if several:
            item = plural(item)
        return f"the {state}{item} of the {plural(joint.name) if several else joint.name}"
    record = catalogue.fastener(action.what) or catalogue.seal(action.what)
    if record is None:
        fluid = catalogue.fluid(action.what)
        part = next((part for part in catalogue.parts if part.id == action.what), None)
        tool = catalogue.tool(action.what)
        name = next((held.name for held in (fluid, part, tool) if held is not None), action.what)
        return f"the {name}" if name and not name.startswith(("the ", "a ", "an ")) else name
    count = action.count
    name = record.name if (count or record.count or 1) == 1 else plural(record.name)
    state = f"{action.state} " if action.state in ("new", "old") and action.verb != "lock" else ""
    if count is not None and count > 1:
        fewer = isinstance(record, Fastener) and record.count is not None and count < record.count
        return f"{'' if fewer else 'the '}{number_word(count)} {state}{name}"
    return f"the {state}{name}"


def _with_washers(count: int | None, state: str, kind: str, several: bool) -> str:
    state = f"{state} " if state in ("new", "old") else ""
    kind = f"{kind} " if kind else ""
    if count is None:
        return f"with its {state}{kind}washer"
    noun = "washer" if count == 1 else "washers"
    return f"with {number_word(count)} {state}{kind}{noun}{' on each' if several else ''}"


def _to(action: Action) -> str:
    assert action.to is not None
    text = action.to.text
    if action.verb == "tighten_angle" or action.to.kind in ("angle_only", "turns"):
        return f"by {text}"
    return text if action.to.kind == "hand_tight" else f"to {text}"


def _length(held: Action | KitItem) -> str:
    if held.length is None:
        return ""
    from torquewright.base.figures import show

    return f"{show(held.length.value, held.length.unit, held.length.half)} long"


def amount(action: Action) -> str:
    """The amount of an action as words behind it: "(0.62 L)", "for 2 min"; "" where it has none."""
    from torquewright.base.figures import show

    if action.amount is None:
        return ""
    shown = show(action.amount.value, action.amount.unit, action.amount.half)
    return f"({shown})" if action.verb in ("fill", "drain", "lubricate") else f"for {shown}"


def kit_words(item: KitItem, catalogue: Catalogue) -> str:
    """A piece of the kit in words: "2 × sealing washer for the level screw", "gear oil"."""
    fluid = catalogue.fluid(item.part)
    if fluid is not None:
        return fluid.name
    joint = catalogue.fastener(item.of)
    other = next((held for held in catalogue.parts if held.id == item.part), None)
    part = catalogue.fastener(item.part) or catalogue.seal(item.part) or other
    name = part.name if part is not None else item.part
    if joint is not None:
        if item.part == "lock" and joint.lock is not None:
            name = joint.lock.kind
        elif item.part == "washer" and joint.washer is not None:
            name = f"{joint.washer.kind} washer"
        name += f" for the {joint.name}"
    size = item.size.text if item.size is not None else ""
    words = (f"{item.count} × {name}", size, class_words(item.property_class), _length(item))
    return " ".join(word for word in words if word)
