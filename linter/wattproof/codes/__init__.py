"""Bodies of rules as data with sources, and the few functions that read them."""

from wattproof.codes.bodies import Bodies
from wattproof.codes.body import (
    DISTANCE_KINDS,
    DROP_KINDS,
    BodyOfRules,
    body,
    for_setting,
    known,
    usual_for,
)
from wattproof.codes.demands import FORBIDDABLE
from wattproof.codes.resistance import known_materials, material_factor, resistance
from wattproof.codes.styles import OF_VEHICLES, DeviceStyle, known_styles, style
from wattproof.codes.values import Ampacity, Clause, NotTabulated, Surroundings, TableValue

__all__ = [
    "DISTANCE_KINDS",
    "DROP_KINDS",
    "FORBIDDABLE",
    "OF_VEHICLES",
    "Ampacity",
    "Bodies",
    "BodyOfRules",
    "Clause",
    "DeviceStyle",
    "NotTabulated",
    "Surroundings",
    "TableValue",
    "body",
    "for_setting",
    "known",
    "known_materials",
    "known_styles",
    "material_factor",
    "resistance",
    "style",
    "usual_for",
]
