"""An editor as the server sees it: the client of a library, and the server in its own process."""

from __future__ import annotations

import asyncio
import atexit
import os
import sys
from collections.abc import AsyncIterator, Callable, Coroutine, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from lsprotocol import types as lsp
from pygls.lsp.client import LanguageClient

from cli.calls import SOURCES

ROOT = Path(__file__).parents[2]
SIX = ROOT / "examples" / "van-six-modules.yaml"
SECONDS = 60.0
"""How long is waited for anything; a machine under load is slow."""


class Editor(LanguageClient):
    """Opens texts, and keeps what it is told of them."""

    def __init__(self) -> None:
        super().__init__("an-editor", "1")
        self.told: dict[str, list[lsp.PublishDiagnosticsParams]] = {}
        self.applied: list[lsp.ApplyWorkspaceEditParams] = []
        self.shown: list[str] = []
        self.renewals = 0
        self._news = asyncio.Event()
        self._versions: dict[str, int] = {}

        @self.feature(lsp.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
        def told(params: lsp.PublishDiagnosticsParams) -> None:
            self.told.setdefault(params.uri, []).append(params)
            self._news.set()

        @self.feature(lsp.WORKSPACE_APPLY_EDIT)
        def apply(params: lsp.ApplyWorkspaceEditParams) -> lsp.ApplyWorkspaceEditResult:
            self.applied.append(params)
            self._news.set()
            return lsp.ApplyWorkspaceEditResult(applied=True)

        @self.feature(lsp.WORKSPACE_INLAY_HINT_REFRESH)
        def refresh(*_: object) -> None:
            self.renewals += 1
            self._news.set()

        @self.feature(lsp.CLIENT_REGISTER_CAPABILITY)
        def register(params: lsp.RegistrationParams) -> None:
            return None

        @self.feature(lsp.WINDOW_SHOW_MESSAGE)
        def show(params: lsp.ShowMessageParams) -> None:
            self.shown.append(params.message)
            self._news.set()

    def open(self, path: Path, text: str | None = None) -> str:
        """Open a file, or a text that is to be saved there; gives its address."""
        uri = path.as_uri()
        text = text if text is not None else path.read_text(encoding="utf-8")
        self._versions[uri] = 1
        item = lsp.TextDocumentItem(uri, "yaml", 1, text)
        self.text_document_did_open(lsp.DidOpenTextDocumentParams(item))
        return uri

    def type(self, uri: str, text: str) -> int:
        """Change a text; gives its new version."""
        version = self._versions[uri] = self._versions[uri] + 1
        whole = lsp.TextDocumentContentChangeWholeDocument(text)
        item = lsp.VersionedTextDocumentIdentifier(version, uri)
        self.text_document_did_change(lsp.DidChangeTextDocumentParams(item, [whole]))
        return version

    def close(self, uri: str) -> None:
        """Close a text."""
        self._versions.pop(uri, None)
        item = lsp.TextDocumentIdentifier(uri)
        self.text_document_did_close(lsp.DidCloseTextDocumentParams(item))

    def last(self, uri: str) -> list[lsp.Diagnostic]:
        """What was told last of a text."""
        told = self.told.get(uri)
        return list(told[-1].diagnostics) if told else []

    async def forget(self) -> None:
        """Close every text, and forget what was told."""
        for uri in list(self._versions):
            self.close(uri)
        await self._answered("file:///none.yaml")
        self.told.clear()
        self.applied.clear()
        self.shown.clear()
        self.renewals = 0

    async def until(self, holds: Callable[[], Any]) -> None:
        """Wait until something holds of what was told."""
        async with asyncio.timeout(SECONDS):
            while not holds():
                self._news.clear()
                await self._news.wait()

    async def found(self, uri: str, *codes: str) -> list[lsp.Diagnostic]:
        """What is told of a text once all of some findings are among it."""
        await self.until(lambda: set(codes) <= {str(d.code) for d in self.last(uri)})
        return self.last(uri)

    async def nothing_more(self, uri: str) -> None:
        """Wait until whatever was to be told has been told."""
        await asyncio.sleep(1.0)
        await self._answered(uri)

    async def _answered(self, uri: str) -> None:
        """Wait for an answer, which comes after what was to be told before."""
        await self.text_document_document_symbol_async(
            lsp.DocumentSymbolParams(lsp.TextDocumentIdentifier(uri))
        )


def at(text: str, mark: str, *, into: int = 0, after: str = "") -> lsp.Position:
    """The position of some text, behind other text; in UTF-16 units."""
    start = text.index(mark, text.index(after) if after else 0) + into
    before = text[:start].rpartition("\n")
    return lsp.Position(text.count("\n", 0, start), len(before[2].encode("utf-16-le")) // 2)


@asynccontextmanager
async def editor(
    *,
    options: Any = None,
    capabilities: lsp.ClientCapabilities | None = None,
    packs: Path | None = None,
) -> AsyncIterator[Editor]:
    """An editor that has started the server. packs: a folder with a further pack of rules.

    Those that ask for nothing of their own share one server, one after the other, since it takes
    most of a second to start; each finds no text open.
    """
    if options is None and capabilities is None and packs is None:
        client = _shared[0] if _shared else await _started()
        _shared[:] = ()
        yield client
        await client.forget()
        _shared.append(client)  # not one with which something failed
        return
    client = await _started(options, capabilities, packs)
    try:
        yield client
    finally:
        await _ended(client)


_shared: list[Editor] = []
_loop = asyncio.new_event_loop()
_thread = ThreadPoolExecutor(1)
"""Where that loop runs: in the thread of the tests the one that drives a browser may be running."""


async def _started(
    options: Any = None,
    capabilities: lsp.ClientCapabilities | None = None,
    packs: Path | None = None,
) -> Editor:
    client = Editor()
    paths = [SOURCES] + ([str(packs)] if packs else [])
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(paths)}
    await client.start_io(
        sys.executable, "-m", "wattproof", "language-server", env=environment, cwd=str(ROOT)
    )
    await client.initialize_async(
        lsp.InitializeParams(
            capabilities=capabilities or lsp.ClientCapabilities(), initialization_options=options
        )
    )
    client.initialized(lsp.InitializedParams())
    return client


async def _ended(client: Editor) -> None:
    async with asyncio.timeout(SECONDS):
        await client.shutdown_async(None)
        client.exit(None)
        await client.stop()


@atexit.register
def _end_shared() -> None:
    for client in _shared:
        _loop.run_until_complete(_ended(client))
    _loop.close()


def run(scenario: Coroutine[Any, Any, None]) -> None:
    """Run a scenario to its end."""
    whole = asyncio.wait_for(scenario, 2 * SECONDS)
    _thread.submit(_loop.run_until_complete, whole).result()


def applied(text: str, edits: Sequence[Any]) -> str:
    """A text with edits in it; positions in UTF-16 units."""
    for edit in sorted(edits, key=lambda e: (e.range.start.line, e.range.start.character))[::-1]:
        start, end = (_offset(text, where) for where in (edit.range.start, edit.range.end))
        text = text[:start] + edit.new_text + text[end:]
    return text


def _offset(text: str, where: lsp.Position) -> int:
    lines = text.replace("\r\n", "\n\0").split("\n")
    before = sum(len(line) + 1 for line in lines[: where.line])
    line = lines[where.line] if where.line < len(lines) else ""
    skipped = 1 if line.startswith("\0") else 0
    units = line[skipped:].encode("utf-16-le")[: where.character * 2]
    return before + skipped + len(units.decode("utf-16-le"))
