"""What reaches the loads when a lithium battery disconnects under what does not hold without."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import one_that_holds
from wattproof.rule import Clause, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.charging.without_battery import lets_array_through
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-13",
        "2022-2025",
        "what charges a lithium battery stands its disconnecting, and what is on the bus is "
        "warned or protected before",
        verified=False,
    ),
    "common practice": practice(
        "a pulse-width controller is no source of steady voltage without its battery; appliances "
        "of 12 V stand about 16 V"
    ),
}

MORE = """\
fuses:
  load-fuse: {rating: 15 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
controllers:
  regulator: {kind: pwm, max_input_voltage: 50 V, max_output_current: 30 A, charge_voltage: 14.2 V,
              blocks_reverse: true, holds_without_battery: true}
loads:
  lights: {current: 3 A, nominal: 12 V}
wires:
  lights-run: {from: bar, to: lights, cable: pv-10, length: 3 m, place: cabin,
               inline: [{load-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="lithium-cut-off-in-sun",
    summary="Array voltage that loads get when a lithium battery disconnects in sun.",
    covers=("Lithium that cuts off in full sun",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A pulse-width controller is a switch between the array and the battery, and it "
    "is the battery that holds the voltage down. A lithium battery disconnects itself when it is "
    "full, cold or in fault, and that is most likely at noon. For a moment, or for longer, the "
    "loads on the bus then hang on the bare array and get nearly its open-circuit voltage. Most "
    "trackers hold their output then; one whose maker says that it does not is no better.",
    caution=notice("Lamps, refrigerators, radios and inverters can be destroyed at once."),
    fine="Where everything that stays on the array bears its open-circuit voltage by its own "
    "label.",
    since="0.1.0",
    sound=plan(
        "van-inverter",
        Edit("series: 3", "series: 1"),
        Edit("max_discharge_current: 100 A, ", ""),
        Edit("to: tracker.pv", "to: regulator.pv"),
        Edit("from: tracker.battery", "from: regulator.battery"),
        less=(
            "controllers.tracker",
            "inverters",
            "wires.inverter-run",
        ),
        more=MORE,
    ),
    faulty=Edit("holds_without_battery: true", "holds_without_battery: false"),
)
def lithium_cut_off_in_sun(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        bank, controller = study.curves.bank_of(array), array.controller
        if not lets_array_through(controller):
            continue
        if bank is None or bank.is_lead:
            continue
        loads = [
            consumer
            for drawn in study.wiring.discharging
            if any(b.name == bank.name for b in drawn.banks)
            for consumer, _ in drawn.consumers
        ]
        volts, stand = array.voc("coldest"), bank.appliances_stand
        if not loads or not exceeds(volts, stand):
            continue
        words, way = one_that_holds(controller)
        yield Observation(
            message=(
                f"if `{bank.name}` disconnects in sun, `{controller.name}` lets up to {volts} "
                f"from the array through to the loads; most bear about {stand}"
            ),
            on=(controller, bank, *loads),
            values=(volts, stand),
            margin=margin_below(volts, stand),
            remedy=Remedy(words, (way,)),
        )
