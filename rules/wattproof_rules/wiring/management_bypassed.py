"""What is led to a battery past the relay that its management opens."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 62619",
        "2022",
        "the management system keeps each cell within its ranges of voltage, current and "
        "temperature",
        verified=True,
    ),
    "common practice": practice(
        "what charges or draws from cells whose management opens a relay is on the far side of "
        "that relay"
    ),
}

MORE = """\
switches:
  contactor: {rating: 100 A, voltage: 32 V, dc: true, poles: 1, load_break: true,
              opened_by: house}
fuses:
  bank-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  shore-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
chargers:
  shore: {kind: shore, max_output_current: 10 A, charge_voltage: 14.2 V}
busbars:
  bar: {rating: 100 A, voltage: 60 V}
wires:
  bank-run: {from: house, to: bar, cable: batt-8, length: 1 m, place: cabin,
             inline: [{bank-fuse: {from_end: from, distance: 10 cm}}, contactor]}
  shore-run: {from: shore, to: bar, cable: batt-8, length: 1 m, place: cabin,
              inline: [{shore-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="management-bypassed",
    summary="Sources and consumers on a battery past the relay that its management opens.",
    covers=(
        "A charger past the relay of a lithium battery",
        "Bare cells that nothing parts from what charges them",
    ),
    level="warning",
    hazard="fire",
    part="switch",
    basis=BASIS,
    explanation="Cells with a relay of their own have one guard: when one of them is too full, too "
    "empty, too hot or too cold, their management opens the relay. What is led to the posts "
    "before it goes on regardless. A charger there overcharges the one cell that has run ahead of "
    "the others, though the voltage of the whole looks right; a consumer there draws them down "
    "past the point of no return.",
    caution=warning("A lithium cell that is overcharged vents hot gas that burns."),
    fine="Where the management stops that charger by a signal of its own, or the packs have "
    "switches of their own inside and the relay is there for the rest.",
    since="0.5.0",
    sound=plan(
        "van-two-modules",
        Edit("from: tracker.battery, to: house,", "from: tracker.battery, to: bar,"),
        more=MORE,
    ),
    faulty=Edit("from: shore, to: bar,", "from: shore, to: house,"),
)
def management_bypassed(study: Study) -> Iterator[Observation]:
    for cells, sources in study.charging.unmanaged:
        names = quoted(source.name for source in sources)
        yield Observation(
            message=f"nothing parts the bare cells of `{cells.name}` from {names} when one of them "
            "is full",
            on=(cells, *sources),
            remedy=f"lead what charges and draws over a relay that their management opens, and "
            f"write `opened_by: {cells.name}` with it",
            cause="unmanaged",
        )
    for each in study.charging.past_management:
        name, bank = each.component.name, each.bank.name
        relays = quoted(switch.name for switch in each.switches)
        what = "charges" if each.charges else "draws from"
        yield Observation(
            message=f"`{name}` {what} `{bank}` past {relays}: its management cannot stop those "
            f"{each.current}",
            on=(each.component, each.bank, *each.switches),
            values=(each.current,),
            remedy=f"lead `{name}` to the far side of {relays}, through a fuse of its own there; "
            "or let the management stop it by a signal",
            level=None if each.charges else "note",
        )
