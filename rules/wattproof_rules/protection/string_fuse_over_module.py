"""The rating of a string's fuse against the largest that its modules stand."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Passage
from wattproof.finding import Level
from wattproof.rule import Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.array.arrays import Backflow
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.devices import rated
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B)",
        "2014-2023",
        "a string fuse is not rated above the modules' maximum series fuse rating",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548 6.5.3",
        "2016; IEC 62548-1:2023",
        "a string fuse is rated below 2.4 times the module's short-circuit current, and never "
        "above the module's maximum overcurrent protection rating",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, in the shape of IEC 62548",
        "2021",
        "a string fuse is rated below 2.4 times the module's short-circuit current, and never "
        "above the module's maximum overcurrent protection rating",
        verified=False,
    ),
    "common practice": Clause(
        "module's label",
        "as supplied; IEC 61730-2 tests modules against it",
        "a string fuse is not rated above the modules' maximum series fuse rating",
        verified=True,
    ),
}

MORE = """\
datasheets:
  modules:
    rigid-200: {voc: 24.6 V, vmp: 20.5 V, isc: 9 A, imp: 8.6 A, pmax: 176 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-6: {size: 6 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-4: {size: 4 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 300 Ah,
          max_charge_current: 150 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
"""


@rule(
    id="string-fuse-over-module",
    summary="Rating of a string's fuse or breaker against the largest that its modules stand.",
    covers=("A string fuse too large for its modules",),
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="The fuse of a string is there for the current that its neighbours push "
    "backwards through it when it fails short. The label of a module names the largest fuse with "
    "which it was tested to stand that. With a larger one the cells and their joints burn while "
    "the fuse still carries the current as if nothing had happened.",
    caution=warning(
        "A module that takes more current backwards than its label allows can catch fire on the "
        "roof while its fuse stays whole."
    ),
    since="0.1.0",
    sound=plan(
        "three-strings",
        Edit("port: {module: rigid-100", "port: {module: rigid-200"),
        Edit("middle: {module: rigid-100", "middle: {module: rigid-200"),
        Edit("module: rigid-100", "module: rigid-200"),
        Edit("rating: 30 A", "rating: 40 A"),
        Edit("{rating: 40 A", "{rating: 50 A"),
        Edit("middle-fuse: {rating: 10 A", "middle-fuse: {rating: 15 A"),
        Edit("rating: 10 A", "rating: 15 A"),
        Edit("rating: 60 A", "rating: 70 A"),
        Edit("max_output_current: 40 A", "max_output_current: 50 A"),
        Edit("cable: pv-8", "cable: pv-6"),
        Edit("cable: batt-6", "cable: batt-4"),
        less=(
            "datasheets.modules",
            "datasheets.cables.pv-8",
            "datasheets.cables.batt-6",
        ),
        more=MORE,
    ),
    faulty=Edit("middle-fuse: {rating: 15 A", "middle-fuse: {rating: 20 A"),
)
def string_fuse_over_module(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        for flow in array.backflows:
            if flow.devices and flow.unlimited is not None:
                yield from _checked(flow, flow.unlimited, study)


def _checked(flow: Backflow, pushed: Value, study: Study) -> Iterator[Observation]:
    """The smallest device in the string is what protects it."""
    passage = flow.guarded_by
    if passage is None:
        return
    yield from _beside_it(flow, passage)
    rating, window = device_rating(passage), flow.string.fuse_window
    over_label = flow.is_over_label
    if over_label and flow.would_harm:
        yield _observation(flow, passage, window.label, _over_label(flow, pushed), None)
    elif window.upper is not None and not window.under_upper(rating.number):
        string = flow.string
        why = (
            f"is not under {window.upper}, the most for the {string.isc('standard')} "
            f"short-circuit current of `{string.name}`"
        )
        named = study.plan.code is not None and study.codes.array.says_string_fuses
        as_tested = not named and not over_label and not window.label.assumptions
        yield _observation(flow, passage, window.upper, why, "note" if as_tested else "warning")
    elif over_label:
        why = (
            f"is over the {window.label} series fuse that the modules of `{flow.string.name}` "
            f"allow; as drawn only {pushed} can flow backwards, so it matters once a string is "
            "added"
        )
        yield _observation(flow, passage, window.label, why, "note")


def _beside_it(flow: Backflow, guarding: Passage) -> Iterator[Observation]:
    """Devices in the other pole that are too large: a fault may lead past the one that fits."""
    window = flow.string.fuse_window
    for passage in flow.devices:
        if passage is guarding or passage.name == guarding.name or not flow.would_harm:
            continue
        if flow.is_over_label or not exceeds(device_rating(passage), window.label):
            continue
        why = (
            f"is over the {window.label} series fuse that the modules of `{flow.string.name}` "
            f"stand; only `{guarding.name}` in the other pole opens in time, and a fault to the "
            "frame leads past it"
        )
        yield _observation(flow, passage, window.label, why, "warning")


def _over_label(flow: Backflow, pushed: Value) -> str:
    whence = (
        "the battery can drive any current"
        if pushed.number == float("inf")
        else f"other sources can drive {pushed}"
    )
    return (
        f"is over the {flow.string.max_series_fuse} series fuse that the modules of "
        f"`{flow.string.name}` allow, and {whence} backwards through them"
    )


def _observation(
    flow: Backflow,
    passage: Passage,
    limit: Value,
    why: str,
    level: Level | None,
) -> Observation:
    rating, window = device_rating(passage), flow.string.fuse_window
    return Observation(
        message=f"`{passage.name}` ({rating}) {why}",
        on=(passage.device, flow.string.source.string),
        values=(rating, limit),
        margin=margin_below(rating, limit),
        remedy=Remedy(
            f"use a rating of {window.words}",
            tuple((rated(passage, amps),) for amps in window.standard),
        )
        if window.standard
        else (
            f"{window.words}: put fewer strings in parallel, or use modules that allow a larger one"
        ),
        level=level,
    )
