"""Every stretch of conductor that is cut: between the terminals and the devices of its wire."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from wattproof.circuit import Conductor
from wattproof.circuit.ends import Ends
from wattproof.plan.array import Combiner, String
from wattproof.plan.datasheets import CableSheet, Connector
from wattproof.plan.fields import Named
from wattproof.plan.wiring import Bond, Wire
from wattproof.record import record

if TYPE_CHECKING:
    from wattproof.study import Study


@record
class End:
    """One end of a stretch.

    at: the terminal as the plan writes it, or the device. component: what is there; None for the
    chassis, the water or the earth. pole: of the end itself.
    """

    at: str
    component: Named | None
    pole: str

    @property
    def is_plugged(self) -> bool:
        """True where it mates with the leads of a string, or with a branch connector."""
        joint = self.component
        return isinstance(joint, String) or (
            isinstance(joint, Combiner) and joint.kind == "branch-connector"
        )


@record
class Stretch:
    """One pole of a wire, or of the part of it between two devices, or a bond.

    conductor: as the circuit has it; None for a bond. count: alike conductors side by side.
    """

    owner: Wire | Bond
    sheet: CableSheet
    conductor: Conductor | None
    start: End
    end: End
    count: int

    @property
    def name(self) -> str:
        """The name of its wire or bond."""
        return str(self.owner.name)

    @property
    def ends(self) -> tuple[End, End]:
        """Where it begins and where it ends."""
        return self.start, self.end


def stretches(study: Study) -> Iterator[Stretch]:
    """Those of all wires, pole by pole from each wire's start, then the bonds."""
    ends = study.circuit.ends
    for wire in study.wiring.wires.values():
        yield from _of_wire(wire.wire, wire.sheet, wire.conductors, ends)
    for bond in study.plan.bonds.values():
        reached = ends.bonds[bond.name]
        start = End(str(bond.start), ends.components[reached.component], reached.pole)
        end = End(str(bond.to), None, start.pole)
        yield Stretch(bond, study.plan.datasheets.cables[bond.cable], None, start, end, 1)


def _of_wire(
    wire: Wire, sheet: CableSheet, conductors: tuple[Conductor, ...], ends: Ends
) -> Iterator[Stretch]:
    components = ends.components
    devices = [components[inline.device] for inline in wire.inline]
    start, end, poles = ends.of_wire(wire)
    for first, last in poles:
        own = [c for c in conductors if c.pole == first]
        in_pole = _in_pole(devices, len(own) - 1)
        marks = [
            End(str(wire.start), components.get(start.component), first),
            *(End(str(device.name), device, first) for device in in_pole),
            End(str(wire.to), components.get(end.component), last),
        ]
        for conductor, (near, far) in zip(own, pairwise(marks), strict=True):
            yield Stretch(wire, sheet, conductor, near, far, int(wire.parallel or 1))


def _in_pole(devices: list[Named], count: int) -> list[Named]:
    """The devices that cut a pole into so many stretches and one: all, or those of two poles."""
    if count == len(devices):
        return devices
    return [device for device in devices if (getattr(device, "poles", None) or 1) > 1]


def mate_of(end: End, study: Study) -> Connector | None:
    """The connector that a plugged end meets; None where the plan does not declare it."""
    joint = end.component
    if isinstance(joint, Combiner):
        return joint.connector
    assert isinstance(joint, String)
    names = joint.modules or (joint.module,)
    name = names[-1] if end.pole == "positive" else names[0]
    assert name is not None
    return study.plan.datasheets.modules[name].connector
