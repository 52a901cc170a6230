"""Rules on what a cable is made of and made for, and on where its current goes back."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.source import PlanUnusable
from wattproof.testing import check_examples, check_text

RULES = discover()
COOL = "insulation-too-cool"
OUTDOORS = "cable-not-for-outdoors"
WELDING = "welding-cable-fixed"
METAL = "aluminium-conductor"
PARALLEL = "paralleled-small-wires"
NEGATIVE = "negative-smaller-than-positive"
CHASSIS = "chassis-as-return"
ALL = (COOL, OUTDOORS, WELDING, METAL, PARALLEL, NEGATIVE, CHASSIS)
PLAN = {rule: RULES.rules[rule].sound for rule in ALL}


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


@pytest.mark.parametrize("rule", ALL)
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Heat.


@pytest.mark.parametrize(
    ("insulation", "fires"),
    [("60 °C", True), ("75 °C", False), ("105 °C", False)],
)
def test_air_of_60_degrees(insulation: str, fires: bool) -> None:
    plan = edited(("insulation_temperature: 105 °C", f"insulation_temperature: {insulation}"),
                  plan=PLAN[COOL])  # fmt: skip
    findings = found(plan, COOL)
    assert [(f.level, f.subjects) for f in findings] == (
        [("error", ("charge-run",))] if fires else []
    )
    if fires:
        assert "reaches 60 °C and its insulation stands 60 °C" in findings[0].message
        assert "90 °C or more" in findings[0].remedy
        others = check_text(plan).findings
        assert {f.rule for f in others} == {COOL}  # not the size, nor the fuse
        better = edited(("insulation_temperature: 60 °C", "insulation_temperature: 90 °C"),
                        plan=plan)  # fmt: skip
        assert not found(better, COOL)


def test_above_the_end_of_the_table_the_wire_is_too_small_and_its_fuse_too_large() -> None:
    """The 60 °C column of NEC 310.15(B)(1) ends at 55 °C: the equation behind it goes on."""
    plan = edited(
        ("insulation_temperature: 105 °C", "insulation_temperature: 60 °C"),
        ("beside-engine: {ambient: 60 °C}", "beside-engine: {ambient: 58 °C}"),
        plan=PLAN[COOL],
    )
    assert not found(plan, COOL)
    [small] = found(plan, "conductor-too-small")
    assert small.subjects == ("charge-run",)
    assert found(plan, "fuse-over-conductor")


def test_air_that_is_too_hot_does_not_hide_a_fuse_that_is_too_large_anyway() -> None:
    """60 A of 8 AWG in free air and 40 A of its terminals do not bear 80 A in any air."""
    plan = edited(
        ("insulation_temperature: 105 °C", "insulation_temperature: 60 °C"), plan=PLAN[COOL]
    )
    assert {f.rule for f in check_text(plan).findings} == {COOL}
    large = edited(("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 80 A"), plan=plan)
    assert found(large, COOL)
    [finding] = found(large, "fuse-over-conductor")
    assert finding.level == "error"
    assert "protects it, even in cool air" in finding.message
    thin = edited(("batt-8: {size: 8 AWG", "batt-8: {size: 14 AWG"), plan=plan)
    assert found(thin, COOL)
    [small] = found(thin, "conductor-too-small")
    assert "even in cool air" in small.message


@pytest.mark.parametrize("insulation", ["60 °C", "70 °C"])
def test_cool_insulation_in_the_engine_space_of_a_boat_is_refused(insulation: str) -> None:
    boat = edited(
        ("setting: vehicle", "setting: boat"),
        ("code: nec-2023", "code: abyc-e11"),
        ("beside-engine: {ambient: 60 °C}", "beside-engine: {ambient: 45 °C, engine_space: true}"),
        plan=PLAN[COOL],
    )
    assert not found(boat, COOL)
    cooler = f"material: copper, insulation_temperature: {insulation}"
    plan = edited(("material: copper, insulation_temperature: 105 °C", cooler), plan=boat)
    [finding] = found(plan, COOL)
    assert finding.subjects == ("charge-run",)
    assert f"{insulation} insulation is not allowed in an engine space" in finding.message
    assert "75 °C or more" in finding.remedy


def test_what_is_assumed_makes_a_warning_unless_no_usual_cable_stands_it() -> None:
    unmarked = edited((", insulation_temperature: 105 °C", ""), ("kind: battery", "kind: building"),
                      plan=PLAN[COOL])  # fmt: skip
    [finding] = found(unmarked, COOL)
    assert (finding.level, finding.certainty) == ("warning", "assumed")
    hot = edited(("{ambient: 60 °C}", "{ambient: 110 °C}"), plan=unmarked)  # above 105 °C too
    assert [f.level for f in found(hot, COOL)] == ["error"]


# Sun and rain.


@pytest.mark.parametrize(
    ("kind", "outdoor", "series", "level"),
    [
        ("building", "outdoor: false", "3", "error"),  # 82 V cold
        ("building", "outdoor: false", "2", "warning"),  # 54.7 V
        ("automotive", "outdoor: false", "2", "warning"),
        ("building", "outdoor: true", "3", None),
        ("pv", "outdoor: false", "3", None),
        ("marine", "outdoor: false", "3", None),
    ],
)
def test_kind_and_mark(kind: str, outdoor: str, series: str, level: str | None) -> None:
    plan = edited(
        ("kind: building", f"kind: {kind}"), ("outdoor: true", outdoor),
        ("series: 3", f"series: {series}"), plan=PLAN[OUTDOORS],
    )  # fmt: skip
    findings = found(plan, OUTDOORS)
    assert [f.level for f in findings] == ([level] if level else [])
    if level:
        assert findings[0].subjects == ("home-run",)
        assert "use PV cable" in findings[0].remedy


def test_not_stated_is_a_note_for_a_kind_that_is_usually_not_and_else_silent() -> None:
    silent = edited((",\n            outdoor: true", ""), plan=PLAN[OUTDOORS])
    [finding] = found(silent, OUTDOORS)
    assert (finding.level, finding.certainty) == ("note", "undecided")
    assert not found(edited(("kind: building, ", ""), plan=silent), OUTDOORS)


@pytest.mark.parametrize(
    ("place", "fires"),
    [
        ("{ambient: 50 °C, wet: true}", True),
        ("{ambient: 50 °C}", False),
    ],
)
def test_places(place: str, fires: bool) -> None:
    plan = edited(("outdoor: true", "outdoor: false"), ("{ambient: 50 °C, sunlight: true}", place),
                  plan=PLAN[OUTDOORS])  # fmt: skip
    assert bool(found(plan, OUTDOORS)) is fires


def test_in_conduit_it_is_a_note() -> None:
    plan = edited(
        ("outdoor: true", "outdoor: false"), ("length: 4 m,", "length: 4 m, run: conduit,"),
        plan=PLAN[OUTDOORS],
    )  # fmt: skip
    assert [f.level for f in found(plan, OUTDOORS)] == ["note"]


# What it is sold as, and its metal.


@pytest.mark.parametrize(
    ("setting", "code", "level"),
    [
        ("boat", "abyc-e11", "warning"),
        ("cabin", "nec-2023", "warning"),
        ("vehicle", "nec-2023", "note"),
        ("vehicle", "as-nzs-3001", "note"),
        ("vehicle", "iso-13297", "warning"),  # marine rules have no other setting in mind
    ],
)
def test_welding_cable(setting: str, code: str, level: str) -> None:
    plan = edited(
        ("setting: boat", f"setting: {setting}"), ("kind: marine", "kind: welding"),
        ("code: abyc-e11", f"code: {code}"),
        plan=PLAN[WELDING],
    )  # fmt: skip
    [finding] = found(plan, WELDING)
    assert (finding.level, finding.subjects) == (level, ("charge-run",))
    assert "8 AWG" in finding.remedy
    assert not found(edited(("kind: welding", "kind: battery"), plan=plan), WELDING)


@pytest.mark.parametrize(
    ("material", "fires"),
    [
        ("material: copper, ", False),
        ("material: aluminium, ", True),
        ("material: copper-clad-aluminium, ", True),
        ("", False),  # not stated: assumed in the sums, and said there
    ],
)
def test_metal(material: str, fires: bool) -> None:
    plan = edited(("material: copper, ", material), plan=PLAN[METAL])
    findings = found(plan, METAL)
    assert [f.level for f in findings] == (["warning"] if fires else [])
    if fires:
        assert findings[0].subjects == ("charge-run",)
        assert "times the resistance of copper" in findings[0].message


# In parallel.


@pytest.mark.parametrize(
    ("code", "size", "level"),
    [
        ("nec-2023", "1/0 AWG", None),  # at it
        ("nec-2023", "1 AWG", "warning"),
        ("nec-2023", "53.5 mm²", None),
        ("nec-2023", "50 mm²", "warning"),
        ("abyc-e11", "1 AWG", "note"),
        ("iso-13297", "35 mm²", "note"),
        ("iec", "35 mm²", None),
        ("as-nzs-3001", "4 mm²", None),  # at it
        ("as-nzs-3001", "2.5 mm²", "warning"),
    ],
)
def test_size_in_parallel(code: str, size: str, level: str | None) -> None:
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("pair-2-0: {size: 2/0 AWG", f"pair-2-0: {{size: {size}"),
        plan=PLAN[PARALLEL],
    )  # fmt: skip
    findings = found(plan, PARALLEL)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all(f.subjects == ("inverter-run",) for f in findings)


def test_one_conductor_instead() -> None:
    plan = edited(("pair-2-0: {size: 2/0 AWG", "pair-2-0: {size: 1 AWG"), plan=PLAN[PARALLEL])
    [finding] = found(plan, PARALLEL)
    assert "use one conductor of 3/0 AWG" in finding.remedy  # 2 × 42.4 mm² is 84.8 mm²
    single = edited(
        ("pair-2-0: {size: 1 AWG", "pair-2-0: {size: 3/0 AWG"),
        (",\n                 parallel: 2", ""),
        plan=plan,
    )
    assert not found(single, PARALLEL)


# Back to the battery.


@pytest.mark.parametrize(
    ("fuse", "fires"),
    [
        ("110 A", False),  # at it: 1 AWG on 60 °C terminals carries 110 A
        ("125 A", True),
        ("150 A", True),
    ],
)
def test_a_thinner_negative(fuse: str, fires: bool) -> None:
    plan = edited(
        ("to: main-bar.negative, cable: batt-1-0", "to: main-bar.negative, cable: batt-1"),
        ("bank-fuse: {rating: 150 A", f"bank-fuse: {{rating: {fuse}"),
        plan=PLAN[NEGATIVE],
    )
    findings = found(plan, NEGATIVE)
    assert [(f.level, f.subjects) for f in findings] == (
        [("error", ("inverter-negative", "inverter-positive"))] if fires else []
    )
    if fires:
        assert f"behind `bank-fuse` with {fuse}; at most 110 A protects it" in findings[0].message
        assert "use 1/0 AWG for `inverter-negative`" in findings[0].remedy


def test_a_shared_negative_is_held_against_the_largest_of_its_positives() -> None:
    """The fan's fuse alone would be small enough for the common return; the lamp's is not."""
    plan = edited(
        ("busbars:\n", "busbars:\n  returns: {}\n"),
        ("inverters:\n", "loads: {lamp: {current: 10 A}, fan: {current: 2 A}}\ninverters:\n"),
        ("fuses:\n", "fuses:\n  lamp-fuse: {rating: 60 A, voltage: 125 V, interrupt: 20 kA}\n"
         "  fan-fuse: {rating: 5 A, voltage: 125 V, interrupt: 20 kA}\n"),
        ("wires:\n", "wires:\n"
         "  lamp-plus: {from: main-bar.positive, to: lamp.positive, cable: batt-1, length: 1 m, "
         "inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}\n"
         "  fan-plus: {from: main-bar.positive, to: fan.positive, cable: batt-8, length: 1 m, "
         "inline: [{fan-fuse: {from_end: from, distance: 10 cm}}]}\n"
         "  lamp-minus: {from: lamp.negative, to: returns.negative, cable: batt-1, length: 1 m}\n"
         "  fan-minus: {from: fan.negative, to: returns.negative, cable: batt-8, length: 1 m}\n"
         "  common: {from: returns.negative, to: main-bar.negative, cable: batt-8, length: 1 m}\n"),
        plan=PLAN[NEGATIVE],
    )  # fmt: skip
    [finding] = found(plan, NEGATIVE)
    assert finding.subjects == ("common", "lamp-plus")
    assert "behind `lamp-fuse` with 60 A" in finding.message


def test_pairs_and_positives_are_not_asked() -> None:
    assert not found(PLAN[CHASSIS], NEGATIVE)
    assert not found(PLAN[PARALLEL], NEGATIVE)


RETURNED = RULES.rules[CHASSIS].faulty.of(PLAN[CHASSIS])


@pytest.mark.parametrize(
    ("setting", "found_at"),
    [
        ("vehicle", {("inverter-negative", "warning")}),  # 4 A of the lamp may
        ("boat", {("inverter-negative", "error"), ("lamp-negative", "error")}),
        ("cabin", {("inverter-negative", "error"), ("lamp-negative", "error")}),
    ],
)
def test_currents_through_the_body(setting: str, found_at: set[tuple[str, str]]) -> None:
    plan = edited(("setting: vehicle", f"setting: {setting}"), plan=RETURNED)
    assert {(f.subjects[0], f.level) for f in found(plan, CHASSIS)} == found_at


def test_the_battery_may_be_tied_to_the_body_by_a_bond() -> None:
    ground = (
        "  ground: {from: main-bar.negative, to: chassis, cable: batt-1-0, length: 0.5 m, "
        "place: cabin}\n"
    )
    bond = "bonds: {tie: {from: house.negative, to: chassis, cable: batt-1-0}}\nwires:\n"
    tied = edited((ground, ""), ("wires:\n", bond), plan=RETURNED)
    messages = [f.message for f in found(tied, CHASSIS)]
    assert messages == [f.message for f in found(RETURNED, CHASSIS)]
    assert len(messages) == 1
    with pytest.raises(PlanUnusable, match="leads only to the chassis, which no battery"):
        found(edited((ground, ""), plan=RETURNED), CHASSIS)


def test_numbers_of_a_return_through_the_body() -> None:
    [inverter] = [f for f in found(RETURNED, CHASSIS) if f.subjects == ("inverter-negative",)]
    # 800 W / (0.9 × 11 V)
    assert inverter.message == (
        "80.81 A goes back through the chassis by `inverter-negative`, and at most 30 A should"
    )
    assert inverter.margin == pytest.approx(1 - 80.808 / 30, abs=1e-3)


def test_a_tie_beside_a_full_negative_carries_nothing() -> None:
    """The case of the inverter is tied to the chassis as well as to the bar."""
    plan = edited(
        ("wires:\n", "wires:\n  case: {from: mains.negative, to: chassis, cable: batt-8, "
         "length: 1 m}\n"),
        plan=PLAN[CHASSIS],
    )  # fmt: skip
    assert not found(plan, CHASSIS)


def test_the_engines_own_circuit_goes_through_its_block() -> None:
    plan = edited(
        ("batteries:\n", "chargers: {alternator: {kind: alternator, max_output_current: 90 A, "
         "charge_voltage: 14.2 V}}\nbatteries:\n"),
        ("wires:\n", "wires:\n  alt-plus: {from: alternator.positive, to: main-bar.positive, "
         "cable: batt-1-0, length: 1 m}\n"
         "  alt-minus: {from: alternator.negative, to: chassis, cable: batt-1-0, length: 1 m}\n"),
        plan=PLAN[CHASSIS],
    )  # fmt: skip
    assert not found(plan, CHASSIS)


def test_an_array_whose_negative_goes_through_the_body() -> None:
    plan = edited(
        ("home-run: {from: roof-string, to: tracker.pv, cable: pv-10",
         "home-run: {from: roof-string.positive, to: tracker.pv.positive, cable: pv-10"),
        ("wires:\n",
         "wires:\n"
         "  roof-return: {from: roof-string.negative, to: chassis, cable: pv-10, length: 1 m}\n"
         "  pv-return: {from: tracker.pv.negative, to: chassis, cable: pv-10, length: 1 m}\n"),
        ("setting: vehicle", "setting: boat"),
        ("code: nec-2023", "code: abyc-e11"),
        plan=PLAN[CHASSIS],
    )  # fmt: skip
    findings = found(plan, CHASSIS)
    assert [f.subjects[0] for f in findings[:2]] == ["roof-return", "pv-return"]
    assert {f.level for f in findings} == {"error"}
    assert "to `tracker.pv` by a conductor of its own" in findings[0].remedy
