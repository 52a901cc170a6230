"""Ways of panels that a plan does not tell: those that its wires name, and one for each load."""

from __future__ import annotations

from wattproof.plan.devices import Distribution, Way
from wattproof.plan.fields import component_of
from wattproof.plan.root import Plan
from wattproof.plan.terminals import POLES
from wattproof.plan.wiring import Wire
from wattproof.source import Text


def with_untold_ways(plan: Plan) -> Plan:
    """The plan with ways in each panel that tells none, by what hangs on it.

    What their fuses are rated for is as little known as the panel.
    """
    panels = {name: panel for name, panel in plan.distribution.items() if not panel.ways}
    if not panels:
        return plan
    wires = {name: _on_ways(wire, panels, plan) for name, wire in plan.wires.items()}
    named: dict[str, dict[str, Way]] = {name: {} for name in panels}
    for wire in wires.values():
        for reference in (wire.start, wire.to):
            way = _way_of(reference)
            if way and component_of(reference) in named:
                known = named[component_of(reference)]
                known.setdefault(way, Way(name=Text.at(way, reference.place)))
    told = {n: panel.model_copy(update={"ways": named[n]}) for n, panel in panels.items()}
    return plan.model_copy(update={"wires": wires, "distribution": {**plan.distribution, **told}})


def _on_ways(wire: Wire, panels: dict[str, Distribution], plan: Plan) -> Wire:
    """The wire, led to a way of its own where it leads a load to a panel as a whole."""
    for key, reference, other in (("start", wire.start, wire.to), ("to", wire.to, wire.start)):
        panel, _, rest = reference.partition(".")
        whole = panel in panels and rest in ("", "positive") and wire.pole != "negative"
        if whole and component_of(other) in plan.loads:
            own = ".".join(filter(None, (panel, str(wire.name), rest)))
            return wire.model_copy(update={key: Text.at(own, reference.place)})
    return wire


def _way_of(reference: Text) -> str:
    """The way that a reference names; empty where it names none."""
    port = reference.partition(".")[2].partition(".")[0]
    return "" if port in POLES else port
