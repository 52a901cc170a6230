"""All that draws from a bank at once against what its packs let out."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, found, levels, sound
from rules.battery.plans import gives

DRAWN = "load-over-battery-discharge"


@pytest.mark.parametrize(
    ("limit", "expected"),
    [("80.9 A", []), ("80.8 A", ["warning"]), ("64.7 A", ["warning"]), ("64.6 A", ["error"])],
)
def test_drawn_against_the_pack(limit: str, expected: list[str]) -> None:
    """800 W / (0.9 × 11 V) = 80.81 A; an error from 1.25 × 64.6 A on."""
    assert levels(gives(limit), DRAWN) == expected
    for finding in found(gives(limit), DRAWN):
        assert "use a pack that gives at least 81 A, more packs" in finding.remedy


@pytest.mark.parametrize(("limit", "n"), [("50.6 A", 0), ("50.5 A", 1)])
def test_parallel_packs_never_share_equally(limit: str, n: int) -> None:
    """2 × 50.5 A × 0.8 = 80.8 A."""
    plan = gives(limit, ("capacity: 100 Ah", "capacity: 100 Ah, arrangement: 2p"))
    findings = found(plan, DRAWN)
    assert len(findings) == n
    for finding in findings:
        assert finding.message == (
            "80.81 A is drawn from `house` when everything runs (`mains` 80.8 A); 80.8 A is "
            "the most that may be"
        )
        assert "use 2 packs that give at least 51 A each" in finding.remedy


def test_loads_and_load_terminals_count_too() -> None:
    pump = (
        ("inverters:\n", "loads: {pump: {current: 5 A, nominal: 12 V}}\ninverters:\n"),
        ("wires:\n", "wires:\n  pump-run: {from: %s, to: pump, cable: batt-8, length: 1 m}\n"),
    )
    for at in ("bar", "tracker.load"):
        edits = (pump[0], (pump[1][0], pump[1][1] % at))
        [finding] = found(gives("85 A", *edits), DRAWN)
        assert "85.8 A is drawn" in finding.message
        assert not found(gives("86 A", *edits), DRAWN)


def test_drawn_without_a_label() -> None:
    bare = ("max_discharge_current: 100 A, ", "")
    assert not found(edited(bare, plan=sound(DRAWN)), DRAWN)  # 1 A for each of 100 Ah
    small = edited(bare, ("capacity: 100 Ah", "capacity: 40 Ah"), plan=sound(DRAWN))
    [finding] = found(small, DRAWN)
    assert finding.level == "warning"
    lead = edited(("chemistry: lithium-iron-phosphate", "chemistry: agm"), plan=small)
    assert not found(lead, DRAWN)  # lead has no switch inside


SECOND = """\
batteries:
  second: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: %s,
           max_charge_current: 50 A, max_discharge_current: %s, max_charge_voltage: 14.6 V,
           place: cabin}
