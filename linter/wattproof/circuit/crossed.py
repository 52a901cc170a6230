"""Poles of a part that are led to a bar or a switch of the other pole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from wattproof.circuit.elements import Terminal
from wattproof.circuit.nets import Nets
from wattproof.plan.array import Combiner
from wattproof.plan.converting import Converter
from wattproof.plan.devices import Breaker, Busbar, Distribution, Fuse, Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import COMMON, other_pole
from wattproof.record import record

_JOINTS = (Busbar, Combiner, Switch, Breaker, Fuse)
_POLED = (Battery, Controller, Charger, Converter, Distribution, Inverter, Load, Starter)


@record
class Crossed:
    """A pole of a part that meets nothing at a joint, all else on which is of the other pole."""

    component: Named
    end: Terminal
    joint: Named


def crossed(components: Mapping[str, Named], nets: Nets) -> Iterator[Crossed]:
    """Every pole that ends at such a bar, switch, fuse or breaker.

    A bar has two poles, of which a plan that names one for each pole uses one alone; a wire of the
    other pole then ends there, and is taken for open, where whoever builds it turns the poles.
    """
    all_members = nets.members()
    for members in all_members.values():
        ends = _working(members, components)
        if len(ends) != 1 or not isinstance(components.get(ends[0].component), _POLED):
            continue
        [end] = ends
        for terminal in members:
            joint = components.get(terminal.component)
            if not isinstance(joint, _JOINTS):
                continue
            other = terminal._replace(pole=other_pole(terminal.pole))
            there = _working(all_members.get(nets.net(other), []), components)
            beside = {each.component for each in there} - {end.component}
            if len(beside) > 1:
                yield Crossed(components[end.component], end, joint)
                break


def _working(members: Iterable[Terminal], components: Mapping[str, Named]) -> list[Terminal]:
    """The terminals of what gives, takes or passes on current, and of the ground.

    Of a panel its own stands for the loads that hang on it.
    """
    parts = {t: components.get(t.component) for t in members}
    panels = {t: part for t, part in parts.items() if isinstance(part, Distribution)}
    own = [min(same) for same in _by_component(panels).values()]
    rest = [
        t
        for t, part in parts.items()
        if t.component in COMMON
        or (
            (part is not None and not isinstance(part, (*_JOINTS, Distribution)))
            and not (panels and isinstance(part, Load))
        )
    ]
    return own + rest


def _by_component(terminals: Iterable[Terminal]) -> dict[str, list[Terminal]]:
    found: dict[str, list[Terminal]] = {}
    for terminal in terminals:
        found.setdefault(terminal.component, []).append(terminal)
    return found
