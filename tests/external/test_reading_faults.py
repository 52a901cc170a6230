"""Faults of arrays made by a reference library, read with meters that err: found, named, or not.

pvlib's single-diode model of real modules (the CEC list) gives what two strings of three show,
sound and with one fault. Each value then gets the error of a usual meter. What cannot be found with
such meters is held too, so that a silent check is not taken for health.
"""

from __future__ import annotations

import csv
import os
import random
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pvlib
import pytest

from amounts import LONG, amount
from external.real_modules import datasheets, sample
from wattproof.packs import RuleSet, discover
from wattproof.physics.extraction import Datasheet
from wattproof.testing import check_text

SEED = 60904
OF_READINGS = RuleSet({id_: r for id_, r in discover().rules.items() if r.part == "reading"})
IN_SERIES = 3
SUN, CELLS = 850.0, 48.0  # W/m², °C
DIODE = 0.5  # V over a bypass diode that carries the string

PLAN = """\
wattproof: 1
setting: cabin
site: {{coldest: -10 °C, hottest: 40 °C}}
datasheets:
  modules:
    real: {{voc: {voc:.4f} V, isc: {isc:.4f} A, vmp: {vmp:.4f} V, imp: {imp:.4f} A,
           voc_coefficient: {beta:.6f} V/°C, isc_coefficient: {alpha:.6f} A/°C,
           pmax_coefficient: {gamma:.6f} %/°C, cells_in_series: {cells}, bypass_diodes: 3}}
  cables:
    lead: {{size: 10 AWG}}
strings:
  one: {{module: real, series: 3, mounting: roof-bonded}}
  two: {{module: real, series: 3, mounting: roof-bonded}}
combiners:
  joint: {{joins: [one, two], rating: 60 A, voltage: 1000 V}}
controllers:
  tracker: {{kind: mppt, max_input_voltage: 600 V, max_output_current: 500 A,
            charge_voltage: 57 V}}
batteries:
  house: {{chemistry: agm, nominal: 48 V, capacity: 800 Ah}}
wires:
  run: {{from: joint, to: tracker.pv, cable: lead, length: 1 mm}}
  charge: {{from: tracker.battery, to: house, cable: lead, length: 1 m}}
readings:
"""


class Fault(NamedTuple):
    """What is wrong, and by what it should be known.

    lost: modules' worth of voltage that string one lacks. light: of string one, and of both. ohms:
    in its joint. meter_of_sun: by what the irradiance meter is wrong beyond its error. hotter:
    cells over what was read (K). both_ends: the voltage of string one is read at its own end too.
    before: so many times the array was read before, when nothing was wrong. rule, says: what names
    it; no rule where it cannot be found.
    """

    lost: float = 0.0
    light: float = 1.0
    light_of_all: float = 1.0
    ohms: float = 0.0
    meter_of_sun: float = 1.0
    hotter: float = 0.0
    both_ends: bool = False
    before: int = 0
    rule: str = ""
    says: str = ""
    least_found: float = 0.0


FAULTS = {
    "sound": Fault(),
    "one group of cells shorted": Fault(
        lost=1.0 / 3.0, rule="reading-voltage-low", says="bypass diode", least_found=0.9
    ),
    "one module missing": Fault(
        lost=1.0, rule="reading-voltage-low", says="one module missing", least_found=1.0
    ),
    "one string at 40 %": Fault(
        light=0.4, rule="reading-current-low", says="`one`", least_found=1.0
    ),
    "one string dirty by 10 %": Fault(
        light=0.9, rule="reading-strings-unequal", says="`one`", least_found=0.3
    ),
    "half an ohm in a joint": Fault(ohms=0.5),
    "all dirty by 10 %": Fault(light_of_all=0.9),
    "half an ohm in a joint read at both ends": Fault(
        ohms=0.5, both_ends=True, rule="reading-way-drop", says="`one`", least_found=0.9
    ),
    "no fault read at both ends": Fault(both_ends=True),
    "all dirty by 10 % read twice when clean": Fault(
        light_of_all=0.9, before=2, rule="reading-fallen", says="short-circuit", least_found=0.7
    ),
    "no fault read twice before": Fault(before=2),
    "irradiance meter 35 % high": Fault(
        meter_of_sun=1.35, rule="reading-current-low", says="two", least_found=0.9
    ),
    "cells 12 K hotter than read": Fault(hotter=12.0),
}
MAY_BE_SAID = {
    "one string at 40 %": {"reading-voltage-low"},  # weak light takes a little voltage too
    "half an ohm in a joint": {"reading-power-under-curve", "reading-string-current-low"},
    "half an ohm in a joint read at both ends": {"reading-string-current-low"},
    "all dirty by 10 %": {"reading-power-under-curve", "reading-current-low"},
    "all dirty by 10 % read twice when clean": {"reading-current-low", "reading-mean-low"},
    "one string dirty by 10 %": {"reading-power-under-curve", "reading-current-low"},
    "cells 12 K hotter than read": {"reading-voltage-low", "reading-power-under-curve"},
}
"""Where a fault lies at the edge of what meters show, what may be said of it."""


