"""The operating states in which an installation is computed."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

State: TypeAlias = Literal["standard", "coldest", "hottest", "bright"]

STATES: Final[tuple[State, ...]] = ("standard", "coldest", "hottest", "bright")

WORDS: Final[dict[State, str]] = {
    "standard": "standard test conditions",
    "coldest": "the coldest bright morning",
    "hottest": "the hottest noon",
    "bright": "sun brighter than the standard",
}
