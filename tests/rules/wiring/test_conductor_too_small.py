"""The lasting current of a conductor against what it may carry in its place."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, build, found, sound
from rules.wiring.plans import ONE, TWO, in_series
from wattproof.testing import study_of


def test_a_thin_link_between_batteries_in_series() -> None:
    """30 A of the tracker, and a fuse of 40 A, through 14 AWG for 15 A."""
    cable = "{size: 14 AWG, kind: battery, material: copper, insulation_temperature: 105 °C}"
    thin = ("    batt-8:", f"    thin-14: {cable}\n    batt-8:")
    link = "low.positive, cable: batt-8"
    for rule in ("conductor-too-small", "fuse-over-conductor"):
        assert not found(in_series(), rule)
        [finding] = found(in_series(thin).replace(link, "low.positive, cable: thin-14"), rule)
        assert finding.subjects[0] == "link"


SMALL = "conductor-too-small"


@pytest.mark.parametrize(
    ("output", "level"),
    [
        ("32 A", None),  # at it: 1.25 × 32 A = 40 A, 8 AWG on 60 °C terminals
        ("32.1 A", "warning"),  # on terminals that may be marked for more
    ],
)
def test_continuous_current_on_terminals(output: str, level: str | None) -> None:
    plan = edited(("max_output_current: 30 A", f"max_output_current: {output}"), plan=ONE)
    assert [f.level for f in found(plan, SMALL)] == ([level] if level else [])


def test_terminals_that_are_marked_are_taken_at_their_word() -> None:
    more = ("max_output_current: 30 A", "max_output_current: 32.1 A")
    thin = ("batt-8: {size: 8 AWG", "batt-8: {size: 10 AWG")
    run = "cable: batt-8, length: 1 m"
    assert run in ONE
    for mark, level in (("60 °C", ["error"]), ("75 °C", [])):
        marked = (run, run.replace(",", f", terminal_temperature: {mark},", 1))
        assert [f.level for f in found(edited(more, marked, plan=ONE), SMALL)] == level
    # 10 AWG is too small for 1.25 × 32.1 A on terminals for 75 °C too
    assert [f.level for f in found(edited(more, thin, plan=ONE), SMALL)] == ["error"]


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
        ("isc: 5.2 A, imp: 4.9 A", f"isc: {isc}, imp: 15 A"),
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
    assert (
        finding.message == "`home-run` (10 AWG) has to carry 31.9 A; 30 A is the most that it may"
    )
    assert finding.margin == pytest.approx(1 - 31.875 / 30)
    assert (finding.level, finding.verdict) == ("warning", "likely")  # 35 A if marked for 75 °C
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
    assert "reaches 90 °C and its insulation is rated 90 °C" in finding.message
    assert "lead it where it is cooler" in finding.remedy  # its tables end at 90 °C


def test_a_metal_that_is_not_stated_is_asked_unless_it_fails_in_any_case() -> None:
    plan = edited(("material: copper, ", ""), ("current: 30 A", "current: 32 A"), plan=ONE)
    assert not found(plan, SMALL)
    assert asked(plan, SMALL) == ["conductor material"]  # 40 A × 0.8 of copper-clad aluminium
    worse = edited(
        ("current: 32 A", "current: 90 A"),
        ("series: 3", "arrangement: 3s4p"),
        ("{rating: 40 A", "{rating: 125 A"),
        plan=plan,
    )
    findings = [f for f in found(worse, SMALL) if f.subjects == ("charge-run",)]
    assert [(f.level, f.verdict) for f in findings] == [("error", "certain")]


def test_conductors_in_parallel_add_up() -> None:
    plan = edited(("max_output_current: 30 A", "max_output_current: 60 A"), plan=ONE)
    assert found(plan, SMALL)
    pair = edited(("batt-8, length: 1 m", "batt-8, length: 1 m, parallel: 2"), plan=plan)
    assert not found(pair, SMALL)  # 80 A against 75 A


def test_a_size_that_no_table_has_is_a_note() -> None:
    plan = edited(("{size: 8 AWG", "{size: 0.1 mm²"), plan=ONE)
    [finding] = found(plan, SMALL)
    assert (finding.level, finding.verdict) == ("note", "certain")
    assert "`charge-run`" in finding.message


def test_a_size_below_the_tables_is_judged_by_what_the_smallest_row_tells() -> None:
    plan = edited(("{size: 8 AWG", "{size: 0.5 mm²"), plan=ONE)
    [finding] = found(plan, SMALL)
    assert (finding.level, finding.verdict) == ("error", "certain")


INVERTER = edited(
    ("wires:\n",
     "inverters:\n  inverter: {power: POWER, nominal: 12 V}\n"
     "wires:\n  inverter-run: {from: house, to: inverter, cable: batt-8, length: 0.5 m, "
     "place: cabin, inline: [{main: {from_end: from, distance: 10 cm}}]}\n"),
    ("fuses:\n", "fuses:\n  main: {rating: 100 A, voltage: 125 V, style: class-t, dc: true}\n"),
    plan=ONE,
)  # fmt: skip
"""With an inverter of unstated efficiency on 8 AWG."""


@pytest.mark.parametrize(
    ("power", "level"),
    [
        ("365 W", None),  # 365/(0.9 × 12.8) = 31.7 A, × 1.25 = 39.6 A
        ("372 W", "warning"),  # 32.3 A, × 1.25 = 40.4 A; by assumed efficiency and voltage
        ("900 W", "error"),  # 78 A; 71 A with little loss and at a full battery
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


def test_behind_an_isolator_the_source_gives_its_current_once() -> None:
    """90 A to one battery or the other, or shared: the pair to the isolator carries 90 A."""
    ends = "from: splitter.house-side, to: house,"
    poles = "from: splitter.house-side.positive, to: house.positive,"
    back = "{from: alternator.negative, to: start.negative, cable: batt-2-0, length: 1 m}"
    plan = edited(
        (ends, poles),
        ("  back-run:", f"  engine-back: {back}\n  back-run:"),
        plan=build("boat-isolator-iso-13297"),
    )
    study = study_of(plan)
    for name in ("alternator-run", "engine-back"):
        current = study.wiring.wires[name].current
        assert current is not None
        assert current.number == pytest.approx(90.0)


@pytest.mark.parametrize(("cable", "expected"), [("c6", []), ("c2", ["body"])])
def test_a_bond_that_brings_a_charger_its_current_back(cable: str, expected: list[str]) -> None:
    """39.8 A over the body: 2.5 mm² carries some 30 A and 6 mm² some 55 A."""
    old = "body: {from: minus-bar.negative, to: chassis, cable: c50"
    plan = edited((old, old.replace("c50", cable)), plan=build("van-body-bonds-at-both-ends"))
    findings = found(plan, SMALL)
    assert [finding.subjects[0] for finding in findings] == expected
    assert all("has to carry 39.8 A" in finding.message for finding in findings)


def test_an_alternator_without_a_negative_returns_to_the_battery_that_stands_with_it() -> None:
    """150 A come back by the strap of the starting battery, and 39.8 A by that of the house."""
    study = study_of(build("van-body-bonds-at-both-ends"))
    found = {wire.name: wire.current for wire in study.wiring.bonds_in_use}
    assert {name: round(amps.number, 1) for name, amps in found.items() if amps is not None} == {
        "body": 39.8,
        "start-body": 150.0,
    }


@pytest.mark.parametrize(("fuse", "levels_told"), [("60 A", ["note"]), ("90 A", ["error"])])
def test_a_negative_alone_is_guarded_by_the_fuse_in_its_positive(
    fuse: str, levels_told: list[str]
) -> None:
    """900 W draw 90.9 A, and 8 AWG of 105 °C carries 80 A."""
    plan = edited(
        ("code: nec-2023", "code: abyc-e11"),
        ("bank-fuse: {rating: 125 A", f"bank-fuse: {{rating: {fuse}"),
        ("power: 800 W", "power: 900 W"),
        ("bank-run: {from: house, to: bar,", "bank-run: {from: house, to: bar, pole: positive,"),
        ("wires:\n", "wires:\n  bank-back: {from: house, to: bar, pole: negative, cable: batt-8, "
         "length: 60 cm, place: cabin}\n"),
        plan=sound("device-behind-larger-fuse"),
    )  # fmt: skip
    told = [f for f in found(plan, "conductor-too-small") if f.subjects[0] == "bank-back"]
    assert [f.level for f in told] == levels_told


@pytest.mark.parametrize(
    ("duty", "expected"),
    [("", ["body"]), (", short_duty: 20 min", ["body"]), (", short_duty: 9 s", [])],
)
def test_a_bond_that_brings_a_winch_its_current_back_for_seconds(
    duty: str, expected: list[str]
) -> None:
    """274 A over the body for 9 s: 50 mm² carries 232 A for good."""
    plan = edited(
        ("loads:\n", f"loads:\n  winch: {{current: 270 A, nominal: 12 V{duty}}}\n"),
        ("wires:\n", "wires:\n"
         "  winch-plus: {from: plus-bar.positive, to: winch.positive, cable: c95, length: 1 m}\n"
         "  winch-minus: {from: winch.negative, to: chassis, cable: c95, length: 1 m}\n"),
        plan=build("van-body-bonds-at-both-ends"),
    )  # fmt: skip
    findings = [f for f in found(plan, SMALL) if f.subjects[0] == "body"]
    assert [finding.subjects[0] for finding in findings] == expected
    for finding in findings:
        assert (" for good, which warms it as much as " in finding.message) == bool(duty)


@pytest.mark.parametrize(("cable", "expected"), [("c95", []), ("c16", ["start-body"])])
def test_the_only_tie_of_an_alternators_battery_carries_what_it_gives(
    cable: str, expected: list[str]
) -> None:
    """150 A come back by it, though no wire of the plan leads to the body."""
    plan = edited(
        ("start-body: {from: start.negative, to: chassis, cable: c50", f"start-body: {{from: "
         f"start.negative, to: chassis, cable: {cable}"),
        ("  body: {from: minus-bar.negative, to: chassis, cable: c50, length: 50 cm}\n", ""),
        ("lamps-minus: {from: lamps.negative, to: chassis.negative",
         "lamps-minus: {from: lamps.negative, to: board.negative"),
        ("  driver-minus:", "  driver-back: {from: driver.alternator.negative, to: start.negative, "
         "cable: c16, length: 6 m}\n  driver-minus:"),
        plan=build("van-body-bonds-at-both-ends"),
    )  # fmt: skip
    assert [f.subjects[0] for f in found(plan, SMALL)] == expected


STRAP = """\
wattproof: 1
setting: vehicle
code: iec
datasheets:
  cables:
    thick: {size: 70 mm², kind: battery, insulation_temperature: 105 °C}
    strap: {size: 16 mm², kind: battery, insulation_temperature: 105 °C}
