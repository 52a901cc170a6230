"""Portable modules in one circuit with fixed ones: what is left when they are taken away."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Located, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.array.series import Broken, broken_without_portable
from wattproof.study.array.strings import StringStudy
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "what can be taken away has an input of its own, or stands in parallel, so that the rest "
        "works without it"
    ),
}

MORE = """\
strings:
  rear-string: {module: rigid-100, series: 1, mounting: roof-gap, portable: false}
wires:
  link: {from: roof-string.positive, to: rear-string.negative, cable: pv-10, length: 1 m,
         place: roof}
  plus: {from: rear-string.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m,
         place: [roof, cabin], inline: [pv-off]}
  minus: {from: roof-string.negative, to: tracker.pv.negative, cable: pv-10, length: 4 m,
          place: [roof, cabin]}
"""


@rule(
    id="portable-joined-to-roof",
    summary="Whether the fixed modules still work when the portable ones are taken away.",
    covers=("A fixed array that dies with its portable part",),
    level="warning",
    hazard="lost-energy",
    part="string",
    basis=BASIS,
    explanation="Modules in series are links of one chain: the current of each passes through all "
    "the others. When a portable one is packed away, the chain is open and the modules on the "
    "roof give nothing, however bright the sun. Whoever then bridges the gap has another voltage "
    "than the one that was planned.",
    fine="Where the portable one never leaves while the rest is needed, or a changeover that is "
    "made for it stands in between.",
    since="0.1.0",
    sound=plan(
        "van-two-modules",
        Edit(
            "max_system_voltage: 600 V",
            "max_system_voltage: 600 V,\n"
            "                connector: {style: locking-pv, rating: 30 A, voltage: 1000 V}",
        ),
        Edit("series: 2", "series: 1"),
        less=("wires.home-run",),
        more=MORE,
    ),
    faulty=Edit("portable: false", "portable: true"),
)
def portable_joined_to_roof(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        for broken in broken_without_portable(array):
            yield Observation(
                message=(
                    f"with {_named(broken.portable)} taken away the circuit is open and "
                    f"{_named(broken.fixed)} gives nothing: {broken.dead} of modules lie idle"
                ),
                on=(*_strings(broken.portable), *_strings(broken.fixed)),
                values=(broken.dead,),
                remedy=_remedy(broken),
            )


def _strings(strings: tuple[StringStudy, ...]) -> tuple[Located, ...]:
    return tuple({str(s.source.string.name): s.source.string for s in strings}.values())


def _named(strings: tuple[StringStudy, ...]) -> str:
    names = dict.fromkeys(str(s.source.string.name) for s in strings)
    return quoted(names)


def _remedy(broken: Broken) -> str:
    return (
        f"give {_named(broken.portable)} a controller of its own; or put it in parallel, with the "
        "same voltage as what it joins"
    )
