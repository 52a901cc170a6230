"""Controllers and chargers whose output leads to no battery."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a charge controller is joined to its battery before anything else, and never works "
        "without it"
    ),
}

MORE = """\
strings:
  second-string: {module: rigid-100, series: 2, mounting: roof-gap}
switches:
  second-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
controllers:
  second: {kind: mppt, max_input_voltage: 75 V, max_output_current: 10 A,
           charge_voltage: 14.2 V, blocks_reverse: true}
loads:
  lamp: {current: 2 A}
wires:
  lamp-run: {from: tracker.load, to: lamp, cable: batt-8, length: 1 m, place: cabin}
  spare-run: {from: second.battery, to: tracker.battery, cable: batt-8, length: 1 m, place: cabin}
  second-run: {from: second-string, to: second.pv, cable: pv-10, length: 4 m,
               place: [roof, cabin], inline: [second-off]}
"""


@rule(
    id="controller-battery-missing",
    summary="A battery at the output of every charge controller and charger.",
    covers=("A controller without its battery", "An alternator without its battery"),
    level="error",
    hazard="damage",
    part="controller",
    basis=BASIS,
    explanation="A charge controller takes its voltage from the battery: it holds what it gives "
    "to what the battery needs. Without one it has nothing to hold on to. It does not start, or "
    "its output jumps to the voltage of the array, and what hangs on it is destroyed. "
    "An alternator that runs without a battery destroys its own diodes, and a wind turbine races.",
    caution=notice("Loads on a controller without a battery can get the voltage of the array."),
    fine="Where the maker says that this very controller runs without a battery, and what it "
    "feeds bears that.",
    since="0.2.0",
    sound=plan(
        "van-two-modules",
        Edit("max_output_current: 20 A", "max_output_current: 10 A, load_current: 10 A"),
        more=MORE,
    ),
    faulty=Edit(
        "from: tracker.load, to: lamp, cable: batt-8, length: 1 m, place: cabin}\n"
        "  spare-run: {from: second.battery, to: tracker.battery",
        "from: second.battery, to: lamp",
    ),
)
def controller_battery_missing(study: Study) -> Iterator[Observation]:
    for stranded in study.circuit.stranded:
        source, isolator = stranded.source, stranded.isolator
        why = f": nothing passes `{isolator}` from an output to its input" if isolator else ""
        yield Observation(
            message=f"the output of `{source.name}` leads to no battery{why}",
            on=(source,),
            remedy=f"lead `{stranded.output}` to the input of `{isolator}`, and batteries to its "
            "outputs"
            if isolator
            else f"lead `{stranded.output}` to the battery that it is to charge, through a fuse at "
            "the battery",
            level="warning" if source.kind == "shore" else None,
        )
