"""What opens while an engine is cranked: a fuse in the cable, or a battery's management."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.assumptions.ratings import FUSE_BEARS, device_rating
from wattproof.study.charging.cranking import Cranking
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a fuse bears twice its rating for some seconds, and the management of a lithium battery "
        "about twice its lasting limit, if its maker says nothing else; a lead battery gives some "
        "five to fifteen times its capacity in an hour to a starter, and none twenty times"
    ),
}


@record
class Limits:
    """What a project may set."""

    fuse: float = option(FUSE_BEARS, "How many times its rating a fuse bears for a start.")
    lead: float = option(20.0, "How many times its capacity in an hour lead gives for a start.")
    pack: float = option(2.0, "How many times its lasting limit a lithium battery gives for one.")


MORE = """\
fuses:
  crank-fuse: {rating: 150 A, voltage: 58 V, style: stud-mounted, interrupt: 10 kA, dc: true}
"""


@rule(
    id="cranking-cut-short",
    summary="A starter's current against what opens on its way.",
    covers=("An engine that cannot be started",),
    level="warning",
    hazard="damage",
    part="overcurrent",
    basis=BASIS,
    explanation="A starter draws hundreds of amperes for some seconds. A fuse bears more than its "
    "rating for so long, some twice as much, and the management of a lithium battery likewise; "
    "beyond that they open, and the engine stands still. At sea or in the cold that is a danger by "
    "itself, and when a battery cuts off, lights and instruments go out with it.",
    caution=notice("When the battery opens under load, everything that hangs on it stops at once."),
    fine="Where the maker of the fuse or of the battery states that it bears the starter's current "
    "for half a minute.",
    since="0.3.0",
    sound=plan(
        "van-starter",
        Edit(
            "enclosed: true}",
            "enclosed: true, inline: [{crank-fuse: {from_end: from, distance: 0 cm}}]}",
        ),
        more=MORE,
    ),
    faulty=Edit("crank-fuse: {rating: 150 A", "crank-fuse: {rating: 80 A"),
    options=Limits,
)
def cranking_cut_short(study: Study, limits: Limits) -> Iterator[Observation]:
    for each in study.charging.cranking:
        for passage in each.devices:
            rating = device_rating(passage)
            factor = tabled(limits.fuse, "", "kstart", "for a start", "common practice")
            words = f"what {passage.name} bears for a start"
            bears = (rating * factor).named(f"Istart({passage.name})", words, "A")
            if exceeds(each.current, bears):
                yield Observation(
                    message=f"`{each.starter.name}` draws {each.current} through "
                    f"`{passage.name}` ({rating}), which opens above some {bears} within seconds",
                    on=(passage.device, each.starter),
                    values=(each.current, rating, bears),
                    margin=margin_below(each.current, bears),
                    remedy=f"use one of at least {math.ceil(each.current.number / limits.fuse)} A "
                    "that still protects the cable; the cable of a starter may also be without "
                    "one, where it is short and sheathed all along",
                )
        if each.bank.is_lead and each.nearest:
            yield from _beyond_lead(each, limits)
        limit = each.bank.battery.max_discharge_current
        if each.bank.is_lead or limit is None:
            continue
        name = each.bank.name
        one = declared(limit, f"Imax({name})", f"discharge limit of one battery of {name}")
        lasting = (float(each.bank.in_parallel) * one).named(
            f"Ilasting({name})", f"discharge limit of {name}", "A"
        )
        factor = tabled(limits.pack, "", "kstart", "for a start", "common practice")
        gives = (lasting * factor).named(f"Istart({name})", f"what {name} gives for a start", "A")
        if exceeds(each.current, gives):
            yield Observation(
                message=f"`{each.starter.name}` draws {each.current} from `{name}`, whose "
                f"management lets out {lasting} for long and some {gives} for a start",
                on=(each.bank, each.starter),
                values=(each.current, lasting, gives),
                margin=margin_below(each.current, gives),
                remedy=f"start the engine from a battery that is made for it; or from one that "
                f"gives {each.current} for half a minute, as its maker states",
            )


def _beyond_lead(each: Cranking, limits: Limits) -> Iterator[Observation]:
    """A starter on lead that no battery of that capacity turns: one of the two is misread."""
    rate = tabled(limits.lead / 3600.0, "1/s", "kstart", "for a start, in lead", "common practice")
    name = each.bank.name
    gives = (rate * each.bank.capacity).named(f"Istart({name})", f"what {name} gives", "A")
    if exceeds(each.current, gives):
        yield Observation(
            message=f"`{each.starter.name}` draws {each.current} from `{name}` of "
            f"{each.bank.capacity}; no lead battery of that capacity gives more than {gives}",
            on=(each.bank, each.starter),
            values=(each.current, gives),
            margin=margin_below(each.current, gives),
            remedy=f"read the capacity of `{name}` and the current of `{each.starter.name}` again, "
            "with their decimal points; or start the engine from a larger battery",
        )
