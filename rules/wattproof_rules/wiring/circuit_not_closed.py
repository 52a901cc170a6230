"""Consumers and sources whose current has no way back to where it comes from."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Crossed, Terminal
from wattproof.remedies.proposals import poles_exchanged
from wattproof.rule import Clause, Edit, Located, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof.study.wiring.body_returns import BODY_CARRIES
from wattproof.study.wiring.closing import HalfJoined, NotClosed
from wattproof.words import enumerated, quoted
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11 (two-wire system)",
        "2003 and later",
        "every circuit has a conductor out and one back of its own; hull and bonding conductors "
        "carry no current in use",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297 (two-wire system)",
        "2020",
        "direct-current circuits are of two insulated wires; the hull is no conductor of theirs",
        verified=False,
    ),
    "common practice": practice(
        "the negative of each consumer and source leads back to the battery that its positive is on"
    ),
}

MORE = """\
datasheets:
  cables:
    wire-12: {size: 12 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
              voltage: 600 V}
fuses:
  pump-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  second-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
batteries:
  second: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
           max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
loads:
  pump: {current: 5 A, nominal: 12 V}
  second-pump: {current: 5 A, nominal: 12 V}
wires:
  pump-feed: {from: house.positive, to: pump.positive, cable: wire-12, length: 1 m, place: cabin,
              inline: [{pump-fuse: {from_end: from, distance: 10 cm}}]}
  pump-back: {from: pump.negative, to: house.negative, cable: wire-12, length: 1 m, place: cabin}
  second-run: {from: second, to: second-pump, cable: wire-12, length: 1 m, place: cabin,
               inline: [{second-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="circuit-not-closed",
    summary="The way of each current out and back, over conductors and the battery it comes from.",
    covers=("A circuit that does not close",),
    level="error",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="Current flows in rings only: what leaves a battery by its positive has to come "
    "back to the negative of that same battery. Where the negative leads to another battery that "
    "shares nothing with the first, nothing works at all, until something happens to join the "
    "two: the screen of an aerial, an instrument, the engine, the water. All of the current then "
    "passes through a part that nobody chose for it and that has no fuse.",
    caution=warning(
        "Whatever joins the two by chance carries the whole current, and can glow and burn."
    ),
    since="0.2.0",
    sound=plan(
        "van",
        more=MORE,
    ),
    faulty=Edit(
        "from: pump.negative, to: house.negative", "from: pump.negative, to: second.negative"
    ),
)
def circuit_not_closed(study: Study) -> Iterator[Observation]:
    for each in study.wiring.not_closed:
        name = str(each.component.name)
        shown = f"{name}.{each.port}" if each.port else name
        on, home = _names(each.feeding), ".".join(part for part in each.home if part)
        milder = each.through == "chassis" and study.plan.setting != "boat"
        small = milder and _is_small(each, study)
        yield Observation(
            message=f"the positive of `{shown}` is on {on}, {_back(each)}",
            on=(each.component, *each.together, *each.feeding, *each.others),
            remedy=f"lead `{shown}.negative` to `{home}`, or join the negatives of both batteries "
            "with a conductor of the size of their positives"
            if each.others and not each.home.port
            else f"lead `{shown}.negative` to `{home}`",
            level="note" if small else "warning" if milder else None,
        )
    for crossed in _by_component(study).values():
        yield _exchanged(crossed, study)
    for pair in study.wiring.half_joined:
        yield from _half(pair, study)
    for half in study.wiring.half_wired:
        yield Observation(
            message=f"the {half.open} of `{half.name}` leads nowhere: it gives no current as drawn",
            on=(half.string,),
            remedy=f"wire `{half.name}.{half.open}` to where its other pole is joined",
            level="warning",
            hazard="lost-energy",
        )


def _by_component(study: Study) -> dict[str, list[Crossed]]:
    """The poles that are led to a joint of the other pole, by the part that they are of."""
    found: dict[str, list[Crossed]] = {}
    for each in study.circuit.crossed:
        found.setdefault(str(each.component.name), []).append(each)
    return {
        name: sorted(each, key=lambda c: c.end.pole != "positive") for name, each in found.items()
    }


def _exchanged(crossed: list[Crossed], study: Study) -> Observation:
    """One or both poles of a part where nothing but the other pole is."""
    component = crossed[0].component
    led = enumerated(
        f"the {each.end.pole} of `{_shown(each.end)}` leads to `{each.joint.name}`"
        for each in crossed
    )
    where = "where all else is of the other pole"
    shown, pole = _shown(crossed[0].end), crossed[0].end.pole
    remedy = Remedy(f"lead `{shown}.{pole}` to what the other {pole}s are on")
    if len(crossed) > 1:
        remedy = poles_exchanged(crossed, shown, study.circuit)
    return Observation(
        message=f"{led}, {where}: joined so, {_comes(component.name in study.plan.batteries)}",
        on=(component, *(each.joint for each in crossed)),
        remedy=remedy,
    )


def _comes(is_battery: bool) -> str:
    """What comes of poles that are exchanged at a part."""
    if is_battery:
        return "it shorts every battery beside it and turns the poles of all else"
    return "it is shorted, or gets its voltage the wrong way round"


def _shown(end: Terminal) -> str:
    return ".".join(filter(None, end[:2]))


def _is_small(each: NotClosed, study: Study) -> bool:
    """True for what a vehicle's body may take back, as it does of lamps that are led to it.

    What a vehicle charger takes from the alternator side comes back over the body that engine and
    starter battery are bolted to, as that of the alternator itself does.
    """
    if each.port == "alternator" and study.plan.setting == "vehicle":
        return True
    if study.codes.battery.forbids("body-return", study.plan.setting) or each.current is None:
        return False
    return not exceeds(each.current, BODY_CARRIES)


def _half(each: HalfJoined, study: Study) -> Iterator[Observation]:
    """Two banks joined by one pole: over the chassis of a vehicle that is usual, and told apart."""
    if each.through == "chassis" and study.plan.setting == "vehicle":
        return
    first, second = each.first.name, each.second.name
    ends = [bank.parts[-1].name for bank in (each.first, each.second)]
    how = (
        f"what one gives the other comes back over the {each.through} alone"
        if each.through
        else "no current can flow between them as drawn"
    )
    yield Observation(
        message=f"the positives of `{first}` and `{second}` are joined and their negatives are "
        f"not: {how}",
        on=(each.first, each.second),
        remedy=f"join `{ends[0]}.negative` and `{ends[1]}.negative` with a conductor of the size "
        "of the one between their positives",
    )


def _back(each: NotClosed) -> str:
    to = f"its negative on {_names(each.others)}" if each.others else "its negative on no battery"
    if each.through:
        return f"{to}: the current comes back over the {each.through} alone"
    if each.entered:
        return f"{to}: the current comes back through the solar input of `{each.entered}` alone"
    if each.cased:
        whose = f"its {each.current} come"
        if each.together:
            whose = f"with {quoted(c.name for c in each.together)} {each.current} come"
        return f"{to}: {whose} back through the case of `{each.cased}` alone"
    if each.home.port and not each.others:
        return "and its negative does not lead back there: no current can flow as drawn"
    return f"{to}, and no conductor joins the two: no current can flow as drawn"


def _names(sources: tuple[Located, ...]) -> str:
    return quoted(each.name for each in sources)
