"""Sources that charge a battery through the very switch that opens when it is empty."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a switch that saves a battery stands before what draws from it; what charges it is led "
        "to the battery past that switch"
    ),
}

MORE = """\
switches:
  low-off: {rating: 100 A, voltage: 32 V, dc: true, poles: 1, load_break: true,
            opens_below: 11.8 V}
fuses:
  bar-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  lamp-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
busbars:
  bar: {rating: 100 A, voltage: 60 V}
loads:
  lamp: {current: 2 A}
wires:
  bar-run: {from: house, to: bar, cable: batt-8, length: 1 m, place: cabin,
            inline: [{bar-fuse: {from_end: from, distance: 10 cm}}, low-off]}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 1 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="low-voltage-switch-stops-charge",
    summary="Ways of sources to a battery, through the switch that opens when it is empty.",
    covers=("A battery that its own low-voltage switch keeps empty",),
    level="warning",
    hazard="damage",
    part="switch",
    basis=BASIS,
    explanation="A low-voltage switch opens to save an empty battery from its loads. A charger "
    "behind it is cut off in the same moment, just when the battery needs it most: the switch "
    "waits for a voltage that only the charger could bring. An empty battery is harmed within "
    "days, and a tracker in the sun has then lost what holds its output down.",
    caution=notice("A battery that stays empty is harmed for good; in frost, lead bursts."),
    fine="Where the switch senses the side of the charger too, and closes as soon as that charges.",
    since="0.5.0",
    sound=plan(
        "van-two-modules", Edit("max_charge_current: 50 A", "max_charge_current: 100 A"), more=MORE
    ),
    faulty=Edit("from: tracker.battery, to: house,", "from: tracker.battery, to: bar,"),
)
def low_voltage_switch_stops_charge(study: Study) -> Iterator[Observation]:
    for each in study.charging.never_filled:
        source, switch = each.source.name, each.switch.name
        banks = quoted(bank.name for bank in each.banks)
        then = "then that charges it no more" if each.others else "then nothing fills it again"
        yield Observation(
            message=f"`{switch}` opens when {banks} is empty, below {each.opens}, and `{source}` "
            f"charges through it: {then}",
            on=(each.switch, each.source, *each.banks),
            values=(each.opens,),
            remedy=f"lead `{source}` to the battery's side of `{switch}`, through a fuse of its "
            "own at the battery",
            level="note" if each.others else None,
        )
