"""The rated output of a controller larger than its array, where a body of rules counts it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.site.climate import from_table
from wattproof.study.wiring.ports import Port
from wattproof.study.wiring.wires import Carrying
from wattproof.words import quoted
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.8(A), 690.9(B)",
        "2017-2023",
        "the current of the circuit behind a controller is its rated continuous output, whatever "
        "its array gives; conductors and devices are rated for 125 % of it",
        verified=False,
    ),
}


@rule(
    id="rated-output-counted",
    summary="Rated output of a controller against wires and fuses behind it, where it counts.",
    covers=("A rating that counts though the array gives less",),
    level="warning",
    hazard="legal",
    part="controller",
    basis=BASIS,
    explanation="A controller gives no more than its array does, and what lies behind it stays "
    "cool. But some bodies of rules count what is printed on the controller, since an array is "
    "easily made larger later and nobody looks at the cable then. An inspector will ask for a "
    "cable and a fuse for the whole rating, or for an output limit that is set and written down.",
    fine="Where a limit is set in the controller that users cannot change, and it is written down "
    "beside it.",
    since="0.2.0",
    sound=plan("van-in-sun", Edit("series: 3", "series: 2")),
    faulty=Edit("max_output_current: 30 A", "max_output_current: 60 A"),
)
def rated_output_counted(study: Study) -> Iterator[Observation]:
    if study.codes.battery.rated_output is None:
        return
    factor = from_table(study.codes.battery.continuous_factor, "kcontinuous")
    for wire in study.wiring.wires.values():
        rated = _largest([study.wiring.network.rated(part) for part in wire.conductors])
        may = wire.carrying
        if rated is None or wire.too_hot or not isinstance(may, Carrying):
            continue
        if wire.current is not None and wire.fails(wire.current):
            continue  # too small for what it really carries, which is worse and said elsewhere
        limits = [(factor, may.continuous_limit), (Value(1.0), may.value)]
        k, limit = min(limits, key=lambda pair: pair[1].number / pair[0].number)
        words = f"what counts for {wire.name}"
        need = (k * rated).named(f"Icounted({wire.name})", words, "A")
        if exceeds(need, limit):
            ports = study.wiring.network.rated_through(wire.conductors)
            yield Observation(
                message=(
                    f"`{wire.name}` ({wire.size.name}) may carry {limit}; by the full rating of "
                    f"{_names(ports)} it has to be good for {need}, even if the array gives less"
                ),
                on=(wire,),
                values=(need, limit),
                margin=margin_below(need, limit),
                remedy=_remedy(ports, rated, limit.number / k.number),
                level=None if study.plan.code is not None else "note",
            )
    for name, device in study.wiring.devices.items():
        rated = _largest([study.wiring.network.rated(passage) for passage in device.passages])
        if not device.is_overcurrent or rated is None:
            continue
        if device.is_too_small(study.codes.of(device.side)):
            continue
        words = f"least rating of {name} that counts"
        need = (factor * rated).named(f"Icounted({name})", words, "A")
        if exceeds(need, device.rating):
            ports = study.wiring.network.rated_through(device.passages)
            yield Observation(
                message=(
                    f"{device.kind} `{name}` ({device.rating}) has to be rated {need} by the "
                    f"full rating of {_names(ports)}, even if the array gives less"
                ),
                on=(device,),
                values=(need, device.rating),
                margin=margin_below(need, device.rating),
                remedy=_remedy(ports, rated, device.rating.number / factor.number),
                level=None if study.plan.code is not None else "note",
            )


def _largest(values: list[Value | None]) -> Value | None:
    known = [value for value in values if value is not None]
    return max(known, key=lambda value: value.number, default=None)


def _names(ports: tuple[Port, ...]) -> str:
    return quoted(port.name for port in ports)


def _remedy(ports: tuple[Port, ...], rated: Value, most: float) -> Remedy | str:
    """A limit that is set in the menu of the one controller whose rating it is."""
    amps = math.floor(most + 1e-9)
    larger = "or take a thicker cable and a larger fuse for the whole rating"
    if len(ports) == 1 and abs(ports[0].rated.number - rated.number) < 1e-6 and amps >= 1:
        name = ports[0].name
        words = f"set the output of `{name}` to {amps} A at most in its menu, and note it; {larger}"
        return Remedy(words, ((Change(name, "limited_to", f"{amps} A"),),))
    return f"set a limit to the output of {_names(ports)} in the menu, and note it; {larger}"
