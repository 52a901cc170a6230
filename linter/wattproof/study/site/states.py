"""The operating states in which an installation is computed."""

from __future__ import annotations

from typing import Final

from wattproof.kinds import STATES as STATES
from wattproof.kinds import State as State

WORDS: Final[dict[State, str]] = {
    "standard": "standard test conditions",
    "coldest": "the coldest bright morning",
    "hottest": "the hottest noon",
    "bright": "sun brighter than the standard",
}
