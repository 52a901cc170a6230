"""The charge voltage that a source is set to, against what the battery stands and needs."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, faulty, found, levels, sound
from rules.battery.plans import SHORE
from rules.wiring.plans import in_series

VOLTAGE = "charge-voltage-wrong"


def set_to(volts: str, *edits: tuple[str, str]) -> str:
    return edited(("charge_voltage: 14.2 V", f"charge_voltage: {volts}"), *edits,
                  plan=sound(VOLTAGE))  # fmt: skip


@pytest.mark.parametrize(
    ("volts", "expected"),
    [("14.6 V", []), ("14.7 V", ["error"]), ("13.8 V", []), ("13.7 V", ["warning"])],
)
def test_voltage_against_the_label(volts: str, expected: list[str]) -> None:
    assert levels(set_to(volts), VOLTAGE) == expected


@pytest.mark.parametrize(
    ("volts", "hazard", "cautioned"),
    [("15.2 V", "fire", True), ("13.7 V", "lost-energy", False), ("7.2 V", "lost-energy", False)],
)
def test_what_never_fills_burns_nothing(volts: str, hazard: str, cautioned: bool) -> None:
    [finding] = found(set_to(volts), VOLTAGE)
    assert finding.hazard == hazard
    assert bool(finding.caution) is cautioned


def test_voltage_numbers_margin_and_a_setting_that_holds() -> None:
    [finding] = found(faulty(VOLTAGE), VOLTAGE)
    assert finding.message == "`tracker` charges `house` to 15.2 V; 14.6 V is the most allowed"
    assert finding.margin == pytest.approx(1 - 15.2 / 14.6)
    assert "to at most 14.6 V" in finding.remedy
    [low] = found(set_to("13.5 V"), VOLTAGE)
    assert low.message == "`house` is charged to 13.5 V at most; it takes 13.8 V to fill it"
    assert low.margin == pytest.approx(13.5 / 13.8 - 1)
    assert not found(set_to("13.8 V"), VOLTAGE)


NO_LABEL = ("max_charge_voltage: 14.6 V, ", "")


@pytest.mark.parametrize(
    ("chemistry", "volts", "expected"),
    [
        ("lithium-iron-phosphate", "14.6 V", []),
        ("lithium-iron-phosphate", "14.7 V", ["warning"]),  # rests on the chemistry's band
        ("lithium-iron-phosphate", "14.9 V", ["error"]),  # over what any maker allows
        ("gel", "14.4 V", []),
        ("gel", "14.9 V", ["error"]),
        ("agm", "14.7 V", []),
        ("agm", "13.9 V", ["warning"]),
        ("flooded", "15.5 V", ["warning"]),
        ("flooded", "16.3 V", ["error"]),
    ],
)
def test_voltage_by_chemistry(chemistry: str, volts: str, expected: list[str]) -> None:
    plan = set_to(volts, NO_LABEL, ("chemistry: lithium-iron-phosphate", f"chemistry: {chemistry}"))
    assert levels(plan, VOLTAGE) == expected


@pytest.mark.parametrize(
    ("volts", "n"), [("29.2 V", 0), ("29.3 V", 1), ("27.6 V", 0), ("27.5 V", 1)]
)
def test_twice_for_a_bank_in_series(volts: str, n: int) -> None:
    bank = set_to(volts, ("capacity: 100 Ah", "capacity: 100 Ah, arrangement: 2s"))
    assert len(found(bank, VOLTAGE)) == n
    separate = in_series(("charge_voltage: 14.2 V", f"charge_voltage: {volts}"))
    assert len(found(separate, VOLTAGE)) == n


def test_a_voltage_that_is_not_stated_or_a_low_label_says_nothing() -> None:
    unsaid = edited(("charge_voltage: 14.2 V", "nominal: 12 V"), plan=sound(VOLTAGE))
    assert not found(unsaid, VOLTAGE)
    low = set_to("13.6 V", ("max_charge_voltage: 14.6 V", "max_charge_voltage: 13.6 V"))
    assert not found(low, VOLTAGE)


def test_one_source_that_fills_it_is_enough() -> None:
    low = set_to("13.5 V", ("wires:\n", SHORE % ", charge_voltage: 14.4 V"))
    assert not found(low, VOLTAGE)
    assert not found(set_to("13.5 V", ("wires:\n", SHORE % "")), VOLTAGE)  # it may fill it
    [finding] = found(set_to("13.5 V", ("wires:\n", SHORE % ", charge_voltage: 14.8 V")), VOLTAGE)
    assert finding.subjects == ("shore", "house")


def test_a_source_of_another_system_never_charges() -> None:
    """A second source that is set right hides no other."""
    charger = "  idle: {kind: shore, max_output_current: 10 A, charge_voltage: VOLTS}\n"
    plan = edited(
        ("batteries:\n", f"chargers:\n{charger}batteries:\n"),
        ("wires:\n", "wires:\n  idle-run: {from: idle, to: house, cable: batt-8, length: 1 m}\n"),
        plan=sound(VOLTAGE),
    )
    assert not found(plan.replace("VOLTS", "13.9 V"), VOLTAGE)
    [finding] = found(plan.replace("VOLTS", "7.2 V"), VOLTAGE)
    assert finding.level == "warning"
    assert finding.message == ("`idle` is set to 7.2 V, which never fills `house` of 12.8 V")
    assert "to 13.8 V or a little more, if it can" in finding.remedy


def test_what_charges_two_unlike_batteries_is_set_to_what_both_may_have() -> None:
    """14.6 V of the lithium and 14.4 V of the gel beside it."""
    plan = set_to(
        "15.2 V",
        ("batteries:\n", "batteries:\n  gel: {chemistry: gel, nominal: 12 V, capacity: 90 Ah}\n"),
        ("wires:\n", "wires:\n  link: {from: gel, to: house, cable: batt-8, length: 1 m}\n"),
    )
    both = found(plan, VOLTAGE)
    assert {finding.subjects for finding in both} == {("tracker", "house"), ("tracker", "gel")}
    assert {f.remedy for f in both} == {"set `charge_voltage` of `tracker` to at most 14.4 V"}


@pytest.mark.parametrize(
    ("battery", "volts", "told"),
    [
        ("chemistry: agm", "15 V", False),
        ("chemistry: agm", "15.1 V", True),
        ("chemistry: flooded", "15 V", False),
        ("chemistry: agm, max_charge_voltage: 14.7 V", "14.8 V", True),
        ("chemistry: gel", "14.8 V", True),
    ],
)
def test_an_alternator_on_its_own_battery_has_the_voltage_of_vehicles(
    battery: str, volts: str, *, told: bool
) -> None:
    """Regulators of vehicles go up to 15 V in the cold; the label of the battery goes before."""
    plan = edited(
        (
            "batteries:\n",
            f"batteries:\n  start: {{{battery}, nominal: 12 V, capacity: 70 Ah}}\n",
        ),
        (
            "controllers:\n",
            f"chargers:\n  alternator: {{kind: alternator, charge_voltage: {volts}}}\n"
            "controllers:\n",
        ),
        ("wires:\n", "wires:\n  run: {from: alternator, to: start, cable: batt-8, length: 1 m}\n"),
        plan=sound(VOLTAGE),
    )
    assert bool(found(plan, VOLTAGE)) == told


@pytest.mark.parametrize(
    ("cells", "volts", "told"),
    [
        ("3.2 V, arrangement: 4s", "14.6 V", False),
        ("3.2 V, arrangement: 7s", "29.2 V", True),  # 4.17 V for each
        ("3.2 V, arrangement: 8s", "29.2 V", False),
        ("3.2 V, arrangement: 15s", "54.7 V", False),
        ("3.2 V, arrangement: 15s", "57.6 V", True),
        ("3.2 V, arrangement: 16s", "58.4 V", False),
        ("48 V", "58.4 V", False),
    ],
)
def test_cells_are_counted_and_not_taken_for_the_pack_that_they_are_nearest_to(
    cells: str, volts: str, *, told: bool
) -> None:
    plan = edited(
        ("nominal: 12.8 V", f"nominal: {cells}"),
        (" max_charge_voltage: 14.6 V,", ""),
        ("charge_voltage: 14.2 V", f"charge_voltage: {volts}"),
        plan=sound(VOLTAGE),
    )
    assert bool([f for f in found(plan, VOLTAGE) if "the most allowed" in f.message]) is told


UNTOLD = """\
wattproof: 1
setting: cabin
code: iec
batteries:
  bank: {chemistry: CHEMISTRY, nominal: 12 V, capacity: 100 Ah}
