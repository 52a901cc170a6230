"""Too many lugs on one post or stud."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.studs import Stud
from wattproof.working import LookUp
from wattproof_rules.plans import plan

MOST = 4

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-10; E-11 (terminal studs)",
        "2003 and later",
        "no more than four conductors are secured to one terminal stud",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297 (terminals)",
        "2020",
        "no more than four conductors are secured to one terminal stud",
        verified=False,
    ),
    "nec-2023": Clause(
        "NEC 110.14(A)",
        "2017-2023",
        "a terminal takes one conductor unless it is marked for more",
        verified=False,
    ),
    "common practice": practice("no more than four lugs lie on one stud, the largest undermost"),
}

MORE = """\
datasheets:
  cables:
    wire-12: {size: 12 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
              voltage: 600 V}
fuses:
  first-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  second-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  third-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  fourth-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
loads:
  first: {current: 2 A}
  second: {current: 2 A}
  third: {current: 2 A}
  fourth: {current: 2 A}
wires:
  first-run: {from: house, to: first, cable: wire-12, length: 1 m, place: cabin,
              inline: [{first-fuse: {from_end: from, distance: 0 cm}}]}
  second-run: {from: house, to: second, cable: wire-12, length: 1 m, place: cabin,
               inline: [{second-fuse: {from_end: from, distance: 0 cm}}]}
  third-run: {from: house, to: third, cable: wire-12, length: 1 m, place: cabin,
              inline: [{third-fuse: {from_end: from, distance: 0 cm}}]}
  fourth-run: {from: bar, to: fourth, cable: wire-12, length: 1 m, place: cabin,
               inline: [{fourth-fuse: {from_end: from, distance: 0 cm}}]}
  bar-run: {from: bar, to: house, cable: batt-8, length: 30 cm, place: cabin,
            inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  charge-run: {from: tracker.battery, to: bar, cable: batt-8, length: 1 m, place: cabin}
busbars:
  bar: {rating: 100 A, voltage: 60 V}
"""

IN_A_CLAMP = 2
"""How many bare ends a clamp of a controller takes at the most, where its maker says so (common
practice)."""
JOINED = LookUp(
    "how the wires that end at {names} are joined",
    "at its terminals: each in a clamp of its own, two in one, or at a joint or bar before it; "
    "write a joint under `combiners`, or a bar under `busbars`",
)


@rule(
    id="terminal-overcrowded",
    summary="Number of conductors that end on one post of a battery, or on one stud of a device.",
    covers=("More than four lugs on one post",),
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="Each lug that is laid on a post is one more joint for the current of those above "
    "it, and one more thing that can work loose. A tall pile holds on a few turns of thread, the "
    "large currents have to pass through the lugs of the small ones, and whoever mends one takes "
    "all of them off. A bar with a stud for each does away with that.",
    caution=warning("A pile of lugs that works loose heats up at the post, and can set fire."),
    fine="Where the maker of the post allows so many lugs and the screw still has its thread and "
    "torque.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("fourth-run: {from: bar,", "fourth-run: {from: house,"),
)
def terminal_overcrowded(study: Study) -> Iterator[Observation]:
    for stud in study.wiring.crowded:
        if stud.clamp:
            yield from _in_a_clamp(stud)
            continue
        most = MOST * stud.posts
        if len(stud.ends) <= most:
            continue
        names = ", ".join(f"`{name}`" for name in dict.fromkeys(stud.ends))
        yield Observation(
            message=(
                f"{len(stud.ends)} conductors are stacked on `{stud.shown}`; {most} is the "
                f"most: {names}"
            ),
            on=(stud.component,),
            margin=1.0 - len(stud.ends) / most,
            remedy=f"lead one conductor from `{stud.shown}` to a busbar, through the fuse where "
            "it is the positive, and the others from there",
            cause=str(stud.component.name),
        )


def _in_a_clamp(stud: Stud) -> Iterator[Observation]:
    """More bare ends than a clamp takes: a joint is not told, or they work loose."""
    if len(stud.ends) <= IN_A_CLAMP or stud.shown.endswith(".negative"):
        return  # both poles of a pair are one question
    names = ", ".join(f"`{name}`" for name in dict.fromkeys(stud.ends))
    yield Observation(
        message=f"{len(stud.ends)} conductors end at `{stud.shown}`, whose clamp takes one, or "
        f"{IN_A_CLAMP} where its maker says so: {names}",
        on=(stud.component,),
        margin=1.0 - len(stud.ends) / IN_A_CLAMP,
        asks=JOINED,
    )
