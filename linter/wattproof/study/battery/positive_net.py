"""What limits for long how much the banks can drive into any place of the positive side.

On a single way that is the smallest rating on it. Where several ways or several batteries lead to
the same stretch it is the smallest sum of ratings that cuts them all off (the least cut of a
network: Ford and Fulkerson, "Maximal flow through a network", Canadian J. Math. 8, 1956): three
batteries with a 100 A fuse each feed what lies behind them with 300 A.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet
from itertools import product
from typing import NamedTuple, TypeAlias

from wattproof.circuit import (
    Array,
    Circuit,
    Conductor,
    Part,
    Passage,
    Terminal,
    is_overcurrent,
    other_end,
)
from wattproof.circuit.groups import Groups
from wattproof.circuit.walk import parted, steps
from wattproof.kept import kept
from wattproof.plan.splitting import Selector
from wattproof.record import record
from wattproof.study.assumptions.ratings import amps_of, device_rating
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.least_cut import LeastCuts
from wattproof.working import Value, tabled, total

Devices: TypeAlias = tuple[Passage, ...]

MAX_MESH = 1000
"""Elements in rings and between batteries of which every cut is tried.

Beyond, the first devices of all batteries count together: no less than what can flow.
"""

MAX_POSITIONS = 64
"""Positions of selectors of which each is tried; beyond, all their sides count together."""


def battery_feed(array: Array, net: PositiveNet) -> Value | None:
    """What banks drive to an array's controller for long (A); None where none is joined to it.

    The sum of the ratings that limit it, no limit where no device is on the way.
    """
    terminal = Terminal(array.controller.name, "battery", "positive")
    words = f"battery current that reaches {array.controller.name}"
    for reached in net.reached:
        if terminal in (reached.element.start, reached.element.end):
            return rating_of(reached.limiting, words, str(array.controller.name))
    return None


class Fed(NamedTuple):
    """A side from which banks feed an element.

    end: where their current comes in. limiting: overcurrent devices whose ratings added up are the
    least that cuts it off; empty where a way without any device leads to it. is_bounded: True where
    it may be less, of a mesh too large to try every cut.
    """

    end: Terminal
    banks: tuple[BankStudy, ...]
    limiting: Devices
    is_bounded: bool = False


@record
class Reached:
    """An element on a positive net, and what feeds it: see `Guard`.

    sides: one, or two for an element in a ring or between banks.
    """

    element: Conductor | Passage
    bank: BankStudy
    devices: Devices
    limiting: Devices
    fed_at: str
    into: Devices
    sides: tuple[Fed, ...]


class _Passing(NamedTuple):
    """An element, the end at which the walk came to it, and what led there."""

    element: Part
    here: Terminal
    banks: tuple[BankStudy, ...]
    passed: Devices
    limiting: Devices


class _Walked(NamedTuple):
    """What a walk over a net passed, in its order, and what limits the current at each terminal.

    came: from where each terminal was reached first and by what, in the order of reaching.
    """

    passings: list[_Passing]
    limits: dict[Terminal, Devices]
    came: dict[Terminal, tuple[Terminal, Part | None]]


class PositiveNet:
    """All that is joined to the positive terminals of some banks.

    The mesh is what lies in rings or between banks. Everything else hangs from it or from a single
    bank as the branches of a tree, where the smallest rating on the way is the answer.
    """

    def __init__(self, banks: Iterable[BankStudy], circuit: Circuit) -> None:
        self.circuit = circuit
        self.banks = {Terminal(bank.name, "", "positive"): bank for bank in banks}
        self.mesh = self._mesh()
        self.is_bounded = len(self.mesh) > MAX_MESH

    @kept
    def reached(self) -> tuple[Reached, ...]:
        """Every element, from the banks outwards."""
        return tuple(self._reached(passing) for passing in self._walked.passings)

    @property
    def at(self) -> dict[Terminal, Devices]:
        """What limits for long the current into a short at each terminal that banks feed."""
        return self._walked.limits

    def dividing_among(
        self, some: AbstractSet[Terminal], consumers: Iterable[Terminal]
    ) -> tuple[Terminal, ...]:
        """Places from which several ways lead to consumers, all of which are among some."""
        behind = dict.fromkeys(consumers, True)
        strange = behind.keys() - some
        onward: Counter[Terminal] = Counter()
        for there, (here, _) in reversed(self._walked.came.items()):
            if there in behind:
                behind[here] = True
                onward[here] += 1
                if there in strange:
                    strange.add(here)
        return tuple(place for place, ways in onward.items() if ways > 1 and place not in strange)

    def together(self, some: AbstractSet[Terminal]) -> Devices:
        """What limits for long what some terminals take at once; empty where something takes all.

        Where ways part, what limits each of them, unless less is let through before.
        """
        if len(some) == 1:
            return self.at[next(iter(some))]
        taken: dict[Terminal, Devices] = dict.fromkeys(some, ())
        for there, (here, element) in reversed(self._walked.came.items()):
            if there not in taken:
                continue
            most = min(taken[there], self.at[there], key=sum_of_ratings)
            if element is not None:
                most = _through(element, most)
            before = taken.get(here, most)
            taken[here] = tuple(dict.fromkeys((*before, *most))) if before and most else ()
        ways = [taken[bank] for bank in self.banks if bank in taken]
        return tuple(dict.fromkeys(d for way in ways for d in way)) if all(ways) else ()

    def feeding(self, terminal: Terminal) -> frozenset[Conductor | Passage]:
        """What brings current to a terminal, and takes none away from it."""
        return frozenset(
            each.element
            for each in self.reached
            if terminal in (each.element.start, each.element.end)
            and all(side.end != terminal for side in each.sides)
        )

    @kept
    def _walked(self) -> _Walked:
        used: set[Part] = set()
        passings: list[_Passing] = []
        nearest: dict[Terminal, tuple[BankStudy, ...]] = {
            terminal: (bank,) for terminal, bank in self.banks.items()
        }
        devices: dict[Terminal, Devices] = dict.fromkeys(self.banks, ())
        limits, came = dict(devices), dict[Terminal, tuple[Terminal, Part | None]]()
        for here, element, there, first in steps(self.banks, self._onward):
            banks, passed, limiting = nearest[here], devices[here], limits[here]
            own, behind, beyond = banks, limiting, passed
            if element is not None and element not in used:
                used.add(element)
                passings.append(_Passing(element, here, banks, passed, limiting))
            if first:
                came[there] = here, element
                if element in self.mesh:
                    behind, own = self._least_cut(there) or (), self._banks_at(there)
                elif element is not None:
                    behind = _through(element, limiting)
                if element is not None and is_overcurrent(element):
                    beyond = (*passed, element)
                nearest[there] = (banks[0], *(b for b in own if b is not banks[0]))
                devices[there], limits[there] = beyond, behind
        return _Walked(passings, limits, came)

    def _reached(self, passing: _Passing) -> Reached:
        """An element that the way from the nearest bank comes to, and what feeds it."""
        element, here, banks, passed, limiting = passing
        if element in self.mesh:
            sides = self._fed_ends(element)
            worst = max((fed.limiting for fed in sides), key=sum_of_ratings, default=())
            fed_at = sides[0].end.component if len(sides) == 1 else ""
            return Reached(element, banks[0], passed, worst, fed_at, (), sides)
        into = self._into(element, other_end(element, here))
        side = (Fed(here, banks, limiting),)
        return Reached(element, banks[0], passed, limiting, here.component, into, side)

    def _onward(self, here: Terminal) -> Iterator[tuple[Part | None, Terminal]]:
        """Where battery current flows on: inside a case, and by what is joined to it."""
        yield from ((None, inside) for inside in self._insides.get(here, ()))
        yield from self.circuit.ways(here)

    @kept
    def _insides(self) -> dict[Terminal, list[Terminal]]:
        """Where battery current passes on inside a case, one way only: to load terminals."""
        found: dict[Terminal, list[Terminal]] = {}
        for inside in self.circuit.insides:
            if not inside.converts and inside.end in self.circuit.around:
                found.setdefault(inside.start, []).append(inside.end)
        return found

    def _fed_ends(self, element: Conductor | Passage) -> tuple[Fed, ...]:
        """What limits the current into a short in an element of the mesh, from either end."""
        ends = (element.start, element.end)
        cuts = [self._least_cut(end, element) for end in ends]
        return tuple(
            Fed(end, banks, cut, self.is_bounded)
            for end, cut, banks in zip(ends, cuts, self._banks_behind(element), strict=True)
            if cut is not None
        )

    def _banks_at(self, target: Terminal) -> tuple[BankStudy, ...]:
        """The banks that reach a terminal over the mesh."""
        return self._banks_of_island.get(self._islands.of(target), ())

    @kept
    def _islands(self) -> Groups[Terminal]:
        """What the mesh joins."""
        islands: Groups[Terminal] = Groups()
        for element in self.mesh:
            islands.join(element.start, element.end)
        return islands

    @kept
    def _banks_of_island(self) -> dict[Terminal, tuple[BankStudy, ...]]:
        found: dict[Terminal, tuple[BankStudy, ...]] = {}
        for terminal, bank in self.banks.items():
            island = self._islands.of(terminal)
            found[island] = (*found.get(island, ()), bank)
        return found

    def _banks_behind(self, element: Part) -> list[tuple[BankStudy, ...]]:
        """The banks that reach either end of an element of the mesh without it."""
        whole = self._banks_at(element.start)
        ends = (element.start, element.end)
        found = parted(*ends, lambda here: self._in_mesh(here, {element}))
        if found is None:
            return [whole, whole]
        end, behind = found
        own = tuple(bank for t, bank in self.banks.items() if t in behind)
        rest = tuple(bank for bank in whole if bank not in own)
        return [own, rest] if end == element.start else [rest, own]

    def _in_mesh(self, here: Terminal, away: AbstractSet[Part]) -> Iterator[tuple[Part, Terminal]]:
        """The elements of the mesh at a terminal that are not away, each with its far end."""
        return (w for w in self.circuit.ways(here) if w[0] in self.mesh and w[0] not in away)

    def _into(self, element: Conductor | Passage, end: Terminal) -> Devices:
        onward = [e for e in self.circuit.around.get(end, ()) if e is not element]
        devices = tuple(e for e in onward if is_overcurrent(e))
        return devices if len(devices) == len(onward) else ()

    def _mesh(self) -> frozenset[Conductor | Passage]:
        """What is left when all loose branches are cut off, again and again."""
        around = {t: set(es) for t, es in self._reachable().items()}
        loose = [t for t, es in around.items() if len(es) == 1 and t not in self.banks]
        while loose:
            here = loose.pop()
            for element in tuple(around[here]):
                there = other_end(element, here)
                around[here].discard(element)
                around[there].discard(element)
                if len(around[there]) == 1 and there not in self.banks:
                    loose.append(there)
        return frozenset(e for es in around.values() for e in es)

    def _reachable(self) -> dict[Terminal, tuple[Conductor | Passage, ...]]:
        return {t: self.circuit.around.get(t, ()) for t in self.circuit.walk(*self.banks)}

    def _least_cut(
        self, target: Terminal, without: Conductor | Passage | None = None
    ) -> Devices | None:
        """The devices with the least sum of ratings that cut a terminal off all banks.

        Empty where a way without any device leads to it, None where no bank reaches it. In a
        mesh that is too large, those that part all banks from everything. With selectors that
        never join their sides, what the worst of their positions lets through.
        """
        cuts = [self._least_cut_of(target, away, without) for away in self._away]
        return max((c for c in cuts if c is not None), key=sum_of_ratings, default=None)

    @kept
    def _away(self) -> tuple[frozenset[Part], ...]:
        """Sides of selectors in the mesh that are open at once, for each of their positions."""
        sides: dict[str, list[Part]] = {}
        for part in sorted(self.mesh, key=lambda p: (str(p.name), p.start, p.end)):
            selector = part.device if isinstance(part, Passage) else None
            if isinstance(selector, Selector) and not selector.both:
                sides.setdefault(str(selector.name), []).append(part)
        if math.prod(map(len, sides.values())) > MAX_POSITIONS:
            return (frozenset(),)
        return tuple(
            frozenset(part for own in sides.values() for part in own if part not in led)
            for led in product(*sides.values())
        )

    def _least_cut_of(
        self, target: Terminal, away: frozenset[Part], without: Part | None
    ) -> Devices | None:
        """The same with some elements of the mesh away."""
        left = self._cuts.without(away, without)
        if not self.is_bounded or left.is_before_all(target):
            return left.cut(target)
        gone = away if without is None else away | {without}
        led = steps([target], lambda here: self._in_mesh(here, gone))
        is_fed = target in self.banks or any(step.there in self.banks for step in led)
        return left.first if is_fed else None

    @kept
    def _cuts(self) -> LeastCuts:
        return LeastCuts(self.mesh, self.banks)


def rating_of(devices: Devices, words: str, name: str) -> Value:
    """Sum of ratings with its working (A): without limit where there are no devices."""
    if not devices:
        return tabled(math.inf, "A", f"In({name})", words, "a battery is stiff")
    ratings = [device_rating(d) for d in devices]
    if len(ratings) == 1:
        return ratings[0]
    return total(ratings).named(f"In({name})", words, "A")


def sum_of_ratings(devices: Devices) -> float:
    """Sum of ratings (A): without limit where there are no devices."""
    return sum(amps_of(device) for device in devices) if devices else math.inf


def _through(element: Conductor | Passage, limiting: Devices) -> Devices:
    """What limits the current behind an element on a single way; the last of equal devices."""
    if not isinstance(element, Passage) or not is_overcurrent(element):
        return limiting
    return (element,) if sum_of_ratings((element,)) <= sum_of_ratings(limiting) else limiting
