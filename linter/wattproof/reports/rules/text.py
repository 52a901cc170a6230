"""All rules, for people: by part of the installation."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.reports.writing.columns import hanging
from wattproof.reports.writing.wording import HAZARD_WORDS, numbered
from wattproof.rule import PARTS, Rule


def render(rules: Iterable[Rule], total: int) -> str:
    """The list of rules. total: how many there are, of which these are some or all."""
    return "\n".join(_list(sorted(rules, key=lambda r: r.id), total)) + "\n"


def _list(rules: list[Rule], total: int) -> Iterator[str]:
    for part in PARTS:
        here = [rule for rule in rules if rule.part == part]
        if not here:
            continue
        yield f"On the {part}" if part != "plan" else "On the plan itself"
        for rule in here:
            yield f"  {rule.id}"
            about = f"{rule.level}, {HAZARD_WORDS[rule.hazard]}. {rule.summary}"
            yield from hanging(about, first="      ", margin=6)
        yield ""
    some = f"{len(rules)} of " if len(rules) < total else ""
    yield f"{some}{numbered(total, 'rule')}. More on one: `wattproof basis RULE`"
