"""One-value changes that make a sound plan dangerous, and the rule that must catch each.

A mutation changes plan data in place and says whether it applied. `catches` must find it. Rules in
`silent` have nothing to do with it and must not fire.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

Plan = dict[str, Any]

ARRAY_VOLTAGE = {
    "cold-voltage-over-controller",
    "cold-voltage-over-device",
    "cold-voltage-over-module",
}
ARRAY_CURRENT = {"combiner-over-rating", "controller-input-over-current", "string-fuse-missing"}
LABELS = {"module-power-disagrees", "module-values-impossible"}
UNLIKE = {"unlike-current-in-series", "unlike-voltage-in-parallel"}
BANK = {"battery-fuse-missing", "charge-current-over-battery"}
WIRING = {"conductor-too-small", "fuse-over-conductor"}


PLANNED = (ARRAY_VOLTAGE, ARRAY_CURRENT, LABELS, UNLIKE, BANK, WIRING)
"""What a reading does not change: the plan itself stays sound."""


@dataclass(frozen=True)
class Mutation:
    """A change, the rule that must catch it, and those that must stay silent."""

    name: str
    change: Callable[[Plan], bool]
    catches: str
    silent: frozenset[str]


def _all(plan: Plan, family: str, key: str, value: object) -> bool:
    """Set a key of every member of a family that has it."""
    members = [m for m in plan.get(family, {}).values() if key in m]
    for member in members:
        member[key] = value
    return bool(members)


def _every(plan: Plan, family: str, key: str, value: object) -> bool:
    """Set a key of every member of a family."""
    return _set(list(plan.get(family, {}).values()), key, value)


def _set(members: list[dict[str, Any]], key: str, value: object) -> bool:
    for member in members:
        member[key] = value
    return bool(members)


def _modules(plan: Plan, key: str, value: object) -> bool:
    return _all(plan["datasheets"], "modules", key, value)


def _every_module(plan: Plan, key: str, *, value: object) -> bool:
    for module in plan["datasheets"]["modules"].values():
        module[key] = value
    return True


def _first_reading(plan: Plan, key: str, factor: float) -> bool:
    """Multiply one value of the first reading that has it."""
    for reading in plan.get("readings", {}).values():
        if key in reading:
            number, unit = reading[key].split()
            reading[key] = f"{float(number) * factor:.5g} {unit}"
            return True
    return False


def _small_plug(plan: Plan) -> bool:
    for wire in _array_wires(plan):
        wire.update(plug="flat-two-pin", plug_rating="2 A")
    return True


def _array_wires(plan: Plan) -> list[dict[str, Any]]:
    return [w for w in plan["wires"].values() if ".pv" in f"{w['from']} {w['to']}"]


def _charge_wires(plan: Plan) -> list[dict[str, Any]]:
    return [w for w in plan["wires"].values() if ".battery" in f"{w['from']} {w['to']}"]


def _own_cable(plan: Plan, wires: list[dict[str, Any]], **changes: object) -> bool:
    """Give some wires a cable of their own that differs from theirs in some values."""
    for wire in wires:
        cable = {**plan["datasheets"]["cables"][wire["cable"]], **changes}
        plan["datasheets"]["cables"]["changed"] = cable
        wire["cable"] = "changed"
    return bool(wires)


def _thin(plan: Plan, wires: list[dict[str, Any]]) -> bool:
    metric = "mm" in str(plan["datasheets"]["cables"][wires[0]["cable"]]["size"])
    return _own_cable(plan, wires, size="1.5 mm²" if metric else "18 AWG")


def _no_frames(plan: Plan) -> bool:
    """Frames that nothing bonds, beside a cabin."""
    return plan["setting"] == "cabin" and _every(plan, "strings", "frames_bonded", False)


def _fused_at_battery(plan: Plan) -> list[tuple[str, dict[str, Any], str]]:
    """Wires of both poles that end at a battery and hold its fuse: name, wire, that end."""
    found = []
    for name, wire in plan["wires"].items():
        devices = [next(iter(i)) if isinstance(i, dict) else i for i in wire.get("inline", [])]
        ends = [end for end in ("from", "to") if wire[end] in plan["batteries"]]
        fuses = {**plan.get("fuses", {}), **plan.get("breakers", {})}
        fused = len(devices) == 1 and devices[0] in fuses
        if len(ends) == 1 and fused and "pole" not in wire:
            found.append((name, wire, ends[0]))
    return found


def _relay_without_fuse(plan: Plan) -> bool:
    """A second battery, five metres away through a relay whose place is not told."""
    name = next(iter(plan["batteries"]))
    plan["batteries"]["spare"] = dict(plan["batteries"][name])
    plan.setdefault("switches", {})["join"] = {"rating": "400 A", "voltage": "80 V", "dc": True}
    cable = next(w["cable"] for w in plan["wires"].values() if name in (w["from"], w["to"]))
    plan["wires"]["joining"] = {
        "from": "spare",
        "to": name,
        "cable": cable,
        "length": "5 m",
        "inline": ["join"],
    }
    return True


def _unfused_beside_a_fused_one(plan: Plan) -> bool:
    """A second battery on the bar, two metres away, with no fuse but that of the first."""
    if not plan.get("busbars"):
        return False
    name = next(iter(plan["batteries"]))
    plan["batteries"]["spare"] = dict(plan["batteries"][name])
    cable = next(w["cable"] for w in plan["wires"].values() if name in (w["from"], w["to"]))
    bar = next(iter(plan["busbars"]))
    plan["wires"]["joining"] = {"from": "spare", "to": bar, "cable": cable, "length": "2 m"}
    return True


def _fuse_in_the_negative(plan: Plan) -> bool:
    """The battery's fuse in its negative instead of its positive."""
    for name, wire, _ in _fused_at_battery(plan):
        plus = {key: value for key, value in wire.items() if key != "inline"}
        ends = {end: wire[end] for end in ("from", "to")}
        plus.update({end: f"{at}.positive" for end, at in ends.items()})
        wire.update({end: f"{at}.negative" for end, at in ends.items()})
        plan["wires"][f"{name}-plus"] = plus
        return True
    return False


