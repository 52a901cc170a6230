"""Relays that close at a voltage which their banks have always, or never."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.charging.cut_offs import RelayVoltage
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a relay that senses voltage closes above that of a full battery at rest, and below that "
        "to which it is charged"
    ),
}

NEAR = 0.2  # V, by which batteries and relays differ

MORE = """\
switches:
  joiner: {rating: 100 A, voltage: 32 V, dc: true, load_break: true, closes_above: 13.3 V}
fuses:
  start-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  house-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A,
          max_charge_voltage: 14.7 V}
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A,
          max_charge_voltage: 14.7 V}
chargers:
  shore: {kind: shore, max_output_current: 10 A, charge_voltage: 14.4 V}
wires:
  joining-run: {from: start, to: house, cable: batt-8, length: 30 cm, place: cabin,
                inline: [{start-fuse: {from_end: from, distance: 10 cm}}, joiner,
                         {house-fuse: {from_end: to, distance: 10 cm}}]}
  charge-run: {from: shore, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="relay-voltage-odd",
    summary="Voltage at which a relay joins two banks against what they have at rest and charged.",
    covers=("A relay set for another system voltage",),
    level="warning",
    hazard="damage",
    part="switch",
    basis=BASIS,
    explanation="A relay between two banks that senses voltage tells from it whether something "
    "charges them. Set below the voltage of a full battery at rest it stays closed when nothing "
    "charges, and whoever empties the one bank empties the other. Set above what the charger ever "
    "reaches it never closes, and the second bank is not charged at all.",
    fine="Where the relay senses something else besides, such as the engine's signal.",
    since="0.2.0",
    sound=plan(
        "van",
        less=("strings", "switches", "controllers", "batteries.house", "wires.home-run"),
        more=MORE,
    ),
    faulty=Edit("closes_above: 13.3 V", "closes_above: 26.6 V"),
)
def relay_voltage_odd(study: Study) -> Iterator[Observation]:
    for each in study.charging.relay_voltages:
        name, bank = each.relay.name, each.bank
        if each.opens is not None and not exceeds(each.closes, each.opens):
            yield Observation(
                message=f"`{name}` closes above {each.closes} and opens below {each.opens}: "
                "between them it closes and opens without end, and its contacts burn",
                on=(each.relay, bank),
                values=(each.closes, each.opens),
                remedy=f"set `{name}` to open some 0.5 V below where it closes",
            )
        elif each.holds_until_empty:
            assert each.opens is not None
            yield Observation(
                message=f"`{name}` opens only below {each.opens}, and `{bank.name}` rests at "
                f"{bank.resting_voltage} when full: with nothing charging, what draws from one "
                "bank empties the other",
                on=(each.relay, bank),
                values=(each.opens, bank.resting_voltage),
                remedy=f"set `{name}` to open at about {bank.resting_voltage}",
            )
        if each.highest is not None and exceeds(each.closes, each.highest):
            yield Observation(
                message=f"`{name}` closes above {each.closes}, and `{bank.name}` is charged to "
                f"{each.highest}: it never closes",
                on=(each.relay, bank),
                values=(each.closes, each.highest),
                margin=margin_below(each.closes, each.highest),
                remedy=_remedy(each),
            )
        elif each.joins and exceeds(bank.resting_voltage - NEAR, each.closes):
            yield Observation(
                message=(
                    f"`{name}` closes above {each.closes}, and `{bank.name}` rests at "
                    f"{bank.resting_voltage} when full: it closes with nothing charging"
                ),
                on=(each.relay, bank),
                values=(each.closes, bank.resting_voltage),
                remedy=_remedy(each),
            )


def _remedy(each: RelayVoltage) -> str:
    rest, name = each.bank.resting_voltage, each.relay.name
    if each.highest is None:
        return f"set `{name}` a little above {rest}"
    return f"set `{name}` to between {rest} and {each.highest}"
