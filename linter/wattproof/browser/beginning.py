"""A first plan, from the questions of `wattproof new`."""

from __future__ import annotations

from typing import Any

from wattproof.choosing.first_plan import ASKS, BY_KEY, answer, contradiction, is_asked
from wattproof.cli.errors import CallUnusable
from wattproof.cli.first_text import checked_text
from wattproof.quantities import Mistake


def asks() -> list[dict[str, Any]]:
    """Everything that is asked, in its order."""
    return [
        {
            "key": ask.key,
            "asks": ask.asks,
            "where": f"{ask.where[:1].upper()}{ask.where[1:]}.",
            "example": ask.example,
            "needed": ask.needed,
            "words": list(ask.words),
        }
        for ask in ASKS
    ]


def begun(written: dict[str, str]) -> dict[str, Any]:
    """A plan from answers, by key; what is left out or empty is not known.

    `mistakes` tells what is wrong with an answer, by key; `missing` what has to be told first;
    `text` is the plan where nothing is, else empty; `idle` what is not asked after these answers.
    """
    told: dict[str, str] = {}
    mistakes: dict[str, str] = {}
    for ask in ASKS:
        text = str(written.get(ask.key, "")).strip()
        if not text:
            continue
        try:
            told[ask.key] = answer(ask, text)
        except Mistake as mistake:
            instead = f": {mistake.instead}" if mistake.instead else ""
            mistakes[ask.key] = f"{mistake.message}{instead}."
    idle = [ask.key for ask in ASKS if not is_asked(ask, told)]
    told = {key: text for key, text in told.items() if key not in idle}
    against = contradiction(told)
    if against is not None:
        one, other, why = against
        mistakes[other] = f"{told[one]} contradicts {told[other]}: {why}."
    missing = [ask.key for ask in ASKS if ask.needed and not told.get(ask.key)]
    text = ""
    if not mistakes and not missing:
        try:
            text = checked_text({key: each for key, each in told.items() if each})
        except CallUnusable as unusable:
            mistakes[_blamed(str(unusable))] = f"{unusable}."
    return {"text": text, "mistakes": mistakes, "missing": missing, "idle": idle}


def _blamed(message: str) -> str:
    """The question that a refusal is about; the count of modules where it names none."""
    return next((key for key in BY_KEY if f"--{key} " in message), "modules")
