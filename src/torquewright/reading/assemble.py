"""Sentences become actions of a procedure: each deed with the record it is done to.

One :class:`Assembler` goes through a draft in the order of the text and remembers what was spoken of, so that "it",
"both" and "the six bolts" can be told. What is not certain stays words and makes its sentence read in part.
"""

from __future__ import annotations

from attrs import evolve

from torquewright.reading.clause import Clause
from torquewright.reading.deeds import TIGHTENING, Deed
from torquewright.reading.kept import ReadAction, ReadSentence
from torquewright.reading.objects import Roster
from torquewright.reading.ordering import in_time, order_of, passes_of
from torquewright.reading.sentences import Sentence
from torquewright.reading.staging import one_tightening, readings_of, shared_out
from torquewright.reading.things import Thing
from torquewright.reading.toolbox import Toolbox, amount_of, substance_of
from torquewright.records.steps import Action, WasherUse

_PIECES = ("washer", "lock")
_HANDLED = frozenset(
    "loosen remove discard clean inspect measure lubricate seal install reuse replace hand_start seat tighten tighten_angle "
    "back_off retighten lock position check disconnect connect mark".split()
)
_MANY_MEANINGS = frozenset("plug fitting union clip fixing connector adapter adaptor hardware".split())
_MOVED = {"lower": "lower", "raise": "raise", "hoist": "raise", "lift": "raise"}
_TAKEN_OFF = frozenset({"remove", "disconnect", "loosen"})
_PLURALS = frozenset("them they these those both all ones each any none six".split())


