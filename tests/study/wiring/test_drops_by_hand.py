"""What is lost on the way, wire by wire: every wire of another length and size."""

from __future__ import annotations

import pytest

from external.battery_sides import HEAD, HOT
from wattproof.study import Study
from wattproof.study.wiring.drops import Path
from wattproof.testing import study_of

R8, R2 = HOT["batt-8"], HOT["batt-2"]
"""Resistance of 8 and of 2 AWG at 75 °C (Ω/m)."""

SIDE = """\
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah}
busbars:
  bar: {rating: 300 A}
loads:
  lamp: {current: 10 A}
  radio: {current: 4 A, critical: true}
chargers:
  shore: {kind: shore, max_output_current: 30 A}
wires:
  lead-plus: {from: house.positive, to: bar.positive, cable: batt-2, length: 1.5 m}
  lead-minus: {from: bar.negative, to: house.negative, cable: batt-2, length: 0.5 m}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 3 m}
  radio-run: {from: bar, to: radio, cable: batt-8, length: 2 m}
  shore-run: {from: shore, to: bar, cable: batt-8, length: 4 m}
"""


def side(*edits: tuple[str, str], code: str = "nec-2023", more: str = "") -> Study:
    text = HEAD.replace("code: nec-2023", f"code: {code}") + SIDE
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    return study_of(text + more)


def path(study: Study, origin: str, target: str) -> Path:
    [found] = [p for p in study.wiring.paths if (p.origin, p.target) == (origin, target)]
    return found


@pytest.mark.parametrize(
    ("origin", "target", "kind", "volts"),
    [
        ("house", "lamp", "other", 14.0 * 2.0 * R2 + 10.0 * 2 * 3.0 * R8),
        ("house", "radio", "critical", 14.0 * 2.0 * R2 + 4.0 * 2 * 2.0 * R8),
        ("shore", "house", "charge", 30.0 * 2.0 * R2 + 30.0 * 2 * 4.0 * R8),
    ],
)
def test_a_way_loses_what_each_of_its_wires_does(
    origin: str, target: str, kind: str, volts: float
) -> None:
    """On the lead 1.5 m out and 0.5 m back, with both loads or with the charger alone."""
    found = path(side(), origin, target)
    assert (found.kind, found.public) == (kind, True)
    assert found.drop is not None
    assert found.drop.number == pytest.approx(volts, rel=1e-3)
    assert found.share is not None
    assert found.share.number == pytest.approx(volts / 12.8, rel=1e-3)
    assert found.judged_drop is not None
    assert found.judged_drop.number == found.drop.number
    assert found.judged_share is not None
    assert found.judged_share.number == found.share.number
    assert found.drop_by_body is None


def test_without_shore_power_no_grid_is_behind_it() -> None:
    assert not path(side(("kind: shore", "kind: alternator")), "house", "lamp").public


BODY = 10.75 * 1.66242e-9 / 1e-6
"""Ω mm²/m of copper by the formula of ABYC E-11, K = 10.75 Ω circular mils a foot."""


@pytest.mark.parametrize(
    ("metal", "factor"), [("copper", 1.0), ("aluminium", 1.64), ("copper-clad-aluminium", 1.6)]
)
def test_by_the_bodys_own_formula_each_wire_as_well(metal: str, factor: float) -> None:
    """8.37 and 33.6 mm²; two in parallel have half, and other metals more by their factor."""
    found = path(
        side(
            ("cable: batt-8, length: 3 m", "cable: batt-8, length: 3 m, parallel: 2"),
            ("  batt-8: {size: 8 AWG, kind: battery, material: copper",
             f"  batt-8: {{size: 8 AWG, kind: battery, material: {metal}"),
            code="abyc-e11",
        ),
        "house", "lamp",
    )  # fmt: skip
    lead, lamp = 14.0 * 2.0 * BODY / 33.63, 10.0 * 2 * 3.0 / 2 * BODY / 8.367
    whole = lead + factor * lamp
    assert found.drop_by_body is not None
    assert found.drop_by_body.number == pytest.approx(whole, rel=0.05 if factor > 1.0 else 2e-3)
    assert found.judged_drop is not None
    assert found.judged_drop.number == found.drop_by_body.number
    assert found.judged_share is not None
    assert found.judged_share.number == pytest.approx(found.drop_by_body.number / 12.8)
    assert found.drop is not None
    assert found.drop.number != found.drop_by_body.number
    [run] = [wire for wire in found.wires if wire.name == "lamp-run"]
    by_hot = run.drop
    assert by_hot is not None
    assert by_hot.number == pytest.approx(10.0 * 3.0 * R8 * factor, rel=0.05)


