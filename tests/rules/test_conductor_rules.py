"""Rules on conductors: limits, levels, numbers by hand, remedies that hold when applied."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import check_examples, check_text, study_of

RULES = discover()
SMALL = "conductor-too-small"
DROP = "voltage-drop-high"
TWO = RULES.rules[SMALL].sound
"""Two strings of 10.2 A at a joint, 8 AWG home run; 40 A tracker on 6 AWG."""
ONE = RULES.rules[DROP].sound
"""One string of 5.2 A on 10 AWG; 30 A tracker on 1 m of 8 AWG."""


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


@pytest.mark.parametrize("rule", [SMALL, DROP])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# What a conductor carries against what it may.


@pytest.mark.parametrize(
    ("output", "level"),
    [
        ("32 A", None),  # at it: 1.25 × 32 A = 40 A, 8 AWG on 60 °C terminals
        ("32.1 A", "error"),
    ],
)
def test_continuous_current_on_terminals(output: str, level: str | None) -> None:
    plan = edited(("max_output_current: 30 A", f"max_output_current: {output}"), plan=ONE)
    assert [f.level for f in found(plan, SMALL)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("ambient", "isc", "fires"),
    [
        # 10 AWG, 90 °C insulation, 65 °C air: 40 A × 0.65 = 26 A; 1.25 × 20.8 A = 26 A
        ("65 °C", "20.8 A", True),  # the terminals: 1.25 × 26 A = 32.5 A over 30 A
        ("65 °C", "19.2 A", False),  # 1.25 × 24 A = 30 A, at the terminals' limit
        ("65 °C", "19.3 A", True),
        # 75 °C air: 40 A × 0.50 (row 66–70 °C is 0.58, 71–75 °C 0.50) = 20 A governs
        ("75 °C", "15.9 A", False),
        ("75 °C", "16.1 A", True),
    ],
)
def test_heat_and_terminals_are_two_tests_not_a_product(
    ambient: str, isc: str, fires: bool
) -> None:
    plan = edited(
        ("ambient: 65 °C", f"ambient: {ambient}"),
        ("isc: 5.2 A", f"isc: {isc}"),
        ("length: 4 m, place: [roof, cabin],", "length: 4 m, place: [roof, cabin], run: conduit,"),
        plan=ONE,
    )
    assert [f.subjects for f in found(plan, SMALL)] == ([("home-run",)] if fires else [])
    loose = edited(("run: conduit", "run: free-air"), plan=plan)
    untold = edited((" run: conduit,", ""), plan=plan)
    both = [[f.message for f in found(each, SMALL)] for each in (untold, loose)]
    assert both[0] == both[1]  # where it is not told, free air


def test_numbers_margin_and_a_size_that_holds() -> None:
    plan = edited(("to: tracker.pv, cable: pv-8", "to: tracker.pv, cable: pv-10"), plan=TWO)
    [finding] = found(plan, SMALL)
    # 2 × 10.2 A × 1.25 = 25.5 A in bright sun, × 1.25 = 31.875 A
    assert finding.message == "`home-run` (10 AWG) has to carry 31.88 A and may carry 30 A"
    assert finding.margin == pytest.approx(1 - 31.875 / 30)
    assert (finding.level, finding.certainty) == ("error", "computed")
    assert finding.remedy.startswith("use 8 AWG of the same kind")
    assert not found(TWO, SMALL)


@pytest.mark.parametrize(
    ("code", "cable", "fires"),
    [
        ("abyc-e11", "10 AWG", False),  # 60 A in 30 °C air, × sqrt(70/75) = 58 A; no 1.25
        ("abyc-e11", "16 AWG", True),  # 25 A, × 0.966 = 24.2 A
        ("iso-13297", "6 mm²", False),
        ("iso-13297", "1.5 mm²", True),
        ("iec", "10 mm²", False),
        ("iec", "1.5 mm²", True),
        ("as-nzs-3001", "10 mm²", False),
        ("as-nzs-3001", "1.5 mm²", True),
    ],
)
def test_by_body_of_rules(code: str, cable: str, fires: bool) -> None:
    plan = edited(
        ("code: nec-2023", f"code: {code}"), ("{size: 8 AWG", f"{{size: {cable}"), plan=ONE
    )
    charge = [f for f in found(plan, SMALL) if f.subjects == ("charge-run",)]
    assert [f.level for f in charge] == (["error"] if fires else [])


def test_air_as_hot_as_the_insulation_asks_for_another_cable() -> None:
    plan = edited(("roof: {ambient: 65 °C}", "roof: {ambient: 90 °C}"), plan=ONE)
    assert not found(plan, SMALL)  # one fault, one story
    [finding] = found(plan, "insulation-too-cool")
    assert "reaches 90 °C and its insulation stands 90 °C" in finding.message
    assert "lead it where it is cooler" in finding.remedy  # its tables end at 90 °C


def test_assumptions_make_a_warning_unless_it_fails_in_any_case() -> None:
    plan = edited(("material: copper, ", ""), ("current: 30 A", "current: 32 A"), plan=ONE)
    [finding] = found(plan, SMALL)  # 40 A × 0.8 where it may be copper-clad aluminium
    assert (finding.level, finding.certainty) == ("warning", "assumed")
    assert [a.key for a in finding.assumptions] == ["conductor material"]
    worse = edited(
        ("current: 32 A", "current: 90 A"), ("series: 3", "arrangement: 3s4p"), plan=plan
    )
    findings = [f for f in found(worse, SMALL) if f.subjects == finding.subjects]
    assert [(f.level, f.certainty) for f in findings] == [("error", "assumed")]


def test_conductors_in_parallel_add_up() -> None:
    plan = edited(("max_output_current: 30 A", "max_output_current: 60 A"), plan=ONE)
    assert found(plan, SMALL)
    pair = edited(("batt-8, length: 1 m", "batt-8, length: 1 m, parallel: 2"), plan=plan)
    assert not found(pair, SMALL)  # 80 A against 75 A


def test_a_size_that_no_table_has_is_undecided() -> None:
    plan = edited(("{size: 8 AWG", "{size: 0.2 mm²"), plan=ONE)
    [finding] = found(plan, SMALL)
    assert (finding.level, finding.certainty) == ("warning", "undecided")
    assert "`charge-run`" in finding.message


INVERTER = edited(
    ("wires:\n",
     "inverters:\n  inverter: {power: POWER, nominal: 12 V}\n"
     "wires:\n  inverter-run: {from: house, to: inverter, cable: batt-8, length: 0.5 m, "
     "place: cabin, inline: [{main: {from_end: from, distance: 10 cm}}]}\n"),
    ("fuses:\n", "fuses:\n  main: {rating: 40 A, voltage: 125 V, style: class-t, dc: true}\n"),
    plan=ONE,
)  # fmt: skip
"""With an inverter of unstated efficiency on 8 AWG."""


@pytest.mark.parametrize(
    ("power", "level"),
    [
        ("300 W", None),  # 300/(0.85 × 11.5) = 30.7 A, × 1.25 = 38.4 A
        ("320 W", "warning"),  # 32.7 A, × 1.25 = 40.9 A; by assumed efficiency and low voltage
        ("900 W", "error"),  # 92 A; 68 A without loss and at nominal voltage: too much anyhow
    ],
)
def test_what_an_inverter_draws_rests_on_assumptions(power: str, level: str | None) -> None:
    findings = found(INVERTER.replace("POWER", power), SMALL)
    assert [f.level for f in findings] == ([level] if level else [])
    for finding in findings:
        assert {a.key for a in finding.assumptions} == {"efficiency", "low voltage"}


def test_single_pole_wires_each_carry_the_whole() -> None:
    plan = edited(
        ("from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,",
         "from: tracker.battery.positive, to: house.positive, cable: batt-8, length: 1 m, "
         "place: cabin,"),
        ("wires:\n", "wires:\n  return: {from: tracker.battery.negative, to: house.negative, "
                     "cable: batt-8, length: 1 m, place: cabin}\n"),
        ("max_output_current: 30 A", "max_output_current: 40 A"),
        plan=ONE,
    )  # fmt: skip
    assert sorted(f.subjects[0] for f in found(plan, SMALL)) == ["charge-run", "return"]


# Voltage drop.


@pytest.mark.parametrize(
    ("length", "fires"),
    [
        # 8 AWG, 0.778 Ω per 1000 ft at 75 °C: 30 A × 2 × L × 2.5525 mΩ/m is 2 % of 12.8 V at 1.67 m
        ("1.6 m", False),
        ("1.7 m", True),
    ],
)
def test_drop_of_a_charging_circuit(length: str, fires: bool) -> None:
    plan = edited(("batt-8, length: 1 m", f"batt-8, length: {length}"), plan=ONE)
    assert [f.level for f in found(plan, DROP)] == (["warning"] if fires else [])


def test_exactly_at_the_limit_is_silent() -> None:
    """A limit set to what the path loses: 2 % of the nominal voltage, by a made length."""
    study = study_of(ONE)
    [path] = [p for p in study.wiring.paths if p.kind == "charge"]
    assert path.share is not None
    metres = 0.02 / path.share.number  # the length is 1 m
    plan = edited(("batt-8, length: 1 m", f"batt-8, length: {metres:.12f} m"), plan=ONE)
    assert not found(plan, DROP)


def test_drop_numbers_margin_and_remedies_that_hold() -> None:
    plan = edited(("batt-8, length: 1 m", "batt-8, length: 4 m"), plan=ONE)
    [finding] = found(plan, DROP)
    volts = 30 * 2 * 4 * 0.778 / 304.8
    assert f"{volts:.4f} V is lost between `tracker` and `house`" in finding.message
    assert finding.margin == pytest.approx(1 - volts / 12.8 / 0.02)
    assert finding.remedy == "use 4 AWG for `charge-run`, or make it at most 1.6 m long"
    assert not found(edited(("{size: 8 AWG", "{size: 4 AWG"), plan=plan), DROP)
    assert found(edited(("{size: 8 AWG", "{size: 6 AWG"), plan=plan), DROP)
    assert not found(edited(("batt-8, length: 4 m", "batt-8, length: 1.6 m"), plan=plan), DROP)


def test_the_wire_that_loses_most_is_named_first() -> None:
    plan = edited(
        ("wires:\n", "wires:\n  port-lead: {from: port, to: roof-joint, cable: pv-10, length: 9 m, "
                     "place: roof}\n"),
        ("cable: pv-8, length: 3 m", "cable: pv-8, length: 20 m"),
        plan=TWO,
    )  # fmt: skip
    [finding] = found(plan, DROP)
    assert finding.subjects == ("home-run", "port-lead")
    assert "of it in `home-run` (8 AWG)" in finding.message
    assert finding.remedy.startswith("use ")


def test_where_no_size_of_one_wire_is_enough() -> None:
    plan = edited(
        ("8 AWG", "500 kcmil"), ("batt-8, length: 1 m", "batt-8, length: 250 m"), plan=ONE
    )
    [finding] = found(plan, DROP)
    assert finding.remedy == "shorten `charge-run`, or raise the voltage"


LOADS = edited(
    ("wires:\n", """\
