"""What of a check must not be, while values are chosen."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Final

from wattproof.choosing.layouts import OF_ACCEPTANCES
from wattproof.choosing.needs import DROP_RULE
from wattproof.engine import Result
from wattproof.finding import LEVELS, Addition, Finding
from wattproof.plan.root import Plan
from wattproof.remedies.trials import READ_BEFORE, gravest_of, is_told

LOSING: Final = ("max_output_current", "capacity")
"""Open values of which too small a one is only told as a note of lost energy."""
WANTED: Final = ("error", "warning")
OF_SIZE: Final = (DROP_RULE, "conductor-too-small")
"""Rules that say which size of a wire is usual, whatever their level."""
BALANCE: Final = "energy"
"""The part of findings about what the sun brings and what is used."""


class Counting:
    """What counts in the checks of a plan that leaves something open.

    own: what the choice has put there, wires, their cables and devices, by name. added: the devices
    among them.
    """

    def __init__(self, plan: Plan) -> None:
        self.own: set[str] = set()
        self.added: dict[str, Addition] = {}
        self._watched = frozenset(o.name for o in plan.opens() if o.key in LOSING)
        self._outputs = frozenset(o.name for o in plan.opens() if o.key == "max_output_current")

    def begin(self) -> None:
        """Nothing is put there yet."""
        self.own, self.added = set(), {}

    def faults(self, result: Result) -> list[Finding]:
        """What must not be: errors and warnings that nobody accepts, the gravest first.

        Also notes of what a controller or a battery loses whose size is open, since a smaller one
        would always pass, and of what is put there by this choice; and what is so with a usual
        length where nobody told it. A day's balance counts for those
        alone, whatever its level: no size of anything else mends a dull winter.
        """
        told = [
            f
            for f in result.findings
            if f.acceptance is None
            and f.rule not in OF_ACCEPTANCES
            and f.part != READ_BEFORE
            and ((f.level in WANTED and f.part != BALANCE) or self._counts(f))
        ]
        return [*told, *self._asked(result)]

    def _asked(self, result: Result) -> Iterator[Finding]:
        """What is asked, since a label or a length is not told, of what is chosen here.

        A note that is no more than likely is a question, and the smallest controller would pass;
        so is what hangs on a guessed length or current alone, and the thinnest wire would.
        """
        for question in result.questions:
            for d in question.decides:
                loses = d.level == "note" and d.hazard == "lost-energy"
                of_output = loses and d.subjects[0] in self._outputs
                counts = d.level in WANTED or d.rule in OF_SIZE
                of_wire = counts and not self.own.isdisjoint(d.subjects)
                if of_output or of_wire:
                    yield d.as_finding()

    def _counts(self, finding: Finding) -> bool:
        """Whether a note counts as well."""
        about = finding.all_subjects
        if finding.rule == DROP_RULE and not self.own.isdisjoint(about):
            return True  # a wire is chosen for what is usual, as `layouts` has it
        if finding.hazard == "lost-energy" and finding.subjects[0] not in self.added:
            return not self._watched.isdisjoint(about)
        return finding.subjects[0] in self.own or can_be_put(finding, self.own)

    def rank(self, result: Result) -> tuple[int, ...]:
        """How bad a result is: errors, warnings, notes that count."""
        if result.problems or result.failed:
            return (10**6, 0, 0)
        levels = [f.level for finding in self.faults(result) for f in finding.each]
        return tuple(levels.count(level) for level in LEVELS)

    def new(self, result: Result, than: Result) -> Finding | None:
        """The gravest of what must not be that one check has and another has not."""
        known = gravest_of(each for f in self.faults(than) for each in f.each)
        for finding in self.faults(result):
            for each in finding.each:
                if not is_told(each.identity, LEVELS.index(each.level), known):
                    return each
        return None


def can_be_put(finding: Finding, wires: Collection[str]) -> bool:
    """Whether a way of its remedy puts devices in some wires, and does no more.

    wires: by name, and what is open as `roof-joint.rating`, which it may set as well.
    """
    return any(
        all(
            change.wire in wires
            if isinstance(change, Addition)
            else f"{change.component}.{change.key}" in wires
            for change in way
        )
        for way in finding.ways
    )
