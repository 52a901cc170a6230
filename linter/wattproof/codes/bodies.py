"""The bodies of rules of one plan: one for its array side, one for its battery side."""

from __future__ import annotations

from typing import NamedTuple

from wattproof.codes.body import BodyOfRules, body, for_setting
from wattproof.codes.demands import BodyNote


class Bodies(NamedTuple):
    """Which body of rules each side of an installation is read by; mostly one for both."""

    array: BodyOfRules
    battery: BodyOfRules

    @property
    def differ(self) -> bool:
        """True where each side has a body of its own."""
        return self.array is not self.battery

    def of(self, side: str) -> BodyOfRules:
        """The body of a side, "array" or "battery"."""
        return self.array if side == "array" else self.battery

    @property
    def id(self) -> str:
        """As a plan writes it under `code:`."""
        if not self.differ:
            return self.array.id
        return f"{{array: {self.array.id}, battery: {self.battery.id}}}"

    @property
    def title(self) -> str:
        """Titles and editions, and which side is read by which."""
        if not self.differ:
            return _title(self.array)
        return f"array side: {_title(self.array)}; battery side: {_title(self.battery)}"

    @property
    def local(self) -> str:
        """Whom to ask on the spot."""
        if not self.differ or self.array.local == self.battery.local:
            return self.array.local
        return f"{self.array.local}, for the array; {self.battery.local}, for the battery side"

    def others_in(self, setting: str) -> tuple[Bodies, ...]:
        """What may hold in a setting as well, where a plan names none and these are taken.

        Beside one body for both sides it may be one for the battery side alone. Conductors that are
        all told in mm² are of no place where bodies go by gauges.
        """
        whole = [Bodies(body(name), body(name)) for name in for_setting(setting)]
        beside = [Bodies(self.array, body(name)) for name in for_setting(setting, beside=True)]
        metric = self.battery.size_system == "mm2"
        return tuple(
            each
            for each in (*whole, *beside)
            if each != self and not (metric and each.battery.size_system == "awg")
        )

    def notes(self, setting: str) -> tuple[BodyNote, ...]:
        """What every result should say of them, in a setting of plans."""
        found = (*self.array.notes(setting, "array"), *self.battery.notes(setting, "battery"))
        return tuple(dict.fromkeys(found))


def _title(code: BodyOfRules) -> str:
    return f"{code.title} ({code.edition})"
