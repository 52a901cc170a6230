"""Lead in frost: at what temperature it freezes, by what is taken out of it."""

from __future__ import annotations

from wattproof.physics.lead_acid import FREEZING, charge_that_bears, freezing_point
from wattproof.record import record
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import exceeds
from wattproof.working import Value, function, tabled


@record
class LeadInFrost:
    """A bank of lead, the coldest that it gets by the plan, and when it freezes.

    coldest: °C, as told. freezes: °C, with as much taken out as may be.
    """

    bank: BankStudy
    coldest: Value
    freezes: Value

    @property
    def may_freeze(self) -> bool:
        """True where it gets colder than that."""
        return exceeds(self.freezes, self.coldest)

    @property
    def bears(self) -> float | None:
        """The share of its charge that may be taken out in that cold; None where none may."""
        left = charge_that_bears(self.coldest.number)
        return None if left is None else 1.0 - left


def in_frost(bank: BankStudy, coldest: Value) -> LeadInFrost | None:
    """A bank of lead whose cold is told (°C); None for others."""
    if not bank.is_lead or coldest.assumptions:
        return None
    left = (1.0 - bank.depth_of_discharge).named(
        f"SoC({bank.name})", f"charge that is left in {bank.name}", "%"
    )
    freezes = function("freezing point of the acid", freezing_point(left.number), left)
    words = f"temperature at which {bank.name} freezes then"
    return LeadInFrost(bank, coldest, freezes.named(f"Tfreeze({bank.name})", words, "°C"))


def flat_freezes(bank: BankStudy) -> Value:
    """The temperature at which a bank of lead freezes that is flat (°C)."""
    words = f"temperature at which {bank.name} freezes when it is flat"
    return tabled(FREEZING[0][1], "°C", f"Tfreeze({bank.name})", words, PRACTICE)
