"""The voltage lost on whole ways of the current against what is usual."""

from __future__ import annotations

from pathlib import Path

import pytest

from plans import edited
from rule_runs import build, found
from rules.wiring.plans import ONE, TWO, in_series
from wattproof.testing import study_of


@pytest.mark.parametrize(("length", "n"), [("5 m", 0), ("14 m", 1)])
def test_the_drop_is_a_share_of_the_whole_series(length: str, n: int) -> None:
    """Two per cent of 25.6 V is 0.51 V, and the return of the lower pack is on the way."""
    plan = in_series(("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"))
    plan = plan.replace("cable: batt-8, length: 1 m}", f"cable: batt-8, length: {length}}}")
    findings = found(plan, "voltage-drop-high")
    assert len(findings) == n
    assert all("of 25.6 V" in f.message for f in findings)


DROP = "voltage-drop-high"


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
    assert [f.level for f in found(plan, DROP)] == (["note"] if fires else [])


@pytest.mark.parametrize(
    ("length", "level"),
    [("3.3 m", "note"), ("3.4 m", "warning")],  # 4 % of 12.8 V at 3.34 m
)
def test_a_small_loss_before_a_battery_is_a_note_by_whichever_body(length: str, level: str) -> None:
    plan = edited(("batt-8, length: 1 m", f"batt-8, length: {length}"), plan=ONE)
    assert [f.level for f in found(plan, DROP)] == [level]


@pytest.mark.parametrize(
    ("length", "told"),
    [("20.8 m", "is lost between"), ("21 m", "of 12.8 V: it cannot flow")],  # 3.2 V at 20.9 m
)
def test_no_more_is_lost_before_a_battery_than_its_source_has_over_it(
    length: str, told: str
) -> None:
    plan = edited(("batt-8, length: 1 m", f"batt-8, length: {length}"), plan=ONE)
    [finding] = found(plan, DROP)
    assert told in finding.message
    assert finding.level == "warning"


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
    assert f"{volts:.3f} V is lost between `tracker` and `house`" in finding.message
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
        ("nec-2023", "false", 37.5, "note"),
        ("nec-2023", "false", 37.7, "warning"),  # 15 %: it may not work
        # E-11 by its own constant: 10.75 Ω cmil/ft over 16 510 cmil is 2.136 mΩ/m: 8.99 m, 29.96 m
        ("abyc-e11", "true", 8.9, None),
        ("abyc-e11", "true", 9.1, "warning"),
        ("abyc-e11", "false", 29.9, None),
        ("abyc-e11", "false", 30.1, "warning"),
        # ISO 13297 likewise: 0.0164 Ω mm²/m over 8.367 mm² is 1.96 mΩ/m: 9.80 m, 32.65 m
        ("iso-13297", "true", 9.7, None),
        ("iso-13297", "true", 9.9, "warning"),
        ("iso-13297", "false", 32.8, "warning"),
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
    assert "(1 more way through it as well)" in finding.message


SOUND = Path(__file__).parents[2] / "sound"


def test_behind_load_terminals_it_counts_from_the_battery() -> None:
    """1.25 A through twice 80 m of 2.5 mm²: nearly all of the drop is in that one wire."""
    hut = (SOUND / "hut-load-terminals.yaml").read_text(encoding="utf-8")
    assert not found(hut, DROP)
    [finding] = found(
        hut.replace("cable: inside, length: 5 m", "cable: inside, length: 80 m"), DROP
    )
    assert "is lost between `bank` and `lamps`" in finding.message
    assert finding.level == "warning"


def test_behind_a_converter_it_counts_from_that() -> None:
    truck = (SOUND / "truck-twenty-four-volt.yaml").read_text(encoding="utf-8")
    longer = truck.replace(
        "to: lights, cable: small, length: 4 m", "to: lights, cable: small, length: 14 m"
    )
    [finding] = found(longer, DROP)
    assert "is lost between `twelve` and `lights`" in finding.message
    assert "of 12 V where" in finding.message


def test_so_does_what_a_second_converter_draws() -> None:
    """As in a chain of 48, 24 and 12 V; the wire to its input was looked at by nobody."""
    truck = (SOUND / "truck-twenty-four-volt.yaml").read_text(encoding="utf-8")
    chain = edited(
        ("converters:\n", "converters:\n  phones: {input_nominal: 12 V, output_nominal: 5 V, "
         "max_output_current: 5 A}\n"),
        ("wires:\n", "wires:\n  phones-run: {from: twelve.output, to: phones.input, cable: small, "
         "length: 40 m}\n"),
        plan=truck,
    )  # fmt: skip
    assert "`twelve` and `phones`" in " ".join(f.message for f in found(chain, DROP))
    assert not found(chain.replace("length: 40 m", "length: 1 m"), DROP)


