"""The language server: what an editor asks and tells, and when a plan is checked.

A text is checked once nothing was typed for a moment; a newer one makes what comes of an older one
void. First findings are shown, then what takes longer: what is to be looked up. Remedies are tried
when they are asked for.
"""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Callable, Iterable
from contextlib import suppress
from functools import cache
from typing import Any, Final, TypeVar

from lsprotocol import types as lsp
from pygls.exceptions import JsonRpcInvalidParams
from pygls.lsp.server import LanguageServer
from pygls.protocol import LanguageServerProtocol

from wattproof import __version__
from wattproof.editor.diagnostics import Mark, Marks
from wattproof.editor.documents import Document, Documents
from wattproof.editor.judge import Judge, Looked
from wattproof.editor.keys import Keys
from wattproof.editor.options import Options
from wattproof.editor.turns import Turns
from wattproof.plan.root import Plan
from wattproof.rechecking import Rechecks

T = TypeVar("T")
PAUSE: Final = 0.15
"""Seconds without a keystroke after which a text is checked."""


class _Protocol(LanguageServerProtocol):
    """Answers a request whose parameters are none, in place of leaving it without an answer."""

    def structure_message(self, data: dict[str, Any]) -> Any:
        """A message as its type. Raises JsonRpcInvalidParams."""
        try:
            return super().structure_message(data)
        except Exception as error:
            if isinstance(data.get("id"), int | str) and "method" in data:
                why = JsonRpcInvalidParams(f"these are no parameters of {data['method']}")
                self._send_response(data["id"], None, why.to_response_error())
            raise JsonRpcInvalidParams(str(error)) from None


