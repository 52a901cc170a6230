"""Parts whose two sides are led the wrong way round, by what is on them."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.circuit import build_circuit
from wattproof.plan import load_plan
from wattproof.source import PlanUnusable


def said(text: str) -> list[str]:
    with pytest.raises(PlanUnusable) as unusable:
        build_circuit(load_plan("plan.yaml", text=text))
    return [f"{problem.message}: {problem.instead}" for problem in unusable.value.problems]


def test_a_controller_with_its_battery_on_the_solar_input() -> None:
    text = edited(
        ("to: tracker.pv", "to: tracker.mark"), ("from: tracker.battery", "from: tracker.pv")
    )
    [told] = said(text.replace("tracker.mark", "tracker.battery"))
    assert told == (
        "the sides of `tracker` are exchanged: `house` is on `tracker.pv`, and `roof-string` on "
        "`tracker.battery`: write `tracker.battery` for `tracker.pv` in `charge-run` and write "
        "`tracker.pv` for `tracker.battery` in `home-run`"
    )


def test_an_array_beside_the_battery_is_past_its_controller_and_not_exchanged() -> None:
    text = edited(("to: tracker.pv", "to: tracker.battery"))
    circuit = build_circuit(load_plan("plan.yaml", text=text))
    [past] = circuit.uncontrolled
    assert (past.string.name, past.fed.name) == ("roof-string", "house")
    assert [each.end for each in circuit.unused] == ["tracker.pv"]


STEP_DOWN = """\
converters:
  step: {input_nominal: 24 V, output_nominal: 12 V, max_output_current: 10 A}
loads:
  lamp: {current: 2 A, nominal: 12 V}
wires:
  lamp-run: {from: step.HERE, to: lamp, cable: batt-8, length: 1 m}
  step-run: {from: house, to: step.THERE, cable: batt-8, length: 1 m}
"""


@pytest.mark.parametrize("volts", ["12.8 V", "25.6 V"])
def test_a_converter_of_which_each_side_is_on_the_voltage_of_the_other(volts: str) -> None:
    turned = STEP_DOWN.replace("HERE", "input", 1).replace("THERE", "output")
    told = said(edited(("wires:\n", turned), ("nominal: 12.8 V", f"nominal: {volts}")))
    if volts == "25.6 V":
        assert told == [
            "the sides of `step` are exchanged: its input (24 V) is on `lamp`, and its output "
            "(12 V) on `house`: lead `step.input` to `house`, and `step.output` to `lamp`"
        ]
    else:  # a wrong battery, whichever way round the converter is
        assert any("unlike nominal voltages" in each for each in told)
        assert not any("exchanged" in each for each in told)
