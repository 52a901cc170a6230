"""What was found in a plan, as an editor marks it: findings, questions, and what cannot be read."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final, NamedTuple

from lsprotocol.types import (
    CodeDescription,
    Diagnostic,
    DiagnosticRelatedInformation,
    DiagnosticSeverity,
    Location,
)

from wattproof.editor.documents import Document
from wattproof.engine import OWN_FINDINGS, Result
from wattproof.finding import Finding, Level
from wattproof.plan.opening import Open
from wattproof.question import Question
from wattproof.reports.findings.glance import headline, remedy_of
from wattproof.reports.findings.lines import UNUSABLE
from wattproof.reports.findings.telling import as_told
from wattproof.reports.writing.columns import clean
from wattproof.reports.writing.rule_pages import page_of_rule
from wattproof.source import Place, Problem

SOURCE: Final = "wattproof"
QUESTION: Final = "to-look-up"
NOT_CHOSEN: Final = "not-chosen-yet"
MOST: Final = 500
"""Most marks that one check makes; what is graver comes first."""
_SEVERITIES: Final[dict[Level, DiagnosticSeverity]] = {
    "error": DiagnosticSeverity.Error,
    "warning": DiagnosticSeverity.Warning,
    "note": DiagnosticSeverity.Information,
}


class Mark(NamedTuple):
    """A diagnostic, and the file that it stands in."""

    file: str
    diagnostic: Diagnostic


class Marks(NamedTuple):
    """Makes marks.

    texts: the text of a file, where its lines are. documentation: the address under which the
    documentation is published, empty where it is not.
    """

    texts: Callable[[str], Document]
    documentation: str = ""

    def of(self, result: Result) -> list[Mark]:
        """Everything that a check says, the gravest first."""
        marks = [self._problem(problem) for problem in result.problems[:MOST]]
        marks += [self._finding(finding) for finding in as_told(result)[:MOST]]
        marks += [mark for question in result.questions[:MOST] for mark in self._question(question)]
        marks += [self._open(each) for each in result.opens[:MOST]]
        return marks[:MOST]

    def of_problems(self, problems: list[Problem]) -> list[Mark]:
        """What cannot be read in a file that is no plan."""
        return [self._problem(problem) for problem in problems[:MOST]]

    def _problem(self, problem: Problem) -> Mark:
        return self._mark(
            problem.place,
            DiagnosticSeverity.Error,
            UNUSABLE,
            _sentences(problem.message, problem.instead),
        )

    def _finding(self, finding: Finding) -> Mark:
        said = headline(finding)
        related = [(other.place, other.words) for other in finding.related]
        related += [(other.place, other.message) for other in finding.alike]
        if finding.acceptance is not None:
            severity = DiagnosticSeverity.Hint
            by = f" by {finding.acceptance.by}" if finding.acceptance.by else ""
            message = _sentences(f"accepted{by}: {said}", finding.acceptance.reason)
            related.append((finding.acceptance.place, "accepted here"))
        else:
            severity = _SEVERITIES[finding.level]
            message = _sentences(said, remedy_of(finding))
        if not self._page(finding.rule) and finding.rule not in OWN_FINDINGS:
            message += f"\nWhy: wattproof basis {finding.rule}"
        data = {"rule": finding.rule, "subjects": list(finding.subjects)}
        return self._mark(finding.place, severity, finding.rule, message, related, data)

    def _question(self, question: Question) -> Iterator[Mark]:
        """A mark at each place that would tell it."""
        told = f"write {question.instead}" if question.instead else ""
        message = _sentences(question.line, question.where, told)
        for place in dict.fromkeys(question.places):
            others = [(each.place, each.message) for each in question.decides]
            yield self._mark(place, DiagnosticSeverity.Hint, QUESTION, message, others)

    def _open(self, each: Open) -> Mark:
        message = f"`{each.key}` of `{each.name}` is not chosen yet: `wattproof choose` chooses it"
        data = {"name": each.name, "key": each.key}
        return self._mark(each.place, DiagnosticSeverity.Hint, NOT_CHOSEN, message, data=data)

    def _mark(
        self,
        place: Place,
        severity: DiagnosticSeverity,
        code: str,
        message: str,
        related: list[tuple[Place, str]] | None = None,
        data: object = None,
    ) -> Mark:
        page = self._page(code)
        diagnostic = Diagnostic(
            range=self.texts(place.file).lines.of(place),
            severity=severity,
            code=code,
            code_description=CodeDescription(page) if page else None,
            source=SOURCE,
            message=message,
            related_information=[
                DiagnosticRelatedInformation(self._location(at), clean(words))
                for at, words in related or []
            ]
            or None,
            data=data,
        )
        return Mark(place.file, diagnostic)

    def _location(self, place: Place) -> Location:
        document = self.texts(place.file)
        return Location(document.uri, document.lines.of(place))

    def _page(self, rule: str) -> str:
        """The address of the page about a rule; empty where there is none."""
        if rule in (UNUSABLE, QUESTION, NOT_CHOSEN):
            return ""
        return page_of_rule(self.documentation, rule)


def _sentences(*texts: str) -> str:
    """Texts on lines of their own."""
    return "\n".join(clean(text) for text in texts if text)
