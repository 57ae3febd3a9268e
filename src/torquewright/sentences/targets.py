"""What a deed is done to, with which figure, tool and parts beside it."""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import TIGHTENING, Deed
from torquewright.sentences.facts import NOT_JOINTS, PORTIONS, SPOILT, is_time
from torquewright.sentences.names import PLACES
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word

RINGS = frozenset("ring seal copper-ring sealing-ring crush-ring seal-ring".split())
"""What a sealing washer is called where its joint has one."""
_ADJUSTS = frozenset("adjust set tension retension re-tension level line align move shift raise lower".split())
_REACHED = frozenset("on of for round around from over at".split())
_RENEWED = frozenset("seal washer lock consumable".split())


def targets_of(told: Telling, clause: Clause, sense: str, things: list[Thing]) -> list[Thing | None]:
    if clause.lemma in ("secure", "fasten", "attach", "fix", "follow") and sense == "install":
        held = [
            held
            for text, held in clause.preps
            if isinstance(held, Thing)
            and text in ("with", "using", "by means of")
            and held.kind in ("fastener", "washer", "lock", "seal")
        ]
        if held:
            return list(held)
    if sense == "check_leak" and things and things[0].kind == "soapy":
        things = []
    if clause.lemma == "give" and sense == "install" and len(things) > 1 and things[-1].kind in ("washer", "seal"):
        clause.preps.append(("on", things[0]))
        return [things[-1]]  # "give the drain plug one new sealing washer"
    if sense in ("inspect", "check_leak") and not things:
        at = [
            held
            for text, held in clause.preps
            if isinstance(held, Thing) and text in ("at", "round", "around", "on", "for", "of", "over")
        ]
        at = [thing for thing in at if thing.kind not in ("leakage", "damage", "soapy")]
        return [at[0]] if at else [None]
    if sense in ("refer", "repeat"):
        return [None]
    if sense in ("seal", "lubricate", "fill"):
        substance = ("lubricant", "compound", "fluid")
        kept = [thing for thing in things if thing.kind not in substance and not a_portion(thing)]
        if things and not kept:
            place = [
                held
                for text, held in clause.preps
                if isinstance(held, Thing)
                and text in ("to", "on", "onto", "over", "into", "in", "round", "around", "between")
            ]
            return [place[0]] if place and sense != "fill" else (list(things) if sense == "fill" else [None])
        if sense != "fill" and kept:
            return list(kept)
    if sense == "clean" and things and things[0].kind in ("dirt", "fluid", "lubricant", "compound"):
        place = [
            held for text, held in clause.preps if isinstance(held, Thing) and text in ("from", "off", "out of", "of")
        ]
        return [place[0]] if place else list(things[:1])
    if sense in TIGHTENING and things and clause.torques and things[0].start > clause.torques[0].start:
        # "go over all cover screws: 9 N·m, the two long ones 12 N·m"
        ahead = [
            held
            for text, held in clause.preps
            if isinstance(held, Thing) and text in ("on", "round", "around", "over") and held.kind == "fastener"
        ]
        if ahead and ahead[-1].end <= clause.torques[0].start:
            clause.pieces.insert(0, ahead[-1])
            things = [ahead[-1], *things]
    if sense in TIGHTENING and clause.lemma == "do" and all(thing.pronoun or not thing.kind for thing in things):
        things = []  # "do a final round at 40 N·m"
    if sense in TIGHTENING and not things:
        place = [
            held
            for text, held in clause.preps
            if isinstance(held, Thing)
            and (text in _REACHED or (text == "to" and held.kind in ("fastener", "threaded")))
            and held.kind not in ("tool", "measure", "document", "torque-label")
            and not (text == "from" and held.kind == "feature")  # "from the middle outwards": the order
        ]
        place = [thing for thing in place if thing.kind == "fastener"] or place
        if clause.lemma in ("use", "apply"):
            place = [thing for thing in place if thing.head not in NOT_JOINTS]  # "for steel housings use 30 N·m"
        if place:
            return [place[0]]
        return [None]
    things = [
        thing
        for thing in things
        if thing.head != "none"
        and not (sense in TIGHTENING and len(things) > 1 and (thing.head == "same" or is_figure(thing)))
        and not (thing.pronoun and thing.head in ("each", "all") and len(things) > 1 and thing is not things[0])
    ]
    kept = [
        thing
        for thing in things
        if not (thing.kind in ("measure", "document") and len(things) > 1 and sense not in ("record", "measure"))
    ]
    if sense in ("hand_start", "seat", "loosen", "back_off") and len(kept) > 1:
        # "turn each two or three threads by hand": how far
        bare = [thing for thing in kept if thing.pronoun and thing.count and not (thing.definite or thing.quantifier)]
        kept = [thing for thing in kept if not (thing in bare or thing.head in ("thread", "turn"))] or kept[:1]
    if sense in TIGHTENING:
        kept = [
            thing
            for thing in kept
            if not (
                (thing.kind in ("feature", "measure") or thing.head in ("pass", "stage", "round"))
                and thing.head
                in (
                    "turn",
                    "flat",
                    "slot",
                    "notch",
                    "time",
                    "pass",
                    "stage",
                    "quarter",
                    "half",
                    "round",
                    "thread",
                    "order",
                    "pattern",
                    "reading",
                    "setting",
                )
            )
        ] or [None]  # type: ignore[list-item]
        if any(thing is not None and thing.kind == "fastener" for thing in kept):
            # "the bolts, opposite corners in turn"; "the upper and then the lower bracket bolt"
            ordered = any(word.text.startswith(("first", "last")) for word in clause.torques)  # "…, rear one first, to"
            kept = [
                thing
                for thing in kept
                if thing is None
                or not (
                    thing.head == "corner" or _half_named(thing) or (ordered and thing.head == "one" and thing.mods)
                )
            ]
        return list(kept)
    if sense in ("wait", "run"):
        kept = [thing for thing in kept if thing.head not in ("minute", "second", "hour", "day", "time")]
    if sense in (
        "measure",
        "record",
        "check",
        "check_level",
        "inspect",
        "mark",
        "wait",
        "run",
        "start",
        "stop",
        "isolate",
    ):
        return list(kept[:1]) or [None]
    return list(kept) or [None]


