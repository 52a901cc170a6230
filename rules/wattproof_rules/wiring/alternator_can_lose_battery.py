"""Whether an alternator can lose its battery while it runs."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.study.charging.cut_offs import LostBattery
from wattproof.study.limits import margin_below
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "nothing opens between a running alternator and its battery, and a lithium bank on one has "
        "a lead battery beside it, or a surge arrester"
    ),
}

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
switches:
  start-off: {rating: 250 A, voltage: 32 V, dc: true, poles: 1, load_break: true}
fuses:
  alternator-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah, max_charge_voltage: 14.7 V}
chargers:
  alternator: {kind: alternator, max_output_current: 90 A, charge_voltage: 14.4 V}
starters:
  engine-starter: {current: 200 A, nominal: 12 V}
bonds:
  start-bond: {from: start.negative, to: chassis, cable: batt-1-0}
wires:
  cranking-run: {from: start, to: engine-starter, cable: batt-1-0, length: 1 m, place: engine,
                 enclosed: true, inline: [start-off]}
  alternator-run: {from: alternator, to: start, cable: batt-1-0, length: 1 m, place: engine,
                   pole: positive, inline: [{alternator-fuse: {from_end: to, distance: 0 cm}}]}
"""


@rule(
    id="alternator-can-lose-battery",
    summary="Switches, small fuses and managements that take an alternator's battery away.",
    covers=(
        "An alternator that loses its battery while it runs",
        "A wind generator that loses its battery and runs away",
    ),
    level="warning",
    hazard="damage",
    part="switch",
    basis=BASIS,
    explanation="A running alternator holds its voltage against the battery. Take the battery "
    "away, and the field in it cannot fall as fast as the current: for a fifth of a "
    "second it throws up to a hundred volts into everything that is still joined to "
    "it. Its own diodes go first, then the electronics of the engine. A switch that "
    "somebody turns, or a lithium pack that disconnects itself, does this in an "
    "instant. A wind generator without its battery has nothing to hold it: it turns faster and "
    "faster, and its voltage rises with it.",
    caution=notice("The surge destroys the alternator's diodes and the electronics beside it."),
    fine="Where the alternator's maker says that it bears the loss of its battery, or a "
    "suppressor made for this stands at it.",
    since="0.2.0",
    sound=plan(
        "van-two-modules", Edit("max_charge_current: 50 A", "max_charge_current: 100 A"), more=MORE
    ),
    faulty=Edit("from: alternator, to: start,", "from: alternator, to: engine-starter,"),
)
def alternator_can_lose_battery(study: Study) -> Iterator[Observation]:
    for each in study.charging.lost_batteries:
        if not each.arrested:
            yield _lost(each)._replace(absent="batteries" if _may_have_own(each, study) else "")


def _may_have_own(each: LostBattery, study: Study) -> bool:
    """True where an engine may have a lead battery of its own: nothing tells what starts it."""
    if each.turns_in_wind or study.plan.starters:
        return False
    return not any(bank.is_lead for bank in each.banks)


def _lost(each: LostBattery) -> Observation:
    name, banks = each.alternator.name, quoted(b.name for b in each.banks)
    if each.unplugged:
        return Observation(
            message=f"{banks} can be unplugged while `{name}` runs, and nothing else holds its "
            f"voltage: at {each.current} that is a surge",
            on=(each.alternator, *each.banks),
            values=(each.current,),
            remedy="keep a battery on the alternator that stays; or put a surge arrester for "
            "alternators across it, and write it under `arresters`",
        )
    if each.switch is None and each.turns_in_wind:
        return Observation(
            message=f"`{name}` charges {banks} alone, lithium whose management opens when it "
            "is full, cold or at fault: nothing holds its voltage then",
            on=(each.alternator, *each.banks),
            values=(each.current,),
            remedy="see to it that its regulator has a dump load that works without a battery, "
            "or that its brake comes on by itself",
            level="note",
        )
    if each.switch is None:
        return Observation(
            message=f"`{name}` charges {banks} alone, lithium whose management opens when it "
            f"is full, cold or at fault: at {each.current} that is a surge",
            on=(each.alternator, *each.banks),
            values=(each.current,),
            remedy=f"charge {banks} from a lead battery through a vehicle charger; or keep a "
            "lead battery on the alternator; or put a surge arrester for alternators across "
            "it, and write it under `arresters`",
        )
    if each.opens_at is not None:
        return Observation(
            message=f"`{each.switch.name}` ({each.opens_at}) opens where `{name}` gives all of "
            f"its {each.current}, and takes {banks} off it, {_running(each)}",
            on=(each.switch, each.alternator),
            values=(each.opens_at, each.current),
            margin=margin_below(each.current, each.opens_at),
            remedy=f"put one of more than {each.current} in its place, and cable that it "
            f"protects; or hold `{name}` below it by its regulator, and write `limited_to`",
        )
    if each.is_breaker:
        return Observation(
            message=(
                f"`{each.switch.name}` has a handle: opening it takes {banks} off "
                f"`{name}`, {_running(each)}"
            ),
            on=(each.switch, each.alternator),
            values=(each.current,),
            remedy=f"put a fuse in place of `{each.switch.name}`, at the battery; {_else(each)}",
            level="note",
        )
    how = "opened by the battery's management" if each.by_itself else "turned"
    return Observation(
        message=(
            f"`{each.switch.name}` takes {banks} off `{name}` when it is {how}, {_running(each)}"
        ),
        on=(each.switch, each.alternator),
        values=(each.current,),
        remedy=f"lead `{name}` to the battery's side of `{each.switch.name}`, through a fuse "
        f"at the battery; {_else(each)}",
        level="note" if each.never_opens else None,
    )


def _running(each: LostBattery) -> str:
    return "in any wind" if each.turns_in_wind else "engine running or not"


def _else(each: LostBattery) -> str:
    if each.turns_in_wind:
        return "or see to it that its brake is on before that"
    return "or put a surge arrester for alternators across it, and write it under `arresters`"
