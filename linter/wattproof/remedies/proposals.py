"""What a remedy would write into a plan: other counts of modules, labels, devices to be added."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Final, NamedTuple

from wattproof.circuit import Circuit, Conductor, Crossed
from wattproof.codes import DeviceStyle, known_styles, style
from wattproof.finding import Changes, Remedy
from wattproof.plan.amend import Addition, Change
from wattproof.plan.array import String
from wattproof.plan.fields import component_of
from wattproof.plan.power import Controller
from wattproof.plan.references import FAMILIES
from wattproof.plan.root import Plan
from wattproof.plan.terminals import POLES, by_name
from wattproof.plan.wiring import Wire
from wattproof.study import Study
from wattproof.study.array import ArraySection
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.connectors import GUARDED
from wattproof.study.array.strings import ModuleStudy, StringStudy
from wattproof.study.assumptions.cables import MOST_ON_PLUGS
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import SLACK
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value

NEAR: Final = 0.1
"""How far from the end of its wire an added device is put, where nothing asks for less (m)."""


MOST_BESIDE: Final = 2
"""Strings side by side that no fuse is asked of."""

OF_LABELS = 0.03
"""Share by which an open-circuit voltage may lie above its label (common practice)."""


PROTECTED: Final = ("ignition_protected", "true")
"""What the label of a device says that may stand in gas or vapour."""


class Rearranged(NamedTuple):
    """An array with another number of modules in series.

    changes: empty where the plan's strings do not say it in one value each. rest: words on the
    other modules, to follow the number in series; empty where they are not put in parallel.
    times: how many times the current of the array as it is they give then. borne: False where the
    controller's input does not stand that.
    """

    changes: tuple[Change, ...]
    rest: str = ""
    times: float = 1.0
    borne: bool = True


def if_borne(shorter: Rearranged, array: ArrayStudy, arrays: ArraySection) -> Rearranged:
    """The same in words alone, with its condition, where the controller may not stand the rest."""
    if not shorter.rest or not arrays.is_over_current(array, shorter.times):
        return shorter
    words = f"{shorter.rest}, if the {array.controller.called}'s input stands their current"
    return Rearranged((), words, shorter.times, borne=False)


def fewer_in_series(array: ArrayStudy, most: int, fewest: int) -> Rearranged:
    """An array with at most that many in series, and all of its modules if that can be."""
    for count in range(most, max(fewest, 1) - 1, -1):
        found = in_series(array, count)
        if found.rest:
            such = f", such as {count} with the rest in parallel"
            return found if count == most else found._replace(rest=such)
    return in_series(array, most)


def poles_exchanged(crossed: Sequence[Crossed], shown: str, circuit: Circuit) -> Remedy:
    """Each of two conductors led to where the other ends, where one wire leads each pole there.

    shown: of the part whose poles they are.
    """
    words = f"exchange the two conductors at `{shown}`"
    ends = [(wire, str(each.joint.name)) for each in crossed for wire in _led_to(each, circuit)]
    if len(ends) != len(crossed) or len(ends) != len(POLES):
        return Remedy(words)
    [(one, here), (other, there)] = ends
    changes = []
    for wire, left, led in ((one, here, there), (other, there, here)):
        for end, reference in (("from", str(wire.start)), ("to", str(wire.to))):
            if component_of(reference) == left:
                changes.append(Change(wire.name, end, f"{led}{reference[len(left) :]}"))
    words += f": lead `{one.name}` to `{there}` and `{other.name}` to `{here}`"
    return Remedy(words, (tuple(changes),))


def _led_to(crossed: Crossed, circuit: Circuit) -> list[Wire]:
    """The wires that lead a pole to its joint and nowhere else."""
    parts = circuit.around.get(crossed.end, ())
    wires = {part.name: part.wire for part in parts if isinstance(part, Conductor)}
    return [wire for wire in wires.values() if crossed.joint.name in wire.components]


def in_series(array: ArrayStudy, count: int) -> Rearranged:
    """An array with that many modules in series in each string.

    The rest is put in parallel where that makes two side by side at most: more of them may need a
    fuse each, for which a short form has no place.
    """
    strings = array.declared_strings
    alone = all(_length(string) == array.in_series() for string in strings)
    listed = any(string.modules is not None for string in strings)
    owned = all(_modules(string) >= count for string in strings)
    if not alone or listed or not (owned or len(strings) == 1):
        return Rearranged(())
    kept = all(_modules(string) % count == 0 for string in strings)
    beside = sum(_modules(string) // count for string in strings)
    kept = owned and kept and beside <= max(MOST_BESIDE, array.in_parallel())
    changes = tuple(_with_count(string, count, fill=kept) for string in strings)
    if not kept:
        return Rearranged(changes)
    return Rearranged(changes, ", the rest in parallel", array.in_series() / count)


def _length(string: String) -> int:
    """Modules in series between its terminals."""
    if string.modules is not None:
        return len(string.modules)
    return string.arrangement.in_series if string.arrangement else int(string.series or 1)


def _beside(string: String) -> int:
    return string.arrangement.in_parallel if string.arrangement else 1


def _modules(string: String) -> int:
    return _length(string) * _beside(string)


def _with_count(string: String, count: int, *, fill: bool) -> Change:
    """The string with another number in series. fill: with all of its modules."""
    layout, owned = string.arrangement, _modules(string) // count
    beside = owned if fill else max(1, min(owned, _beside(string)))
    if layout is not None and not layout.series_first:
        return Change(string.name, "arrangement", f"{beside}p{count}s")
    if layout is None and beside == 1:
        return Change(string.name, "series", f"{count}")
    return Change(string.name, "arrangement", f"{count}s{beside}p" if beside > 1 else f"{count}s")


def labelled(
    strings: Iterable[String], module: ModuleStudy, key: str, text: str
) -> tuple[Change, ...]:
    """Modules with another value on their label in place of one kind, in each of some strings."""
    return tuple(Change(s.name, f"modules.{module.name}.{key}", text) for s in strings)


def guarded_contacts(strings: Iterable[StringStudy]) -> tuple[str, tuple[Change, ...]]:
    """Connectors with guarded contacts on all modules of some strings: in words, and to write."""
    changes = [
        change
        for string in strings
        for module in string.modules
        for change in labelled([string.source.string], module, "connector.style", GUARDED)
    ]
    words = f"use connectors with guarded contacts and say so (`connector: {{style: {GUARDED}}}` "
    return f"{words}of the module)", tuple(dict.fromkeys(changes))


def larger_plug(wire: Wire, amps: float) -> Remedy:
    """A plug of the same kind for a current (A), or something else where none is made for that."""
    if wire.plug is None or amps <= MOST_ON_PLUGS.get(str(wire.plug), math.inf):
        words = f"use a plug rated at least {amps:g} A"
        return Remedy(words, ((Change(wire.name, "plug_rating", f"{amps:g} A"),),))
    words = (
        f"no plug of that kind is made for {amps:g} A: use terminals or a larger connector in its "
        "place, and leave `plug` out"
    )
    return Remedy(words, (without_plug(wire),))


def one_that_holds(controller: Controller) -> tuple[str, Changes]:
    """A controller that holds the voltage of its loads by itself: in words, and to write."""
    kind = "use a tracking controller; or one" if controller.kind == "pwm" else "use a controller"
    words = f"{kind} whose maker states that it holds without a battery, and write "
    way = (Change(str(controller.name), "holds_without_battery", "true"),)
    return f"{words}`holds_without_battery: true`", way


def without_plug(wire: Wire) -> tuple[Change, ...]:
    """A wire that has no plug."""
    return Change(wire.name, "plug", ""), Change(wire.name, "plug_rating", "")


def which_is_which(one: str, other: str) -> str:
    """What to look at where readings of two places fit when these change places, in words."""
    return (
        f"look which lead is which: `{one}` and `{other}` seem to have changed places, in the "
        "notes or at the joint"
    )


def in_capacity(banks: Sequence[BankStudy], amp_hours: float) -> tuple[Change, ...]:
    """A bank that has some capacity (Ah), or just over it; none where there are several.

    Of several banks it is not said which one is to change. Batteries in series change together.
    """
    if len(banks) != 1:
        return ()
    return tuple(
        of_capacity(part, math.ceil(amp_hours / part.in_parallel - SLACK), part.in_parallel)
        for part in banks[0].parts
    )


def of_capacity(bank: BankStudy, each: float, in_parallel: int) -> Change:
    """A bank of batteries of so many Ah each, under the key by which the plan tells it."""
    if bank.battery.bank_capacity is None:
        return Change(bank.name, "capacity", f"{each:g} Ah")
    return Change(bank.name, "bank_capacity", f"{each * in_parallel:g} Ah")


def fuse_that_breaks(
    amps: float, nominal: float, volts: float, rating: float
) -> DeviceStyle | None:
    """The usual style with the smallest interrupt rating that will do, of these the smallest.

    amps: what it has to break (A), at the bank's nominal voltage. volts: what it has to stand (V).
    rating: its rated current (A). None where no style does.
    """
    fitting = [
        (usual.value, made.largest.value if made.largest is not None else 0.0, made.name, made)
        for made in map(style, known_styles())
        if (usual := made.interrupt_at(nominal)) is not None
        and usual.value >= amps
        and not made.pv_rated
        and _made_for(made, volts, rating)
    ]
    return min(fitting, key=lambda found: found[:3])[3] if fitting else None


def photovoltaic_fuse(volts: float, rating: float) -> DeviceStyle | None:
    """The first style of photovoltaic fuse for that voltage (V) and rated current (A)."""
    styles = map(style, known_styles())
    return next((s for s in styles if s.pv_rated and _made_for(s, volts, rating)), None)


def _made_for(made: DeviceStyle, volts: float, rating: float) -> bool:
    voltage, largest = made.dc_voltage, made.largest
    if made.smallest is not None and rating < made.smallest.value * (1.0 - SLACK):
        return False
    return (
        voltage is not None
        and voltage.value >= volts
        and largest is not None
        and largest.value >= rating * (1.0 - SLACK)
    )


def values_of(made: DeviceStyle, nominal: float) -> dict[str, str]:
    """What the label of a usual fuse of that style says, at the nominal voltage of its circuit."""
    values = {"style": made.name}
    if made.dc_voltage is not None:
        values["voltage"] = f"{made.dc_voltage.value:g} V"
    breaks = made.interrupt_at(nominal)
    if breaks is not None:
        values["interrupt"] = f"{breaks.value / 1000.0:g} kA"
    return values


def stronger_than_usual(amps: float, volts: float) -> dict[str, str]:
    """What the label of a fuse says that breaks more than any usual style does.

    amps: what it has to break (A). volts: what it has to stand (V).
    """
    return {
        "voltage": f"{math.ceil(volts - SLACK)} V",
        "interrupt": f"{math.ceil(amps / 1000.0 - SLACK)} kA",
    }


def that_breaks_more(added: Iterable[Addition]) -> str:
    """`, one that can break 25 kA`, where a fuse is added of which no usual style does it.

    And where it stands in gas or vapour, that it is protected against ignition.
    """
    fuses = tuple(added)
    labels = (dict(fuse.values) for fuse in fuses)
    found = next((label["interrupt"] for label in labels if "style" not in label), "")
    return (f", one that can break {found}" if found else "") + against_ignition(fuses)


def against_ignition(added: Iterable[Addition | None]) -> str:
    """`, marked as protected against ignition`, where a device is added in gas or vapour."""
    protected = any(device is not None and PROTECTED in device.values for device in added)
    return ", marked as protected against ignition" if protected else ""


def _in_gas(wire: Wire, beside: str, plan: Plan) -> bool:
    """Whether a device added in a wire is taken to stand in gas or petrol vapour.

    In the one place of the wire, or that of the part beside it; not under the open bonnet there.
    """
    if not any(place.gas_locker or place.petrol for place in plan.site.places.values()):
        return False
    ways = wire.place or ()
    near = getattr(by_name(plan).get(component_of(beside)), "place", None) if beside else None
    name = ways[0] if len(ways) == 1 else near if near in (ways or (near,)) else None
    place = plan.site.places.get(name) if name is not None else None
    if place is None:
        return False
    open_air = plan.setting == "vehicle" and len(ways) != 1
    return bool(place.gas_locker or (place.petrol and not open_air))


def fuse_in(
    wire: Wire,
    beside: str,
    rating: float,
    label: Mapping[str, str],
    plan: Plan,
    within: float = NEAR,
) -> Addition | None:
    """A fuse added in a wire beside one of the components that it joins; None where it is not one.

    rating: in A. label: what else is printed on it. within: how far from that end it may be (m).
    """
    end = _end_at(wire, beside)
    if end is None:
        return None
    values = {"rating": f"{rating:g} A", **label, "dc": "true"}
    if _in_gas(wire, beside, plan):
        values |= {PROTECTED[0]: PROTECTED[1]}
    name = _new_name(f"{wire.name}-fuse", plan)
    return Addition(
        "fuses", name, tuple(values.items()), wire.name, end, _distance(wire, end, within)
    )


def distinct(fuses: Iterable[Addition | None]) -> tuple[Addition, ...]:
    """Fuses added together, each under a name of its own; empty where one of them is missing."""
    found: dict[str, Addition] = {}
    for fuse in fuses:
        if fuse is None:
            return ()
        name = fuse.name if fuse.name not in found else f"{fuse.name}-2"
        found[name] = fuse._replace(name=name)
    return tuple(found.values())


def moved(wire: Wire, device: str, beside: str, within: float) -> tuple[Change, ...]:
    """A device of a wire put beside one of the components that it joins; empty where it is none.

    within: how far from that end it may be (m).
    """
    end = _end_at(wire, beside)
    held = next((i for i in wire.inline if i.device == device), None)
    if end is None or held is None:
        return ()
    key = f"inline.{device}"
    to_end = (Change(wire.name, f"{key}.from_end", end),) if held.from_end != end else ()
    distance = _distance(wire, end, within, device)
    return (*to_end, Change(wire.name, f"{key}.distance", distance))


def switch_before(array: ArrayStudy, volts: float, amps: float) -> Addition | None:
    """A switch of two poles added in the one wire to an array's controller; None where it has none.

    volts, amps: what it has to stand.
    """
    terminal = f"{array.controller.name}.{array.array.port}"
    wires = [w for w in array.plan.wires.values() if terminal in (w.start, w.to)]
    if len(wires) != 1 or wires[0].pole is not None:
        return None
    values = (
        ("rating", f"{math.ceil(amps - SLACK)} A"),
        ("voltage", f"{math.ceil(volts / (1.0 - array.label_tolerance(OF_LABELS)) - SLACK)} V"),
        ("dc", "true"),
        ("poles", "2"),
        ("load_break", "true"),
        *([PROTECTED] if _in_gas(wires[0], "", array.plan) else ()),
    )
    name = _new_name(f"{wires[0].name}-switch", array.plan)
    return Addition("switches", name, values, wires[0].name)


def exchanged(plan: Plan, component: str, one: str, other: str, words: str) -> Remedy:
    """What leads to one terminal of a component led to the other, and the other way round.

    words: what to do. They stand alone where `feeds` or a joint says what hangs there.
    """
    ports = {f"{component}.{one}": other, f"{component}.{other}": one}
    changes = tuple(
        Change(wire.name, end, f"{component}.{ports[port]}{reference[len(port) :]}")
        for wire in plan.wires.values()
        for end, reference in (("from", str(wire.start)), ("to", str(wire.to)))
        for port in ports
        if reference == port or reference.startswith(f"{port}.")
    )
    return Remedy(words, (changes,) if changes else ())


def _end_at(wire: Wire, component: str) -> str | None:
    ends = zip(("from", "to"), wire.components, strict=True)
    found = [end for end, name in ends if name == component]
    return found[0] if len(found) == 1 else None


def _distance(wire: Wire, end: str, within: float, device: str = "") -> str:
    """How far from an end to put a device: before all others there, and within the wire."""
    there = [
        i.distance.value if i.from_end == end else wire.length.value - i.distance.value
        for i in wire.inline
        if i.distance is not None and i.device != device
    ]
    room = min([wire.length.value, *there])
    centimetres = min(NEAR, within, room / 2.0) * 100.0
    return f"{math.floor(centimetres) if centimetres >= 1.0 else round(centimetres, 2):g} cm"


def _new_name(base: str, plan: Plan) -> str:
    taken = {name for family in FAMILIES for name in getattr(plan, family)}
    names = (base, *(f"{base}-{number}" for number in range(2, len(taken) + 3)))
    return next(name for name in names if name not in taken)


def fuse_at(
    study: Study, wire: WireStudy, beside: str, bank: BankStudy, rating: float, limit: Value | None
) -> Addition | None:
    """A fuse added in a wire of the battery side beside one of the components that it joins.

    It breaks what the bank and those in parallel with it drive into a short there. rating: in
    A. limit: how far from that end it may be (m). It has no style where no usual one does it.
    """
    ends = [end for part in wire.conductors for end in (part.start, part.end)]
    here = [e for e in ends if e.component == beside and e.pole == "positive"]
    if not here:
        return None
    short = study.wiring.network.short_at(here[0])
    fed_by = [each for each, _ in short.banks] if short is not None else []
    nominal = max(each.nominal.number for each in (bank, *fed_by))  # a series declared apart
    amps = short.current.number if short is not None else 0.0
    volts = wire.volts.number if wire.volts is not None else nominal
    made = fuse_that_breaks(amps, nominal, volts, rating)
    label = values_of(made, nominal) if made is not None else stronger_than_usual(amps, volts)
    within = limit.number if limit is not None else NEAR
    return fuse_in(wire.wire, beside, rating, label, study.plan, within)
