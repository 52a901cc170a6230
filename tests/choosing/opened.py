"""Plans that leave everything open, from a fixed seed: labels, a controller, a battery, use.

All invented; every body of rules in the settings that it is for, and both unit systems.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

SEED = 20261128
CODES = {
    "vehicle": ("nec-2023", "iec", "as-nzs-3001"),
    "cabin": ("nec-2023", "iec"),
    "boat": ("abyc-e11", "iso-13297"),
    "portable": ("nec-2023", "iec", "as-nzs-3001"),
}
LABELS = (
    (22.4, 9.8, 18.6, 170),
    (24.3, 5.2, 20.4, 100),
    (37.8, 10.9, 31.4, 320),
    (49.2, 11.3, 41.0, 430),
    (21.6, 2.9, 18.0, 48),
)


def plans(count: int) -> Iterator[tuple[str, str]]:
    """Names and texts of plans, the same ones at every call."""
    dice = random.Random(SEED)
    pairs = [(setting, code) for setting in sorted(CODES) for code in CODES[setting]]
    for number in range(count):
        setting, code = pairs[number % len(pairs)]
        yield f"{number}-{setting}-{code}", _plan(dice, setting, code)


def _plan(dice: random.Random, setting: str, code: str) -> str:
    voc, isc, vmp, pmax = dice.choice(LABELS)
    count = dice.choice((1, 2, 2, 3, 4, 4, 6))
    nominal, charge, most = dice.choice(((12.8, 14.2, 14.6), (25.6, 28.4, 29.2)))
    limit = dice.choice(("open", "open", "150 V", "250 V"))
    output = dice.choice(("open", "open", "60 A"))
    length = dice.choice(("2 m", "5 m", "9 m"))
    short = dice.choice(("60 cm", "1.5 m", "3 m"))
    layout = f"arrangement: open, count: {count}" if count > 1 else "series: 1"
    return f"""\
# everything open
wattproof: 1
setting: {setting}
code: {code}
site: {{coldest: {dice.choice((-18, -10, 0))} °C, hottest: {dice.choice((32, 38))} °C}}
datasheets:
  modules:
    panel: {{voc: {voc} V, isc: {isc} A, vmp: {vmp} V, pmax: {pmax} W,
            voc_coefficient: -0.28 %/°C, isc_coefficient: 0.05 %/°C, pmax_coefficient: -0.35 %/°C,
            max_series_fuse: 20 A, max_system_voltage: 1000 V}}
strings:
  roof: {{module: panel, {layout}, mounting: open-rack, frames_bonded: true,
         feeds: {{to: tracker, length: {length}}}}}
controllers:
  tracker: {{kind: mppt, max_input_voltage: {limit}, max_output_current: {output},
            charge_voltage: {charge} V, blocks_reverse: true, low_temperature_cutoff: true,
            feeds: {{to: house, length: {short}}}}}
batteries:
  house: {{chemistry: lithium-iron-phosphate, nominal: {nominal} V, capacity: 300 Ah,
          max_charge_current: 150 A, max_charge_voltage: {most} V, low_temperature_cutoff: true,
          short_circuit_current: 4 kA}}
"""
