"""Whether a breaker that works in one direction can meet a current in the other."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Passage
from wattproof.remedies.proposals import exchanged
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.neighbours import Neighbours
from wattproof.working import LookUp
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 60947-2 and -3; IEC 60364-7-712",
        "as in force",
        "a breaker with marked poles is used only where the current has one direction; arrays and "
        "batteries take breakers that work in both",
        verified=False,
    ),
    "nec-2023": Clause(
        "NEC 110.3(B); 705.30(D)",
        "2014-2023",
        "a device is used as it is marked; breakers marked line and load are not for current in "
        "both directions",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2014-2021",
        "breakers in an array are not sensitive to polarity",
        verified=False,
    ),
    "common practice": Clause(
        "label of the breaker",
        "as supplied",
        "a breaker marked line and load, or plus and minus, breaks a current of one direction only",
        verified=True,
    ),
}

MORE = """\
breakers:
  charge-breaker: {rating: 40 A, voltage: 125 V, interrupt: 10 kA, dc: true, polarised: false}
"""

WHICH_WAY_ROUND = LookUp(
    "which way round {names} is mounted",
    "the marks for line and load, or plus and minus, beside its terminals; in the plan its two "
    "wires then end at its `line` and its `load`",
)


@rule(
    id="breaker-polarity",
    summary="Whether current can flow backwards through a breaker with a marked direction.",
    covers=("A breaker fed the wrong way round",),
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="Some breakers for direct current hold a magnet that blows the arc of the opening "
    "contact into a chamber, where it goes out. The magnet blows the right way for one direction "
    "of the current only. When the current comes the other way, the arc is blown into the works "
    "and burns on. Between a charger and a battery it flows one way every day and the other way "
    "in a short, so that such a breaker is wrong there whichever way round it is mounted.",
    caution=warning("A breaker that is opened against its direction can catch fire in your hand."),
    since="0.1.0",
    sound=plan(
        "van-in-sun-inverter",
        Edit("charge-fuse:", "charge-breaker:"),
        less=("fuses.charge-fuse",),
        more=MORE,
    ),
    faulty=Edit("polarised: false", "polarised: true"),
)
def breaker_polarity(study: Study) -> Iterator[Observation]:
    for own in study.protection.pack_fuses:
        if own.polarised:
            yield Observation(
                message=f"`{own.device.name}` works in one direction only: each pack of "
                f"`{own.bank.name}` gives its current through it, and the others feed a short in "
                "that pack",
                on=(own.device, own.bank),
                remedy=_of_both_directions(str(own.device.name)),
            )
    for device in study.wiring.devices.values():
        if not device.polarised:
            continue
        why = _on_array(device, study) if device.side == "array" else _on_battery(device, study)
        if why is not None:
            yield Observation(
                message=f"`{device.name}` works in one direction only: {why}",
                on=(device,),
                remedy=exchanged(
                    study.plan,
                    device.name,
                    "line",
                    "load",
                    f"swap the wires at `{device.name}.line` and `{device.name}.load`",
                )
                if why.startswith("it is mounted")
                else _of_both_directions(device.name),
            )
        elif _may_be_turned(device, study):
            yield Observation(
                message=f"`{device.name}` works in one direction only, and may be mounted the "
                "wrong way round",
                on=(device,),
                remedy=f"end the wire of its marked line side at `{device.name}.line`, and begin "
                f"the other at `{device.name}.load`; or "
                "use a breaker that works in both directions (not polarised)",
                asks=WHICH_WAY_ROUND,
            )


def _may_be_turned(device: DeviceStudy, study: Study) -> bool:
    """True in the middle of a wire, whose current has one direction by day and in a short."""
    within = [p for p in _telling(device) if p.wire is not None]
    if device.side == "array":
        return bool(within)
    sides = filter(None, map(study.wiring.neighbours_of, within))
    return any(_flows(*pair) or _flows(*reversed(pair)) for pair in sides)


def _telling(device: DeviceStudy) -> list[Passage]:
    """The ways through it that tell its direction: those in positives, else those in negatives."""
    positives = [passage for passage in device.passages if passage.pole == "positive"]
    return positives or list(device.passages)


def _of_both_directions(name: str) -> Remedy:
    words = "use a breaker that works in both directions (not polarised), or a fuse"
    return Remedy(words, ((Change(name, "polarised", "false"),),))


def _on_battery(device: DeviceStudy, study: Study) -> str | None:
    for passage in device.passages:
        sides = study.wiring.neighbours_of(passage)
        if sides is None:
            continue
        before, after = sides
        forwards, backwards = _flows(before, after), _flows(after, before)
        if forwards and backwards:
            return f"{forwards}, and {backwards}"
        against = backwards if passage.pole == "positive" else forwards
        if against and passage.wire is None and passage in _telling(device):
            back = "" if passage.pole == "positive" else " and gets its current back through it"
            return f"it is mounted the wrong way round, as {against}{back}"
    return None


def _flows(here: Neighbours, there: Neighbours) -> str:
    """What drives a current from one side to the other, in daily use or into a short."""
    if here.banks and (there.banks or there.consumers):
        return f"`{here.banks[0].name}` feeds {_named(there)}"
    if here.banks:
        return f"`{here.banks[0].name}` feeds a short at {_named(there)}"
    if here.sources and (there.banks or there.consumers):
        return f"`{here.sources[0].name}` feeds {_named(there)}"
    return ""


def _named(side: Neighbours) -> str:
    for components in (side.banks, side.consumers, side.sources):
        if components:
            return f"`{components[0].name}`"
    return "that side"


def _on_array(device: DeviceStudy, study: Study) -> str | None:
    string = _on_string(device, study)
    if string is not None:
        return string
    for passage in _telling(device):
        # between two wires the plan says which of them is on its line side
        fed = study.wiring.fed_backwards(passage) if passage.wire is None else None
        if fed is not None:
            return (
                f"it is mounted the wrong way round, as the array feeds `{fed.name}` from its load "
                "side to its line side"
            )
    return None


def _on_string(device: DeviceStudy, study: Study) -> str | None:
    """A string's breaker carries the other strings' current when the string is shorted."""
    for array in study.array.arrays:
        for flow in array.backflows:
            if flow.unlimited is not None and any(p in flow.devices for p in device.passages):
                return (
                    f"`{flow.string.name}` feeds the controller through it, and the other strings "
                    "feed a short in that string"
                )
    return None