class Assembler:
    """Turns the sentences of one draft into actions. ``roster`` knows the records and what was spoken of last."""

    def __init__(self, roster: Roster, toolbox: Toolbox) -> None:
        self.roster = roster
        self.toolbox = toolbox
        self.known: list[Thing] = []
        self.last_part: Thing | None = None
        self.last_sentence: list[Action] = []
        self.last_tight: Action | None = None
        self.last_to: dict[str, Action] = {}  # the last tightening of each joint
        self.temporary: set[str] = set()
        self.taken_off: set[str] = set()
        self._spoken: list[tuple[int, tuple[str, ...]]] = []
        self._ids: dict[int, tuple[str, ...]] = {}
        self._clause_of: dict[int, Clause] = {}
        self._doubts: list[str] = []
        self.recording = True  # false in notes and warnings: they bring no new records

    def take(self, sentence: Sentence) -> ReadSentence:
        """The actions of one sentence, in the order they are done."""
        self._spoken = []
        self._ids = {}
        self._doubts = []
        turned = {id(deed.thing): deed for deed in sentence.deeds}
        self._clause_of = {}
        for clause in sentence.clauses:
            for thing in _things_in(clause):
                self._clause_of[id(thing)] = clause
        for thing in self._in_mind(sentence):
            ids = self._ids.get(id(thing))
            if ids is None:
                ids = self._ids[id(thing)] = self._meant(thing, turned.get(id(thing)))
            if not ids and not thing.pronoun and thing.kind in ("", "consumable", "threaded", "machine", "hose", "cable", "valve", "load", "power"):
                ids = (("~~" if thing.plural else "~") + thing.text,)
            if ids:
                self.roster.mention(ids)
                self._spoken.append((thing.start, ids))
            if not thing.pronoun:
                self.known.append(thing)
                if thing.kind in ("", "threaded", "machine", "consumable", "hose", "power"):
                    self.last_part = thing
        made: list[ReadAction] = []
        asked = any(deed.doubt == "replace" for deed in sentence.deeds)
        for deed in in_time(sentence.deeds):
            made.extend(self._actions(deed, sentence))
        if len(self.known) > 80:
            del self.known[:40]
        if made:
            self.last_sentence = [held.action for held in made]
        for held in made:
            if held.action.verb in _TAKEN_OFF and held.action.mode == "do":
                self.taken_off.add(held.action.what)
            if held.deed.doubt == "replace" and (held.action.what in self.taken_off or _wears(held.deed)):
                held.deed.doubt = ""  # what was taken off to get at something goes back; what was not is renewed
            if held.action.verb in ("tighten", "retighten") and held.action.to is not None:
                self.last_tight = held.action
                self.last_to[held.action.what] = held.action
        status = sentence.status
        if self._doubts and status == "read":
            status = "in part"
        elif status == "in part" and asked and not sentence.leftover and not any(deed.doubt for deed in sentence.deeds):
            status = "read"
        return ReadSentence(sentence, status, made, list(dict.fromkeys(self._doubts)))

    def _in_mind(self, sentence: Sentence) -> list[Thing]:
        """The names of a sentence, clause by clause: pronouns first, then what stands beside, then what the clause is
        about, which is what a later "it" means."""
        order: list[Thing] = []
        seen: set[int] = set()

        def add(thing: Thing | None) -> None:
            if thing is None or id(thing) in seen:
                return
            seen.add(id(thing))
            add(thing.owner)
            order.append(thing)

        for clause in sentence.clauses:
            held = _things_in(clause)
            beside = [thing for _, thing in clause.preps if isinstance(thing, Thing)]
            for thing in held:
                if thing.pronoun:
                    add(thing)
            for thing in (*clause.brackets, *beside, *held):
                add(thing)
        for thing in sentence.things:
            add(thing)
        return order

    # ---- what a name means ----------------------------------------------------------------------------------------

    def _meant(self, thing: Thing, deed: Deed | None) -> tuple[str, ...]:
        roster = self.roster
        if thing.pronoun:
            return self._pronoun(thing, deed)
        kind = thing.kind
        if kind == "temporary" or thing.text in self.temporary or " ".join((*thing.mods[-1:], thing.head)) in self.temporary:
            self.temporary.add(" ".join((*thing.mods[-1:], thing.head)))
            return ()
        owner = self.last_part if thing.possessive else None
        if kind == "fastener":
            ids = roster.find(thing, owner=owner)
            if not ids and thing.possessive and owner is not None and not roster.question:
                ids = roster.find(thing)
            if ids:
                return self._counted(thing, ids)
            if roster.question:
                if deed is not None and deed.verb in _HANDLED:
                    self._doubts.append(roster.question)
                return ()
            if not self.recording or deed is None or deed.verb not in _HANDLED:
                return ()
            if thing.head in _MANY_MEANINGS and not thing.sizes and not thing.mods and deed.verb not in TIGHTENING and deed.verb != "loosen":
                return ()  # a plug may be electrical, a fitting a lamp
            return (roster.record(thing, "fastener"),) if thing.head != "fastener" or thing.sizes else ()
        if kind in ("threaded", "", "consumable"):
            ids = roster.find(thing)
            if ids:
                return ids
            if self.recording and deed is not None and deed.verb in ("tighten", "tighten_angle", "retighten") and kind in ("threaded", "") and deed.mode != "do_not" and not _frames(thing):
                return (roster.record(thing, "fastener"),)
            return ()
        if kind == "seal":
            near = deed.clause.objects[0] if deed is not None and deed.clause.objects and deed.clause.objects[0] is not thing else self.last_part
            ids = roster.find(thing, kinds=("seal",), owner=near)
            if ids:
                return ids
            if roster.question:
                self._doubts.append(roster.question)
                return ()
            return (roster.record(thing, "seal"),) if self.recording and deed is not None else ()
        if kind == "washer":
            clause = self._clause_of.get(id(thing))
            return tuple(self._washer_of(clause, thing)) if clause is not None else ()
        if kind == "lock":
            clause = self._clause_of.get(id(thing))
            named = self.roster.locked_by({thing.head, *thing.mods} - {"new", "old", "one"})
            if len(named) != 1:
                named = tuple(self._joint_beside(clause, thing)[:1]) if clause is not None else ()
            return tuple(f"{key}|{_lock_name(thing)}" for key in named)
        return ()

    def _counted(self, thing: Thing, ids: tuple[str, ...]) -> tuple[str, ...]:
        return ids

    def _pronoun(self, thing: Thing, deed: Deed | None) -> tuple[str, ...]:
        kinds: tuple[str, ...] = ("fastener", "seal", "piece", "part", "fluid")
        if deed is not None and (deed.verb in TIGHTENING and deed.verb != "retighten" or deed.verb in ("lock", "seal")):
            kinds = ("fastener",)
        head = thing.head
        if head in ("you", "that", "this", "something", "nothing", "everything", "anything"):
            return ()
        if thing.mods and head == "one" and not thing.state:
            ids = self.roster.find(_as_fastener(thing))
            if ids:
                return ids
        if head == "one" and thing.count is not None and [mod for mod in thing.mods if mod not in ("new", "old", "used", "fresh", "original")]:
            return ()
        plural_wanted: bool | None = None
        if head in _PLURALS or thing.plural or thing.quantifier in ("each", "every", "all"):
            plural_wanted = True
        elif head in ("it", "one") and not thing.plural:
            plural_wanted = False
        both = thing.quantifier == "both" or head == "both"
        if both:
            kinds = tuple(kind for kind in kinds if kind != "part")
            held = self.roster.last(plural=None, kinds=kinds, number=2, both=True)
            if held or deed is None or deed.verb in TIGHTENING or deed.verb in ("install", "reuse", "replace"):
                if not held and deed is not None and deed.verb in TIGHTENING:
                    self._doubts.append("which two are meant?")
                return held
            return self.roster.last(plural=None, kinds=kinds)
        return self.roster.last(plural=plural_wanted, kinds=kinds, number=thing.count if thing.count and thing.count > 1 else None, both=both)

    # ---- deeds ----------------------------------------------------------------------------------------------------

    def _actions(self, deed: Deed, sentence: Sentence) -> list[ReadAction]:
        if deed.verb == "limit":
            return []
        if deed.verb == "repeat":
            return self._repeat(deed)
        thing = deed.thing
        if thing is not None and thing.kind == "washer" and any(
            other is not deed and other.clause is deed.clause and thing in other.washers and other.verb in ("install", "hand_start", "replace", "reuse")
            and other.thing is not None and any(self._is_joint(key) for key in self._ids.get(id(other.thing), ()))
            for other in sentence.deeds
        ):
            return []  # goes on with its fastener
        targets = self._targets(deed)
        if shared_out(deed):
            return self._shared(deed, targets)
        to = one_tightening(deed) if deed.torques else None
        if to is None and deed.verb in ("tighten", "retighten") and self.last_tight is not None and _same(deed):
            to = next((self.last_to[key].to for key in targets if key in self.last_to), self.last_tight.to)
        made: list[ReadAction] = []
        base = Action(
            verb=self._verb(deed),
            what="",
            mode=deed.mode,  # type: ignore[arg-type]
            state=self._state(deed),
            to=to if deed.demanded or deed.verb == "measure" else None,
            tool=self.toolbox.name(deed.tool) if deed.tool is not None else "",
            with_what=substance_of(deed, self.roster),
            order=order_of(deed, sentence),
            passes=passes_of(deed),
            amount=amount_of(deed),
            by_hand=deed.by_hand or deed.lemma == "hand-start",
        )
        if deed.verb == "measure" and base.to is not None:
            base = evolve(base, to=None)
        count = thing.count if thing is not None else None
        if count is not None and any(isinstance(held, Thing) and held.quantifier in ("each", "both", "every") and held.kind in ("feature", "") for _, held in deed.clause.preps) and not (thing is not None and thing.kind == "washer"):
            count = None  # "one nut on each side": one at every place
        if thing is not None and thing.pronoun and thing.head == "both" and len(targets) == 1:
            count = None
        for target in targets or [""]:
            action = self._aimed(base, target, deed, count, len(targets))
            made.append(ReadAction(action, deed, sentence))
        if deed.verb in ("remove", "install", "loosen", "disconnect", "connect") and not any(self._is_joint(held.action.what) for held in made):
            # "the brake cover (four M5 screws)": what holds it is meant with it
            for thing in deed.clause.brackets:
                for key in self._ids.get(id(thing), ()):
                    if self._is_joint(key):
                        made.append(ReadAction(evolve(base, what=key, count=thing.count), deed, sentence))
        if deed.verb in ("install", "hand_start", "seat", "tighten", "replace", "reuse", "position"):
            use = self._washers(deed)
            if use is not None:
                made = [held._replace(action=evolve(held.action, washer=use)) if self._is_joint(held.action.what) else held for held in made]
        return made

    def _aimed(self, base: Action, target: str, deed: Deed, count: int | None, several: int) -> Action:
        if not target:
            words = deed.thing.text if deed.thing is not None and not deed.thing.pronoun else ""
            verb = base.verb
            if deed.thing is not None and " ".join((*deed.thing.mods[-1:], deed.thing.head)) in self.temporary:
                verb = {"install": "insert", "remove": "take_out", "seat": "insert", "hand_start": "insert", "tighten": "insert"}.get(verb, verb)
            return evolve(base, verb=verb, what=words, count=count)
        if target.startswith("~"):
            return evolve(base, what=target.lstrip("~"), count=count)
        if "|" in target:
            key, _, piece = target.partition("|")
            return evolve(base, what=piece, of=key, count=count if several == 1 else None)
        group = self.roster.by_id.get(target)
        if several > 1 and group is not None:
            count = group.count if count is not None else None
        if group is not None and group.kind == "seal":
            return evolve(base, what=target, count=count)
        return evolve(base, what=target, count=count)

    def _targets(self, deed: Deed) -> list[str]:
        thing = deed.thing
        if thing is None:
            if deed.verb not in _HANDLED:
                return []
            kinds = ("fastener",) if deed.verb in TIGHTENING else ("fastener", "seal")
            for start, ids in reversed(self._spoken):
                held = tuple(key for key in ids if self.roster.kind(key) in kinds)
                if held and start < max(deed.start, deed.clause.start, 1) or held and deed.fronted:
                    return list(held)
            if deed.verb in TIGHTENING or deed.verb in ("lock", "lubricate", "seal"):
                return list(self.roster.last(plural=None, kinds=kinds))
            return []
        if deed.verb not in _HANDLED:
            ids = self._ids.get(id(thing), ())
            return [key for key in ids if self.roster.kind(key) in ("fastener", "seal", "fluid")] if not thing.pronoun else []
        ids = self._ids.get(id(thing))
        if ids is None:
            ids = self._meant(thing, deed)
        if deed.verb == "lock" and ids and "|" in ids[0]:
            return [ids[0].partition("|")[0]]
        if not ids and thing.owner is not None and thing.kind in ("feature", "measure", "running", "torque-label"):
            ids = self._ids.get(id(thing.owner), ())
        if thing.kind == "feature" and not ids:
            return self._feature_of(deed, thing)
        return list(ids)

    def _feature_of(self, deed: Deed, thing: Thing) -> list[str]:
        """"the threads" or "the heads" of the joint spoken of."""
        if deed.verb in ("lubricate", "seal", "tighten", "tighten_angle", "mark") and thing.head in ("thread", "head", "pair", "corner"):
            return list(self.roster.last(plural=None, kinds=("fastener",)))
        return []

    def _joint_beside(self, clause: Clause, thing: Thing) -> list[str]:
        """The joints named in the same clause, else those spoken of last."""
        found: list[str] = []
        beside = [held for text, held in clause.preps if isinstance(held, Thing) and text in ("to", "on", "onto", "under", "over", "from", "off", "of", "with", "through", "in", "into", "for", "against", "below", "behind", "round", "out of")]
        beside += clause.objects
        if thing.owner is not None:
            beside.insert(0, thing.owner)
        for held in beside:
            if held is thing or held.pronoun and held.start > thing.start and held.head not in ("it", "them", "each"):
                continue
            ids = self._ids.get(id(held))
            if ids is None:
                if held.kind not in ("fastener", "threaded", "lock", "") and not held.pronoun:
                    continue
                ids = self._meant(held, None) if held.kind != "lock" else ()
                if held.kind == "fastener":
                    self._ids[id(held)] = ids
            for key in ids:
                if self.roster.kind(key) == "fastener" and key not in found:
                    found.append(key)
        return found or [key for key in self.roster.last(plural=None, kinds=("fastener",))]

    def _washer_of(self, clause: Clause, thing: Thing) -> list[str]:
        named = self.roster.find(thing, kinds=("seal",))
        if len(named) == 1 and thing.mods:
            return list(named)
        joints = self._joint_beside(clause, thing)
        own = [mod for mod in thing.mods if mod in ("drain", "level", "fill")]
        if own:
            joints = [key for key in joints if any(mod in key for mod in own)] or joints
        return [f"{key}|washer" for key in joints]

    def _washers(self, deed: Deed) -> WasherUse | None:
        held = [thing for thing in deed.washers if thing.kind == "washer"]
        if not held:
            return None
        thing = held[0]
        count = thing.count if thing.count is not None else (None if thing.plural else 1)
        kinds = [mod for mod in thing.mods if mod not in ("new", "another", "fresh", "old", "used")]
        state = thing.state
        return WasherUse(count, state if state in ("new", "old") else "", kinds[-1] if kinds else "")  # type: ignore[arg-type]

    def _is_joint(self, key: str) -> bool:
        return self.roster.kind(key) == "fastener"

    def _verb(self, deed: Deed) -> str:
        verb, lemma = deed.verb, deed.lemma
        if verb == "position" and lemma in _MOVED:
            return _MOVED[lemma]
        if verb == "wait" and (deed.clause.complement == "cool" or lemma == "cool"):
            return "cool_down"
        if verb == "run" and lemma == "warm":
            return "warm_up"
        if verb == "position" and deed.thing is not None and deed.thing.kind == "fastener":
            return "install"
        return verb

    def _state(self, deed: Deed) -> str:  # type: ignore[return]
        state = deed.state
        thing = deed.thing
        if deed.verb in ("install", "reuse", "position") and thing is not None and thing.pronoun and not state and (
            "back" in deed.clause.particles and thing.head in ("it", "them", "they", "these", "those", "all", "both")
        ):
            state = "old"
        return state if state in ("new", "old") else ""

    def _shared(self, deed: Deed, targets: list[str]) -> list[ReadAction]:
        held = readings_of(deed)
        made = []
        thing = deed.thing
        assert thing is not None
        for place, part in enumerate(thing.parts):
            to = held[min(place, len(held) - 1)] if held else None
            key = targets[place] if len(targets) == len(thing.parts) else (targets[0] if targets else "")
            action = Action(deed.verb, key or f"{part} {thing.head}", mode=deed.mode, to=to, tool=self.toolbox.name(deed.tool) if deed.tool else "",  # type: ignore[arg-type]
                            count=1 if len(targets) != len(thing.parts) and thing.count == len(thing.parts) else None)  # fmt: skip
            made.append(ReadAction(action, deed, None))
        return made

    def _repeat(self, deed: Deed) -> list[ReadAction]:
        """"Do the same with the level screw": the last sentence again, on another joint."""
        beside = [held for text, held in deed.clause.preps if isinstance(held, Thing) and text in ("with", "to", "for", "on", "at")]
        targets = [key for held in beside for key in self._ids.get(id(held), ()) if self._is_joint(key)]
        labels = [label for held in [*beside, *deed.clause.objects] for label in held.labels]
        if targets and not labels and self.last_sentence:
            made = []
            for key in targets:
                for action in self.last_sentence:
                    if self._is_joint(action.what) and not action.of:
                        group = self.roster.by_id[key]
                        made.append(ReadAction(evolve(action, what=key, count=group.count if action.count else None), deed, None))
                    elif action.of:
                        made.append(ReadAction(evolve(action, of=key), deed, None))
            if made:
                return made
        note = deed.clause.objects[0].text if deed.clause.objects else ""
        return [ReadAction(Action("repeat", note, mode=deed.mode, note=", ".join(labels)), deed, None)]  # type: ignore[arg-type]


