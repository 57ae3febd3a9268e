"""Which record a name in a sentence means: by its words, its size, its number, and what was spoken of before.

Where two records fit equally well the answer is both names and no record: never a guess.
"""

from __future__ import annotations

from torquewright.reading.groups import IDLE, LIKE, PLACED, Group, part_of, size_key
from torquewright.reading.unrecorded import by_another_name, unrecorded, without_place
from torquewright.records.catalogue import Catalogue
from torquewright.records.parts import Fastener, Seal
from torquewright.sentences.lexicon import lexicon, singular
from torquewright.sentences.things import Thing


class Roster:
    """Everything a draft can mean, with what it spoke of last.

    ``mentions`` are the groups spoken of so far, the latest last, each a tuple of ids. New records for what the
    draft names and nobody recorded are kept in ``found``.
    """

    def __init__(self, catalogue: Catalogue) -> None:
        self.groups: list[Group] = [Group(record, "fastener") for record in catalogue.fasteners]
        self.groups += [Group(record, "seal") for record in catalogue.seals]
        self.groups += [Group(record, "part") for record in catalogue.parts]
        self.groups += [Group(record, "fluid") for record in catalogue.fluids]
        self.by_id = {group.id: group for group in self.groups}
        self.by_word: dict[str, list[Group]] = {}
        for group in self.groups:
            self._index(group)
        self.mentions: list[tuple[str, ...]] = []
        self.owners: list[Thing] = []
        self.found: dict[str, Fastener | Seal] = {}
        self.question = ""
        self.called_out: dict[str, tuple[str, ...]] = {}  # what the numbers of a figure stand for
        self.topic: tuple[set[str], set[str]] = (set(), set())  # the words of this sentence, and of its step so far
        self.off: set[str] = set()  # joints taken out and not put back so far
        self.tight: set[str] = set()  # joints tightened, and not touched since
        self.singly: tuple[str, ...] = ()  # what was last spoken of one by one ("each castle nut")
        self.turning = ""  # the verb when what is looked up is being tightened
        self.barred: set[str] = set()  # what another number stands for, while a name is looked up

    def _index(self, group: Group) -> None:
        for word in group.words | group.heads | group.family:
            self.by_word.setdefault(word, []).append(group)

    def mention(self, ids: tuple[str, ...]) -> None:
        """Remember that these groups were just spoken of."""
        if ids:
            self.mentions.append(ids)
            if len(self.mentions) > 60:
                del self.mentions[:30]

    # ---- names ----------------------------------------------------------------------------------------------------

    def find(
        self, thing: Thing, *, kinds: tuple[str, ...] = ("fastener",), owner: Thing | None = None
    ) -> tuple[str, ...]:
        """The ids of the records a name means; empty when it means none, or when :attr:`question` says that two
        fit equally."""
        self.question = ""
        if thing.labels and thing.parts:
            return ()
        if len(thing.parts) >= 2 and not thing.pronoun:
            return self._parts(thing, kinds)
        found = self._one(thing, thing.mods, kinds, owner)
        if not found and not self.question and thing.mods and set(thing.mods) <= PLACED and kinds == ("fastener",):
            alike = [group for group in self.by_word.get(thing.head, ()) if thing.head in group.heads]
            if len({group.id for group in alike}) == 1 and alike[0].id not in self.barred and not thing.sizes:
                return (alike[0].id,)  # "the ten inner bolts", "the two end bolts" of the only bolts there are
        return found

    def called(self, thing: Thing) -> tuple[str, ...]:
        """The joint that goes by just these words, whatever they say of it: the "valve body" of a record."""
        words = tuple(part for mod in thing.mods for part in mod.split() if part not in IDLE)
        for group in self.by_word.get(thing.head, ()):
            if group.kind == "fastener" and (*words, thing.head) in group.names:
                return (group.id,)
        ends = [
            group.id
            for group in self.by_word.get(thing.head, ())
            if group.kind == "fastener" and thing.head in group.heads
        ]
        return tuple(dict.fromkeys(ends)) if not words and len(set(ends)) == 1 and thing.kind != "tool" else ()

    def _parts(self, thing: Thing, kinds: tuple[str, ...]) -> tuple[str, ...]:
        """ "the upper and lower clamp bolts": one group for each part, or one group of that many."""
        common = tuple(mod for mod in thing.mods if mod not in thing.parts and mod not in (",", "and", "or", "&"))
        found: list[str] = []
        for part in thing.parts:
            held = self._one(thing, (part, *common), kinds, None, count=None)
            if len(held) != 1:
                return self._one(thing, common, kinds, None)
            found.extend(held)
        return tuple(dict.fromkeys(found))

    def _one(
        self, thing: Thing, mods: tuple[str, ...], kinds: tuple[str, ...], owner: Thing | None, count: int | None = -1
    ) -> tuple[str, ...]:
        number = thing.count if count == -1 else count
        head = thing.head
        book = lexicon()
        telling = []
        for mod in " ".join(mod for mod in mods if mod not in thing.sizes).split():  # "bearing cap" screw
            word = book.singular.get(mod) or singular(mod)
            if len(word) == 1 and word.isupper() and self.by_word.get(word.lower()):
                word = word.lower()  # "flange bolts A"
            if (
                (word in IDLE and not self.by_word.get(word))
                or not any(sign.isalpha() for sign in word)
                or size_key(word) in {size_key(size) for size in thing.sizes}
            ):
                continue
            telling.append(word)
        sizes = {size_key(size) for size in thing.sizes}
        hints: list[str] = []
        for held in (thing.owner, owner):
            if held is not None and not held.pronoun:
                hints += [book.singular.get(word) or singular(word) for word in (*held.mods, held.head)]
        family = LIKE.get(head, head)
        best: list[Group] = []
        best_score = -1.0
        near = self.by_word.get(head, []) or self.by_word.get(family, [])
        pool = (
            self.groups
            if family == "any" or sizes
            else {id(group): group for group in (*near, *self.by_word.get(family, ()))}.values()
        )
        for group in pool:
            if group.kind not in kinds or group.id in self.barred:
                continue
            score = self._score(group, head, family, telling, sizes, hints, number, thing)
            if score < 0:
                continue
            if score > best_score + 1e-9:
                best, best_score = [group], score
            elif abs(score - best_score) <= 1e-9:
                best.append(group)
        if len(best) > 1:
            return self._several(thing, best, number)
        return (best[0].id,) if best else ()

    def _score(
        self,
        group: Group,
        head: str,
        family: str,
        telling: list[str],
        sizes: set[str],
        hints: list[str],
        number: int | None,
        thing: Thing,
    ) -> float:
        """How well a record fits a name; below 0 when it cannot be meant."""
        if family != "any" and head not in group.heads and family not in group.family:
            return -1.0
        if sizes and group.size and group.size not in sizes:
            return -1.0
        if sizes and not group.size and head not in group.heads and group.kind == "fastener":
            return -1.0
        if sizes and not group.size and group.kind == "fastener" and family == "any":
            return -1.0
        words = group.words
        best = -1.0
        for name in group.names:
            held = set(name)
            whole = held <= set(telling) | {head} | group.family and len(held) > 1
            missing = (
                []
                if whole
                else [
                    word
                    for word in telling
                    if word not in IDLE and word not in held and word not in words and not part_of(word, held)
                ]
            )
            if missing:
                continue
            shared = sum(1 for word in telling if word in held or part_of(word, held))
            bare = not telling and any(group.id in keys for keys in self.called_out.values())
            exact = 1.0 if set(telling) | {head} == held and not bare else 0.0
            best = max(best, shared * 2 + exact + (1.6 if head in group.heads else 0.0))
        if best < 0:
            return -1.0
        if hints and not (group.kind == "seal" and number is not None and number > (group.count or 1)):
            best += 1.3 * sum(1 for word in hints if word in words)
        if sizes and group.size in sizes:
            best += 1.5
        single = group.count == 1 or group.id in self.singly
        if single and thing.definite and not thing.plural and number is None and not thing.quantifier:
            best += 0.3  # "the bolt": the one there is only one of, or each one that was just spoken of
        if group.traits and (group.traits & set(thing.mods) or head in group.traits):
            best += 0.7
        if number is not None and group.count is not None and group.kind in ("fastener", "seal"):
            if number == group.count:
                best += 1.2
            elif number > group.count and not (thing.quantifier == "both" and group.count == 1):
                best -= 0.6
        return best

    def _several(self, thing: Thing, best: list[Group], number: int | None) -> tuple[str, ...]:
        """Which of several equally good records: those that make up the number, or the one spoken of last."""
        if self.turning:
            best = [group for group in best if group.id not in self.off] or best  # what is out cannot be tightened
            if self.turning == "tighten":
                best = [group for group in best if group.id not in self.tight] or best  # what is tight is done
            if len(best) == 1:
                return (best[0].id,)
        ids = {group.id for group in best}
        if number is not None and thing.plural:
            if sum(group.count or 1 for group in best) == number:
                return tuple(group.id for group in best)
            recent = self._recent_sum(ids, number)
            if recent:
                return recent
        if (thing.plural or thing.quantifier in ("each", "every")) and number is None:
            if thing.quantifier == "all":
                return tuple(group.id for group in best)
            recent_ids = self._recent(ids)
            if len(recent_ids) == 1 and self.by_id[recent_ids[0]].count == 1:
                # "the nuts": rather the four that were spoken of before than the one spoken of last
                recent_ids = self._recent({key for key in ids if self.by_id[key].count != 1}) or recent_ids
            if recent_ids:
                return recent_ids
        else:
            for mention in reversed(self.mentions):
                held = [key for key in mention if key in ids]
                if len(held) == 1:
                    return (held[0],)
                if held:
                    break
        for words in self.topic:
            told = [group for group in best if words & (group.words - group.heads - PLACED - IDLE)]
            if len(told) == 1:
                return (told[0].id,)  # "earth strap on, nut started by hand": the earth nut
        self.question = "is it " + " or ".join(group.record.name for group in best[:4]) + "?"
        return ()

    def _recent(self, ids: set[str]) -> tuple[str, ...]:
        """The groups of ``ids`` spoken of lately: the last mention, joined with those of the same breath."""
        for mention in reversed(self.mentions):
            held = tuple(key for key in mention if key in ids)
            if held:
                several = {key for key in ids if (self.by_id[key].count or 1) > 1}
                return held if len(held) > 1 else self._breath(several if held[0] in several else ids)
        return ()

    def _breath(self, ids: set[str]) -> tuple[str, ...]:
        """All of ``ids`` that were spoken of since something else was."""
        found: list[str] = []
        for mention in reversed(self.mentions):
            held = [key for key in mention if key in ids]
            if found and not held and any(key in self.by_id and self.by_id[key].kind == "fastener" for key in mention):
                break
            found.extend(held)
        return tuple(dict.fromkeys(reversed(found)))

    def _last_of(self, number: int, kinds: tuple[str, ...]) -> tuple[str, ...]:
        """The latest that make up a number: one mention, or several that each have fewer."""
        found: list[str] = []
        for mention in reversed(self.mentions):
            here = tuple(key for key in mention if self.kind(key) in kinds and key in self.by_id)
            if here and sum(self.by_id[key].count or 1 for key in here) == number:
                return here
            found += [key for key in here if key not in found]
            total = sum(self.by_id[key].count or 1 for key in found)
            if found and total == number:
                return tuple(reversed(found))
            if total > number:
                found = []
        return ()

    def _recent_sum(self, ids: set[str], number: int) -> tuple[str, ...]:
        found: list[str] = []
        total = 0
        for mention in reversed(self.mentions):
            for key in mention:
                if key in ids and key not in found:
                    found.append(key)
                    total += self.by_id[key].count or 1
            if total >= number:
                break
        return tuple(reversed(found)) if total == number else ()

    # ---- pronouns -------------------------------------------------------------------------------------------------

    def locked_by(self, words: set[str]) -> tuple[str, ...]:
        """The joints whose recorded lock goes by these words ("tab washer", "tab")."""
        return tuple(
            group.id
            for group in self.groups
            if group.lock and (group.lock <= words or (words & group.lock and len(words) == 1))
        )

    def last(
        self, *, plural: bool | None, kinds: tuple[str, ...], number: int | None = None, both: bool = False
    ) -> tuple[str, ...]:
        """The groups a pronoun means: the latest mention that fits in number. Empty when none does."""
        if number is not None and number > 1:
            several = self._last_of(number, kinds)
            if several or both:
                return several
        for mention in reversed(self.mentions):
            held = tuple(key for key in mention if self.kind(key) in kinds)
            if not held:
                continue
            if plural is None or plural == self.many(held):
                return held
        for mention in reversed(self.mentions):
            held = tuple(key for key in mention if self.kind(key) in kinds)
            if held:
                return held
        return ()

    def kind(self, key: str) -> str:
        """ "fastener", "seal", "piece" (a washer or lock of a joint), or "part" for what stands in no record."""
        if key.startswith("~"):
            return "part"
        if "|" in key:
            return "piece"
        group = self.by_id.get(key)
        return group.kind if group is not None else ""

    def many(self, keys: tuple[str, ...]) -> bool:
        """Whether a plural word stands for these."""
        if len(keys) > 1:
            return True
        key = keys[0]
        if key.startswith("~"):
            return key.startswith("~~")
        group = self.by_id.get(key.partition("|")[0])
        if group is not None and group.count is None and group.id in self.found:
            return True  # named in the plural, without a number
        return group is not None and (group.count or 1) > 1

    # ---- what nobody recorded -------------------------------------------------------------------------------------

    def record(self, thing: Thing, kind: str, owner: Thing | None = None) -> str:
        """A new record for a fastener or seal that stands in no record: what the draft says of it and nothing more."""
        key, record = unrecorded(thing, kind, owner, self.barred)
        if key in self.by_id:
            return key
        whole = self.by_id.get(without_place(key))
        if kind == "fastener" and whole is not None and whole.kind == kind and whole.id not in self.barred:
            return whole.id
        if kind == "fastener" and (other := by_another_name(thing, owner, self.groups)):
            return other
        self.found[key] = record
        group = Group(record, kind)
        self.groups.append(group)
        self.by_id[key] = group
        self._index(group)
        return key
