"""Plain answers put into the shapes of the protocol: diagnostics, cards, completions, code actions."""

from __future__ import annotations

import os
from collections.abc import Callable

from lsprotocol import types

from torquewright.base.document import Document, Place
from torquewright.editor.cards import Card
from torquewright.editor.columns import Position, of_offset, span
from torquewright.editor.marks import Mark
from torquewright.editor.mends import Change, Mend
from torquewright.editor.offers import Offer

FIX_ALL = "source.fixAll.torquewright"

_KINDS = {
    "part": types.CompletionItemKind.Variable,
    "verb": types.CompletionItemKind.Keyword,
    "key": types.CompletionItemKind.Property,
    "word": types.CompletionItemKind.EnumMember,
    "rule": types.CompletionItemKind.Constant,
}


class Shapes:
    """Makes protocol values for one client: its ``encoding`` of columns, and what it calls a file (``uri_of``).

    ``document_of`` answers with the text behind an absolute path, where it is known.
    """

    __slots__ = ("document_of", "encoding", "uri_of")

    def __init__(
        self, encoding: str, uri_of: Callable[[str], str], document_of: Callable[[str], Document | None]
    ) -> None:
        self.encoding = encoding
        self.uri_of = uri_of
        self.document_of = document_of

    def between(self, document: Document, start: int, end: int) -> types.Range:
        """The range between two character offsets."""
        first, last = of_offset(document, start, self.encoding), of_offset(document, end, self.encoding)
        return types.Range(start=_at(first), end=_at(last))

    def range_of(self, place: Place) -> types.Range:
        """The range of a place, in whichever document it stands."""
        document = self.document_of(os.path.abspath(place.file))
        if document is None:  # nobody has read it: the line is right, the column as good as it can be
            first, last = (place.line - 1, place.column - 1), (place.end_line - 1, place.end_column - 1)
        else:
            first, last = span(document, place, self.encoding)
        return types.Range(start=_at(first), end=_at(last))

    def diagnostic(self, mark: Mark) -> types.Diagnostic:
        """A mark as a diagnostic."""
        also = [
            types.DiagnosticRelatedInformation(
                location=types.Location(uri=self.uri_of(os.path.abspath(place.file)), range=self.range_of(place)),
                message=told,
            )
            for place, told in mark.also
        ]
        return types.Diagnostic(
            range=self.range_of(mark.place),
            message=mark.message,
            severity=types.DiagnosticSeverity(mark.severity),
            code=mark.rule,
            source="torquewright",
            related_information=also or None,
        )

    def hover(self, card: Card, document: Document) -> types.Hover:
        """A card as a hover."""
        content = types.MarkupContent(kind=types.MarkupKind.Markdown, value=card.text)
        return types.Hover(contents=content, range=self.between(document, card.start, card.end))

    def completion(self, offer: Offer, number: int, document: Document) -> types.CompletionItem:
        """An offer as a completion; ``number`` keeps the order in which they are offered."""
        about = types.MarkupContent(kind=types.MarkupKind.PlainText, value=offer.about) if offer.about else None
        return types.CompletionItem(
            label=offer.text,
            kind=_KINDS[offer.kind],
            detail=offer.detail or None,
            documentation=about,
            filter_text=offer.search or None,
            sort_text=f"{number:05}",
            text_edit=types.TextEdit(range=self.between(document, offer.start, offer.end), new_text=offer.text),
        )

    def action(self, mend: Mend, document: Document, path: str) -> types.CodeAction:
        """A mend as a code action on the file ``path``."""
        kind = FIX_ALL if mend.everywhere else types.CodeActionKind.QuickFix
        return types.CodeAction(
            title=mend.title,
            kind=kind,
            diagnostics=[self.diagnostic(mend.mark)] if mend.mark is not None else None,
            edit=types.WorkspaceEdit(
                changes={self.uri_of(path): [self._edit(change, document) for change in mend.changes]}
            ),
        )

    def _edit(self, change: Change, document: Document) -> types.TextEdit:
        start, end, new = change
        return types.TextEdit(range=self.between(document, start, end), new_text=new)


def _at(position: Position) -> types.Position:
    return types.Position(line=position[0], character=position[1])
