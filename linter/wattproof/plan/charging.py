"""How a source charges: the voltages that are set in it, and how they follow the temperature."""

from typing import Self

from pydantic import Field, model_validator

from wattproof.plan.fields import Flag, Named, Voltage, VoltageCoefficient
from wattproof.quantities import Mistake


class Charging(Named):
    """What every source that charges a battery has set in it."""

    charge_voltage: Voltage | None = Field(
        None, description="Highest charge voltage that is set.", examples=["14.2 V"]
    )
    float_voltage: Voltage | None = Field(
        None,
        description="Voltage at which it holds a battery that is full.",
        examples=["13.5 V"],
    )
    equalise_voltage: Voltage | None = Field(
        None,
        description="Voltage to which it raises a full battery now and then, to even out its "
        "cells; left out where that is switched off.",
        examples=["15.5 V"],
    )
    compensates_temperature: Flag | None = Field(
        None,
        description="True where it raises the charge voltage in the cold and lowers it in heat.",
        examples=[True],
    )
    compensation: VoltageCoefficient | None = Field(
        None,
        description="Change of its charge voltage with the temperature of the battery, for the "
        "whole battery: what is told for a cell, times the number of cells.",
        examples=["-18 mV/°C"],
    )

    @model_validator(mode="after")
    def _says_one_thing(self) -> Self:
        told = self.compensation
        if told is None:
            return self
        follows = told.value != 0.0
        if self.compensates_temperature is not None and self.compensates_temperature != follows:
            said = "true" if follows else "false"
            message = f"`compensation: {told.text}` contradicts `compensates_temperature`"
            instead = f"keep one of the two, or write `compensates_temperature: {said}`"
            raise Mistake(message, instead, told.place)
        self.__dict__["compensates_temperature"] = follows
        return self
