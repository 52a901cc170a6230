"""Consumers and sources whose current has no way back to where it comes from."""

from __future__ import annotations

from pathlib import Path

import pytest

from plans import EXAMPLES, edited
from rule_runs import build, faulty, found, sound
from wattproof.testing import check_remedy

CLOSED = "circuit-not-closed"
JOINED = """\
  negatives: {from: house.negative, to: second.negative, cable: wire-12, length: 1 m, place: cabin}
"""


def bonded(ground: str = "chassis", *names: str) -> str:
    ties = "".join(
        f"  {name}-bond: {{from: {name}.negative, to: {ground}, cable: batt-8, length: 1 m}}\n"
        for name in names or ("house", "second")
    )
    return faulty(CLOSED) + f"bonds:\n{ties}"


def test_a_pump_between_two_batteries_that_share_nothing() -> None:
    [finding] = found(faulty(CLOSED), CLOSED)
    assert finding.level == "error"
    assert finding.subjects == ("pump", "house", "second")
    assert "the positive of `pump` is on `house`, its negative on `second`" in finding.message
    assert "no conductor joins the two" in finding.message
    assert "lead `pump.negative` to `house.negative`" in finding.remedy


def test_negatives_that_a_conductor_joins_close_it() -> None:
    assert not found(faulty(CLOSED) + JOINED, CLOSED)


@pytest.mark.parametrize(
    ("setting", "amps", "named", "level"),
    [
        ("vehicle", "5 A", "the chassis alone", "note"),
        ("vehicle", "30 A", "the chassis alone", "note"),
        ("vehicle", "31 A", "the chassis alone", "warning"),  # as where it is led to the chassis
        ("boat", "5 A", "the water alone", "error"),
    ],
)
def test_a_way_over_chassis_or_water_only_is_named(
    setting: str, amps: str, named: str, level: str
) -> None:
    larger = bonded().replace("pump: {current: 5 A", f"pump: {{current: {amps}")
    plan = edited(("setting: vehicle", f"setting: {setting}"), plan=larger)
    [finding] = found(plan, CLOSED)
    assert finding.level == level
    assert f"comes back over {named}" in finding.message


def test_one_bond_alone_leads_nowhere() -> None:
    [finding] = found(bonded("chassis", "house"), CLOSED)
    assert "no current can flow as drawn" in finding.message


@pytest.mark.parametrize(
    ("tied", "told"),
    [(("second",), ["no current can flow"]), (("house",), []), (("house", "second"), [])],
)
def test_a_chassis_that_its_own_battery_is_not_tied_to(
    tied: tuple[str, ...], told: list[str]
) -> None:
    plan = bonded("chassis", *tied).replace(
        "from: pump.negative, to: second.negative", "from: pump.negative, to: chassis"
    )
    findings = found(plan, CLOSED)
    assert len(findings) == len(told)
    assert all(words in f.message for words, f in zip(told, findings, strict=True))


@pytest.mark.parametrize("code", ["nec-2023", "abyc-e11", "iso-13297", "iec", "as-nzs-3001"])
def test_in_every_body_of_rules(code: str) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"), plan=faulty(CLOSED))
    assert [f.level for f in found(plan, CLOSED)] == ["error"]


def test_a_source_and_an_inverter_need_a_way_back_too() -> None:
    charger = edited(
        ("charge-run: {from: tracker.battery, to: house,",
         "charge-back: {from: tracker.battery.negative, to: second.negative, cable: batt-8,\n"
         "                length: 1 m, place: cabin}\n"
         "  charge-run: {from: tracker.battery.positive, to: house.positive,"),
        plan=sound(CLOSED),
    )  # fmt: skip
    [finding] = found(charger, CLOSED)
    assert finding.subjects[0] == "tracker"
    assert "the positive of `tracker.battery` is on `house`" in finding.message
    inverter = edited(
        ("loads:\n  pump: {current: 5 A, nominal: 12 V}\n",
         "inverters:\n  pump: {power: 50 W}\nloads:\n"), plan=faulty(CLOSED),
    )  # fmt: skip
    assert [f.subjects[0] for f in found(inverter, CLOSED)] == ["pump"]


