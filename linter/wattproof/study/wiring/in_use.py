"""How the banks of a battery side may stand: full, cut off, or parted by switches between them."""

from __future__ import annotations

from collections.abc import Callable
from collections.abc import Set as AbstractSet

from wattproof.circuit import Passage, Terminal, other_end
from wattproof.kept import kept
from wattproof.plan.splitting import Selector
from wattproof.study.wiring.laid import Laid
from wattproof.study.wiring.partings import Open, partings
from wattproof.words import enumerated


class InUse:
    """Which banks of a battery side may be full or cut off, and what may be open, in use."""

    def __init__(self, laid: Laid) -> None:
        self.circuit = laid.circuit
        self.battery_side = laid.battery_side
        self.ports = laid.ports

    @kept
    def all(self) -> frozenset[str]:
        """The names of all banks."""
        return frozenset(self.battery_side.banks)

    @kept
    def _joined(self) -> list[set[str]]:
        """Names of banks whose positives are one net, or that are in series with one of them."""
        return _together(list(self.battery_side.banks), lambda one, other: self._side(one, other))

    @kept
    def may_be_cut_off(self) -> tuple[tuple[str, frozenset[str]], ...]:
        """Banks beside others that may cut off, with all that are in series with each."""
        return tuple(each for each in self.beside_others if self._may_cut_off(each[1]))

    @kept
    def beside_others(self) -> tuple[tuple[str, frozenset[str]], ...]:
        """Banks beside others, with all that are in series with each."""
        wholes = {b.name: frozenset(p.name for p in b.parts) for b in self.battery_side.wholes}
        return tuple(
            (name, names)
            for name, names in wholes.items()
            if any(names < joined for joined in self._joined)
        )

    def _may_cut_off(self, names: frozenset[str]) -> bool:
        """True where management, a fuse or a switch can part a bank from the others."""
        banks = [self.battery_side.banks[name] for name in names]
        return any(not bank.is_lead for bank in banks) or any(
            self._has_device(Terminal(name, "", pole))
            for name in names
            for pole in ("positive", "negative")
        )

    def _has_device(self, post: Terminal) -> bool:
        """True where a device is on the only way from a post, before it branches."""
        here, passed = post, None
        while True:
            onward = [e for e in self.circuit.around.get(here, ()) if e is not passed]
            if len(onward) != 1:
                return False
            [passed] = onward
            if isinstance(passed, Passage):
                return True
            here = other_end(passed, here)

    @kept
    def full(self) -> tuple[frozenset[str], ...]:
        """For each bank among others that are none of its packs: those others, full."""
        found = []
        for joined in self._joined:
            groups = _together(sorted(joined), lambda one, other: self._like(one, other))
            if len(groups) > 1:
                found += [frozenset(joined - group) for group in groups]
        return tuple(found)

    @kept
    def parted(self) -> tuple[Open, ...]:
        """What is open where relays, ties and selectors between banks part them."""
        starters = (Terminal(name, "", "positive") for name in self.circuit.plan.starters)
        busy = self._busy.union(starters)
        return tuple(
            partings(self.circuit.battery_side, self.circuit, self.battery_side.posts, busy)
        )

    def told(self, banks: AbstractSet[str], away: Open) -> str:
        """How it stands with some banks that are not full and some of it open, in words.

        Empty where all are joined and none is full.
        """
        passages = [part for part in away if isinstance(part, Passage)]
        turned = sorted({p.name for p in passages if isinstance(p.device, Selector)})
        opened = sorted({p.name for p in passages} - set(turned))
        ways = [f"{name} open" for name in opened]
        ways += [f"{name} turned to {self._left(name, away)}" for name in turned]
        ways += [f"{name} full" for name in sorted(self.all - banks)]
        return f" with {enumerated(ways)}" if ways else ""

    def _left(self, selector: str, away: Open) -> str:
        """The ports that a selector still leads to."""
        ways = (
            p for p in self.circuit.battery_side if isinstance(p, Passage) and p.name == selector
        )
        return enumerated(sorted({way.end.port for way in ways if way not in away}))

    def _side(self, one: str, other: str) -> bool:
        """True where two banks are side by side or in series."""
        (plus, minus), (plus_2, minus_2) = self._ends[one], self._ends[other]
        return plus in (plus_2, minus_2) or minus == plus_2

    @kept
    def _ends(self) -> dict[str, tuple[Terminal, Terminal]]:
        net = self.circuit.nets.net
        return {
            name: (net(Terminal(name, "", "positive")), net(Terminal(name, "", "negative")))
            for name in self.battery_side.banks
        }

    def _like(self, one: str, other: str) -> bool:
        """True where two banks are packs of one bank, side by side or in series.

        Alike ones side by side are, unless each has sources or consumers of its own on its side of
        a switch or relay.
        """
        if not self._side(one, other):
            return False
        if self._ends[one][0] != self._ends[other][0]:
            return True
        banks = [self.battery_side.banks[name] for name in (one, other)]
        labels = {(b.battery.chemistry, b.capacity.number, b.nominal.number) for b in banks}
        first, second = self._zones[one], self._zones[other]
        apart = first != second and first & self._busy and second & self._busy
        return len(labels) == 1 and not apart

    @kept
    def _busy(self) -> frozenset[Terminal]:
        return frozenset(port.plus for port in self.ports)

    @kept
    def _zones(self) -> dict[str, frozenset[Terminal]]:
        """What each bank's positive is joined to without a switch between."""
        joined = self.circuit.joined_for_good
        return {name: joined(Terminal(name, "", "positive")) for name in self.battery_side.banks}


def _together(names: list[str], joined: Callable[[str, str], bool]) -> list[set[str]]:
    """Names in groups in which each is joined with another of the group, in their order."""
    groups: list[set[str]] = []
    for name in names:
        near = [g for g in groups if any(joined(name, other) for other in g)]
        groups = [g for g in groups if g not in near]
        groups.append({name}.union(*near))
    return groups
