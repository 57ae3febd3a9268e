"""The language server from end to end: a real client starts ``torquewright editor`` and talks to it over its streams.

The protocol: Language Server Protocol 3.17, whose positions count UTF-16 code units unless agreed otherwise.
"""

from __future__ import annotations

import asyncio
import os
import sys
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("pygls", reason="the language server needs the extra: pip install torquewright[editor]")

from lsprotocol import types
from pygls.lsp.client import LanguageClient

SECONDS = 60  # until a client gives up waiting; nothing here comes near it on a machine that is not stuck

RECORDS = """[[fastener]]
id = "drain-screw"
name = "drain screw"
aliases = ["lower screw"]
count = 1
size = "M8x1.25"
drive = "slotted 10 mm"
one-time-use = false
tightening = "7 N·m ± 1"
washer = { kind = "sealing", count = 1, one-time-use = true }
source = "invented"
"""
DRAFT = """+++
catalogue = "catalogue.toml"
+++
# Change the gearcase oil

1. Remove the drain screw, and throw its sealing washer away.
2. Fit the drain screw with one new sealing washer and start it by hand.
3. 🔧🔧 Tighten the drain screw to 12 Nm.
"""


class Client(LanguageClient):
    """A client that keeps the diagnostics it is told, by address."""

    def __init__(self) -> None:
        super().__init__("tests", "1")
        self.told: dict[str, types.PublishDiagnosticsParams] = {}
        self.count = 0
        self.shown: list[str] = []
        self.registered: list[str] = []
        self.heard = asyncio.Event()
        self.errors = b""

        @self.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
        def _(params: types.PublishDiagnosticsParams) -> None:
            self.told[params.uri] = params
            self.count += 1
            self.heard.set()

        @self.feature(types.WINDOW_SHOW_MESSAGE)
        def _(params: types.ShowMessageParams) -> None:
            self.shown.append(params.message)

        @self.feature(types.CLIENT_REGISTER_CAPABILITY)
        def _(params: types.RegistrationParams) -> None:
            self.registered += [held.method for held in params.registrations]
            self.heard.set()

    async def until(self, holds: Callable[[], bool]) -> None:
        """Wait until something that was told makes ``holds`` true."""
        async with asyncio.timeout(SECONDS):
            while not holds():
                self.heard.clear()
                await self.heard.wait()

    def rules(self, uri: str) -> list[str]:
        return [str(held.code) for held in self.told[uri].diagnostics] if uri in self.told else ["nothing told"]

    def open(self, path: Path, text: str, language: str) -> str:
        uri = path.as_uri()
        self.text_document_did_open(
            types.DidOpenTextDocumentParams(types.TextDocumentItem(uri, language, 1, text))
        )
        return uri

    def change(self, uri: str, version: int, text: str) -> None:
        self.text_document_did_change(
            types.DidChangeTextDocumentParams(
                types.VersionedTextDocumentIdentifier(version, uri),
                [types.TextDocumentContentChangeWholeDocument(text)],
            )
        )

    def close(self, uri: str) -> None:
        self.text_document_did_close(types.DidCloseTextDocumentParams(types.TextDocumentIdentifier(uri)))


def with_client(
    work: Callable[[Client], Awaitable[None]],
    folder: Path,
    *,
    encodings: list[Any] | None = None,
    words: tuple[str, ...] = (),
) -> Client:
    """Run ``work`` with a client whose server was started and initialized; then shut the server down in order."""

    async def whole() -> Client:
        client = Client()
        environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
        command = [sys.executable, "-m", "torquewright", "editor", *words]
        await client.start_io(*command, cwd=folder, env=environment)
        assert client._server is not None
        assert client._server.stderr is not None
        errors = asyncio.create_task(client._server.stderr.read())
        capabilities = types.ClientCapabilities(
            general=types.GeneralClientCapabilities(position_encodings=encodings),
            workspace=types.WorkspaceClientCapabilities(
                did_change_watched_files=types.DidChangeWatchedFilesClientCapabilities(dynamic_registration=True)
            ),
        )
        try:
            async with asyncio.timeout(SECONDS):
                await client.initialize_async(
                    types.InitializeParams(capabilities=capabilities, process_id=os.getpid(), root_uri=folder.as_uri())
                )
                client.initialized(types.InitializedParams())
            await work(client)
            async with asyncio.timeout(SECONDS):
                await client.shutdown_async(None)
                client.exit(None)
                await client._server.wait()
        finally:
            if client._server.returncode is None:
                client._server.kill()
            client.errors = await errors
            await client.stop()
        assert client._server.returncode == 0
        assert client.shown == []
        return client

    return asyncio.run(whole())


def units(text: str) -> int:
    """UTF-16 code units of a text, as its encoder counts them."""
    return len(text.encode("utf-16-le")) // 2


