"""The text of a first plan, read once before anybody gets it."""

from __future__ import annotations

from wattproof.choosing.first_plan import contradiction, plan_text
from wattproof.cli.errors import CallUnusable
from wattproof.plan import load_plan
from wattproof.source import PlanUnusable


def checked_text(told: dict[str, str]) -> str:
    """The plan's text, read once before it is written. Raises CallUnusable."""
    against = contradiction(told)
    if against is not None:
        one, other, why = against
        message = f"--{one} {told[one]} contradicts --{other} {told[other]}"
        raise CallUnusable(f"{message}: {why}")
    if told.get("controllers", "1") != "1" and told.get("length"):
        message = "--length is for the one cable to one controller, and there are several"
        raise CallUnusable(f"{message}: leave it out, and write `feeds` of each string later")
    text = plan_text(told)
    try:
        load_plan("plan.yaml", text=text)
    except PlanUnusable as unusable:
        problem = unusable.problems[0]
        instead = f": {problem.instead}" if problem.instead else ""
        raise CallUnusable(f"{problem.message}{instead}") from None
    return text