loads:
  lamp: {current: 10 A, critical: CRITICAL}
wires:
  lamp-run: {from: house, to: lamp, cable: batt-8, length: LENGTH, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""),
    ("fuses:\n", "fuses:\n  lamp-fuse: {rating: 15 A, voltage: 58 V, style: class-t, dc: true}\n"),
    plan=ONE,
)  # fmt: skip


@pytest.mark.parametrize(
    ("code", "critical", "metres", "level"),
    [
        # 10 A × 2 × L × 2.5525 mΩ/m over 12.8 V: 3 % at 7.52 m, 5 % at 12.54 m, 10 % at 25.07 m
        ("nec-2023", "true", 7.4, None),
        ("nec-2023", "true", 7.6, "warning"),
        ("nec-2023", "false", 12.4, None),
        ("nec-2023", "false", 12.6, "note"),
        # E-11 by its own constant: 10.75 Ω cmil/ft over 16 510 cmil is 2.136 mΩ/m: 8.99 m, 29.96 m
        ("abyc-e11", "true", 8.9, None),
        ("abyc-e11", "true", 9.1, "warning"),
        ("abyc-e11", "false", 29.9, None),
        ("abyc-e11", "false", 30.1, "note"),
        # ISO 13297 likewise: 0.0164 Ω mm²/m over 8.367 mm² is 1.96 mΩ/m: 9.80 m, 32.65 m
        ("iso-13297", "true", 9.7, None),
        ("iso-13297", "true", 9.9, "warning"),
        ("iso-13297", "false", 32.8, "note"),
        # IEC, from a supply of one's own: 6 % at 15.05 m, 8 % at 20.06 m
        ("iec", "true", 14.9, None),
        ("iec", "true", 15.2, "warning"),
        ("iec", "false", 19.9, None),
        ("iec", "false", 20.2, "note"),
        ("as-nzs-3001", "true", 12.4, None),  # 5 % for all of extra-low voltage
        ("as-nzs-3001", "true", 12.6, "warning"),
        ("as-nzs-3001", "false", 12.6, "note"),
    ],
)
def test_drop_to_loads_by_body_of_rules(
    code: str, critical: str, metres: float, level: str | None
) -> None:
    plan = LOADS.replace("CRITICAL", critical).replace("LENGTH", f"{metres} m")
    plan = edited(("code: nec-2023", f"code: {code}"), plan=plan)
    assert [f.level for f in found(plan, DROP)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("critical", "metres", "level"),
    [("true", 7.4, None), ("true", 7.6, "warning"), ("false", 12.4, None), ("false", 12.6, "note")],
)
def test_where_the_public_grid_feeds_it_the_iec_row_is_the_tighter_one(
    critical: str, metres: float, level: str | None
) -> None:
    plan = LOADS.replace("CRITICAL", critical).replace("LENGTH", f"{metres} m")
    plan = edited(
        ("code: nec-2023", "code: iec"),
        ("loads:\n", "chargers:\n  mains: {kind: shore, max_output_current: 10 A}\nloads:\n"),
        ("wires:\n", "wires:\n  mains-run: {from: mains, to: house, cable: batt-8, length: 50 cm, "
                     "place: cabin}\n"),
        plan=plan,
    )  # fmt: skip
    findings = [f for f in found(plan, DROP) if "lamp-run" in f.subjects]
    assert [f.level for f in findings] == ([level] if level else [])


