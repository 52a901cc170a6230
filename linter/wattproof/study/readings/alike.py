"""Readings of strings that should agree: the same modules at the same controller.

Where sun or temperature was read with them, what is compared is each reading's share of what its
curve gives; else the readings themselves, if they were taken together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, Literal, TypeAlias

from wattproof.plan.readings import HELD_BACK
from wattproof.record import record
from wattproof.study.limits import LEAST_SPREAD
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.study.readings.conditions import STANDARD_SUN
from wattproof.study.readings.standing import DEAD
from wattproof.study.readings.taken import Taken
from wattproof.working import Value, function

Quantity: TypeAlias = Literal["voc", "isc", "current"]

WORDS: Final[dict[Quantity, str]] = {
    "voc": "open-circuit voltage",
    "isc": "short-circuit current",
    "current": "current in operation",
}
LITTLE: Final = 0.5
"""Share of a string's short-circuit current under which its array may stand near open circuit."""
COMPARED: Final[tuple[Quantity, ...]] = ("isc", "current")
"""What like strings agree in where nobody told sun or heat, and how near they do."""


@record
class Alike:
    """The least and the most of one quantity over strings that should agree.

    apart: by how much the one lies under the other, as a share, beyond what a clamp drifts.
    """

    quantity: Quantity
    weak: ArrayReading
    strong: ArrayReading
    apart: Value

    @property
    def words(self) -> str:
        """The quantity in words."""
        return WORDS[self.quantity]

    @property
    def allowed_for(self) -> str:
        """What was taken off the difference, in words: drift of currents, known sun or heat."""
        of_voltage = self.quantity == "voc"
        other = ("other heat" if of_voltage else "other sun") if self.scaled else ""
        listed = [words for words in ("" if of_voltage else "the meter's drift", other) if words]
        return f", {' and '.join(listed)} allowed for" if listed else ""

    @property
    def is_dark(self) -> bool:
        """True where hardly any current comes of the one: it is open, or covered."""
        return self.quantity != "voc" and self.apart.number > 1.0 - DEAD

    @property
    def may_be_full(self) -> bool:
        """True where so little flows that the battery may take no more, and nothing says it does.

        Near open circuit a hair of voltage shares that unevenly among strings.
        """
        if self.quantity != "current" or not self.strong.taken.may_be_full:
            return False
        taken = self.strong.taken
        return (
            self.shown(self.strong).number < LITTLE * taken.array.isc("standard", taken.tree).number
        )

    @property
    def scaled(self) -> bool:
        """True where each was read with the sun or the temperature that it follows."""
        return _known(self.weak, self.quantity)

    def shown(self, reading: ArrayReading) -> Value:
        """What the meter showed in one of them."""
        value = _shown(reading, self.quantity)
        assert value is not None
        return value


def alike(readings: Iterable[ArrayReading]) -> Iterator[Alike]:
    """Every quantity that was read at two or more strings which should agree in it.

    Readings that are out of their own band, which says more, are left out.
    """
    listed = list(readings)
    for quantity in WORDS:
        groups: dict[object, dict[str, ArrayReading]] = {}
        for reading in listed:
            if not reading.taken.at_string or _shown(reading, quantity) is None:
                continue
            if quantity == "current" and reading.taken.reading.stage in HELD_BACK:
                continue  # near open circuit a hair of voltage shares the little there is unevenly
            if reading.expected.decidable and not _out_of_band(reading, quantity):
                groups.setdefault(_key(reading, quantity), {})[reading.where] = reading
        for group in groups.values():
            shown = [_true(reading, quantity).number for reading in group.values()]
            if len(group) > 1 and max(shown) > 0.0:
                yield _alike(quantity, tuple(group.values()))


def has_partner(reading: ArrayReading, quantity: Quantity, others: Iterable[ArrayReading]) -> bool:
    """True where another string was read that should agree in a quantity."""
    return reading.taken.at_string and any(_partners(reading, quantity, others))


def as_far_off(
    reading: ArrayReading, quantity: Quantity, others: Iterable[ArrayReading]
) -> tuple[ArrayReading, ...]:
    """Readings of like strings that are out of their bands by as much, and on the same side.

    No fault of one string does that: meter, label, sun or heat is in all of them.
    """
    if not reading.taken.at_string or not _known(reading, quantity):
        return ()
    own = _scaled(reading, quantity, _true(reading, quantity)).number
    return tuple(
        other
        for other in _partners(reading, quantity, others)
        if _out_of_band(other, quantity)
        and abs(_scaled(other, quantity, _true(other, quantity)).number - own) < LEAST_SPREAD * own
    )