SERIES = """\
  link: {from: house.negative, to: second.positive, cable: batt-8, length: 20 cm, place: cabin}
"""


def test_batteries_in_series_close_what_lies_across_them() -> None:
    """From the positive of the upper, through both, to the negative of the lower."""
    plan = edited(
        ("to: pump.positive", "to: pump.positive"),
        ("second-run: {from: second, to: second-pump,",
         "second-run: {from: second.positive, to: second-pump.positive,"),
        ("  pump-back:", "  second-back: {from: second-pump.negative, to: second.negative, "
         "cable: wire-12,\n                length: 1 m, place: cabin}\n  pump-back:"),
        ("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"),
        ("charge-run: {from: tracker.battery, to: house,",
         "charge-back: {from: tracker.battery.negative, to: second.negative, cable: batt-8,\n"
         "                length: 1 m, place: cabin}\n"
         "  charge-run: {from: tracker.battery.positive, to: house.positive,"),
        ("  pump: {current: 5 A, nominal: 12 V}", "  pump: {current: 5 A}"),
        plan=faulty(CLOSED),
    ) + SERIES  # fmt: skip
    assert not found(plan, CLOSED)


LINK = """\
  link: {from: house.positive, to: second.positive, cable: batt-8, length: 50 cm, place: cabin}
"""
WATER = """\
bonds:
  first-tie: {from: house.negative, to: water, cable: batt-8, length: 1 m}
  second-tie: {from: second.negative, to: water, cable: batt-8, length: 1 m}
wires:
"""


@pytest.mark.parametrize(
    ("setting", "told"),
    [("boat", "comes back over the water alone"), ("vehicle", "")],
)
def test_banks_that_one_pole_joins(setting: str, told: str) -> None:
    """In a vehicle the chassis is the way back, and what it carries is judged by its own rule."""
    ground = WATER if setting == "boat" else WATER.replace("water", "chassis")
    plan = edited(
        ("setting: vehicle", f"setting: {setting}"), ("wires:\n", ground), plan=sound(CLOSED)
    )
    assert not found(plan, CLOSED)
    findings = [f for f in found(plan + LINK, CLOSED) if "positives" in f.message]
    assert [f.level for f in findings] == (["error"] if told else [])
    for finding in findings:
        assert told in finding.message
        assert "join `house.negative` and `second.negative`" in finding.remedy


def test_banks_that_nothing_joins_but_one_pole() -> None:
    [finding] = [f for f in found(sound(CLOSED) + LINK, CLOSED) if "positives" in f.message]
    assert "no current can flow between them as drawn" in finding.message


def test_a_hull_and_the_water_around_it_are_one_way_back() -> None:
    """One bank tied to the hull and the other to the water: current finds its way all the same."""
    tied = WATER.replace("first-tie: {from: house.negative, to: water", "first-tie: {from: "
                         "house.negative, to: chassis")  # fmt: skip
    plan = edited(("setting: vehicle", "setting: boat"), ("wires:\n", tied), plan=sound(CLOSED))
    [finding] = [f for f in found(plan + LINK, CLOSED) if "positives" in f.message]
    assert finding.level == "error"
    assert "comes back over the water alone" in finding.message


CONVERTER = Path(__file__).parents[2] / "sound" / "vehicle-converter.yaml"
TIED = """\
bonds:
  tie: {from: house.negative, to: chassis, cable: batt-6, length: 1 m}
wires:
"""


