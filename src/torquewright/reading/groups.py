"""A record as something a sentence can mean: the words of its names, its size and number."""

from __future__ import annotations

from collections.abc import Iterable

from torquewright.records.parts import Fastener, Fluid, Part, Seal
from torquewright.sentences.lexicon import lexicon, singular

IDLE = frozenset(
    "new old fresh original used existing the a an its their clean dry oiled greased coated last first next other "
    "remaining all "
    "both each every same and or , of final second third long short countersunk hexagon hex socket plain single "
    "tight loose "
    "correct proper suitable another unused replacement removed previous spare slotted brass steel stainless "
    "plastic nylon hardened "
    "self-locking lower-grade plated zinc small large big two three four five six eight ten twelve nearest "
    "opposite adjacent bruised scored worn damaged rusty bent stretched cracked torn nicked stripped faulty sound "
    "m".split()
)

PLACED = frozenset(
    "inner outer end middle centre center upper lower top bottom left right front rear side outermost innermost "
    "outside inside long short corner".split()
)
"""Words that tell where a fastener sits and name no joint of their own."""

SEALANTS = frozenset({"sealant", "silicone"})
"""What is laid on as a bead, and new each time."""

LIKE = {
    "screw": "screw",
    "bolt": "screw",
    "capscrew": "screw",
    "cap-screw": "screw",
    "setscrew": "screw",
    "fastener": "any",
    "machine-screw": "screw",
    "hardware": "any",
    "bolting": "any",
    "fixing": "any",
    "locknut": "nut",
    "lock-nut": "nut",
    "capnut": "nut",
    "cap-nut": "nut",
    "wingnut": "nut",
    "wing-nut": "nut",
    "jam-nut": "nut",
    "thumbscrew": "screw",
    "setscrews": "screw",
    "grub-screw": "screw",
    "eyebolt": "screw",
    "lockwasher": "washer",
    "oring": "o-ring",
}


class Group:
    """One record as something a sentence can mean: its id, the sets of words of its names, size and number."""

    __slots__ = ("count", "family", "heads", "id", "kind", "lock", "names", "record", "size", "traits", "washer")

    def __init__(self, record: Fastener | Seal | Part | Fluid, kind: str) -> None:
        self.record = record
        self.id = record.id
        self.kind = kind
        self.names: list[tuple[str, ...]] = []
        self.heads: set[str] = set()
        for name in (record.name, record.id.replace("-", " "), *record.aliases):
            words = headed(tuple(spoken(name)))
            if words and words not in self.names:
                self.names.append(words)
                self.heads.add(words[-1])
        if isinstance(record, Fastener) and record.kind:
            self.heads.add(singular(record.kind.lower().split()[-1]))
        self.family = {LIKE.get(head, head) for head in self.heads}
        self.count = getattr(record, "count", None)
        self.size = ""
        self.washer = ""
        self.lock: frozenset[str] = frozenset()
        self.traits: frozenset[str] = frozenset()
        if isinstance(record, Fastener):
            self.size = size_key(record.thread.text) if record.thread else ""
            self.washer = record.washer.kind if record.washer else ""
            self.traits = traits(record)
            if record.lock is not None:
                self.lock = frozenset(spoken(record.lock.kind))

    @property
    def words(self) -> set[str]:
        return {word for name in self.names for word in name}


_HUNG_ON = frozenset("of at on in for under behind".split())


def headed(words: tuple[str, ...]) -> tuple[str, ...]:
    """A name with its head last: "nut of the motor slide" as "motor slide nut"."""
    place = next((at for at, word in enumerate(words) if word in _HUNG_ON and 0 < at < len(words) - 1), 0)
    if not place:
        return words
    return (*(word for word in words[place + 1 :] if word not in ("the", "a", "its")), *words[:place])


def traits(record: Fastener) -> frozenset[str]:
    """What the record tells of the piece itself, in words that a text may use for it ("self-locking", "brass")."""
    told = f"{record.property_class or ''} {record.kind or ''} {record.finish or ''}".lower().replace(",", " ").split()
    held = set(told)
    if held & {"locknut", "self-locking", "prevailing-torque", "nyloc"}:
        held |= {"self-locking", "locknut", "locking", "prevailing-torque"}
    return frozenset(held)


def spoken(name: str) -> Iterable[str]:
    """The words of a name in lower case and in the singular, compounds with a hyphen kept."""
    book = lexicon()
    for word in name.lower().replace(",", " ").replace("(", " ").replace(")", " ").split():
        yield book.singular.get(word) or singular(word)


def size_key(text: str) -> str:
    """The part of a size that two spellings share: "M8 × 1.25 × 30" and "M8x1.25" give "m8"; "3/8-16 UNC" "3/8-16"."""
    low = text.lower().replace(",", ".").replace("×", "x").replace("*", "x").replace(" ", "")
    if low.startswith("m") and low[1:2].isdigit():
        return low.split("x")[0].split("-")[0]
    for series in ("unef", "unc", "unf", "unj", "un"):
        low = low.removesuffix(series).removesuffix("-")
    return low


def part_of(word: str, held: set[str]) -> bool:
    """Whether a word is one half of a compound in a name ("carrier" in "seal-carrier")."""
    return any("-" in other and word in other.split("-") for other in held) or (
        "-" in word and set(word.split("-")) <= held
    )
