"""Everything read for one check: the procedure, the records it is checked against, and where each came from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from torquewright.base.document import Document, Place, Places
from torquewright.records.catalogue import Catalogue
from torquewright.records.steps import Procedure

if TYPE_CHECKING:
    from torquewright.reading.kept import ReadDraft


class Unread(NamedTuple):
    """A stretch of a draft that was not understood, or not wholly. ``matters`` is true when it holds a quantity,
    a fastener or a word of danger; ``about`` are the ids of the joints its sentence speaks of."""

    place: Place
    text: str
    reason: str
    matters: bool = False
    about: frozenset[str] = frozenset()


class Job:
    """One procedure with its records, as read.

    ``procedure`` is None when the file holds records only. ``places`` finds values by path: ``("step", 3, "do",
    0, "to")`` in the part "procedure"; ``("fastener", "drain-screw", "tightening")``, by the id of the record, in
    the parts "catalogue", "tools" and "kit". ``documents`` are the texts read, by name, the procedure first.
    ``form`` tells how the procedure was written. ``unread`` is empty for TOML, and ``draft``, the reading of the
    sentences, is None.
    """

    __slots__ = ("catalogue", "documents", "draft", "file", "form", "places", "procedure", "unread")

    def __init__(
        self,
        file: str,
        procedure: Procedure | None,
        catalogue: Catalogue,
        places: Places,
        documents: dict[str, Document],
        form: Literal["toml", "draft"] = "toml",
        unread: tuple[Unread, ...] = (),
        draft: ReadDraft | None = None,
    ) -> None:
        self.file = file
        self.procedure = procedure
        self.catalogue = catalogue
        self.places = places
        self.documents = documents
        self.form = form
        self.unread = unread
        self.draft = draft
