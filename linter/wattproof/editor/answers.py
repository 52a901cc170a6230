"""What the server answers: each kind of message to the function that knows it."""

from __future__ import annotations

import logging

from lsprotocol import types as lsp
from pygls.exceptions import JsonRpcException

from wattproof.amend.edits import NotWritten
from wattproof.choosing.choice import CannotChoose
from wattproof.editor import actions, completion, hover, inlay, places, symbols
from wattproof.editor import rename as renaming
from wattproof.editor.corrections import corrections
from wattproof.editor.cursor import cursor_at
from wattproof.editor.documents import Document
from wattproof.editor.judge import Judge, Looked
from wattproof.editor.names import Name
from wattproof.editor.options import read_options
from wattproof.editor.server import Server
from wattproof.editor.turns import Turns
from wattproof.source import PlanUnusable


def made(judge: Judge, turns: Turns) -> Server:
    """A server with all that it answers. judge: checks plans. turns: where that is done."""
    logging.getLogger("pygls").setLevel(logging.CRITICAL)  # what cannot be handled is told by us
    server = Server(judge, turns)
    _life(server)
    _texts(server)
    _reading(server)
    _naming(server)
    _mending(server)
    return server


def _life(server: Server) -> None:
    @server.feature(lsp.INITIALIZE)
    def initialize(params: lsp.InitializeParams) -> None:
        server.options = read_options(params.initialization_options, server.options)
        encoding = server.workspace.position_encoding
        if encoding is not None:
            server.documents.encoding = str(getattr(encoding, "value", encoding))

    @server.feature(lsp.INITIALIZED)
    async def initialized(_: lsp.InitializedParams) -> None:
        workspace = server.client_capabilities.workspace
        watching = workspace.did_change_watched_files if workspace is not None else None
        if watching is not None and watching.dynamic_registration:
            watchers = [lsp.FileSystemWatcher(f"**/*.{ending}") for ending in ("yaml", "yml")]
            options = lsp.DidChangeWatchedFilesRegistrationOptions(watchers)
            method = lsp.WORKSPACE_DID_CHANGE_WATCHED_FILES
            registration = lsp.Registration("files", method, options)
            await server.client_register_capability_async(lsp.RegistrationParams([registration]))

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
        word = await server.turns.take(lambda: document.word_at(offset))
        if word is None:
            return None
        name = await server.turns.take(lambda: document.name_at(offset, server.keys))
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


