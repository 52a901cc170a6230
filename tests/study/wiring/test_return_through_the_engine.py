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
    plan = edited(("alt-run: {", f"alt-run: {{{pole}"), plan=kebab)
    found = found_beside_all(plan, "conductor-too-small")
    assert ("trailer-frame",) in [finding.subjects[:1] for finding in found]
