"""Plausible plans from a fixed seed: real labels of an open module set, usual wires and devices.

Each plan is what a builder might draw: a string layout, a controller of a usual class, cables and
fuses of usual sizes, sometimes well chosen and sometimes not. Source of the labels: the CEC module
set that pvlib (PyPI) ships.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import cache
from typing import Any

from external.real_modules import crystalline_modules
from wattproof.codes import body

SEED = 20261125
GAUGES = ("14", "12", "10", "8", "6", "4", "2", "1/0", "2/0", "4/0")
AREAS = ("1.5", "2.5", "4", "6", "10", "16", "25", "35", "50", "70", "95")
FUSES = (10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 150, 200, 250)
INPUTS = (25, 50, 75, 100, 150, 250)
OUTPUTS = (10, 15, 20, 30, 40, 50, 60, 80, 100)
CODES = {
    "vehicle": ("nec-2023", "iec", "as-nzs-3001"),
    "cabin": ("nec-2023", "iec"),
    "boat": ("abyc-e11", "iso-13297"),
    "portable": ("nec-2023", "iec", "as-nzs-3001"),
}


def plans(count: int) -> Iterator[str]:
    """Texts of plans, the same ones at every call."""
    dice = random.Random(SEED)
    for _ in range(count):
        yield _plan(dice, _labels())


@cache
def _labels() -> list[dict[str, Any]]:
    rows = crystalline_modules().to_dict("records")
    return [row for row in rows if 10.0 < float(row["V_oc_ref"]) < 60.0]


def _plan(dice: random.Random, labels: list[dict[str, Any]]) -> str:
    setting = dice.choice(sorted(CODES))
    code = dice.choice(CODES[setting])
    metric = body(code).size_system == "mm2"
    nominal = dice.choice((12.8, 12.8, 25.6, 51.2))
    sheets = [_label(dice, dice.choice(labels)) for _ in range(dice.choice((1, 1, 1, 2)))]
    series, parallel = dice.choice((1, 1, 2, 2, 3, 4)), dice.choice((1, 1, 2, 2, 3, 4))
    strings = [(f"s{n}", dice.choice(range(len(sheets)))) for n in range(1, parallel + 1)]
    fused = parallel > 2 and dice.random() < 0.6
    sizes = AREAS if metric else GAUGES
    unit = "mm²" if metric else "AWG"
    pv, charge = dice.choice(sizes[1:6]), dice.choice(sizes[2:9])
    output, charge_fuse = dice.choice(OUTPUTS), dice.choice(FUSES)
    lines = [
        "wattproof: 1",
        f"setting: {setting}",
        f"code: {code}",
        "site:",
        f"  coldest: {dice.choice((-25, -18, -10, 0))} °C",
        f"  hottest: {dice.choice((30, 35, 40))} °C",
        "  places:",
        f"    roof: {{ambient: {dice.choice((45, 55, 65))} °C, sunlight: true, wet: true}}",
        "    inside: {ambient: 35 °C}",
        "datasheets:",
        "  modules:",
        *(f"    m{n}: {{{sheet}}}" for n, sheet in enumerate(sheets)),
        "  cables:",
        f"    pv: {{size: {pv} {unit}, kind: pv, insulation_temperature: 90 °C, outdoor: true,"
        " voltage: 1000 V}",
        f"    charge: {{size: {charge} {unit}, kind: marine, material: copper,"
        " insulation_temperature: 105 °C, voltage: 600 V}",
        "strings:",
        *(
            f"  {name}: {{module: m{sheet}, series: {series}, "
            f"mounting: {dice.choice(('open-rack', 'roof-gap'))}, place: roof}}"
            for name, sheet in strings
        ),
    ]
    if parallel > 1:
        rating = dice.choice((20, 30, 50, 63))
        lines += ["combiners:", f"  joint: {{rating: {rating} A, voltage: 1000 V}}"]
    lines += [
        "switches:",
        "  off: {rating: 63 A, voltage: 1000 V, dc: true, poles: 2, load_break: true}",
        "fuses:",
        f"  charge-fuse: {{rating: {charge_fuse} A, voltage: 125 V, interrupt: 20 kA, "
        "style: class-t, dc: true}",
    ]
    if fused:
        string_fuse = dice.choice((10, 15, 20, 30))
        lines += [
            f"  {name}-fuse: {{rating: {string_fuse} A, voltage: 1000 V, interrupt: 10 kA, "
            "style: gpv, dc: true}"
            for name, _ in strings
        ]
    lines += [
        "controllers:",
        f"  tracker: {{kind: {dice.choice(('mppt', 'mppt', 'mppt', 'pwm'))}, "
        f"max_input_voltage: {dice.choice(INPUTS)} V, max_output_current: {output} A, "
        f"charge_voltage: {round(nominal / 12.8 * 14.2, 1)} V, blocks_reverse: true, "
        "low_temperature_cutoff: true}",
        "batteries:",
        f"  bank: {{chemistry: lithium-iron-phosphate, nominal: {nominal} V, "
        f"capacity: {dice.choice((50, 100, 200, 300))} Ah, "
        f"max_charge_voltage: {round(nominal / 12.8 * 14.6, 1)} V, "
        f"max_charge_current: {dice.choice((25, 50, 100))} A, low_temperature_cutoff: true}}",
        "wires:",
    ]
    source = "joint" if parallel > 1 else strings[0][0]
    if parallel > 1:
        for name, _ in strings:
            inline = (
                f", inline: [{{{name}-fuse: {{from_end: to, distance: 5 cm}}}}]" if fused else ""
            )
            lines.append(
                f"  {name}-lead: {{from: {name}, to: joint, cable: pv, "
                f"length: {dice.choice((1, 2, 4))} m, place: roof{inline}}}"
            )
    lines += [
        f"  home: {{from: {source}, to: tracker.pv, cable: pv, length: {dice.choice((3, 5, 10))} m,"
        " place: [roof, inside], inline: [off]}",
        f"  charge: {{from: tracker.battery, to: bank, cable: charge, "
        f"length: {dice.choice((0.5, 1, 2))} m, place: inside, inline: [{{charge-fuse: "
        f"{{from_end: to, distance: {dice.choice((5, 10, 15))} cm}}}}]}}",
    ]
    return "\n".join(lines).replace("  charge: {from", "  charge-run: {from") + "\n"


def _label(dice: random.Random, module: dict[str, Any]) -> str:
    """A module's label, rounded as labels are."""
    current = float(module["I_sc_ref"])
    beta = float(module["beta_oc"]) / float(module["V_oc_ref"]) * 100
    alpha = float(module["alpha_sc"]) / current * 100
    fields = {
        "voc": f"{float(module['V_oc_ref']):.1f} V",
        "vmp": f"{float(module['V_mp_ref']):.1f} V",
        "isc": f"{current:.2f} A",
        "imp": f"{float(module['I_mp_ref']):.2f} A",
        "voc_coefficient": f"{beta:.2f} %/°C",
        "isc_coefficient": f"{alpha:.3f} %/°C",
        "pmax_coefficient": f"{float(module['gamma_r']):.2f} %/°C",
        "cells_in_series": f"{int(module['N_s'])}",
        "bypass_diodes": "3",
        "max_series_fuse": f"{dice.choice((15, 20, 25, 30))} A",
        "max_system_voltage": "1000 V",
    }
    return ", ".join(f"{key}: {value}" for key, value in fields.items())
