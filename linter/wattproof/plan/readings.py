"""What a meter showed once the installation was built."""

from typing import Annotated, Final, Self

from pydantic import Field, model_validator

from wattproof.plan.clock import ClockTime
from wattproof.plan.fields import (
    Date,
    EnergyShown,
    Irradiance,
    LabelWords,
    MeasuredCurrent,
    MeasuredVoltage,
    Named,
    Part,
    PowerShown,
    Reference,
    Share,
    Temperature,
    VoltageDifference,
    ZeroDrift,
    one_of,
)
from wattproof.quantities import Mistake
from wattproof.source import Text

MEASURED: Final = (
    "voc",
    "isc",
    "voltage",
    "current",
    "power",
    "day_yield",
    "posts_voltage",
    "drop",
    "joint_temperature",
)
"""The keys of a reading that a meter fills; the others say how and when."""

STAGES: Final = ("bulk", "absorption", "float", "equalise")
HELD_BACK: Final = ("absorption", "float", "equalise")
"""The stages in which the battery takes less than there may be."""
BRIGHTEST: Final = 2000.0  # W/m²; beside white cloud the sun was seen a little under this
COLDEST, HOTTEST = -60.0, 120.0  # °C, of what is read


class Meter(Part):
    """How far the meter may be off."""

    voltage: Share | None = Field(None, description="Of the voltage shown.", examples=["0.5 %"])
    current: Share | None = Field(None, description="Of the current shown.", examples=["2 %"])
    zero: ZeroDrift | None = Field(
        None, description="What the clamp may show with no current in it.", examples=["0.3 A"]
    )
    power: Share | None = Field(
        None, description="Of the power that a display shows.", examples=["3 %"]
    )
    irradiance: Share | None = Field(None, description="Of the irradiance shown.", examples=["5 %"])


class Reading(Named):
    """What a meter showed at one place at one time. Write minus where the meter does."""

    at_terminal: Reference = Field(
        alias="at",
        description="Where: a string, a joint, `pv` or `battery` of a controller, a battery, or "
        "the device that a drop is measured over.",
        examples=["port"],
    )
    taken: LabelWords | None = Field(
        None,
        description="Date, time and sky. Readings with the same words count as taken together.",
        examples=["2026-06-21 12:40, clear"],
    )
    voc: MeasuredVoltage | None = Field(
        None,
        description="Open-circuit voltage: nothing connected, red probe on positive.",
        examples=["68.1 V"],
    )
    isc: MeasuredCurrent | None = Field(
        None, description="Short-circuit current.", examples=["9.3 A"]
    )
    voltage: MeasuredVoltage | None = Field(
        None, description="Voltage in operation.", examples=["52.6 V"]
    )
    current: MeasuredCurrent | None = Field(
        None, description="Current in operation.", examples=["17.1 A"]
    )
    power: PowerShown | None = Field(
        None,
        description="Power in operation, as the display of a controller shows it.",
        examples=["310 W"],
    )
    day_yield: EnergyShown | None = Field(
        None,
        description="Energy of one whole day, as the display of a controller shows it in the "
        "evening. `date` says of which; with `sky: clear`, no cloud was seen from morning to "
        "evening.",
        examples=["1.2 kWh"],
    )
    posts_voltage: MeasuredVoltage | None = Field(
        None,
        description="Voltage at the posts of the battery, read together with `voltage` at the "
        "controller's battery terminals.",
        examples=["13.9 V"],
    )
    drop: VoltageDifference | None = Field(
        None,
        description="Voltage between the two sides of the device or joint, in operation.",
        examples=["60 mV"],
    )
    joint_temperature: Temperature | None = Field(
        None, description="Surface of the device or joint, in operation.", examples=["46 °C"]
    )
    irradiance: Irradiance | None = Field(
        None,
        description="Irradiance in the plane of the modules. A telephone does not measure it.",
        examples=["850 W/m²"],
    )
    sky: Annotated[Text, one_of("clear")] | None = Field(
        None,
        description="Where no irradiance was measured: `clear` where no cloud and no haze was near "
        "the sun. Needs `date` and `time`, and the latitude of the site.",
        examples=["clear"],
    )
    date: Date | None = Field(None, description="The day it was taken.", examples=["2026-06-21"])
    time: ClockTime | None = Field(
        None,
        description="The time of day on the clock there, `solar` behind it where noon is when the "
        "sun stands highest. In quotes.",
        examples=["12:40"],
    )
    back_temperature: Temperature | None = Field(
        None, description="Back of a module, behind a cell.", examples=["48 °C"]
    )
    air_temperature: Temperature | None = Field(
        None, description="Air in the shade nearby.", examples=["27 °C"]
    )
    stage: Annotated[Text, one_of(*STAGES)] | None = Field(
        None,
        description="What the controller says it does: bulk takes all it gets, in absorption, "
        "float and equalise the battery sets the current.",
        examples=["bulk"],
    )
    meter: Meter | None = Field(None, description="How far the meter may be off.")

    @model_validator(mode="after")
    def _something_measured(self) -> Self:
        if all(getattr(self, key) is None for key in MEASURED):
            raise Mistake(
                "a reading holds nothing that a meter showed",
                f"write at least one of {', '.join(f'`{key}`' for key in MEASURED)}",
            )
        return self

    @model_validator(mode="after")
    def _what_belongs_together(self) -> Self:
        if self.posts_voltage is not None and self.voltage is None:
            raise Mistake(
                "`posts_voltage` is compared with the voltage at the controller",
                "write that as `voltage`, read at the same time",
                self.posts_voltage.place,
            )
        if self.joint_temperature is not None and self.air_temperature is None:
            raise Mistake(
                "`joint_temperature` says something only beside that of the air",
                "write `air_temperature: … °C` as it was near the joint",
                self.joint_temperature.place,
            )
        return self

    @model_validator(mode="after")
    def _sky_at_a_moment(self) -> Self:
        of_a_day = self.day_yield is not None and all(
            getattr(self, key) is None for key in MEASURED if key != "day_yield"
        )
        if of_a_day and self.sky is not None and self.date is None:
            raise Mistake(
                "how much a clear sky brings in a day depends on the day",
                "write `date: 2026-06-21` beside it, as it was",
                self.sky.place,
            )
        if of_a_day or self.sky is None:
            return self
        if self.date is None or self.time is None:
            raise Mistake(
                "how bright a clear sky is depends on the day and the hour",
                "write `date: 2026-06-21` and `time: 12:40` beside it, as they were",
                self.sky.place,
            )
        return self

    @model_validator(mode="after")
    def _possible_in_the_sun(self) -> Self:
        if self.irradiance is not None and self.irradiance.value > BRIGHTEST:
            raise Mistake(
                f"`{self.irradiance}` is brighter than the sun ever shines",
                "write it as an irradiance meter shows it: full sun is about `1000 W/m²`",
                self.irradiance.place,
            )
        for read, what in (
            (self.back_temperature, "a module in the sun"),
            (self.air_temperature, "air that anyone reads a meter in"),
        ):
            if read is not None and not COLDEST <= read.value <= HOTTEST:
                message = f"`{read}` is no temperature of {what}"
                raise Mistake(message, "check the number and its unit", read.place)
        return self
