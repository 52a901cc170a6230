"""What hangs on the joint between batteries in series."""

from __future__ import annotations

from plans import edited
from rule_runs import all_found, faulty, found, levels, sound

HALF = "load-on-half-bank"


def test_a_load_on_either_half() -> None:
    [finding] = found(faulty(HALF), HALF)
    assert (finding.level, finding.subjects) == ("warning", ("lamp", "upper"))
    assert "draws 2 A from `upper` alone" in finding.message
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


def test_an_equaliser_that_moves_what_is_drawn_will_do() -> None:
    """It stands across both, so that it may be written with either; 2 A are drawn."""
    for name in ("upper", "lower"):
        battery = f"  {name}: {{chemistry: agm,"
        plan = faulty(HALF).replace(battery, f"{battery} equaliser: 10 A,")
        assert not found(plan, HALF)
        [finding] = found(plan.replace("equaliser: 10 A", "equaliser: 1 A"), HALF)
        assert finding.message.endswith(", and its equaliser is rated 1 A")
    [finding] = found(faulty(HALF), HALF)
    assert "an equaliser of at least 2 A across the bank (`equaliser: 2 A`)" in finding.remedy


def test_none_helps_packs_with_a_management_of_their_own() -> None:
    plan = faulty(HALF).replace(
        "chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, nominal: 12.8 V, "
        "equaliser: 10 A"
    )  # fmt: skip
    [finding] = found(plan, HALF)
    assert (finding.level, finding.remedy) == ("error", "use a converter from the whole bank for "
                                               "`lamp`")  # fmt: skip


TURNED = """\
wattproof: 1
setting: boat
batteries: {one: {chemistry: agm, nominal: 12 V}, two: {chemistry: agm, nominal: 12 V}}
selectors: {choice: {}}
loads: {radio: {current: 5 A}}
wires:
  one-plus: {from: one.positive, to: choice.1}
  two-plus: {from: two.negative, to: choice.2}
  between: {from: two.positive, to: one.negative}
  radio-plus: {from: choice.common, to: radio.positive}
  radio-minus: {from: radio.negative, to: one.negative}
"""


def test_a_battery_that_is_turned_round_makes_no_bank_in_series() -> None:
    """It is found as turned round; an equaliser would mend nothing."""
    told = all_found(TURNED)
    assert told["circuit-not-closed"] == "error"
    assert "load-on-half-bank" not in told


SMALL_MODULE = """
wattproof: 1
setting: boat
datasheets: {modules: {m: {pmax: 10 W, voc: 22 V, isc: 0.6 A, vmp: 18 V, imp: 0.56 A}}}
strings: {panel: {module: m, feeds: regulator}}
controllers: {regulator: {kind: mppt, max_output_current: 30 A}}
batteries:
  main: {chemistry: flooded, nominal: 12 V, capacity: 100 Ah, equaliser: EVEN}
  second: {chemistry: flooded, nominal: 12 V, capacity: 100 Ah}
loads: {motor: {nominal: 24 V}}
wires:
  jumper: {from: main.positive, to: second.negative}
  plus: {from: second.positive, to: motor.positive}
  minus: {from: main.negative, to: motor.negative}
  charge: {from: regulator.battery, to: main}
"""


def test_a_small_module_gives_one_battery_no_more_than_it_has() -> None:
    """0.83 A of 10 W were said to be the 30 A that the controller is rated for."""
    [finding] = found(SMALL_MODULE.replace("EVEN", "0.5 A"), HALF)
    assert "charges `main` alone with 0.84 A" in finding.message
    assert not found(SMALL_MODULE.replace("EVEN", "1 A"), HALF)
