"""What is known of the machine, the tools at hand and the kit: the records a procedure is checked against."""

from __future__ import annotations

from attrs import field, frozen

from torquewright.records.parts import Fastener, Fluid, KitItem, Part, Seal, Source, Tool
from torquewright.records.record import Record


@frozen(repr=False, eq=False)
class Catalogue(Record):
    """Records of one machine, with the tools and the kit of the job merged in.

    ``tools`` and ``kit`` are None when nobody listed any, which is not the same as an empty list. Records
    ``found`` in a draft without any record behind them carry ``recorded=False`` in ``unrecorded`` (their ids).
    """

    machine: str = ""
    source: Source | None = None
    fasteners: tuple[Fastener, ...] = ()
    seals: tuple[Seal, ...] = ()
    fluids: tuple[Fluid, ...] = ()
    parts: tuple[Part, ...] = ()
    tools: tuple[Tool, ...] | None = None
    kit: tuple[KitItem, ...] | None = None
    policy: str = "general"
    unrecorded: tuple[str, ...] = ()
    variant: str = ""  # the variant of the machine the records are for
    surroundings: str = ""  # what the machine stands in, a word of the formats: "indoors", "salt water"
    _fastener: dict[str, Fastener] = field(init=False, repr=False, eq=False)
    _seal: dict[str, Seal] = field(init=False, repr=False, eq=False)
    _tool: dict[str, Tool] = field(init=False, repr=False, eq=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "_fastener", {record.id: record for record in self.fasteners})
        object.__setattr__(self, "_seal", {record.id: record for record in self.seals})
        tools: dict[str, Tool] = {}
        for tool in self.tools or ():
            for name in (tool.id, tool.name, *tool.aliases):
                tools.setdefault(name.lower(), tool)
        object.__setattr__(self, "_tool", tools)

    def fastener(self, key: str) -> Fastener | None:
        """The fastener with this id, or None."""
        return self._fastener.get(key)

    def seal(self, key: str) -> Seal | None:
        """The seal with this id, or None."""
        return self._seal.get(key)

    def fluid(self, key: str) -> Fluid | None:
        """The fluid with this id, or None."""
        return next((record for record in self.fluids if record.id == key), None)

    def tool(self, key: str) -> Tool | None:
        """The tool with this id, name or alias (case does not matter), or None."""
        return self._tool.get(key.lower())

    def recorded(self, key: str) -> bool:
        """Whether the fastener or seal stands in a record, rather than only being named in a draft."""
        return key not in self.unrecorded
