"""The language server itself: what a client asks and tells, answered from the papers on the desk.

Nothing is ever printed: standard output belongs to the protocol.
"""

from __future__ import annotations

import asyncio
import os
from time import perf_counter
from typing import BinaryIO

from lsprotocol import types
from pygls import uris
from pygls.lsp.server import LanguageServer

from torquewright import __version__
from torquewright.editor.cards import card_at
from torquewright.editor.columns import offset
from torquewright.editor.desk import Records, Sight
from torquewright.editor.marks import Mark
from torquewright.editor.mends import Mend, all_rewrites, mends_for
from torquewright.editor.offers import offers_at
from torquewright.editor.papers import Papers
from torquewright.editor.protocol import FIX_ALL, Shapes

_WAIT = 0.2  # seconds of quiet before a text that is being typed is looked at
_SUFFIXES = {"markdown": ".md", "toml": ".toml", "plaintext": ".txt"}


class Server(LanguageServer):
    """The protocol's side of the papers. ``records`` are files of records for all texts."""

    def __init__(self, records: Records) -> None:
        # Whole texts, not changes: they are short, and nothing can get out of step with the client.
        super().__init__("torquewright", __version__, text_document_sync_kind=types.TextDocumentSyncKind.Full)
        self.papers = Papers(records)
        self._uris: dict[str, str] = {}
        self._paths: dict[str, str] = {}
        self._versions: dict[str, int] = {}
        self._told: dict[str, tuple[int | None, list[Mark]]] = {}
        self._due: asyncio.TimerHandle | None = None
        self._cost = 0.0

    # -- texts ----------------------------------------------------------------------------------------------------

    def path_of(self, uri: str) -> str:
        """The absolute path a client's address stands for."""
        return self._paths.get(uri) or _path(uri, "")

    def uri_of(self, path: str) -> str:
        """What the client calls the file at ``path``."""
        return self._uris.get(path) or uris.from_fs_path(path) or path

    def take(self, uri: str, language: str, version: int, text: str) -> None:
        """A text was opened."""
        path = _path(uri, _SUFFIXES.get(language, ""))
        self._paths[uri], self._uris[path] = path, uri
        self.change(uri, version, text)

    def change(self, uri: str, version: int, text: str) -> None:
        """A text that is open was changed."""
        path = self.path_of(uri)
        self._versions[path] = version
        self.papers.put(path, text)

    def close(self, uri: str) -> None:
        """A text was closed."""
        path = self.path_of(uri)
        self.papers.take_away(path)
        self._versions.pop(path, None)

    # -- marks ----------------------------------------------------------------------------------------------------

    def shapes(self) -> Shapes:
        """What makes protocol values for this client."""
        encoding = self.workspace.position_encoding or types.PositionEncodingKind.Utf16
        return Shapes(getattr(encoding, "value", encoding), self.uri_of, self.papers.document)

    def tell_soon(self) -> None:
        """Tell the marks once the writer pauses; the longer the last look took, the longer the pause."""
        if self._due is not None:
            self._due.cancel()
        self._due = asyncio.get_running_loop().call_later(max(_WAIT, 2 * self._cost), self.tell)

    def tell(self) -> None:
        """Tell the client the marks of every file where they are not what it was told last."""
        if self._due is not None:
            self._due.cancel()
            self._due = None
        begun = perf_counter()
        marks = self.papers.marks()
        self._cost = perf_counter() - begun
        shapes = self.shapes()
        for path in sorted({*marks, *self._told}):
            version, held = self._versions.get(path), marks.get(path, [])
            if version is None and not os.path.exists(path):
                held = []  # a file that is not there is told where it is named
            if (version, held) == self._told.get(path, (None, [])):
                continue
            self.text_document_publish_diagnostics(
                types.PublishDiagnosticsParams(
                    uri=self.uri_of(path), version=version, diagnostics=[shapes.diagnostic(mark) for mark in held]
                )
            )
            self._told[path] = (version, held)
            if version is None and not held:
                # closed and clean: what the client called it need not be known any longer
                del self._told[path]
                self._paths.pop(self._uris.pop(path, ""), None)

    # -- questions ------------------------------------------------------------------------------------------------

    def seen(self, uri: str) -> Sight | None:
        """What there is to say about an open text, as it is now."""
        return self.papers.sight(self.path_of(uri))

    def offset_in(self, sight: Sight, position: types.Position) -> int:
        """The character offset of a client's position."""
        return offset(sight.document, (position.line, position.character), self.shapes().encoding)


