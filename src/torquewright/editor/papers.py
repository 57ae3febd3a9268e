"""The texts a writer has open, what was last seen of each, and all marks there are on a file.

Several open texts may rest on one file: what is wrong with a catalogue is seen from every procedure that names it, and
told once. A text is looked at again when it, or an open file it rests on, has changed.
"""

from __future__ import annotations

import logging
import os

from torquewright.base.document import Document
from torquewright.editor.desk import Records, Sight, look_at
from torquewright.editor.marks import ERROR, OWN_FAULT, Mark
from torquewright.records.catalogue import Catalogue


class Papers:
    """Open texts by absolute path. ``records`` are files of records given for all of them."""

    __slots__ = ("_sights", "_stale", "records", "texts")

    def __init__(self, records: Records | None = None) -> None:
        self.records = records or Records()
        self.texts: dict[str, str] = {}
        self._sights: dict[str, Sight] = {}
        self._stale: set[str] = set()

    def put(self, path: str, text: str) -> None:
        """Open ``path`` with ``text``, or change its text."""
        self.texts[path] = text
        self._stale.update((path, *self._resting_on(path)))

    def take_away(self, path: str) -> None:
        """Close ``path``: from now on the file counts, not the text."""
        self.texts.pop(path, None)
        self._sights.pop(path, None)
        self._stale.discard(path)
        self._stale.update(self._resting_on(path))

    def all_stale(self) -> None:
        """Files have changed outside: everything is to be looked at again."""
        self._stale.update(self.texts)

    def _resting_on(self, path: str) -> list[str]:
        """The open texts that were read together with ``path``, or that named it when it could not be read."""
        return [other for other, sight in self._sights.items() if other != path and path in sight.documents]

    def sight(self, path: str) -> Sight | None:
        """What there is to say about an open text now; None for one that is not open."""
        if path not in self.texts:
            return None
        if path in self._stale or path not in self._sights:
            self._sights[path] = self._look(path)
            self._stale.discard(path)
        return self._sights[path]

    def _look(self, path: str) -> Sight:
        others = {other: text for other, text in self.texts.items() if other != path}
        try:
            return look_at(path, self.texts[path], texts=others, records=self.records)
        except Exception as fault:
            # Our own fault must not look like a clean text, and must not end the server either.
            logging.getLogger(__name__).exception("a fault of Torquewright itself, looking at %s", path)
            document = Document(path, self.texts[path])
            told = f"this is a fault of Torquewright, not of your document, and there is no verdict\n{fault!r}"
            mark = Mark(document.whole(), OWN_FAULT, ERROR, told)
            return Sight(document, (mark,), Catalogue(), {path: document})

    def document(self, path: str) -> Document | None:
        """The text behind a path as it was last seen, open or only read."""
        if path in self.texts:
            sight = self.sight(path)
            return sight.document if sight is not None else None
        return next((held.documents[path] for held in self._sights.values() if path in held.documents), None)

    def marks(self) -> dict[str, list[Mark]]:
        """All marks by the absolute path of the file they stand in; every open text has an entry."""
        held: dict[str, dict[Mark, None]] = {path: {} for path in self.texts}
        for path in self.texts:
            sight = self.sight(path)
            assert sight is not None
            for mark in sight.marks:
                held.setdefault(os.path.abspath(mark.place.file), {})[mark] = None
        return {path: sorted(marks) for path, marks in held.items()}