def _weak_relay(plan: Plan) -> bool:
    """A relay rated far below the battery fuse before it."""
    plan.setdefault("switches", {})["weak"] = {"rating": "2 A", "voltage": "80 V", "dc": True}
    for _, wire, end in _fused_at_battery(plan):
        inline = wire["inline"]
        wire["inline"] = [*inline, "weak"] if end == "from" else ["weak", *inline]
        return True
    return False


def _thin_from_load_terminals(plan: Plan) -> bool:
    """A long thin lamp wire on a controller's load terminals, with no fuse of its own."""
    for name, controller in plan.get("controllers", {}).items():
        used = any(f"{name}.load" in (w["from"], w["to"]) for w in plan["wires"].values())
        if controller["kind"] not in ("mppt", "pwm") or used:
            continue
        cable = dict(next(iter(plan["datasheets"]["cables"].values())))
        size = "1.5 mm²" if "mm" in str(cable["size"]) else "18 AWG"
        plan["datasheets"]["cables"]["lamp-cable"] = {**cable, "size": size}
        plan.setdefault("loads", {})["far-lamp"] = {"current": "1 A"}
        plan["wires"]["far-lamp-run"] = {
            "from": f"{name}.load",
            "to": "far-lamp",
            "cable": "lamp-cable",
            "length": "6 m",
        }
        return True
    return False


def _positive_bonded(plan: Plan) -> bool:
    """The positive of the bank tied to what is around it, in place of its negative."""
    name, cable = next(iter(plan["batteries"])), next(iter(plan["datasheets"]["cables"]))
    ground = "earth" if plan["setting"] == "cabin" else "chassis"
    plan["bonds"] = {"wrong": {"from": f"{name}.positive", "to": ground, "cable": cable}}
    return True


def _around_the_fuse(plan: Plan) -> bool:
    """A second wire beside each that leads from a battery through a fuse, without one."""
    banks, wires = set(plan["batteries"]), plan["wires"]
    fused = {n: w for n, w in wires.items() if {w["from"], w["to"]} & banks and "inline" in w}
    for name, wire in fused.items():
        bare = {key: value for key, value in wire.items() if key != "inline"}
        wires[f"{name}-again"] = {**bare, "length": "1 m"}
    return bool(fused)


