"""What a YAML text is to us by its keys: a plan, a file of datasheets, or something else."""

from __future__ import annotations

import re
from typing import Final, Literal, TypeAlias

from wattproof.source import PLAN

Likeness: TypeAlias = Literal["plan", "parts", ""]

_BEFORE: Final = re.compile(
    r"(?:[ \t]*(?:#[^\n]*)?\n|%[^\n]*\n|---(?:[ \t]+#[^\n]*|[ \t]*)(?:\n|(?=\S)))*"
)
"""What may stand before the first key: remarks, directives, the mark where a document begins."""
_KEY: Final = r"(?:[!&]\S*[ \t]+)*[\"']?([A-Za-z_-]+)[\"']?"
_FLOW_KEY: Final = re.compile(r"[{,]\s*[\"']?([A-Za-z_-]+)[\"']?[ \t]*:")
_OF_PARTS_FILES: Final = {PLAN.key, "datasheets"}


def kind_of(text: str) -> Likeness:
    """Whether a text is to be read as a plan, as a file of `parts`, or not at all.

    What has the keys of a plan but not the first one, or one like it, is a plan: it is told as a
    problem then, and not passed over in silence.
    """
    keys = _keys(text)
    if PLAN.key in keys:
        return "parts" if keys <= _OF_PARTS_FILES else "plan"
    return "plan" if _is_like_a_plan(keys) else ""


def _keys(text: str) -> set[str]:
    """The keys at the top of a YAML text, by their looks: of one with errors in it too."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    before = _BEFORE.match(text)
    body = text[before.end() :] if before is not None else text
    if body.lstrip().startswith("{"):
        return set(_FLOW_KEY.findall(body))
    indent = len(body) - len(body.lstrip(" "))
    key = rf"^ {{{indent}}}(?:{_KEY}[ \t]*:|\?[ \t]+{_KEY}[ \t]*$)"
    return {one or other for one, other in re.findall(key, body, re.MULTILINE)}


def _is_like_a_plan(keys: set[str]) -> bool:
    """Whether keys are those of a plan whose first one is missing or misspelt."""
    if not keys:
        return False
    from wattproof.plan.resemblance import nearest
    from wattproof.plan.root import Plan

    of_plans = {field.alias or name for name, field in Plan.model_fields.items()} - {PLAN.key}
    shared = keys & of_plans
    misspelt = any(nearest(key.lower(), (PLAN.key,)) is not None for key in keys - of_plans)
    if misspelt:
        return bool(shared - {"datasheets"})
    return len(shared) >= 3 or (len(shared) == 2 and len(shared) * 2 >= len(keys))
