"""A shadow that nobody told: all of one module, as a mast, a branch or a box throws it."""

from __future__ import annotations

from wattproof.plan.array import String
from wattproof.plan.fields import read_count
from wattproof.plan.shade import ShadeCase, Shadow
from wattproof.quantities import Quantity
from wattproof.source import Text
from wattproof.study.assumptions.modules import LIGHT_IN_SHADE


def on_one_module(string: String) -> ShadeCase:
    """The case: the first module of a string gets no more than the light of the sky."""
    share = LIGHT_IN_SHADE.value
    light = Quantity(share, "share", f"{share * 100.0:g} %", string.at, 0.0)
    first = read_count(Text.at("1", string.at))
    shadow = Shadow.model_construct(string=string.name, module=first, groups=None, light=light)
    name = Text.at("shadow-on-one-module", string.at)
    return ShadeCase.model_construct(
        name=name, state=Text.at("standard", string.at), shadows=[shadow]
    )
