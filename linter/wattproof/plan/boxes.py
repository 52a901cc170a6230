"""Portable power boxes: battery, controller and outlets in one case that nobody opens."""

from typing import Annotated, ClassVar

from pydantic import ConfigDict, Field

from wattproof.plan.fields import Current, Power, hide, needed, one_of
from wattproof.plan.power import Controller
from wattproof.source import Text


class PowerBox(Controller):
    """A portable power box. What is inside is not the plan's; what its inputs stand is.

    Terminals: `pv`, its solar input, and `load`, an outlet for direct current.
    """

    hidden: ClassVar[frozenset[str]] = frozenset(
        {
            "kind",
            "max_output_current",
            "limited_to",
            "start_above_battery",
            "run_above_battery",
            "charge_voltage",
            "float_voltage",
            "equalise_voltage",
            "compensates_temperature",
            "compensation",
            "boost",
            "blocks_reverse",
            "isolated",
            "common",
            "holds_without_battery",
            "inputs",
            "derates_above",
            "feeds",
        }
    )
    model_config = ConfigDict(json_schema_extra=hide(hidden))

    called: ClassVar[str] = "power box"
    sealed: ClassVar[bool] = True

    kind: Annotated[Text, one_of("mppt")] = Field(Text("mppt"), description="What it is.")
    max_output_current: Current | None = Field(  # type: ignore[assignment]
        None, description="Not told of what is inside."
    )
    max_input_power: Power = needed(
        description="Most power that its solar input takes.", examples=["200 W"]
    )
