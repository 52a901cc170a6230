"""Components that a plan declares, and that nothing in it uses."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "what a plan lists and joins to nothing protects nothing and carries nothing"
    ),
}

MORE = """\
switches:
  charge-off: {rating: 60 A, voltage: 60 V, dc: true, poles: 1, load_break: true}
"""


@rule(
    id="component-unused",
    summary="Components that are declared and that no wire leads to.",
    covers=("A fuse or switch that is listed and in no wire", "Parts that are not joined yet"),
    level="warning",
    hazard="fire",
    part="plan",
    basis=BASIS,
    explanation="A part that stands in the list and in no wire does nothing. Of a fuse or a "
    "switch that matters most: whoever reads the list believes that something is protected or "
    "can be switched off, and nothing is. Of a string, a controller or a battery that nothing "
    "joins no rule can tell whether it fits. Either it was forgotten in a wire, or it is left over "
    "from an earlier plan.",
    fine="Where the part lies on the shelf, and the plan is to remember it. Better take it out.",
    since="0.2.0",
    sound=plan(
        "van-two-modules",
        Edit(",\n               inline: [", ",\n               inline: [charge-off, "),
        more=MORE,
    ),
    faulty=Edit("inline: [charge-off, {charge", "inline: [{charge"),
)
def component_unused(study: Study) -> Iterator[Observation]:
    for each in study.circuit.unused:
        component, device, name = each.component, each.device, each.component.name
        message = f"`{name}` is declared, but no wire leads to it"
        remedy = f"wire `{name}`, or delete it"
        if each.end and not each.unchecked:
            message = f"no wire leads to `{each.end}`: nothing is charged through `{name}`"
            remedy = f"lead what charges to `{each.end}`, or delete `{name}`"
        elif each.end:
            message = f"no wire leads to `{each.end}`, so that nothing tells whether it fits"
            remedy = (
                f"wire `{each.end}`, or tell by `feeds` what is joined to it; or delete `{name}`"
            )
        elif device:
            message += " and none holds it: it protects and switches nothing"
            remedy = f"put `{name}` into the `inline` of its wire, or delete it"
        elif each.unchecked:
            message += ", so that nothing tells whether it fits"
            remedy = f"wire `{name}`, or tell by `feeds` what it is joined to; or delete it"
        yield Observation(
            message=message,
            on=(component,),
            remedy=remedy,
            level=None if device or each.unchecked or each.end else "note",
            hazard=None if device else "lost-energy",
        )
