"""Ways that `feeds` made, written as wires: with a cable of their own, to be sized."""

from __future__ import annotations

from typing import Final

from wattproof.amend.edits import with_value, without
from wattproof.amend.scalars import Data
from wattproof.codes import BodyOfRules
from wattproof.plan.datasheets import CableSheet
from wattproof.plan.fields import component_of
from wattproof.plan.root import Plan
from wattproof.plan.terminals import by_name, is_solar_input, resolve
from wattproof.plan.ways import FEEDING, FedWire
from wattproof.plan.wiring import Wire
from wattproof.source import Text
from wattproof.study import bodies_for

BESIDE: Final = ("0.5 m", "2 ft")
"""Length of the run from a joint that is put beside a controller: common practice."""
AMONG: Final = ("1 m", "3 ft")
"""Length of the leads to a joint that is put among the modules: common practice."""


def near(plan: Plan, metric: str, customary: str) -> str:
    """A short length in the unit system of a plan."""
    return customary if bodies_for(plan).array.size_system == "awg" else metric


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


def with_usual_cables(plan: Plan) -> Plan:
    """The plan as read with the cable that is chosen for each way from modules, in a usual size.

    The same object where every way is told.
    """
    ways = [wire for wire in fed(plan) if on_array_side(wire, plan)]
    if not ways:
        return plan
    body = bodies_for(plan).array
    size = "10 AWG" if body.size_system == "awg" else "6 mm²"
    sheets, wires = dict(plan.datasheets.cables), dict(plan.wires)
    for wire in ways:
        name = Text.at(f"cable of {wire.name}", wire.at)  # no name in a plan has spaces
        values = cable_for(wire, plan, body, size).items()
        held = {key: Text.at(str(value), wire.at) for key, value in values}
        sheets[name] = CableSheet.model_validate({"name": name, **held})
        wires[str(wire.name)] = wire.model_copy(update={"cable": name, "left_open": None})
    labels = plan.datasheets.model_copy(update={"cables": sheets})
    return plan.model_copy(update={"datasheets": labels, "wires": wires})


def lead_of(wire: FedWire, plan: Plan) -> str:
    """What names the cable of a way: the leads of strings to one joint are all of one."""
    beside = [w for w in fed(plan) if w.to == wire.to and str(w.start) in plan.strings]
    alike = str(wire.start) in plan.strings and len(beside) > 1
    return f"{component_of(wire.to)}-lead" if alike else str(wire.name)


def fed(plan: Plan) -> list[FedWire]:
    """The ways of a plan that are not told yet."""
    return [wire for wire in plan.wires.values() if isinstance(wire, FedWire)]


def with_joints(text: str, plan: Plan) -> str:
    """The text with a joint where several ways from modules lead to one solar input.

    One run leads on from there, which a switch can cut. It is beside the controller, so that the
    lengths that are told stay those of the strings' own ways, and the run is short. Raises
    NotWritten.
    """
    beside = near(plan, *BESIDE)
    taken = set(by_name(plan)) | set(plan.wires)
    meeting: dict[str, list[FedWire]] = {}
    for wire in fed(plan):
        if on_array_side(wire, plan):
            meeting.setdefault(str(wire.to), []).append(wire)
    for to, wires in meeting.items():
        if len(wires) < 2 or component_of(to) in plan.combiners:
            continue
        joint = f"{to.replace('.', '-').removesuffix('-pv')}-joint"
        while joint in taken:
            joint += "-own"
        taken.add(joint)
        for wire in wires:
            source = component_of(wire.start)
            path = ("strings" if source in plan.strings else "combiners", source, "feeds")
            length = wire.length
            led: Data = {"to": joint, "length": length.text} if length is not None else joint
            text = with_value(text, path, led)
        run: Data = {"to": to, "length": beside}
        held: dict[str, Data] = {"kind": "combiner-box", "rating": "open", "feeds": run}
        text = with_value(text, ("combiners", joint), held)
    return text


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