def test_a_body_s_own_formula_is_named_with_the_hot_figure_beside_it() -> None:
    plan = LOADS.replace("CRITICAL", "true").replace("LENGTH", "9.1 m")
    [finding] = found(edited(("code: nec-2023", "code: abyc-e11"), plan=plan), DROP)
    assert "by ABYC E-11's own formula" in finding.message
    assert "V hot" in finding.message
    assert finding.remedy.startswith("use 6 AWG for `lamp-run`, or make it at most 8.9 m long")
    [plain] = found(plan, DROP)
    assert "formula" not in plain.message


def test_a_shared_cable_is_reckoned_with_charging_and_drawing_apart() -> None:
    """30 A in and 90 A out do not flow at once: the charging path is judged by its 30 A."""
    plan = edited(
        ("from: tracker.battery, to: house,", "from: tracker.battery, to: bar,"),
        ("inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]", "inline: [charge-fuse]"),
        ("wires:\n", """\
busbars:
  bar: {rating: 150 A}
loads:
  winch: {current: 90 A}
wires:
  main-run: {from: house, to: bar, cable: heavy, length: 2.5 m, place: cabin}
  winch-run: {from: bar, to: winch, cable: heavy, length: 0.5 m, place: cabin}
"""),
        ("    batt-8:", "    heavy: {size: 1 AWG, kind: battery, material: copper}\n    batt-8:"),
        plan=ONE,
    )  # fmt: skip
    paths = {p.origin: p for p in study_of(plan).wiring.paths}
    r1, r8 = 0.154 / 304.8, 0.778 / 304.8  # 1 AWG and 8 AWG at 75 °C
    charge, draw = paths["tracker"].drop, paths["house"].drop
    assert charge is not None
    assert draw is not None
    assert charge.number == pytest.approx(2 * 30 * (1.0 * r8 + 2.5 * r1), rel=0.01)
    assert draw.number == pytest.approx(2 * 90 * 3.0 * r1, rel=0.01)
    assert not found(plan, DROP)


