"""The size of a conductor against what the terminals at its ends take."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 110.14",
        "2023",
        "terminals are used with the sizes and kinds of conductor that they are made for",
        verified=False,
    ),
    "common practice": practice(
        "every conductor goes into its terminal with all strands; a larger one ends at a joint "
        "beside it, or in a crimped pin of the size that fits"
    ),
}

MORE = """\
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true,
            max_conductor: 6 AWG}
"""


@rule(
    id="conductor-over-terminal",
    summary="Size of conductors against the largest that the terminals at their ends take.",
    covers=("Wire that does not fit its terminal",),
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="A conductor that is too thick for its hole gets some strands cut off, or is "
    "squeezed in askew. What is left carries all the current over a small part of the metal that "
    "was meant to, and gets hot right at the plastic of the unit. Screws that press on a few "
    "strands also loosen. The fuse sees nothing of it, since the current is the usual one.",
    caution=warning("A bad clamp melts the terminal and can set fire to the unit."),
    fine="Where a lug, a pin or a block of terminals that both makers allow stands between cable "
    "and terminal.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("max_conductor: 6 AWG", "max_conductor: 10 AWG"),
)
def conductor_over_terminal(study: Study) -> Iterator[Observation]:
    for fit in study.wiring.terminal_fits:
        wire, component, size, largest = fit.wire, fit.component, fit.size, fit.largest
        if not exceeds(size, largest):
            continue
        yield Observation(
            message=(
                f"`{wire.name}` is {size}; the terminals of `{component.name}` take "
                f"{largest} at most"
            ),
            on=(wire, component),
            values=(size, largest),
            margin=margin_below(size, largest),
            remedy=Remedy(
                f"crimp a reducing pin on `{wire.name}` that fits the terminal, or use a part that "
                f"takes {size}; a thinner wire is right only where it bears the current and its "
                "fuse",
                ((Change(str(component.name), "max_conductor", wire.size.name),),),
            ),
        )
