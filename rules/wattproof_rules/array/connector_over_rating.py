"""Current of a string against the rating of the connectors on its modules."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import labelled
from wattproof.rule import Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.array.strings import StringStudy
from wattproof.study.assumptions.cables import PLUG_RATING
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import quoted
from wattproof.working import LookUp, Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.33, 690.8(A)(1)",
        "2020-2023",
        "connectors are rated for the circuit; its highest current is 125 % of the short-circuit "
        "current",
        verified=True,
    ),
    "iec": Clause(
        "IEC 62852; IEC 62548-1, factor K_I",
        "2014 with A1:2020; 2023",
        "connectors are rated for the circuit; its design current is 1.25 times the short-circuit "
        "current",
        verified=False,
    ),
    "common practice": Clause(
        "label of the connector; NEC 690.8(A)(1)",
        "as supplied",
        "a connector carries what its string gives in sun a quarter brighter than the standard",
        verified=True,
    ),
}

SMALL = 20.0
"""A: what the smallest locking connectors are made for (common practice)."""
PRACTICE = "common practice"
PRINTED = LookUp(
    "what the connectors of {names} are rated for",
    "on their housing or on the datasheet of the module; write it as `rating` of its `connector`",
    "rarely",
)


@rule(
    id="connector-over-rating",
    summary="Current of a string against the rating of the connectors on its modules.",
    covers=("Connectors of modules that carry more than is printed on them",),
    level="error",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="Whatever a string gives passes every connector in it. A contact that carries more "
    "than its rating gets warm, its spring loosens, and a loose contact gets warmer still. No fuse "
    "opens, since the string gives no more than it should.",
    caution=warning("An overloaded connector melts, arcs and sets fire to what it lies on."),
    since="0.2.0",
    sound=plan("van", Edit("{style: locking-pv}", "{style: locking-pv, rating: 30 A}")),
    faulty=Edit("rating: 30 A}}", "rating: 5 A}}"),
)
def connector_over_rating(study: Study) -> Iterator[Observation]:
    carried: dict[str, list[tuple[Value, StringStudy]]] = {}
    for array in study.array.arrays:
        for string in array.all_strings:
            for name in dict.fromkeys(str(module.sheet.name) for module in string.modules):
                carried.setdefault(name, []).append((string.isc("bright"), string))
    for name, strings in carried.items():
        connector = study.plan.datasheets.modules[name].connector
        if connector is None or connector.rating is None:
            style = str(connector.style) if connector is not None else ""
            yield from _untold(name, style, strings)
            continue
        rating = declared(connector.rating, f"In({name})", f"rating of the connector of {name}")
        over = [(amps, string) for amps, string in strings if exceeds(amps, rating)]
        if over:
            yield _observation(name, rating, over)


def _untold(
    name: str, style: str, strings: list[tuple[Value, StringStudy]]
) -> Iterator[Observation]:
    """Connectors of which no rating is told, where the smallest of their style carry less."""
    least = PLUG_RATING.value.get(style, SMALL)
    small = tabled(least, "A", "Ismall", "rating of the smallest such connectors", PRACTICE)
    current, string = max(strings, key=lambda pair: pair[0].number)
    if exceeds(current, small):
        yield Observation(
            message=f"what the connectors of `{name}` are rated for is not told, and "
            f"`{string.source.string.name}` gives {current} in bright sun; the smallest are made "
            f"for {small}",
            on=(next(m.sheet for m in string.modules if m.sheet.name == name),),
            values=(current, small),
            margin=margin_below(current, small),
            asks=PRINTED,
        )


def _observation(name: str, rating: Value, over: list[tuple[Value, StringStudy]]) -> Observation:
    current = max((amps for amps, _ in over), key=lambda amps: amps.number)
    strings = list({s.source.string.name: s.source.string for _, s in over}.values())
    named = quoted(string.name for string in strings)
    amps = f"{math.ceil(current.number - 1e-9)} A"
    module = next(m for m in over[0][1].modules if m.sheet.name == name)
    return Observation(
        message=f"the connectors of `{name}` are rated {rating}, and {named} "
        f"{'gives' if len(strings) == 1 else 'give'} {current} in bright sun",
        on=tuple(strings),
        values=(current, rating),
        margin=margin_below(current, rating),
        remedy=Remedy(
            f"use modules whose connectors are rated at least {amps}",
            (labelled(strings, module, "connector.rating", amps),),
        ),
    )
