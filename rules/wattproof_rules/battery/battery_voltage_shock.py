"""Voltage of a bank against what may be touched, and what kills."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, option, record, rule, warning
from wattproof.study import Study
from wattproof.study.limits import DEADLY, exceeds, margin_below
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 110.27, 480.10",
        "2023",
        "live parts of batteries and what is joined to them are guarded above 60 V of direct "
        "current",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-4-41 414.4.5; IEC 62485-2 4",
        "2005; 2010",
        "live parts need not be guarded up to 60 V of direct current in dry places; above 120 V "
        "protection against touch is needed in any case",
        verified=False,
    ),
    "common practice": Clause(
        "IEC TS 60479-1",
        "2005",
        "direct current through a body is dangerous from some 120 V on, where it is wet from less",
        verified=False,
    ),
}


MORE = """\
batteries:
  drive: {chemistry: agm, nominal: 12 V, capacity: 60 Ah, arrangement: 4s,
          max_charge_voltage: 14.4 V, short_circuit_current: 1 kA}
fuses:
  drive-fuse: {rating: 15 A, voltage: 1000 V, style: gpv, interrupt: 20 kA, dc: true}
loads:
  motor: {current: 5 A}
wires:
  drive-run: {from: drive, to: motor, cable: batt-8, length: 1 m, place: cabin,
              inline: [{drive-fuse: {from_end: from, distance: 5 cm}}]}
"""


@record
class Limits:
    """What a project may set."""

    guarded: float = option(60.0, "Voltage (V) above which all live parts are covered.")
    deadly: float = option(DEADLY, "Voltage (V) from which a touch can kill.")


@rule(
    id="battery-voltage-shock",
    summary="Voltage of a bank against what may be touched, and what kills.",
    covers=("A bank whose voltage kills",),
    level="warning",
    hazard="shock",
    part="battery",
    basis=BASIS,
    explanation="Batteries of 12, 24 or 48 V do not hurt at a touch with dry hands. In a long row "
    "the voltages add up, and a bank cannot be switched off: its posts stay live. "
    "From some 120 V on direct current through a body cramps the hand around what it holds and "
    "stops the heart, and the arc of a slipping spanner does not go out.",
    caution=warning(
        "Touching both ends of the row, or one and the ground, can kill. Part the row in the "
        "middle before any work on it, cover each post, and use insulated tools."
    ),
    fine="Where posts, links and bars are covered and only those who are trained for it come near.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("arrangement: 4s,", "arrangement: 10s,"),
    options=Limits,
)
def battery_voltage_shock(study: Study, limits: Limits) -> Iterator[Observation]:
    for bank in study.battery.side.wholes:
        volts = bank.charge_voltage_limit
        if not exceeds(volts, limits.guarded):
            continue
        deadly = exceeds(volts, limits.deadly)
        most = limits.deadly if deadly else limits.guarded
        says = "a touch can kill" if deadly else "no live part may be within reach"
        names = quoted(part.name for part in bank.parts)
        yield Observation(
            message=(
                f"{names} {'reaches' if len(bank.parts) == 1 else 'together reach'} {volts} on "
                f"charge; above {most:g} V {says}"
            ),
            on=bank.parts,
            values=(volts,),
            margin=margin_below(volts, most),
            remedy="use a bank of lower voltage; else cover every post, link and bar, put a switch "
            "or a link that can be drawn in the middle of the row, and have it built by whoever "
            "may work on such a voltage",
            level=None if deadly else "note",
            deadly=deadly,
        )
