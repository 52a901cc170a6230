"""How families are written: what is shown where one was told in another form."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

FORMS: Final[Mapping[str, str]] = {
    "readings": "{port-open: {at: port, voc: … V}}",
    "wires": "{home-run: {from: …, to: …, cable: …, length: … m}}",
    "strings": "{port: {module: …, series: …}}",
    "fuses": "{bank-fuse: {rating: … A}}",
    "breakers": "{pv-breaker: {rating: … A}}",
    "switches": "{pv-off: {rating: … A}}",
    "batteries": "{house: {chemistry: …, nominal: … V, capacity: … Ah}}",
    "controllers": "{tracker: {kind: …, max_input_voltage: … V, max_output_current: … A}}",
    "loads": "{refrigerator: {power: … W}}",
    "inverters": "{mains: {power: … W}}",
    "chargers": "{alternator: {kind: …, max_output_current: … A}}",
    "inverter_chargers": "{combi: {power: … W, max_output_current: … A}}",
    "converters": "{step-down: {input_nominal: … V, output_nominal: … V, max_output_current: … A}}",
    "starters": "{engine-starter: {current: … A}}",
    "heaters": "{house-heater: {warms: …, power: … W}}",
    "power_boxes": "{box: {max_input_voltage: … V, max_input_power: … W}}",
    "diode_isolators": "{splitter: {rating: … A, outputs: [start, house]}}",
    "selectors": "{battery-selector: {rating: … A}}",
    "arc_fault_devices": "{arc-guard: {rating: … A}}",
    "frame_bonds": "{roof-frames: {strings: [port], to: …, cable: …}}",
    "inputs": "{pv-1: {max_input_voltage: … V}}",
    "modules": "{roof-module: {voc: … V, isc: … A, vmp: … V, imp: … A}}",
    "cables": "{pv-cable: {size: … AWG}}",
    "ways": "{lights: {fuse: … A}}",
    "places": "{roof: {ambient: … °C}}",
    "combiners": "{roof-joint: {joins: [port, starboard]}}",
    "busbars": "{positive-bar: {rating: … A}}",
    "distribution": "{panel: {ways: {lights: {fuse: … A}}}}",
    "bonds": "{chassis-bond: {from: …, to: chassis, cable: …}}",
    "arresters": "{pv-arrester: {across: …, voltage: … V}}",
    "shade": "{antenna: {shadows: [{string: port, light: … %}]}}",
    "uses": "{refrigerator: {hours: … h}}",
    "connector": "{style: …, make: …}",
    "each_pack": "{fuse: pack-fuse}",
    "meter": "{voltage: … %, current: … %}",
    "site": "{coldest: … °C, hottest: … °C}",
    "datasheets": "{modules: {roof-module: {pmax: … W}}}",
    "energy": "{sun_hours: … h, uses: {refrigerator: {hours: … h}}}",
    "shadows": "[{string: port, light: … %}]",
    "accepted": "[{rule: …, where: …, reason: …}]",
    "rules": "{voltage-drop-high: {off: true, reason: …}}",
}
"""How a family is written: a name, and under it the keys. Figures are left to the builder."""

ALONE: Final[Mapping[str, tuple[tuple[str, str], ...]]] = {
    **dict.fromkeys(("fuses", "breakers", "switches", "busbars"), (("rating", "current"),)),
    "ways": (("fuse", "current"),),
    "cables": (("size", "conductor size"),),
    "modules": (("pmax", "power"),),
    "inverters": (("power", "power"),),
    "loads": (("power", "power"), ("current", "current")),
    "batteries": (("nominal", "voltage"), ("capacity", "charge")),
    "inverter_chargers": (("power", "power"), ("max_output_current", "current")),
    **dict.fromkeys(
        ("controllers", "chargers", "converters"), (("max_output_current", "current"),)
    ),
    "starters": (("current", "current"),),
    "places": (("ambient", "temperature"),),
}
"""What a value may be that stands alone where the keys of a component belong, by family."""
