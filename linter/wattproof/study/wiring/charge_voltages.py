"""What has a voltage printed on it, opens nothing, and lies on the voltage of a bank."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.devices import Busbar
from wattproof.plan.splitting import Isolator
from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.study.battery.side import BatterySide
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared


@record
class OnChargeVoltage:
    """A bar, isolator or cable: what it is, its printed voltage and the highest it meets (V).

    key: under which the plan holds what is printed.
    """

    what: str
    part: Busbar | Isolator | WireStudy
    rated: Value
    volts: Value
    key: str

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
    parts: list[tuple[str, Busbar | Isolator, str]] = [
        *(("busbar", bar, "") for bar in plan.busbars.values()),
        *(("isolator", isolator, "input") for isolator in plan.diode_isolators.values()),
    ]
    for what, part, port in parts:
        plus = Terminal(part.name, port, "positive")
        volts = battery_side.highest_voltage(plus)
        if part.voltage is not None and plus in circuit.around and volts is not None:
            yield OnChargeVoltage(what, part, _rated(part.voltage, part.name), volts, "voltage")
    seen: set[str] = set()
    for wire in wires:
        written, name = wire.sheet.voltage, str(wire.sheet.name)
        if wire.side == "battery" and written and wire.volts is not None and name not in seen:
            seen.add(name)
            rated = _rated(written, name)
            yield OnChargeVoltage("cable", wire, rated, wire.volts, "cable.voltage")


def _rated(written: Quantity, name: str) -> Value:
    return declared(written, f"Un({name})", f"rated voltage of {name}")
