"""Switches, relays, plugs and bars against what the fuse before them lets through."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.codes import NotTabulated
from wattproof.remedies.proposals import larger_plug
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.study.protection.held import Held
from wattproof.study.wiring.devices import rated
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11 (11.7)",
        "2003 and later",
        "a battery switch is rated for at least the main overcurrent devices that are joined to "
        "it, or for what its feeding conductor may carry, whichever is less",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-5-53 536; IEC 60947-3",
        "2019; 2020",
        "a switch is protected against overload by a device that is not rated above it",
        verified=False,
    ),
    "common practice": practice(
        "nothing in the way of the current is rated below the fuse that guards it",
    ),
}


@rule(
    id="device-behind-larger-fuse",
    summary="Rating of switches, relays, plugs and bars against the fuse before them.",
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="A fuse guards all that lies behind it, not the wire alone. A relay, a plug or a "
    "bar that is rated below the fuse can carry too much for hours: its contacts heat, its plastic "
    "softens, and the fuse, which is still within its rating, never opens.",
    caution=warning(
        "A relay or plug that is overloaded melts and burns while its fuse stays whole."
    ),
    since="0.2.0",
    sound=plan("van-inverter"),
    faulty=Edit("bar: {rating: 250 A", "bar: {rating: 120 A"),
)
def device_behind_larger_fuse(study: Study) -> Iterator[Observation]:
    # A bar that carries more than its rating in use is told as that, with a rating that suffices.
    told = {bar.name for bar in study.wiring.busbars if bar.is_overloaded}
    for each in study.protection.held:
        if each.reason is None or each.what == "panel" or each.name in told:
            continue
        told.add(each.name)
        names = quoted(dict.fromkeys(d.name for d in each.devices))
        names = names or f"`{each.source}`"
        what = "the plug in" if each.what == "plug" else each.what
        rated_for = "taken as good for" if each.rating.assumptions else "rated"
        yield Observation(
            message=(
                f"{what} `{each.name}` is {rated_for} {each.rating}; {names} "
                f"{'let' if len(each.devices) > 1 else 'lets'} {each.through} through it for "
                "long"
            ),
            on=(each.part, *{str(d.name): d.device for d in each.devices}.values()),
            values=(each.through, each.rating),
            margin=margin_below(each.through, each.rating),
            remedy=_remedy(each, study),
            absent="" if _is_guarded_beside(each, study) else "fuses",
        )


def _is_guarded_beside(each: Held, study: Study) -> bool:
    """True where what lets so much through is a source, or sits in a wire or panel of the thing.

    Before one that sits further off there may be a smaller one that the plan does not mention.
    """
    own, beside = set(), set()
    for wire in study.plan.wires.values():
        held_in = {str(wire.name), *wire.components, *(str(i.device) for i in wire.inline)}
        if each.name in held_in:
            own.add(str(wire.name))
            beside |= held_in
    return not each.devices or any(
        str(d.wire.name) in own if d.wire is not None else d.start.component in beside
        for d in each.devices
    )


def _remedy(each: Held, study: Study) -> Remedy:
    """One that stands what the fuse lets through; or a smaller fuse where that bears its load."""
    amps = f"{each.through.number:g} A"
    larger = Remedy(
        f"use a {each.what} rated at least {amps}", ((Change(each.name, "rating", amps),),)
    )
    if each.what == "plug":
        larger = larger_plug(study.plan.wires[each.name], each.through.number)
    if len(each.devices) != 1:
        return larger
    [device] = each.devices
    try:
        rating = study.codes.battery.previous_rating(each.rating.number)
    except NotTabulated:
        return larger
    carried = [d.current for d in study.wiring.devices.values() if device in d.passages]
    current = max((amps.number for amps in carried if amps is not None), default=0.0)
    if rating < study.codes.battery.continuous_factor.value * current:
        return larger
    words = f"{larger.words}; or {rating:g} A in place of `{device.name}`"
    return Remedy(words, (*larger.ways, (rated(device, rating),)))
