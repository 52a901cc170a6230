"""The bodies of rules of one plan: one for its array side, one for its battery side."""

from __future__ import annotations

from typing import NamedTuple

from wattproof.codes.body import BodyOfRules
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

    def notes(self, setting: str) -> tuple[BodyNote, ...]:
        """What every result should say of them, in a setting of plans."""
        found = (*self.array.notes(setting, "array"), *self.battery.notes(setting, "battery"))
        return tuple(dict.fromkeys(found))


def _title(body: BodyOfRules) -> str:
    return f"{body.title} ({body.edition})"