def _nearly_nothing(plan: Plan) -> bool:
    """A wire of four metres that is written as four millimetres."""
    bare = [w for w in plan["wires"].values() if "inline" not in w]
    return _set(bare[:1], "length", "4 mm")


def _fed_from_itself(plan: Plan) -> bool:
    """A vehicle charger whose input is on the battery that it charges."""
    ends = [(w, w.get("to", "")) for w in plan["wires"].values()]
    into = [w for w, end in ends if str(end).endswith(".alternator")]
    charger = str(into[0]["to"]).split(".")[0] if into else ""
    out = [w for w in plan["wires"].values() if w["from"] == f"{charger}.battery"]
    for wire in into:
        wire["from"] = out[0]["to"]
    return bool(into)


def _hot_battery(plan: Plan) -> bool:
    """A battery in a place hotter than its label allows."""
    plan["site"]["places"]["oven"] = {"ambient": "58 °C"}
    for battery in plan["batteries"].values():
        battery.update(place="oven", max_temperature="45 °C")
    return True


def _long(wires: list[dict[str, Any]], length: str) -> bool:
    return _set(wires, "length", length)


def _inline_devices(plan: Plan, wires: list[dict[str, Any]], family: str) -> list[dict[str, Any]]:
    names = [
        n for w in wires for i in w.get("inline", []) for n in ([i] if isinstance(i, str) else i)
    ]
    return [plan[family][n] for n in names if n in plan.get(family, {})]


def _charge_fuse(plan: Plan, key: str, value: object) -> bool:
    fuses = _inline_devices(plan, _charge_wires(plan), "fuses")
    for fuse in fuses:
        fuse[key] = value
    return bool(fuses)


def _house_fuse(plan: Plan) -> bool:
    """An industrial fuse with the voltage of its label, which is one of alternating current."""
    fuses = _inline_devices(plan, _charge_wires(plan), "fuses")
    for fuse in fuses:
        fuse.update({"style": "cartridge", "voltage": "500 V"})
        fuse.pop("dc", None)
    return bool(fuses)


def _far_fuse(plan: Plan) -> bool:
    """Put every battery fuse four metres down a longer wire."""
    found = False
    for name, wire in plan["wires"].items():
        for inline in wire.get("inline", []):
            if not isinstance(inline, dict):
                continue
            for details in inline.values():
                end = wire["from"] if details["from_end"] == "from" else wire["to"]
                if end in plan["batteries"]:
                    wire["length"], details["distance"] = "5 m", "4 m"
                    found = True
        del name
    return found


def _bank_fuses_out(plan: Plan) -> bool:
    for wire in plan["wires"].values():
        if {wire["from"], wire["to"]} & set(plan["batteries"]) and "inline" in wire:
            for inline in wire.pop("inline"):
                for device in [inline] if isinstance(inline, str) else inline:
                    for family in ("fuses", "breakers"):
                        plan.get(family, {}).pop(device, None)
    plan.update({f: plan[f] for f in ("fuses", "breakers") if plan.get(f)})
    for family in ("fuses", "breakers"):
        if not plan.get(family, True):
            del plan[family]
    return True


def _one_more_module(plan: Plan) -> bool:
    """One string of several gets a module more than the others."""
    if "combiners" not in plan:
        return False
    string = next(iter(plan["strings"].values()))
    string["series"] = int(string.get("series", 1)) + 1
    _all(plan, "controllers", "max_input_voltage", "1000 V")
    return True


def _more_strings(plan: Plan) -> bool:
    """Five more of a string, plugged into the same joint."""
    if "combiners" not in plan:
        return False
    joint = next(iter(plan["combiners"].values()))
    joint["rating"] = "300 A"
    name = next(iter(plan["strings"]))
    for number in range(5):
        plan["strings"][f"extra-{number}"] = dict(plan["strings"][name])
        joint["joins"] = [*joint["joins"], f"extra-{number}"]
    return True


def _site(plan: Plan, key: str, value: str) -> bool:
    plan["site"][key] = value
    return True


def _places(plan: Plan, value: str) -> bool:
    for place in plan["site"]["places"].values():
        place["ambient"] = value
    return True


def _impossible(plan: Plan) -> bool:
    for module in plan["datasheets"]["modules"].values():
        module["imp"] = f"{float(module['isc'].split()[0]) * 1.05:.2f} A"
        module.pop("pmax", None)
    return True


