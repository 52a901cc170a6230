"""The short lists that the whole program goes by, each written once.

They import nothing, so that the command line can offer them before anything else is loaded.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias, get_args

Level: TypeAlias = Literal["error", "warning", "note"]
LEVELS: Final[tuple[Level, ...]] = get_args(Level)
"""How grave findings are, the gravest first."""

Hazard: TypeAlias = Literal["fire", "shock", "injury", "damage", "lost-energy", "legal"]
HAZARDS: Final[tuple[Hazard, ...]] = get_args(Hazard)
"""What rules guard against, the gravest first."""

PARTS: Final = (
    "module",
    "string",
    "combiner",
    "overcurrent",
    "conductor",
    "connector",
    "switch",
    "controller",
    "battery",
    "bonding",
    "energy",
    "reading",
    "plan",
)
"""The parts of an installation that rules look at, from the sun to the battery."""

State: TypeAlias = Literal["standard", "coldest", "hottest", "bright"]
STATES: Final[tuple[State, ...]] = get_args(State)
"""The states in which an installation is computed."""

Schedule: TypeAlias = Literal["conductors", "devices", "parts", "labels"]
SCHEDULES: Final[tuple[Schedule, ...]] = get_args(Schedule)
"""The lists to buy, cut and print from, in their order."""
