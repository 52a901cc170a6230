"""Whether the array can be cut off its controller by hand."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Passage, Tree
from wattproof.finding import Level
from wattproof.remedies.proposals import against_ignition, switch_before
from wattproof.rule import Clause, Edit, Located, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.switching import unplugged_current
from wattproof.study.limits import DEADLY
from wattproof.words import quoted
from wattproof.working import Value, largest, total
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.13 and 690.15",
        "2017-2023",
        "a means that is readily reached cuts the array off from all other wiring; up to 30 A a "
        "connector may isolate a single device, above that it has to break load",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-7-712 712.536; IEC 62548",
        "2017; 2016",
        "a switch-disconnector on the direct-current side parts the array from the equipment; "
        "connectors are not switches; IEC 62548 leaves out arrays of less than 100 W and 35 V",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2021",
        "an array can be cut off from the equipment by a switch that opens under load; connectors"
        " are not switches",
        verified=False,
    ),
    "common practice": Clause(
        "maintenance of solar installations",
        "",
        "an array cannot be switched off at its source, so a switch stands where it enters",
        verified=True,
    ),
}

TOUCHABLE = 60.0
"""DC voltage (V) up to which a touch is taken to be harmless in the dry (IEC 60364-4-41 414)."""
UNPLUGGED = 15.0
"""Current (A) that pulling a connector breaks with hardly an arc, at such a voltage (common
practice)."""

HIGH = 240.0
"""Cold voltage from which a part without a switch is told before what burns (V): what a person
carries at it kills within a heartbeat or two (IEC 60479-1, from memory); below it a bare battery
is the graver."""

MORE = """\
wires:
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
"""


@rule(
    id="array-switch-missing",
    summary="Whether a switch or breaker cuts the array off its controller.",
    covers=("No switch for the array, or a connector in its place",),
    level="warning",
    hazard="shock",
    part="switch",
    basis=BASIS,
    explanation="Modules give voltage whenever light falls on them, and nothing turns them off. "
    "Without a switch between them and the controller, whoever has to change the controller, "
    "look for a fault or stop a fire works on live wires, and pulling a connector under load "
    "draws an arc that burns its contacts. Controllers also want the array connected last and "
    "parted first, and that needs something to open.",
    fine="With one or two small modules whose connectors may be parted after the controller was "
    "stopped and the modules were covered, if your body of rules lets a connector do it.",
    since="0.1.0",
    sound=plan("van-in-sun", less=("switches", "wires"), more=MORE),
    faulty=Edit(
        """,
             inline: [pv-off]}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
""",
        """}
""",
    ),
)
def array_switch_missing(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        if study.array.switches_of(array) or study.wiring.battery_switches_of(array):
            continue  # with a switch towards the battery only, a rule of its own speaks
        if study.array.is_unplugged(array):
            continue
        opened, on = study.array.left_on(array)
        strings = array.declared_in(on)
        volts, amps = _staying(array, on if opened else (array.tree,))
        yield Observation(
            message=f"{_said(array, opened, strings)} up to {volts} and {amps} stay on it as "
            "long as there is light",
            on=(array.controller, *strings),
            values=(volts, amps),
            level=_level(array, study),
            remedy=_remedy(array),
            hazard="damage" if volts.number <= TOUCHABLE else None,
            absent="switches",
            deadly=volts.number > HIGH,
        )


def _staying(array: ArrayStudy, on: tuple[Tree, ...]) -> tuple[Value, Value]:
    """The highest cold voltage of some parts of an array, and their bright currents together."""
    words = f"what stays on {array.controller.name}"
    volts = largest([array.voc("coldest", part) for part in on])
    amps = total([array.isc("bright", part) for part in on])
    return volts.named("Von", f"voltage of {words}", "V"), amps.named(
        "Ion", f"current of {words}", "A"
    )


def _said(array: ArrayStudy, opened: tuple[Passage, ...], strings: tuple[Located, ...]) -> str:
    """That nothing disconnects the array, or what does with a part of it alone."""
    if not opened:
        return f"nothing disconnects {_named(array)}:"
    opening = quoted(dict.fromkeys(str(each.device.name) for each in opened))
    keep = "keeps" if len(strings) == 1 else "keep"
    left = quoted(str(string.name) for string in strings)
    return f"{left} {keep} `{array.controller.name}` live with {opening} open:"


def _named(array: ArrayStudy) -> str:
    """The array, and the input that it cannot be disconnected from."""
    port = array.array.port
    return f"the array from `{array.controller.name}{'' if port == 'pv' else f'.{port}'}`"


def _level(array: ArrayStudy, study: Study) -> Level | None:
    """A note for a small array whose connectors can be pulled, unless a body of rules is named.

    Or where that says nothing of so small a one. At a low voltage they are pulled one string after
    another, each with its own current. An error where a touch harms in a cabin, or kills in
    anything that a body of rules is named for which wants a switch.
    """
    amps, volts = unplugged_current(array), array.voc("coldest").number
    if volts <= TOUCHABLE:
        small = study.plan.code is None or _is_out_of_scope(array, study)
        return "note" if small and amps.number <= UNPLUGGED else None
    wanted = study.plan.code is not None and str(study.plan.code.array) in BASIS
    return "error" if study.plan.setting == "cabin" or (wanted and volts > DEADLY) else None


def _is_out_of_scope(array: ArrayStudy, study: Study) -> bool:
    """True for an array that is too small for the body of rules that is named."""
    least = study.codes.array.least_array
    if least is None:
        return False
    watts, volts = array.power("standard"), array.voc("standard")
    return watts.number < least[0].value and volts.number < least[1].value


def _remedy(array: ArrayStudy) -> Remedy:
    volts, amps = array.voc("coldest"), array.isc("bright")
    words = (
        f"put a switch of two poles that may be opened under load, for at least {volts} and {amps} "
        f"DC, into the wire to `{array.controller.name}.{array.array.port}`"
    )
    added = switch_before(array, volts.number, amps.number)
    words += against_ignition([added])
    return Remedy(words, ((added,),) if added is not None else ())
