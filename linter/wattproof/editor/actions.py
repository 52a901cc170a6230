"""What can be done about what is found: remedies that were tried, choices, and acceptances.

Each is written by the code that `mend` and `choose` write with, and looked at again there.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Any, Final

from lsprotocol.types import (
    CodeAction,
    CodeActionKind,
    Command,
    Diagnostic,
    Range,
    WorkspaceEdit,
)

from wattproof.acceptances import margin_to_accept
from wattproof.amend.changes import before
from wattproof.amend.edits import NotWritten, with_item, with_value
from wattproof.choosing.choice import CannotChoose, Choice, Chosen
from wattproof.choosing.choose import chosen
from wattproof.editor.documents import Document
from wattproof.editor.edits import edit_of, edit_to
from wattproof.editor.judge import Looked
from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.fixes import Fix, fixes_of
from wattproof.plan.opening import Open
from wattproof.rechecking import Rechecks
from wattproof.reports.findings.telling import as_told, said
from wattproof.reports.writing.columns import clean
from wattproof.source import Place

CHOOSE: Final = "wattproof.choose"
"""The command that chooses what is open; its arguments: the text's address, a name and a key."""


def actions(
    document: Document, shown: Range, looked: Looked, told: list[Diagnostic]
) -> list[CodeAction]:
    """All that can be done about what stands in some lines.

    looked: with remedies tried. told: marks that the editor asks about.
    """
    made = _Actions(document, looked.checked.result, told)
    return list(made.of(shown))


def concerned(document: Document, shown: Range, looked: Looked) -> bool:
    """Whether anything can be done in some lines, before remedies are tried."""
    made = _Actions(document, looked.checked.result, [])
    return any(made.found_in(shown)) or any(made.opens_in(shown))


class _Actions:
    def __init__(self, document: Document, result: Result, told: list[Diagnostic]) -> None:
        self.document = document
        self.result = result
        self.told = told
        self.text = document.plan_text

    def of(self, shown: Range) -> Iterator[CodeAction]:
        for finding in self.found_in(shown):
            yield from self._remedies(finding)
            yield from self._acceptance(finding)
        opens = list(self.opens_in(shown))
        for each in opens:
            title = f"Choose `{each.key}` of `{each.name}`"
            yield self._choice(title, each.name, each.key)
        if opens:
            yield self._choice("Choose all that is open", "", "")

    def found_in(self, shown: Range) -> Iterator[Finding]:
        """The findings in some lines that nobody accepts, the gravest first."""
        for finding in as_told(self.result):
            places = [finding.place, *(other.place for other in finding.alike)]
            if finding.acceptance is None and any(self._is_in(p, shown) for p in places):
                yield finding

    def opens_in(self, shown: Range) -> Iterator[Open]:
        """What is open in some lines."""
        return (each for each in self.result.opens if self._is_in(each.place, shown))

    @cached_property
    def fixes(self) -> dict[Finding, tuple[Fix, ...]]:
        """The remedies that were tried."""
        return fixes_of(self.result, self.text)

    def _remedies(self, finding: Finding) -> Iterator[CodeAction]:
        """A remedy that was tried, each way of it that clears the finding, the best first."""
        for number, fix in enumerate(self.fixes.get(finding, ())):
            edit = edit_of(self.document, fix.replacements)
            yield self._edit(f"Write {said(fix.changes)}", edit, finding, first=number == 0)

    def _acceptance(self, finding: Finding) -> Iterator[CodeAction]:
        """An entry under `accepted`, with a reason that is still to be written.

        Until somebody writes it the plan cannot be checked: what nobody answers for does not count.
        """
        if not finding.acceptable:
            return
        entry: dict[str, Any] = {"rule": finding.rule, "where": finding.subjects[0]}
        margin = margin_to_accept(finding.margin)
        if margin:
            entry["margin"] = margin
        entry["reason"] = ""
        try:
            if "accepted" in {str(w.path[0]) for w in self.document.words}:
                text = with_item(self.text, ("accepted",), entry)
            else:
                text = with_value(self.text, ("accepted",), [entry], before("accepted"))
        except NotWritten:
            return
        title = f"Accept `{finding.rule}` at `{finding.subjects[0]}`, with a reason that you write"
        yield self._edit(title, edit_to(self.document, text), finding)

    def _edit(
        self, title: str, edit: WorkspaceEdit, finding: Finding, *, first: bool = False
    ) -> CodeAction:
        mended = [d for d in self.told if d.code == finding.rule]
        preferred = True if first else None
        kind = CodeActionKind.QuickFix
        return CodeAction(clean(title), kind, mended or None, preferred, edit=edit)

    def _choice(self, title: str, name: str, key: str) -> CodeAction:
        command = Command(title, CHOOSE, arguments=[self.document.uri, name, key])
        return CodeAction(title, CodeActionKind.QuickFix, command=command)

    def _is_in(self, place: Place, shown: Range) -> bool:
        """Whether a place is in some lines of this text."""
        if place.file != self.document.path:
            return False
        return shown.start.line <= place.line - 1 <= shown.end.line


def choice(document: Document, texts: Rechecks, name: str, key: str) -> WorkspaceEdit:
    """What is chosen for one open thing, or with empty names for all; as `choose` writes it.

    Raises CannotChoose.
    """
    text = document.plan_text
    made: Chosen = chosen(
        document.path,
        text,
        texts.rule_set,
        today=texts.today,
        shown_as=document.path,
        settings=texts.settings,
    )
    if made.text == text:
        raise CannotChoose("nothing could be chosen: `wattproof choose` tells why")
    new = made.text
    if name:
        chosen_for = next((each for each in made.choices if _is_of(each, name, key)), None)
        if chosen_for is None:
            raise CannotChoose(f"`{key}` of `{name}` is chosen together with the rest: choose all")
        new = with_value(text, chosen_for.path, chosen_for.text)
    return edit_to(document, new)


def _is_of(each: Choice, name: str, key: str) -> bool:
    return each.path[-1] == key and name in each.path