fuses:
  lamp-fuse: {rating: 60 A, style: stud-mounted, voltage: 58 V, interrupt: 10 kA}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}
chargers:
  alternator: {kind: alternator, max_output_current: 150 A, charge_voltage: 14.4 V}
loads:
  lamp: {current: 20 A}
wires:
  engine: {from: alternator.positive, to: start.positive, cable: thick, length: 1 m, enclosed: true}
  tie: {from: start.negative, to: chassis, cable: strap, length: 50 cm}
  lamp-run: {from: start.positive, to: lamp.positive, cable: thick, length: 3 m,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
  lamp-back: {from: lamp.negative, to: chassis, cable: thick, length: 1 m}
"""


def test_what_an_alternator_gives_comes_back_past_the_fuses_of_the_battery() -> None:
    """150 A in 16 mm²: the fuse of 60 A of a lamp opens before none of it."""
    told = {f.subjects[0]: f for f in found(STRAP, "conductor-too-small")}
    assert told["tie"].level == "error"
    assert "its fuse opens" not in told["tie"].message
    assert not found(STRAP.replace("16 mm²", "70 mm²"), "conductor-too-small")


def test_what_comes_back_through_a_fuse_is_held_by_it() -> None:
    """Two ties: by that of the house comes back what its fuses let through, and no more."""
    near, fuses = "{from_end: from, distance: 10 cm}", "{style: stud-mounted, rating: 60 A}"
    plan = edited(
        ("batteries:\n", "batteries:\n  house: {chemistry: agm, nominal: 12 V}\n"),
        ("fuses:\n", f"fuses:\n  house-fuse: {fuses}\n"),
        ("lamp-run: {from: start.positive, to: lamp", "link: {from: start.positive, to: house"),
        (f"[{{lamp-fuse: {near}}}]",
         f"[{{lamp-fuse: {near}}}, {{house-fuse: {{from_end: to, distance: 10 cm}}}}]"),
        ("lamp-back: {from: lamp.negative, to: chassis, cable: thick",
         "house-tie: {from: house.negative, to: chassis, cable: strap"),
        ("loads:\n  lamp: {current: 20 A}\n", ""),
        plan=STRAP,
    )  # fmt: skip
    told = {f.subjects[0]: f for f in found(plan, "conductor-too-small")}
    assert told["tie"].level == "error"
    assert told["house-tie"].level == "note"


CAR_AND_TRAILER = """\
wattproof: 1
setting: vehicle
code: nec-2023
datasheets:
  cables:
    charge-wire: {size: 10 AWG, insulation_temperature: 90 °C, material: copper}
    lamp-wire: {size: 20 AWG, insulation_temperature: 90 °C, material: copper}
chargers: {alternator: {kind: alternator, max_output_current: 100 A}}
batteries:
  car: {chemistry: flooded, nominal: 12 V, capacity: 70 Ah}
  trailer: {chemistry: flooded, nominal: 12 V, capacity: 200 Ah}
fuses: {hood: {rating: 30 A, style: blade, voltage: 32 V, interrupt: 2 kA, dc: true}}
inverters: {inverter: {power: 1000 W, nominal: 12 V}}
wires:
  alternator-run: {from: alternator, to: car}
  charge: {from: car.positive, to: trailer.positive, cable: charge-wire, length: 6 m,
           inline: [{hood: {from_end: from, distance: 10 cm}}]}
  return: {from: trailer.negative, to: car.negative, cable: lamp-wire, length: 6 m}
  inverter-run: {from: trailer, to: inverter}
"""


def test_a_return_need_carry_no_more_than_the_fuse_of_its_positive_lets_through() -> None:
    """A lamp wire that brought a trailer's charge back burned (a thread of June 2013,
    community.goodsam.com/discussions/technicalissues/rv-dealer-messed-up-wiring-/533864); its mend
    is the size of the positive, and 1 AWG was proposed, for all that an alternator gives."""
    [thin] = found(CAR_AND_TRAILER, "conductor-too-small")
    assert thin.subjects[0] == "return"
    assert thin.remedy.startswith("use 10 AWG of the same kind")
    bare = CAR_AND_TRAILER.replace(
        "length: 6 m,\n           inline: [{hood: {from_end: from, distance: 10 cm}}]}",
        "length: 6 m}",
    )
    assert "return" in {f.subjects[0] for f in found(bare, "conductor-too-small")}
    assert not any("use 10 AWG" in f.remedy for f in found(bare, "conductor-too-small"))


UNTOLD_FUSE = """\
wattproof: 1
setting: vehicle
code: {{array: nec-2023, battery: abyc-e11}}
batteries:
  start: {{chemistry: flooded, nominal: 12 V}}
  house: {{chemistry: agm, nominal: 12 V}}
controllers: {{charger: {{kind: vehicle-charger, max_output_current: 50 A}}}}
fuses: {{before: {rating}, behind: {{rating: 60 A}}}}
wires:
  run: {{from: start, to: charger.alternator, cable: 2.5 mm², length: 6 m,
        inline: [{{before: {{from_end: from, distance: 5 cm}}}}]}}
  out: {{from: charger.battery, to: house, length: 50 cm,
        inline: [{{behind: {{from_end: to, distance: 5 cm}}}}]}}
"""


@pytest.mark.parametrize(("rating", "level"), [("unknown", "error"), ("{rating: 15 A}", "note")])
def test_a_fuse_of_untold_rating_opens_before_nothing(rating: str, level: str) -> None:
    """It was taken for one that protects the thin wire, which was a note then, and a loss."""
    plan = UNTOLD_FUSE.format(rating=rating)
    [finding] = found(plan, "conductor-too-small")
    assert (finding.subjects, finding.level) == (("run",), level)
