"""Hours that a day's use takes, against those that a day has."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

LONG = "use-over-a-day"
LOADS = (
    "  refrigerator: {power: 45 W, nominal: 12 V}\n",
    "  refrigerator: {power: 45 W, nominal: 12 V}\n"
    "  heater: {power: 20 W, nominal: 12 V}\n"
    "  fan: {power: 20 W, nominal: 12 V}\n",
)
WIRES = (
    "energy:\n",
    "  heater-run: {from: house, to: heater, cable: batt-8, length: 2 m, place: cabin}\n"
    "  fan-run: {from: house, to: fan, cable: batt-8, length: 2 m, place: cabin}\n"
    "energy:\n",
)
ALL = ("setting: vehicle\n", "setting: vehicle\ntogether: {}\n")


def three(refrigerator: str, heater: str, fan: str, together: str = "") -> str:
    """Three loads with so many hours a day each."""
    edits = [
        LOADS,
        WIRES,
        (
            "refrigerator: {energy: {winter: 130 Wh, summer: 360 Wh}}",
            f"refrigerator: {{hours: {refrigerator}}}\n    heater: {{hours: {heater}}}\n"
            f"    fan: {{hours: {fan}}}",
        ),
    ]
    if together:
        edits.append((ALL[0], ALL[1].format(together)))
    return edited(*edits, plan=sound(LONG))


@pytest.mark.parametrize(("energy", "told"), [("1080 Wh", False), ("1081 Wh", True)])
def test_alone(energy: str, told: bool) -> None:
    """45 W through 24 h are 1080 Wh."""
    plan = edited(("summer: 360 Wh", f"summer: {energy}"), plan=sound(LONG))
    assert bool(found(plan, LONG)) is told


def test_the_worst_period_is_told_once() -> None:
    [finding] = found(faulty(LONG), LONG)
    assert finding.level == "warning"
    assert finding.message == ("`refrigerator` would have to run 80 h a day in summer for its use")


class TestTogether:
    APART = "[[refrigerator, heater], [refrigerator, fan]]"
    """The heater and the fan never run at once, and the refrigerator with each."""

    @pytest.mark.parametrize(("fan", "told"), [("10 h", False), ("10.1 h", True)])
    def test_what_never_runs_at_once_shares_the_day(self, fan: str, told: bool) -> None:
        findings = found(three("24 h", "14 h", fan, self.APART), LONG)
        assert bool(findings) is told
        for finding in findings:
            assert "`fan` and `heater` never run at the same time" in finding.message
            assert finding.values[-1].number == pytest.approx(24.1 * 3600.0)

    def test_without_lists_all_may_run_at_once(self) -> None:
        assert not found(three("24 h", "20 h", "20 h"), LONG)

    def test_what_stands_in_no_list_runs_with_all(self) -> None:
        assert not found(three("24 h", "14 h", "14 h", "[[refrigerator, heater]]"), LONG)

    def test_one_pair_that_may_run_together_is_none_of_the_sum(self) -> None:
        """Refrigerator apart from both, which may run at once: 12 and 13 h, or 12 and 11 h."""
        apart = "[[refrigerator], [heater, fan]]"
        [finding] = found(three("12 h", "13 h", "11 h", apart), LONG)
        assert "`heater` and `refrigerator`" in finding.message
        assert finding.values[-1].number == pytest.approx(25 * 3600.0)

    def test_three_one_after_the_other(self) -> None:
        apart = "[[refrigerator], [heater], [fan]]"
        [finding] = found(three("8 h", "9 h", "8 h", apart), LONG)
        assert finding.values[-1].number == pytest.approx(25 * 3600.0)
        assert not found(three("8 h", "8 h", "8 h", apart), LONG)

    def test_energy_counts_by_the_power(self) -> None:
        """260 Wh at 20 W are 13 h."""
        plan = edited(("heater: {hours: 1 h}", "heater: {energy: 260 Wh}"),
                      plan=three("1 h", "1 h", "12 h", self.APART))  # fmt: skip
        [finding] = found(plan, LONG)
        assert finding.values[1].number == pytest.approx(13 * 3600.0)
