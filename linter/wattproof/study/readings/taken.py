"""What was read at a string, a joint, or the solar input of a controller, and where."""

from __future__ import annotations

from dataclasses import dataclass

from wattproof.circuit import Leaf, Parallel, Series, Source, Tree
from wattproof.kept import kept
from wattproof.plan.array import Combiner, String
from wattproof.plan.readings import Reading
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.strings import ModuleStudy, StringStudy
from wattproof.study.readings.conditions import NOTHING, Band, Conditions, overlap
from wattproof.study.readings.read_at import ReadAt
from wattproof.working import Value, declared


@dataclass(eq=False)
class Taken(ReadAt):
    """A reading, the part of the array that it was taken at, and what the meter showed.

    part: the string or joint that was read, None at the solar input. below_full: True where a
    voltage of the bank that was read at the same moment is under that of a full one at rest.
    """

    reading: Reading
    part: String | Combiner | None
    array: ArrayStudy
    conditions: Conditions
    below_full: bool = False

    @property
    def takes_all(self) -> bool:
        """True where a stage or a voltage tells that the battery took all that there was."""
        return self.reading.stage == "bulk" or (self.reading.stage is None and self.below_full)

    @property
    def may_be_full(self) -> bool:
        """True where neither of them tells whether it did."""
        return self.reading.stage is None and not self.below_full

    @kept
    def tree(self) -> Tree:
        """The part of the array that was read; a string as it is by itself, unplugged."""
        if isinstance(self.part, String):
            sources = {s for s in self.array.strings if s.string is self.part}
            found = _only(self.array.tree, sources)
            assert found is not None
            return found
        if self.part is not None:
            joints = [j.tree for j in self.array.joints_of_each_pole if j.combiner is self.part]
            return joints[-1] if joints else self.array.tree
        return self.array.tree

    @kept
    def strings(self) -> tuple[StringStudy, ...]:
        """The strings in it."""
        return self.array.strings_of(self.tree)

    @property
    def one_string(self) -> StringStudy | None:
        """The string, where the reading is of one alone."""
        return self.strings[0] if len(self.strings) == 1 else None

    @property
    def at_string(self) -> bool:
        """True where a string of the plan was read."""
        return isinstance(self.part, String)

    @property
    def at_input(self) -> bool:
        """True where the solar input of the controller was read."""
        return self.part is None

    @property
    def has_like_string(self) -> bool:
        """True where the array has another string of the same modules."""
        made = [sorted(m.name for m in s.modules) for s in self.strings]
        others = (s for s in self.array.all_strings if s not in self.strings)
        return any(sorted(m.name for m in s.modules) in made for s in others)

    @property
    def has_whole_length(self) -> bool:
        """True where as many in series were read as the whole array has."""
        return self.in_series == self.array.in_series()

    @property
    def is_whole(self) -> bool:
        """True where all strings of the array are in what was read."""
        return set(self.strings) == set(self.array.all_strings)

    @kept
    def voc(self) -> Value | None:
        """Open-circuit voltage shown (V)."""
        written = self.reading.voc
        words = f"open-circuit voltage read at {self.where}"
        return declared(written, f"Voc({self.name})", words) if written is not None else None

    @kept
    def isc(self) -> Value | None:
        """Short-circuit current shown (A)."""
        written = self.reading.isc
        words = f"short-circuit current read at {self.where}"
        return declared(written, f"Isc({self.name})", words) if written is not None else None

    @kept
    def true_voc(self) -> Band | None:
        """What the open-circuit voltage shown may truly be (V); None where it is reversed."""
        written = self.reading.voc
        if self.voc is None or written is None or self.voc in self.reversed_voltages:
            return None
        return self.conditions.volts(self.voc, written)

    @kept
    def true_isc(self) -> Band | None:
        """What the short-circuit current shown may truly be (A); None where it is reversed."""
        written = self.reading.isc
        if self.isc is None or written is None or self.isc in self.reversed_currents:
            return None
        return self.conditions.amps(self.isc, written)

    @kept
    def true_current(self) -> Band | None:
        """What the current in operation may truly be (A); None where it is reversed."""
        written = self.reading.current
        if self.current is None or written is None or self.current in self.reversed_currents:
            return None
        return self.conditions.amps(self.current, written)

    @kept
    def true_power(self) -> Band | None:
        """What the power in operation may truly be (W), by voltage and current or the display.

        None where neither was read, or a sign is reversed.
        """
        words = f"power read at {self.where}"
        volts, amps, watts = self.reading.voltage, self.reading.current, self.reading.power
        if self.is_reversed:
            return None
        if self.voltage is not None and self.current is not None:
            assert volts is not None
            assert amps is not None
            shown = (self.voltage * self.current).named(f"P({self.name})", words, "W")
            true_volts = self.conditions.volts(self.voltage, volts)
            true_amps = self.conditions.amps(self.current, amps)
            least, most = true_volts.low * true_amps.low, true_volts.high * true_amps.high
            return Band(least, shown, most).named(f"P({self.name})", words, "W")
        if watts is None:
            return None
        return self.conditions.watts(declared(watts, f"P({self.name})", words), watts)

    @kept
    def other_power(self) -> Value | None:
        """Power that the display shows (W), where voltage times current is not that.

        None where they agree, or one of them was not read.
        """
        written, read = self.reading.power, self.true_power
        if written is None or read is None or self.voltage is None or self.current is None:
            return None
        shown = declared(written, f"P({self.name})", f"power on the display at {self.where}")
        return None if overlap(read, self.conditions.watts(shown, written)) else shown

    @property
    def reversed_voltages(self) -> tuple[Value, ...]:
        """What was read with a minus that is more than nothing (V)."""
        shown = (self.voc, self.voltage)
        return tuple(v for v in shown if v is not None and v.number < -NOTHING)

    @property
    def reversed_currents(self) -> tuple[Value, ...]:
        """The same of currents (A), beyond what a clamp drifts."""
        drift = self.conditions.zero_drift.number
        shown = (self.isc, self.current)
        return tuple(v for v in shown if v is not None and v.number < -drift)

    @property
    def nothing_flows(self) -> bool:
        """True where the current in operation is no more than what a clamp drifts."""
        current = self.current
        return current is not None and abs(current.number) <= self.conditions.zero_drift.number

    @property
    def shows_nothing(self) -> bool:
        """True where no current and no open voltage was read that is more than nothing, of any."""
        drift, power = self.conditions.zero_drift.number, self.true_power
        amps = [v.number for v in (self.isc, self.current) if v is not None]
        dark = self.voc is None or abs(self.voc.number) <= NOTHING
        idle = power is None or self.nothing_flows or not power.expected.number > 0.0
        return dark and idle and all(abs(each) <= drift for each in amps)

    @property
    def is_reversed(self) -> bool:
        """True where a sign shows that poles or probes were swapped."""
        return bool(self.reversed_voltages or self.reversed_currents)

    @kept
    def in_series(self) -> int:
        """Modules in series in what was read."""
        return self.array.in_series(self.tree)

    @property
    def in_parallel(self) -> int:
        """Strings side by side in what was read."""
        return self.array.in_parallel(self.tree)

    @property
    def module(self) -> ModuleStudy | None:
        """The module, where all that was read are alike."""
        modules = {m.name: m for s in self.strings for m in s.modules}
        return next(iter(modules.values())) if len(modules) == 1 else None


def _only(tree: Tree, sources: set[Source]) -> Tree | None:
    """Some strings of an array as they are joined, without the wires and devices; None of none."""
    if isinstance(tree, Leaf):
        return tree if isinstance(tree.element, Source) and tree.element in sources else None
    members = tuple(m for each in tree.members if (m := _only(each, sources)) is not None)
    if len(members) < 2:
        return members[0] if members else None
    if isinstance(tree, Series):
        return Series(members)
    return Parallel(members, tree.negative, tree.positive)
