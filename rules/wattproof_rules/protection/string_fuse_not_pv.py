"""Fuses on the array side that are not made for photovoltaic strings."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import photovoltaic_fuse, values_of
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B)",
        "2017-2023 (690.9(D) in 2014)",
        "overcurrent devices in array circuits are listed for photovoltaic systems",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60269-6",
        "2010",
        "fuses for the protection of photovoltaic strings are of the type gPV",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033; IEC 60269-6",
        "2021; 2010",
        "fuses for the protection of photovoltaic strings are of the type gPV",
        verified=False,
    ),
    "common practice": Clause(
        "IEC 60269-6; UL 248-19",
        "2010; as in force",
        "string fuses are of the photovoltaic type",
        verified=False,
    ),
}

MORE = """\
fuses:
  array-fuse: {rating: 10 A, voltage: 80 V, style: gpv, dc: true}
"""

LOW = 32.0  # V, up to which fuses for vehicles can at least put out their arc


@rule(
    id="string-fuse-not-pv",
    summary="Whether a fuse on the array side is of a photovoltaic style.",
    covers=("A string fuse not made for arrays",),
    level="warning",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="The fault current of an array is only a little more than its usual one, so its "
    "fuse must open at small overloads, after years of warming up and cooling down on a roof. "
    "Fuses for vehicles and for general use are made for the large fault currents of batteries "
    "and mains: at a third over their rating they may glow for an hour in a holder that softens. "
    "Photovoltaic fuses are tested for just that, in direct current.",
    fine="Where the maker of the fuse states that it opens at small overloads of direct current "
    "at this voltage and heat.",
    since="0.1.0",
    sound=plan("van-two-modules", Edit("[pv-off", "[pv-off, array-fuse"), more=MORE),
    faulty=Edit("voltage: 80 V, style: gpv", "voltage: 80 V, style: blade"),
)
def string_fuse_not_pv(study: Study) -> Iterator[Observation]:
    for device in study.wiring.devices.values():
        made = device.style
        if device.array is None or made is None or made.kind != "fuse" or made.pv_rated:
            continue
        if device.dc is False or device.rated_voltage is None or device.is_over_voltage:
            continue  # which has a finding of its own
        yield Observation(
            message=f"`{device.name}` in the {device.array.name} is a {made.title}, which is not "
            "made for photovoltaic strings",
            on=(device,),
            values=_values(device),
            remedy=_remedy(device),
            level="note" if device.volts is not None and device.volts <= LOW else None,
        )


def _remedy(device: DeviceStudy) -> Remedy:
    words = f"use a photovoltaic fuse (gPV) of {device.rating} in its own holder"
    volts = device.volts.number if device.volts is not None else 0.0
    made = photovoltaic_fuse(volts, device.rating.number)
    label = values_of(made, volts) if made is not None else {}
    return Remedy(words, (tuple(Change(device.name, k, text) for k, text in label.items()),))


def _values(device: DeviceStudy) -> tuple[Value, ...]:
    found = (device.rating, device.volts)
    return tuple(value for value in found if value is not None)
