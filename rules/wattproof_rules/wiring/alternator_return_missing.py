"""An alternator that returns through the engine, and a battery that does not."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, rule, warning
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 552.10 (park trailers), as good practice in vehicles",
        "2023",
        "the negative of the battery is tied to the chassis by a conductor of at least 8 AWG, not "
        "smaller than the one of the charge",
        verified=False,
    ),
    "common practice": Clause(
        "the wiring of engines",
        "",
        "an alternator without a negative wire returns through the engine, which a strap joins to "
        "the negative of the battery that it charges",
        verified=False,
    ),
}

MORE = """\
fuses:
  alternator-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 25 A,
            charge_voltage: 14.4 V, blocks_reverse: true}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah, max_charge_voltage: 14.7 V}
chargers:
  alternator: {kind: alternator, max_output_current: 90 A, charge_voltage: 14.4 V, nominal: 12 V}
bonds:
  engine-strap: {from: start.negative, to: chassis, cable: batt-1-0, length: 50 cm}
wires:
  alternator-run: {from: alternator.positive, to: start.positive, cable: batt-1-0, length: 1 m,
                   place: cabin, inline: [{alternator-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="alternator-return-missing",
    summary="The way back of an alternator or starter without a negative wire, to its battery.",
    covers=("An alternator without a way back",),
    level="warning",
    hazard="fire",
    part="bonding",
    basis=BASIS,
    explanation="Most alternators have one wire only: what leaves by it comes back through the "
    "engine and the body. Where the battery's negative is not tied to them as well, the current "
    "looks for other ways: through the shield of an aerial cable, the strap of a small lamp, the "
    "negative of an instrument. These are far too thin for it.",
    caution=warning("A thin wire that carries the return of an alternator glows and burns."),
    fine="Where the alternator is built with a case that is its negative and the battery's tie to "
    "engine or chassis is only missing in the plan: write that tie down as a bond.",
    since="0.1.0",
    sound=plan(
        "van-in-sun-inverter",
        Edit("ambient: 60 °C, sunlight: true", "ambient: 65 °C"),
        Edit(", place: roof", ""),
        Edit("to: main-bar", "to: start"),
        less=(
            "fuses.bank-fuse",
            "batteries.house",
            "busbars",
            "inverters",
            "wires.bank-run",
            "wires.inverter-run",
        ),
        more=MORE,
    ),
    faulty=Edit(
        "bonds:\n  engine-strap: {from: start.negative, to: chassis, cable: batt-1-0, "
        "length: 50 cm}\n",
        "",
    ),
)
def alternator_return_missing(study: Study) -> Iterator[Observation]:
    ground = "water" if study.plan.setting == "boat" else "chassis"
    for found in study.charging.without_way_back:
        bank, alternator, current = found.bank, found.alternator, found.current
        yield Observation(
            message=f"`{alternator.name}` returns up to {current} through the engine, and the "
            f"negative of `{bank.name}` is not tied to it",
            on=(bank, alternator),
            values=(current,),
            remedy=f"tie the negative of `{bank.name}` to the engine with a conductor that carries "
            f"{current}, and write it as a bond from `{bank.name}.negative` to {ground}; or wire "
            f"the negative of `{alternator.name}`",
        )