def _naming(server: Server) -> None:
    keys, documents = server.keys, server.documents

    def plan_at(uri: str) -> Document | None:
        """A text of ours that is open."""
        document = documents.get(uri)
        return document if document is not None and document.kind in ("plan", "parts") else None

    @server.feature(
        lsp.TEXT_DOCUMENT_COMPLETION, lsp.CompletionOptions(trigger_characters=[*".:{[, "])
    )
    async def complete(params: lsp.CompletionParams) -> lsp.CompletionList | None:
        document = plan_at(params.text_document.uri)
        if document is None:
            return None
        return await server.turns.take(lambda: _completion(server, document, params.position))

    @server.feature(lsp.TEXT_DOCUMENT_DEFINITION)
    async def defined(params: lsp.DefinitionParams) -> list[lsp.Location]:
        document = plan_at(params.text_document.uri)
        if document is None:
            return []
        offset = document.lines.offset(params.position)
        return await server.turns.take(lambda: places.definition(document, offset, keys, documents))

    @server.feature(lsp.TEXT_DOCUMENT_REFERENCES)
    async def referred(params: lsp.ReferenceParams) -> list[lsp.Location]:
        document = plan_at(params.text_document.uri)
        if document is None:
            return []
        offset, declared = (
            document.lines.offset(params.position),
            params.context.include_declaration,
        )
        return await server.turns.take(
            lambda: places.references(document, offset, keys, documents, declared=declared)
        )

    @server.feature(lsp.TEXT_DOCUMENT_PREPARE_RENAME)
    async def may_rename(params: lsp.PrepareRenameParams) -> lsp.PrepareRenamePlaceholder | None:
        document = plan_at(params.text_document.uri)
        name = await _name_at(server, document, params.position)
        if document is None or name is None or not name.path:
            return None
        return lsp.PrepareRenamePlaceholder(document.lines.between(name.start, name.end), name.text)

    @server.feature(lsp.TEXT_DOCUMENT_RENAME, lsp.RenameOptions(prepare_provider=True))
    async def rename(params: lsp.RenameParams) -> lsp.WorkspaceEdit:
        document = plan_at(params.text_document.uri)
        name = await _name_at(server, document, params.position)
        if document is None or name is None:
            raise _refused("there is no name here that could be changed")
        try:
            return await server.turns.take(
                lambda: renaming.renamed(document, name, params.new_name, keys, documents)
            )
        except renaming.NotRenamed as why:
            raise _refused(str(why)) from None

    @server.feature(lsp.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    async def outlined(params: lsp.DocumentSymbolParams) -> list[lsp.DocumentSymbol]:
        document = plan_at(params.text_document.uri)
        if document is None:
            return []
        return await server.turns.take(lambda: symbols.symbols(document))

    @server.feature(lsp.TEXT_DOCUMENT_INLAY_HINT)
    async def inlaid(params: lsp.InlayHintParams) -> list[lsp.InlayHint]:
        document = plan_at(params.text_document.uri)
        if document is None or document.kind != "plan" or not server.options.inlay:
            return []

        def made(looked: Looked) -> list[lsp.InlayHint]:
            study = looked.checked.study
            return inlay.hints(document, params.range, study) if study is not None else []

        return await server.of_study(document, made)


async def _name_at(server: Server, document: Document | None, at: lsp.Position) -> Name | None:
    if document is None:
        return None
    return await server.turns.take(lambda: document.name_at(document.lines.offset(at), server.keys))


def _refused(why: str) -> JsonRpcException:
    """An answer that says why there is none."""
    return JsonRpcException(why, lsp.LSPErrorCodes.RequestFailed.value)


_KINDS = {
    "key": lsp.CompletionItemKind.Property,
    "word": lsp.CompletionItemKind.EnumMember,
    "name": lsp.CompletionItemKind.Reference,
}


def _completion(server: Server, document: Document, where: lsp.Position) -> lsp.CompletionList:
    """What may be typed, with the names of the last text that could be read."""
    offset = document.lines.offset(where)
    cursor = cursor_at(document.text, offset)
    readable = server.readable(document)
    names = [
        name
        for held in (readable, *places.parts_of(readable, server.documents))
        for name in held.names(server.keys)
    ]
    span = document.lines.between(cursor.start, offset)
    found = completion.offers(cursor, server.keys, names, server.plan_of(document), server.rules)
    items = [
        lsp.CompletionItem(
            label=offer.label,
            kind=_KINDS[offer.kind],
            detail=offer.detail or None,
            documentation=offer.words or None,
            sort_text=f"{number:04d}",
            text_edit=lsp.TextEdit(span, offer.inserted or offer.label),
        )
        for number, offer in enumerate(dict.fromkeys(found))
    ]
    return lsp.CompletionList(is_incomplete=False, items=items)


def _mending(server: Server) -> None:
    @server.feature(
        lsp.TEXT_DOCUMENT_CODE_ACTION,
        lsp.CodeActionOptions(code_action_kinds=[lsp.CodeActionKind.QuickFix]),
    )
    async def offered(params: lsp.CodeActionParams) -> list[lsp.CodeAction]:
        document = server.documents.get(params.text_document.uri)
        only = params.context.only
        if document is None or document.kind != "plan":
            return []
        if only is not None and not any(_is_of(lsp.CodeActionKind.QuickFix.value, k) for k in only):
            return []
        looked = await server.look(document)
        if looked.checked.result.problems:
            return await _corrected(server, document, params.range)
        if looked.plan is None or not actions.concerned(document, params.range, looked):
            return []  # many editors ask at every move of the cursor
        looked = await server.look(document, tried=True)
        told = list(params.context.diagnostics)
        return await server.with_texts(
            document, lambda _: actions.actions(document, params.range, looked, told)
        )

    @server.command(actions.CHOOSE)
    async def choose(uri: str, name: str, key: str) -> None:
        document = server.documents.get(uri)
        if document is None:
            return
        try:
            edit = await server.with_texts(
                document, lambda texts: actions.choice(document, texts, name, key)
            )
        except (CannotChoose, NotWritten, PlanUnusable) as why:
            server.say(str(why))
            return
        if server.documents.get(uri) is not document:
            server.say("the plan was changed meanwhile: choose again")
            return
        await server.workspace_apply_edit_async(lsp.ApplyWorkspaceEditParams(edit, "choose"))


async def _corrected(server: Server, document: Document, shown: lsp.Range) -> list[lsp.CodeAction]:
    """What may be written for what cannot be read in some lines."""
    try:
        return await server.with_texts(
            document, lambda texts: list(corrections(document, shown, texts))
        )
    except PlanUnusable:  # its settings are, which is told where they stand
        return []


def _is_of(kind: str, asked: str) -> bool:
    """Whether a kind of action is one that is asked for, or below it."""
    return asked == "" or kind == asked or kind.startswith(f"{asked}.")
