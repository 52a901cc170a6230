"""The settings of each plan of a call: those of its file, and those of the call, which win."""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import cast

from wattproof.cli.choices import Threshold
from wattproof.cli.errors import CallUnusable
from wattproof.cli.plans import STANDARD_INPUT
from wattproof.cli.rule_options import read_options
from wattproof.finding import Level
from wattproof.packs import RuleSet
from wattproof.settings import NOTHING_SET, Search, Settings, of_call, search
from wattproof.source import Place, PlanUnusable, Problem


class PlanSettings:
    """Finds and reads settings files, each once.

    file: the settings file that the call names for all plans, if it does. options, threshold: what
    the call sets. Raises CallUnusable for what it cannot set.
    """

    def __init__(
        self,
        rule_set: RuleSet,
        file: str | None,
        options: Iterable[str],
        threshold: Threshold | None,
    ) -> None:
        if file == STANDARD_INPUT:
            raise CallUnusable("settings are not read from standard input: name a file")
        self.rule_set = rule_set
        self.named = file
        level = cast("Level", threshold.value) if threshold is not None else None
        self.call = of_call(read_options(options, rule_set), level)
        self._searches: dict[str, Search] = {}
        self._read: dict[tuple[str, ...], Settings | PlanUnusable] = {}

    def of(self, plan: str) -> Settings:
        """The settings of a plan, by the name that messages use for it. Raises PlanUnusable."""
        files = self.search(plan).files
        if files not in self._read:
            try:
                self._read[files] = self._load(files)
            except PlanUnusable as unusable:
                self._read[files] = unusable
        read = self._read[files]
        if isinstance(read, PlanUnusable):
            raise read
        return read.under(self.call)

    def excludes(self, plan: str) -> bool:
        """Whether the search of a folder leaves a plan out by its settings.

        Not where these cannot be read: the check then says why.
        """
        try:
            return self.of(plan).excludes(plan)
        except PlanUnusable:
            return False

    def search(self, plan: str) -> Search:
        """The settings file of a plan, and how far up it was looked for."""
        if self.named is not None:
            return Search((self.named,), "")
        folder = os.path.dirname(plan)
        if folder not in self._searches:
            self._searches[folder] = search(folder)
        return self._searches[folder]

    def _load(self, files: tuple[str, ...]) -> Settings:
        if not files:
            return NOTHING_SET
        if len(files) > 1:
            message = f"{files[0]} is in the same folder, and only one of them can hold"
            raise PlanUnusable(
                [Problem(Place(files[1], 1, 1, 1, 1), message, "delete or rename one of them")]
            )
        from wattproof.settings.read import load_settings

        return load_settings(files[0], self.rule_set)
