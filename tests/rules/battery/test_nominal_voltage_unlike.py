"""Consumers and chargers that are made for another voltage than that of their bank."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import all_found, build, faulty, found, sound
from wattproof.source import PlanUnusable

RULE = "nominal-voltage-unlike"
SOUND = sound(RULE)
LAMP = "lamp: {current: 2 A, nominal: 12 V}"


def on_the_bank(family: str, entry: str, nominal: str = "12.8 V") -> str:
    """The sound plan with one part more on the bank, behind a fuse of its own."""
    fuse = "{rating: 40 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}"
    return edited(
        (LAMP, "lamp: {current: 2 A}"),
        ("nominal: 12.8 V", f"nominal: {nominal}"),
        ("  lamp-fuse:", f"  more-fuse: {fuse}\n  lamp-fuse:"),
        ("loads:\n", f"{family}:\n  more: {entry}\nloads:\n"),
        ("  lamp-run:", "  more-run: {from: house, to: more, cable: batt-8, length: 1 m, "
         "inline: [{more-fuse: {from_end: from, distance: 10 cm}}]}\n  lamp-run:"),
        plan=SOUND,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("family", "entry", "nominal", "level", "hazard"),
    [
        ("inverters", "{power: 300 W, nominal: 12 V}", "12.8 V", "", ""),
        ("inverters", "{power: 300 W, nominal: 12 V}", "25.6 V", "error", "damage"),
        ("inverters", "{power: 300 W, nominal: 24 V}", "12.8 V", "warning", "lost-energy"),
        ("chargers", "{kind: shore, max_output_current: 10 A, nominal: 24 V}", "12.8 V",
         "error", "fire"),
        ("chargers", "{kind: shore, max_output_current: 10 A, nominal: 12 V}", "25.6 V",
         "error", "damage"),
        ("inverter_chargers", "{power: 300 W, max_output_current: 10 A, nominal: 12 V}", "25.6 V",
         "error", "damage"),
        ("inverter_chargers", "{power: 300 W, max_output_current: 10 A, nominal: 24 V}", "12.8 V",
         "error", "fire"),
    ],
)  # fmt: skip
def test_how_grave_it_is(family: str, entry: str, nominal: str, level: str, hazard: str) -> None:
    told = found(on_the_bank(family, entry, nominal), RULE)
    assert [(f.level, f.hazard, f.subjects) for f in told] == (
        [(level, hazard, ("more", "house"))] if level else []
    )


@pytest.mark.parametrize(
    ("volts", "told"),
    [
        ("12 V", []),
        ("13.8 V", []),  # as radios are marked
        ("unknown", []),
        ("19 V", ["warning"]),
        ("24 V", ["warning"]),
        ("6 V", ["error"]),
    ],
)
def test_a_load(volts: str, told: list[str]) -> None:
    plan = SOUND.replace(LAMP, f"lamp: {{current: 2 A, nominal: {volts}}}")
    assert [f.level for f in found(plan, RULE)] == told


def test_the_rest_of_the_plan_is_checked() -> None:
    """Such a plan was refused, and nothing else of it was told."""
    plan = faulty(RULE).replace("inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]", "")
    plan = plan.replace("place: cabin,\n             }", "place: cabin}")
    assert {RULE, "battery-fuse-missing"} <= set(all_found(plan))


def test_a_controller_for_another_voltage() -> None:
    plan = SOUND.replace("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, nominal: 24 V")
    assert [(f.subjects, f.level, f.hazard) for f in found(plan, RULE)] == [
        (("tracker", "house"), "error", "fire")
    ]
    low = plan.replace("nominal: 24 V", "nominal: 6 V")
    assert [f.hazard for f in found(low, RULE)] == ["damage"]


def test_where_nothing_agrees_with_the_bank_it_may_be_told_wrongly() -> None:
    plan = SOUND.replace("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, nominal: 12 V")
    with pytest.raises(PlanUnusable):
        found(plan.replace("nominal: 12.8 V", "nominal: 25.6 V"), RULE)


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("van-charger-with-solar-input", "alternator: {kind: alternator,",
         "alternator: {kind: alternator, nominal: 24 V,"),
        ("van-chassis-returns", "pump: {current: 4 A}", "pump: {current: 4 A, nominal: 24 V}"),
    ],
)  # fmt: skip
def test_what_leads_back_by_the_body(name: str, old: str, new: str) -> None:
    plan = build(name)
    assert not found(plan, RULE)
    assert old in plan
    [told] = found(plan.replace(old, new, 1), RULE)
    assert told.subjects[0] == old.partition(":")[0]


def test_the_remedy_clears_it() -> None:
    [told] = found(faulty(RULE), RULE, tried=True)
    assert told.remedy.startswith("use one for 12 V in place of `lamp`, or put a converter")
    assert told.trials[0].clears


def test_across_batteries_in_series() -> None:
    """A lamp for one of two on a bar that both feed, beside an inverter for both."""
    plan = edited(
        ("batteries:\n", "batteries:\n  low: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n"
         "  high: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n"),
        ("loads:\n", "inverters:\n  mains: {power: 200 W, nominal: 24 V}\n"
         "busbars:\n  bar: {rating: 100 A}\nloads:\n  fan: {current: 1 A, nominal: 12 V}\n"),
        ("wires:\n", "wires:\n"
         "  a: {from: low.positive, to: high.negative, cable: batt-8, length: 20 cm}\n"
         "  b: {from: high.positive, to: bar.positive, cable: batt-8, length: 1 m}\n"
         "  c: {from: low.negative, to: bar.negative, cable: batt-8, length: 1 m}\n"
         "  d: {from: bar, to: mains, cable: batt-8, length: 1 m}\n"
         "  e: {from: bar, to: fan, cable: batt-8, length: 1 m}\n"),
        plan=SOUND,
    )  # fmt: skip
    [told] = found(plan, RULE)
    assert told.message == (
        "`fan` is for 12 V, and `high` and those in series with it have 24 V: that burns it"
    )


@pytest.mark.parametrize(("volts", "level"), [("12 V", ""), ("24 V", "warning"), ("6 V", "error")])
def test_behind_a_converter(volts: str, level: str) -> None:
    """It is held against what the converter gives, and not what it takes."""
    plan = edited(
        ("nominal: 12.8 V", "nominal: 25.6 V"),
        (LAMP, f"lamp: {{current: 2 A, nominal: {volts}}}"),
        ("loads:\n", "converters:\n  step: {input_nominal: 24 V, output_nominal: 12 V, "
         "max_output_current: 10 A}\nloads:\n"),
        ("lamp-run: {from: house, to: lamp,", "lamp-run: {from: house, to: step.input,"),
        ("  lamp-run:", "  step-run: {from: step.output, to: lamp, cable: batt-8, length: 1 m}\n"
         "  lamp-run:"),
        plan=SOUND,
    )  # fmt: skip
    told = found(plan, RULE)
    assert [(f.level, f.subjects) for f in told] == ([(level, ("lamp", "step"))] if level else [])
    assert all("and `step` gives 12 V" in f.message for f in told)


def test_a_converter_that_gives_another_voltage_than_its_load_takes() -> None:
    plan = build("boat-converter")
    assert not found(plan, RULE)
    [told] = found(plan.replace("output_nominal: 24 V", "output_nominal: 12 V"), RULE)
    assert (told.level, told.subjects) == ("warning", ("radio", "step-up"))