"""
TO_BAR = "wires:\n  second-run: {from: second, to: bar, cable: batt-8, length: 60 cm}\n"


@pytest.mark.parametrize(
    ("capacity", "limit", "may"),
    [
        ("100 Ah", "40.5 A", None),  # 40.5 A × 200 Ah / 100 Ah = 81 A
        ("100 Ah", "40.4 A", "80.8 A"),
        ("50 Ah", "27 A", None),  # 27 A × 150 Ah / 50 Ah = 81 A; 0.8 × 127 A would be 101.6 A
        ("50 Ah", "20 A", "60 A"),
        ("200 Ah", "50 A", "75 A"),  # 50 A × 300 Ah / 200 Ah
    ],
)
def test_the_weakest_of_unlike_packs_limits_all(capacity: str, limit: str, may: str | None) -> None:
    """Each gives by its capacity, and 80.81 A are drawn."""
    edits = (("batteries:\n", SECOND % (capacity, limit)), ("wires:\n", TO_BAR))
    findings = found(gives("100 A", *edits), DRAWN)
    assert len(findings) == (may is not None)
    for finding in findings:
        assert f"{may} is the most that may be" in finding.message
        needed = 51 if capacity == "100 Ah" else 54  # 80.81 A / 1.6, and two thirds of it
        assert f"use 2 packs that give at least {needed} A each" in finding.remedy


@pytest.mark.parametrize(
    ("limit", "expected"), [("109.1 A", []), ("109 A", ["warning"]), ("87.2 A", ["error"])]
)
def test_lithium_beside_lead_on_a_selector_gives_all_alone(limit: str, expected: list[str]) -> None:
    """1000 W / (0.9 × 11 V) = 101.01 A stay on it, and 8 A of the panel where it leads to it.

    An error up to 109.01 A / 1.25 = 87.21 A.
    """
    lithium = f"lithium-iron-phosphate, nominal: 12.8 V, max_discharge_current: {limit}, capacity"
    mains = "{power: 1000 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}"
    plan = edited(
        ("second: {chemistry: flooded, nominal: 12 V, capacity", f"second: {{chemistry: {lithium}"),
        (
            "distribution:",
            f"inverters:\n  mains: {mains}\ndistribution:",
        ),
        (
            "  sun-lead:",
            "  mains-run: {from: second, to: mains, cable: crank, length: 1 m, place: saloon}\n"
            "  sun-lead:",
        ),
        plan=build("boat-selector-and-starter"),
    )
    findings = found(plan, DRAWN)
    assert [finding.level for finding in findings] == expected
    for finding in findings:
        assert finding.subjects == ("second", "mains", "lamps", "radio")
        assert "), with `one-two-both` on it alone; " in finding.message


LITHIUM = (
    "lithium-iron-phosphate, nominal: 12.8 V, max_discharge_current: 100 A, "
    "max_charge_current: 40 A, low_temperature_cutoff: true, capacity"
)


def lithium_on_a_selector(power: str, *edits: tuple[str, str]) -> str:
    """Two packs of 100 A on a selector, and an inverter behind it beside a panel of 8 A."""
    return edited(
        ("first: {chemistry: flooded, nominal: 12 V, capacity", f"first: {{chemistry: {LITHIUM}"),
        ("second: {chemistry: flooded, nominal: 12 V, capacity", f"second: {{chemistry: {LITHIUM}"),
        (
            "distribution:",
            f"inverters:\n  mains: {{power: {power}, nominal: 12 V, efficiency: 90 %, "
            "low_voltage: 11 V}\ndistribution:",
        ),
        (
            "  sun-lead:",
            "  mains-plus: {from: one-two-both.common.positive, to: mains.positive, cable: crank, "
            "length: 1 m}\n"
            "  mains-minus: {from: mains.negative, to: second.negative, cable: crank, "
            "length: 1 m}\n  sun-lead:",
        ),
        *edits,
        plan=build("boat-selector-and-starter"),
    )


@pytest.mark.parametrize(("power", "expected"), [("910 W", []), ("911 W", ["warning"] * 2)])
@pytest.mark.parametrize("both", ["true", "false"])
def test_one_of_two_packs_on_a_selector_gives_all(
    power: str, expected: list[str], both: str
) -> None:
    """910 W / (0.9 × 11 V) = 91.9 A, and 8 A beside it: each pack may give 100 A, both 160 A."""
    plan = lithium_on_a_selector(power, ("both: true", f"both: {both}"))
    findings = found(plan, DRAWN)
    assert [finding.level for finding in findings] == expected
    assert [finding.subjects[0] for finding in findings] == ["first", "second"][: len(expected)]


def test_packs_with_a_switch_each_stay_together() -> None:
    """A main switch of one pack is opened to work on it, and not in use."""
    plan = lithium_on_a_selector(
        "1200 W",
        ("selectors:\n  one-two-both:", "  other-off: {rating: 300 A}\n  first-off:"),
        ("both: true, load_break: true, make_before_break: true, ", ""),
        ("to: one-two-both.1.positive, cable: crank, length: 60 cm",
         "to: starter.positive, cable: crank, length: 60 cm, inline: [first-off]"),
        ("to: one-two-both.2.positive, cable: crank, length: 60 cm",
         "to: starter.positive, cable: crank, length: 60 cm, inline: [other-off]"),
        ("  crank-run: {from: one-two-both.common.positive, to: starter.positive, cable: crank, "
         "length: 2 m, place: [battery-box, engine], enclosed: true}\n", ""),
        ("board-plus: {from: one-two-both.common.positive", "board-plus: {from: starter.positive"),
        ("mains-plus: {from: one-two-both.common.positive", "mains-plus: {from: starter.positive"),
    )  # fmt: skip
    assert not found(plan, DRAWN)


BRIDGE = """
wattproof: 1
setting: boat
datasheets: {modules: {rigid: {pmax: 100 W}}}
strings: {roof: {module: rigid, feeds: tracker}}
controllers:
  tracker: {kind: mppt, max_output_current: 20 A, feeds: reserve}
  bridge: {kind: vehicle-charger, max_output_current: 30 A, charge_voltage: 14.2 V, feeds: house}
batteries:
  house: {chemistry: LFP, nominal: 12.8 V, capacity: 400 Ah}
  reserve: {chemistry: LFP, nominal: 12.8 V, capacity: 100 Ah, max_discharge_current: 25 A}
wires: {take: {from: reserve, to: bridge.alternator}}
"""


def test_a_charger_between_two_banks_draws_from_one() -> None:
    """30 A × 14.2 V / (0.88 × 12.5 V) = 38.7 A; where an alternator charges, it gives that."""
    [finding] = found(BRIDGE, DRAWN)
    assert finding.message.startswith("38.7 A is drawn from `reserve` when everything runs")
    engine = "chargers: {engine: {kind: alternator, max_output_current: 80 A, feeds: reserve}}"
    assert not found(edited(("wires:", f"{engine}\nwires:"), plan=BRIDGE), DRAWN)
    assert not found(edited(("A, feeds: reserve", "A, feeds: house"), plan=BRIDGE), DRAWN)
