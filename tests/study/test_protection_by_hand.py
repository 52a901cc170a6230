"""What opens first, what a larger device would leave bare, what branch breakers have to break."""

from __future__ import annotations

import pytest

from external.battery_sides import HEAD
from plans import edited
from study.test_allowed import BASE
from study.test_answers_by_hand import LAMP
from wattproof.study.protection.larger_device import exposed
from wattproof.testing import study_of

IEC = ("code: nec-2023", "code: iec")


@pytest.mark.parametrize(
    ("fuse", "current", "first"),
    [
        ("40 A", "50 A", True),
        ("40 A", "40.1 A", True),
        ("40 A", "40 A", False),  # what it lets last is what flows
        ("45 A", "50 A", True),
        ("46 A", "50 A", False),  # 4 mm² carries 45 A in free air
    ],
)
@pytest.mark.parametrize("place", ["in it", "before it"])
def test_whether_a_device_opens_before_too_much_flows_for_long(
    fuse: str, current: str, first: bool, place: str
) -> None:
    """IEC 60364-5-52 B.52.12, 4 mm² of XLPE. The fuse is the lamp's own, or the one of the bank."""
    own = LAMP.replace("20 A", fuse)
    plan = edited(IEC, (LAMP, own), ("lamp: {current: 5 A}", f"lamp: {{current: {current}}}"),
                  plan=BASE)  # fmt: skip
    if place == "before it":
        inline = ",\n             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]"
        plan = edited((inline, ""), (f"  {own}\n", ""), ("rating: 100 A", f"rating: {fuse}"),
                      plan=plan)  # fmt: skip
    study = study_of(plan)
    assert study.protection.opens_first(study.wiring.wires["lamp-run"]) is first


def test_where_nothing_flows_nothing_opens_first() -> None:
    plan = edited(IEC, ("busbars:\n", "busbars:\n  spare: {rating: 100 A}\n"), plan=BASE)
    plan += "  idle: {from: bar, to: spare, cable: thin, length: 1 m, place: cabin}\n"
    study = study_of(plan)
    assert study.wiring.wires["idle"].current is None
    assert not study.protection.opens_first(study.wiring.wires["idle"])


@pytest.mark.parametrize(
    ("rating", "left"),
    [(150.0, {}), (175.0, {}), (200.0, {"house-run": 200.0, "lamp-run": 200.0})],
)
def test_a_device_ahead_counts_only_where_it_is_the_smaller(
    rating: float, left: dict[str, float]
) -> None:
    """Behind 150 A of the bank's fuse 300 A at the lamp let no more last than that."""
    plan = edited(("to: lamp, cable: thin", "to: lamp, cable: thick"),
                  (LAMP, LAMP.replace("20 A", "300 A")), plan=BASE)  # fmt: skip
    study = study_of(plan)
    found = exposed(study.protection.guards, study.wiring.devices["house-fuse"], rating)
    assert {each.wire.name: each.through.number for each in found} == left


BRANCH = HEAD.replace("code: nec-2023", "code: abyc-e11").replace("vehicle", "boat") + """\
breakers:
  lamp-breaker: {rating: 20 A, voltage: 58 V, poles: 1, dc: true, interrupt: 3 kA}
fuses:
  main: {rating: 150 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  one: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
  two: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
loads:
  lamp: {current: 5 A}
wires:
  beside: {from: one, to: two, cable: batt-2, length: 0.3 m}
  lamp-run: {from: two, to: lamp, cable: batt-8, length: 1 m,
             inline: [{main: {from_end: from, distance: 10 cm}},
                      {lamp-breaker: {from_end: from, distance: 20 cm}}]}
"""  # fmt: skip


@pytest.mark.parametrize(
    ("beside", "branch"),
    [
        ("chemistry: agm", 2500.0),
        ("chemistry: lithium-iron-phosphate", None),
    ],
)
def test_what_a_branch_breaker_breaks_goes_by_all_batteries_together(
    beside: str, branch: float | None
) -> None:
    """ABYC E-11 table IV-A: 2 kA of one are in the row of 3 kA, with the other 4 kA in the last.

    The table is for lead alone.
    """
    plan = BRANCH.replace("two: {chemistry: agm", f"two: {{{beside}")
    if branch is None:
        plan = plan.replace("phosphate, nominal: 12 V", "phosphate, nominal: 12.8 V")
    duties = {duty.name: duty for duty in study_of(plan).protection.duties}
    duty = duties["lamp-breaker"]
    assert (duty.branch.value if duty.branch is not None else None) == branch
    assert duties["main"].branch is None
    assert duty.backed_by == ("main",)
    assert set(duty.banks) == {"one", "two"}
