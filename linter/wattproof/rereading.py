"""A study read again with other figures for what a plan does not tell, of which most is computed.

A plan that tells little is read in dozens of readings, and most of them change next to nothing. So
what the rules read on the way is recorded while they run in the usual reading. In another one only
what rests on its labels is computed again, and only the rules run that read any of it; the others
find what they found.
"""

from __future__ import annotations

from collections.abc import Callable, Set
from typing import Final, Protocol, TypeAlias

from wattproof.kept import Record
from wattproof.study import Study
from wattproof.study.assumptions.reading import Reading
from wattproof.verdicts import Run

THE_STUDY: Final = "the study"
NO_RULE: Final = "no rule"
"""Who reads what a circuit is made of, and what is noted of it; no rule has such a name."""

AskedBy: TypeAlias = Callable[[str], None]
"""Is told which rule asks for all that is read from then on."""


class Rules(Protocol):
    """Runs some rules over a study, None for all."""

    def __call__(self, study: Study, rules: Set[str] | None, asked_by: AskedBy = ..., /) -> Run: ...


class Rereading:
    """Runs of rules in other readings of one study.

    study: the one that is read, made anew of what is given. usual: what its rules find.
    """

    def __init__(self, study: Study, run: Rules) -> None:
        self._run = run
        self._record = Record()
        with self._record.recording():
            self._record.asked_by(THE_STUDY)
            self.study = study.to_reread()
            self._record.asked_by(NO_RULE)
            self.usual = run(self.study, None, self._record.asked_by)

    def __call__(self, reading: Reading, rules: Set[str] | None) -> Run:
        """What rules find in a reading, None for all."""
        resting = self._record.resting_on(reading.unusual)
        if THE_STUDY in resting.askers or reading.codes is not None:
            return self._run(self.study.read_as(reading), rules)
        again = resting.askers if rules is None else resting.askers & rules
        with self._record.without(resting), self.study.reread_as(reading):
            run = self._run(self.study, again)
        run.findings += [
            found
            for found in self.usual.findings
            if found.rule not in again and (rules is None or found.rule in rules)
        ]
        return run
