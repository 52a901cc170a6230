"""The sign of what was read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Clause, Edit, Located, Observation, danger, practice, rule
from wattproof.study import Study
from wattproof.working import Value
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.at_arrays import ArrayReading
    from wattproof.study.readings.of_charging import ChargeReading

BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.2",
        "2016",
        "the polarity of every conductor is proven with a meter before strings are joined and "
        "before anything is connected to the controller",
        verified=False,
    ),
    "common practice": practice(
        "the meter shows minus where its red probe is on the negative conductor; polarity is "
        "proven at each mating, with the probes checked at a battery first"
    ),
}

MORE = """\
readings:
  roof-open: {at: roof-string, voc: 66.9 V, isc: 4.4 A, irradiance: 850 W/m²,
              back_temperature: 48 °C,
              meter: {voltage: 0.5 %, current: 2 %, zero: 0.3 A, irradiance: 5 %}}
"""


@rule(
    id="reading-polarity",
    summary="The sign of voltages and currents that were read.",
    covers=("Poles crossed at the meter",),
    level="error",
    hazard="damage",
    part="reading",
    basis=BASIS,
    explanation="A meter shows minus where its red probe touches the negative side. Either the "
    "probes were swapped, or the conductors are. A string connected backwards to others feeds its "
    "whole current into them as into a short. A battery connected backwards discharges thousands "
    "of amperes through the controller's diodes. Both happen at the moment of connecting, so the "
    "meter comes before it.",
    caution=danger(
        "Do not connect what reads backwards. With a battery on it, a reversed pole is a short "
        "circuit: it arcs, burns and can burst the battery."
    ),
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("voc: 66.9 V", "voc: -66.9 V"),
)
def reading_polarity(study: Study) -> Iterator[Observation]:
    for reading in study.readings.at_arrays:
        taken = reading.taken
        for volts in taken.reversed_voltages:
            yield _reversed(reading.where, volts, reading.subjects)
        for amps in taken.reversed_currents:
            if reading.expected.in_the_dark:
                yield _in_the_dark(reading, amps)
            else:
                yield _backwards(reading, amps, fed_back=study.readings.is_fed_back(reading))
    for charge in study.readings.of_charging:
        for volts in charge.reversed_voltages:
            yield _reversed(charge.where, volts, (charge.reading, charge.source))
        if charge.flows_back and charge.current is not None:
            yield _out_of_the_battery(charge, charge.current)


def _reversed(where: str, volts: Value, on: tuple[Located, ...]) -> Observation:
    return Observation(
        message=f"`{where}` read {volts}: the poles are swapped, or the probes were",
        on=on,
        values=(volts,),
        remedy="check the probes at a battery of known poles and read it again; if it is still "
        "negative, swap the two conductors where they were confused, and read it once more "
        "before anything is connected",
    )


def _out_of_the_battery(charge: ChargeReading, amps: Value) -> Observation:
    return Observation(
        message=f"`{charge.where}` read {amps}: the clamp is turned round, or current flows out of "
        "the battery, into the array or to what hangs on the controller",
        on=(charge.reading, charge.source),
        values=(amps,),
        level="note",
        remedy="turn the clamp so that its arrow points to the battery; if the sign stays with "
        "nothing drawn from the controller, read the current at its solar input too, in the dark",
    )


def _in_the_dark(reading: ArrayReading, amps: Value) -> Observation:
    controller = reading.taken.array.controller
    when = "when the sun is below the horizon" if reading.expected.no_sun else "in the dark"
    return Observation(
        message=f"`{reading.where}` read {amps} {when}: it comes out of "
        f"the battery, back through `{controller.name}` into the modules",
        on=reading.subjects,
        values=(amps,),
        level="warning",
        remedy="zero the clamp beside the wire and read it again in the dark; if it stays, part "
        f"the array from `{controller.name}` at night, and take a controller that blocks it",
    )


def _backwards(reading: ArrayReading, amps: Value, *, fed_back: bool) -> Observation:
    if fed_back:
        return Observation(
            message=f"`{reading.where}` read {amps}, and all strings with it make what flows where "
            "they meet: the others feed it, which heats it",
            on=reading.subjects,
            values=(amps,),
            level="warning",
            hazard="fire",
            remedy="cover the modules, prove with a clamp that nothing flows, and part it from the "
            "others; then read the open-circuit voltage of each by itself",
        )
    controller, is_whole = reading.taken.array.controller, reading.taken.is_whole
    flows = (
        f"current comes out of the battery, back through `{controller.name}`"
        if is_whole
        else "current flows backwards"
    )
    stays = (
        f"sign stays, part the array from `{controller.name}` at dusk, and take a controller that "
        "blocks it"
        if is_whole
        else "sign stays in full sun, another string feeds this one: part it from the others at "
        "dusk and read the voltage of each"
    )
    return Observation(
        message=f"`{reading.where}` read {amps}: the clamp is turned round, or {flows}",
        on=reading.subjects,
        values=(amps,),
        level="warning",
        remedy=f"turn the clamp so that its arrow points from positive to the controller; if the "
        f"{stays}",
    )
