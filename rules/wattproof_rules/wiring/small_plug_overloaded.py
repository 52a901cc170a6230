"""The current of a wire against the small plug in it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import larger_plug, without_plug
from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Observation,
    Remedy,
    practice,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.assumptions.cables import (
    NO_PLUG_RATING,
    PLUG_RATING,
)
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 110.3(B), 690.33",
        "2020-2023",
        "connectors are used within the current that they are marked for",
        verified=False,
    ),
    "common practice": practice(
        "a plug carries what is printed on it; unmarked, 10 A for a flat one with two pins, 8 A "
        "for one of a cigar socket, 50 A for a genderless one of the 50 A size"
    ),
}

NAMES = {
    "trailer-7": "charge line of the trailer's plug of 7 pins",
    "trailer-13": "charge line of the trailer's plug of 13 pins",
    "flat-two-pin": "flat two-pin plug",
    "cigar": "cigar-socket plug",
    "genderless-50": "genderless plug",
}


@rule(
    id="small-plug-overloaded",
    summary="Current of a wire against the rating of the small plug in it.",
    covers=("Small plugs that melt",),
    level="error",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="Two small contacts carry the whole current of the wire, and heat grows with its "
    "square. A flat plug with two pins or one for a cigar socket is made for lamps and chargers; "
    "its springs loosen when they become warm, which makes them warmer. No fuse opens, since the "
    "current is the usual one of the array or the load.",
    caution=warning("An overloaded plug melts and can set fire to what lies around it."),
    since="0.1.0",
    sound=plan(
        "van-two-modules", Edit("pv-off]", "pv-off], plug: flat-two-pin, plug_rating: 15 A")
    ),
    faulty=Edit("plug: flat-two-pin, plug_rating: 15 A", "plug: cigar, plug_rating: 5 A"),
)
def small_plug_overloaded(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        plug, current = wire.wire.plug, wire.current
        if plug is None or current is None:
            continue
        rating = _rating(wire, str(plug), study)
        if not exceeds(current, rating):
            continue
        first = study.protection.guards_plug(wire)
        yield Observation(
            message=(
                f"the {NAMES[plug]} in `{wire.name}` carries up to {current} and is "
                f"{'usually good for' if rating.assumptions else 'rated'} {rating}"
                f"{'; its fuse opens before that' if first else ''}"
            ),
            on=(wire,),
            values=(current, rating),
            margin=margin_below(current, rating),
            remedy=_remedy(wire, current),
            level="note" if first else None,
        )


def _rating(wire: WireStudy, plug: str, study: Study) -> Value:
    written = wire.wire.plug_rating
    if written is None:
        return study.assume.value(NO_PLUG_RATING, wire.name, wire.at, kind=plug)
    words = f"rating of the plug in {wire.name}"
    return declared(written, f"In({wire.name} plug)", words)


def _remedy(wire: WireStudy, current: Value) -> Remedy:
    """A plug that carries it."""
    amps = math.ceil(current.number - 1e-9)
    rated = Change(wire.name, "plug_rating", f"{amps} A")
    if amps <= PLUG_RATING.value["genderless-50"]:
        words = (
            f"use a plug rated at least {amps} A: a genderless one of the 50 A size, or connectors "
            "made for arrays"
        )
        larger = (Change(wire.name, "plug", "genderless-50"), rated)
        return Remedy(words, (larger, without_plug(wire.wire)))
    return larger_plug(wire.wire, amps)