@pytest.mark.parametrize(
    ("isolated", "back", "tied", "told"),
    [
        ("true", "step-up.output.negative", False, ""),
        ("true", "house.negative", False, "no current can flow"),
        ("true", "chassis", False, "no current can flow"),
        ("true", "house.negative", True, "comes back over the chassis alone"),
        ("true", "chassis", True, ""),  # led to the body on purpose, as lamps are
        ("false", "house.negative", False, ""),  # its two sides share their negative
    ],
)
def test_behind_a_converter_current_goes_back_to_its_output(
    isolated: str, back: str, tied: bool, told: str
) -> None:
    """A battery whose negative the load finds is none of that output."""
    plan = edited(
        ("efficiency: 90 %,", f"efficiency: 90 %, isolated: {isolated},"),
        ("wires:\n", TIED),
        ("radio-run: {from: step-up.output, to: radio, cable",
         f"radio-back: {{from: radio.negative, to: {back}, cable: wire-12, length: 1 m}}\n"
         "  radio-run: {from: step-up.output.positive, to: radio.positive, cable"),
        plan=CONVERTER.read_text(encoding="utf-8"),
    )  # fmt: skip
    if tied:
        plan += (
            "  out-tie: {from: step-up.output.negative, to: chassis, cable: wire-12, length: 1 m}\n"
        )
    findings = found(plan, CLOSED)
    assert [f.subjects[:2] for f in findings] == ([("radio", "step-up")] if told else [])
    assert all(told in f.message and "`step-up.output.negative`" in f.remedy for f in findings)


BY_POLES = edited(
    (
        "  charge-run: {from: tracker.battery, to: house,",
        "  charge-run: {from: tracker.battery.positive, to: house.positive,",
    ),
    (
        "  charge-run:",
        "  bank-minus: {from: house.negative, to: minus.negative, cable: batt-8, length: 1 m}\n"
        "  charge-minus: {from: tracker.battery.negative, to: minus.negative, cable: batt-8, "
        "length: 1 m}\n"
        "  lamp-plus: {from: house.positive, to: lamps.positive, cable: batt-8, length: 1 m}\n"
        "  lamp-minus: {from: lamps.negative, to: minus.negative, cable: batt-8, length: 1 m}\n"
        "  charge-run:",
    ),
    (
        "wires:\n",
        "loads:\n  lamps: {current: 5 A}\n"
        "busbars:\n  minus: {rating: 100 A, voltage: 60 V}\nwires:\n",
    ),
)


@pytest.mark.parametrize("end", ["tracker.pv.negative", "roof-string.negative"])
def test_a_bank_whose_negative_is_led_to_the_array(end: str) -> None:
    """All that the battery gives comes back through what the controller joins inside."""
    assert not found(BY_POLES, CLOSED)
    plan = edited(
        (
            "bank-minus: {from: house.negative, to: minus.negative",
            f"bank-minus: {{from: house.negative, to: {end}",
        ),
        plan=BY_POLES,
    )
    (finding,) = found(plan, CLOSED)
    assert finding.level == "error"
    assert finding.subjects == ("tracker", "house")
    assert "comes back through the solar input of `tracker` alone" in finding.message


def test_a_negative_at_the_battery_terminals_of_the_controller_is_no_matter() -> None:
    plan = edited(
        (
            "bank-minus: {from: house.negative, to: minus.negative",
            "bank-minus: {from: house.negative, to: tracker.battery.negative",
        ),
        plan=BY_POLES,
    )
    assert not found(plan, CLOSED)


@pytest.mark.parametrize("end", ["arch-joint.positive", "arch-joint.negative"])
def test_a_module_of_which_one_pole_leads_nowhere(end: str) -> None:
    """The other module works on, so that the plan can be read; this one gives nothing."""
    plan = edited(
        ("from: port-module, to: arch-joint", f"from: port-module.positive, to: {end}"),
        plan=(EXAMPLES / "boat-lead-bank.yaml").read_text(encoding="utf-8"),
    )
    (finding,) = found(plan, CLOSED)
    assert (finding.level, finding.hazard) == ("warning", "lost-energy")
    assert finding.message == (
        "the negative of `port-module` leads nowhere: it gives no current as drawn"
    )


