"""What has a voltage printed on it, opens nothing, and lies on the voltage of a bank."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.devices import Busbar
from wattproof.plan.power import Load
from wattproof.plan.splitting import Isolator
from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.study.battery.side import BatterySide
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared


@record
class OnChargeVoltage:
    """A bar, isolator, load or cable: what it is, its printed voltage and the highest it meets (V).

    key: under which the plan holds what is printed.
    """

    what: str
    part: Busbar | Isolator | Load | WireStudy
    rated: Value
    volts: Value
    key: str

    @property
    def is_marked(self) -> bool:
        """True where it is a mark, which may name a system; a load tells what it stands."""
        return self.what != "load"

    @property
    def name(self) -> str:
        """Its name; of a cable that of its datasheet."""
        part = self.part
        return str(part.sheet.name if isinstance(part, WireStudy) else part.name)


def on_charge_voltage(
    circuit: Circuit, battery_side: BatterySide, wires: Iterable[WireStudy]
) -> Iterator[OnChargeVoltage]:
    """Every one that tells its voltage and is joined to a positive that is charged."""
    plan = circuit.plan
    parts: list[tuple[str, Busbar | Isolator | Load, str, str]] = [
        *(("busbar", bar, "", "voltage") for bar in plan.busbars.values()),
        *(("isolator", each, "input", "voltage") for each in plan.diode_isolators.values()),
        *(("load", load, "", "max_voltage") for load in plan.all_loads.values()),
    ]
    for what, part, port, key in parts:
        written: Quantity | None = getattr(part, key)
        plus = Terminal(part.name, port, "positive")
        volts = battery_side.highest_voltage(plus)
        if written is not None and plus in circuit.around and volts is not None:
            yield OnChargeVoltage(what, part, _rated(written, part.name), volts, key)
    seen: set[str] = set()
    for wire in wires:
        printed, name = wire.sheet.voltage, str(wire.sheet.name)
        if wire.side == "battery" and printed and wire.volts is not None and name not in seen:
            seen.add(name)
            rated = _rated(printed, name)
            yield OnChargeVoltage("cable", wire, rated, wire.volts, "cable.voltage")


def _rated(written: Quantity, name: str) -> Value:
    return declared(written, f"Un({name})", f"rated voltage of {name}")
