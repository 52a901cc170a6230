"""Ways that `feeds` made, written as wires: with a cable of their own, to be sized."""

from __future__ import annotations

from wattproof.amend.edits import with_value, without
from wattproof.amend.scalars import Data
from wattproof.codes import BodyOfRules
from wattproof.plan.fields import component_of
from wattproof.plan.root import Plan
from wattproof.plan.terminals import by_name, is_solar_input, resolve
from wattproof.plan.ways import FEEDING, FedWire
from wattproof.plan.wiring import Wire


def on_array_side(wire: Wire, plan: Plan) -> bool:
    """Whether a wire leads from modules towards a controller."""
    known = by_name(plan)
    if component_of(wire.start) in plan.strings:
        return True
    to = resolve(wire.to, known)
    return is_solar_input(known.get(to.component), to.port)


def cable_for(wire: Wire, plan: Plan, body: BodyOfRules, size: str) -> dict[str, Data]:
    """A cable of the usual kind for a wire: outdoors on the array side, fine and hot elsewhere."""
    awg = body.size_system == "awg"
    if on_array_side(wire, plan):
        kept = {"insulation_temperature": "90 °C", "outdoor": "true"}
        return {"size": size, "kind": "pv", **kept, "voltage": "600 V" if awg else "1000 V"}
    kind = "marine" if plan.setting == "boat" else "battery"
    kept = {"material": "copper", "insulation_temperature": "105 °C"}
    return {"size": size, "kind": kind, **kept, "voltage": "600 V"}


def lead_of(wire: FedWire, plan: Plan) -> str:
    """What names the cable of a way: the leads of strings to one joint are all of one."""
    beside = [w for w in fed(plan) if w.to == wire.to and str(w.start) in plan.strings]
    alike = str(wire.start) in plan.strings and len(beside) > 1
    return f"{component_of(wire.to)}-lead" if alike else str(wire.name)


def fed(plan: Plan) -> list[FedWire]:
    """The ways of a plan that are not told yet."""
    return [wire for wire in plan.wires.values() if isinstance(wire, FedWire)]


def with_wires(text: str, plan: Plan, cables: dict[str, tuple[str, dict[str, Data]]]) -> str:
    """The text with a wire in the place of each `feeds`. Raises NotWritten.

    cables: by the name of the wire, the name of its datasheet and what that says.
    """
    for wire in fed(plan):
        source = component_of(wire.start)
        family = next(f for f in FEEDING if source in getattr(plan, f))
        name, sheet = cables[str(wire.name)]
        length = wire.length.text if wire.length is not None else "unknown"
        entry = {"from": str(wire.start), "to": str(wire.to), "cable": name, "length": length}
        text = without(text, (family, source, "feeds"))
        text = with_value(text, ("datasheets", "cables", name), sheet)
        text = with_value(text, ("wires", str(wire.name)), entry)
    return text
