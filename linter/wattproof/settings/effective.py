"""The settings that a check runs under, and where each comes from."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from fnmatch import fnmatchcase
from typing import Any, Final, Generic, Literal, NamedTuple, TypeAlias, TypeVar

from wattproof.finding import LEVELS, Level
from wattproof.source import Place

T = TypeVar("T")
What: TypeAlias = Literal["off", "level", "option"]
THRESHOLD: Final[Level] = "warning"
"""The threshold where nothing sets one."""
_NOTHING: Final[Mapping[str, Any]] = {}


class Setting(NamedTuple, Generic[T]):
    """A value that was set. place: where in a settings file; None where the call set it."""

    value: T
    place: Place | None = None
    reason: str = ""


class RuleSetting(NamedTuple):
    """Something that is set for a rule: that it is off, its level, or an option by its name."""

    rule: str
    what: What
    setting: Setting[bool] | Setting[Level] | Setting[float]
    name: str = ""


class Settings(NamedTuple):
    """What is set beside the defaults.

    file: the settings file, empty without one. threshold: the least level that counts for the exit
    status. exclude: patterns of plans that the search of a folder leaves out. off: rules that are
    not run. levels: by rule. options: by rule and name.
    """

    file: str = ""
    threshold: Setting[Level] | None = None
    exclude: tuple[str, ...] = ()
    off: Mapping[str, Setting[bool]] = _NOTHING
    levels: Mapping[str, Setting[Level]] = _NOTHING
    options: Mapping[str, Mapping[str, Setting[float]]] = _NOTHING

    @property
    def least(self) -> Level:
        """The least level that counts for the exit status."""
        return self.threshold.value if self.threshold is not None else THRESHOLD

    def excludes(self, plan: str) -> bool:
        """Whether the search of a folder leaves a plan out: it, or a folder that it is in."""
        if not self.exclude:
            return False
        home = os.path.dirname(os.path.realpath(self.file))
        inside = os.path.relpath(os.path.realpath(plan), home).replace(os.sep, "/")
        parts = inside.split("/")
        ways = ["/".join(parts[:end]) for end in range(1, len(parts) + 1)]
        patterns = [pattern.removeprefix("./").rstrip("/") for pattern in self.exclude]
        return any(fnmatchcase(way, pattern) for way in ways for pattern in patterns)

    def all_set(self) -> Iterator[RuleSetting]:
        """Everything that is set for rules, by rule: off, level, options."""
        for rule in sorted({*self.off, *self.levels, *self.options}):
            if rule in self.off:
                yield RuleSetting(rule, "off", self.off[rule])
            if rule in self.levels:
                yield RuleSetting(rule, "level", self.levels[rule])
            for name, setting in sorted(self.options.get(rule, {}).items()):
                yield RuleSetting(rule, "option", setting, name)

    def options_of(self, rule: str) -> dict[str, float]:
        """The values that are set for a rule's options."""
        options = self.options.get(rule)
        return {} if options is None else {n: setting.value for n, setting in options.items()}

    def level_of(self, rule: str, own: Level, seen: Level) -> Level:
        """The level of what a rule saw. own: the rule's; seen: what it chose for this one.

        A level as grave as the rule's own or graver holds for all that it finds, unless that is
        graver still. A milder one holds for all that is not milder still.
        """
        if rule not in self.levels:
            return seen
        level = self.levels[rule].value
        pick = max if is_milder(level, own) else min
        return pick(level, seen, key=LEVELS.index)

    def under(self, call: Settings) -> Settings:
        """These settings with those of a call, which win."""
        rules = sorted({*self.options, *call.options})
        options = {r: {**self.options.get(r, {}), **call.options.get(r, {})} for r in rules}
        return self._replace(threshold=call.threshold or self.threshold, options=options)


NOTHING_SET: Final = Settings()


def is_milder(level: Level, than: Level) -> bool:
    """Whether a level is less grave than another."""
    return LEVELS.index(level) > LEVELS.index(than)


def of_call(options: Mapping[str, Mapping[str, float]], threshold: Level | None = None) -> Settings:
    """The settings that a call makes. options: values by rule and name."""
    return Settings(
        threshold=Setting(threshold) if threshold is not None else None,
        options={
            rule: {name: Setting(value) for name, value in named.items()}
            for rule, named in options.items()
        },
    )
