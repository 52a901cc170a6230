"""The lasting current of a conductor against what it may carry in its place."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, rule, warning
from wattproof.study import Carrying, Study, WireStudy, from_table

BASIS = {
    "nec-2023": Clause(
        "NEC 690.8(B) with 110.14(C)",
        "2023",
        "two tests, the larger governs: 125 % of the maximum current without corrections on the "
        "terminals' column, and the maximum current after corrections for heat and bundling",
        verified=True,
    ),
    "abyc-e11": Clause(
        "33 CFR 183.425 Table 5; ABYC E-11",
        "2025",
        "the current in a conductor stays within the table, with its factor in engine spaces",
        verified=True,
    ),
    "iec": Clause(
        "IEC 62548-1; IEC 60364-4-43, 433.1",
        "2023",
        "a conductor carries at least 1.25 times the short-circuit current that it can see, and "
        "everywhere at least its design current, after corrections",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297, Annex A",
        "2022",
        "the current in a conductor stays within the table for its insulation, less in engine spaces",
        verified=False,
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-200: {voc: 24.6 V, vmp: 20.5 V, isc: 10.2 A, imp: 9.76 A, pmax: 200 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C, pmax_coefficient: -0.36 %/°C,
                max_series_fuse: 20 A, max_system_voltage: 600 V}
  cables:
    pv-8: {size: 8 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V}
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V}
    batt-6: {size: 6 AWG, kind: battery, material: copper, insulation_temperature: 105 °C, voltage: 600 V}
strings:
  port: {module: rigid-200, series: 3, mounting: roof-gap}
  starboard: {module: rigid-200, series: 3, mounting: roof-gap}
combiners:
  roof-joint: {joins: [port, starboard], kind: branch-connector, rating: 30 A, voltage: 600 V}
fuses:
  charge-fuse: {rating: 50 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 40 A, charge_voltage: 14.2 V}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 200 Ah,
          max_charge_current: 100 A, max_charge_voltage: 14.6 V}
wires:
  home-run: {from: roof-joint, to: tracker.pv, cable: pv-8, length: 3 m, place: [roof, cabin]}
  charge-run: {from: tracker.battery, to: house, cable: batt-6, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="conductor-too-small",
    summary="Lasting current of a conductor against its current-carrying capacity in its place.",
    level="error",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="A conductor warms up with the square of its current, on top of the heat around it. "
    "What a table lets it carry is the current at which its insulation just stays within its "
    "temperature: less on a hot roof, less in a bundle, and never more than the terminals at its "
    "ends stand. Above that the insulation ages, softens, and finally bares the metal.",
    caution=warning(
        "An overloaded cable heats for hours without tripping anything, behind panels and foam."
    ),
    sound=SOUND,
    faulty=Edit("to: tracker.pv, cable: pv-8", "to: tracker.pv, cable: pv-10"),
    acceptable=False,
)
def conductor_too_small(study: Study) -> Iterator[Observation]:
    factor = from_table(study.code.continuous_factor, "kcontinuous")
    for wire in study.wires.values():
        if wire.current is None:
            continue
        carrying = wire.carrying
        if isinstance(carrying, str):
            yield Observation(
                message=f"what {wire.size.name} may carry is not known: {carrying}",
                on=(wire,),
                values=(wire.current,),
                level="warning",
                undecided=True,
                remedy="take a size that the body of rules has in its tables",
            )
            continue
        lasting = (factor * wire.current).named(
            f"Idesign({wire.name})", f"lasting current of {wire.name} with its allowance", "A"
        )
        over_terminal = lasting > carrying.continuous_limit
        if not (over_terminal or wire.current > carrying.value):
            continue
        need, may = (
            (lasting, carrying.continuous_limit)
            if lasting.number / carrying.continuous_limit.number
            > wire.current.number / max(carrying.value.number, 1e-9)
            else (wire.current, carrying.value)
        )
        best = wire.carrying_at_best()
        yield Observation(
            message=f"`{wire.name}` ({wire.size.name}) has to carry {need} and may carry {may}",
            on=(wire,),
            values=(need, may),
            margin=1.0 - need.number / may.number if may.number else -1.0,
            remedy=_remedy(study, wire),
            whatever=best is not None and wire.current > best,
        )


def _remedy(study: Study, wire: WireStudy) -> str:
    """The smallest size that carries the current in the same place."""
    if wire.too_hot:
        return (
            f"the air around it ({wire.ambient}) is as hot as its insulation stands "
            f"({wire.insulation}): use cable of a higher temperature rating, or another way"
        )
    assert wire.current is not None
    needed = study.code.continuous_factor.value * wire.current.number
    for size in study.code.conductor_sizes():
        proposed = wire.in_size(size)
        if size.area_mm2 <= wire.size.area_mm2 or not isinstance(proposed.carrying, Carrying):
            continue
        if (
            proposed.carrying.continuous_limit.number >= needed
            and proposed.carrying.value.number >= wire.current.number
        ):
            return f"use {size.name} of the same kind ({proposed.carrying.value})"
    return "no single size in the tables will do: run conductors in parallel, or raise the voltage"
