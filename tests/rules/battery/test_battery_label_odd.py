"""A battery's label against itself: values of another battery, another unit or the whole bank."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, faulty, found, levels, sound

LABEL = "battery-label-odd"


def test_the_voltage_of_two_written_for_one() -> None:
    """16.5 V for each 12 V of 12.8 V are 17.6 V."""
    [finding] = found(faulty(LABEL), LABEL)
    assert (finding.level, finding.hazard) == ("error", "fire")
    assert "12.8 V for each battery, yet may be charged to 29.2 V" in finding.message
    assert "right for 2 in series" in finding.message
    assert "14.6 V for each of 2" in finding.remedy
    assert finding.values[2].number == pytest.approx(17.6)


@pytest.mark.parametrize(
    ("chemistry", "nominal", "volts", "told"),
    [
        ("lithium-iron-phosphate", "12.8 V", "14.6 V", []),
        ("lithium-iron-phosphate", "12 V", "14.6 V", []),
        ("lithium-iron-phosphate", "51.2 V", "58.4 V", []),
        ("flooded", "12 V", "16.2 V", []),  # equalised
        ("flooded", "6 V", "7.4 V", []),
        ("flooded", "6 V", "14.8 V", ["error"]),
        ("agm", "2 V", "14.7 V", ["error"]),
        ("gel", "12 V", "28.8 V", ["error"]),
        ("lithium-iron-phosphate", "25.6 V", "58.4 V", ["error"]),
    ],
)
def test_voltages(chemistry: str, nominal: str, volts: str, told: list[str]) -> None:
    plan = sound(
        LABEL,
        ("chemistry: lithium-iron-phosphate", f"chemistry: {chemistry}"),
        ("nominal: 12.8 V", f"nominal: {nominal}"),
        ("max_charge_voltage: 14.6 V", f"max_charge_voltage: {volts}"),
    )
    assert levels(plan, LABEL) == told


@pytest.mark.parametrize(
    ("chemistry", "key", "value", "fires"),
    [
        ("lithium-iron-phosphate", "min_charge_temperature", "0 °C", False),
        ("lithium-iron-phosphate", "min_charge_temperature", "-10 °C", False),
        ("lithium-iron-phosphate", "min_charge_temperature", "32 °F", False),
        ("lithium-iron-phosphate", "min_charge_temperature", "0 °F", True),  # −18 °C
        ("lithium-iron-phosphate", "min_charge_temperature", "32 °C", True),
        ("agm", "min_charge_temperature", "-20 °C", False),  # lead may be charged in frost
        ("agm", "min_charge_temperature", "32 °C", True),
        ("agm", "max_temperature", "50 °C", False),
        ("lithium-iron-phosphate", "max_temperature", "131 °F", False),
        ("lithium-iron-phosphate", "max_temperature", "55 °F", True),
        ("lithium-iron-phosphate", "max_temperature", "95 °C", True),
    ],
)
def test_temperatures(chemistry: str, key: str, value: str, fires: bool) -> None:
    plan = sound(
        LABEL,
        ("chemistry: lithium-iron-phosphate", f"chemistry: {chemistry}"),
        ("low_temperature_cutoff: true}", f"{key}: {value}}}"),
    )
    assert levels(plan, LABEL) == (["warning"] if fires else [])


def test_the_other_unit_is_told() -> None:
    plan = sound(LABEL, ("cutoff: true}", "cutoff: true, max_temperature: 13 °C}"))
    [finding] = found(plan, LABEL)
    assert "13 °C is 55 °F, and 13 °F would be −11 °C" in finding.message.replace("-", "−")


def test_nothing_is_said_of_what_is_not_told() -> None:
    assert not found(edited((" max_charge_voltage: 29.2 V,", ""), plan=faulty(LABEL)), LABEL)


@pytest.mark.parametrize(("volts", "count"), [("14.6 V", 1), ("25.5 V", 1), ("29.2 V", 0)])
def test_charged_to_less_than_it_has(volts: str, count: int) -> None:
    """Neither value can be gone by, so nothing is said of what charges it."""
    plan = sound(
        LABEL,
        ("nominal: 12.8 V", "nominal: 25.6 V"),
        ("charge_voltage: 14.6 V", f"charge_voltage: {volts}"),
    )
    assert levels(plan, LABEL) == ["error"] * count
    assert bool(found(plan, "charge-voltage-wrong")) != bool(count)


def test_both_values_are_told_with_what_would_fit() -> None:
    [finding] = found(sound(LABEL, ("nominal: 12.8 V", "nominal: 25.6 V")), LABEL)
    assert finding.message == (
        "`house` is 25.6 V nominal and may be charged to 14.6 V at most, which is less: one of "
        "the two belongs to another battery"
    )
    assert "if 25.6 V is right, it is charged to some 29.2 V" in finding.remedy
    assert "if 14.6 V is right, its nominal voltage is some 12.8 V" in finding.remedy


@pytest.mark.parametrize(
    ("told", "fires"),
    [
        ("max_charge_current: 400 A", False),  # 100 Ah
        ("max_charge_current: 401 A", True),
        ("max_discharge_current: 800 A", False),
        ("max_discharge_current: 801 A", True),
        ("short_circuit_current: 900 A", False),
        ("short_circuit_current: 899 A", True),
        ("short_circuit_current: 299 A", True),
        ("short_circuit_current: 5 A", True),  # 5 kA
        ("short_circuit_current: 320 A, max_discharge_current: 350 A", True),
        ("internal_resistance: 3 mΩ", False),
        ("internal_resistance: 50 mΩ", True),  # "at most", with the electronics of its management
        ("internal_resistance: 3 Ω", True),
    ],
)
def test_currents_that_no_battery_has(told: str, fires: bool) -> None:
    plan = sound(
        LABEL,
        (
            "max_charge_current: 50 A, ",
            "" if "charge_current" in told.split(",")[0] else "max_charge_current: 50 A, ",
        ),
        ("low_temperature_cutoff: true}", f"low_temperature_cutoff: true, {told}}}"),
    )
    assert [f.cause for f in found(plan, LABEL)] == ([_cause(told)] if fires else [])


def _cause(told: str) -> str:
    return "current" if told.startswith("max_") else "short"


@pytest.mark.parametrize(
    ("capacity", "expected"),
    [("100 Ah", []), ("400 Ah", []), ("1280 Ah", ["warning"])],
)
def test_watt_hours_written_as_ampere_hours(capacity: str, expected: list[str]) -> None:
    text = build("vehicle-trailer-line-iec")
    plan = edited(
        (
            "capacity: 100 Ah, max_charge_current: 100 A",
            f"capacity: {capacity}, max_charge_current: 50 A",
        ),
        plan=text,
    )
    told = [f for f in found(plan, "battery-label-odd") if "Wh" in f.message]
    assert [f.level for f in told] == expected
    for finding in told:
        assert "is 1280 its energy in Wh, 100 Ah at 12.8 V?" in finding.message


@pytest.mark.parametrize(
    ("told", "level"),
    [
        ("short_circuit_current: 299 A", "warning"),  # as from a slip of the unit
        ("short_circuit_current: 300 A", "note"),  # what its management lets out
        ("internal_resistance: 40 mΩ", "note"),  # "at most"
        ("internal_resistance: 14 mΩ", None),
    ],
)
def test_no_interrupt_rating_is_judged_by_a_short_that_no_battery_has(
    told: str, level: str | None
) -> None:
    label = ("low_temperature_cutoff: true}", f"low_temperature_cutoff: true, {told}}}")
    assert levels(sound(LABEL, label), LABEL) == ([level] if level else [])
    weak = ("style: class-t, interrupt: 20 kA", "style: class-t, interrupt: 1 kA")
    assert bool(found(sound(LABEL, label, weak), "fuse-interrupt-low")) == bool(level)


def test_one_odd_label_beside_one_that_is_right() -> None:
    """The fuse breaks what both drive, and the odd one is reckoned as is usual."""
    right = "low_temperature_cutoff: true, short_circuit_current: 1 kA}"
    plan = sound(
        LABEL,
        ("low_temperature_cutoff: true}", right),
        (
            "batteries:\n",
            "batteries:\n  odd: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: "
            "100 Ah, short_circuit_current: 300 A}\n",
        ),
        ("wires:\n", "wires:\n  link: {from: odd, to: house, cable: batt-8, length: 1 cm}\n"),
        ("style: class-t, interrupt: 20 kA", "style: class-t, interrupt: 2 kA"),
    )
    odd = "short_circuit_current: 300 A"
    assert found(plan, "fuse-interrupt-low")
    assert not found(plan.replace(odd, "short_circuit_current: 950 A"), "fuse-interrupt-low")
