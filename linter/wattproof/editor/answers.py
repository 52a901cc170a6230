"""What the server answers: each kind of message to the function that knows it."""

from __future__ import annotations

import logging

from lsprotocol import types as lsp

from wattproof.editor import hover
from wattproof.editor.judge import Judge, Looked
from wattproof.editor.names import Name
from wattproof.editor.options import read_options
from wattproof.editor.server import Server
from wattproof.editor.turns import Turns


def made(judge: Judge, turns: Turns) -> Server:
    """A server with all that it answers. judge: checks plans. turns: where that is done."""
    logging.getLogger("pygls").setLevel(logging.CRITICAL)  # what cannot be handled is told by us
    server = Server(judge, turns)
    _life(server)
    _texts(server)
    _reading(server)
    return server


def _life(server: Server) -> None:
    @server.feature(lsp.INITIALIZE)
    def initialize(params: lsp.InitializeParams) -> None:
        server.options = read_options(params.initialization_options, server.options)
        encoding = server.workspace.position_encoding
        if encoding is not None:
            server.documents.encoding = str(getattr(encoding, "value", encoding))

    @server.feature(lsp.SHUTDOWN)
    def shutdown(*_: object) -> None:
        server.was_shut_down = True

    @server.feature(lsp.WORKSPACE_DID_CHANGE_CONFIGURATION)
    async def configured(params: lsp.DidChangeConfigurationParams) -> None:
        server.options = read_options(params.settings, server.options)
        server.used_by_others_changed()


def _texts(server: Server) -> None:
    @server.feature(lsp.TEXT_DOCUMENT_DID_OPEN)
    async def opened(params: lsp.DidOpenTextDocumentParams) -> None:
        text = params.text_document
        server.changed(text.uri, text.text, text.version, pause=0.0)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CHANGE)
    async def changed(params: lsp.DidChangeTextDocumentParams) -> None:
        if params.content_changes:
            text = params.content_changes[-1].text
            server.changed(params.text_document.uri, text, params.text_document.version)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CLOSE)
    async def closed(params: lsp.DidCloseTextDocumentParams) -> None:
        server.closed(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_SAVE)
    async def saved(params: lsp.DidSaveTextDocumentParams) -> None:
        """Nothing: what is saved is what was checked."""

    @server.feature(lsp.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    async def files_changed(params: lsp.DidChangeWatchedFilesParams) -> None:
        server.used_by_others_changed()


def _reading(server: Server) -> None:
    @server.feature(lsp.TEXT_DOCUMENT_HOVER)
    async def hovered(params: lsp.HoverParams) -> lsp.Hover | None:
        document = server.documents.get(params.text_document.uri)
        if document is None or document.kind not in ("plan", "parts"):
            return None
        offset = document.lines.offset(params.position)
        word = document.word_at(offset)
        if word is None:
            return None
        name = document.name_at(offset, server.keys)
        text = ""
        if name is not None and document.kind == "plan":
            text = await server.of_study(document, lambda looked: _computed(name, looked))
        if not text:
            text = await server.turns.take(lambda: hover.of_key(word.path, server.keys))
        if not text:
            return None
        shown = lsp.MarkupContent(lsp.MarkupKind.Markdown, text)
        return lsp.Hover(shown, document.lines.between(word.start, word.end))


def _computed(name: Name, looked: Looked) -> str:
    study = looked.checked.study
    return hover.of_name(name, study) if study is not None else ""
