"""The plans that tests are written on, gathered: small ones, each of which has its own odd part."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module

from external.battery_sides import HEAD
from plan_texts import Text

WHOLE = """\
external.test_plan_against_ngspice SHORT_4S2P SHORT_4P2S PAIR_IN_SERIES PAIR_IN_PARALLEL DEVICES
external.test_plan_faults_against_ngspice PLAN TWO
external.test_published_sums TWO_STRINGS
rules.battery.test_battery_fuse_missing ONE NO_FUSE PACKS
rules.battery.test_charge_current_over_battery SUN
rules.battery.test_parallel_paths_unequal TWO
rules.protection.plans FUSED CHARGE
rules.protection.test_device_behind_larger_fuse VAN
rules.protection.test_string_fuse_missing THREE PWM
rules.protection.test_string_fuse_not_pv FUSED
rules.wiring.plans TWO ONE BANK
rules.wiring.test_array_switch_missing BOTH STRANDED
rules.wiring.test_array_switch_one_pole ARRAY ONE_POLE
rules.wiring.test_battery_switch_strands_controller BOTH STRANDED
rules.wiring.test_chassis_as_return RETURNED
rules.wiring.test_combiner_over_rating TWO
rules.wiring.test_connector_mixed PAIR JOINED
rules.wiring.test_small_plug_overloaded PLUGGED
rules.wiring.test_switch_not_load_break BOTH SWITCHED
study.test_allowed BASE
study.test_arrays_by_hand MIXED
study.test_completed BARE
study.test_limits_of_tables LINKED TWO_KINDS
study.test_protection_by_hand BRANCH PANEL OUTLET SERIES CHARGED SHARED
study.test_sealed_boxes BOX
study.test_several_members BOAT TWO_BANKS
study.wiring.test_network SHARED_NEGATIVE
study.wiring.test_ways_back SIDE
study.wiring.test_wires_by_hand PLAN
"""
"""Modules of tests, and the names of whole plans in each."""
HEADLESS = """\
study.test_one_line MORE
study.wiring.test_bars_and_rows_by_hand ROWS
study.wiring.test_drops_by_hand SIDE CONVERTED SERIES ARRAY
study.wiring.test_lasting_by_hand BACK LINKED PAIR ROW
study.wiring.test_ports_by_hand ISOLATOR
"""
"""Those whose site and cables are those of the battery sides drawn by chance."""
MADE = {
    "heater": ("study.test_returns_by_hand", "with_heater", ("80 A", "to: bar, cable: thin")),
    "heater-over-lamp": (
        "study.test_returns_by_hand",
        "with_heater",
        ("25 A", "to: lamp, cable: thick"),
    ),
    "strings": ("study.test_several_members", "three_strings", (", inline: [small, large]",)),
    "consumers": (
        "study.wiring.test_settled",
        "plan",
        ({"heater": (400.0, 3.0), "kettle": (200.0, 1.0)}, 3),
    ),
}
"""What functions of tests make of some arguments."""


def written_by_hand() -> Iterator[Text]:
    for lines, head in ((WHOLE, ""), (HEADLESS, HEAD)):
        for line in lines.splitlines():
            module, *names = line.split()
            for name in names:
                text = head + getattr(import_module(module), name)
                yield Text(f"{module.rpartition('.')[2]}-{name}", "plan.yaml", text)
    for name, (module, maker, given) in MADE.items():
        yield Text(f"made-{name}", "plan.yaml", getattr(import_module(module), maker)(*given))
