"""What a fuse or breaker can break against the current of a short where it sits."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.finding import Level
from wattproof.remedies.proposals import fuse_that_breaks, values_of
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.limits import breaks, margin_below
from wattproof.study.protection.interrupts import Duty
from wattproof.words import quoted
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 110.9",
        "all",
        "a device that has to break fault current is able to break what is available at its "
        "terminals, at the voltage of the circuit",
        verified=True,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (11.10)",
        "2025, second-hand",
        "the currents of batteries in parallel add up; above 500 Ah, or where the maker's figure "
        "for a short exceeds 10 kA, the device at the battery is rated for at least that figure, "
        "20 kA at 125 V being the usual one; a battery's own management does not count; on lead of "
        "12 and 24 V a breaker behind the main device interrupts 750, 1500 or 2500 A, by what the "
        "batteries crank (Table V-A)",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-4-43 434.5.1",
        "2008",
        "the breaking capacity of a device is at least the fault current expected where it sits; "
        "less is allowed where a device before it has that capacity and the two are coordinated",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3000 2.5.4",
        "2018",
        "the breaking capacity of a device is at least the fault current expected where it sits; "
        "less is allowed where a device before it has that capacity and the two are coordinated",
        verified=False,
    ),
    "common practice": Clause(
        "NEC 110.9; IEC 60364-4-43 434.5.1",
        "all; 2008",
        "a device is able to break the fault current where it sits",
        verified=False,
    ),
}


@rule(
    id="fuse-interrupt-low",
    summary="Interrupt rating of each fuse and breaker against the fault current where it sits.",
    covers=(
        "A fuse that bursts at what the battery drives",
        "A cheap reset breaker as the only one",
    ),
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="A battery drives thousands of amperes into a short, many times what the fuse is "
    "rated for. The melted fuse has to put out the arc that such a current leaves behind, and each "
    "kind can do that up to its interrupt rating only. Above it the arc burns on inside the fuse, "
    "which bursts and throws out molten metal, and the current goes on. The fuse looks right every "
    "day until that one.",
    caution=warning("A fuse that cannot break the current bursts and burns, beside the battery."),
    since="0.1.0",
    sound=plan("van-in-sun-inverter"),
    faulty=Edit(
        "bank-fuse: {rating: 150 A, voltage: 125 V, style: class-t, interrupt: 20 kA",
        "bank-fuse: {rating: 150 A, voltage: 32 V, style: bolt-down, interrupt: 2 kA",
    ),
)
def fuse_interrupt_low(study: Study) -> Iterator[Observation]:
    panels: dict[str, list[Observation]] = {}
    for duty in study.protection.duties:
        observation = _observed(duty)
        if observation is None:
            continue
        panel = duty.device.panel
        if panel is None:
            yield observation
        else:
            panels.setdefault(str(panel.name), []).append(observation)
    for found in panels.values():  # the ways of a panel share one place and one story
        yield min(found, key=lambda o: o.margin or 0.0)


def _observed(duty: Duty) -> Observation | None:
    if duty.device.dc is False:
        return None  # what is made for alternating current breaks nothing here: said elsewhere
    return _low(duty, duty.interrupt) if duty.too_low else None


def _low(duty: Duty, interrupt: Value) -> Observation:
    backed = _names(duty.backed_by)
    most = duty.prospective
    drives = f"a short there drives {most}"
    if not duty.placed:
        drives = f"a short can drive {most}, since where it sits in its wire is not told"
    return Observation(
        message=f"{duty.device.kind} `{duty.name}` {breaks(interrupt)}; {drives}"
        + (f"; {backed} before it can break that" if backed else ""),
        on=(duty.subject,),
        values=(duty.prospective, interrupt),
        margin=margin_below(duty.prospective, interrupt),
        remedy=_remedy(duty, backed),
        level=_level(duty),
    )


def _level(duty: Duty) -> Level | None:
    """A note behind a device that breaks the short, unless the body of rules has its own figure."""
    if duty.backed_by and duty.branch is None:
        return "note"
    return "warning" if duty.backed_by or not duty.placed else None


def _remedy(duty: Duty, backed: str) -> Remedy:
    """Another device; a panel takes its own kind only, so there what feeds it has to help."""
    panel, better = duty.device.panel, _better(duty)
    write = "" if duty.placed else "write its distance from an end of its wire; or "
    tested = (
        f"ask the maker for a combination with {backed} that is tested for it" if backed else ""
    )
    if panel is None:
        words = f"{tested}, or {better.words}" if tested else better.words
        return Remedy(f"{write}{words}", better.ways)
    feed = (
        f"put a fuse in the feed of `{panel.name}` that can break {duty.prospective} and is tested "
        "with the fuses of its ways"
    )
    return Remedy(f"{write}{tested or feed}")


def _better(duty: Duty) -> Remedy:
    """The usual style with the smallest interrupt rating that will do."""
    device, nominal = duty.device, duty.nominal.number
    volts = device.volts.number if device.volts is not None else nominal
    made = fuse_that_breaks(duty.prospective.number, nominal, volts, device.rating.number)
    breaks = made.interrupt_at(nominal) if made is not None else None
    if made is None or breaks is None:
        return Remedy(
            f"use one that can break {duty.prospective} at {duty.nominal}, or divide the bank and "
            "put one at each battery"
        )
    words = f"use a {made.title}, which can break {Value(breaks.value, 'A')}"
    if device.kind != "fuse":
        return Remedy(words)
    label = values_of(made, nominal).items()
    return Remedy(words, (tuple(Change(device.name, key, text) for key, text in label),))


def _names(names: tuple[str, ...]) -> str:
    return quoted(names)
