"""Temperature compensation as told, by sign and size."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, sound


@pytest.mark.parametrize(
    ("told", "level"),
    [
        ("-24 mV/°C", ""),
        ("-18 mV/°C", ""),
        ("-4 mV/°C", "warning"),
        ("30 mV/°C", "error"),
        ("-0.17 %/°C", ""),
        ("-0.05 %/°C", "warning"),
    ],
)
def test_compensation_by_sign_and_size(told: str, level: str) -> None:
    plan = edited(("compensation: -24 mV/°C", f"compensation: {told}"),
                  plan=sound("compensation-odd"))  # fmt: skip
    assert [f.level for f in found(plan, "compensation-odd")] == ([level] if level else [])


def test_a_share_is_of_the_charge_voltage() -> None:
    plan = edited(("compensation: -24 mV/°C", "compensation: -0.05 %/°C"),
                  plan=sound("compensation-odd"))  # fmt: skip
    assert [f.message.split(" for ")[0] for f in found(plan, "compensation-odd")] == [
        "`tracker` changes its voltage by -7.2 mV/°C"
    ]
