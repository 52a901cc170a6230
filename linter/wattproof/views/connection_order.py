"""The order in which a plan is connected for the first time, with what is measured on the way.

Common practice: everything built with fuses out and switches open; the battery side before the
array, since most controllers learn the battery's voltage then; loads last; and never the battery
taken off while the array feeds the controller. The makers' manuals come first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from wattproof.circuit import Leaf, Parallel, Passage, Tree, has_source, is_overcurrent, leaves
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.switching import between_controller_and_banks
from wattproof.study.battery.bank import BankStudy
from wattproof.words import quoted
from wattproof.working import SupposedWord, Value

if TYPE_CHECKING:
    from wattproof.study import Study

_STILL: Final = {"alternator": "the engine stands still", "wind": "its brake is on"}
AGREE: Final = 0.05
"""Share by which the voltages of strings in parallel may differ, measured at the same time."""


@dataclass(frozen=True, slots=True)
class Work:
    """One step of the work.

    words: what to do. names: the components that it concerns. stop: it is a measurement, and the
    work stops there until it is as said. values: the figures in it.
    """

    words: str
    names: tuple[str, ...] = ()
    stop: bool = False
    values: tuple[Value, ...] = ()


@dataclass(frozen=True, slots=True)
class Stage:
    """Steps that belong together, under a heading."""

    heading: str
    steps: tuple[Work, ...]


def connection_order(study: Study) -> tuple[Stage, ...]:
    """The stages of connecting a plan, and of taking it out of use."""
    stages = (
        Stage("Before anything is joined", tuple(_before(study))),
        Stage("The battery side", tuple(_battery_side(study))),
        Stage("The array", tuple(_array_side(study))),
        Stage("Other chargers and loads", tuple(_rest(study))),
        Stage("The first day", tuple(_first_day(study))),
        Stage("To take it out of use", tuple(_out_of_use(study))),
    )
    return tuple(stage for stage in stages if stage.steps)


def _before(study: Study) -> Iterator[Work]:
    devices = study.wiring.devices.values()
    out = [d.name for d in devices if d.kind in ("fuse", "panel way")]
    opened = [d.name for d in devices if d.is_switch or d.kind == "breaker"]
    if out:
        yield Work(f"Take every fuse out: {quoted(out)}.", tuple(out))
    if opened:
        yield Work(f"Open every switch and breaker: {quoted(opened)}.", tuple(opened))
    strings = [str(name) for name in study.plan.strings]
    if strings:
        yield Work(
            "Cover the modules with something opaque that cannot blow away, or leave them "
            f"unplugged: {quoted(strings)}. They drive voltage in any daylight.",
            tuple(strings),
        )
    yield Work(
        "Look at every joint: the lug and the crimp that the cable asks for, the torque that the "
        "maker states, strain taken off, edges guarded, each end labelled.",
        stop=True,
    )
    yield Work(
        "Take off rings, watch and chains; use tools with insulated handles; cover the pole that "
        "you do not work on."
    )


def _battery_side(study: Study) -> Iterator[Work]:
    for bank in study.battery.banks:
        yield Work(
            f"Measure `{bank.name}` at its posts: polarity, and about {bank.nominal} or a little "
            "more.",
            (bank.name,),
            stop=True,
            values=(bank.nominal,),
        )
    for bond in study.plan.bonds.values():
        name = str(bond.name)
        yield Work(
            f"Join `{name}` from `{bond.start}` to the {bond.to}: the only tie of that pole.",
            (name,),
        )
    for controller in study.plan.controllers.values():
        name = str(controller.name)
        fuses = tuple(_on_the_way_to(name, study))
        where = f"at the open holder of {quoted(fuses)}" if fuses else "at the bare ends"
        yield Work(
            f"Lead the wires from the battery to `{name}` without power. Measure {where} which "
            "side is positive, and follow each wire from there to its terminal: some controllers "
            "do not survive the wrong way, and fewer do once the array is on.",
            (name,),
            stop=True,
        )
        if fuses:
            yield Work(f"Put in {quoted(fuses)}: `{name}` wakes.", (*fuses, name))
        parted = between_controller_and_banks(controller, study.circuit)
        switches = list(dict.fromkeys(p.name for p in parted if not is_overcurrent(p)))
        if switches:
            yield Work(f"Close {quoted(switches)}.", tuple(switches))
        yield Work(_settings(name, study), (name,), stop=True)


def _settings(name: str, study: Study) -> str:
    """What is set in a controller before the array comes on."""
    controller = study.plan.controllers[name]
    wanted = []
    if controller.charge_voltage is not None:
        wanted.append(f"at most {controller.charge_voltage.text} for charging")
    if controller.limited_to is not None:
        wanted.append(f"at most {controller.limited_to.text} of output")
    charged = [b for b in study.battery.banks if name in _charging(b, study)]
    batteries = [bank.battery for bank in charged]
    kinds = dict.fromkeys(
        str(b.chemistry) for b in batteries if not isinstance(b.chemistry, SupposedWord)
    )
    told = f": {' and '.join(wanted)}" if wanted else ""
    return f"Set `{name}` for its battery ({', '.join(kinds) or 'its kind'}){told}."


def _charging(bank: BankStudy, study: Study) -> set[str]:
    """Names of what charges a bank."""
    return {str(source.name) for source, _ in study.battery.side.charges(bank)}


def _array_side(study: Study) -> Iterator[Work]:
    for array in study.array.arrays:
        yield from _one_array(array, study)


def _one_array(array: ArrayStudy, study: Study) -> Iterator[Work]:
    controller = str(array.controller.name)
    for string in sorted(array.all_strings, key=lambda s: s.source.string.at):
        low, high = string.voc("hottest"), string.voc("coldest")
        yield Work(
            f"Uncover `{string.name}` and measure it with nothing connected: polarity, and in sun "
            f"between {low} with hot cells and {high} on the coldest morning "
            f"({string.voc('standard')} with cells at 25 °C).",
            (string.name,),
            stop=True,
            values=(low, string.voc("standard"), high),
        )
    if _has_branches(array.tree):
        yield Work(
            f"Join in parallel only what agrees within {AGREE * 100:g} %, measured at the same "
            "time; cover the modules again before you join.",
            stop=True,
        )
    fuses = [p.name for p in _passages(array) if is_overcurrent(p)]
    if fuses:
        listed = list(dict.fromkeys(fuses))
        yield Work(f"Put in {quoted(listed)}, with the modules covered.", tuple(listed))
    switches = list(dict.fromkeys(p.name for p in study.array.switches_of(array)))
    limit = array.controller.input_limit.text
    if switches:
        yield Work(
            f"With {quoted(switches)} open, join the array to the side away from "
            f"`{controller}`, uncover it, and measure there: polarity again, and less than the "
            f"{limit} that `{controller}` takes.",
            (*switches, controller),
            stop=True,
            values=(array.voc("coldest"),),
        )
        yield Work(f"Close {quoted(switches)} last.", tuple(switches))
    else:
        yield Work(
            f"With the modules covered, plug the array into `{controller}`, polarity measured "
            f"before and less than the {limit} that it takes; then uncover the modules. Never plug "
            "or unplug in sun: the arc does not go out.",
            (controller,),
            stop=True,
            values=(array.voc("coldest"),),
        )


def _rest(study: Study) -> Iterator[Work]:
    to_controllers = {n for c in study.plan.controllers for n in _on_the_way_to(str(c), study)}
    on_array = {p.name for array in study.array.arrays for p in _passages(array)}
    rest = [
        d.name
        for d in study.wiring.devices.values()
        if d.is_overcurrent and d.name not in to_controllers | on_array
    ]
    for charger in (*study.plan.chargers.values(), *study.plan.converters.values()):
        name = str(charger.name)
        still = _STILL.get(charger.kind, "it is unplugged")
        yield Work(f"Join `{name}` while {still}.", (name,))
    if rest:
        one_by_one = " one after the other" if len(rest) > 1 else ""
        yield Work(f"Put in {quoted(rest)}{one_by_one}, loads off.", tuple(rest))
    loads = [str(name) for name in study.plan.all_loads]
    if loads:
        one_by_one = ", one at a time" if len(loads) > 1 else ""
        yield Work(f"Switch on {quoted(loads)}{one_by_one}.", tuple(loads))
    for inverter in study.plan.all_inverters.values():
        name = str(inverter.name)
        yield Work(
            f"Join `{name}` last, with its fuse or switch open, and then switch it on. Its empty "
            "capacitors take a burst of current: fill them first where its manual asks for it. Its "
            "mains side is for a licensed person.",
            (name,),
        )


def _first_day(study: Study) -> Iterator[Work]:
    if study.array.arrays or study.battery.banks:
        yield Work(
            "In the first hour of full sun, and again with the largest load on, measure how warm "
            "joints, fuses, switches and cables get, with a contactless thermometer and never with "
            "a hand: one that is much warmer than its neighbours "
            "is made anew. Look again after a week, and after the first long drive or passage.",
            stop=True,
        )


def _out_of_use(study: Study) -> Iterator[Work]:
    if study.plan.all_inverters or study.plan.all_loads:
        yield Work("Switch the loads off, the largest first.")
    for array in study.array.arrays:
        switches = list(dict.fromkeys(p.name for p in study.array.switches_of(array)))
        how = f"Open {quoted(switches)}" if switches else "Cover the modules"
        yield Work(
            f"{how}, before anything of the battery is opened: a controller that the array still "
            "feeds must not lose its battery.",
            (*switches, str(array.controller.name)),
        )
    yield Work("Then the fuses of the battery side; the modules stay live in any daylight.")


def _on_the_way_to(controller: str, study: Study) -> Iterator[str]:
    """Overcurrent devices between a controller's battery terminals and its banks."""
    found: dict[str, None] = {}
    for guard in study.protection.guards:
        ends = (guard.part.start, guard.part.end)
        if any((end.component, end.port) == (controller, "battery") for end in ends):
            found.update(dict.fromkeys(p.name for p in (*guard.devices, *guard.into)))
    yield from found


def _has_branches(tree: Tree) -> bool:
    """True where strings meet in parallel."""
    if isinstance(tree, Leaf):
        return False
    branches = [member for member in tree.members if has_source(member)]
    if isinstance(tree, Parallel) and len(branches) > 1:
        return True
    return any(_has_branches(member) for member in branches)


def _passages(array: ArrayStudy) -> Iterator[Passage]:
    for leaf in leaves(array.tree):
        if isinstance(leaf.element, Passage):
            yield leaf.element