def _path(uri: str, suffix: str) -> str:
    """The absolute path of a text; one that is in no file yet is taken to lie in the current folder."""
    path = uris.to_fs_path(uri)
    if path is None:
        name = uri.rpartition(":")[2].replace("/", "_")
        path = name if name.lower().endswith(suffix) else name + suffix
    return os.path.abspath(path)


def made(records: Records) -> Server:
    """A server with everything it answers to."""
    server = Server(records)
    _hear_texts(server)
    _answer(server)
    return server


def _hear_texts(server: Server) -> None:
    @server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        held = params.text_document
        server.take(held.uri, held.language_id, held.version, held.text)
        server.tell()

    @server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        for change in params.content_changes[-1:]:
            server.change(params.text_document.uri, params.text_document.version, change.text)
            server.tell_soon()

    @server.feature(types.TEXT_DOCUMENT_DID_SAVE)
    def saved(_: types.DidSaveTextDocumentParams) -> None:
        server.papers.all_stale()
        server.tell()

    @server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        server.close(params.text_document.uri)
        server.tell()

    @server.feature(types.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    def changed_outside(_: types.DidChangeWatchedFilesParams) -> None:
        server.papers.all_stale()
        server.tell_soon()

    @server.feature(types.INITIALIZED)
    async def begun(_: types.InitializedParams) -> None:
        workspace = server.client_capabilities.workspace
        watching = workspace.did_change_watched_files if workspace is not None else None
        if watching is None or not watching.dynamic_registration:
            return
        options = types.DidChangeWatchedFilesRegistrationOptions(
            watchers=[types.FileSystemWatcher(glob_pattern="**/*.toml")]
        )
        await server.client_register_capability_async(
            types.RegistrationParams(
                registrations=[
                    types.Registration("records", types.WORKSPACE_DID_CHANGE_WATCHED_FILES, options)
                ]
            )
        )


def _answer(server: Server) -> None:
    @server.feature(types.TEXT_DOCUMENT_HOVER)
    def hover(params: types.HoverParams) -> types.Hover | None:
        sight = server.seen(params.text_document.uri)
        card = card_at(sight, server.offset_in(sight, params.position)) if sight is not None else None
        return server.shapes().hover(card, sight.document) if sight is not None and card is not None else None

    @server.feature(types.TEXT_DOCUMENT_COMPLETION, types.CompletionOptions(trigger_characters=['"', "{"]))
    def completion(params: types.CompletionParams) -> types.CompletionList:
        sight = server.seen(params.text_document.uri)
        offers = offers_at(sight, server.offset_in(sight, params.position)) if sight is not None else []
        shapes = server.shapes()
        items = [shapes.completion(offer, at, sight.document) for at, offer in enumerate(offers) if sight is not None]
        # What fits depends on more than one word of what is typed, so the client has to ask again.
        return types.CompletionList(is_incomplete=True, items=items)

    @server.feature(
        types.TEXT_DOCUMENT_CODE_ACTION,
        types.CodeActionOptions(code_action_kinds=[types.CodeActionKind.QuickFix, FIX_ALL]),
    )
    def code_action(params: types.CodeActionParams) -> list[types.CodeAction]:
        uri = params.text_document.uri
        sight = server.seen(uri)
        if sight is None:
            return []
        path, shapes, papers = server.path_of(uri), server.shapes(), server.papers
        others = {other: text for other, text in papers.texts.items() if other != path}
        only = params.context.only
        mends: list[Mend] = []
        if only is None or any(_within(types.CodeActionKind.QuickFix.value, kind) for kind in only):
            start = server.offset_in(sight, params.range.start)
            end = server.offset_in(sight, params.range.end)
            marks = [mark for mark in papers.marks().get(path, []) if _touches(sight, mark, start, end)]
            mends += mends_for(sight, marks, start, end, texts=others, records=papers.records)
        if only is not None and any(_within(FIX_ALL, kind) for kind in only):
            every = all_rewrites(sight, texts=others, records=papers.records)
            mends += [every] if every is not None else []
        return [shapes.action(mend, sight.document, path) for mend in mends]


def _within(kind: str, asked: str) -> bool:
    """Whether ``kind`` is what was asked for, or a kind of it."""
    asked = getattr(asked, "value", asked)
    return kind == asked or kind.startswith(asked + ".") or asked == ""


def _touches(sight: Sight, mark: Mark, start: int, end: int) -> bool:
    document = sight.document
    first = document.offset(mark.place.line, mark.place.column)
    last = document.offset(mark.place.end_line, mark.place.end_column)
    return first <= end and start <= last


def serve(records: Records, source: BinaryIO, sink: BinaryIO) -> None:
    """Serve one client over two streams until it leaves."""
    made(records).start_io(source, sink)
