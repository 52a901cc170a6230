"""Whether a device opens before an overload harms the wire: its conventional tripping current."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, sound

LATE = "device-trips-late"


@pytest.mark.parametrize(
    ("amps", "fires"),
    [
        # 6 mm², 90 °C, in conduit at 35 °C: 54 A × 0.96 = 51.84 A; a gG fuse: × 1.45 / 1.6 = 46.98
        (35, False),
        (40, False),
        (50, True),
        (63, False),  # too large by its rating, which is another finding
    ],
)
@pytest.mark.parametrize("code", ["iec", "as-nzs-3001"])
def test_a_general_purpose_fuse_near_the_capacity(amps: float, fires: bool, code: str) -> None:
    plan = edited(("rating: 40 A", f"rating: {amps} A"), ("code: iec", f"code: {code}"),
                  plan=sound(LATE))  # fmt: skip
    findings = found(plan, LATE)
    assert bool(findings) == fires
    if fires:
        assert "47 A is the largest that protects it" in findings[0].message
        assert findings[0].subjects == ("charge-run", "charge-fuse")
    assert bool(found(plan, "fuse-over-conductor")) == (amps > 51.84)


@pytest.mark.parametrize(
    ("made", "fires"), [("class-t", False), ("gpv", False), ("wide-strip", False)]
)
def test_devices_that_trip_by_then_or_of_which_nothing_is_known(made: str, fires: bool) -> None:
    plan = edited(("rating: 40 A", "rating: 50 A"), ("style: cartridge", f"style: {made}"),
                  plan=sound(LATE))  # fmt: skip
    assert bool(found(plan, LATE)) == fires


@pytest.mark.parametrize("code", ["nec-2023"])
def test_bodies_without_the_condition_say_nothing(code: str) -> None:
    plan = edited(("rating: 40 A", "rating: 50 A"), ("code: iec", f"code: {code}"),
                  plan=sound(LATE))  # fmt: skip
    assert not found(plan, LATE)
