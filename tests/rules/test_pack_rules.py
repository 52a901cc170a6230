"""Rules on how packs are joined, tapped, metered and placed: limits, remedies, what is exempt."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, faulty, found, levels, sound
from wattproof.testing import check_examples

COUNT = "pack-count-over-limit"
HALF = "load-on-half-bank"
SHUNT = "shunt-bypassed"
HOT = "battery-too-hot"


@pytest.mark.parametrize("rule", [COUNT, HALF, SHUNT, HOT])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# How many.


def test_too_many_in_parallel_and_in_series() -> None:
    [finding] = found(faulty(COUNT), COUNT)
    assert finding.level == "error"
    assert finding.message == "3 batteries of `house` are in parallel, and its maker allows 2"
    assert finding.margin == pytest.approx(-0.5)
    assert finding.remedy == "use at most 2 in parallel, of 150 Ah each, in place of 3"
    series = edited(
        (
            "max_parallel: 2, arrangement: 2p,\n          each_pack: {fuse: pack-fuse}",
            "max_series: 1, arrangement: 2s",
        ),
        ("nominal: 12.8 V", "nominal: 6.4 V"),
        plan=sound(COUNT),
    )
    [finding] = found(series, COUNT)
    assert "2 batteries of `house` are in series, and its maker allows 1" in finding.message
    assert "a battery of the full voltage" in finding.remedy


def test_batteries_that_wires_join_count_too() -> None:
    upper = "upper: {chemistry: agm, nominal: 12 V, capacity: 100 Ah"
    assert not found(sound(HALF), COUNT)
    plan = edited((upper, f"{upper}, max_series: 1"), plan=sound(HALF))
    [finding] = found(plan, COUNT)
    assert finding.subjects == ("upper",)
    assert "2 batteries of `upper` are in series" in finding.message
    plan = edited((upper, f"{upper}, max_series: 2, max_parallel: 1"), plan=sound(HALF))
    assert not found(plan, COUNT)


# Half of a bank.


def test_a_load_on_either_half() -> None:
    [finding] = found(faulty(HALF), HALF)
    assert (finding.level, finding.subjects) == ("warning", ("lamp", "upper"))
    assert "draws from `upper` alone" in finding.message
    lower = edited(
        ("lamp-run: {from: upper.positive", "lamp-run: {from: lower.positive"), plan=sound(HALF)
    )
    [finding] = found(lower, HALF)
    assert finding.subjects == ("lamp", "lower")


def test_with_lithium_it_is_an_error() -> None:
    plan = faulty(HALF)
    plan = plan.replace("chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, "
                        "nominal: 12.8 V")  # fmt: skip
    assert levels(plan, HALF) == ["error"]


def charger(name: str, bank: str) -> str:
    return f"  {name}-run: {{from: {name}, to: {bank}, cable: batt-8, length: 1 m}}\n"


def test_a_charger_on_one_battery_but_not_one_on_each() -> None:
    kind = "{kind: shore, max_output_current: 10 A, charge_voltage: 14.4 V}"
    one = edited(
        ("wires:\n", f"chargers:\n  first: {kind}\nwires:\n" + charger("first", "lower")),
        plan=sound(HALF),
    )
    [finding] = found(one, HALF)
    assert "`first` charges `lower` alone" in finding.message
    both = edited(
        ("wires:\n", f"chargers:\n  first: {kind}\n  second: {kind}\nwires:\n"
         + charger("first", "lower") + charger("second", "upper")),
        plan=sound(HALF),
    )  # fmt: skip
    assert not found(both, HALF)


# The shunt.


def test_what_the_monitor_does_not_count() -> None:
    [finding] = found(faulty(SHUNT), SHUNT)
    assert finding.subjects == ("house", "tracker")
    assert "up to 30 A that its monitor does not count" in finding.message


def test_an_inverter_on_the_post_of_the_battery() -> None:
    """800 W / (0.9 × 11 V) = 80.81 A."""
    plan = edited(
        ("inverter-run: {from: bar, to: mains", "inverter-run: {from: house, to: mains"),
        plan=sound(SHUNT),
    )
    [finding] = found(plan, SHUNT)
    assert (finding.subjects, str(finding.values[0])) == (("house", "mains"), "80.81 A")


def test_a_way_back_through_the_chassis_counts() -> None:
    plan = edited(
        ("wires:\n", "bonds:\n  strap: {from: house.negative, to: chassis, cable: bank-1-0}\n"
         "loads:\n  lamp: {current: 2 A}\nwires:\n"
         "  lamp-run: {from: bar.positive, to: lamp.positive, cable: batt-8, length: 1 m}\n"
         "  lamp-back: {from: lamp.negative, to: chassis, cable: batt-8, length: 1 m}\n"),
        plan=sound(SHUNT),
    )  # fmt: skip
    [finding] = found(plan, SHUNT)
    assert finding.subjects == ("house", "lamp")
    at_bar = edited(("strap: {from: house.negative", "strap: {from: bar.negative"), plan=plan)
    assert not found(at_bar, SHUNT)


def test_without_a_shunt_it_is_silent() -> None:
    assert not found(edited((", shunt: bank-run", ""), plan=faulty(SHUNT)), SHUNT)


# Heat.


@pytest.mark.parametrize(("limit", "expected"), [("35 °C", []), ("34 °C", ["warning"])])
def test_air_at_and_over_the_limit(limit: str, expected: list[str]) -> None:
    plan = edited(("max_temperature: 55 °C", f"max_temperature: {limit}"), plan=sound(HOT))
    assert levels(plan, HOT) == expected


def test_without_a_label_lithium_is_taken_as_good_for_45_degrees() -> None:
    unsaid = edited(("max_temperature: 55 °C, ", ""), plan=sound(HOT))
    for ambient, expected in (("45 °C", []), ("46 °C", ["warning"])):
        plan = edited(("cabin: {ambient: 35 °C}", f"cabin: {{ambient: {ambient}}}"), plan=unsaid)
        assert levels(plan, HOT) == expected
    engine = edited(("cabin: {ambient: 35 °C}", "cabin: {engine_space: true}"), plan=unsaid)
    [finding] = found(engine, HOT)
    assert finding.certainty == "assumed"
    assert "at up to 85 °C" in finding.message
    lead = edited(("lithium-iron-phosphate, nominal: 12.8 V", "agm, nominal: 12 V"), plan=engine)
    assert not found(lead, HOT)