@pytest.mark.parametrize(("amps", "told"), [("80 A", ["windlass"]), ("20 A", [])])
def test_what_comes_back_through_the_case_of_a_vehicle_charger_alone(
    amps: str, told: list[str]
) -> None:
    """On the starting battery, its negative on the house: a charger of 30 A joins the two."""
    windlass = (
        "  w-plus: {from: start.positive, to: windlass.positive, cable: stout, length: 5 m}\n"
        "  w-minus: {from: windlass.negative, to: house.negative, cable: stout, length: 5 m}\n"
    )
    plan = edited(
        ("wires:\n", f"wires:\n{windlass}"),
        ("loads:\n", f"loads:\n  windlass: {{current: {amps}}}\n"),
        plan=build("boat-lithium-behind-charger"),
    )
    findings = found(plan, CLOSED)
    assert [f.subjects[0] for f in findings] == told
    if told:
        assert findings[0].message == (
            "the positive of `windlass` is on `start`, its negative on `house`: its 80 A come back "
            "through the case of `engine-charger` alone"
        )
    tie = "  minus-tie: {from: start.negative, to: house.negative, cable: stout, length: 1 m}\n"
    assert not found(plan.replace("wires:\n", f"wires:\n{tie}", 1), CLOSED)
    isolated = plan.replace("engine-charger: {", "engine-charger: {isolated: true, ")
    assert "no conductor joins the two" in found(isolated, CLOSED)[0].message


@pytest.mark.parametrize(("each", "told"), [("12 A", True), ("9 A", False)])
def test_what_several_bring_back_through_one_case_counts_together(each: str, told: bool) -> None:
    """Three on the starting battery, their negatives on the house: the charger is one of 30 A."""
    names = ("horn", "lamp", "pump")
    wires = "".join(
        f"  {n}-plus: {{from: start.positive, to: {n}.positive, cable: stout, length: 5 m}}\n"
        f"  {n}-minus: {{from: {n}.negative, to: house.negative, cable: stout, length: 5 m}}\n"
        for n in names
    )
    loads = "".join(f"  {n}: {{current: {each}}}\n" for n in names)
    plan = edited(
        ("wires:\n", f"wires:\n{wires}"),
        ("loads:\n", f"loads:\n{loads}"),
        plan=build("boat-lithium-behind-charger"),
    )
    findings = found(plan, CLOSED)
    assert [set(f.subjects[:3]) for f in findings] == ([set(names)] if told else [])
    if told:
        assert "36 A come back through the case of `engine-charger` alone" in findings[0].message
        turned = plan.replace("start.positive, to: horn", "house.positive, to: horn")
        turned = turned.replace("horn.negative, to: house", "horn.negative, to: start")
        assert not found(turned, CLOSED)  # against the two others


@pytest.mark.parametrize(
    ("amps", "tie", "told"),
    [
        ("80 A", "start.negative, to: chassis", ["pump"]),
        ("20 A", "start.negative, to: chassis", []),
        ("80 A", "house.negative, to: chassis", []),
    ],
)
def test_what_returns_over_the_body_and_through_the_case_of_a_vehicle_charger_alone(
    amps: str, tie: str, told: list[str]
) -> None:
    """The starting battery alone is tied to the body, and a charger of 30 A joins the negatives."""
    pump = (
        "  p-plus: {from: house.positive, to: pump.positive, cable: flex-16, length: 1 m}\n"
        "  p-minus: {from: pump.negative, to: chassis, cable: flex-16, length: 1 m}\n"
    )
    bonds = f"bonds:\n  tie: {{from: {tie}, cable: starter-50, length: 40 cm}}\n"
    plan = edited(
        ("wires:\n", f"{bonds}wires:\n{pump}"),
        ("loads:\n", f"loads:\n  pump: {{current: {amps}}}\n"),
        plan=sound("starting-battery-drained"),
    )
    findings = found(plan, CLOSED)
    assert [f.subjects[0] for f in findings] == told
    if told:
        assert "come back through the case of `twin` alone" in findings[0].message