def _too_powerful(plan: Plan) -> bool:
    for module in plan["datasheets"]["modules"].values():
        module["pmax"] = (
            f"{float(module['vmp'].split()[0]) * float(module['imp'].split()[0]) * 0.9:.0f} W"
        )
    return True


def _back_to_another_battery(plan: Plan) -> bool:
    """A lamp fed by one battery, whose negative leads to another that shares nothing with it."""
    name, battery = next(iter(plan["batteries"].items()))
    cable = next(iter(plan["datasheets"]["cables"]))
    alone = {k: v for k, v in battery.items() if k not in ("place", "shunt", "each_pack")}
    plan["batteries"]["apart"] = alone
    lamps = {"lost-lamp": {"current": "1 A"}, "apart-lamp": {"current": "1 A"}}
    plan.setdefault("loads", {}).update(lamps)
    run = {"cable": cable, "length": "1 m"}
    plan["wires"] |= {
        "lost-feed": {"from": f"{name}.positive", "to": "lost-lamp.positive", **run},
        "lost-back": {"from": "lost-lamp.negative", "to": "apart.negative", **run},
        "apart-run": {"from": "apart", "to": "apart-lamp", **run},
    }
    return True


def _unplugged_in_sun(plan: Plan) -> bool:
    """The only battery of a pulse-width controller can be unplugged, and a radio hangs on it."""
    if any(c["kind"] != "pwm" for c in plan["controllers"].values()) or len(plan["batteries"]) > 1:
        return False
    name, cable = next(iter(plan["batteries"])), next(iter(plan["datasheets"]["cables"]))
    plan.setdefault("loads", {})["radio"] = {"current": "2 A"}
    plan["wires"]["radio-run"] = {"from": name, "to": "radio", "cable": cable, "length": "1 m"}
    return _every(plan, "batteries", "removable", True)


def _sealed_among_people(plan: Plan) -> bool:
    """Sealed lead in a cabin of a boat from which no gas is led out."""
    if plan["setting"] != "boat":
        return False
    site = plan["site"]
    site.setdefault("places", {})["berth"] = {
        "ambient": "30 °C",
        "living_space": True,
        "vented": False,
    }
    return _every(plan, "batteries", "chemistry", "agm") and _every(
        plan, "batteries", "place", "berth"
    )


def _no_cut_off_in_the_cold(plan: Plan) -> bool:
    if any(b["chemistry"] != "lithium-iron-phosphate" for b in plan["batteries"].values()):
        return False
    plan["site"]["coldest"] = "-15 °C"
    for battery in plan["batteries"].values():
        battery["low_temperature_cutoff"] = False
        battery.pop("place", None)
    return _every(plan, "controllers", "low_temperature_cutoff", False)


def _high_and_carried(plan: Plan) -> bool:
    """Ten times the voltage, with modules that are set up by hand."""
    _every_module(plan, "voc", value="248 V")
    return _every(plan, "strings", "portable", True)


def _far_from_its_battery(plan: Plan) -> bool:
    """A charge voltage that no hot array here reaches; does not apply where voltage is raised."""
    if any(controller.get("boost") for controller in plan["controllers"].values()):
        return False
    _site(plan, "hottest", "55 °C")
    return _all(plan, "controllers", "charge_voltage", "90 V")


def _low_limit(plan: Plan) -> bool:
    """An input limit just under what the array gives on the coldest morning."""
    return _all(plan, "controllers", "max_input_voltage", "20 V")


