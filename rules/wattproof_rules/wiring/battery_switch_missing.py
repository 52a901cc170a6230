"""Whether anything that a hand can open stands between a bank and what it feeds."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, option, record, rule, warning
from wattproof.study import Study
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11 (battery switch)",
        "2003 and later",
        "a battery switch is in the positive of each bank with a cranking rating above 800 A, "
        "within reach and near the bank; bilge pumps and alarms may go around it",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297 (battery-disconnect switch)",
        "2020",
        "a battery-disconnect switch is in the positive of each bank, within reach and near the "
        "bank; bilge pumps and alarms may go around it",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3001.2",
        "2022",
        "each battery can be isolated by a switch or breaker that is within reach",
        verified=False,
    ),
    "nec-2023": Clause(
        "NEC 480.7(A), 706.15(A)",
        "2023",
        "a disconnecting means is provided for the ungrounded conductors of a stationary battery "
        "above 60 V, and of every energy storage system",
        verified=False,
    ),
    "common practice": Clause(
        "makers of inverters and batteries",
        "as supplied",
        "a switch that may be opened under load stands between a bank and large consumers, within "
        "reach",
        verified=False,
    ),
}

MORE = """\
setting: boat
code: abyc-e11
datasheets:
  cables:
    wire-6: {size: 6 AWG, kind: marine, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
switches:
  main-off: {rating: 100 A, voltage: 150 V, dc: true, poles: 1, load_break: true}
fuses:
  winch-fuse: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
loads:
  winch: {current: 30 A}
wires:
  winch-run: {from: house, to: winch, cable: wire-6, length: 1 m, place: cabin,
              inline: [{winch-fuse: {from_end: from, distance: 10 cm}}, main-off]}
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
"""


@record
class Limits:
    """What a project may set."""

    boat: float = option(10.0, "Current (A) of all consumers of a bank on a boat.")
    elsewhere: float = option(120.0, "The same in a vehicle or a cabin.")


@rule(
    id="battery-switch-missing",
    summary="Whether a switch, a breaker or a plug parts a bank from its consumers.",
    covers=("No switch at all for a bank",),
    level="note",
    hazard="fire",
    part="switch",
    basis=BASIS,
    explanation="When something smokes, the first thing to do is to take the battery away, and "
    "that within seconds and without a spanner. A fuse opens at a short and not at a load that "
    "overheats; a lug that is unscrewed under load draws an arc. The same switch keeps a parked "
    "installation from being emptied, and lets whoever works on it do so on a dead one.",
    caution=warning("Without a switch a fire that the battery feeds goes on until it is empty."),
    fine="With a small bank whose fuse can be pulled by hand without a tool and without load, "
    "within reach.",
    settings=("vehicle", "boat", "cabin"),
    elsewhere="a set that is carried about is parted at its plugs",
    since="0.2.0",
    sound=plan("van-two-modules", less=("wires.home-run",), more=MORE),
    faulty=Edit(
        """, main-off]}
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
""",
        """]}
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off, main-off]}
""",
    ),
    options=Limits,
)
def battery_switch_missing(study: Study, limits: Limits) -> Iterator[Observation]:
    setting = study.plan.setting
    least = limits.boat if setting == "boat" else limits.elsewhere
    for each in study.charging.unswitched:
        if each.current.number < least:
            continue
        names = quoted(consumer.name for consumer in each.consumers)
        yield Observation(
            message=(
                f"no switch disconnects `{each.bank.name}` from {names}: {each.current} in all"
            ),
            on=(each.bank, *each.consumers),
            values=(each.current,),
            remedy=f"put a switch for at least {each.current} of direct current, which may be "
            f"opened under load, into the positive of `{each.bank.name}`, within reach",
            absent="switches",
        )
