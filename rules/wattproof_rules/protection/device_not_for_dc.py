"""Whether a fuse, breaker or switch can open a direct current at the voltage it meets."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.codes import known_styles, style
from wattproof.remedies.proposals import fuse_that_breaks, values_of
from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Located,
    Observation,
    Remedy,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.battery.side import in_the_cold
from wattproof.study.limits import exceeds, exceeds_mark, margin_below, names_system
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B), 110.3(B)",
        "2014-2023",
        "devices in direct-current circuits are rated for direct current at the voltage of the "
        "circuit",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (11.10)",
        "2003 and later",
        "overcurrent devices are rated for direct current at the voltage of the circuit",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60269-6; IEC 60947-2 and -3",
        "2010; as in force",
        "fuses, breakers and switches in direct-current circuits carry a direct-current rating; "
        "string fuses are of the photovoltaic type (gPV)",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033; AS/NZS 3000",
        "2021; 2018",
        "fuses, breakers and switches in direct-current circuits are rated for direct current; "
        "string fuses are of the photovoltaic type (gPV)",
        verified=False,
    ),
    "common practice": Clause(
        "label of the device",
        "as supplied",
        "a device without a direct-current rating is for alternating current only; rail-mounted "
        "and moulded-case breakers, industrial fuses and isolators are made for it, and the same "
        "part holds a far lower direct voltage, if any",
        verified=True,
    ),
}


@rule(
    id="device-not-for-dc",
    summary="Whether a fuse, breaker or switch can open direct current at its voltage.",
    covers=("Parts of too low a voltage, or for alternating current",),
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="Alternating current passes through zero a hundred times a second, and the spark "
    "in an opening contact goes out there. Direct current never does: the arc burns on until it "
    "is drawn long enough, cooled or smothered, which takes a device built for it. One that is "
    "not, or that is built for a lower voltage, holds the arc when it opens and burns with it.",
    caution=warning(
        "Opening such a device by hand under load can draw an arc in front of your fingers."
    ),
    since="0.1.0",
    sound=plan("van"),
    faulty=Edit("interrupt: 20 kA, dc: true", "interrupt: 20 kA, dc: false"),
)
def device_not_for_dc(study: Study) -> Iterator[Observation]:
    unmarked_panels: set[str] = set()
    for device in study.wiring.devices.values():
        if device.dc is False:
            yield _only_for_ac(device, study)
        elif device.unmarked_for_dc is not None:
            yield _voltage_of_which_kind(device, device.unmarked_for_dc)
        elif device.side == "battery" and device.volts is not None:
            yield from _voltage(device, device.volts, unmarked_panels)
    for each in study.wiring.on_charge_voltage:
        if each.is_marked and names_system(each.volts, each.rated):
            yield _mark(each.what, each.part, each.volts, each.rated)
        over = exceeds_mark if each.is_marked else exceeds
        if over(each.volts, each.rated):
            enough = f"{math.ceil(each.volts.number)} V"
            yield Observation(
                message=f"{each.what} `{each.name}` is rated {each.rated}, and charging brings it "
                f"to {each.volts}{in_the_cold(each.volts)}",
                on=(each.part,),
                values=(each.volts, each.rated),
                margin=margin_below(each.volts, each.rated),
                remedy=Remedy(
                    f"use a {each.what} for at least {each.volts} of direct current",
                    ((Change(str(each.part.name), each.key, enough),),),
                ),
                hazard=None if each.is_marked else "damage",
            )


def _only_for_ac(device: DeviceStudy, study: Study) -> Observation:
    volts = device.volts
    return Observation(
        message=f"{device.kind} `{device.name}` is for alternating current only and sits in a "
        f"direct-current circuit{f' of up to {volts}' if volts is not None else ''}",
        on=(device,),
        values=(volts,) if volts is not None else (),
        remedy=_that_breaks(device, study) or _remedy(device, volts),
    )


def _that_breaks(device: DeviceStudy, study: Study) -> Remedy | None:
    """A fuse for direct current that breaks its short, where one like it would not."""
    low = (d for d in study.protection.duties if d.device.name == device.name and d.too_low)
    duty = next(low, None)
    if duty is None or device.kind != "fuse" or device.style is None:
        return None
    nominal, most = duty.nominal.number, duty.prospective.number
    volts = device.volts.number if device.volts is not None else nominal
    made = fuse_that_breaks(most, nominal, volts, device.rating.number)
    if made is None:
        return None
    label = {**values_of(made, nominal), "dc": "true"}
    return Remedy(
        f"use a {made.title}, which is made for direct current and can break the "
        f"{duty.prospective} of a short there",
        (tuple(Change(device.name, key, text) for key, text in label.items()),),
    )


def _voltage_of_which_kind(device: DeviceStudy, why: str) -> Observation:
    """A voltage is printed, but the plan does not say that it is one of direct current."""
    volts, rated = device.volts, device.rated_voltage
    reaches = f"; its circuit reaches {volts}" if volts is not None else ""
    marked = Remedy(
        f"write `dc: true` if its label gives {rated} as a direct-current voltage (DC, or the "
        f"straight line over dashes); if it does not, {_remedy(device, volts).words}",
        ((Change(device.name, "dc", "true"),),) if device.kind != "panel way" else (),
    )
    return Observation(
        message=f"{device.kind} `{device.name}` {why}: nothing says that its {rated} hold for "
        f"direct current{reaches}",
        on=(device,),
        values=tuple(value for value in (volts, rated) if value is not None),
        remedy=marked,
        level="warning",
    )


def _voltage(device: DeviceStudy, volts: Value, unmarked_panels: set[str]) -> Iterator[Observation]:
    """On the battery side: its rated voltage against the highest charge voltage."""
    rated = device.rated_voltage
    if rated is None:
        panel = str(device.panel.name) if device.panel is not None else ""
        if panel not in unmarked_panels:
            unmarked_panels |= {panel} - {""}
            yield _unmarked(device, volts)
    elif device.is_over_voltage:
        yield Observation(
            message=f"{device.kind} `{device.name}` is rated {rated} DC, and charging brings its "
            f"circuit to {volts}{in_the_cold(volts)}",
            on=(device,),
            values=(volts, rated),
            margin=margin_below(volts, rated),
            remedy=_remedy(device, volts),
        )
    elif names_system(volts, rated):
        yield _mark(device.kind, device, volts, rated)


def _mark(what: str, part: Located, volts: Value, rated: Value) -> Observation:
    """What is printed names the system that a part is made for, unless its maker means a limit."""
    return Observation(
        message=f"{what} `{part.name}` is marked {rated}, as parts for a vehicle's system are, and "
        f"charging brings it to {volts}{in_the_cold(volts)}",
        on=(part,),
        values=(volts, rated),
        margin=margin_below(volts, rated),
        remedy=f"look whether its maker gives {rated} as the most that it may meet; if so, use one "
        f"for {volts} or more of direct current",
        level="note",
    )


def _unmarked(device: DeviceStudy, volts: Value) -> Observation:
    """Nothing says up to which direct voltage it can open."""
    instead = _remedy(device, volts)
    subject: Located = device.panel if device.panel is not None else device
    name = f"{'panel' if device.panel is not None else device.kind} `{subject.name}`"
    assert device.style is not None
    why = f"{name} is a {device.style.title}, which is for alternating current unless marked for DC"
    return Observation(
        message=f"{why}; its circuit reaches {volts}",
        on=(subject,),
        values=(volts,),
        remedy=Remedy(
            f"write its DC voltage from the label; if it has none, {instead.words}", instead.ways
        ),
        level="warning",
    )


def _remedy(device: DeviceStudy, volts: Value | None) -> Remedy:
    """The least usual DC voltage that would do."""
    kind = "fuse" if device.kind == "panel way" else device.kind
    marked = () if device.kind == "panel way" else (Change(device.name, "dc", "true"),)
    if volts is None:
        return Remedy(f"use a {kind} that is marked for DC", (marked,))
    made = [style(name) for name in known_styles()]
    usual = sorted({m.dc_voltage.value for m in made if m.kind == "fuse" and m.dc_voltage})
    enough = next((u for u in usual if u >= volts.number), volts.number)
    words = f"use a {kind} that is marked for DC at {volts} or more: {enough:g} V DC is usual"
    if device.rated_voltage is not None and not device.is_over_voltage:
        return Remedy(words, (marked,))
    printed_on = device.panel.name if device.panel is not None else device.name
    made_to = device.style.highest if device.style is not None else None
    other: tuple[Change, ...] = ()
    if made_to is not None and made_to.value < enough and device.panel is None:
        words += ", of another style: class T"
        other = (Change(device.name, "style", "class-t"),)
    return Remedy(words, ((*marked, Change(printed_on, "voltage", f"{enough:g} V"), *other),))