def test_of_a_link_between_banks_the_way_of_the_source_counts() -> None:
    """An alternator charges the house bank over a relay, and a small tracker the starter's."""
    study = study_of(build("boat-relay-and-bilge-pump"))
    [there] = [p for p in study.wiring.paths if (p.origin, p.target) == ("alternator", "house")]
    [back] = [p for p in study.wiring.paths if (p.origin, p.target) == ("tracker", "start")]
    link = {p.origin: next(w for w in p.wires if w.name == "relay-run") for p in (there, back)}
    amps = {origin: wire.operating for origin, wire in link.items()}
    assert amps["alternator"] is not None
    assert amps["alternator"].number == pytest.approx(60.0)
    assert amps["tracker"] is not None
    assert amps["tracker"].number <= 15.0


@pytest.mark.parametrize(("length", "n"), [("14.5 m", 0), ("15 m", 1)])
def test_what_a_vehicle_charger_takes_from_the_alternator(length: str, n: int) -> None:
    """10 % of 12 V by the formula of ISO 13297, 0.0164 × I × 2 × L / 16 mm²: 14.7 m at 39.8 A."""
    plan = (Path(__file__).parents[3] / "examples/van-vehicle-charger.yaml").read_text("utf-8")
    plan = edited(("cable: flex-16, length: 5 m", f"cable: flex-16, length: {length}"), plan=plan)
    findings = found(plan, DROP)
    assert len(findings) == n
    assert all("between `start` and `twin-charger`" in f.message for f in findings)


def test_a_wire_drawn_for_one_pole_is_made_larger_with_its_return() -> None:
    """8 m of 8 AWG each way lose 9.6 % of 12.8 V, and 1 AWG in both of them (0.505 mΩ/m) 1.9 %."""
    whole = (
        "  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, "
        "place: cabin,\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}\n"
    )
    parted = whole.replace("tracker.battery", "tracker.battery.positive").replace("1 m", "8 m")
    parted += (
        "  back-run: {from: tracker.battery.negative, to: house.negative, cable: batt-8, "
        "length: 8 m, place: cabin}\n"
    )
    [finding] = found(edited((whole, parted), plan=ONE), DROP, tried=True)
    [changes] = finding.ways
    assert [(change.component, change.key) for change in changes] == [
        ("charge-run", "cable.size"),
        ("back-run", "cable.size"),
    ]
    assert {change.text for change in changes} == {"1 AWG"}
    assert finding.identity in finding.trials[0].clears


WEAK = """\
wattproof: 1
setting: vehicle
code: abyc-e11
datasheets:
  cables:
    thin: {size: 4 mm², kind: automotive, insulation_temperature: 105 °C}
batteries:
  leisure: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
chargers:
  alternator: {kind: alternator, max_output_current: 120 A, charge_voltage: 14.4 V}
fuses:
  car-fuse: {rating: 30 A, style: blade, voltage: 32 V}
  bank-fuse: {rating: 30 A, style: blade, voltage: 32 V}
wires:
  tow: {from: alternator, to: leisure, cable: thin, length: METRES, plug: trailer-7,
        inline: [{car-fuse: {from_end: from, distance: 15 cm}},
                 {bank-fuse: {from_end: to, distance: 15 cm}}]}
"""


def test_a_line_that_holds_an_alternator_back_is_told_as_one_fault() -> None:
    """14.4 V less 12 V over 9 m of 4 mm² hot are 22 A: what 120 A would burn is not burned."""
    text = WEAK.replace("METRES", "9 m")
    [finding] = found(text, DROP)
    assert finding.message.endswith(
        "of the 120 A of `alternator` no more than 22.1 A comes through"
    )
    assert finding.remedy.startswith("charge `leisure` by a charger near it")
    for rule in ("conductor-too-small", "small-plug-overloaded", "fuse-under-load"):
        assert not found(text, rule)


def test_a_short_line_is_overloaded_by_the_same_alternator() -> None:
    """2 m let 95 A through."""
    text = WEAK.replace("METRES", "2 m")
    for rule in ("conductor-too-small", "small-plug-overloaded"):
        assert found(text, rule)
