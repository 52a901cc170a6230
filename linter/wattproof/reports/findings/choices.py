"""What a plan leaves to be chosen, told once: it is no finding, and waits for the choice."""

from __future__ import annotations

from typing import Final, NamedTuple

from wattproof.engine import Result
from wattproof.reports.writing.wording import numbered
from wattproof.words import enumerated, quoted

_KEYS: Final = {
    ("strings", "arrangement"): "how the modules of {names} are joined",
    ("wires", "cable"): "the cable of {names}",
    ("controllers", "max_input_voltage"): "the highest input voltage of {names}",
    ("controllers", "max_output_current"): "the output current of {names}",
}
_LAYOUTS: Final = "`wattproof layouts` compares every way to join them."


class NotChosen(NamedTuple):
    """What is not chosen yet. words: in one sentence. waits: what waits for it, and what helps."""

    words: str
    waits: str


def not_chosen(result: Result) -> NotChosen | None:
    """What is not chosen yet in a plan; None where all is."""
    if not result.opens:
        return None
    groups: dict[str, list[str]] = {}
    for each in result.opens:
        usual = f"the {each.key.replace('_', ' ')} of {{names}}"
        groups.setdefault(_KEYS.get((each.family, each.key), usual), []).append(each.name)
    words = enumerated(t.format(names=quoted(dict.fromkeys(n))) for t, n in groups.items())
    waits = []
    if result.waiting:
        rules = len({finding.rule for finding in result.waiting})
        verb = "waits" if rules == 1 else "wait"
        waits.append(f"{numbered(rules, 'rule')} {verb} for it.")
    if any(each.key == "arrangement" for each in result.opens):
        waits.append(_LAYOUTS)
    return NotChosen(f"{words}.", " ".join(waits))
