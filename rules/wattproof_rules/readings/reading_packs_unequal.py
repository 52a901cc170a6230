"""Voltages read at batteries side by side that should be one, or in series that should be alike."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, option, practice, record, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.packs import PacksRead

BASIS = {
    "common practice": practice(
        "packs are charged full, each alone, and read within 0.1 V of each other before they are "
        "joined; joined ones differ by the drop of their leads alone; in series they are charged "
        "full each alone first too"
    ),
}

MORE = """\
fuses:
  link-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  twin-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  twin: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
         max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  link: {from: house, to: twin, cable: batt-8, length: 30 cm, place: cabin,
         inline: [{link-fuse: {from_end: from, distance: 0 cm}},
                  {twin-fuse: {from_end: to, distance: 0 cm}}]}
readings:
  house-posts: {at: house, voltage: 13.3 V}
  twin-posts: {at: twin, voltage: 13.31 V}
"""


@record
class Limits:
    """What a project may set."""

    apart: float = option(0.25, "Voltage (V) for each 12 V by which packs side by side may differ.")


@rule(
    id="reading-packs-unequal",
    summary="Voltages read at batteries in parallel, or in series, against each other.",
    covers=(
        "Unequal charge at the moment of paralleling",
        "Batteries in series of which one is charged more than the other",
    ),
    level="warning",
    hazard="fire",
    part="reading",
    basis=BASIS,
    explanation="Between batteries in parallel lie milliohms, so their voltages are one to a few "
    "hundredths of a volt. Where they read half a volt apart, one is cut off, by its fuse, its "
    "management or a joint, or they were read before they were joined. At the moment when they "
    "meet, the fuller one drives hundreds of amperes into the other. Batteries in series share one "
    "current: of two that are unlike, one is charged too much before the other is full, and drawn "
    "too low.",
    caution=warning("Packs that are joined at unlike voltages can arc, blow fuses and burn leads."),
    fine="Where one of the packs was switched off on purpose while it was read.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("voltage: 13.31 V", "voltage: 12.3 V"),
    options=Limits,
)
def reading_packs_unequal(study: Study, limits: Limits) -> Iterator[Observation]:
    for each in study.readings.of_packs:
        allowed = limits.apart * max(1.0, round(each.high.nominal.number / 12.8))
        if not exceeds(each.apart, allowed):
            continue
        yield _in_series(each, allowed) if each.in_series else _in_parallel(each, allowed)


def _in_series(packs: PacksRead, allowed: float) -> Observation:
    first, second = packs.readings
    return Observation(
        message=f"`{packs.high.name}` reads {first.posts} and `{packs.low.name}`, in series with "
        f"it, {second.posts}: {packs.apart} apart, so that one is charged too much before the "
        "other is full",
        on=(first.reading, second.reading, packs.high, packs.low),
        values=(packs.apart,),
        margin=margin_below(packs.apart, allowed),
        level="note",
        remedy="charge each full by itself and read both a day later; if they differ again, look "
        f"for what is drawn from `{packs.low.name}` alone, and have it tested",
    )


def _in_parallel(packs: PacksRead, allowed: float) -> Observation:
    first, second = packs.readings
    near = 0.1 * max(1, round(packs.high.nominal.number / 12.8))
    return Observation(
        message=f"`{packs.high.name}` reads {first.posts} and `{packs.low.name}`, beside it, "
        f"{second.posts}: {packs.apart} apart",
        on=(first.reading, second.reading, packs.high, packs.low),
        values=(packs.apart,),
        margin=margin_below(packs.apart, allowed),
        remedy="separate them, charge each full by itself, and join them when they read "
        f"within {near:g} V; if they are joined already, look for a blown fuse, a battery "
        "management that has switched off, or a bad joint",
    )
