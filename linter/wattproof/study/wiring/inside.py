"""What is inside a battery as seen from its terminals: a voltage behind a resistance.

Source: IEC 61660-1:1997, sources as an emf behind a resistance. The voltage is that of a charged
battery at rest, with which the short-circuit current and the internal resistance of a label mean
the same.
"""

from __future__ import annotations

from wattproof.kept import KeptEach
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.batteries import (
    NO_SHORT_CIRCUIT_CURRENT,
    ODD_SHORT_CIRCUIT_CURRENT,
    SHORT_CIRCUIT_PER_AH,
)
from wattproof.study.battery.bank import BankStudy
from wattproof.working import Value, total


class Inside:
    """Short-circuit currents and resistances of banks, each worked out once.

    doubting: True for the most that a device may have to break, where a label that tells less than
    any battery gives does not count. Else that is believed: a weak bank opens no fuse.
    """

    def __init__(self, assume: Assumer, *, doubting: bool = False) -> None:
        self.assume = assume
        self.doubting = doubting
        self._shorted: KeptEach[tuple[BankStudy, ...], Value] = KeptEach()
        self._resistance: KeptEach[tuple[BankStudy, ...], Value] = KeptEach()

    def short_circuit(self, bank: BankStudy) -> Value:
        """Current of a bolted short at the bank's own terminals (A)."""
        return self._shorted.of(bank.parts, lambda: self._short_circuit(bank))

    def resistance(self, bank: BankStudy) -> Value:
        """Resistance inside the bank (Ω)."""
        return self._resistance.of(bank.parts, lambda: self._inner(bank))

    def _inner(self, bank: BankStudy) -> Value:
        inner = (
            bank.resting_voltage / self.short_circuit(bank)
            if len(bank.parts) == 1
            else total([self.resistance(part) for part in bank.parts])
        )
        return inner.named(f"Ri({bank.name})", f"resistance inside {bank.name}", "Ω")

    def _short_circuit(self, bank: BankStudy) -> Value:
        words = f"short-circuit current of {bank.name} at its terminals"
        if len(bank.parts) > 1:
            whole = bank.resting_voltage / self.resistance(bank)
            return whole.named(f"Ik({bank.name})", words, "A")
        one = bank.told_short
        if one is None or (self.doubting and bank.short_is_odd):
            one = self._by_chemistry(bank)
        return bank.times(one, "parallel").named(f"Ik({bank.name})", words, "A")

    def _by_chemistry(self, bank: BankStudy) -> Value:
        """The chemistry's careful value: parallel paths add, series does not."""
        battery = bank.battery
        hours = battery.capacity.value / 3600.0
        per_hour = SHORT_CIRCUIT_PER_AH.value[battery.chemistry]
        amps = per_hour * hours
        silence = NO_SHORT_CIRCUIT_CURRENT
        if bank.told_short is not None:
            silence = silence._replace(says=ODD_SHORT_CIRCUIT_CURRENT)
        return self.assume.value(silence, bank.name, bank.at, kind=battery.chemistry, number=amps)
