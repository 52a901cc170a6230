"""Short-circuit current read against the least that the curve gives in that sun."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.readings.plans import FULL_SUN, first, read, strings

CURRENT_LOW = "reading-current-low"
CURRENT_HIGH = "reading-current-high"
UNEQUAL = "reading-strings-unequal"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"


def test_the_band_of_current_by_hand() -> None:
    band = first(read(f"at: roof-string, isc: 4 A, {FULL_SUN}")).expected.isc
    assert band.expected.number == pytest.approx(5.2 * (1 + 0.0005 * 24), rel=1e-3)
    assert band.low.number == pytest.approx(5.2 * (1 + 0.0005 * 21) * 0.95, rel=1e-3)
    assert band.high.number == pytest.approx(5.2 * (1 + 0.0005 * 27) * 1.05, rel=1e-3)


@pytest.mark.parametrize(
    ("end", "aside", "rule"),
    [
        ("low", -0.01, CURRENT_LOW),
        ("low", +0.01, None),
        ("high", -0.01, None),
        ("high", +0.01, CURRENT_HIGH),
    ],
)
def test_current_at_both_ends_of_the_band(end: str, aside: float, rule: str | None) -> None:
    band = first(read(f"at: roof-string, isc: 4 A, {FULL_SUN}")).expected.isc
    plan = read(f"at: roof-string, isc: {getattr(band, end).number + aside:.4f} A, {FULL_SUN}")
    assert [r for r in (CURRENT_LOW, CURRENT_HIGH) if found(plan, r)] == ([rule] if rule else [])


def test_the_drift_of_the_clamp_is_allowed_for() -> None:
    plan = read(f"at: roof-string, isc: 4.8 A, {FULL_SUN}")
    assert found(plan, CURRENT_LOW)
    assert not found(plan.replace("zero: 0 A", "zero: 0.3 A"), CURRENT_LOW)


def test_current_follows_the_sun() -> None:
    half = f"irradiance: 500 W/m², back_temperature: 35 °C, {EXACT}"
    assert not found(read(f"at: roof-string, isc: 2.6 A, {half}"), CURRENT_LOW)
    assert found(read(f"at: roof-string, isc: 2.6 A, {FULL_SUN}"), CURRENT_LOW)


@pytest.mark.parametrize(
    ("amps", "said"),
    [(10.6, "1 of 3 strings open"), (5.3, "2 of 3 strings open"), (0.1, "nothing arrives")],
)
def test_strings_that_give_nothing_are_counted(amps: float, said: str) -> None:
    plan = read(f"at: roof-joint, isc: {amps} A, {FULL_SUN}", plan=strings(3))
    (finding,) = found(plan, CURRENT_LOW)
    assert said in finding.message


@pytest.mark.parametrize("amps", [3.2, 7.5])
def test_no_strings_are_blamed_that_do_not_explain_it(amps: float) -> None:
    """One of two dark gives 5.2 A of 10.4 A, within a twentieth."""
    plan = read(f"at: roof-joint, isc: {amps} A, {FULL_SUN}", plan=strings(2))
    (finding,) = found(plan, CURRENT_LOW)
    assert "open or dark" not in finding.message


def test_folding_modules_may_lie_further_from_their_label() -> None:
    folding = edited(("max_series_fuse: 15 A", "build: folding, max_series_fuse: 15 A"))
    text = f"at: roof-string, isc: 4.85 A, {FULL_SUN}"
    assert found(read(text), CURRENT_LOW)
    assert not found(read(text, plan=folding), CURRENT_LOW)


def test_a_string_out_of_its_band_is_told_once() -> None:
    plan = read(
        f"at: string-1, isc: 5.2 A, {FULL_SUN}",
        f"at: string-2, isc: 3.0 A, {FULL_SUN}",
        plan=strings(2),
    )
    assert found(plan, CURRENT_LOW)
    assert not found(plan, UNEQUAL)


def test_no_current_at_all_is_low() -> None:
    (finding,) = found(read(f"at: roof-string, isc: 0 A, {FULL_SUN}"), CURRENT_LOW)
    assert "nothing arrives" in finding.message
    assert finding.remedy.startswith("look for a plug, switch or fuse that is open")
    (finding,) = found(read(f"at: roof-string, isc: 3.2 A, {FULL_SUN}"), CURRENT_LOW)
    assert finding.remedy.startswith("clean the glass")


@pytest.mark.parametrize(
    ("volts", "said"),
    [
        ("67 V", "though it has 67 V open: the short was not closed"),
        ("3 V", "nothing arrives, so the circuit is open"),
    ],
)
def test_no_current_of_a_string_that_has_its_voltage(volts: str, said: str) -> None:
    (finding,) = found(read(f"at: roof-string, voc: {volts}, isc: 0.1 A, {FULL_SUN}"), CURRENT_LOW)
    assert said in finding.message