def slice_of(text: str, held: types.Range) -> str:
    """The characters of a range on one line, counted in UTF-16 by its decoder."""
    assert held.start.line == held.end.line
    line = text.split("\n")[held.start.line].encode("utf-16-le")
    return line[2 * held.start.character : 2 * held.end.character].decode("utf-16-le")


def spot(text: str, words: str) -> types.Position:
    """The position of the first character of ``words``."""
    at = text.index(words)
    line = text[:at].count("\n")
    return types.Position(line, units(text[text.rfind("\n", 0, at) + 1 : at]))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "catalogue.toml").write_text(RECORDS, encoding="utf-8")
    return tmp_path


def test_a_draft_from_opening_to_closing(folder: Path) -> None:
    async def work(client: Client) -> None:
        uri = client.open(folder / "draft.md", DRAFT, "markdown")
        document = types.TextDocumentIdentifier(uri)
        await client.until(lambda: "step-torque-off-record" in client.rules(uri))
        found = next(held for held in client.told[uri].diagnostics if held.code == "step-torque-off-record")
        assert client.told[uri].version == 1
        assert found.severity == types.DiagnosticSeverity.Error
        assert found.source == "torquewright"
        assert slice_of(DRAFT, found.range) == "12 Nm"
        assert found.related_information
        second = found.related_information[0].location
        assert second.uri == (folder / "catalogue.toml").as_uri()
        assert slice_of(RECORDS, second.range) == "7 N·m ± 1"

        hover = await client.text_document_hover_async(types.HoverParams(document, spot(DRAFT, "2 Nm")))
        assert hover is not None
        assert hover.range is not None
        assert slice_of(DRAFT, hover.range) == "12 Nm"
        assert isinstance(hover.contents, types.MarkupContent)
        assert "12 N·m" in hover.contents.value
        # 1 N·m is 8.8507 lbf·in (NIST SP 811, appendix B.8); 11.5 and 12.5 N·m are 101.8 and 110.6
        assert "101.8 to 110.6" in hover.contents.value
        assert "7 N·m ± 1" in hover.contents.value
        assert await client.text_document_hover_async(types.HoverParams(document, spot(DRAFT, "Change"))) is None

        actions = await client.text_document_code_action_async(
            types.CodeActionParams(document, found.range, types.CodeActionContext([found]))
        )
        assert actions
        titles = {held.title: held for held in actions if isinstance(held, types.CodeAction)}
        spelled = titles["Nm is written N·m"]
        assert spelled.edit is not None
        assert spelled.edit.changes is not None
        (edit,) = spelled.edit.changes[uri]
        assert slice_of(DRAFT, edit.range) == "Nm"
        assert edit.new_text == "N·m"
        standing = titles["Let it stand: step-torque-off-record (write the reason)"]
        assert standing.diagnostics
        assert standing.diagnostics[0].code == "step-torque-off-record"
        # made only when asked for by its kind, as an editor does on saving
        every = await client.text_document_code_action_async(
            types.CodeActionParams(
                document, found.range, types.CodeActionContext([], only=[types.CodeActionKind.SourceFixAll])
            )
        )
        assert every is not None
        assert [held.kind for held in every if isinstance(held, types.CodeAction)] == ["source.fixAll.torquewright"]

        better = DRAFT.replace("12 Nm", "7 Nm")
        client.change(uri, 2, better)
        client.change(uri, 3, better + "4. Then the lower sc")
        offers = await client.text_document_completion_async(
            types.CompletionParams(document, types.Position(better.count("\n"), len("4. Then the lower sc")))
        )
        assert isinstance(offers, types.CompletionList)
        chosen = next(item for item in offers.items if item.label == "lower screw")
        assert isinstance(chosen.text_edit, types.TextEdit)
        assert slice_of(better + "4. Then the lower sc", chosen.text_edit.range) == "lower sc"

        client.change(uri, 4, better)
        await client.until(lambda: client.told[uri].version == 4)
        assert client.rules(uri) == []
        client.change(uri, 5, DRAFT)
        await client.until(lambda: client.told[uri].version == 5)
        assert "step-torque-off-record" in client.rules(uri)
        client.close(uri)
        await client.until(lambda: client.rules(uri) == [])

    client = with_client(work, folder)
    assert client.errors == b""


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "utf-32"])
def test_columns_in_the_encoding_the_client_prefers(folder: Path, encoding: str) -> None:
    async def work(client: Client) -> None:
        uri = client.open(folder / "draft.md", DRAFT, "markdown")
        await client.until(lambda: "step-torque-off-record" in client.rules(uri))
        found = next(held for held in client.told[uri].diagnostics if held.code == "step-torque-off-record")
        line = DRAFT.split("\n")[found.range.start.line]
        codec = {"utf-8": "utf-8", "utf-16": "utf-16-le", "utf-32": "utf-32-le"}[encoding]
        size = {"utf-8": 1, "utf-16": 2, "utf-32": 4}[encoding]
        raw = line.encode(codec)
        assert raw[found.range.start.character * size : found.range.end.character * size].decode(codec) == "12 Nm"
        hover = await client.text_document_hover_async(
            types.HoverParams(types.TextDocumentIdentifier(uri), found.range.start)
        )
        assert hover is not None
        assert hover.range == found.range

    with_client(work, folder, encodings=[encoding])


