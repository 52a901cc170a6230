"""A study read again with a few labels at their harshest, of which most is computed already.

A plan that tells little is read in dozens of such readings, and each changes next to nothing. So
the study is made once more in a way in which values that nobody told can be set; the rules run over
it in the usual reading, and what they read on the way is recorded. In another reading only what
rests on its labels is computed again, and only the rules run that read any of it.
"""

from __future__ import annotations

from collections.abc import Callable, Set
from typing import Final

from wattproof.finding import Finding
from wattproof.kept import Record
from wattproof.study import Study
from wattproof.study.assumptions.reading import Reading
from wattproof.verdicts import Run

THE_STUDY: Final = "the study"
"""Who reads what a circuit is made of; no rule has such a name."""


class Rereading:
    """Runs of rules in other readings of one study.

    run: runs some rules over a study, None for all.
    """

    def __init__(self, study: Study, run: Callable[[Study, Set[str] | None], Run]) -> None:
        self._study = study
        self._run = run
        self._record = Record()
        self._to_reread: Study | None = None
        self._usual: dict[str, list[Finding]] = {}

    def __call__(self, reading: Reading, rules: Set[str] | None) -> Run:
        """What rules find in a reading.

        Where all but a few labels are as usual, rules that read none of these are not run again:
        they find what they found.
        """
        if rules is None or reading.unusual is None:
            return self._run(self._study.read_as(reading), rules)
        study = self._with_record_of(rules)
        resting = self._record.resting_on(reading.unusual)
        if THE_STUDY in resting.askers:
            return self._run(self._study.read_as(reading), rules)
        with self._record.without(resting), study.reread_as(reading):
            run = self._run(study, rules & resting.askers)
        for rule in sorted(rules - resting.askers):
            run.findings += self._usual[rule]
        return run

    def _with_record_of(self, rules: Set[str]) -> Study:
        """The study that is read again, when it is recorded what some rules read of it."""
        study = self._to_reread
        if study is not None and rules <= self._usual.keys():
            return study
        with self._record.recording():
            if study is None:
                self._record.asked_by(THE_STUDY)
                study = self._to_reread = self._study.to_reread()
            for rule in sorted(rules - self._usual.keys()):
                self._record.asked_by(rule)
                self._usual[rule] = self._run(study, {rule}).findings
        return study
