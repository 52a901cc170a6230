"""Units that convert: inverter and charger in one case, and one direct voltage into another."""

from typing import Annotated, ClassVar, Self

from pydantic import ConfigDict, Field, model_validator

from wattproof.plan.fields import Current, Flag, Share, Voltage, hide, one_of
from wattproof.plan.power import Charger, Inverter, refuse_over_whole
from wattproof.source import Text


class InverterCharger(Inverter, Charger):
    """An inverter and a shore charger in one case, on one cable to the battery.

    On shore power or a generator it passes that on and charges; without, it makes mains voltage
    from the battery. The AC side is outside the plan.
    """

    hidden: ClassVar[frozenset[str]] = frozenset({"kind", "regulator", "senses_heat"})
    model_config = ConfigDict(json_schema_extra=hide(hidden))

    kind: Annotated[Text, one_of("shore")] = Field(
        Text("shore"), description="What its charger side draws from."
    )
    transfer: Current | None = Field(
        None,
        description="Rated current of its transfer switch, on the AC side.",
        examples=["30 A"],
    )


class Converter(Charger):
    """A DC converter from one voltage to another. Terminals: `input` and `output`."""

    hidden: ClassVar[frozenset[str]] = frozenset({"kind", "nominal", "regulator", "senses_heat"})
    model_config = ConfigDict(json_schema_extra=hide(hidden))

    kind: Annotated[Text, one_of("converter")] = Field(Text("converter"), description="What it is.")
    input_nominal: Voltage = Field(description="Nominal voltage at its input.", examples=["24 V"])
    output_nominal: Voltage = Field(description="Nominal voltage at its output.", examples=["12 V"])
    max_input_current: Current | None = Field(
        None, description="Largest input current, where it is stated.", examples=["20 A"]
    )
    efficiency: Share | None = Field(
        None, description="Efficiency at full power.", examples=["90 %"]
    )
    isolated: Flag = Field(
        False,
        description="True where input and output share no pole; else their negatives are one.",
        examples=[False],
    )

    @model_validator(mode="after")
    def _nominal_of_its_output(self) -> Self:
        refuse_over_whole(self.efficiency)
        self.__dict__["nominal"] = self.output_nominal
        return self