def test_a_bank_that_only_shares_the_negative_has_no_path_to_the_loads() -> None:
    plan = edited(
        ("batteries:\n",
         "batteries:\n  starter: {chemistry: agm, nominal: 12 V, capacity: 70 Ah}\n"),
        ("loads:\n", "loads:\n  horn: {current: 5 A}\n"),
        ("wires:\n", "wires:\n"
                     "  minus: {from: starter.negative, to: house.negative, cable: batt-8, "
                     "length: 1 m}\n"
                     "  horn-run: {from: starter, to: horn, cable: batt-8, length: 1 m}\n"),
        plan=LOADS.replace("CRITICAL", "false").replace("LENGTH", "1 m"),
    )  # fmt: skip
    ways = {(p.origin, p.target) for p in study_of(plan).wiring.paths}
    assert ("starter", "horn") in ways
    assert ("house", "lamp") in ways
    assert ("house", "horn") not in ways
    assert ("starter", "lamp") not in ways


def test_several_ways_through_one_thin_wire_are_one_finding() -> None:
    plan = edited(
        ("loads:\n", "busbars:\n  bar: {rating: 100 A}\nloads:\n  horn: {current: 5 A}\n"),
        ("from: house, to: lamp,", "from: house, to: bar,"),
        ("wires:\n", "wires:\n"
                     "  a-run: {from: bar, to: lamp, cable: batt-8, length: 1 m}\n"
                     "  b-run: {from: bar, to: horn, cable: batt-8, length: 1 m}\n"),
        plan=LOADS.replace("CRITICAL", "true").replace("LENGTH", "12 m"),
    )  # fmt: skip
    [finding] = found(plan, DROP)
    assert finding.level == "warning"  # the lamp matters, the horn does not
    assert finding.subjects[0] == "lamp-run"
    assert "(1 more way through it too)" in finding.message
