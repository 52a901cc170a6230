"""Changes that make a sound plan dangerous by one of its less usual parts, and what must catch it.

Each names a plan of `tests/sound`, one edit of its text (the old text stands in it once), the rule
that must tell, and the level at which. An empty level is that of any finding.
"""

from __future__ import annotations

from typing import NamedTuple


class PartMutation(NamedTuple):
    """One edit of a sound plan, and the rule that must tell it."""

    plan: str
    old: str
    new: str
    catches: str
    level: str = ""


VAN = "vehicle-charger-without-sun-nec-2023"
COMBI = "vehicle-inverter-charger"
COMBI_RUN = (
    "combi, cable: batt-2-0, length: 1 m, place: cabin,\n              "
    "inline: [{combi-fuse: {from_end: from, distance: 0 cm}}]}"
)
PUMP_FUSED = "place: cabin,\n             inline: [{pump-fuse: {from_end: from, distance: 0 cm}}]}"

PART_MUTATIONS = [
    # Starters and vehicle chargers.
    PartMutation(
        VAN,
        "to: engine-starter, cable: batt-2-0",
        "to: engine-starter, cable: wire-12",
        "cranking-cable-thin",
        "warning",
    ),
    PartMutation(
        VAN,
        "{from: alternator, to: start,",
        "{from: alternator, to: house,",
        "charge-current-over-battery",
    ),
    PartMutation(
        VAN,
        "to: dc-charger.alternator, cable: batt-6",
        "to: dc-charger.alternator, cable: wire-12",
        "conductor-too-small",
    ),
    PartMutation(
        VAN,
        "dc-charger.alternator, cable: batt-6, length: 2 m, place: [engine, cabin],\n"
        "           inline: [{in-fuse: {from_end: from, distance: 0 cm}}]}",
        "dc-charger.alternator, cable: batt-6, length: 2 m, place: [engine, cabin]}",
        "battery-fuse-missing",
        "error",
    ),
    PartMutation(
        VAN,
        "{kind: vehicle-charger, max_output_current: 30 A",
        "{kind: vehicle-charger, max_output_current: 70 A",
        "alternator-overloaded",
    ),
    PartMutation(
        VAN,
        "max_output_current: 30 A, charge_voltage: 14.2 V",
        "max_output_current: 30 A, charge_voltage: 15.2 V",
        "charge-voltage-wrong",
        "error",
    ),
    # Inverter and charger in one case.
    PartMutation(
        COMBI,
        COMBI_RUN,
        "combi, cable: batt-2-0, length: 1 m, place: cabin}",
        "battery-fuse-missing",
        "error",
    ),
    PartMutation(
        COMBI,
        "to: combi, cable: batt-2-0",
        "to: combi, cable: wire-12",
        "fuse-over-conductor",
        "error",
    ),
    PartMutation(
        COMBI,
        "max_output_current: 40 A",
        "max_output_current: 150 A",
        "charge-current-over-battery",
        "error",
    ),
    PartMutation(
        COMBI,
        "max_output_current: 40 A, charge_voltage: 14.2 V",
        "max_output_current: 40 A, charge_voltage: 15.6 V",
        "charge-voltage-wrong",
        "error",
    ),
    PartMutation(
        COMBI, "combi: {power: 800 W", "combi: {power: 2500 W", "load-over-battery-discharge"
    ),
    PartMutation(
        "boat-inverter-charger",
        "combi-fuse: {rating: 110 A",
        "combi-fuse: {rating: 60 A",
        "fuse-under-load",
    ),
    PartMutation(
        "cabin-inverter-charger",
        "combi-fuse: {rating: 110 A",
        "combi-fuse: {rating: 400 A",
        "fuse-over-conductor",
        "error",
    ),
    # Converters.
    PartMutation(
        "boat-converter",
        "radio: {current: 5 A",
        "radio: {current: 9 A",
        "converter-overloaded",
        "warning",
    ),
    PartMutation(
        "cabin-converter",
        "step-fuse: {rating: 25 A",
        "step-fuse: {rating: 125 A",
        "fuse-over-conductor",
        "error",
    ),
    PartMutation(
        "vehicle-converter",
        "length: 1 m, place: cabin,\n             "
        "inline: [{step-fuse: {from_end: from, distance: 0 cm}}]}",
        "length: 1 m, place: cabin}",
        "battery-fuse-missing",
        "error",
    ),
    # Isolators and selectors.
    PartMutation(
        "boat-isolator-abyc-e11",
        "splitter: {rating: 120 A",
        "splitter: {rating: 70 A",
        "isolator-over-rating",
        "error",
    ),
    PartMutation(
        "boat-isolator-iso-13297",
        "drop: 0.05 V",
        "drop: 0.8 V",
        "isolator-drop-undercharges",
        "warning",
    ),
    PartMutation(
        "boat-isolator-abyc-e11",
        "to: start.positive, cable: batt-2-0, length: 1 m, place: engine,\n"
        "              inline: [{start-fuse: {from_end: to, distance: 0 cm}}]}",
        "to: start.positive, cable: batt-2-0, length: 1 m, place: engine}",
        "battery-fuse-missing",
        "error",
    ),
    PartMutation(
        "boat-isolator-iso-13297",
        "to: splitter.input, cable: batt-2-0",
        "to: splitter.input, cable: wire-12",
        "conductor-too-small",
        "error",
    ),
    PartMutation(
        "boat-selector-abyc-e11",
        "both: false, ",
        "both: true, ",
        "unlike-batteries-joined",
    ),
    PartMutation(
        "boat-selector-iso-13297",
        "selector: {rating: 200 A",
        "selector: {rating: 2 A",
        "switch-not-load-break",
        "error",
    ),
    PartMutation(
        "boat-selector-as-nzs-3001",
        "dc: true, both: false",
        "dc: false, both: false",
        "device-not-for-dc",
        "error",
    ),
    # Switches that open by themselves, and loads that must not stop.
    PartMutation(
        "vehicle-low-voltage-switch",
        "lamp: {current: 5 A}",
        "lamp: {current: 5 A, critical: true}",
        "critical-load-can-be-cut-off",
        "warning",
    ),
    PartMutation(
        "vehicle-low-voltage-switch",
        "opens_below: 11.8 V",
        "opens_below: 9 V",
        "low-voltage-switch-odd",
        "warning",
    ),
    PartMutation(
        "vehicle-low-voltage-switch",
        "opens_below: 11.8 V",
        "opens_below: 23.6 V",
        "low-voltage-switch-odd",
    ),
    # Packs.
    PartMutation(
        "cabin-packs-iec", ", each_pack: {fuse: pack-fuse, distance: 0 cm}", "", "each-pack-unfused"
    ),
    PartMutation(
        "cabin-packs-nec-2023",
        "pack-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA",
        "pack-fuse: {rating: 60 A, voltage: 32 V, style: bolt-down, interrupt: 2 kA",
        "pack-fuse-unfit",
        "error",
    ),
    # Heaters, float, equalise, compensation.
    PartMutation("cabin-heated-battery", "keeps: 5 °C", "keeps: -5 °C", "charge-below-freezing"),
    PartMutation(
        "cabin-heated-battery",
        "{warms: house, power: 40 W, nominal: 12 V, keeps: 5 °C",
        "{warms: house, power: 40 W, nominal: 12 V",
        "charge-below-freezing",
    ),
    PartMutation(
        "boat-toggle-breakers",
        "float_voltage: 13.6 V",
        "float_voltage: 14.4 V",
        "float-voltage-wrong",
        "warning",
    ),
    PartMutation(
        "boat-toggle-breakers",
        "float_voltage: 13.6 V",
        "float_voltage: 13.6 V, equalise_voltage: 15.6 V",
        "equalised-though-sealed",
    ),
    PartMutation(
        "vehicle-cable-types",
        "float_voltage: 13.5 V",
        "float_voltage: 13.5 V, equalise_voltage: 15.6 V",
        "equalised-though-sealed",
        "error",
    ),
    PartMutation(
        "boat-toggle-breakers",
        "compensation: -24 mV/°C",
        "compensation: 24 mV/°C",
        "compensation-odd",
        "error",
    ),
    PartMutation(
        "vehicle-cable-types",
        "float_voltage: 13.5 V",
        "float_voltage: 13.5 V, compensation: -24 mV/°C",
        "temperature-compensation-wrong",
    ),
    PartMutation(
        "boat-toggle-breakers",
        "style: toggle-breaker",
        "style: self-resetting-breaker",
        "breaker-resets-itself",
        "error",
    ),
    PartMutation(
        "boat-toggle-breakers",
        "voltage: 65 V, dc: true, interrupt: 5 kA, poles: 1, style: toggle-breaker",
        "poles: 1, style: rail-breaker",
        "device-not-for-dc",
    ),
    # Several inputs, boxes.
    PartMutation(
        "cabin-two-inputs",
        "pv-2: {max_input_voltage: 80 V}",
        "pv-2: {max_input_voltage: 50 V}",
        "cold-voltage-over-controller",
        "error",
    ),
    PartMutation(
        "vehicle-two-inputs",
        "max_input_current: 15 A",
        "max_input_current: 5 A",
        "controller-input-over-current",
    ),
    PartMutation(
        "portable-box-iec",
        "max_input_voltage: 60 V",
        "max_input_voltage: 48 V",
        "cold-voltage-over-controller",
        "error",
    ),
    PartMutation(
        "portable-box-nec-2023",
        "max_input_current: 12 A",
        "max_input_current: 5 A",
        "controller-input-over-current",
    ),
    PartMutation(
        "portable-box-iec", "load_current: 10 A", "load_current: 1 A", "load-port-over-rating"
    ),
    # Alternators.
    PartMutation(
        "boat-external-regulator",
        "arresters:\n  surge: {across: alternator, voltage: 16 V}\n",
        "",
        "alternator-can-lose-battery",
        "warning",
    ),
    PartMutation(
        "boat-external-regulator",
        "limited_to: 60 A, charge_voltage: 14.2 V",
        "limited_to: 60 A, charge_voltage: 15 V",
        "charge-voltage-wrong",
        "error",
    ),
    PartMutation(
        "boat-isolator-abyc-e11", PUMP_FUSED, "place: cabin}", "battery-fuse-missing", "error"
    ),
    # In the ground and on the roof.
    PartMutation("cabin-buried-run", "type: NYY-O", "type: H07V-K", "buried-cable-unsuited"),
    PartMutation(
        "cabin-buried-run", "depth: 60 cm", "depth: 20 cm", "buried-cable-unsuited", "warning"
    ),
    PartMutation(
        "cabin-buried-run",
        "bond-6: {size: 6 mm²",
        "bond-6: {size: 1.5 mm²",
        "frame-bond-too-small",
        "warning",
    ),
    PartMutation("vehicle-cable-types", "type: PV WIRE", "type: THHN", "cable-not-for-outdoors"),
    PartMutation(
        "vehicle-trailer-line-iec", "plug_rating: 20 A", "plug_rating: 6 A", "small-plug-overloaded"
    ),
    PartMutation(
        "vehicle-trailer-line-nec-2023",
        "to: dc-charger.alternator, cable: batt-6",
        "to: house, cable: batt-6",
        "unlike-batteries-joined",
        "error",
    ),
]
