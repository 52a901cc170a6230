"""Loads that endanger when they stop, behind switches that stop them."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11 (11.6.1.2.1)",
        "July 2025",
        "what must work while nobody is aboard, such as a bilge pump, is connected before the "
        "battery switch",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297 (battery switch)",
        "2020",
        "bilge pumps and alarms may be connected before the battery switch, each with a fuse",
        verified=False,
    ),
    "common practice": practice(
        "what must not stop has a way to the battery that no common switch and no low-voltage "
        "switch opens"
    ),
}

UNDER_WAY = (
    *("nav", "light", "running", "steaming", "masthead", "tricolo"),
    *("instrument", "plotter", "radar", "radio", "vhf", "gps"),
    *("sounder", "autopilot", "steering", "compass", "horn", "wiper", "blower"),
)
"""What a name says that somebody is aboard while it works."""

MORE = """\
setting: boat
code: abyc-e11
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
switches:
  main-off: {rating: 100 A, voltage: 32 V, dc: true, poles: 1, load_break: true}
fuses:
  pump-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  lamp-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  main-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
busbars:
  bar: {rating: 100 A, voltage: 60 V}
loads:
  bilge-pump: {current: 4 A, critical: true}
  lamp: {current: 2 A}
wires:
  main-run: {from: house, to: bar, cable: batt-8, length: 1 m, place: cabin,
             inline: [{main-fuse: {from_end: from, distance: 10 cm}}, main-off]}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 1 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 0 cm}}]}
  pump-run: {from: house, to: bilge-pump, cable: batt-8, length: 2 m, place: cabin,
             inline: [{pump-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="critical-load-can-be-cut-off",
    summary="Switches that take the supply from a load that must not stop.",
    covers=("A switch that stops a bilge pump",),
    level="warning",
    hazard="damage",
    part="switch",
    basis=BASIS,
    explanation="A bilge pump works while nobody is aboard, an alarm while everybody sleeps. The "
    "main switch is turned when people leave, and a switch that saves the battery "
    "opens just when it has run longest. Such a load gets its own fused way to the "
    "battery. A switch that is its own and nothing else's is left off by mistake only.",
    caution=warning(
        "A boat whose bilge pump is off sinks at its mooring; an alarm that is off "
        "warns of nothing."
    ),
    fine="Where the switch is the load's own, or somebody is always there while it is open.",
    since="0.2.0",
    sound=plan(
        "van-two-modules", Edit("max_charge_current: 50 A", "max_charge_current: 100 A"), more=MORE
    ),
    faulty=Edit("from: house, to: bilge-pump,", "from: bar, to: bilge-pump,"),
)
def critical_load_can_be_cut_off(study: Study) -> Iterator[Observation]:
    for each in study.charging.cut_offs:
        by_itself = each.by_itself
        switch, load = each.switch.name, each.load.name
        if each.alone and not by_itself:
            yield Observation(
                message=f"`{load}` must not stop, and `{switch}`, its own switch, can be left off",
                on=(each.load, each.switch),
                remedy=f"guard `{switch}` against being turned by accident, and mark it: on "
                "whenever nobody is there; or let a float or the like turn it on all the same",
                level="note",
            )
            continue
        when = "opens by itself" if by_itself else "is turned off"
        yield Observation(
            message=f"`{load}` must not stop, and stops when `{switch}` {when}",
            on=(each.load, each.switch),
            remedy=f"lead `{load}` to the battery before `{switch}`, through a fuse of its own at "
            "the battery",
            level=None
            if by_itself or _works_alone(f"{load} {each.load.note or ''}", study)
            else "note",
        )
    for load, controller in study.charging.critical_on_load_terminals:
        yield Observation(
            message=f"`{load.name}` must not stop, and the load terminals of `{controller.name}` "
            "switch it off when the battery is low",
            on=(load, controller),
            remedy=f"lead `{load.name}` to the battery, through a fuse of its own at the battery",
        )


def _works_alone(called: str, study: Study) -> bool:
    """True for what may have to work on a boat where nobody is; lights and instruments do not.

    Told by its name: the plan says that it matters, and not when.
    """
    words = called.casefold()
    return study.plan.setting == "boat" and not any(word in words for word in UNDER_WAY)
