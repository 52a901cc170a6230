"""Temperature ratings of insulation that look like degrees Fahrenheit."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.working import Value, declared
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "cables are rated 60, 70, 75, 80, 90, 105, 110, 120, 125 or 150 °C, those of silicone 180 "
        "and of fluoroplastic 200 to 260 °C"
    ),
}

RATINGS = (60.0, 70.0, 75.0, 80.0, 85.0, 90.0, 105.0, 110.0, 120.0, 125.0, 150.0)
HIGH = (150.0, 180.0, 200.0, 250.0, 260.0)
HIGHEST = 260.0
LOWEST = 55.0
"""°C: under which no cable is rated; PVC of the least kind stands 60 °C (common practice)."""


@rule(
    id="insulation-temperature-odd",
    summary="Temperature rating of a cable's insulation against those that there are.",
    covers=("A cable's rating in °F, written as °C",),
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="What a cable may carry depends on how hot its insulation may get. A rating of "
    "194 °F is one of 90 °C; written as 194 °C it makes a thin cable look good for twice the "
    "current, and the fuse that is chosen by it lets the insulation melt.",
    caution=warning("Insulation that is hotter than it stands melts, and the wire touches metal."),
    fine="Where the maker of the cable states that temperature in °C.",
    since="0.2.0",
    sound=plan("van"),
    faulty=Edit(
        "pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C",
        "pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 194 °C",
    ),
)
def insulation_temperature_odd(study: Study) -> Iterator[Observation]:
    used: dict[str, list[str]] = {}
    for wire in study.plan.wires.values():
        used.setdefault(str(wire.cable), []).append(str(wire.name))
    for name, wires in used.items():
        sheet = study.plan.datasheets.cables[name]
        written = sheet.insulation_temperature
        if written is None:
            continue
        stands = declared(written, f"Ti({sheet.name})", f"insulation temperature of {sheet.name}")
        meant = _meant(stands)
        if meant is None and LOWEST <= stands.number <= HIGHEST:
            continue
        told = ""
        if meant is not None:
            told = (
                f"; {stands.number:g} °F would be {meant:g} °C"
                if stands.number > LOWEST
                else f"; {meant:g} °C is meant"
            )
        right = tuple(
            Change(wire_name, "cable.insulation_temperature", f"{meant:g} °C")
            for wire_name in wires
            if meant is not None
        )
        yield Observation(
            message=(
                f"the insulation of `{sheet.name}` is given as {stands}, and no cable is "
                f"rated that{told}"
            ),
            on=(sheet,),
            values=(stands,),
            remedy=Remedy(
                "read what is printed on the cable, and write it with its unit",
                (right,) if right else (),
            ),
        )


def _meant(stands: Value) -> float | None:
    """The usual rating (°C) that this is in °F, or was before; None where it is one of its own."""
    if stands.number < LOWEST:  # °C written as °F
        read = stands.number * 1.8 + 32.0
        return next((r for r in RATINGS if abs(read - r) < 0.6), None)
    if stands.number in HIGH or stands.number in RATINGS:
        return None
    celsius = (stands.number - 32.0) / 1.8
    return next((r for r in RATINGS if abs(celsius - r) < 0.6 and stands.number > 130.0), None)