class Server(LanguageServer):
    """What is known of the plans that are open, and what is told of them.

    judge: checks plans. turns: where checks are done.
    """

    def __init__(self, judge: Judge, turns: Turns) -> None:
        super().__init__(
            "wattproof",
            __version__,
            # Whole texts: where lines end is said by our reader and the protocol, not by a library.
            text_document_sync_kind=lsp.TextDocumentSyncKind.Full,
            protocol_cls=_Protocol,
        )
        self.judge = judge
        self.turns = turns
        self.keys = Keys()
        self.documents = Documents()
        self.options = Options()
        self.was_shut_down = False
        self._looked: dict[str, tuple[Document, Looked]] = {}
        self._told: dict[str, dict[str, list[lsp.Diagnostic]]] = {}
        self._running: dict[str, asyncio.Task[None]] = {}
        self._changes = 0
        self._readable: dict[str, Document] = {}
        self._plans: dict[str, Plan] = {}

    def report_server_error(self, error: Exception, source: Any) -> None:
        """What could not be handled goes to the error output, in a line."""
        sys.stderr.write(f"wattproof: {type(error).__name__}: {error}\n"[:500])

    # What is open

    def changed(self, uri: str, text: str, version: int | None, *, pause: float = PAUSE) -> None:
        """A text was opened or changed."""
        self._changes += 1
        before = self.documents.get(uri)
        document = self.documents.put(uri, text, version)
        if document.kind == "plan":
            self._check_soon(document, pause)
        elif document.kind or (before is not None and before.kind):
            self._forget(document.path)
            self.used_by_others_changed(pause)
        if document.kind == "parts":
            self._check_soon(document, pause)

    def closed(self, uri: str) -> None:
        """A text was closed: its file holds again, and nothing more is told of it."""
        document = self.documents.get(uri)
        if document is None:
            return
        self._changes += 1
        self.documents.close(uri)
        self._forget(document.path)
        if document.kind != "plan":
            self.used_by_others_changed(PAUSE)

    def used_by_others_changed(self, pause: float = PAUSE) -> None:
        """Something that plans are read with was changed: all that are open are checked again."""
        self._changes += 1
        self._looked.clear()
        for plan in self.documents.plans():
            self._check_soon(plan, pause)

    def _forget(self, path: str) -> None:
        running = self._running.pop(path, None)
        if running is not None:
            running.cancel()
        self._looked.pop(path, None)
        self._tell(path, [])

    # Checks

    def _check_soon(self, document: Document, pause: float) -> None:
        running = self._running.get(document.path)
        if running is not None:
            running.cancel()
        check = self._checked_parts if document.kind == "parts" else self._checked
        task = asyncio.ensure_future(check(document, pause))
        self._running[document.path] = task

    async def _checked(self, document: Document, pause: float) -> None:
        """Check a text and tell what is found; cancelled where a newer text comes."""
        await asyncio.sleep(pause)
        for asked in (False, True):
            looked = await self.look(document, asked=asked)
            if self.documents.get(document.uri) is not document:
                return
            result = looked.checked.result
            more_comes = not asked and not result.problems
            self._tell(document.path, self._marks().of(result), keep_questions=more_comes)
            if not more_comes:
                break
        if self.inlay_may_be_renewed:
            with suppress(Exception):
                await self.workspace_inlay_hint_refresh_async(None)

    async def _checked_parts(self, document: Document, pause: float) -> None:
        """Read a file of datasheets by itself, whether a plan names it or not."""
        await asyncio.sleep(pause)
        problems = await self.turns.take(
            lambda: self.judge.parts_problems(document.path, document.text)
        )
        if self.documents.get(document.uri) is document:
            self._tell(document.path, self._marks().of_problems(problems))

    async def look(self, document: Document, *, asked: bool = False, tried: bool = False) -> Looked:
        """What comes of checking a text, once for each."""
        held = self._looked.get(document.path)
        if held is not None and held[0] is document:
            looked = held[1]
            if (looked.asked or not asked) and (looked.tried or not tried):
                return looked
        unsaved, changes = self.documents.unsaved(), self._changes

        def look() -> Looked:
            self.readable(document)
            return self.judge.look(document.path, unsaved, ask=asked or tried, tried=tried)

        looked = await self.turns.take(look)
        if self._changes == changes:  # else it may be of a text that is there no more
            self._looked[document.path] = (document, looked)
        if looked.plan is not None:
            self._plans[document.path] = looked.plan
        return looked

    async def of_study(self, document: Document, job: Callable[[Looked], T]) -> T:
        """What is made of the study of a text, where studies are computed."""
        looked = await self.look(document)
        return await self.turns.take(lambda: job(looked))

    async def with_texts(self, document: Document, job: Callable[[Rechecks], T]) -> T:
        """What is made by checking texts of a plan, one after another."""
        unsaved = self.documents.unsaved()
        return await self.turns.take(lambda: self.judge.with_texts(document.path, unsaved, job))

    def readable(self, document: Document) -> Document:
        """A text, or the last one before it that could be read as YAML."""
        if document.words:
            self._readable[document.path] = document
        return self._readable.get(document.path, document)

    def plan_of(self, document: Document) -> Plan | None:
        """The plan of a text, or of the last one before it that had no mistake."""
        return self._plans.get(document.path)

    @property
    def rules(self) -> list[str]:
        """The ids of all rules."""
        return list(self.judge.rules)

    def say(self, words: str) -> None:
        """Show a message."""
        self.window_show_message(lsp.ShowMessageParams(lsp.MessageType.Warning, words))

    # What is told

    def _marks(self) -> Marks:
        """What makes marks; each file that is not open is read once for all of them."""
        return Marks(cache(self.documents.of_path), self.options.documentation)

    def _tell(self, path: str, marks: Iterable[Mark], *, keep_questions: bool = False) -> None:
        """Tell what was found by one plan; other plans may have marks in the same files."""
        new: dict[str, list[lsp.Diagnostic]] = {}
        for file, diagnostic in marks:
            new.setdefault(self.documents.of_path(file).uri, []).append(diagnostic)
        old = self._told.get(path, {})
        if keep_questions:
            for uri, held in old.items():
                hints = [d for d in held if d.severity == lsp.DiagnosticSeverity.Hint]
                known = [d.range for d in new.get(uri, [])]
                new.setdefault(uri, []).extend(h for h in hints if h.range not in known)
        if new:
            self._told[path] = new
        else:
            self._told.pop(path, None)
        own = self.documents.of_path(path)
        checked = [own.uri] if own.kind in ("plan", "parts") and own.version is not None else []
        for uri in dict.fromkeys([*old, *new, *checked]):
            self._publish(uri)

    def _publish(self, uri: str) -> None:
        found: list[lsp.Diagnostic] = []
        for told in self._told.values():
            found += [each for each in told.get(uri, ()) if each not in found]
        document = self.documents.get(uri)
        version = document.version if document is not None else None
        self.text_document_publish_diagnostics(
            lsp.PublishDiagnosticsParams(uri=uri, diagnostics=found, version=version)
        )

    @property
    def inlay_may_be_renewed(self) -> bool:
        """Whether the editor asks again for what stands in its lines when it is told to."""
        workspace = self.client_capabilities.workspace
        inlay = workspace.inlay_hint if workspace is not None else None
        return self.options.inlay and inlay is not None and bool(inlay.refresh_support)
