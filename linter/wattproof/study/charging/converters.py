"""What draws from DC converters."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Terminal
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.record import record
from wattproof.study.wiring.discharging import consumers_on
from wattproof.study.wiring.network import Network
from wattproof.working import Value, total


@record
class Converted:
    """A converter that feeds consumers without a battery on its output.

    consumers: each with its current. current: their sum (A). output: what it gives (A).
    """

    converter: Converter
    consumers: tuple[Named, ...]
    current: Value
    output: Value


def converted(network: Network) -> Iterator[Converted]:
    """Every converter that feeds something and charges nothing."""
    battery_side, circuit = network.battery_side, network.circuit
    for name, converter in circuit.plan.converters.items():
        terminal = Terminal(name, "output", "positive")
        found = list(consumers_on(circuit.nets.net(terminal), network))
        if found and not battery_side.banks_of(terminal):
            words = f"current of all that hangs on {name}"
            current = total([amps for _, amps in found]).named(f"I({name})", words, "A")
            consumers = tuple(consumer for consumer, _ in found)
            yield Converted(converter, consumers, current, battery_side.output(converter))