def mutations() -> Iterator[Mutation]:
    """The table. Each is tried on every sound example to which it applies."""

    def made(
        name: str, catches: str, change: Callable[[Plan], bool], *silent: set[str]
    ) -> Mutation:
        return Mutation(name, change, catches, frozenset().union(*silent))

    yield made(
        "input limit under the cold voltage",
        "cold-voltage-over-controller",
        _low_limit,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        BANK,
    )
    yield made(
        "module system voltage low",
        "cold-voltage-over-module",
        lambda p: _modules(p, "max_system_voltage", "15 V"),
        ARRAY_CURRENT,
        LABELS,
        BANK,
    )
    yield made(
        "array cable of low voltage",
        "cold-voltage-over-device",
        lambda p: _own_cable(p, _array_wires(p), voltage="12 V"),
        ARRAY_CURRENT,
        LABELS,
        BANK,
    )
    yield made(
        "joint of low voltage",
        "cold-voltage-over-device",
        lambda p: _all(p, "combiners", "voltage", "12 V"),
        ARRAY_CURRENT,
        LABELS,
        BANK,
    )
    yield made(
        "joint of low rating",
        "combiner-over-rating",
        lambda p: _all(p, "combiners", "rating", "3 A"),
        ARRAY_VOLTAGE,
        LABELS,
        BANK,
    )
    yield made(
        "input current limit low",
        "controller-input-over-current",
        lambda p: _all(p, "controllers", "max_input_current", "2 A"),
        ARRAY_VOLTAGE,
        LABELS,
        BANK,
    )
    yield made(
        "array wire thin in heat",
        "conductor-too-small",
        lambda p: _places(p, "82 °C") and _thin(p, _array_wires(p)),
        ARRAY_VOLTAGE,
        LABELS,
        UNLIKE,
    )
    yield made(
        "charge wire thin",
        "fuse-over-conductor",  # what a small array gives may still be little for it
        lambda p: _thin(p, _charge_wires(p)),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
    )
    yield made(
        "array wire far too long",
        "voltage-drop-high",
        lambda p: _long(_array_wires(p), "300 m"),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        WIRING,
        BANK,
    )
    yield made(
        "charge fuse far too large",
        "fuse-over-conductor",
        lambda p: _charge_fuse(p, "rating", "600 A"),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
    )
    yield made(
        "charge fuse for alternating current",
        "device-not-for-dc",
        lambda p: _charge_fuse(p, "dc", False),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        WIRING,
    )
    yield made(
        "charge fuse of a house, with its voltage",
        "device-not-for-dc",
        _house_fuse,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        WIRING,
    )
    yield made(
        "charge fuse of low voltage",
        "device-not-for-dc",
        lambda p: _charge_fuse(p, "voltage", "6 V"),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        WIRING,
    )
    yield made(
        "battery that stands little charge",
        "charge-current-over-battery",
        lambda p: _all(p, "batteries", "max_charge_current", "2 A"),
        ARRAY_VOLTAGE,
        LABELS,
        WIRING,
    )
    yield made(
        "battery fuses far from the posts",
        "battery-fuse-missing",
        _far_fuse,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
    )
    yield made(
        "battery fuses left out",
        "battery-fuse-missing",
        _bank_fuses_out,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
    )
    yield made(
        "current over short circuit on the label",
        "module-values-impossible",
        _impossible,
        ARRAY_VOLTAGE,
        BANK,
    )
    yield made(
        "power that volts and amperes do not give",
        "module-power-disagrees",
        _too_powerful,
        ARRAY_VOLTAGE,
        BANK,
    )
    yield made(
        "air hotter than the insulation stands",
        "insulation-too-cool",
        lambda p: _places(p, "130 °C"),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
    )
    yield made(
        "one string longer than its neighbour",
        "unlike-voltage-in-parallel",
        _one_more_module,
        LABELS,
        BANK,
    )
    yield made(
        "solid conductors in what moves",
        "solid-conductor-in-motion",
        lambda p: p["setting"] != "cabin" and _own_cable(p, _charge_wires(p), strands="solid"),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        BANK,
        WIRING,
    )
    yield made(
        "charge wire too thick for its terminal",
        "conductor-over-terminal",
        lambda p: _every(p, "controllers", "max_conductor", "14 AWG"),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        BANK,
        WIRING,
    )
    yield made(
        "frames that nothing bonds",
        "frames-not-bonded",
        _no_frames,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        BANK,
        WIRING,
    )
    yield made(
        "a battery beside a heater",
        "battery-too-hot",
        _hot_battery,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        WIRING,
    )
    yield made(
        "more packs in parallel than their maker allows",
        "pack-count-over-limit",
        lambda p: (
            _every(p, "batteries", "arrangement", "3p")
            and _every(p, "batteries", "max_parallel", "2")
        ),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
    )
    yield made(
        "adapters in the array's run",
        "plug-polarity-unsure",
        lambda p: _set(_array_wires(p), "adapters", "2"),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        BANK,
        WIRING,
    )
    yield made(
        "many strings without fuses", "string-fuse-missing", _more_strings, ARRAY_VOLTAGE, LABELS
    )
    yield made(
        "a climate far too hot for the array",
        "hot-voltage-under-battery",
        _far_from_its_battery,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
    )
    yield made(
        "a lost minus sign",
        "module-coefficient-odd",
        lambda p: _modules(p, "voc_coefficient", "0.29 %/°C"),
        ARRAY_CURRENT,
        UNLIKE,
    )
    yield made(
        "modules with a regulator before a controller",
        "controller-feeds-controller",
        lambda p: _every_module(p, "regulated", value=True),
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        BANK,
        WIRING,
    )
    yield made(
        "a small plug in the array's run",
        "small-plug-overloaded",
        _small_plug,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        BANK,
        WIRING,
    )
    yield made(
        "a string that reads one module short",
        "reading-voltage-low",
        lambda p: _first_reading(p, "voc", 0.75),
        *PLANNED,
    )
    yield made(
        "a string that reads one module more",
        "reading-voltage-high",
        lambda p: _first_reading(p, "voc", 1.25),
        *PLANNED,
    )
    yield made(
        "a string that reads the wrong way round",
        "reading-polarity",
        lambda p: _first_reading(p, "voc", -1.0),
        *PLANNED,
    )
    yield made(
        "a string that reads half its current",
        "reading-current-low",
        lambda p: _first_reading(p, "isc", 0.5),
        *PLANNED,
    )
    yield made(
        "a string that reads far more current",
        "reading-current-high",
        lambda p: _first_reading(p, "isc", 1.4),
        *PLANNED,
    )
    yield made(
        "a joint that drops a volt",
        "reading-joint-drop",
        lambda p: _first_reading(p, "drop", 50.0),
        *PLANNED,
    )
    yield made(
        "a battery that reads far over its charge voltage",
        "reading-battery-overcharged",
        lambda p: _first_reading(p, "posts_voltage", 1.2),
        *PLANNED,
    )
    yield made(
        "posts that read a volt less than the controller",
        "reading-charge-voltage",
        lambda p: _first_reading(p, "posts_voltage", 0.96),
        *PLANNED,
    )
    yield made(
        "the positive at the chassis",
        "positive-bonded",
        _positive_bonded,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        BANK,
        WIRING,
    )
    yield made(
        "a second wire around the battery fuse",
        "battery-fuse-missing",
        _around_the_fuse,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
    )
    for name, catches, change in (
        ("a relay and no fuse to a second battery", "battery-fuse-missing", _relay_without_fuse),
        (
            "a second battery with no fuse but the first's",
            "battery-fuse-missing",
            _unfused_beside_a_fused_one,
        ),
        ("a battery fuse in the negative alone", "battery-fuse-missing", _fuse_in_the_negative),
        ("a relay far below its fuse", "device-behind-larger-fuse", _weak_relay),
        ("a thin wire on load terminals", "fuse-over-conductor", _thin_from_load_terminals),
    ):
        yield made(name, catches, change, ARRAY_VOLTAGE, LABELS, UNLIKE)
    yield made(
        "a negative that leads to another battery",
        "circuit-not-closed",
        _back_to_another_battery,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
    )
    yield made(
        "sealed lead in an unvented cabin of a boat",
        "battery-place-unsafe",
        _sealed_among_people,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
    )
    yield made(
        "lithium in frost, and nothing that cuts its charge off",
        "charge-below-freezing",
        _no_cut_off_in_the_cold,
        LABELS,
        UNLIKE,
    )
    yield made(
        "the only battery unplugged in sun", "battery-taken-away-in-sun", _unplugged_in_sun, LABELS
    )
    yield made("a portable array of 248 V", "array-voltage-shock", _high_and_carried, UNLIKE)
    yield made("millimetres for metres", "wire-length-odd", _nearly_nothing, *PLANNED[:5])
    yield made(
        "a vehicle charger that feeds itself",
        "vehicle-charger-input-wrong",
        _fed_from_itself,
        ARRAY_VOLTAGE,
        ARRAY_CURRENT,
        LABELS,
        UNLIKE,
        BANK,
    )