TWO_BARS = """\
wattproof: 1
setting: cabin
code: iec
datasheets:
  cables: {thick: {size: 35 mm², kind: battery, insulation_temperature: 90 °C}}
chargers: {shore: {kind: shore, max_output_current: 20 A, charge_voltage: 14.4 V, nominal: 12 V}}
batteries:
  one: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
  two: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
inverters: {inverter: {power: 500 W, nominal: 12 V}}
distribution: {panel: {ways: {lamp: {fuse: 5 A}}}}
loads: {lamp: {current: 2 A}}
busbars: {plus: {rating: 200 A}, minus: {rating: 200 A}}
wires:
  lamp-run: {from: panel.lamp, to: lamp, cable: thick, length: 1 m}
"""
PARTS = ("shore", "one", "two", "inverter", "panel")


def on_bars(**to: str) -> str:
    """Each pole on its bar, but for `part_pole=bar`."""
    return TWO_BARS + "".join(
        f"  {part}-{pole[0]}: {{from: {part}.{pole}, cable: thick, length: 1 m, "
        f"to: {to.get(f'{part}_{pole}', bar)}}}\n"
        for part in PARTS
        for pole, bar in (("positive", "plus"), ("negative", "minus"))
    )


@pytest.mark.parametrize("part", PARTS)
def test_poles_that_are_exchanged_at_two_bars(part: str) -> None:
    plan = on_bars(**{f"{part}_positive": "minus", f"{part}_negative": "plus"})
    [finding] = found(plan, CLOSED, tried=True)
    assert (finding.level, finding.subjects[0]) == ("error", part)
    assert f"the positive of `{part}` leads to `minus`" in finding.message
    assert finding.remedy == (
        f"exchange the two conductors at `{part}`: "
        f"lead `{part}-p` to `plus` and `{part}-n` to `minus`"
    )
    check_remedy(finding)
    assert ("shorts every battery" in finding.message) is (part in ("one", "two"))
    assert not found(plan, "consumer-not-fed") or part == "panel"
    assert not found(plan, "controller-battery-missing")


@pytest.mark.parametrize("part", PARTS)
def test_both_poles_on_the_bar_of_one(part: str) -> None:
    [finding] = found(on_bars(**{f"{part}_positive": "minus"}), CLOSED)
    assert finding.remedy == f"lead `{part}.positive` to what the other positives are on"


def test_each_pole_on_its_bar() -> None:
    assert not found(on_bars(), CLOSED)


ISOLATED = """\
wattproof: 1
setting: vehicle
code: iec
datasheets:
  cables:
    c6: {size: 6 mm², kind: automotive, strands: fine, insulation_temperature: 105 °C}
batteries:
  house: {chemistry: agm, nominal: 24 V, capacity: 100 Ah}
  start: {chemistry: agm, nominal: 12 V, capacity: 70 Ah}
converters:
  step: {output_nominal: 12 V, max_output_current: 20 A, input_nominal: 24 V, isolated: true}
fuses:
  in-fuse: {rating: 20 A, style: class-t, voltage: 58 V, interrupt: 20 kA}
  out-fuse: {rating: 25 A, style: class-t, voltage: 58 V, interrupt: 20 kA}
wires:
  in-run: {from: house, to: step.input, cable: c6, length: 1 m,
           inline: [{in-fuse: {from_end: from, distance: 10 cm}}]}
  out-run: {from: step.output.positive, to: start.positive, pole: positive, cable: c6, length: 2 m,
            inline: [{out-fuse: {from_end: to, distance: 10 cm}}]}
bonds:
  house-bond: {from: house.negative, to: chassis, cable: c6, length: 40 cm}
  start-bond: {from: start.negative, to: chassis, cable: c6, length: 40 cm}
"""


def test_an_isolated_converter_without_a_negative_gives_nothing() -> None:
    """Whatever ties the banks: its output has no pole in common with its input."""
    [finding] = found(ISOLATED, CLOSED)
    assert finding.level == "error"
    assert finding.message.startswith("the positive of `step.output` is on `start`")
    back = "  back: {from: step.output.negative, to: start.negative, cable: c6, length: 2 m}\n"
    assert not found(edited(("bonds:\n", f"{back}bonds:\n"), plan=ISOLATED), CLOSED)


def test_one_that_shares_its_negative_inside_brings_it_back_there() -> None:
    assert not found(edited((", isolated: true", ""), plan=ISOLATED), CLOSED)
