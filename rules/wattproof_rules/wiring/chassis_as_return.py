"""Currents that go back through the body of a vehicle, the hull of a boat or the earth."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, option, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.body_returns import BODY_CARRIES, BodyReturn
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 552.10 for trailers; 250.4",
        "2014-2023",
        "in trailers the frame may serve as a return where the joints are made for it; in "
        "buildings the earth and building metal carry no current in use",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (direct-current returns); 33 CFR 183.415",
        "2003 and later",
        "no hull, structure or bonding conductor is a return; each circuit has two conductors",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-5-54 543; IEC 60364-7-721",
        "2011; 2017",
        "structures and earth conductors carry no current in use",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297 (two-wire systems)",
        "2022",
        "the system has two insulated conductors; hull and bonding are no return",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3000, earthing",
        "2018",
        "structures and earth conductors carry no current in use",
        verified=False,
    ),
}

MORE = """\
fuses:
  lamp-fuse: {rating: 15 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
loads:
  lamp: {current: 4 A, nominal: 12 V}
wires:
  inverter-positive: {from: main-bar.positive, to: mains.positive, cable: batt-1-0, length: 0.6 m,
                      place: cabin}
  inverter-negative: {from: mains.negative, to: main-bar.negative, cable: batt-1-0, length: 0.6 m,
                      place: cabin}
  ground: {from: main-bar.negative, to: chassis, cable: batt-1-0, length: 0.5 m, place: cabin}
  lamp-positive: {from: main-bar.positive, to: lamp.positive, cable: batt-8, length: 2 m,
                  place: cabin, inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
  lamp-negative: {from: lamp.negative, to: chassis, cable: batt-8, length: 0.3 m, place: cabin}
"""


@record
class Limits:
    """What the body of a vehicle may carry back."""

    vehicle: float = option(BODY_CARRIES, "largest current back through a vehicle's body (A)")


@rule(
    id="chassis-as-return",
    summary="Lasting currents that return through chassis, water or earth.",
    covers=("Large currents through the body",),
    level="warning",
    hazard="fire",
    part="bonding",
    basis=BASIS,
    explanation="A body is sheets that are spot-welded, painted and sealed, and a large current "
    "crosses their seams wherever it finds a way: through hinges, brake lines, shields of cables. "
    "Each bad contact on that way is a heater that no fuse sees, and the greased ball of a "
    "hitch is the worst of all. In a boat a current through hull, "
    "shaft or water eats the metal away within weeks, and in a hut the earth is no conductor.",
    fine="For what the maker of the vehicle has wired that way and you leave as it is. What you "
    "add gets its own negative.",
    since="0.1.0",
    sound=plan("van-in-sun-inverter", less=("wires.inverter-run",), more=MORE),
    faulty=Edit(
        "{from: mains.negative, to: main-bar.negative,", "{from: mains.negative, to: chassis,"
    ),
    options=Limits,
)
def chassis_as_return(study: Study, limits: Limits) -> Iterator[Observation]:
    limited = not study.codes.battery.forbids("body-return", study.plan.setting)
    for back in study.wiring.body_returns:
        wire, current = back.wire, back.current
        over = exceeds(current, limits.vehicle)
        if limited and not over and not back.by_hitch:
            continue
        said = f"`{wire.name}` returns {current} through the {back.through}"
        if limited and over:
            said += f"; {limits.vehicle:g} A is the most that should go that way"
        elif back.by_hitch:
            said += " and the hitch of the trailer, since no conductor in its plug leads back"
        yield Observation(
            message=said,
            on=(wire,),
            values=(current,),
            margin=margin_below(current, limits.vehicle) if limited and over else None,
            level=None if limited else "error",
            remedy=_remedy(back, study),
        )


def _remedy(back: BodyReturn, study: Study) -> Remedy:
    wire, through = back.wire, back.through
    if back.by_hitch:
        return Remedy(
            f"lead `{wire.name}` back to the battery over a pin of the plug, as large as the one "
            "that feeds it"
        )
    if back.by_bond:
        return Remedy(
            f"lead `{back.by_bond}.negative` back to the battery by a conductor of its own, as "
            "large as the positive"
        )
    if (array := study.wiring.array_of(wire)) is not None:
        controller = array.controller.name
        return Remedy(f"lead the negative to `{controller}.pv` by a conductor of its own instead")
    words = f"lead `{wire.name}` back to the battery instead, as large as the positive"
    end = "to" if wire.wire.to == through else "from"
    to_bank = tuple(Change(wire.name, end, f"{bank.name}.negative") for bank in study.battery.banks)
    return Remedy(words, (to_bank if len(to_bank) == 1 else (),))