chargers:
  source: {kind: KIND, max_output_current: AMPS}
wires:
  run: {from: source, to: bank, length: 1 m}
"""


@pytest.mark.parametrize(
    ("chemistry", "kind", "amps", "asks"),
    [
        ("gel", "shore", "15 A", True),
        ("gel", "shore", "0.9 A", False),  # a trickle
        ("gel", "alternator", "15 A", False),  # its regulator is not set
        ("agm", "shore", "15 A", False),
        ("flooded", "shore", "15 A", False),
        ("lithium-iron-phosphate", "shore", "15 A", True),
        ("unknown", "shore", "15 A", False),
    ],
)
def test_an_untold_setting_is_asked_where_that_for_flooded_lead_harms(
    chemistry: str, kind: str, amps: str, asks: bool
) -> None:
    plan = UNTOLD.replace("CHEMISTRY", chemistry).replace("KIND", kind).replace("AMPS", amps)
    assert not found(plan, VOLTAGE)
    assert asked(plan, VOLTAGE) == (["not told"] if asks else [])
    told = plan.replace(f"{amps}}}", f"{amps}, charge_voltage: 14.2 V}}")
    assert "not told" not in asked(told, VOLTAGE)


@pytest.mark.parametrize(
    ("chemistry", "label", "kind", "asks"),
    [
        ("agm", "14.1 V", "shore", True),
        ("agm", "14.2 V", "shore", False),  # what most are set to
        ("flooded", "14 V", "shore", True),
        ("flooded", "14 V", "alternator", False),
        ("lithium-iron-phosphate", "14 V", "wind", True),
        ("lithium-iron-phosphate", "14.4 V", "wind", False),
    ],
)
def test_an_untold_setting_is_asked_where_a_label_allows_less_than_most(
    chemistry: str, label: str, kind: str, asks: bool
) -> None:
    """A pack of 28.0 V on a tracker of which the setting is not told was silent."""
    more = f"{chemistry}, max_charge_voltage: {label}"
    plan = UNTOLD.replace("CHEMISTRY", more).replace("KIND", kind).replace("AMPS", "15 A")
    assert not found(plan, VOLTAGE)
    assert asked(plan, VOLTAGE) == (["not told"] if asks else [])
