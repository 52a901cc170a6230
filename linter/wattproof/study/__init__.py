"""The operating states of one circuit: computed once, when asked for, shared by all rules."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from wattproof.circuit import Circuit, build_circuit
from wattproof.codes import Bodies, BodyOfRules, body, usual_for
from wattproof.kept import kept, note_figure
from wattproof.plan.root import Plan
from wattproof.quantities import gauge_of
from wattproof.study.array import ArraySection
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.assumer import Worded
from wattproof.study.assumptions.plan import OTHER_CODE
from wattproof.study.assumptions.reading import USUAL, Reading
from wattproof.study.assumptions.supposed import (
    Where,
    label_of,
    read_as,
    supposed_in,
    where_supposed,
)
from wattproof.study.battery import BatterySection
from wattproof.study.charging import ChargingSection
from wattproof.study.curves import CurvesSection
from wattproof.study.energy import EnergySection
from wattproof.study.noted import noted_of
from wattproof.study.protection import ProtectionSection
from wattproof.study.readings import ReadingsSection
from wattproof.study.site import SiteSection
from wattproof.study.wiring import WiringSection
from wattproof.working import Assumption, Supposed, SupposedWord

_BATTERY_PARTS = ("battery", "bonding", "overcurrent", "conductor")
"""Parts of an installation by which what stands on both sides is judged as on the battery side."""


class Study:
    """Everything that is computed of one circuit, by section. Rules read it; it changes nothing.

    reading: with which figures the plan's unknowns are read. supposed: where those stand that its
    parts have, and worded: what was worded of them, by another reading of the plan.
    """

    def __init__(
        self,
        circuit: Circuit,
        reading: Reading = USUAL,
        supposed: Where | None = None,
        worded: Worded | None = None,
    ) -> None:
        self.circuit = circuit
        self.reading = reading
        self.plan: Plan = circuit.plan
        self.codes: Bodies = reading.codes or bodies_for(self.plan)
        self.assume = assume = Assumer(self.plan, reading, worded)
        self._supposed = where_supposed(self.plan) if supposed is None else supposed
        for value in self.supposed:
            assume.either_end(label_of(value), value.assumption)
            if isinstance(value, SupposedWord):
                assume.flags.add(label_of(value))
        self.site = SiteSection(self.plan, self.codes.array, assume)
        self.battery = BatterySection(circuit, assume, self.site)
        self.array = ArraySection(circuit, assume, self.site, self.battery)
        self.wiring = WiringSection(circuit, self.codes, assume, self.battery, self.array)
        self.protection = ProtectionSection(
            circuit, self.codes, assume, self.site, self.battery, self.array, self.wiring
        )
        self.curves = CurvesSection(assume, self.battery, self.array, self.wiring)
        self.charging = ChargingSection(
            circuit,
            assume,
            self.battery,
            self.array,
            self.wiring,
            self.protection,
            self.curves,
        )
        self.energy = EnergySection(
            circuit, assume, self.site, self.battery, self.array, self.wiring, self.curves
        )
        self.readings = ReadingsSection(
            circuit,
            assume,
            self.site,
            self.battery,
            self.array,
            self.wiring,
            self.curves,
            self.charging,
        )

    @kept
    def other_codes(self) -> dict[Bodies, Assumption]:
        """The bodies of rules that may hold as well, where the plan names none, and what says so.

        What says so is told of a finding that does not stand by them.
        """
        if self.plan.code is not None:
            return {}
        at = self.plan.setting.place
        return {
            other: self.assume.noted(OTHER_CODE, "plan", at, title=other.battery.title)
            for other in self.codes.others_in(self.plan.setting)
        }

    @kept
    def _open_parts(self) -> frozenset[str]:
        """Cables and devices that are still to be bought: all that their labels say is open."""
        bought = {*self.plan.in_the_way, *self.plan.combiners, *self.plan.busbars}
        bought |= {*self.plan.wires, *self.plan.datasheets.cables}
        return frozenset(o.name for o in self.plan.opens() if o.name in bought)

    def waits_for(self, assumption: Assumption) -> bool:
        """Whether what rests on an assumption cannot be judged before something is chosen."""
        return assumption.open or assumption.subject in self._open_parts

    def code_of(self, name: str, part: str) -> BodyOfRules:
        """The body of rules that a component is judged by: that of its side.

        part: of the rule that judges it, which tells the side of what stands on both.
        """
        if not self.codes.differ:
            return self.codes.array
        placed = self.wiring.wires.get(name) or self.wiring.devices.get(name)
        if placed is not None:
            return self.codes.of(placed.side)
        plan = self.plan
        on_array = (plan.strings, plan.combiners, plan.datasheets.modules, plan.arresters)
        if any(name in family for family in on_array):
            return self.codes.array
        if name in plan.controllers or name == "plan":
            return self.codes.of("battery" if part in _BATTERY_PARTS else "array")
        return self.codes.battery

    def read_as(self, reading: Reading) -> Study:
        """The study of the same plan in another reading."""
        plan = read_as(self.plan, self._supposed, reading)
        same = plan is self.plan
        circuit = self.circuit if same else build_circuit(plan, whole=self.circuit.whole)
        return Study(circuit, reading, self._supposed, self.assume.worded)

    def to_reread(self) -> Study:
        """The study of the same plan made once more, of which nothing was asked yet."""
        for value in self.supposed:
            if isinstance(value, SupposedWord):  # which cannot be set: all is made of it
                note_figure(label_of(value))
        circuit = (
            build_circuit(self.plan, whole=self.circuit.whole) if self.supposed else self.circuit
        )
        return Study(circuit, self.reading, self._supposed, self.assume.worded)

    @contextmanager
    def reread_as(self, reading: Reading) -> Iterator[None]:
        """Have what is computed meanwhile computed in another reading; of one that is to reread."""
        settable = [value for value in self.supposed if isinstance(value, Supposed)]
        for value in settable:
            value.now = reading.end_of(label_of(value), value[0], value.ends)
        try:
            with self.assume.reading_as(reading):
                yield
        finally:
            for value in settable:
                value.now = value[0]

    @kept
    def supposed(self) -> tuple[Supposed | SupposedWord, ...]:
        """What stands in the plan in the place of what nobody told."""
        return tuple(supposed_in(self.plan, self._supposed))

    @kept
    def noted(self) -> tuple[Assumption, ...]:
        """Assumptions that no number carries.

        What wires carry is worked out here, and so for no rule in particular: all rest on it.
        """
        wires, energy = self.wiring.wires.values(), self.energy
        for wire in wires:
            wire.work_out()
        return tuple(
            noted_of(
                self.plan, self.codes, wires, energy.use, energy.sun, self.readings, self.assume
            )
        )


def bodies_for(plan: Plan) -> Bodies:
    """The plan's bodies of rules; without one, what is usual by its setting and its sizes."""
    if plan.code is None:
        usual = usual_for(plan.setting, metric=_is_metric(plan))
        return Bodies(usual, usual)
    return Bodies(body(plan.code.array), body(plan.code.battery))


def _is_metric(plan: Plan) -> bool:
    """True where the plan tells conductors in mm², and none as a gauge."""
    sizes = [sheet.size for sheet in plan.datasheets.cables.values()]
    told = [size for size in sizes if size is not None and not isinstance(size, Supposed)]
    return bool(told) and all(gauge_of(size) is None for size in told)
