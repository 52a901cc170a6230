"""Families of what a plan declares, by the key that each stands under."""

from __future__ import annotations

from typing import Final

CONNECTED: Final = (
    "strings",
    "combiners",
    "fuses",
    "breakers",
    "switches",
    "controllers",
    "batteries",
    "busbars",
    "distribution",
    "inverters",
    "loads",
    "chargers",
    "inverter_chargers",
    "converters",
    "starters",
    "heaters",
    "power_boxes",
    "diode_isolators",
    "selectors",
    "arc_fault_devices",
)
"""Those with terminals."""

JOINING: Final = ("bonds", "frame_bonds", "arresters", "wires")
"""Those that join terminals, or lie across them."""
