"""The words for levels, hazards and states, the same in all outputs for people."""

from __future__ import annotations

from typing import Any, Final

from wattproof.finding import Hazard, Level, Verdict
from wattproof.rule import Clause
from wattproof.settings import RuleSetting, Setting

LEVEL_WORDS: Final[dict[Level, str]] = {"error": "Errors", "warning": "Warnings", "note": "Notes"}
HAZARD_WORDS: Final[dict[Hazard, str]] = {
    "fire": "fire",
    "shock": "electric shock",
    "injury": "injury",
    "damage": "damage to equipment",
    "lost-energy": "lost energy",
    "legal": "rules and records",
}
HAZARD_SHORT: Final[dict[Hazard, str]] = {
    "fire": "fire",
    "shock": "shock",
    "injury": "injury",
    "damage": "damage",
    "lost-energy": "loss",
    "legal": "rules",
}
VERDICT_WORDS: Final[dict[Verdict, str]] = {
    "certain": "it fails whatever the plan leaves out",
    "likely": "it fails with what is usual where the plan leaves something out",
}
_LIMITS: Final = (
    "what the plan declares, not the installation itself. It does not replace the local code, the "
    "makers' instructions, or a licensed electrician."
)
STANDING: Final = f"This checks {_LIMITS}"
STANDING_OF_A_PICTURE: Final = f"This shows {_LIMITS}"


def margin_words(margin: float | None) -> str:
    """How far inside or past a limit; empty where that tells nothing."""
    if margin is None or not abs(margin) < 1000:
        return ""
    side = "inside the limit" if margin >= 0 else "past the limit"
    return f"{abs(margin) * 100:.1f} % {side}"


def numbered(count: int, word: str) -> str:
    """A count with its word: 1 error, 2 errors."""
    return f"{count} {word}{'' if count == 1 else 's'}"


def cited(clause: Clause) -> str:
    """A clause in one line: where it stands, and what it says."""
    return f"{clause.cited}: {clause.says}" if clause.edition else clause.says


def set_at(setting: Setting[Any]) -> str:
    """Where something was set."""
    return str(setting.place) if setting.place is not None else "the command line"


def set_words(made: RuleSetting) -> str:
    """What was set for a rule."""
    if made.what == "off":
        return f"`{made.rule}` is off: what it guards against was not looked for"
    if made.what == "level":
        return f"`{made.rule}` has the level {made.setting.value}"
    return f"`{made.rule}.{made.name}` is {made.setting.value:.12g}"
