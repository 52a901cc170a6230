"""Voltage lost between two places of an array that were read at once."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.ways import WayRead


BASIS = {
    "common practice": practice(
        "a plug that is not home, or crimped badly, has tenths of an ohm, and shows only as a drop "
        "across it under load or as heat; between two places of one circuit only the wires, and a "
        "tenth of a volt or two at plugs and fuses, take anything"
    ),
}

MORE = """\
readings:
  roof-end: {at: roof-string, voltage: 55.6 V, current: 4.1 A, taken: "noon", stage: bulk,
             irradiance: 850 W/m², back_temperature: 48 °C,
             meter: {voltage: 0.5 %, current: 2 %, zero: 0.1 A, irradiance: 5 %}}
  cabin-end: {at: tracker.pv, voltage: 55.1 V, taken: "noon", stage: bulk,
              meter: {voltage: 0.5 %}}
"""


@rule(
    id="reading-way-drop",
    summary="Voltage in operation at a string or joint, against that further down, read at once.",
    covers=("Joints that warm up under load",),
    level="warning",
    hazard="fire",
    part="reading",
    basis=BASIS,
    explanation="Half an ohm in a plug takes a few per cent of a string's power, less than labels "
    "and meters leave open, so no reading of one place shows it. All the same it makes tens of "
    "watts of heat in a piece of plastic as large as a thumb. Voltage read at both ends of the "
    "way, at the same moment, shows it at once: what is missing at the lower end is lost between.",
    caution=warning(
        "A connector with resistance can be too hot to touch and can burn. Never part it while "
        "current flows: stop the controller, open the switch, prove that nothing flows, and cover "
        "the modules."
    ),
    fine="Where the sun or the load changed between the two readings. Read both within a minute.",
    since="0.3.0",
    sound=plan("van", more=MORE),
    faulty=Edit("voltage: 55.1 V", "voltage: 52.9 V"),
)
def reading_way_drop(study: Study) -> Iterator[Observation]:
    for way in study.readings.ways:
        if way.is_much:
            yield _observation(way)


def _observation(way: WayRead) -> Observation:
    upper, lower = way.upper, way.lower
    values = tuple(v for v in (way.lost, way.usual, way.ohms, way.heat) if v is not None)
    return Observation(
        message=f"between `{upper.where}`, {upper.taken.voltage}, and `{lower.where}`, "
        f"{lower.taken.voltage}, at least {way.lost} is lost, where wires and plugs take "
        f"{way.usual} at most{_because(way)}",
        on=(*upper.subjects, *lower.subjects),
        values=values,
        margin=margin_below(way.lost, way.usual),
        remedy="look along the way with a thermal camera or a contactless thermometer for the "
        "plug or joint that is hot, and make that one new, both halves of one maker",
    )


def _because(way: WayRead) -> str:
    if way.ohms is None or way.heat is None:
        return ""
    return f": as of {way.ohms} in a plug or joint, {way.heat} of heat in one place"
