"""The cold voltage of modules that are plugged by hand against what may be touched."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import in_series, labelled
from wattproof.rule import Clause, Edit, Observation, Remedy, caution, option, record, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.strings import StringStudy
from wattproof.study.limits import exceeds, margin_below

BASIS = {
    "nec-2023": Clause(
        "NEC 690.31(A)",
        "2014-2023",
        "conductors of an array above 30 V that are readily accessible are guarded or in raceway",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-4-41 414",
        "2005 with A1:2017",
        "without basic protection direct voltage is at most 60 V in dry places, and less in wet "
        "ones",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297, scope",
        "2020",
        "the standard holds up to 50 V of direct current; above that, protection against shock is "
        "asked for",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, voltage classes",
        "2021",
        "above 60 V of direct current, less in wet places, live parts of an array cannot be "
        "touched",
        verified=False,
    ),
    "common practice": Clause(
        "IEC 60364-4-41 414",
        "2005 with A1:2017",
        "above 60 V of direct current nothing that carries it can be touched",
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
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V,
                connector: {style: locking-pv, rating: 30 A, voltage: 1000 V}}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: ground, portable: true}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 25 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""

GUARDED = "locking-pv"  # its contacts lie deep in both halves, apart and mated


@record
class Limits:
    """What a project may set."""

    volts: float = option(60.0, "Direct voltage (V) from which contacts must be out of reach.")


@rule(
    id="array-voltage-touchable",
    summary="Cold voltage of portable modules against what may be touched, by their connectors.",
    level="note",
    hazard="shock",
    part="connector",
    basis=BASIS,
    explanation="Below about 60 V direct current hardly drives a dangerous current through dry "
    "skin; wet hands and bare feet lower that. Modules in series add their voltages, and a plug "
    "that is pulled apart in sun shows all of it at once. Portable modules are joined and parted "
    "by hand, on wet grass, often by others than the builder, so their contacts must lie where no "
    "finger reaches.",
    caution=caution("Cover the modules before you join or part them, and keep wet hands away."),
    sound=SOUND,
    faulty=Edit("connector: {style: locking-pv,", "connector: {style: flat-two-pin,"),
    options=Limits,
)
def array_voltage_touchable(study: Study, limits: Limits) -> Iterator[Observation]:
    for array in study.array.arrays:
        volts = array.voc("coldest")
        if not exceeds(volts, limits.volts):
            continue
        bare = [s for s in array.all_strings if s.source.string.portable and not _guarded(s)]
        by_name = {str(s.source.string.name): s.source.string for s in bare}
        if not by_name:
            continue
        names = " and ".join(f"`{name}`" for name in by_name)
        yield Observation(
            message=f"{names} can be plugged by hand, and the {array.name} reaches {volts} on the "
            f"coldest morning; above {limits.volts:g} V no contact may be within reach",
            on=tuple(by_name.values()),
            values=(volts,),
            margin=margin_below(volts, limits.volts),
            remedy=_remedy(array, bare, limits),
        )


def _guarded(string: StringStudy) -> bool:
    """True where all its modules state a connector whose contacts cannot be touched."""
    connectors = [m.sheet.connector for m in string.modules]
    return all(c is not None and c.style == GUARDED for c in connectors)


def _remedy(array: ArrayStudy, bare: list[StringStudy], limits: Limits) -> Remedy:
    guard = (
        f"use connectors with guarded contacts and say so (`connector: {{style: {GUARDED}}}` of "
        "the module)"
    )
    changes = [
        change
        for string in bare
        for module in string.modules
        for change in labelled([string.source.string], module, "connector.style", GUARDED)
    ]
    guarded = tuple(dict.fromkeys(changes))
    fewer = array.fitting_in_series(limits.volts)
    if not fewer:
        return Remedy(guard, (guarded,))
    shorter = in_series(array, fewer)
    words = f"{guard}, or put at most {fewer} in series{shorter.rest}"
    return Remedy(words, (guarded, shorter.changes))
