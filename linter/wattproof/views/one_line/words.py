"""What stands beside a symbol of the one-line view: what a part is and what is printed on it."""

from __future__ import annotations

from collections import Counter
from typing import Final, Literal, TypeAlias

from wattproof.plan.arc_faults import ArcFaultDevice
from wattproof.plan.array import Combiner, String
from wattproof.plan.bonding import FrameBond
from wattproof.plan.boxes import PowerBox
from wattproof.plan.converting import Converter, InverterCharger
from wattproof.plan.datasheets import CableSheet
from wattproof.plan.devices import Arrester, Breaker, Busbar, Distribution, Fuse, Switch, Way
from wattproof.plan.fields import Named
from wattproof.plan.heating import Heater
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.splitting import Isolator, Selector
from wattproof.plan.starting import Starter
from wattproof.plan.wiring import Bond, Inline, Wire
from wattproof.working import told_word

SymbolKind: TypeAlias = Literal[
    "string",
    "combiner",
    "fuse",
    "breaker",
    "switch",
    "busbar",
    "panel",
    "controller",
    "battery",
    "inverter",
    "load",
    "alternator",
    "shore",
    "arrester",
    "plug",
    "chassis",
    "water",
    "earth",
    "starter",
    "converter",
    "isolator",
    "selector",
    "box",
    "arc-fault",
]
_KINDS: Final[dict[type[Named], SymbolKind]] = {
    String: "string",
    Combiner: "combiner",
    Fuse: "fuse",
    Breaker: "breaker",
    Switch: "switch",
    Busbar: "busbar",
    Distribution: "panel",
    Controller: "controller",
    Battery: "battery",
    Inverter: "inverter",
    Load: "load",
    Heater: "load",
    Starter: "starter",
    Isolator: "isolator",
    Selector: "selector",
    PowerBox: "box",
    ArcFaultDevice: "arc-fault",
    InverterCharger: "inverter",
    Converter: "converter",
}
GROUNDS: Final[dict[str, SymbolKind]] = {"chassis": "chassis", "water": "water", "earth": "earth"}
MAINS: Final = "mains side: not checked"
_CHARGERS: Final = {
    "alternator": "alternator",
    "shore": "shore charger",
    "wind": "wind generator",
    "converter": "converter",
}
_CONTROLLERS: Final = {
    "mppt": "tracker",
    "pwm": "pulse-width controller",
    "vehicle-charger": "vehicle charger",
}


def kind_of(component: Named) -> SymbolKind:
    """The symbol that a component has."""
    if type(component) is Charger:
        return "shore" if component.kind == "shore" else "alternator"
    return _KINDS[type(component)]


def is_many(component: Named) -> bool:
    """True for a string of several modules, or a bank of several batteries."""
    if isinstance(component, String):
        layout = component.arrangement
        if layout is not None:
            return layout.in_series * layout.in_parallel > 1
        listed = len(component.modules) if component.modules is not None else 1
        return max(listed, int(component.series or 1), int(component.count or 1)) > 1
    bank = component.arrangement if isinstance(component, Battery) else None
    return bank is not None and bank.in_series * bank.in_parallel > 1


def says(component: Named) -> tuple[str, ...]:
    """What a component is and what is printed on it, in lines."""
    if isinstance(component, String):
        return _string(component)
    if isinstance(component, Way):
        return (f"fuse {component.fuse}", *_printed(component.style))
    if isinstance(component, Isolator):
        drop = f"drop {component.drop}" if component.drop is not None else None
        return (f"diode isolator {component.rating}", *_printed(drop))
    if isinstance(component, Fuse | Breaker | Switch | ArcFaultDevice):
        return _device(component)
    if isinstance(component, PowerBox):
        amps = component.usable_input_current or component.max_input_current
        return (
            "portable power box",
            f"takes up to {_listed(component.max_input_voltage, amps)}",
            f"and {component.max_input_power}",
        )
    if isinstance(component, Converter):
        volts = f"{component.input_nominal} to {component.output_nominal}"
        return (f"DC converter {volts}", f"gives up to {component.max_output_current}")
    if isinstance(component, InverterCharger):
        charges = _listed(component.max_output_current, component.charge_voltage)
        return (f"inverter and charger {component.power}", f"charges with {charges}", MAINS)
    if isinstance(component, Starter):
        return ("starter motor", str(component.current))
    if isinstance(component, Controller):
        limits = [i.max_input_voltage for i in component.inputs.values()]
        takes = component.max_input_voltage or next((v for v in limits if v is not None), None)
        return (
            _CONTROLLERS.get(told_word(component.kind), "charge controller"),
            *_printed(f"takes up to {takes}" if takes is not None else None),
            f"gives up to {component.limited_to or component.max_output_current}",
        )
    if isinstance(component, Battery):
        layout = component.arrangement
        each = f"{layout.text} of {component.nominal}, {component.capacity}" if layout else ""
        return (told_word(component.chemistry).replace("-", " "), *_printed(each))
    if isinstance(component, Charger):
        kind = _CHARGERS[component.kind]
        outside = "external regulator" if component.regulator == "external" else None
        held = f"held to {component.limited_to}" if component.limited_to is not None else None
        rated = _listed(component.max_output_current, component.charge_voltage)
        return (kind, rated, *_printed(_listed(outside, held) or None))
    if isinstance(component, Inverter):
        return (f"inverter {component.power}", MAINS)
    if isinstance(component, Load):
        critical = "critical" if component.critical else None
        warms = f"heater of {component.warms}" if isinstance(component, Heater) else None
        return _printed(component.note, warms, critical, component.power)
    if isinstance(component, Arrester):
        return ("surge arrester", f"stands {component.voltage}")
    if isinstance(component, Combiner):
        return (component.kind.replace("-", " "), *_rated(component))
    if isinstance(component, Busbar):
        return ("busbar", *_rated(component))
    assert isinstance(component, Distribution)
    return ("panel", *_rated(component))


