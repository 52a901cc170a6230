"""Limits of small tables of common practice, each at the limit itself and beside it."""

from __future__ import annotations

import pytest

from plans import BASE, edited
from rule_runs import found
from rules.protection.plans import CHARGE
from wattproof.circuit import Passage
from wattproof.study.protection.answers import names_of
from wattproof.testing import study_of

BARE = "voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true"


@pytest.mark.parametrize(
    ("rating", "amps"), [("40 A", 1000.0), ("41 A", 2000.0), ("100 A", 2000.0), ("101 A", 6000.0)]
)
def test_what_a_fuse_of_no_known_style_breaks_by_its_size(rating: str, amps: float) -> None:
    plan = edited((f"rating: 40 A, {BARE}", f"rating: {rating}, voltage: 58 V, dc: true"))
    [duty] = [d for d in study_of(plan).protection.duties if d.name == "charge-fuse"]
    assert duty.interrupt is not None
    assert duty.interrupt.number == amps


@pytest.mark.parametrize(("volts", "told"), [("109 V", False), ("110 V", True)])
def test_a_voltage_from_which_a_switch_may_be_one_for_mains(volts: str, told: bool) -> None:
    plan = edited(("voltage: 150 V, dc: true, poles: 2", f"voltage: {volts}, poles: 2"),
                  plan=CHARGE)  # fmt: skip
    assert bool(found(plan, "device-not-for-dc")) is told


def test_devices_are_listed_as_a_sentence_lists_them() -> None:
    fuses = "".join(f"  f{n}: {{rating: 40 A, {BARE}}}\n" for n in (1, 2, 3))
    inline = ", ".join(f"{{f{n}: {{from_end: from, distance: {n}0 cm}}}}" for n in (1, 2, 3))
    plan = edited(
        (f"  charge-fuse: {{rating: 40 A, {BARE}}}\n", fuses),
        ("inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]", f"inline: [{inline}]"),
        plan=BASE,
    )
    passages = {e.name: e for e in study_of(plan).circuit.elements if isinstance(e, Passage)}
    for count, words in ((0, ""), (1, "`f1`"), (2, "`f1` and `f2`"), (3, "`f1`, `f2` and `f3`")):
        assert names_of(passages[f"f{n + 1}"] for n in range(count)) == words
    assert names_of([passages["f1"], passages["f1"]]) == "`f1`"