def shown(row: Any, fault: Fault, rng: random.Random) -> str:
    """The readings of an array with a fault, and those before it where there are any.

    Of what meters err, half stays from one time to the next, as the same meters have it.
    """
    if not fault.before:
        return shown_at(row, fault, rng, 0, {})
    stays = {share: rng.uniform(-share, share) for share in (0.005, 0.02, 0.05)}
    return "".join(
        shown_at(row, fault if time == fault.before else Fault(), rng, time, stays)
        for time in range(fault.before + 1)
    )


def shown_at(
    row: Any, fault: Fault, rng: random.Random, time: int, stays: dict[float, float]
) -> str:
    """The readings of one day, each value off by what its meter errs.

    stays: by its share, the error that a meter has each time; half of the share comes beside half
    of that, and the whole share where there is none.
    """

    def off(value: float, share: float, aside: float = 0.0) -> float:
        error = rng.uniform(-share, share)
        if share in stays:
            error = (error + stays[share]) / 2.0
        return value * (1.0 + error) + rng.uniform(-aside, aside)

    names = ("alpha_sc", "a_ref", "I_L_ref", "I_o_ref", "R_sh_ref", "R_s", "Adjust")
    values = [float(row[name]) for name in names]

    def module(light: float) -> Any:
        return pvlib.pvsystem.calcparams_cec(light, CELLS + fault.hotter, *values)

    def string(light: float, lost: float) -> tuple[Any, Any]:
        """Voltage over current of a string."""
        photo, saturation, series, shunt, factor = module(light)
        amps = np.linspace(0.0, float(photo) * 0.999, 400)
        volts = pvlib.pvsystem.v_from_i(amps, photo, saturation, series, shunt, factor)
        bypassed = DIODE if 0.0 < lost < 1.0 else 0.0
        return (IN_SERIES - lost) * volts - bypassed, amps

    lit = SUN * fault.light_of_all
    curves = [string(lit * fault.light, fault.lost), string(lit, 0.0)]
    curves[0] = (curves[0][0] - fault.ohms * curves[0][1], curves[0][1])
    volts = np.linspace(1.0, max(v[0] for v, _ in curves), 600)
    each = [np.interp(volts, v[::-1], a[::-1], right=0.0) for v, a in curves]
    best = int(np.argmax(volts * (each[0] + each[1])))
    meter = "meter: {voltage: 0.5 %, current: 2 %, zero: 0.1 A, irradiance: 5 %}"
    sun = off(SUN * fault.meter_of_sun, 0.05)
    beside = f"irradiance: {sun:.1f} W/m², back_temperature: {off(CELLS, 0.0, 2.0):.1f} °C, {meter}"
    lines = []
    day = f"date: 2026-0{time + 1}-15"
    flows = float(each[0][best])
    if fault.both_ends:
        end = volts[best] + fault.ohms * flows
        lines.append(
            f"  one-run: {{at: one, voltage: {off(end, 0.005):.3f} V, current: "
            f'{off(flows, 0.02, 0.1):.3f} A, taken: "together {time}", stage: bulk, {beside}}}\n'
        )
    for name, (v, a) in zip(("one", "two"), curves, strict=True):
        shorted = float(np.interp(0.0, v[::-1], a[::-1]))
        lines.append(
            f"  {name}-open-{time}: {{at: {name}, voc: {off(v[0], 0.005):.3f} V, "
            f'isc: {off(shorted, 0.02, 0.1):.3f} A, taken: "together {time}", {day}, {beside}}}\n'
        )
    lines.append(
        f"  noon-{time}: {{at: tracker.pv, voltage: {off(volts[best], 0.005):.3f} V, current: "
        f"{off(float(each[0][best] + each[1][best]), 0.02, 0.1):.3f} A, stage: bulk, {day}, "
        f'taken: "together {time}", {beside}}}\n'
    )
    return "".join(lines)