def _string(string: String) -> tuple[str, ...]:
    diode = f"blocking diode {string.blocking_diode}" if string.blocking_diode else None
    portable = "portable" if string.portable else None
    return (_modules(string), *_printed(diode, portable))


def _modules(string: String) -> str:
    if string.modules is not None:
        counted = Counter(str(name) for name in string.modules)
        listed = ", ".join(f"{n} × {name}" for name, n in counted.items())
        return f"{listed} in series" if len(string.modules) > 1 else listed
    if "arrangement" in string.open:
        return f"{string.count} × {string.module}"
    if string.arrangement is not None:
        return f"{string.arrangement.text} of {string.module}"
    count = int(string.series or 1)
    return f"{count} × {string.module}{' in series' if count > 1 else ''}"


def _device(device: Fuse | Breaker | Switch | ArcFaultDevice) -> tuple[str, ...]:
    kinds = {"selector": "selector switch", "arc-fault": "arc-fault device"}
    kind = kinds.get(_KINDS[type(device)], _KINDS[type(device)])
    poles = getattr(device, "poles", None)
    counted = None if poles is None else f"{poles} pole{'' if poles == 1 else 's'}"
    for_ac = "for AC only" if device.dc is False else None
    style = getattr(device, "style", None)
    rated = f"{kind} {_listed(device.rating, device.voltage)}"
    polarised = "polarised" if getattr(device, "polarised", False) else None
    opens = _opens(device) if isinstance(device, Switch) else None
    interrupt = getattr(device, "interrupt", None)
    breaks = f"breaks {interrupt}" if interrupt is not None else None
    marked = _listed(style, counted, breaks, for_ac) or None
    return (rated, *_printed(marked), *_printed(polarised, opens))


def _opens(switch: Switch) -> str | None:
    """When a switch opens or closes by itself."""
    by = f"opened by {switch.opened_by}" if switch.opened_by is not None else None
    below = f"opens below {switch.opens_below}" if switch.opens_below is not None else None
    return _listed(by, below) or None


def place_in_wire(wire: Wire, inline: Inline) -> tuple[str, ...]:
    """Where a device sits in its wire, where that is stated."""
    if inline.distance is None:
        return ()
    end = wire.to if inline.from_end == "to" else wire.start
    return (f"{inline.distance} from {end}",)


def size_says(conductor: Wire | Bond | FrameBond, sheet: CableSheet) -> tuple[str, ...]:
    """Number and size of the conductors of each pole, and the metal where it is not copper."""
    parallel = getattr(conductor, "parallel", None)
    many = f"{parallel} × " if parallel is not None and parallel > 1 else ""
    metal = f" {sheet.material}" if sheet.material not in (None, "copper") else ""
    return (f"{many}{sheet.size}{metal}",)


def plug_says(wire: Wire) -> tuple[str, ...]:
    """The small plug in a wire; empty without one."""
    if wire.plug is None:
        return ()
    return (f"plug, {wire.plug.replace('-', ' ')}", *_printed(wire.plug_rating))


def _rated(component: Combiner | Busbar | Distribution) -> tuple[str, ...]:
    return _printed(_listed(component.rating, component.voltage))


def _listed(*texts: object) -> str:
    return ", ".join(_printed(*texts))


def _printed(*texts: object) -> tuple[str, ...]:
    return tuple(str(text) for text in texts if text is not None and str(text))
