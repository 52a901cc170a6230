"""What is printed on a fuse against what its style is made for."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.codes import OF_VEHICLES, DeviceStyle
from wattproof.rule import Clause, Edit, Observation, option, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.pack_fuses import PackFuse
from wattproof.study.site.climate import from_table
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.working import Value, declared
from wattproof_rules.plans import plan

BASIS = {
    "common practice": Clause(
        "ISO 8820; UL 248; IEC 60269; SAE J1171",
        "as in force",
        "each style of fuse is made up to a largest rating, and breaks up to a usual current; "
        "figures of 100 kA and more are for alternating current",
        verified=False,
    ),
}


@record
class Limits:
    """How far makers may differ."""

    interrupt: float = option(
        5.0, "how many times the usual interrupt rating of its style a fuse may state"
    )


@rule(
    id="fuse-style-confused",
    summary="Rating, voltage and interrupt rating of a fuse against what its style is made for.",
    covers=("Ratings that no fuse of its style has",),
    level="warning",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="Every style of fuse has a largest size, set by the metal that fits into its body, "
    "and a current up to which it can put out its own arc. A plan that states more than that "
    "usually names the wrong style, copies the figure for alternating current, or describes a "
    "part that is sold with a false label. Whatever the plan concludes from such a figure cannot "
    "be relied on.",
    fine="Hardly ever. Where the body of the fuse really says so, ask its maker: it may be an "
    "unlawful copy.",
    since="0.1.0",
    sound=plan("van-in-sun"),
    faulty=Edit("style: class-t, interrupt: 20 kA", "style: class-t, interrupt: 200 kA"),
    options=Limits,
)
def fuse_style_confused(study: Study, limits: Limits) -> Iterator[Observation]:
    for device in study.wiring.devices.values():
        made = device.style
        if made is None:
            continue
        yield from _rating(device, made)
        yield from _printed(device, device.nominal, made, limits)
    for each in study.protection.pack_fuses:
        if each.style is not None:
            yield from _printed(each, each.bank.nominal, each.style, limits)


def _rating(device: DeviceStudy, made: DeviceStyle) -> Iterator[Observation]:
    if made.largest is None:
        return
    told = getattr(device.device, "voltage", None)
    if made.is_of_vehicles(device.rating.number) and (told is None or told.value <= OF_VEHICLES):
        return
    largest = from_table(made.largest, "Inlargest")
    if exceeds(device.rating, largest):
        yield Observation(
            message=f"`{device.name}` is given as a {made.title} of {device.rating}, and that "
            f"style is made up to {largest}",
            on=(device,),
            values=(device.rating, largest),
            margin=margin_below(device.rating, largest),
            remedy="read style and rating from the body of the fuse; a larger rating needs a "
            "larger style",
        )


def _printed(
    told: DeviceStudy | PackFuse, nominal: Value | None, made: DeviceStyle, limits: Limits
) -> Iterator[Observation]:
    """What is printed beside the rating. nominal: voltage of the bank (V), if it is known."""
    yield from list(_voltage(told, made)) or _interrupt(told, nominal, made, limits)


def _voltage(told: DeviceStudy | PackFuse, made: DeviceStyle) -> Iterator[Observation]:
    """A voltage that no fuse of its shape stands: another style is meant, or another voltage."""
    device = told.device
    written = getattr(device, "voltage", None)
    if made.highest is None or written is None:
        return
    stated = declared(written, f"Un({device.name})", f"rated voltage of {device.name}")
    highest = from_table(made.highest, "Uhighest")
    if exceeds(stated, highest):
        yield Observation(
            message=f"`{device.name}` is told to stand {stated} DC, and its style ({made.title}) "
            f"is made up to {highest}",
            on=(device,),
            values=(stated, highest),
            margin=margin_below(stated, highest),
            remedy="read style and voltage from the body of the fuse, the voltage of direct "
            "current; a higher one needs another style",
            cause="voltage",
        )


def _interrupt(
    told: DeviceStudy | PackFuse, nominal: Value | None, made: DeviceStyle, limits: Limits
) -> Iterator[Observation]:
    device = told.device
    written = getattr(device, "interrupt", None)
    if written is None or not made.interrupts:
        return
    words = f"interrupt rating of {device.name}"
    stated = declared(written, f"Ibreak({device.name})", words)
    best = max((amps for _, amps in made.interrupts), key=lambda amps: amps.value)
    times, where = limits.interrupt, "on direct current"
    if len(made.interrupts) > 1 and nominal is not None:  # printed for each voltage
        best = made.interrupt_at(nominal.number) or made.interrupts[-1][1]
        times, where = 1.0, f"at {nominal}"
    usual = from_table(best, "Iusual")
    if exceeds(stated, times * usual.number):
        yield Observation(
            message=f"`{device.name}` is given as a {made.title} that breaks {stated}, and {usual} "
            f"is usual for that style {where}",
            on=(device,),
            values=(stated, usual),
            margin=margin_below(stated, times * usual.number),
            remedy="read the figure for direct current from the body or the sheet of the fuse, and "
            "its style from its shape",
        )
