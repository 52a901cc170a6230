"""What labels and datasheets say: photovoltaic modules and cables."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from wattproof.plan.cable_types import cable_type, said_by
from wattproof.plan.fields import (
    Area,
    ConductorSizeField,
    Current,
    CurrentCoefficient,
    Flag,
    LabelWords,
    Named,
    Part,
    Power,
    PowerCoefficient,
    Share,
    Temperature,
    Voltage,
    VoltageCoefficient,
    Whole,
    WholeOrNone,
    needed,
    one_of,
)
from wattproof.source import Text


class Connector(Part):
    """The connector at a module's leads."""

    style: LabelWords | None = Field(
        None, description="Kind of connector.", examples=["locking-pv"]
    )
    make: LabelWords | None = Field(
        None,
        description="Who made it, or a letter for it: unlike makes must not mate.",
        examples=["A"],
    )
    rating: Current | None = Field(None, description="Rated current.", examples=["30 A"])
    voltage: Voltage | None = Field(None, description="Rated DC voltage.", examples=["1000 V"])


class ModuleSheet(Named):
    """The label of a photovoltaic module at standard test conditions (1000 W/m², cells 25 °C)."""

    voc: Voltage = needed(description="Open-circuit voltage.", examples=["24.6 V"])
    voc_tolerance: Share | None = Field(
        None,
        description="By how much its open-circuit voltage may lie above the printed one, where "
        "the label tells it; else 3 %.",
        examples=["3 %"],
    )
    isc: Current = needed(description="Short-circuit current.", examples=["10.2 A"])
    vmp: Voltage = needed(description="Voltage at maximum power.", examples=["20.5 V"])
    imp: Current | None = Field(
        None,
        description="Current at maximum power; without it, power over voltage.",
        examples=["9.76 A"],
    )
    pmax: Power | None = Field(
        None, description="Maximum power; without it, voltage times current.", examples=["200 W"]
    )
    voc_coefficient: VoltageCoefficient | None = Field(
        None,
        description="Change of open-circuit voltage with temperature.",
        examples=["-0.29 %/°C"],
    )
    vmp_coefficient: VoltageCoefficient | None = Field(
        None,
        description="Change of voltage at maximum power with temperature.",
        examples=["-0.38 %/°C"],
    )
    isc_coefficient: CurrentCoefficient | None = Field(
        None,
        description="Change of short-circuit current with temperature.",
        examples=["0.05 %/°C"],
    )
    pmax_coefficient: PowerCoefficient | None = Field(
        None, description="Change of maximum power with temperature.", examples=["-0.36 %/°C"]
    )
    noct: Temperature | None = Field(
        None,
        description="Nominal operating cell temperature: of its cells in an open rack at 800 W/m², "
        "in air of 20 °C with a little wind.",
        examples=["45 °C"],
    )
    cells_in_series: Whole | None = Field(
        None, description="Number of cells in series.", examples=[36]
    )
    bypass_diodes: WholeOrNone | None = Field(
        None, description="Number of bypass diodes; 0 where there are none.", examples=[2]
    )
    max_series_fuse: Current | None = Field(
        None, description="Maximum series fuse rating on the label.", examples=["15 A"]
    )
    max_system_voltage: Voltage | None = Field(
        None, description="Maximum system voltage on the label.", examples=["600 V"]
    )
    area: Area | None = Field(
        None, description="Area of the module, its frame included.", examples=["0.55 m²"]
    )
    technology: Annotated[Text, one_of("crystalline", "thin-film")] = Field(
        Text("crystalline"), description="Cell technology.", examples=["crystalline"]
    )
    build: Annotated[Text, one_of("rigid", "flexible", "folding")] = Field(
        Text("rigid"), description="How the module is made.", examples=["rigid"]
    )
    bifaciality: Share | None = Field(
        None,
        description="Current that its back gives for the light of the front, for a module that "
        "takes light from both sides.",
        examples=["70 %"],
    )
    regulated: Flag = Field(
        False,
        description="True where a charge regulator is built onto it, and its leads come from that.",
        examples=[True],
    )
    connector: Connector | None = Field(None, description="The connector at its leads.")


class CableSheet(Named):
    """What is printed on a cable."""

    MAY_BE_OPEN = ("size",)

    type: Annotated[Text, cable_type()] | None = Field(
        None,
        description="Type designation as printed on it. Kind, insulation temperature, voltage and "
        "outdoor use are taken from it where the sheet leaves them out.",
        examples=["H1Z2Z2-K"],
    )
    size: ConductorSizeField = needed(
        description="Size of one conductor, as a gauge or an area.", examples=["10 AWG", "6 mm²"]
    )
    material: Annotated[Text, one_of("copper", "aluminium", "copper-clad-aluminium")] | None = (
        Field(None, description="Metal of the conductor.", examples=["copper"])
    )
    kind: (
        Annotated[Text, one_of("pv", "battery", "marine", "automotive", "welding", "building")]
        | None
    ) = Field(None, description="What it is sold as.", examples=["pv"])
    strands: Annotated[Text, one_of("solid", "stranded", "fine")] | None = Field(
        None,
        description="How the conductor is made: one solid wire, some stout strands, or many fine "
        "ones.",
        examples=["fine"],
    )
    insulation_temperature: Temperature | None = Field(
        None, description="Temperature rating of the insulation.", examples=["90 °C"]
    )
    voltage: Voltage | None = Field(None, description="Rated voltage.", examples=["600 V"])
    outdoor: Flag | None = Field(
        None,
        description="True where it is marked for sunlight and wet places, false where it is not.",
        examples=[True],
    )
    direct_burial: Flag | None = Field(
        None,
        description="True where it may lie in the ground without a pipe.",
        examples=[True],
    )

    @model_validator(mode="after")
    def _what_its_type_says(self) -> Self:
        if self.type is not None:
            for key, value in said_by(self.type).items():
                if getattr(self, key) is None:
                    self.__dict__[key] = value
        return self


class Datasheets(Part):
    """What the labels say, by the names that the plan uses."""

    modules: dict[str, ModuleSheet] = Field(
        default_factory=dict, description="Labels of photovoltaic modules."
    )
    cables: dict[str, CableSheet] = Field(default_factory=dict, description="Kinds of cable.")
