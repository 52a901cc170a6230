"""One kind of plug for circuits that must never be plugged into each other."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.33(B), 406.4(F)",
        "2023",
        "connectors of arrays do not fit receptacles of other circuits; plugs of unlike voltage, "
        "current or kind on one premises are not interchangeable",
        verified=False,
    ),
    "common practice": practice(
        "array, charge line and outlets each have a kind of plug of their own, or are keyed and "
        "coloured so that none fits another"
    ),
}

MORE = """\
fuses:
  outlet-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
loads:
  pump: {current: 3 A}
wires:
  outlet-run: {from: house, to: pump, cable: batt-8, length: 2 m, place: cabin, plug: cigar,
               inline: [{outlet-fuse: {from_end: from, distance: 0 cm}}]}
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             plug: genderless-50, plug_rating: 50 A, inline: [pv-off]}
"""


@rule(
    id="plugs-alike",
    summary="One kind of plug in the array's circuit, in charge lines and at outlets.",
    covers=("One kind of plug for array, alternator and outlets",),
    level="warning",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="What fits is plugged in one day, in the dark, in rain, by a guest. An array that "
    "is plugged into a 12 V outlet puts two to ten times the voltage on lamps and pumps; an outlet "
    "that is plugged into a controller's input feeds a battery backwards into it; a charge line on "
    "an outlet has no fuse of its size.",
    caution=warning(
        "An array on a 12 V circuit destroys what hangs there, and can set it on fire."
    ),
    fine="Where the plugs differ in a way that the plan cannot tell, by a key, a colour and a cap "
    "on a chain.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("plug: cigar", "plug: genderless-50, plug_rating: 50 A"),
)
def plugs_alike(study: Study) -> Iterator[Observation]:
    for each in study.wiring.plugged_alike:
        (first, second), (one, other) = each.wires, each.circuits
        yield Observation(
            message=f"`{first.name}` of the {one} and `{second.name}` of the {other} have plugs of "
            f"one kind ({each.plug}): either fits where the other belongs",
            on=(first, second),
            remedy=f"give the {one} or the {other} a kind of plug of its own",
            cause=each.plug,
        )
