"""Switches that a starter's current passes, against what they bear for seconds."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Observation,
    Remedy,
    option,
    practice,
    record,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11 (11.7)",
        "2003 and later",
        "the rating for short times of a battery switch is at least the largest cranking current "
        "that passes it",
        verified=False,
    ),
    "common practice": practice(
        "battery switches bear some three times their lasting rating while an engine is started"
    ),
}


@record
class Limits:
    """What a project may set."""

    times: float = option(3.0, "How many times its lasting rating a switch bears for a start.")


MORE = """\
switches:
  start-off: {rating: 200 A, voltage: 32 V, dc: true, poles: 1, load_break: true}
"""


@rule(
    id="cranking-switch-small",
    summary="Rating of switches that a starter's current passes.",
    covers=("A battery switch that the starter's current welds",),
    level="warning",
    hazard="fire",
    part="switch",
    basis=BASIS,
    explanation="While an engine is started its whole current passes the battery switch. For some "
    "seconds the contacts bear more than for hours, some three times as much, and no further: "
    "then they weld together or burn. A switch that is welded cannot be turned off, and that is "
    "found out when something burns.",
    caution=warning("A switch that has welded shut no longer parts the battery in a fire."),
    fine="Where the maker of the switch states its rating for cranking, and that is not below "
    "the starter's current: write that down.",
    since="0.2.0",
    sound=plan(
        "van-starter", Edit("enclosed: true}", "enclosed: true, inline: [start-off]}"), more=MORE
    ),
    faulty=Edit("start-off: {rating: 200 A", "start-off: {rating: 50 A"),
    options=Limits,
)
def cranking_switch_small(study: Study, limits: Limits) -> Iterator[Observation]:
    for each in study.charging.cranking:
        for switch in each.switches:
            words = f"lasting rating of {switch.name}"
            lasting = declared(switch.rating, f"In({switch.name})", words)
            factor = tabled(limits.times, "", "kstart", "for a start", "common practice")
            bears = (lasting * factor).named(
                f"Istart({switch.name})", f"what {switch.name} bears for a start", "A"
            )
            if not exceeds(each.current, bears):
                continue
            amps = f"{math.ceil(each.current.number / limits.times)} A"
            yield Observation(
                message=f"`{each.starter.name}` draws {each.current} through `{switch.name}`, "
                f"which is rated {lasting} and bears some {bears} for a start",
                on=(switch, each.starter),
                values=(each.current, lasting, bears),
                margin=margin_below(each.current, bears),
                remedy=Remedy(
                    f"use a switch whose rating for starting is at least {each.current}; usually "
                    f"that is one of {amps} or more",
                    ((Change(str(switch.name), "rating", amps),),),
                ),
            )
