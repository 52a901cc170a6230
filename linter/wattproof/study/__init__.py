"""The operating states of one circuit: computed once, when asked for, shared by all rules."""

from __future__ import annotations

from functools import cached_property

from wattproof.circuit import Circuit
from wattproof.codes import BodyOfRules, body, strictest_for
from wattproof.plan.root import Plan
from wattproof.study.array import ArraySection
from wattproof.study.assumptions import Assumer
from wattproof.study.battery import BatterySection
from wattproof.study.charging import ChargingSection
from wattproof.study.curves import CurvesSection
from wattproof.study.energy import EnergySection
from wattproof.study.noted import noted_of
from wattproof.study.protection import ProtectionSection
from wattproof.study.readings import ReadingsSection
from wattproof.study.site import SiteSection
from wattproof.study.wiring import WiringSection
from wattproof.working import Assumption


class Study:
    """Everything that is computed of one circuit, by section. Rules read it; it changes nothing."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.plan: Plan = circuit.plan
        self.code: BodyOfRules = _body_for(self.plan)
        self.assume = assume = Assumer(self.plan)
        self.site = SiteSection(self.plan, self.code, assume)
        self.battery = BatterySection(circuit, assume, self.site)
        self.array = ArraySection(circuit, assume, self.site, self.battery)
        self.wiring = WiringSection(circuit, self.code, assume, self.battery, self.array)
        self.protection = ProtectionSection(circuit, assume, self.battery, self.array, self.wiring)
        self.curves = CurvesSection(assume, self.battery, self.array, self.wiring)
        self.charging = ChargingSection(
            circuit, assume, self.battery, self.array, self.wiring, self.curves
        )
        self.energy = EnergySection(
            circuit, assume, self.site, self.battery, self.array, self.curves
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

    @cached_property
    def noted(self) -> tuple[Assumption, ...]:
        """Assumptions that no number carries."""
        wires, energy = self.wiring.wires.values(), self.energy
        return tuple(noted_of(self.plan, self.code, wires, energy.use, energy.sun, self.assume))


def _body_for(plan: Plan) -> BodyOfRules:
    """The plan's body of rules; without one, the strictest of those that fit its setting."""
    return body(plan.code) if plan.code is not None else strictest_for(plan.setting)