def _partners(
    reading: ArrayReading, quantity: Quantity, others: Iterable[ArrayReading]
) -> Iterator[ArrayReading]:
    """Readings of other strings that should agree with one in a quantity."""
    key = _key(reading, quantity)
    return (
        other
        for other in others
        if other.taken.at_string
        and other.where != reading.where
        and _shown(other, quantity) is not None
        and _key(other, quantity) == key
    )


def least_apart(reading: ArrayReading, quantity: Quantity) -> Value | None:
    """The smallest share by which it is found under one like it; None where it was not read."""
    shown = _shown(reading, quantity)
    if shown is None or not shown.number > 0.0:
        return None
    drift = reading.taken.conditions.zero_drift.number if quantity != "voc" else 0.0
    words = f"smallest loss of {WORDS[quantity]} that {reading.name} would find beside one like it"
    share = function("spread of like strings", LEAST_SPREAD + drift / shown.number, shown)
    return share.named(f"finds({reading.name})", words, "%")


def _alike(quantity: Quantity, readings: tuple[ArrayReading, ...]) -> Alike:
    scaled = {reading: _scaled(reading, quantity, _true(reading, quantity)) for reading in readings}
    weak = min(readings, key=lambda r: scaled[r].number)
    strong = max(readings, key=lambda r: scaled[r].number)
    least = scaled[weak]
    if quantity != "voc":
        least = least + _scaled(weak, quantity, weak.taken.conditions.zero_drift)
    share = 1.0 - least / scaled[strong]
    words = f"{WORDS[quantity]} of {weak.where} under that of {strong.where}"
    return Alike(quantity, weak, strong, share.named("apart", words, "%"))


def _scaled(reading: ArrayReading, quantity: Quantity, value: Value) -> Value:
    """A value as a share of what the curve gives, where the conditions are known."""
    expected = reading.expected
    if not _known(reading, quantity):
        return value
    if quantity == "voc":
        return value / expected.voc.expected
    if quantity == "isc":
        return value / expected.isc.expected
    return value * STANDARD_SUN / reading.taken.conditions.sun.expected


def _shown(reading: ArrayReading, quantity: Quantity) -> Value | None:
    """What the meter showed, where it is not reversed."""
    taken = reading.taken
    value: Value | None = getattr(taken, quantity)
    turned = (*taken.reversed_voltages, *taken.reversed_currents)
    return None if value is None or value in turned else value


def _true(reading: ArrayReading, quantity: Quantity) -> Value:
    value = _shown(reading, quantity)
    assert value is not None
    return value


def _known(reading: ArrayReading, quantity: Quantity) -> bool:
    conditions = reading.taken.conditions
    return conditions.temperature_known if quantity == "voc" else conditions.sun_known


def _out_of_band(reading: ArrayReading, quantity: Quantity) -> bool:
    stands = reading.stands
    if quantity == "voc":
        return stands.voc_is_low or stands.voc_is_high
    return quantity == "isc" and (stands.isc_is_low or stands.isc_is_high)


def _key(reading: ArrayReading, quantity: Quantity) -> object:
    """What readings that should agree have in common.

    Without sun or temperature: the words of when they were taken, and how their strings lie. What
    does not say when is like nothing else.
    """
    modules = tuple(sorted(tuple(m.name for m in s.modules) for s in reading.taken.strings))
    alike = reading.taken.array.controller.name, modules
    if _known(reading, quantity):
        return alike
    taken = reading.taken.reading.taken
    return *alike, reading.name if taken is None else ("together", str(taken)), _lie(reading)


def plane(taken: Taken) -> object:
    """Tilts and facings of its strings, by which their sun differs."""
    strings = [s.source.string for s in taken.strings]
    return frozenset((s.tilt and s.tilt.value, s.facing) for s in strings)


def _lie(reading: ArrayReading) -> object:
    """Tilt, facing, mounting and place of its strings, by which sun and heat differ."""
    strings = [s.source.string for s in reading.taken.strings]
    return tuple((s.tilt and s.tilt.value, s.facing, s.mounting, s.place) for s in strings)
