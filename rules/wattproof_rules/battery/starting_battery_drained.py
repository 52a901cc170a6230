"""What goes on drawing from a battery that starts an engine."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import quoted
from wattproof.working import tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the battery that starts an engine feeds nothing that runs while the engine stands; half "
        "of it is kept for the start"
    ),
}

KEPT = 0.5  # of its capacity, for the start

MORE = """\
fuses:
  lamp-fuse: {rating: 15 A, voltage: 58 V, interrupt: 10 kA, style: stud-mounted, dc: true}
loads:
  lamp: {current: 1 A, nominal: 12 V}
wires:
  lamp-run: {from: start, to: lamp, cable: flex-16, length: 2 m, place: bay,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""


@record
class Limits:
    """What a project may set."""

    night: float = option(12.0, "Hours that the engine stands, with everything on, and starts.")


@rule(
    id="starting-battery-drained",
    summary="What draws from a starting battery for a night against what a start needs.",
    covers=("A starting battery that is flat in the morning",),
    level="note",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A starting battery is made to give much for seconds, and little else. What "
    "hangs on it and runs on at anchor or at the camp takes from it until the engine starts no "
    "more, which at sea or in frost is a danger by itself; and lead that is emptied often lasts "
    "for months instead of years. What is used with the engine off belongs on the other bank.",
    fine="Where it runs with the engine alone, such as the instruments of the engine, or is turned "
    "off by its key.",
    since="0.7.0",
    sound=plan("alternator", more=MORE),
    faulty=Edit("lamp: {current: 1 A", "lamp: {current: 6 A"),
    options=Limits,
)
def starting_battery_drained(study: Study, limits: Limits) -> Iterator[Observation]:
    share = tabled(KEPT, "", "kstart", "share of it kept for the start", "common practice")
    night = tabled(limits.night * 3600.0, "s", "tnight", "a night", "common practice")
    for each in study.charging.starting_drawn:
        lasts = (share * each.capacity / each.current).named("tlast", "how long that lasts", "s")
        if not exceeds(night, lasts):
            continue
        banks = quoted(bank.name for bank in each.banks)
        consumers = quoted(str(consumer.name) for consumer in each.consumers)
        other = quoted([each.others[0].name]) if each.others else "a battery of its own"
        yield Observation(
            message=f"{consumers} on {banks}, which starts the engine, draws {each.current}: half "
            f"of it is gone in {lasts}",
            on=(*each.banks, *each.consumers),
            values=(each.current, lasts),
            margin=margin_below(night, lasts),
            remedy=f"lead to {other} what runs while the engine stands; or put a switch on the way "
            "that opens by itself before the battery is empty, and write its `opens_below`",
        )
