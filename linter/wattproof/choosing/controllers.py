"""What a controller has to stand and give whose limits are still to be chosen, as rules judge it.

It begins at the smallest that is sold; what the rules find, and the remedy that they compute, tells
how far each limit has to grow. So a comparison of layouts says what choosing comes to.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from wattproof.choosing.ladders import Knob, ladder
from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.packs import RuleSet
from wattproof.plan.amend import Change, amended
from wattproof.plan.root import Plan
from wattproof.settings import Settings, of_call
from wattproof.study import bodies_for

LIMITS: Final = ("max_input_voltage", "max_output_current")
MOST_ROUNDS: Final = 4
"""How often what was raised is looked at again; one round settles what is independent."""


_USUAL: Final = of_call({"controller-clips": {"times": 1.25}})
"""How much more than its output is usual to offer a tracker that is still to be bought: hot cells
give about a quarter less than their label (common practice)."""


def of_open_controllers(settings: Settings) -> Settings:
    """The settings by which one is chosen: those of a project win.

    One that is there already is let be up to more, since another costs more than what it lets go.
    """
    return settings._replace(options=_USUAL.under(settings).options)


def judging(rules: RuleSet) -> RuleSet:
    """The rules that judge what a controller stands and gives."""
    of = {name: rule for name, rule in rules.rules.items() if rule.part == "controller"}
    return RuleSet(of)


def sold_for(plan: Plan, check: Callable[[Plan], Result]) -> dict[tuple[str, str], str]:
    """By controller and key, the smallest that is sold with which no rule asks for a larger one.

    Empty where no limit is open. check: by the rules of `judging`.
    """
    body = bodies_for(plan).array
    steps = {
        Knob((each.family, each.name, each.key), ladder(each.family, each.key, body), each.name): 0
        for each in plan.opens()
        if each.key in LIMITS
    }
    for _ in range(MOST_ROUNDS if steps else 0):
        values = [Change(k.owner, k.key, k.ladder[step]) for k, step in steps.items()]
        result = check(amended(plan, values))
        raised = dict(steps)
        for finding in result.each:
            raised.update(_raised(finding, steps))
        raised.update(_asked(result, steps))
        if raised == steps:
            break
        steps = raised
    return {(knob.owner, knob.key): knob.ladder[step] for knob, step in steps.items()}


def _raised(finding: Finding, steps: dict[Knob, int]) -> dict[Knob, int]:
    """The first way of a remedy that changes these limits alone, as steps of their ladders."""
    for way in finding.ways:
        found: dict[Knob, int] = {}
        for change in way:
            knob = next((k for k in steps if change.target == (k.owner, k.key)), None)
            if knob is None or not isinstance(change, Change):
                break
            step = knob.at_least(change.text)
            found[knob] = len(knob.ladder) - 1 if step is None else max(step, steps[knob])
        else:
            return found
    return {}


def _asked(result: Result, steps: dict[Knob, int]) -> dict[Knob, int]:
    """One step more of what rests on a label that nobody told."""
    asked = {
        decided.subjects[0]
        for question in result.questions
        for decided in question.decides
        if decided.level == "note" and decided.hazard == "lost-energy"
    }
    return {
        knob: min(step + 1, len(knob.ladder) - 1)
        for knob, step in steps.items()
        if knob.key == "max_output_current" and knob.owner in asked
    }