def plan_of(sheet: Datasheet, readings: str) -> str:
    return (
        PLAN.format(
            voc=sheet.voc,
            isc=sheet.isc,
            vmp=sheet.vmp,
            imp=sheet.imp,
            beta=sheet.voc_coefficient,
            alpha=sheet.isc_coefficient,
            gamma=(sheet.pmax_coefficient or 0.0) * 100.0,
            cells=sheet.cells_in_series,
        )
        + readings
    )


def said_of(sheet: Datasheet, row: Any, fault: Fault, rng: random.Random) -> dict[str, str]:
    """What the check says of readings, by rule."""
    result = check_text(plan_of(sheet, shown(row, fault, rng)), OF_READINGS)
    told: dict[str, str] = {}
    for single in result.each:
        if single.part == "reading":
            told[single.rule] = f"{told.get(single.rule, '')} {single.message}"
    return told


TABLE = Path(__file__).parent / "tables" / "reading_faults.csv"
"""What came of each fault: of so many arrays, how many were found, how many by their name, and
of how many something was said that is not so. Written anew with

    WATTPROOF_LONG=1 UPDATE_TABLE=1 pytest tests/external/test_reading_faults.py
"""
ARRAYS = 24
READINGS = 3


class Outcome(NamedTuple):
    """What came of one fault, over some arrays."""

    arrays: int
    found: int
    named: int
    false: int


@cache
def outcome(name: str, count: int) -> Outcome:
    fault = FAULTS[name]
    table = sample(ARRAYS, SEED)
    rng = random.Random(f"{SEED} {name}")
    found = named = false = 0
    rows = list(zip(table.iterrows(), datasheets(table), strict=True))[:count]
    for (_, row), sheet in rows:
        told = said_of(sheet, row, fault, rng)
        found += bool(told)
        named += bool(fault.rule) and fault.says in told.get(fault.rule, "")
        allowed = MAY_BE_SAID.get(name, set()) | ({fault.rule} if fault.rule else set())
        if fault.rule:
            allowed |= {"reading-power-under-curve", "reading-strings-unequal"}
        false += bool(set(told) - allowed)
    return Outcome(count, found, named, false)


@pytest.mark.parametrize("name", FAULTS)
def test_faults_are_found_and_named_and_health_is_not_called_a_fault(name: str) -> None:
    """In the long run 24 arrays a fault, three readings and six values each."""
    count = amount(4, ARRAYS)
    came = outcome(name, count)
    assert came.named >= FAULTS[name].least_found * count
    assert came.false <= 0.05 * count


def test_the_long_run_is_of_five_hundred_readings() -> None:
    assert ARRAYS * READINGS * len(FAULTS) >= 500


def written() -> dict[str, Outcome]:
    lines = csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines())
    return {line["fault"]: Outcome(*(int(line[key]) for key in Outcome._fields)) for line in lines}


def test_the_table_is_what_came() -> None:
    """In the short run it only has to stand by what the tests ask; in the long it is made."""
    if LONG:
        made = {name: outcome(name, ARRAYS) for name in FAULTS}
        if os.environ.get("UPDATE_TABLE"):
            lines = [",".join(("fault", *Outcome._fields))]
            lines += [",".join((name, *map(str, came))) for name, came in made.items()]
            TABLE.write_text("\n".join(lines) + "\n", encoding="utf-8")
        assert written() == made
    table = written()
    assert list(table) == list(FAULTS)
    for name, came in table.items():
        assert came.arrays == ARRAYS
        assert came.named >= FAULTS[name].least_found * ARRAYS
    assert sum(came.false for came in table.values()) <= 0.01 * ARRAYS * len(FAULTS)
    for name, fault in FAULTS.items():
        if fault in (Fault(), Fault(both_ends=True), Fault(before=2)):
            assert table[name] == Outcome(ARRAYS, 0, 0, 0)
