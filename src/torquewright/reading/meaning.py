"""What the names in a draft's sentences mean: records, pieces of joints, parts, or what was spoken of before."""

from __future__ import annotations

from torquewright.reading.beside import Beside, lock_name, things_in
from torquewright.reading.groups import PLACED, SEALANTS
from torquewright.reading.objects import Roster
from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import HANDLED, TIGHTENING, Deed
from torquewright.sentences.facts import NOT_JOINTS
from torquewright.sentences.lexicon import singular
from torquewright.sentences.sentence import Sentence
from torquewright.sentences.things import Thing

_MANY_MEANINGS = frozenset("plug fitting union clip fixing connector adapter adaptor hardware".split())
_PUSHED = frozenset("pull push press unplug click snap".split())
_ORDINALS = frozenset("second third fourth fifth sixth seventh eighth".split())
_PLACES = frozenset("left right upper lower front rear inner outer top bottom long short large small".split())
_PLURALS = frozenset("them they these those both all ones each any none six".split())


class Meaning(Beside):
    """What the names of a draft mean, one sentence after the other.

    ``known`` are the names so far, ``last_part`` the last part without a thread of its own, ``temporary`` the names of
    what is put in and taken out again, ``doubts`` what is open in the sentence at hand. ``recording`` is false in notes
    and warnings: they bring no new records.
    """

    def __init__(self, roster: Roster) -> None:
        self.roster = roster
        self.known: list[Thing] = []
        self.last_part: Thing | None = None
        self.temporary: set[str] = set()
        self.taken_off: set[str] = set()
        self.pushing = set()
        self.spoken: list[tuple[int, tuple[str, ...]]] = []
        self.ids: dict[int, tuple[str, ...]] = {}
        self.clause_of: dict[int, Clause] = {}
        self.deed_of: dict[int, Deed] = {}
        self.deeds: list[Deed] = []  # those of the sentence at hand
        self.gone: list[Thing] = []  # what the sentence at hand takes off or throws away
        self.laid = False  # whether the sentence at hand has put a washer in place by name
        self.doubts: list[str] = []
        self.recording = True

    def in_mind(self, sentence: Sentence) -> list[Thing]:
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
            held = things_in(clause)
            beside = [thing for _, thing in clause.preps if isinstance(thing, Thing)]
            for thing in held:
                if thing.pronoun:
                    add(thing)
            for thing in (*clause.brackets, *beside, *held):
                add(thing)
        for thing in sentence.things:
            add(thing)
        return order

    def meant(self, thing: Thing, deed: Deed | None) -> tuple[str, ...]:
        """What a name means; the number of a figure behind it ("bolts (3)") tells which, once it was explained."""
        roster = self.roster
        turning = deed is not None and deed.verb in ("tighten", "tighten_angle", "retighten")
        roster.turning = deed.verb if deed is not None and turning else ""
        if not thing.calls or thing.pronoun:
            return self._meant(thing, deed)
        held = list(self.doubts)
        found = self._meant(thing, deed) if thing.mods else ()
        if not found:
            self.doubts = held
            found = self._by_number(thing, deed)
        if len(found) == len(thing.calls):
            for call, key in zip(thing.calls, found, strict=True):
                roster.called_out[call] = (key,)
        elif found and len(thing.calls) == 1:
            roster.called_out[thing.calls[0]] = found
        return found

    def _by_number(self, thing: Thing, deed: Deed | None) -> tuple[str, ...]:
        """What the numbers behind a bare name stand for, so far as they were explained."""
        roster = self.roster
        if all(call in roster.called_out for call in thing.calls):
            return tuple(dict.fromkeys(key for call in thing.calls for key in roster.called_out[call]))
        named = tuple(
            group.id
            for call in thing.calls
            for group in roster.by_word.get(call, ())
            if (thing.head, call) in group.names
        )
        if len(named) == len(thing.calls):
            return named
        taken = {key for call, keys in roster.called_out.items() if call not in thing.calls for key in keys}
        roster.barred = {key for key in taken if "|" not in key}
        found = self._meant(thing, deed)
        roster.barred = set()
        return found

    def _meant(self, thing: Thing, deed: Deed | None) -> tuple[str, ...]:
        roster = self.roster
        if thing.pronoun:
            return self._pronoun(thing, deed)
        kind = thing.kind
        if (
            kind == "temporary"
            or thing.text in self.temporary
            or " ".join((*thing.mods[-1:], thing.head)) in self.temporary
        ):
            self.temporary.add(" ".join((*thing.mods[-1:], thing.head)))
            return ()
        owner = self._holder(thing) if thing.possessive else self._part_beside(thing)
        if kind == "fastener" and thing.head in ("plug", "connector") and deed is not None and deed.lemma in _PUSHED:
            named = roster.find(thing, owner=owner) if thing.mods else ()
            held = [key for key in named if key in roster.by_id and thing.head in roster.by_id[key].heads]
            return tuple(held)  # pulled out and pushed in: no screwed one, unless by its full name
        if kind == "fastener" and (other := self._no_such(thing, deed)):
            return other
        if kind == "fastener" and (named := self._named_just_now(thing)):
            return named
        if kind == "fastener":
            ids = roster.find(thing, owner=owner)
            out = bool(ids) and deed is not None and deed.verb == "remove" and set(ids) <= roster.off
            if out and not thing.mods and not any(thing.head in roster.by_id[key].heads for key in ids):
                return (f"~~{thing.text}" if thing.plural else f"~{thing.text}",)  # the screws are out: other bolts
            if not ids and thing.possessive and owner is not None and not roster.question:
                ids = roster.find(thing)
            if ids:
                return ids
            if thing.head == "stud" and deed is not None and deed.verb in ("lubricate", "seal", "clean"):
                nuts = [group.id for group in roster.groups if group.kind == "fastener" and "nut" in group.heads]
                spoken = [key for mention in reversed(roster.mentions) for key in mention if key in nuts]
                if thing.plural:
                    spoken = [key for key in spoken if (roster.by_id[key].count or 2) > 1] or spoken
                if spoken:
                    return (spoken[0],)  # paste on the studs is paste on the threads of their nuts
            if roster.question:
                asked = deed is not None and deed.mode != "mentioned_only" and thing.quantifier != "any"
                if deed is not None and asked and deed.verb in HANDLED:
                    self.doubts.append(roster.question)
                return ()
            if not self.recording or deed is None or deed.verb not in HANDLED:
                return ()
            if (
                thing.head in _MANY_MEANINGS
                and not thing.sizes
                and not thing.mods
                and deed.verb not in TIGHTENING
                and deed.verb != "loosen"
            ):
                return ()  # a plug may be electrical, a fitting a lamp
            return (roster.record(thing, "fastener", owner),) if thing.head != "fastener" or thing.sizes else ()
        if kind in ("threaded", "", "consumable"):
            rings = self._rings_off(thing) if deed is not None and deed.verb in ("discard", "remove") else ()
            if rings:
                return rings
            under = self._ring_of(thing) if self._under_a_head(thing) else ()
            named = tuple(key for key in roster.find(thing) if not self._another(thing, key))
            ids = under or named or roster.find(thing, kinds=("seal",)) or self._ring_of(thing)
            if ids:
                return ids
            if (
                self.recording
                and deed is not None
                and deed.verb in ("tighten", "tighten_angle", "retighten")
                and kind in ("threaded", "")
                and deed.mode != "do_not"
                and not frames(thing)
            ):
                return (roster.record(thing, "fastener"),)
            return ()
        if kind == "portion" and thing.owner is None and deed is not None and deed.verb in ("seal", "install"):
            beads = [group.id for group in roster.groups if group.kind == "seal" and group.words & SEALANTS]
            return tuple(beads) if len(beads) == 1 else ()  # "lay a 3 mm bead round the case"
        if kind == "seal":
            near = (
                deed.clause.objects[0]
                if deed is not None and deed.clause.objects and deed.clause.objects[0] is not thing
                else self.last_part
            )
            ids = roster.find(thing, kinds=("seal",), owner=near)
            if ids:
                return ids
            if roster.question:
                self.doubts.append(roster.question)
                return ()
            rings = self._ring_of(thing)
            if rings:
                return rings
            return (roster.record(thing, "seal"),) if self.recording and deed is not None else ()
        if (
            kind == "washer"
            and thing.head != "washer"
            and (locked := roster.locked_by({thing.head}))
            and not roster.find(thing, kinds=("seal",))
        ):
            clause = self.clause_of.get(id(thing))
            beside = [key for key in self.joint_beside(clause, thing) if key in locked] if clause is not None else []
            return tuple(f"{key}|{lock_name(thing)}" for key in beside or (locked if len(locked) == 1 else ()))
        if kind == "washer":
            clause = self.clause_of.get(id(thing))
            return tuple(self._washer_of(clause, thing)) if clause is not None else ()
        if kind == "lock" and (own := roster.find(thing, owner=owner)):
            return own  # a hose clip with a record of its own
        if kind == "lock":
            clause = self.clause_of.get(id(thing))
            named = self.roster.locked_by({thing.head, *thing.mods} - {"new", "old", "one"})
            if len(named) != 1:
                named = tuple(self.joint_beside(clause, thing)[:1]) if clause is not None else ()
            return tuple(f"{key}|{lock_name(thing)}" for key in named)
        return roster.called(thing)

    def _no_such(self, thing: Thing, deed: Deed | None) -> tuple[str, ...]:
        """What a bare "the bolts" means where the bolts just spoken of stand in no record and are only held."""
        if thing.mods or thing.sizes or thing.state or not thing.definite or thing.owner is not None:
            return ()
        for held in reversed(self.known[-6:]):
            if held.head == thing.head and held.kind == "fastener":
                told = bool(held.mods) and not self.roster.find(held) and not self.roster.question
                own = any(thing.head in group.heads for group in self.roster.groups if group.kind == "fastener")
                moved = deed is not None and deed.verb in ("remove", "inspect", "position")
                return (f"~~{held.text}" if held.plural else f"~{held.text}",) if told and (moved or not own) else ()
        return ()

    def _another(self, thing: Thing, key: str) -> bool:
        """Whether a part is not the joint that shares its last word, as "the forward cap" is no filler cap."""
        group = self.roster.by_id[key]
        if group.kind != "fastener":
            return False
        several = (thing.quantifier == "both" or (thing.count or 1) > 1) and group.count == 1
        return several or bool(set(thing.mods) & PLACED - group.words)

    def _named_just_now(self, thing: Thing) -> tuple[str, ...]:
        """ "Put a washer under the head of each banjo bolt and pass the bolts through": those of this sentence."""
        if not (thing.plural and thing.definite) or thing.mods or thing.sizes or thing.quantifier or thing.count:
            return ()
        spoken = {key for _, ids in self.spoken for key in ids if key in self.roster.by_id and self.is_joint(key)}
        held = tuple(spoken)
        fits = len(held) == 1 and thing.head in self.roster.by_id[held[0]].heads and self.roster.many(held)
        return held if fits else ()

    def _holder(self, thing: Thing) -> Thing | None:
        """What "its" or "their" stands for: what the clause named just before, else what was spoken of last."""
        clause = self.clause_of.get(id(thing))
        before = [held for held in clause.objects if held.end <= thing.start] if clause is not None else []
        parts = [held for held in before if not held.pronoun and held.kind in ("", "part", "structure", "threaded")]
        return parts[-1] if parts else self.last_part

    def _part_beside(self, thing: Thing) -> Thing | None:
        """The part a bare name of screws stands behind in the same breath: "lid on, four screws"."""
        clause = self.clause_of.get(id(thing))
        bare = thing.kind == "fastener" and not (thing.mods or thing.sizes)
        if clause is not None and bare and thing.quantifier == "all" and not clause.objects[:-1]:
            return self.last_part  # "Guard on. All four screws by hand first, …"
        if clause is None or not bare or thing.count is None:
            return None
        ahead = [held for held in clause.objects if held.end <= thing.start and held.kind in ("", "threaded", "part")]
        return ahead[-1] if ahead else None

    def _pronoun(self, thing: Thing, deed: Deed | None) -> tuple[str, ...]:
        kinds: tuple[str, ...] = ("fastener", "seal", "piece", "part", "fluid")
        if deed is not None and (
            (deed.verb in TIGHTENING and deed.verb != "retighten") or deed.verb in ("lock", "seal")
        ):
            kinds = ("fastener",)
        elif deed is not None and any(held.kind == "washer" for held in deed.washers):
            kinds = ("fastener", "part")  # what is fitted with a washer is no washer
        unscrewed = deed is not None and deed.lemma in ("unscrew", "undo")
        if unscrewed and self.roster.last(plural=None, kinds=("fastener",)):
            kinds = ("fastener",)
        if thing.head == "one" and thing.state == "new" and not thing.plural and not thing.mods[1:]:
            off = [held for held in self.gone if held.end <= thing.start and self.ids.get(id(held))]
            if off:
                return self.ids[id(off[-1])]  # "strip the old ring off the plug and put on a new one": a ring
        if deed is not None and deed.verb in ("install", "reuse") and self.laid:
            kinds = tuple(kind for kind in kinds if kind != "piece")  # "put a washer on the plug and fit it": the plug
        head = thing.head
        if head == "it" and deed is not None and (ahead := self._done_just_now(deed)):
            return ahead
        counted = self._of_other_things(thing)
        if counted is not None:
            return counted
        if self.temporary and head in ("it", "them", "both", "each", "they"):
            several = head != "it"
            lent = next((held for held in reversed(self.roster.mentions) if self.roster.many(held) == several), ())
            if lent and all(self._is_lent(key) for key in lent):
                return ()  # the jacking screws just spoken of
        if head in ("you", "that", "this", "something", "nothing", "everything", "anything"):
            return ()
        if head in _ORDINALS:
            return self.roster.last(plural=True, kinds=kinds)  # "start five of the bolts, then the sixth"
        if head not in ("one", "same", "other") and head in _PLACES:
            # "the left", "both upper ones": the place tells which
            told = as_fastener(thing)
            told.mods, told.pronoun = (*thing.mods, head), False
            ids = self.roster.find(told)
            if len(ids) == 1:
                return ids
        if thing.mods and head == "one" and not thing.state:
            ids = self.roster.find(as_fastener(thing))
            latest = self.roster.last(plural=None, kinds=("fastener",))
            clause = self.clause_of.get(id(thing))
            beside = [held for held in clause.objects if held.end <= thing.start] if clause is not None else []
            named = next((held for held in reversed([*self.known, *beside]) if not held.pronoun), None)
            group = self.roster.by_id.get(latest[0]) if len(latest) == 1 else None
            spoken = named is not None and self.ids.get(id(named), self.roster.find(named)) == latest
            pair = spoken and group is not None and (group.count or 1) > 1 and latest != ids
            if pair and set(thing.mods) <= PLACED and thing.count in (None, 1) and not thing.plural:
                return latest  # "tighten the crank bolts, first the right one, then the left one"
            if ids:
                return ids
        if (
            head == "one"
            and thing.count is not None
            and [mod for mod in thing.mods if mod not in ("new", "old", "used", "fresh", "original")]
        ):
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
                    self.doubts.append("which two are meant?")
                return held
            return self.roster.last(plural=None, kinds=kinds)
        some = head in ("them", "these", "those") and thing.quantifier != "all"  # "refit three of them"
        return self.roster.last(
            plural=plural_wanted,
            kinds=kinds,
            number=thing.count if thing.count and thing.count > 1 and not some else None,
            both=both,
        )

    def _done_just_now(self, deed: Deed) -> tuple[str, ...]:
        """What "it" means behind a deed done to one piece: "peel the O-ring off each plug and bin it"."""
        place = next((at for at, held in enumerate(self.deeds) if held is deed), 0)
        before = self.deeds[place - 1] if place else None
        last = before.thing if before is not None else None
        if before is None or last is None or last.pronoun or last.plural:
            return ()
        if last.kind == "fastener" and deed.verb in HANDLED and before.verb in ("hand_start", "seat", "install"):
            return self.ids.get(id(last), ())  # "start the diaphragm screw by hand and tighten it", one of three
        if last.kind in ("part", "") and before.verb == "install" and deed.verb == "lubricate":
            return self.ids.get(id(last), ())  # "press the bearing in, …, and pack it with grease"
        gone = deed.verb in ("discard", "clean", "lubricate") and before.verb in ("remove", "discard", "clean")
        return self.ids.get(id(last), ()) if gone and last.kind in ("seal", "washer", "lock") else ()

    def _of_other_things(self, thing: Thing) -> tuple[str, ...] | None:
        """What a bare number means where the latest of that number are no joint: "two rags went in, two come out"."""
        if thing.count is None or thing.count < 2 or thing.quantifier or thing.definite or thing.head == "one":
            return None
        for held in reversed(self.known[-4:]):
            if held.count == thing.count:
                return self.ids.get(id(held), ()) if held.kind in ("tool", "consumable", "part", "") else None
        return None

    def _is_lent(self, key: str) -> bool:
        """Whether what was spoken of is put in only for a while and taken out again."""
        words = [*key.lstrip("~").split()[:-1], singular(key.rsplit(" ", 1)[-1].lstrip("~"))]
        return key.startswith("~") and (" ".join(words[-2:]) in self.temporary or words[-1] in self.temporary)

    def is_joint(self, key: str) -> bool:
        return self.roster.kind(key) == "fastener"


def frames(thing: Thing) -> bool:
    return thing.head in NOT_JOINTS


def as_fastener(thing: Thing) -> Thing:
    """ "the long ones" as "the long fasteners"."""
    held = Thing()
    for name in Thing.__slots__:
        setattr(held, name, getattr(thing, name))
    held.head, held.kind, held.pronoun = "fastener", "fastener", False
    return held