def _half_named(thing: Thing) -> bool:
    """Whether only the place of a thing is told: "the upper" of "the upper and then the lower bolt"."""
    return thing.kind == "" and not thing.mods and thing.head in PLACES


def is_figure(thing: Thing) -> bool:
    """Whether a name stands for a figure: "their specified torque"."""
    return thing.kind in ("measure", "torque-label") and thing.head in ("torque", "figure", "value", "setting", "spec")


def a_portion(thing: Thing) -> bool:
    """Whether a name is only so much of a substance: "two drops of thread-locker"."""
    return thing.head in PORTIONS and thing.owner is not None


_FACING = frozenset(
    "upward upwards downward downwards outward outwards inward inwards forward uppermost rearward".split()
)
_BROUGHT = ("install", "hand_start", "seat", "tighten")  # "screw in a breather on a new sealing washer"


def dress(told: Telling, deed: Deed, clause: Clause, facts: set[str]) -> None:
    """Tools, substances, washers and hands."""
    deed.by_hand = bool({"hand", "fingers", "finger-tight"} & facts)
    for text, named in clause.preps:
        if isinstance(named, Word):
            if is_time(named):
                deed.amount = named
            continue
        if named is None:
            continue
        held = named.owner if a_portion(named) and named.owner is not None else named  # "with a thin film of grease"
        if (
            held.kind == "tool"
            and text in ("with", "using", "by means of", "by", "with the aid of", "in")
            and deed.tool is None
        ):
            deed.tool = held
        elif (
            held.kind in ("lubricant", "compound", "fluid", "soapy")
            and text in ("with", "in", "using", "of")
            and deed.verb not in ("run", "start", "check")
            and not (text == "of" and deed.verb == "clean")
        ):
            deed.substance = held
        elif (
            (held.head in RINGS and text == "with")
            or (held.kind == "washer" and text in ("with", "together with", "using", "over"))
            or (held.kind == "seal" and text in ("with", "together with", "using"))
            or (
                text == "on"
                and held.kind == "washer"
                and deed.verb in _BROUGHT
                and (held.state == "new" or held.possessive)
            )
        ):
            deed.washers.append(held)
    for named in clause.objects:
        thing = named.owner if a_portion(named) and named.owner is not None else named
        if thing.kind in ("lubricant", "compound", "fluid") and deed.thing is not named:
            deed.substance = thing
    for word in clause.measures:
        if is_time(word) or deed.verb in ("fill", "run", "retighten"):
            deed.amount = word
    if deed.tool is None and told.set_tool is not None and deed.verb in ("tighten", "retighten"):
        deed.tool, told.set_tool = told.set_tool, None
    if "again" in clause.said:
        deed.again = True
    if "new" in clause.said and not deed.state:
        deed.state = "new"


