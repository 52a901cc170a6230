"""Up to which direct voltage a device can open: printed, by its style, or as is usual."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

from wattproof.codes import OF_VEHICLES, DeviceStyle
from wattproof.plan.devices import Device, Distribution, Way
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.devices import (
    NO_DC_MARK,
    NO_DEVICE_VOLTAGE,
    NO_VOLTAGE_AT_ALL,
)
from wattproof.working import Value, declared

Circuits: TypeAlias = Literal["array", "battery to 24 V", "battery above"]

HIGHEST_OF_24_V: Final = 26.0
"""Nominal voltage (V) up to which a bank counts as one of 12 or 24 V."""


def of_bank(nominal: Value | None) -> Circuits:
    """The circuits of a bank of a nominal voltage (V), of 12 or 24 V where that is not known."""
    low = nominal is None or nominal.number <= HIGHEST_OF_24_V
    return "battery to 24 V" if low else "battery above"


def rated_voltage(
    device: Device | Way,
    printed_on: Device | Way | Distribution,
    style: DeviceStyle | None,
    circuits: Circuits,
    assume: Assumer,
) -> Value | None:
    """Rated DC voltage (V) of a device; its panel may hold it.

    None for a style that is made for alternating current unless it is marked.
    """
    device_name, name = str(device.name), str(printed_on.name)
    written = getattr(printed_on, "voltage", None)
    if written is not None:
        return declared(written, f"Un({device_name})", f"rated voltage of {device_name}")
    if style is None or (style.dc_voltage is None and getattr(device, "dc", None)):
        return assume.value(NO_VOLTAGE_AT_ALL, name, printed_on.at, kind=circuits)
    rating = getattr(device, "rating", None)
    if style.dc_voltage is None and rating is not None and style.is_of_vehicles(rating.value):
        kind = f"{style.title} of its rating"
        return assume.value(
            NO_DEVICE_VOLTAGE, device_name, device.at, number=OF_VEHICLES, kind=kind
        )
    if style.dc_voltage is None:
        marked, _ = assume.is_so(NO_DC_MARK, name, printed_on.at, usual=False)
        if not marked:
            return None
        kind = "array" if circuits == "array" else "battery to 24 V"
        return assume.value(NO_VOLTAGE_AT_ALL, name, printed_on.at, kind=kind)
    volts = style.dc_voltage.value
    return assume.value(NO_DEVICE_VOLTAGE, device_name, device.at, number=volts, kind=style.title)
