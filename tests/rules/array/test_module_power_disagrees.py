"""The power on a module's label against the voltage and current on it."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.array.plans import label

IMPOSSIBLE = "module-values-impossible"
POWER = "module-power-disagrees"


def test_small_modules_are_rounded_coarsely() -> None:
    """18 V × 0.6 A = 10.8 W: but 0.6 A may be 0.55 A."""
    assert not found(label("voc: 21.6 V, vmp: 18 V, isc: 0.7 A, imp: 0.6 A, pmax: 10 W"), POWER)


def test_power_by_hand() -> None:
    plan = label("voc: 24.6 V, vmp: 20.5 V, isc: 10.2 A, imp: 9.26 A, pmax: 200 W")
    (finding,) = found(plan, POWER)
    assert finding.values[0].number == pytest.approx(20.5 * 9.26)
    beyond = 1 - 20.55 * 9.265 / 199.5
    assert f"{beyond * 100:.1f} % apart" in finding.message
    assert finding.margin == pytest.approx(1 - beyond / 0.03)
    assert finding.values[2].number == pytest.approx(200 / (24.6 * 10.2))
    assert finding.verdict == "certain"


@pytest.mark.parametrize(
    ("values", "wrong"),
    [
        (
            "voc: 24.6 V, vmp: 20.5 V, isc: 10.2 A, imp: 9.26 A, pmax: 200 W",
            "Imp (by the others 9.76",
        ),
        (
            "voc: 24.6 V, vmp: 20.5 V, isc: 10.2 A, imp: 9.76 A, pmax: 180 W",
            "Pmax (by the others 200",
        ),
        (
            "voc: 24.6 V, vmp: 19.7 V, isc: 10.2 A, imp: 9.76 A, pmax: 200 W",
            "Vmp (by the others 20.5",
        ),
    ],
)
def test_which_of_the_three_is_likely_wrong(values: str, wrong: str) -> None:
    (finding,) = found(label(values), POWER)
    assert finding.remedy.startswith(f"most likely wrong is {wrong}")


def test_the_likely_power_agrees() -> None:
    plan = label("voc: 24.6 V, vmp: 20.5 V, isc: 10.2 A, imp: 9.76 A, pmax: 180 W")
    (finding,) = found(plan, POWER)
    watts = re.search(r"by the others ([\d.]+) W", finding.remedy)
    assert watts
    assert not found(plan.replace("180 W", f"{watts[1]} W"), POWER)


@pytest.mark.parametrize("left_out", [", imp: 4.9 A", ", pmax: 100 W"])
def test_two_of_three_values_cannot_disagree(left_out: str) -> None:
    plan = edited((left_out, ""))
    assert not found(plan, POWER)
    assert not found(plan, IMPOSSIBLE)