def along(told: Telling, clause: Clause, sense: str, mode: str, made: list[Deed]) -> list[Deed]:
    """Things that come along with what is fitted: "with a new O-ring", "using the screws you took out"."""
    extra: list[Deed] = []
    if sense in ("remove", "discard"):
        for text, held in clause.preps:
            if (
                isinstance(held, Thing)
                and text in ("with", "together with", "along with")
                and held.kind in ("fastener", "seal", "washer", "lock")
                and (held.definite or held.possessive)
            ):
                extra.append(Deed(sense, mode, held, clause))
        return extra
    if sense in TIGHTENING:
        # "with a new tab washer under it, tighten the hub nut"
        for text, held in clause.preps:
            if isinstance(held, Thing) and text == "with" and held.kind == "lock" and held.state == "new":
                extra.append(Deed("install", mode, held, clause))
                extra[-1].order = -0.5
        return extra
    if sense not in ("install", "replace", "position", "connect", "support") or (
        clause.lemma in ("secure", "fasten", "attach", "fix")
        and any(deed.thing is not None and deed.thing.kind in ("fastener", "washer", "lock") for deed in made)
    ):
        return extra
    used = {id(deed.thing) for deed in made}
    for text, held in clause.preps:
        if (
            not isinstance(held, Thing)
            or id(held) in used
            or held.head == "none"
            or text not in ("with", "using", "together with", "along with", "as well as", "then")
        ):
            continue
        if held.kind not in ("fastener", "washer", "seal", "lock", "consumable"):
            continue
        if held.possessive and _FACING & set(clause.said):
            continue  # "with its grease nipple upward": how the part stands
        if held.kind == "fastener" and clause.lemma in _ADJUSTS:
            continue  # "tension the belt with the tension screw": the screw is what it is done with
        if held.kind == "washer" and held.plural and not held.state and held.count is None and not held.definite:
            continue
        verb = "install"
        remark = clause.remark
        if (held.state == "old" and held.kind == "fastener") or (
            held.state != "new"
            and held.definite
            and any(word in remark for word in ("took", "removed", "taken", "previously", "earlier"))
        ):
            verb = "reuse"
        if sense == "replace" and text == "with":
            # "replace the screws with new ones": the same deed
            continue
        deed = Deed(verb, mode, held, clause)
        deed.order = 0.1 if held.kind == "fastener" else -0.1
        extra.append(deed)
    return extra


def renewed(told: Telling, thing: Thing | None, known: Thing | None, mode: str) -> bool:
    """Whether "replace" means a new piece: of a part that wears, under a condition, or of a damaged one. Else it
    may mean put back, and that is asked."""
    if mode == "if" or thing is None:
        return True
    real = known if thing.pronoun and known is not None else thing
    return real.kind in _RENEWED or thing.quantifier == "any" or thing.head == "any" or bool(set(thing.mods) & SPOILT)


def paired(clause: Clause, targets: list[Thing | None] | list[Thing]) -> list[tuple[Thing | None, list[Word]]]:
    """Things with the figures that belong to them: each figure goes to the thing before it, or, where the figures
    come first, to the thing behind it. One thing of several parts keeps all figures."""
    wanted = {id(thing) for thing in targets if thing is not None}
    pieces = [piece for piece in clause.pieces if isinstance(piece, Word) or id(piece) in wanted]
    torques = [piece for piece in pieces if isinstance(piece, Word)]
    named = [piece for piece in pieces if isinstance(piece, Thing)]
    if len(named) < 2 or not torques:
        first: Thing | None = targets[0] if targets else None
        rest = list(targets[1:])
        return [(first, torques), *((thing, torques) for thing in rest)]
    result: list[tuple[Thing | None, list[Word]]] = []
    if isinstance(pieces[0], Word):
        held: list[Word] = []
        for piece in pieces:
            if isinstance(piece, Word):
                held.append(piece)
            else:
                result.append((piece, held))
                held = []
        if held and result:
            result[-1][1].extend(held)
        return result
    for piece in pieces:
        if isinstance(piece, Thing):
            result.append((piece, []))
        else:
            result[-1][1].append(piece)
    # "the cover and the lid to 9 N·m": things without a figure share the next one
    for place in range(len(result) - 2, -1, -1):
        if not result[place][1]:
            result[place][1].extend(result[place + 1][1])
    return result
