"""Whether a controller can be parted from its battery while the array still feeds it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.circuit import Passage
from wattproof.remedies.proposals import against_ignition, switch_before
from wattproof.rule import Clause, Edit, Observation, Remedy, notice, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import DEADLY
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.13, 690.15; makers of controllers",
        "2017-2023",
        "the array can be cut off from the equipment; makers ask for the array to be parted before "
        "the battery, and joined after it",
        verified=False,
    ),
    "common practice": Clause(
        "manuals of controllers",
        "as supplied",
        "join the battery first and the array last; part the array first and the battery last",
        verified=True,
    ),
}

MORE = """\
switches:
  bank-off: {rating: 100 A, voltage: 48 V, dc: true, poles: 1, load_break: true}
wires:
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [bank-off, {charge-fuse: {from_end: to, distance: 10 cm}}]}
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
breakers:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, interrupt: 5 kA}
"""


@rule(
    id="battery-switch-strands-controller",
    summary="What can part a controller from its battery, and nothing that parts the array.",
    covers=("A battery switch that leaves a controller on its array",),
    level="warning",
    hazard="damage",
    part="switch",
    basis=BASIS,
    explanation="The battery holds the voltage down at the controller's output. When a switch "
    "takes it away in full sun, the current of the array has nowhere to go: the output leaps up "
    "before the controller can react, and what is still joined to it sees that voltage. Many "
    "controllers survive it and some do not; their makers ask for the array to be parted first, "
    "and here there is nothing to part it with. Nor can anyone work safely on what its voltage "
    "stays on as long as there is light.",
    caution=notice("Opening the battery switch in sunshine can destroy the controller and loads."),
    fine="Where the controller's maker says that it bears the loss of its battery in full sun, or "
    "where the switch is opened at night alone and says so on a label.",
    since="0.1.0",
    sound=plan("van-in-sun", less=("switches", "wires"), more=MORE),
    faulty=Edit(
        """,
             inline: [pv-off]}
breakers:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, interrupt: 5 kA}
""",
        """}
""",
    ),
)
def battery_switch_strands_controller(study: Study) -> Iterator[Observation]:
    for unplugged in study.charging.unplugged_in_sun:
        yield _unplugged(study, unplugged.array, unplugged.bank)
    for array in study.array.arrays:
        switches = study.wiring.battery_switches_of(array)
        if not switches or study.array.switches_of(array) or study.array.is_unplugged(array):
            continue
        volts = array.voc("coldest")
        names = quoted(dict.fromkeys(s.name for s in switches))
        controller = array.controller
        yield Observation(
            message=f"{names} can take the battery away from `{controller.name}` while "
            f"the {array.name} feeds it with up to {volts}, and no switch cuts the array off",
            on=(*{s.name: s.device for s in switches}.values(), controller),
            values=(volts,),
            level="error" if study.plan.setting == "cabin" else None,
            hazard="shock" if volts.number > DEADLY else None,
            remedy=_remedy(array, *_by_hand_or_not(switches)),
            absent="switches",
            deadly=volts.number > DEADLY,
        )


def _by_hand_or_not(switches: Sequence[Passage]) -> tuple[str, list[Passage]]:
    """The names of those that somebody turns, and those that open by themselves."""
    alone = [switch for switch in switches if _opens_by_itself(switch)]
    return quoted(dict.fromkeys(s.name for s in switches if s not in alone)), alone


def _opens_by_itself(switch: Passage) -> bool:
    """True for one that a management or a low voltage opens, before anybody turns the array off."""
    by = (getattr(switch.device, key, None) for key in ("opened_by", "opens_below"))
    return any(each is not None for each in by)


def _unplugged(study: Study, array: ArrayStudy, bank: BankStudy) -> Observation:
    """A sole battery that is taken away by hand: with a switch for the array, a matter of order."""
    volts, controller = array.voc("coldest"), array.controller
    parted = study.array.switches_of(array) or study.array.is_unplugged(array)
    name = f"`{bank.name}`"
    starts = f"{name} can be unplugged from `{controller.name}` while the {array.name} feeds it"
    if parted:
        return Observation(
            message=f"{starts} with up to {volts}: the array has to be off first",
            on=(bank, controller),
            values=(volts,),
            remedy=f"put a label at the plug of {name}: array off first, battery last",
            level="note",
        )
    return Observation(
        message=f"{starts} with up to {volts}, and no switch cuts the array off",
        on=(bank, controller),
        values=(volts,),
        level="error" if study.plan.setting == "cabin" else None,
        hazard="shock" if volts.number > DEADLY else None,
        deadly=volts.number > DEADLY,
        remedy=_remedy(array, f"the plug of {name}"),
        absent="switches",
    )


def _remedy(array: ArrayStudy, names: str, by_itself: Sequence[Passage] = ()) -> Remedy:
    """A switch for the array; by_itself: what opens without a hand, which no label helps."""
    volts, amps = array.voc("coldest"), array.isc("bright")
    name = array.controller.name
    words = (
        f"put a switch for at least {volts} and {amps} DC into the wire to "
        f"`{name}.{array.array.port}`"
    )
    if names:
        words += f", and a label at {names}: array off first"
    if by_itself:
        opens = quoted(dict.fromkeys(s.name for s in by_itself))
        words += f", and let what opens {opens} stop `{name}` before that, by its remote input"
    added = switch_before(array, volts.number, amps.number)
    words += against_ignition([added])
    return Remedy(words, ((added,),) if added is not None else ())
