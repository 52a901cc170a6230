"""Modules of which it is not chosen yet how they are joined: what one alone has too much of."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.plan.array import String
from wattproof.plan.fields import component_of
from wattproof.plan.power import Controller
from wattproof.plan.root import Plan
from wattproof.plan.ways import open_inputs
from wattproof.record import record
from wattproof.study.array.strings import ModuleStudy
from wattproof.study.limits import exceeds
from wattproof.working import Value, declared


@record
class TooMuchAlone:
    """One module that no input of its string stands, however many are joined and how.

    cold: its open-circuit voltage on the coldest morning (V). limit: the highest of what the
    inputs stand (V), which is that of the controller.
    """

    string: String
    module: ModuleStudy
    controller: Controller
    cold: Value
    limit: Value


def too_much_alone(plan: Plan, modules: dict[str, ModuleStudy]) -> Iterator[TooMuchAlone]:
    """Each open string whose least voltage is over what every input stands that it may feed.

    None of a string that may feed an input of which the limit is still to be chosen.
    """
    for string in plan.open_strings.values():
        if string.module is None or string.module not in modules:
            continue
        inputs = list(_inputs(string, plan))
        if not inputs or any("max_input_voltage" in c.open for c, _ in inputs):
            continue
        controller, limit = max(inputs, key=lambda found: found[1].number)
        module = modules[string.module]
        cold = module.cold_voc()
        if exceeds(cold, limit):
            words = f"cold open-circuit voltage of one {module.name}"
            yield TooMuchAlone(
                string, module, controller, cold.named(f"Vcold({module.name})", words, "V"), limit
            )


def _inputs(string: String, plan: Plan) -> Iterator[tuple[Controller, Value]]:
    """The controllers that its modules may feed, with what the input there stands (V)."""
    fed = [str(string.feeds.to)] if string.feeds is not None else []
    for reference in fed or open_inputs(string, plan):
        controller = plan.all_controllers.get(component_of(reference))
        if controller is None:
            continue
        own = controller.inputs.get(reference.partition(".")[2])
        written = own.max_input_voltage if own is not None else controller.max_input_voltage
        if written is not None:
            words = f"highest input voltage of {controller.name}"
            yield controller, declared(written, "Umax", words)