def test_what_runs_on_the_way_to_a_charger_has_no_formula_of_the_body() -> None:
    """E-11 states no figure for it."""
    found = path(side(code="abyc-e11"), "shore", "house")
    assert found.drop_by_body is None


def test_of_a_link_with_chargers_at_both_ends_the_way_of_the_one_at_hand_counts() -> None:
    """Of 30 A from the one side and 50 from the other; both charge over the same link."""
    more = (
        "  other-lead: {from: other, to: other-bar, cable: batt-2, length: 1 m}\n"
        "  link: {from: bar, to: other-bar, cable: batt-2, length: 2 m}\n"
        "  second-run: {from: second, to: other-bar, cable: batt-8, length: 1 m}\n"
    )
    found = side(
        ("batteries:\n", "batteries:\n  other: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\n"),
        ("busbars:\n", "busbars:\n  other-bar: {rating: 300 A}\n"),
        ("chargers:\n", "chargers:\n  second: {kind: shore, max_output_current: 50 A}\n"),
        more=more,
    )
    for origin, target, amps in (("shore", "other", 30.0), ("second", "house", 50.0)):
        way = path(found, origin, target)
        wires = {wire.name: wire.operating for wire in way.wires}
        assert wires["link"] is not None
        assert wires["link"].number == pytest.approx(amps)
        own = [name for name in wires if name.endswith("-run")]
        assert len(own) == 1
        assert wires[own[0]] is not None
        assert way.volts.number == (12.0 if target == "other" else 12.8)


CONVERTED = """\
batteries:
  house: {chemistry: agm, nominal: 24 V, capacity: 100 Ah}
busbars:
  bar: {rating: 300 A}
loads:
  lamp: {current: 10 A}
  radio: {current: 4 A, critical: true}
converters:
  down: {input_nominal: 24 V, output_nominal: 12 V, max_output_current: 20 A}
wires:
  in: {from: house, to: down.input, cable: batt-8, length: 1 m}
  out-plus: {from: down.output.positive, to: bar.positive, cable: batt-8, length: 2 m}
  out-minus: {from: bar.negative, to: down.output.negative, cable: batt-8, length: 0.5 m}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 3 m}
  radio-plus: {from: bar.positive, to: radio.positive, cable: batt-8, length: 5 m}
  radio-minus: {from: radio.negative, to: bar.negative, cable: batt-2, length: 7 m}
"""


@pytest.mark.parametrize("isolated", [False, True])
def test_behind_a_converter_the_way_begins_at_its_output(isolated: bool) -> None:
    """And comes back by the negative that it shares with its input, or by one of its own."""
    more = "max_output_current: 20 A" + (", isolated: true" if isolated else "")
    study = study_of(HEAD + CONVERTED.replace("max_output_current: 20 A", more))
    out = 14.0 * 2.5 * R8
    for load, kind, own in (
        ("lamp", "other", 10.0 * 2 * 3.0 * R8),
        ("radio", "critical", 4.0 * (5.0 * R8 + 7.0 * R2)),
    ):
        found = path(study, "down", load)
        assert (found.kind, found.volts.number) == (kind, 12.0)
        assert found.drop is not None
        assert found.drop.number == pytest.approx(out + own, rel=1e-3)
    [to_input] = [p for p in study.wiring.paths if p.target == "down"]
    assert (to_input.origin, to_input.kind, to_input.volts.number) == ("house", "other", 24.0)


SERIES = """\
batteries:
  upper: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
  lower: {chemistry: agm, nominal: 6 V, capacity: 100 Ah}
loads:
  lamp: {current: 10 A}
wires:
  between: {from: upper.negative, to: lower.positive, cable: batt-2, length: 0.3 m}
  plus: {from: upper.positive, to: lamp.positive, cable: batt-8, length: 2 m}
  minus: {from: lamp.negative, to: lower.negative, cable: batt-8, length: 1.5 m}
"""


def test_between_batteries_in_series_the_link_is_on_the_way() -> None:
    """12 and 6 V in series, the link between them carries the same."""
    found = path(study_of(HEAD + SERIES), "upper", "lamp")
    assert found.volts.number == 18.0
    assert [wire.name for wire in found.wires] == ["plus", "between", "minus"]
    assert found.drop is not None
    assert found.drop.number == pytest.approx(10.0 * (3.5 * R8 + 0.3 * R2), rel=1e-3)


