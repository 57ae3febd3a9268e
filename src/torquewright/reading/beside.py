"""Which joint a washer, a lock or a thread belongs to: the one named beside it, else the one spoken of last."""

from __future__ import annotations

from torquewright.reading.groups import IDLE
from torquewright.reading.objects import Roster
from torquewright.records.steps import WasherUse
from torquewright.sentences.clause import Clause
from torquewright.sentences.deeds import Deed
from torquewright.sentences.targets import RINGS
from torquewright.sentences.things import Thing

_FORCING = frozenset({"jacking", "extractor", "extraction", "puller", "forcing", "push-off"})
_PUT_IN = ("install", "hand_start", "seat", "insert", "tighten", "tighten_angle")


class Beside:
    """The joints that stand beside a piece in its clause. ``ids`` are the meanings found in the sentence so far,
    ``deed_of`` what is done to a thing, by its identity."""

    roster: Roster
    ids: dict[int, tuple[str, ...]]
    clause_of: dict[int, Clause]
    deed_of: dict[int, Deed]
    pushing: set[str]  # joints of which some screws stand in jacking holes for the moment

    def lent(self, deed: Deed, targets: list[str]) -> str:
        """What is done to screws lent to push parts asunder: put into jacking holes, and taken out of them again."""
        if deed.verb in _PUT_IN:
            into = [held for _, held in deed.clause.preps if isinstance(held, Thing)]
            if any(_FORCING & {*held.mods} and held.head in ("hole", "thread", "tapping") for held in into):
                self.pushing.update(targets)
                return "insert"
            if not set(targets) <= self.pushing or (deed.torques and deed.verb == "tighten" and deed.demanded):
                self.pushing.clear()
        elif deed.verb == "remove" and self.pushing and deed.thing is not None:
            lent = deed.thing.pronoun or set(targets) <= self.pushing
            self.pushing.clear()
            return "take_out" if lent else ""
        return ""

    def meant(self, thing: Thing, deed: Deed | None) -> tuple[str, ...]:
        """What a name means, by its words alone."""
        return self.roster.find(thing)

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
                "either side of",
                "each side of",
            )
        ]
        beside = [held.owner if held.kind == "feature" and held.owner is not None else held for held in beside]
        beside += clause.objects
        if clause.subject is not None and clause.subject.kind == "fastener":
            beside.insert(0, clause.subject)  # "the drain plug shall receive one new sealing washer"
        beside.sort(key=lambda held: held.pronoun)  # "with a washer under it, tighten the nut": the nut, not "it"
        if thing.owner is not None:
            beside.insert(0, thing.owner)
        for held in beside:
            later = held.pronoun and held.start > thing.start and held.head not in ("it", "them", "each")
            if held is thing or held.head in RINGS or later:
                continue
            ids = self.ids.get(id(held))
            if ids is None:
                if held.kind not in ("fastener", "threaded", "lock", "") and not held.pronoun:
                    continue
                ids = self.meant(held, self.deed_of.get(id(held))) if held.kind != "lock" else ()
                if held.kind == "fastener":
                    self.ids[id(held)] = ids
            for key in ids:
                if self.roster.kind(key) == "fastener" and key not in found:
                    found.append(key)
        several = thing.kind == "washer" and (thing.count or 1) > 1 and len(found) == 1
        if several and thing.state == "old" and self._washers_of(found) < (thing.count or 1):
            return self._last_joints(thing)  # "get both old washers off, from plug or seat"
        return found or self._sharing(beside, thing) or self._last_joints(thing)

    def _sharing(self, beside: list[Thing], thing: Thing) -> list[str]:
        """The one joint that shares its name with a part beside: the banjo bolt for "either side of the banjo eye"."""
        for held in beside:
            for word in (*held.mods, held.head) if held is not thing and not held.pronoun else ():
                groups = {group.id for group in self.roster.by_word.get(word, ()) if group.kind == "fastener"}
                if len(groups) == 1 and word not in IDLE and word not in self.roster.by_id[next(iter(groups))].heads:
                    return list(groups)
        return []

    def _washers_of(self, keys: list[str]) -> int:
        """How many washers these joints have together; many where no record tells."""
        total = 0
        for key in keys:
            group = self.roster.by_id.get(key)
            washer = getattr(group.record, "washer", None) if group is not None else None
            total += (washer.count or 1) * (group.count or 1) if group is not None and washer is not None else 99
        return total

    def _last_joints(self, thing: Thing) -> list[str]:
        """The joints spoken of last; for "both washers" those that have so many together."""
        last = self.roster.last(plural=None, kinds=("fastener",))
        if (thing.kind != "washer" and thing.head not in RINGS) or not thing.count or thing.count < 2:
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

    def _rings_off(self, thing: Thing) -> tuple[str, ...]:
        """What "the old rings" are: those of the parts and the sealing washers of the joints that are off."""
        if thing.head not in RINGS or not thing.plural or thing.count is not None or set(thing.mods) - {"old"}:
            return ()
        joints = [group for key, group in self.roster.by_id.items() if key in self.roster.off]
        washers = tuple(f"{group.id}|washer" for group in joints if group.washer == "sealing")
        return (*self.roster.find(thing, kinds=("seal",)), *washers) if washers else ()

    def washers_with(self, deed: Deed) -> WasherUse | None:
        """The washers that go in with what a deed fits, by number, state and kind; None where none is named."""
        held = [
            thing
            for thing in deed.washers
            if thing.kind == "washer" or any(key.endswith("|washer") for key in self.ids.get(id(thing), ()))
        ]
        if not held:
            return None
        thing = held[0]
        count = thing.count if thing.count is not None else (None if thing.plural else 1)
        if count is not None and on_both_sides(deed, thing):
            count *= 2  # "one new copper washer on each side of the hose end"
        kinds = [mod for mod in thing.mods if mod not in ("new", "another", "fresh", "old", "used")]
        state = thing.state
        return WasherUse(count, state if state in ("new", "old") else "", kinds[-1] if kinds else "")  # type: ignore[arg-type]

    def _under_a_head(self, thing: Thing) -> bool:
        """Whether a bare ring goes under the head of a screw, which tells it from the ring of a part."""
        clause = self.clause_of.get(id(thing))
        return (
            clause is not None
            and thing.head in RINGS
            and any(text == "under" and isinstance(held, Thing) for text, held in clause.preps)
        )

    def _ring_of(self, thing: Thing) -> tuple[str, ...]:
        """The sealing washer of a joint by another name: "the copper ring", where its record has such a washer."""
        clause = self.clause_of.get(id(thing))
        if clause is None or thing.head not in RINGS:
            return ()
        joints = [self.roster.by_id[key] for key in self.joint_beside(clause, thing)]
        return tuple(f"{group.id}|washer" for group in joints if group.washer == "sealing")

    def feature_of(self, deed: Deed, thing: Thing) -> list[str]:
        """ "the threads" or "the heads" of the joint spoken of, or of the one named: "the union thread"."""
        named = set(thing.mods) - IDLE
        joints = [group for group in self.roster.groups if group.kind == "fastener"] if named else []
        meant = [group.id for group in joints if named <= group.words]
        if len(meant) == 1 and deed.verb in ("lubricate", "seal", "clean"):
            return meant
        if deed.verb in ("lubricate", "seal", "tighten", "tighten_angle", "mark") and thing.head in (
            "thread",
            "head",
            "pair",
            "corner",
            "row",
            "ring",
            "circle",
        ):
            return list(self.roster.last(plural=None, kinds=("fastener",)))
        return []


_SIDES = frozenset("side face end".split())


def on_both_sides(deed: Deed, thing: Thing) -> bool:
    """Whether as many go on each of two sides."""
    return any(
        isinstance(held, Thing) and text in ("either side of", "each side of") and held.start > thing.start
        for text, held in deed.clause.preps
    ) or any(
        isinstance(held, Thing)
        and held.start > thing.start
        and text in ("on", "at")
        and (held.head in _SIDES and (held.quantifier in ("each", "either") or (held.count == 2 and thing.count == 1)))
        for text, held in deed.clause.preps
    )


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
