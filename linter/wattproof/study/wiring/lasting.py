"""The lasting current of every conductor and device, from one solved network.

Sources and consumers push and draw their currents, banks share in them by the resistance inside
them and on their leads, hot. Three cases more: banks that are no like packs of one bank may be full
and take nothing, and then others take all that sources give, at a told voltage no more than the
wires let through, as of an alternator always; switches between banks may be open, and then each
bank carries its own alone; and where no bank is, sources give what consumers draw.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from wattproof.circuit import Part, Terminal
from wattproof.kept import KeptEach, kept
from wattproof.plan.wiring import Bond
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import over
from wattproof.study.wiring.brief import Brief
from wattproof.study.wiring.case import Carrier, Case
from wattproof.study.wiring.in_use import InUse
from wattproof.study.wiring.laid import Laid
from wattproof.study.wiring.mesh import SIGNS, Flow
from wattproof.study.wiring.partings import Open
from wattproof.study.wiring.ports import Flow as Kind
from wattproof.study.wiring.ports import Port
from wattproof.study.wiring.shares import SNAP
from wattproof.working import Value, function, largest


@record
class CutOff:
    """What a conductor or device carries when a bank is cut off (A). name: of the bank."""

    name: str
    current: Value


class Lasting:
    """Lasting currents of the battery side."""

    def __init__(self, laid: Laid) -> None:
        in_use = InUse(laid)
        self._whole = Case(laid, in_use.all).settled()
        self._laid = self._whole.laid
        self._in_use = in_use
        self._cases: KeptEach[tuple[frozenset[str], Open], Case] = KeptEach()
        self._taken: KeptEach[tuple[Terminal, Terminal], Flow] = KeptEach()
        self._found: KeptEach[tuple[Part, Kind | None, bool, bool, str], Value | None] = KeptEach()

    @property
    def ports(self) -> tuple[Port, ...]:
        """Where current enters and leaves, what consumers of a power draw at what is left there."""
        return self._laid.ports

    def current(
        self,
        part: Part,
        kind: Kind | None = None,
        *,
        rated: bool = False,
        steady: bool = False,
        along: str = "",
    ) -> Value | None:
        """The largest lasting current (A) of a part; None where it carries none.

        kind: what charges alone, or what is drawn alone. rated: with controllers at their rating.
        steady: without what runs for minutes. along: only the way in which the current of that
        component passes, where it passes at all.
        """
        asked = (part, kind, rated, steady, along)
        return self._found.of(asked, lambda: self._current(*asked))

    def driven_by(self, part: Part, component: str) -> bool:
        """Whether what a component gives or draws passes a part in any case."""
        cases = (self._whole, *self._parted, *self._with_full)
        return any(case.drives(part, component, sign) for case in cases for sign in SIGNS)

    def through_bond(self, bond: Bond) -> Value | None:
        """The largest lasting current (A) that a bond alone brings back; None where it has none."""
        return self._largest(bond, None, False, False, "")

    def consumed_through(self, bond: Bond) -> Value | None:
        """What of that consumers draw (A), vehicle chargers left out; None for nothing."""
        found = self._whole.consumed(bond)
        words = f"what consumers draw through {bond.name}"
        return largest(found).named(f"I({bond.name})", words, "A") if found else None

    def brief(self, part: Carrier) -> Brief | None:
        """What of the current of a part lasts, where the rest runs for minutes; None without.

        Nor where as much of it lasts: what charges is then the most that it carries.
        """
        if not self._any_is_brief:
            return None
        if not isinstance(part, Bond) and part not in self._laid.circuit.battery_side:
            return None
        times = self._whole.runs_of(part)
        if not times:
            return None
        steady, whole = (
            (self._largest(part, None, False, True, ""), self.through_bond(part))
            if isinstance(part, Bond)
            else (self.current(part, steady=True), self.current(part))
        )
        if steady is not None and whole is not None and not over(whole.number, steady.number):
            return None
        return Brief(steady if steady is not None else Value(0.0, "A"), largest(times))

    @kept
    def _any_is_brief(self) -> bool:
        """Whether anything runs for minutes."""
        return any(port.lasts is not None for port in self._laid.ports)

    def when_cut_off(self, part: Part, *, fused: bool = False) -> tuple[CutOff, ...]:
        """What a part carries with each bank cut off in turn, where that is more than else.

        fused: with a fuse at each bank, which parts it where nothing does yet.
        """
        banks = self._in_use.beside_others if fused else self._in_use.may_be_cut_off
        if not banks or not self._whole.is_shared(part):
            return ()
        whole = self.current(part)
        most = whole.number if whole is not None else 0.0
        found: list[CutOff] = []
        for name, names in banks:
            amps = self._case(self._in_use.all - names).at_once(part)
            if amps is not None and over(amps.number, most):
                words = f"current in {part.name} with {name} cut off"
                found.append(CutOff(name, amps.named(f"I({part.name})", words, "A")))
        return tuple(found)

    def share_of(self, part: Part, at: Terminal) -> Value | None:
        """What share of a current taken out at a terminal passes through a part, whichever way."""
        case = self._whole
        plus, minus = (Terminal(at.component, at.port, pole) for pole in ("positive", "negative"))
        if part not in case.links or not (plus in case.mesh and minus in case.mesh):
            return None
        flow = self._taken_at(plus, minus)
        amount = abs(flow.in_link(case.links[part]))
        if not amount:
            return None
        inputs = [*case.inside(flow), *map(self._laid.ohms, case.carrying(flow))]
        words = f"share of what is taken out at {at.component} that passes through {part.name}"
        return function("network", amount, *inputs).named(f"s({part.name})", words, "%")

    def _taken_at(self, plus: Terminal, minus: Terminal) -> Flow:
        """What one ampere drives that is taken out between two terminals."""

        def solve() -> Flow:
            return self._whole.mesh.solve(dict(zip((minus, plus), SIGNS, strict=True)))

        return self._taken.of((plus, minus), solve)

    def shares(self, banks: Sequence[BankStudy], port: Port) -> list[Value] | None:
        """The share of each bank in what a port gives or draws; None where none has any."""
        case = self._whole
        flow = case.flows[port]
        cells = {cell.name: cell for cell in case.mesh.cells}
        amounts = [-flow.through(cells[bank.name]) for bank in banks]
        if sum(amounts) < SNAP:
            return None
        inputs = [self._laid.inside.resistance(bank) for bank in banks]
        inputs += [self._laid.ohms(c) for c in case.carrying(flow)]
        doing = "gives" if port.kind == "charge" else "draws"
        return [
            function("network", amount, *inputs).named(
                f"s({bank.name})", f"share of {bank.name} in what {port.name} {doing}", "%"
            )
            for bank, amount in zip(banks, amounts, strict=True)
        ]

    def let_into(self, bank: BankStudy, port: Port) -> Value | None:
        """The most that the wires let into a bank from a source, the others full (A).

        With its packs beside it. None where they leave it all its current.
        """
        names = {part.name for part in bank.parts}
        full = next((full for full in self._in_use.full if names.isdisjoint(full)), None)
        case = self._whole if full is None else self._case(self._in_use.all - full)
        less = case.let_through.get(port)
        return None if less is None else less.current

    def held_back(self, port: Port) -> bool:
        """True where the wires leave a source less than its current, full banks or none."""
        return any(port in case.let_through for case in (self._whole, *self._with_full))

    def _case(self, banks: frozenset[str], away: Open = frozenset()) -> Case:
        return self._cases.of((banks, away), lambda: Case(self._laid, banks, away))

    def _current(
        self, part: Part, kind: Kind | None, rated: bool, steady: bool, along: str
    ) -> Value | None:
        if part not in self._laid.circuit.battery_side:
            return None
        return self._largest(part, kind, rated, steady, along)

    def _largest(
        self, part: Carrier, kind: Kind | None, rated: bool, steady: bool, along: str
    ) -> Value | None:
        cases = [(case, kind) for case in (self._whole, *self._parted)]
        if kind != "draw":
            cases += [(case, "charge") for case in self._with_full]
        passes = any(case.drives(part, along, sign) for case, _ in cases for sign in SIGNS)
        found: list[tuple[Value, Case]] = []
        for case, of in cases:
            for sign, amps in zip(SIGNS, case.both_ways(part, of, rated, steady), strict=True):
                if amps is None or (passes and not case.drives(part, along, sign)):
                    continue
                if all(not _same(amps, other) for other, _ in found):
                    found.append((amps, case))
        if not found:
            return None
        most = largest([amps for amps, _ in found])
        if kind is not None:
            return most
        _, stands = max(found, key=lambda pair: pair[0].number)
        how = self._in_use.told({bank.name for bank in stands.banks}, stands.away)
        return most.named(f"I({part.name})", f"lasting current in {part.name}{how}", "A")

    @kept
    def _parted(self) -> tuple[Case, ...]:
        """Where switches between banks part them, and still a bank is on all that has one."""
        cases = [self._case(self._in_use.all, away) for away in self._in_use.parted]
        return tuple(case for case in cases if case.feeds_as_many_as(self._whole))

    @kept
    def _with_full(self) -> tuple[Case, ...]:
        """With some banks full; and where several switches part banks, in each way they stand."""
        found: list[Case] = []
        ways = [case.away for case in self._parted] if len(self._parted) > 1 else []
        for full in self._in_use.full:
            joined = self._case(self._in_use.all - full)
            parted = (self._case(self._in_use.all - full, away) for away in ways)
            found += [joined, *(case for case in parted if case.feeds_as_many_as(joined))]
        return tuple(found)


def _same(one: Value, other: Value) -> bool:
    return math.isclose(one.number, other.number, rel_tol=SNAP)