def test_a_broken_catalogue_is_told_and_the_server_lives_on(folder: Path) -> None:
    async def work(client: Client) -> None:
        draft = client.open(folder / "draft.md", DRAFT, "markdown")
        records = (folder / "catalogue.toml").as_uri()
        await client.until(lambda: "step-torque-off-record" in client.rules(draft))

        # broken in the editor, though not on the disk
        client.open(folder / "catalogue.toml", RECORDS, "toml")
        broken = RECORDS.replace("count = 1\n", 'count = "one"\n', 1)
        client.change(records, 2, broken)
        await client.until(lambda: client.rules(draft) == ["records-cannot-be-read"])
        found = client.told[draft].diagnostics[0]
        assert slice_of(DRAFT, found.range) == "catalogue.toml"
        assert found.related_information
        assert found.related_information[0].location.uri == records
        assert client.rules(records) == ["cannot-be-read"]
        assert slice_of(broken, client.told[records].diagnostics[0].range) == "one"

        client.change(records, 3, RECORDS.replace("7 N·m ± 1", "12 N·m ± 1"))
        await client.until(lambda: client.rules(draft) == [])
        assert client.rules(records) == []

        # closed, the file on the disk counts again
        client.close(records)
        await client.until(lambda: "step-torque-off-record" in client.rules(draft))

        # broken on the disk, by somebody else
        (folder / "catalogue.toml").write_text("[[fastener]]\nname = \n", encoding="utf-8")
        await client.until(lambda: types.WORKSPACE_DID_CHANGE_WATCHED_FILES in client.registered)
        client.workspace_did_change_watched_files(
            types.DidChangeWatchedFilesParams([types.FileEvent(records, types.FileChangeType.Changed)])
        )
        await client.until(lambda: client.rules(draft) == ["records-cannot-be-read"])
        assert client.rules(records) == ["cannot-be-read"]
        (folder / "catalogue.toml").unlink()
        client.text_document_did_save(types.DidSaveTextDocumentParams(types.TextDocumentIdentifier(draft)))
        await client.until(lambda: client.rules(draft) == ["cannot-be-read"])
        assert client.rules(records) == []

    client = with_client(work, folder)
    assert client.errors == b""


def test_toml_ids_and_verbs_are_completed_in_a_broken_line(folder: Path) -> None:
    text = 'title = "Oil"\ncatalogue = "catalogue.toml"\n[[step]]\ndo = [ { tighten = "dr'

    async def work(client: Client) -> None:
        uri = client.open(folder / "job.toml", text, "toml")
        document = types.TextDocumentIdentifier(uri)
        await client.until(lambda: uri in client.told)
        offers = await client.text_document_completion_async(types.CompletionParams(document, types.Position(3, 22)))
        assert isinstance(offers, types.CompletionList)
        assert [item.label for item in offers.items] == ["drain-screw"]
        assert isinstance(offers.items[0].text_edit, types.TextEdit)
        assert slice_of(text, offers.items[0].text_edit.range) == "dr"
        client.change(uri, 2, text[: text.index("tighten")])
        offers = await client.text_document_completion_async(types.CompletionParams(document, types.Position(3, 9)))
        assert isinstance(offers, types.CompletionList)
        assert {"tighten", "start", "seat"} <= {item.label for item in offers.items}

    with_client(work, folder)


def test_what_is_none_of_ours_is_left_alone(folder: Path) -> None:
    async def work(client: Client) -> None:
        steps = "# Read me\n\n1. Clone it.\n2. Install it.\n3. Run the tests.\n"
        settings = '[project]\nname = "x"\n[tool.ruff]\nline-length = 1\n'
        others = [
            client.open(folder / "README.md", steps, "markdown"),
            client.open(folder / "pyproject.toml", settings, "toml"),
        ]
        mine = client.open(folder / "draft.md", DRAFT, "markdown")
        await client.until(lambda: "step-torque-off-record" in client.rules(mine))
        assert [client.rules(uri) for uri in others] == [[], []]

    with_client(work, folder)


def test_a_text_in_no_file_yet_and_records_from_the_command_line(folder: Path) -> None:
    async def work(client: Client) -> None:
        uri = "untitled:Untitled-1"
        text = DRAFT[DRAFT.index("# Change") :]
        client.text_document_did_open(
            types.DidOpenTextDocumentParams(types.TextDocumentItem(uri, "markdown", 1, text))
        )
        await client.until(lambda: "step-torque-off-record" in client.rules(uri))

    with_client(work, folder, words=("--catalogue", "catalogue.toml", "--stdio"))
