"""All that can be set for rules, beside what it is unless set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any

from wattproof.packs import RuleSet
from wattproof.settings.effective import Setting, Settings, What


@dataclass(frozen=True)
class Overview:
    """One thing that can be set. setting: what is set for it; None where the default holds."""

    rule: str
    what: What
    name: str
    default: bool | str | float
    setting: Setting[Any] | None

    @property
    def value(self) -> bool | str | float:
        """What holds."""
        held: bool | str | float = self.setting.value if self.setting else self.default
        return held


def overview(rule_set: RuleSet, settings: Settings) -> Iterator[Overview]:
    """Everything that can be set for each rule, by rule: off, level, options."""
    made = {(s.rule, s.what, s.name): s.setting for s in settings.all_set()}
    for rule in sorted(rule_set.rules.values(), key=lambda r: r.id):
        options = fields(rule.options) if rule.options is not None else ()
        yield Overview(rule.id, "off", "", False, made.get((rule.id, "off", "")))
        yield Overview(rule.id, "level", "", rule.level, made.get((rule.id, "level", "")))
        defaults: list[tuple[str, Any]] = sorted((f.name, f.default) for f in options)
        for name, default in defaults:
            yield Overview(rule.id, "option", name, default, made.get((rule.id, "option", name)))
