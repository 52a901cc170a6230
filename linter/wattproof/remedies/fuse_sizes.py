"""Which standard fuses would do in some wires: the usual one, and how far one may go either way.

The usual one is the smallest that stays cool at the lasting current, so that it opens as early as
it can and whatever stands in the way is spared with the wire. Larger ones protect the wire too.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from typing import Final, NamedTuple

from wattproof.codes import BodyOfRules, NotTabulated
from wattproof.plan.amend import Change
from wattproof.plan.devices import Breaker, Busbar, Device, Distribution, Fuse
from wattproof.plan.root import Plan
from wattproof.plan.terminals import by_name
from wattproof.study import Study
from wattproof.study.assumptions.ratings import FUSE_BEARS
from wattproof.study.limits import SLACK
from wattproof.study.protection.held import has_plug, plug_rating
from wattproof.study.wiring.lasting import CutOff
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import quoted

COOL: Final = 1.25
"""How many times its lasting current a device is rated, so that it stays cool (common practice)."""


class FuseSizes(NamedTuple):
    """Standard ratings (A): the usual one, and the least and the most that will do.

    weak: what stands in the way and is rated below the usual one all the same, since the current
    asks for as much.
    """

    usual: float
    least: float
    most: float
    weak: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """`20 A (16 to 35 A will do)`, or the one that there is."""
        if self.least == self.most:
            return f"{self.usual:g} A"
        return f"{self.usual:g} A ({self.least:g} to {self.most:g} A will do)"

    @property
    def and_stronger(self) -> str:
        """`, with `bar` rated at least 300 A`; empty where all in the way stands it."""
        names = quoted(self.weak)
        return f", with {names} rated at least {self.usual:g} A" if names else ""

    @property
    def stronger(self) -> tuple[Change, ...]:
        """The same in the plan."""
        return tuple(Change(name, "rating", f"{self.usual:g} A") for name in self.weak)


def fuse_sizes(
    wires: Iterable[WireStudy],
    study: Study,
    *,
    bears: float = 0.0,
    over: float = 0.0,
    at_least: float = 0.0,
) -> FuseSizes | None:
    """Fuses that protect all of some wires, and no larger than what stands in their way.

    What a body of rules counts as carried, such as the rating of a controller, is carried.
    bears: what the fuse has to carry for long (A), where that is more than the wires carry by
    themselves. at_least: what it has to be rated by its make (A), as a blade fuse. over: the
    largest device behind it (A), which it should outlast if the wires allow. In the way of a
    starter it bears the start too. A small plug in them is spared in any case, and the fuse opens
    where more is drawn. None where no standard rating both carries the current and protects them.
    """
    wires = list(wires)
    code = wires[0].code
    ratings = [wire.largest_fitting_device for wire in wires]
    fitting = [rating for rating in ratings if rating is not None]
    if len(fitting) < len(ratings):
        return None
    carried = [wire.current for wire in wires]
    counted = [study.wiring.network.rated(part) for wire in wires for part in wire.conductors]
    amps = max([bears, *(each.number for each in (*carried, *counted) if each is not None)])
    started = _for_a_start(wires, study)
    least = _at_least(max(code.continuous_factor.value * amps, started, at_least), code)
    most = min(fitting)
    if least is None or least > most:
        return None
    if plugs := _plugs(wires, code):
        most = min(most, *plugs)
        least = min(least, most)
    stands = _in_the_way(wires, study.plan)
    weakest = min(stands.values(), default=most)
    if weakest >= least * (1.0 - SLACK):
        most = min(most, code.previous_rating(weakest * (1.0 + SLACK)))
    if max(amps, started) <= 0.0:
        usual = least = most
    else:
        behind = max([over, *_of_ways(wires, study.plan)])
        alone = max((c.current.number for c in _cut_off(wires, study)), default=0.0)
        wanted = [_above(behind, code) if behind else None, _at_least(COOL * amps, code)]
        wanted.append(_at_least(alone, code))
        usual = max(
            [least, *(rating for rating in wanted if rating is not None and rating <= most)]
        )
    weak = tuple(name for name, rating in stands.items() if rating < usual * (1.0 - SLACK))
    return FuseSizes(usual, least, most, weak)


def _for_a_start(wires: list[WireStudy], study: Study) -> float:
    """The least rating (A) that bears the starts of the starters that some wires lead to."""
    names = {wire.name for wire in wires}
    starts = [c.current.number for c in study.charging.cranking if c.wires & names]
    return max(starts, default=0.0) / FUSE_BEARS


def _at_least(amps: float, code: BodyOfRules) -> float | None:
    """The smallest standard rating (A) that is no less."""
    try:
        return code.next_rating(amps * (1.0 - SLACK))
    except NotTabulated:
        return None


def _above(amps: float, code: BodyOfRules) -> float | None:
    return _at_least(amps * (1.0 + 10.0 * SLACK), code)


def _cut_off(wires: list[WireStudy], study: Study) -> list[CutOff]:
    """What some wires carry once one of several packs has cut off, which a fuse should outlast.

    Of packs that nothing parts yet too: the fuse that is proposed will.
    """
    parts = [part for wire in wires for part in wire.conductors]
    return [cut for part in parts for cut in study.wiring.network.when_cut_off(part, fused=True)]


def _plugs(wires: list[WireStudy], code: BodyOfRules) -> list[float]:
    """The largest ratings (A) that spare the small plugs in some wires."""
    found = []
    for wire in wires:
        if has_plug(wire.wire):
            with suppress(NotTabulated):
                found.append(code.previous_rating(plug_rating(wire).number * (1.0 + SLACK)))
    return found


def _of_ways(wires: list[WireStudy], plan: Plan) -> list[float]:
    """Ratings (A) of the ways of panels that some wires lead to."""
    names = {end for w in wires for end in (w.wire.start, w.wire.to)}
    panels = [panel for name, panel in plan.distribution.items() if name in names]
    return [way.fuse.value for panel in panels for way in panel.ways.values() if way.fuse]


def _in_the_way(wires: list[WireStudy], plan: Plan) -> dict[str, float]:
    """Ratings (A) of switches, bars and panels in some wires and at their ends."""
    components, devices = by_name(plan), plan.in_the_way
    stands: dict[str, float] = {}
    for wire in wires:
        inline = [devices[i.device] for i in wire.wire.inline if i.device in devices]
        ends = [components.get(name) for name in wire.wire.components]
        for part in (*inline, *ends):
            rating = getattr(part, "rating", None)
            holds = isinstance(part, Device | Busbar | Distribution)
            if part is not None and holds and not isinstance(part, Fuse | Breaker) and rating:
                stands[str(part.name)] = rating.value
    return stands
