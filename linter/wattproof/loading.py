"""A plan to its study: read, completed with usual figures, built into a circuit."""

from __future__ import annotations

from wattproof.circuit import Circuit, build_circuit
from wattproof.plan.ordering import in_order
from wattproof.plan.read import read_plan
from wattproof.plan.root import Plan
from wattproof.source import PlanUnusable, Problem
from wattproof.study import Study
from wattproof.study.assumptions.completing import Choose, completed


def study_of_plan(plan: Plan, *, whole: bool = True, choose: Choose | None = None) -> Study:
    """The study of a plan as read. Raises PlanUnusable with everything wrong as drawn.

    whole: False where removable parts are taken away. choose: as for `completed`.
    """
    return Study(_circuit(plan, whole=whole, choose=choose))


def load_study(path: str, *, shown_as: str | None = None, text: str | None = None) -> Study:
    """The study of a plan file; see `load_plan`. Raises PlanUnusable with every problem.

    What is wrong with values and what is wrong as drawn is told in one run, where the first leaves
    no doubt about what is joined to what.
    """
    read = read_plan(path, shown_as=shown_as, text=text)
    if read.plan is None or read.problems:
        drawn = _drawn(read.plan) if read.plan is not None and read.wired else []
        raise PlanUnusable(sorted({*read.problems, *drawn}))
    return study_of_plan(read.plan)


def _circuit(plan: Plan, *, whole: bool = True, choose: Choose | None = None) -> Circuit:
    """The circuit of a plan; with open ends where arrays are that are not chosen yet."""
    made = in_order(completed(plan, choose))
    return build_circuit(made, whole=whole and not made.open_strings)


def _drawn(plan: Plan) -> list[Problem]:
    """What is wrong as drawn with a plan of which some values could not be read."""
    try:
        _circuit(plan)
    except PlanUnusable as unusable:
        return unusable.problems
    except Exception:  # what could not be read may be missing anywhere, and was told already
        return []
    return []
