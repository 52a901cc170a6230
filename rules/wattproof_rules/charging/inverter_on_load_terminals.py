"""An inverter that hangs on the load terminals of a controller."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Located, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.discharging import LoadPort
from wattproof.working import Value, declared
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "an inverter is wired to the battery or its busbar, with a fuse; makers of controllers "
        "forbid inverters on their load terminals"
    ),
}

MORE = """\
fuses:
  inverter-fuse: {rating: 25 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A, load_current: 15 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
wires:
  inverter-run: {from: bar, to: mains, cable: batt-8, length: 60 cm, place: cabin,
                 inline: [{inverter-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="inverter-on-load-terminals",
    summary="Inverters on the load terminals of a controller.",
    covers=("An inverter on load terminals",),
    level="error",
    hazard="fire",
    part="controller",
    basis=BASIS,
    explanation="The load terminals of a controller are a small electronic switch, made for lamps "
    "and pumps of a few amperes. An inverter draws ten times that, and at the moment it is "
    "connected its capacitors draw hundreds of amperes for an instant, which welds or bursts "
    "the switch even where its steady current would fit. Its place is at the battery, behind a "
    "fuse of its own.",
    caution=warning(
        "A controller that is overloaded this way burns inside; keep it off anything that can "
        "catch fire."
    ),
    since="0.1.0",
    sound=plan("van-inverter", Edit("power: 800 W", "power: 150 W"), more=MORE),
    faulty=Edit("inverter-run: {from: bar,", "inverter-run: {from: tracker.load,"),
)
def inverter_on_load_terminals(study: Study) -> Iterator[Observation]:
    for port in study.wiring.load_ports:
        for inverter, amps in port.inverters:
            yield _found(port, inverter, amps)


def _found(port: LoadPort, inverter: Located, amps: Value) -> Observation:
    controller = port.controller
    rating = None
    if controller.load_current is not None:
        words = f"rated current of the load terminals of {controller.name}"
        rating = declared(controller.load_current, f"Iload({controller.name})", words)
    over = rating is not None and exceeds(amps, rating)
    stated = f", rated {rating}" if rating is not None else ""
    return Observation(
        message=f"`{inverter.name}` draws {amps} from the load terminals of `{controller.name}`"
        f"{stated}, and no inverter belongs there",
        on=(inverter, controller),
        values=(amps,) if rating is None else (amps, rating),
        margin=margin_below(amps, rating) if over and rating is not None else None,
        remedy=f"wire `{inverter.name}` to the battery or its busbar, through a fuse of its own",
    )
