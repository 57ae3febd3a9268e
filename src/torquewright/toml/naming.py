"""From the words in a step or a record to the record they mean: by id, name or alias, in one or in many."""

from __future__ import annotations

from collections.abc import Iterable

from torquewright.base.document import Path
from torquewright.notation.near import listed, nearest, one_edit
from torquewright.records.parts import Fastener, Fluid, Part, Seal, Tool
from torquewright.toml.slips import Slip, spelled

PIECES = frozenset({"washer", "washers", "lock", "locks", "seal", "seals"})
"""Words for a piece of a joint, which name no record by themselves."""


_LOOKED_AT = 80  # names looked at for one word; a machine with more that begin alike gets fewer suggestions


def id_from_name(name: str) -> str:
    """``unloader O-ring`` as ``unloader-o-ring``."""
    return "-".join(name.lower().split())


def singular(words: str) -> list[str]:
    """What a plural may be the plural of; empty for words that are none."""
    if words.endswith("ies"):
        return [words[:-3] + "y"]
    if words.endswith("es"):
        return [words[:-1], words[:-2]]
    if words.endswith("s") and not words.endswith("ss"):
        return [words[:-1]]
    return []


def not_called(what: str, path: Path, words: str, near: list[str]) -> Slip:
    """The complaint that no ``what`` goes by ``words``, with the names that are ``near``."""
    found = spelled(words)
    return Slip(path, f'no {what} is called "{found}"', found, f"did you mean {listed(near)}?", absent=True)


class Names:
    """All names of the records of one job. Case does not matter; an id comes before a name."""

    __slots__ = ("_by_id", "_by_name", "_ends", "_several", "fasteners", "seals")

    def __init__(
        self,
        fasteners: Iterable[Fastener],
        seals: Iterable[Seal],
        fluids: Iterable[Fluid],
        parts: Iterable[Part],
        tools: Iterable[Tool],
    ) -> None:
        by_id: dict[str, str] = {}
        by_name: dict[str, str] = {}
        several: dict[str, list[str]] = {}
        for records in (fasteners, seals, fluids, parts, tools):
            for record in records:
                key = record.id
                by_id.setdefault(key.lower(), key)
                for name in (record.name, *record.aliases):
                    held = by_name.setdefault(name.lower(), key)
                    if held != key:
                        several.setdefault(name.lower(), [held]).append(key)
        self._by_id = by_id
        self._by_name = by_name
        self._several = several
        self._ends: dict[str, list[str]] | None = None
        self.fasteners = dict.fromkeys(record.id for record in fasteners)
        self.seals = dict.fromkeys(record.id for record in seals)

    def find(self, words: str) -> str | None:
        """The id of the record ``words`` name, or None."""
        words = words.lower()
        held = self._by_id.get(words) or self._by_name.get(words)
        if held is not None:
            return held
        for one in (*singular(words), words + "s"):
            held = self._by_id.get(one) or self._by_name.get(one)
            if held is not None:
                return held
        return None

    def says(self, words: str) -> bool:
        """Whether a step that says ``words`` is read as saying just that: an id, or words that are near none."""
        key = self.find(words)
        return key == words if key is not None else not self.nearly(words)

    def several(self, words: str) -> list[str]:
        """The ids ``words`` may mean, where a name stands for more than one record and is nobody's id."""
        words = words.lower()
        if words in self._by_id or not self._several:
            return []
        return next((self._several[one] for one in (words, *singular(words)) if one in self._several), [])

    def nearly(self, words: str) -> list[str]:
        """The ids or names ``words`` were probably meant to be, where they look like a slip of one.

        A word with a dash looks like an id, and any close one is answered; other words only when they are one
        slip of the pen away from a name.
        """
        words = words.lower()
        if len(words) < 5:
            return []
        ends = self._ends
        if ends is None:
            # a single slip leaves the first two or the last two letters alone: look only among those
            ends = {}
            for name in (*self._by_id, *self._by_name):
                if len(name) > 4:
                    ends.setdefault(name[:2], []).append(name)
                    ends.setdefault("-" + name[-2:], []).append(name)
            self._ends = ends
        likely = (*ends.get(words[:2], ())[:_LOOKED_AT], *ends.get("-" + words[-2:], ())[:_LOOKED_AT])
        near = [name for name in likely if one_edit(words, name)]
        if near:
            return [self._by_id.get(near[0]) or self._by_name[near[0]]]
        if "-" in words and " " not in words:
            return nearest(words, self._by_id.values(), cutoff=0.8, most=2)
        return []
