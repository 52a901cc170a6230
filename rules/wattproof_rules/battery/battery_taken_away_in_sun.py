"""What reaches the loads of a pulse-width controller that loses its battery."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import one_that_holds
from wattproof.rule import Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.charging.without_battery import LeftInSun
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a pulse-width controller is wired straight to its battery, before any switch, and the "
        "array is parted first; appliances of 12 V stand about 16 V"
    ),
}

MORE = """\
switches:
  bank-off: {rating: 100 A, voltage: 48 V, dc: true, poles: 1, load_break: true}
fuses:
  load-fuse: {rating: 15 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  bank-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
busbars:
  bar: {rating: 100 A, voltage: 60 V}
controllers:
  regulator: {kind: pwm, max_input_voltage: 50 V, max_output_current: 20 A, charge_voltage: 14.4 V,
              blocks_reverse: true}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A,
          max_charge_voltage: 14.7 V}
loads:
  radio: {current: 3 A, nominal: 12 V}
wires:
  bar-run: {from: house, to: bar, cable: batt-8, length: 1 m, place: cabin,
            inline: [{bank-fuse: {from_end: from, distance: 10 cm}}, bank-off]}
  radio-run: {from: bar, to: radio, cable: pv-10, length: 3 m, place: cabin,
              inline: [{load-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="battery-taken-away-in-sun",
    summary="Array voltage that loads get when the battery of a pulse-width controller is off.",
    covers=("A battery that is switched off or unplugged in full sun",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A pulse-width controller is a switch between the array and the battery, and it "
    "is the battery that holds the voltage down. Whoever turns the battery off or unplugs it in "
    "daylight leaves all that hangs beside it on the bare array, which gives nearly its "
    "open-circuit voltage: twice what a 12 V radio stands. A fuse that is too small for the sun "
    "does the same, at the brightest hour. A controller that is joined to the "
    "battery's own side of the switch keeps its battery, and the loads lose both together.",
    caution=warning("Electronics are destroyed at once, and what they contain can burst or burn."),
    fine="Where everything that is left on the array bears its open-circuit voltage by its own "
    "label.",
    since="0.2.0",
    sound=plan(
        "van",
        Edit("series: 3", "series: 1"),
        Edit("to: tracker.pv", "to: regulator.pv"),
        Edit("from: tracker.battery", "from: regulator.battery"),
        less=("controllers.tracker", "batteries.house"),
        more=MORE,
    ),
    faulty=Edit("to: house, cable: batt-8", "to: bar, cable: batt-8"),
)
def battery_taken_away_in_sun(study: Study) -> Iterator[Observation]:
    for left in study.charging.left_in_sun:
        volts, stand = left.array.voc("coldest"), left.bank.appliances_stand
        if not exceeds(volts, stand):
            continue
        names = quoted(consumer.name for consumer in left.consumers)
        controller, own = str(left.array.controller.name), left.by.name == left.bank.name
        yield Observation(
            message=(
                f"{_how(left, own)} `{controller}` lets up to {volts} from the array through to "
                f"{names}; most appliances bear about {stand}"
            ),
            on=(left.by, left.array.controller, *left.consumers),
            values=(volts, stand) if left.opens_at is None else (volts, stand, left.opens_at),
            margin=margin_below(volts, stand),
            remedy=_remedy(left, own),
        )


def _how(left: LeftInSun, own: bool) -> str:
    """What takes the battery away, in words that what happens then goes on from."""
    if own:
        return f"with `{left.bank.name}` unplugged in sun,"
    if left.opens_at is None:
        return f"with `{left.bank.name}` cut off by `{left.by.name}` in sun,"
    gives = left.array.isc("standard")
    return f"`{left.by.name}` ({left.opens_at}) opens at the {gives} that full sun gives, and then"


def _remedy(left: LeftInSun, own: bool) -> Remedy:
    other, way = one_that_holds(left.array.controller)
    if own:
        return Remedy(other, (way,))
    if left.opens_at is not None:
        return Remedy(f"give `{left.by.name}` the rating that it needs; or {other}", (way,))
    straight = (
        f"lead `{left.array.controller.name}.battery` to the battery's side of `{left.by.name}`"
    )
    return Remedy(f"{other}; or {straight}, through a fuse at the battery", (way,))
