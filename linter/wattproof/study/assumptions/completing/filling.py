"""A plan while figures are put in the place of what it does not tell."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple, TypeVar

from wattproof.plan.fields import Named
from wattproof.plan.root import Plan
from wattproof.plan.sized import OF, OF_A_CABLE
from wattproof.plan.told_units import units_of
from wattproof.plan.wiring import Wire
from wattproof.study.assumptions.rows import Silence
from wattproof.working import Assumption, Supposed, SupposedWord, shown

ANY_CHOICE = (0.1, 10.0)
"""What can be chosen, told by the figure that would be usual: the smallest and the largest."""
SQUARE_MM = 1e-6
"""In square metres."""
HOUR = 3600.0
"""In seconds."""
_Part = TypeVar("_Part", bound=Named)
_CALLED = {
    "agm": "sealed lead",
    "flooded": "lead that is filled up",
    "lithium-iron-phosphate": "lithium iron phosphate",
    "mppt": "a tracker (MPPT)",
}
"""What is taken for a word that is not told, as a sentence says it."""

_SHOWN = {
    "voltage": "V",
    "current": "A",
    "power": "W",
    "charge": "C",
    "length": "m",
    "conductor size": "m²",
}


class Figure(NamedTuple):
    """A figure for a value that is not told.

    value: in the SI unit of its dimension. why: where it comes from, as an end of a sentence.
    least: what it cannot be under, by what else the plan tells. reach: the smallest and the largest
    that it may well be, where that is more than such a figure would reach. bound: what it cannot be
    above.
    """

    value: float
    why: str = "as is usual"
    least: float = 0.0
    reach: tuple[float, ...] = ()
    bound: float = math.inf


Choose = Callable[[str, str, str, Figure], Figure]
"""Takes family, name, key and the usual figure of an unknown value; gives the one to use."""


class Filling:
    """A plan in the making: one family after the other, since later ones read what is filled first.

    plan: as far as it is filled. choose: gives another figure than the usual one.
    """

    def __init__(self, plan: Plan, choose: Choose | None) -> None:
        self.plan = plan
        self._told_in = units_of(plan)
        self._choose = choose
        self._at: dict[str, list[str]] = {}  # names of wires by what they lead to
        self._through: dict[str, list[str]] = {}  # and by the devices in them
        for name, wire in plan.wires.items():
            for end in dict.fromkeys(wire.components):
                self._at.setdefault(end, []).append(name)
            for device in dict.fromkeys(str(each.device) for each in wire.inline):
                self._through.setdefault(device, []).append(name)

    def wires_at(self, name: str) -> list[Wire]:
        """The wires that lead to something, in the order of the plan."""
        return self._wires(self._at, name)

    def wires_through(self, name: str) -> list[Wire]:
        """The wires that hold a device, in the order of the plan."""
        return self._wires(self._through, name)

    def amount(self, value: float, unit: str) -> str:
        """A figure in the units that the plan is told in."""
        return self._told_in.said(shown(value, unit))

    def _supposed(
        self, family: str, part: Named, key: str, silence: Silence, dimension: str, figure: Figure
    ) -> Supposed:
        """The quantity that stands in the place of one that is not told."""
        name = str(part.name)
        if self._choose is not None:
            figure = self._choose(family, name, key, figure)
        left = part.open.get(key)
        place = left or part.unknown.get(key) or part.unknown.get("") or part.at
        subject = name.partition(OF)[2] or name
        amount = self.amount(figure.value, _SHOWN.get(dimension, "V"))
        opened = left is not None
        why = _since(figure.why, opened=opened)
        says = silence.says.format(subject=subject, shown=amount, why=why)
        look_up = None if opened else silence.look_up
        instead = "cable" if name.startswith(OF_A_CABLE) and key == "size" else silence.instead
        assumption = Assumption(
            silence.key, subject, says, instead, place, look_up, opened, silence.guess
        )
        ends = [silence.figure(which, "", figure.value) for which in ("kind", "harsh")]
        if opened:
            ends = [figure.value * factor for factor in ANY_CHOICE]
        ends = [min(max(e, figure.least), figure.bound) for e in (*ends, *figure.reach)]
        return Supposed.of(figure.value, dimension, place, assumption, (min(ends), max(ends)))

    def part(self, family: str, part: _Part, *lacking: tuple[str, Silence, str, Figure]) -> _Part:
        """The part with figures under the keys that are not told."""
        update = {
            key: self._supposed(family, part, key, silence, dimension, figure)
            for key, silence, dimension, figure in lacking
            if getattr(part, key) is None
        }
        return part.model_copy(update=update) if update else part

    def word(
        self, part: _Part, key: str, silence: Silence, usual: str, why: str, ends: tuple[str, str]
    ) -> _Part:
        """The part with the usual word under a key that is not told."""
        if getattr(part, key) is not None:
            return part
        place = part.unknown.get(key) or part.unknown.get("") or part.at
        subject = str(part.name)
        says = silence.says.format(
            subject=subject, shown=_CALLED[usual], why=_since(why, opened=False)
        )
        assumption = Assumption(
            silence.key, subject, says, silence.instead, place, silence.look_up, guess=silence.guess
        )
        word = SupposedWord.of(usual, place, assumption, ends)
        return part.model_copy(update={key: word})

    def put(self, family: str, parts: dict[str, Any]) -> None:
        """Parts in the place of a family, where any is another than it was."""
        old = getattr(self.plan, family)
        if any(parts[name] is not old[name] for name in parts):
            self.plan = self.plan.model_copy(update={family: parts})

    def put_sheets(self, family: str, sheets: dict[str, Any]) -> None:
        """The same for datasheets, which may be more than there were."""
        old = getattr(self.plan.datasheets, family)
        if len(old) != len(sheets) or any(sheets[name] is not old[name] for name in old):
            whole = self.plan.datasheets.model_copy(update={family: sheets})
            self.plan = self.plan.model_copy(update={"datasheets": whole})

    def _wires(self, where: Mapping[str, list[str]], name: str) -> list[Wire]:
        return [self.plan.wires[wire] for wire in where.get(name, ())]


def _since(why: str, *, opened: bool) -> str:
    return f"{why}, since {'it is not chosen yet' if opened else 'the plan does not tell it'}"
