"""What the names in a draft's sentences mean: records, pieces of joints, parts, or what was spoken of before."""

from __future__ import annotations

from torquewright.reading.clause import Clause
from torquewright.reading.deeds import HANDLED, TIGHTENING, Deed
from torquewright.reading.facts import NOT_JOINTS
from torquewright.reading.lexicon import singular
from torquewright.reading.objects import Roster
from torquewright.reading.sentences import Sentence
from torquewright.reading.targets import RINGS
from torquewright.reading.things import Thing

_MANY_MEANINGS = frozenset("plug fitting union clip fixing connector adapter adaptor hardware".split())
_ORDINALS = frozenset("second third fourth fifth sixth seventh eighth".split())
_PLACES = frozenset("left right upper lower front rear inner outer top bottom long short large small".split())
_PLURALS = frozenset("them they these those both all ones each any none six".split())


class Meaning:
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
        self.spoken: list[tuple[int, tuple[str, ...]]] = []
        self.ids: dict[int, tuple[str, ...]] = {}
        self.clause_of: dict[int, Clause] = {}
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
        roster.turning = deed is not None and deed.verb in ("tighten", "tighten_angle", "retighten")
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
        owner = self._holder(thing) if thing.possessive else None
        if kind == "fastener":
            ids = roster.find(thing, owner=owner)
            if not ids and thing.possessive and owner is not None and not roster.question:
                ids = roster.find(thing)
            if ids:
                return ids
            if roster.question:
                if deed is not None and deed.verb in HANDLED:
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
            ids = roster.find(thing) or roster.find(thing, kinds=("seal",)) or self._ring_of(thing)
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

    def _holder(self, thing: Thing) -> Thing | None:
        """What "its" or "their" stands for: what the clause named just before, else what was spoken of last."""
        clause = self.clause_of.get(id(thing))
        before = [held for held in clause.objects if held.end <= thing.start] if clause is not None else []
        parts = [held for held in before if not held.pronoun and held.kind in ("", "part", "structure", "threaded")]
        return parts[-1] if parts else self.last_part

    def _pronoun(self, thing: Thing, deed: Deed | None) -> tuple[str, ...]:
        kinds: tuple[str, ...] = ("fastener", "seal", "piece", "part", "fluid")
        if deed is not None and (
            (deed.verb in TIGHTENING and deed.verb != "retighten") or deed.verb in ("lock", "seal")
        ):
            kinds = ("fastener",)
        elif deed is not None and any(held.kind == "washer" for held in deed.washers):
            kinds = ("fastener", "part")  # what is fitted with a washer is no washer
        head = thing.head
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

    def _is_lent(self, key: str) -> bool:
        """Whether what was spoken of is put in only for a while and taken out again."""
        words = [*key.lstrip("~").split()[:-1], singular(key.rsplit(" ", 1)[-1].lstrip("~"))]
        return key.startswith("~") and (" ".join(words[-2:]) in self.temporary or words[-1] in self.temporary)

    def joint_beside(self, clause: Clause, thing: Thing) -> list[str]:
        """The joints named in the same clause, else those spoken of last."""
        found: list[str] = []
        beside = [
            held
            for text, held in clause.preps
            if isinstance(held, Thing)
            and text
            in (
                "to",
                "on",
                "onto",
                "under",
                "over",
                "from",
                "off",
                "of",
                "with",
                "through",
                "in",
                "into",
                "for",
                "against",
                "below",
                "behind",
                "round",
                "out of",
            )
        ]
        beside += clause.objects
        if thing.owner is not None:
            beside.insert(0, thing.owner)
        for held in beside:
            if held is thing or (held.pronoun and held.start > thing.start and held.head not in ("it", "them", "each")):
                continue
            ids = self.ids.get(id(held))
            if ids is None:
                if held.kind not in ("fastener", "threaded", "lock", "") and not held.pronoun:
                    continue
                ids = self.meant(held, None) if held.kind != "lock" else ()
                if held.kind == "fastener":
                    self.ids[id(held)] = ids
            for key in ids:
                if self.roster.kind(key) == "fastener" and key not in found:
                    found.append(key)
        return found or self._last_joints(thing)

    def _last_joints(self, thing: Thing) -> list[str]:
        """The joints spoken of last; for "both washers" those that have so many together."""
        last = self.roster.last(plural=None, kinds=("fastener",))
        if thing.kind != "washer" or not thing.count or thing.count < 2:
            return list(last)
        found: list[str] = []
        total = 0
        for mention in reversed(self.roster.mentions):
            for key in mention:
                group = self.roster.by_id.get(key)
                washer = getattr(group.record, "washer", None) if group is not None else None
                if group is None or washer is None or key in found:
                    continue
                found.append(key)
                total += (washer.count or 1) * (group.count or 1)
            if total == thing.count:
                return list(reversed(found))
            if total > thing.count:
                break
        return list(last)

    def _washer_of(self, clause: Clause, thing: Thing) -> list[str]:
        named = self.roster.find(thing, kinds=("seal",))
        if len(named) == 1 and thing.mods:
            return list(named)
        joints = self._with_washers(clause, thing) or self.joint_beside(clause, thing)
        kinds = {key for key, group in self.roster.by_id.items() if group.washer and group.washer in thing.mods}
        bare = not any(key in self.roster.by_id and self.roster.by_id[key].washer for key in joints)
        if kinds and bare and not any(held.kind == "fastener" for held in things_in(clause)):
            joints = sorted(kinds) if len(kinds) == 1 else joints  # only the axle nut has a toothed one
        own = [mod for mod in thing.mods if mod in ("drain", "level", "fill")]
        if own:
            joints = [key for key in joints if any(mod in key for mod in own)] or joints
        return [f"{key}|washer" for key in joints]

    def _with_washers(self, clause: Clause, thing: Thing) -> list[str]:
        """The joints that "new sealing washers on both screws" means: those of that number which have one."""
        beside = next((held for text, held in clause.preps if text in ("on", "to", "under", "over")), None)
        if not isinstance(beside, Thing) or beside.kind != "fastener" or beside.pronoun or not thing.mods:
            return []
        if beside.count is None or beside.mods or beside.sizes or not beside.plural:
            return []
        held = [group for group in self.roster.by_word.get(beside.head, ()) if group.washer in thing.mods]
        known = self.roster.find(beside)
        if sum(group.count or 1 for group in held) != beside.count or any(group.id in known for group in held):
            return []
        return [group.id for group in held]

    def _ring_of(self, thing: Thing) -> tuple[str, ...]:
        """The sealing washer of a joint by another name: "the copper ring", where its record has such a washer."""
        clause = self.clause_of.get(id(thing))
        if clause is None or thing.head not in RINGS:
            return ()
        joints = [self.roster.by_id[key] for key in self.joint_beside(clause, thing)]
        return tuple(f"{group.id}|washer" for group in joints if group.washer == "sealing")

    def feature_of(self, deed: Deed, thing: Thing) -> list[str]:
        """ "the threads" or "the heads" of the joint spoken of."""
        if deed.verb in ("lubricate", "seal", "tighten", "tighten_angle", "mark") and thing.head in (
            "thread",
            "head",
            "pair",
            "corner",
        ):
            return list(self.roster.last(plural=None, kinds=("fastener",)))
        return []

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


def lock_name(thing: Thing) -> str:
    words = [mod for mod in thing.mods if mod not in ("new", "old", "fresh", "used", "another")]
    return " ".join([*words[-1:], thing.head])


def things_in(clause: Clause) -> list[Thing]:
    """Every name of a clause."""
    held = [piece for piece in clause.pieces if isinstance(piece, Thing)]
    held += [thing for _, thing in clause.preps if isinstance(thing, Thing)]
    if clause.subject is not None:
        held.append(clause.subject)
    return held