def _wears(deed: Deed) -> bool:
    """Whether a thing that is replaced can only be renewed: no cover, and nothing that holds one."""
    thing = deed.thing
    held = deed.clause.objects
    return thing is not None and not _frames(thing) and not any(other.kind == "fastener" or _frames(other) for other in held)


def _frames(thing: Thing) -> bool:
    from torquewright.reading.facts import NOT_JOINTS

    return thing.head in NOT_JOINTS


def _as_fastener(thing: Thing) -> Thing:
    """"the long ones" as "the long fasteners"."""
    held = Thing()
    for name in Thing.__slots__:
        setattr(held, name, getattr(thing, name))
    held.head, held.kind, held.pronoun = "fastener", "fastener", False
    return held


def _lock_name(thing: Thing) -> str:
    words = [mod for mod in thing.mods if mod not in ("new", "old", "fresh", "used", "another")]
    return " ".join([*words[-1:], thing.head])


def _same(deed: Deed) -> bool:
    """Whether the deed takes the figure of the one before ("as before", "with the same setting")."""
    said = deed.clause.said
    if any(word.startswith(("as before", "in the same", "the same", "again")) for word in said):
        return True
    return any(isinstance(held, Thing) and ("same" in held.mods or held.head == "same") for _, held in deed.clause.preps)


def _things_in(clause: Clause) -> list[Thing]:
    """Every name of a clause."""
    held = [piece for piece in clause.pieces if isinstance(piece, Thing)]
    held += [thing for _, thing in clause.preps if isinstance(thing, Thing)]
    if clause.subject is not None:
        held.append(clause.subject)
    return held