ARRAY = """\
  modules:
    hundred: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W}
strings:
  left: {module: hundred, series: 2, mounting: roof-gap}
  right: {module: hundred, series: 2, mounting: roof-gap}
combiners:
  joint: {joins: [left, right], rating: 30 A, voltage: 600 V}
controllers:
  sun: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A, charge_voltage: 14.2 V}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
wires:
  left-run: {from: left, to: joint, cable: batt-8, length: 2 m}
  right-run: {from: right, to: joint, cable: batt-8, length: 5 m}
  home: {from: joint, to: sun.pv, cable: batt-8, length: 6 m}
  charge: {from: sun.battery, to: house, cable: batt-2, length: 1 m}
"""


@pytest.mark.parametrize(("left", "right", "worst"), [(2, 5, "right"), (9, 5, "left")])
def test_of_the_strings_of_an_array_the_way_with_most_loss_counts(
    left: int, right: int, worst: str
) -> None:
    """4.9 A in the string's own run, twice that in what they share, as a share of 2 × 20.4 V."""
    text = ARRAY.replace("length: 2 m", f"length: {left} m").replace("5 m", f"{right} m")
    found = study_of(HEAD + text)
    [array] = [p for p in found.wiring.paths if p.kind == "array"]
    assert (array.origin, array.target) == (worst, "sun")
    assert array.drop is not None
    volts = 4.9 * 2 * max(left, right) * R8 + 9.8 * 2 * 6.0 * R8
    assert array.drop.number == pytest.approx(volts, rel=1e-3)
    assert array.volts.number == pytest.approx(40.8, rel=1e-3)


@pytest.mark.parametrize("isolated", [False, True])
def test_a_converter_that_charges_has_a_way_back_too(isolated: bool) -> None:
    """20 A at 12 V: 2 m out and 1 m back, by the negative that it shares with its input or not."""
    text = HEAD + CONVERTED.replace(
        "batteries:\n", "batteries:\n  small: {chemistry: agm, nominal: 12 V, capacity: 60 Ah}\n"
    ).replace("20 A", f"20 A, isolated: {str(isolated).lower()}")
    text += (
        "  small-plus: {from: small.positive, to: bar.positive, cable: batt-2, length: 1 m}\n"
        "  small-minus: {from: bar.negative, to: small.negative, cable: batt-2, length: 3 m}\n"
    )
    found = path(study_of(text), "down", "small")
    assert (found.kind, found.volts.number) == ("charge", 12.0)
    assert found.drop is not None
    assert found.drop.number == pytest.approx(20.0 * (2.5 * R8 + 4.0 * R2), rel=1e-3)


ENGINE = """\
  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}
busbars:
"""
JOINED = """\
  alternator-run: {from: alternator, to: start, cable: batt-2, length: 1 m}
  horn-run: {from: start, to: horn, cable: batt-8, length: 1 m}
  tie: {from: start, to: bar, cable: batt-8, length: 6 m, inline: [joins]}
"""
ALTERNATOR = "  alternator: {kind: alternator, max_output_current: 40 A, charge_voltage: 14.4 V}\n"


@pytest.mark.parametrize(
    ("switch", "house_charged", "ways"),
    [
        # a relay closes while something charges, and is open while the house is drawn from
        ("closes_above: 13.3 V", True, {("alternator", "house"), ("shore", "start")}),
        # a tie between two sides that serve themselves is open
        ("load_break: true", True, set()),
        # one without which nothing charges the house is closed for that, and it is drawn through
        (
            "load_break: true",
            False,
            {("alternator", "house"), ("start", "lamp"), ("start", "radio"), ("house", "horn")},
        ),
    ],
)
def test_no_way_leads_over_what_is_open_as_usual(
    switch: str, house_charged: bool, ways: set[tuple[str, str]]
) -> None:
    edits = [
        ("busbars:\n", ENGINE),
        ("loads:\n", f"switches:\n  joins: {{rating: 100 A, {switch}}}\nloads:\n"
                     "  horn: {current: 2 A}\n"),
        ("chargers:\n", f"chargers:\n{ALTERNATOR}"),
    ]  # fmt: skip
    if not house_charged:
        edits += [
            ("  shore: {kind: shore, max_output_current: 30 A}\n", ""),
            ("  shore-run: {from: shore, to: bar, cable: batt-8, length: 4 m}\n", ""),
        ]
    own = {("house", "lamp"), ("house", "radio"), ("start", "horn"), ("alternator", "start")}
    own |= {("shore", "house")} if house_charged else set()
    found = {(p.origin, p.target) for p in side(*edits, more=JOINED).wiring.paths}
    assert found == own | ways
