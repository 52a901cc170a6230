"""Where the current of an alternator without a negative wire comes back."""

from __future__ import annotations

from pathlib import Path

import pytest

from plans import edited
from rule_runs import RULES, found_beside_all
from wattproof.testing import study_of

TYPICAL = Path(__file__).parents[2] / "external" / "typical"

MAINTAINED = """\
converters:
  maintainer: {input_nominal: 12 V, output_nominal: 12 V, max_output_current: 5 A}
bonds:
  start-bond: {from: start.negative, to: chassis, cable: starter-50}
wires:
  there: {from: house, to: maintainer.input, cable: flex-16, length: 1 m}
  back: {from: maintainer.output, to: start, cable: flex-16, length: 5 m}
"""


@pytest.mark.parametrize("bonds", [True, False])
def test_it_comes_back_to_the_battery_that_it_charges(bonds: bool) -> None:
    """Whichever battery the plan names first, and through no wire between the two."""
    plan = edited(
        ("wires:\n", MAINTAINED), ("place: bay,\n                   inline", "place: bay, pole: "
        "positive,\n                   inline"),
        plan=RULES.rules["vehicle-charger-input-wrong"].sound,
    )  # fmt: skip
    if not bonds:
        bond = "bonds:\n  start-bond: {from: start.negative, to: chassis, cable: starter-50}\n"
        plan = edited((bond, ""), plan=plan)
    start, house = plan.index("  start: {"), plan.index("  house: {")
    end = plan.index("\nchargers:") + 1
    turned = plan[:start] + plan[house:end] + plan[start:house] + plan[end:]
    for text in (plan, turned):
        wires = study_of(text).wiring.wires
        assert wires["back"].current is not None
        assert wires["back"].current.number == pytest.approx(5.0)


@pytest.mark.parametrize("pole", ["", "pole: positive, "])
def test_what_an_isolator_passes_on_comes_back_to_its_source(pole: str) -> None:
    """An isolator seldom has a negative: the frames carry what comes back from the trailer."""
    kebab = (TYPICAL / "kebab-trailer.yaml").read_text(encoding="utf-8")
    thick = ("cable: c25, length: 8 m", "cable: c35, length: 8 m")
    plan = edited(("alt-run: {", f"alt-run: {{{pole}"), thick, plan=kebab)
    found = found_beside_all(plan, "conductor-too-small")
    assert ("trailer-frame",) in [finding.subjects[:1] for finding in found]


CABLE = "kind: marine, material: copper, insulation_temperature: 105 °C, voltage: 600 V"
TIED_AT_BAR = f"""\
wattproof: 1
setting: boat
code: iso-13297
site: {{places: {{bay: {{engine_space: true, ambient: 60 °C}}}}}}
datasheets:
  cables:
    flex-6: {{size: 6 mm², {CABLE}}}
    flex-50: {{size: 50 mm², {CABLE}}}
batteries:
  start: {{chemistry: agm, nominal: 12 V, capacity: 90 Ah}}
  house: {{chemistry: agm, nominal: 12 V, capacity: 200 Ah}}
chargers:
  alternator: {{kind: alternator, max_output_current: 110 A, charge_voltage: 14.4 V, nominal: 12 V}}
starters:
  starter: {{current: 200 A, nominal: 12 V}}
loads:
  lamp: {{current: 10 A}}
busbars:
  minus: {{rating: 300 A}}
bonds:
  strap: {{from: minus, to: chassis, cable: flex-50, length: 1 m}}
wires:
  alternator-run: {{from: alternator.positive, to: start.positive, cable: flex-50, length: 1 m}}
  crank: {{from: start.positive, to: starter.positive, cable: flex-50, length: 1 m}}
  start-minus: {{from: start.negative, to: minus.negative, cable: flex-6, length: 2 m}}
  house-minus: {{from: house.negative, to: minus.negative, cable: flex-50, length: 1 m}}
  lamp-run: {{from: house.positive, to: lamp.positive, cable: flex-6, length: 1 m}}
  lamp-minus: {{from: lamp.negative, to: minus.negative, cable: flex-6, length: 1 m}}
"""
AT_POST = "  own: {from: start.negative, to: TO, cable: flex-50, length: 1 m}\nwires:\n"
LED_BACK = """\
  back: {from: alternator.negative, to: start.negative, cable: flex-50, length: 1 m}
  ground-strap: {from: starter.negative, to: start.negative, cable: flex-50, length: 1 m}
"""


def carried(plan: str) -> float:
    wire = study_of(plan).wiring.wires["start-minus"]
    return wire.current.number if wire.current is not None else 0.0


@pytest.mark.parametrize("body", ["chassis", "water"])
def test_the_negative_brings_it_back_from_the_only_tie(body: str) -> None:
    plan = TIED_AT_BAR.replace("to: chassis", f"to: {body}")
    assert carried(plan) == pytest.approx(110.0)
    study = study_of(plan)
    through = study.wiring.network.through_bond(study.plan.bonds["strap"])
    assert through is not None
    assert through.number == pytest.approx(110.0)


@pytest.mark.parametrize("body", ["chassis", "water"])
def test_a_tie_at_its_own_post_is_nearer(body: str) -> None:
    assert carried(TIED_AT_BAR.replace("wires:\n", AT_POST.replace("TO", body))) == 0.0


def test_an_electrode_in_the_ground_is_no_engine() -> None:
    assert carried(TIED_AT_BAR.replace("to: chassis", "to: earth")) == 0.0


def test_what_is_led_back_takes_its_own_way() -> None:
    plan = TIED_AT_BAR + LED_BACK
    assert carried(plan) == 0.0
    [cranked] = study_of(plan).charging.cranking
    assert "start-minus" not in cranked.wires


def test_the_current_of_a_starter_takes_the_same_way() -> None:
    [cranked] = study_of(TIED_AT_BAR).charging.cranking
    assert cranked.wires == {"crank", "start-minus"}
    assert {warmed.wire.name for warmed in cranked.warmed} == {"crank", "start-minus", "strap"}
