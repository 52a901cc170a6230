"""What every reading in operation has: a name, a place, and what the meter showed there."""

from __future__ import annotations

from wattproof.kept import kept
from wattproof.plan.readings import Reading
from wattproof.working import Value, declared


class ReadAt:
    """Voltage and current as a reading tells them; None where it does not."""

    reading: Reading

    @property
    def name(self) -> str:
        """The reading's name."""
        return str(self.reading.name)

    @property
    def where(self) -> str:
        """The terminal that was read, as the plan writes it."""
        return str(self.reading.at_terminal)

    @kept
    def voltage(self) -> Value | None:
        """Voltage where it was read (V)."""
        written = self.reading.voltage
        words = f"voltage read at {self.where}"
        return declared(written, f"U({self.name})", words) if written is not None else None

    @kept
    def current(self) -> Value | None:
        """Current while it was read (A)."""
        written = self.reading.current
        words = f"current read at {self.where}"
        return declared(written, f"I({self.name})", words) if written is not None else None
