"""The rating of a string's fuse against the current of the string itself."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import margin_below
from wattproof.study.wiring.devices import rated
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B)",
        "2014-2023",
        "a string fuse is rated at least 125 % of the highest current, which is 125 % of the "
        "short-circuit current: 1.56 times it",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548 6.5.3",
        "2016; IEC 62548-1:2023",
        "a string fuse is rated above 1.5 times the module's short-circuit current",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, in the shape of IEC 62548",
        "2021",
        "a string fuse is rated above 1.5 times the module's short-circuit current",
        verified=False,
    ),
    "common practice": Clause(
        "IEC 62548 6.5.3, as marine rules have no text on arrays",
        "2016",
        "a string fuse is rated above 1.5 times the module's short-circuit current",
        verified=True,
    ),
}


@rule(
    id="string-fuse-too-small",
    summary="Rating of a string's fuse or breaker against the string's own current.",
    covers=("A string fuse too small for its string",),
    level="warning",
    hazard="lost-energy",
    part="overcurrent",
    basis=BASIS,
    explanation="In bright sun between clouds a string gives a quarter more than its label says, "
    "for minutes at a time, and a fuse in a hot box on a roof opens below its rating. One that "
    "is chosen to match the label is therefore hot on every clear day and opens without any "
    "fault. The string is then lost until somebody notices, and people are tempted to put a "
    "larger one in its place than the module stands.",
    fine="Where the fuse was chosen with its maker's figures for that heat, and the string's "
    "brightest current is below it.",
    since="0.1.0",
    sound=plan("three-strings"),
    faulty=Edit("port-fuse: {rating: 15 A", "port-fuse: {rating: 6 A"),
)
def string_fuse_too_small(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        for flow in array.backflows:
            string, window = flow.string, flow.string.fuse_window
            for name, passage in {d.name: d for d in flow.devices}.items():
                rating = device_rating(passage)
                if window.reaches_lower(rating.number):
                    continue
                than = "must be more than" if window.strict else "must be at least"
                yield Observation(
                    message=(
                        f"`{name}` ({rating}) is in `{string.name}`, whose short-circuit "
                        f"current is {string.isc('standard')}: its rating {than} {window.lower}"
                    ),
                    on=(passage.device, string.source.string),
                    values=(rating, window.lower),
                    margin=-margin_below(rating, window.lower),
                    remedy=Remedy(
                        f"use a rating of {window.words}",
                        tuple((rated(passage, amps),) for amps in window.standard),
                    )
                    if window.standard
                    else f"{window.words}: use modules with a larger series fuse rating, or leave "
                    "the fuse out where nothing can drive current backwards",
                )
