"""One question to the judge of protection, which is answered once everything is known."""

from __future__ import annotations

from typing import NamedTuple

from wattproof.circuit import Circuit, Conductor, Part, Passage, Terminal, is_overcurrent, other_end
from wattproof.study.battery.positive_net import Devices
from wattproof.study.protection.answers import Allowed, Kind, Reason, Verdict
from wattproof.study.protection.guards import Exit, Guard
from wattproof.study.protection.spans import Span
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value


class Asked(NamedTuple):
    """One question: a stretch, and what feeds it."""

    part: Conductor
    wire: WireStudy
    kind: Kind
    sources: tuple[str, ...]
    end: Terminal
    lasting: Value
    most: Value | None
    guard: Guard | None
    drives: Value | None = None
    brings: WireStudy | None = None
    in_time: Value | None = None
    limited_by: Devices = ()

    def answer(
        self,
        verdict: Verdict,
        reason: Reason | None,
        devices: Devices,
        why: str,
        bare: Span | None = None,
        bare_at_most: Value | None = None,
        way: Exit | None = None,
    ) -> Allowed:
        if self.wire.cooled and verdict in ("cleared", "limited"):
            verdict, why = "not known", "the air is too hot for its insulation, whatever opens"
        return Allowed(
            self.part,
            self.wire,
            self.kind,
            self.sources,
            self.end.component,
            devices,
            self.lasting,
            self.most,
            verdict,
            reason,
            why,
            bare,
            bare_at_most,
            way,
            self.guard,
            self.brings,
            self.drives,
            self.in_time,
            self.limited_by,
        )


def own_before(part: Conductor, end: Terminal, circuit: Circuit) -> Devices:
    """The overcurrent devices of the same wire between a stretch and where its wire is fed."""
    found: list[Passage] = []
    here = end
    came: Part = part
    while here.component == part.name:
        [came] = (e for e in circuit.around[here] if e is not came)
        if is_overcurrent(came):
            found.append(came)
        here = other_end(came, here)
    return tuple(found)
