"""Relays between two banks that sense voltage, and the sun that raises it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.plan.devices import Switch
from wattproof.plan.power import Controller
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.joined import JoinedBanks
from wattproof.study.battery.side import BatterySide
from wattproof.study.curves.window import Window
from wattproof.working import Value, declared


@record
class SensedInSun:
    """A relay between two banks, and a solar controller that charges one of them.

    closes: voltage above which the relay closes (V). charge: what the controller charges to (V).
    """

    relay: Switch
    banks: tuple[BankStudy, BankStudy]
    controller: Controller
    closes: Value
    charge: Value


def sensed_in_sun(
    joined: Iterable[JoinedBanks], windows: Iterable[Window], battery_side: BatterySide
) -> Iterator[SensedInSun]:
    """Every such relay with every such controller."""
    windows = tuple(windows)
    for pair in joined:
        relay = pair.relay
        if relay is None or relay.closes_above is None:
            continue
        words = f"voltage at which {relay.name} closes"
        closes = declared(relay.closes_above, f"Uclose({relay.name})", words)
        for window in windows:
            charge = window.charge_voltage
            if charge is not None and window.bank in battery_side.beside(pair.first):
                banks, controller = (pair.first, pair.second), window.array.controller
                yield SensedInSun(relay, banks, controller, closes, charge)
