"""Which plans a call means: files as named, and the plans in folders."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from typing import Final

from wattproof.cli.errors import CallUnusable
from wattproof.settings import FILE_NAMES

STANDARD_INPUT: Final = "-"


def refuse_idle_name(name: str | None, plans: Sequence[str]) -> None:
    """Raise CallUnusable where a name is given and no plan comes from standard input."""
    if name is not None and STANDARD_INPUT not in plans:
        raise CallUnusable("--name goes with a plan on standard input: write - for PLAN")


def shown_name(plan: str, name: str | None) -> str:
    """What messages call a plan: its file, or for standard input the name given."""
    return (name or "standard-input") if plan == STANDARD_INPUT else plan


def find_plans(
    given: Sequence[str], excluded: Callable[[str], bool], *, others_too: bool = False
) -> list[str]:
    """The plans meant, each once: files in the order given, those of a folder sorted.

    excluded: whether settings leave out a plan that a folder holds; how many is said on the error
    output. others_too: files that are no plans may be among those named, and are passed over, as
    are those that settings leave out.

    Raises CallUnusable for a folder without a plan, and for a settings file.
    """
    found: dict[str, str] = {}
    left_out = 0
    for path in given:
        if path != STANDARD_INPUT and os.path.isdir(path):
            from wattproof.cli.folder_search import plans_below

            held = plans_below(path)
            plans = [plan for plan in held if not excluded(plan)]
            left_out += len(held) - len(plans)
            if not held:
                raise CallUnusable(
                    f"there is no plan in the folder {path}: name a file, or a folder with plans"
                )
        elif others_too and path != STANDARD_INPUT:
            from wattproof.cli.folder_search import is_plan

            plans = [path] if is_plan(path) and not excluded(path) else []
        elif os.path.basename(path) in FILE_NAMES:
            raise CallUnusable(f"{path} holds settings: name the plans, or their folder")
        else:
            plans = [path]
        for plan in plans:
            found.setdefault(os.path.realpath(plan) if plan != STANDARD_INPUT else plan, plan)
    if left_out:
        _say_left_out(left_out, bool(found))
    return list(found.values())


def _say_left_out(count: int, some_are_left: bool) -> None:
    """Raise CallUnusable where nothing is left to be checked."""
    from wattproof.cli.output import write_error
    from wattproof.reports.writing.wording import numbered

    said = f"{numbered(count, 'plan')} left out by `exclude` in the settings"
    if not some_are_left:
        raise CallUnusable(f"{said}, and no other is there: name a plan by its file to check it")
    write_error(f"wattproof: {said}")
