"""Short-circuit current read against the least that the curve gives in that sun."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Clause, Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.at_arrays import ArrayReading


BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.5",
        "2016",
        "the current of every string, shorted or in operation, is measured in steady sun and "
        "compared with what is expected or with strings alike",
        verified=False,
    ),
    "common practice": practice(
        "short-circuit current follows the sun in proportion and hardly the heat, so it tells of "
        "light, dirt, shade and missing strings"
    ),
}

MORE = """\
readings:
  roof-open: {at: roof-string, voc: 66.9 V, isc: 4.4 A, irradiance: 850 W/m²,
              back_temperature: 48 °C,
              meter: {voltage: 0.5 %, current: 2 %, zero: 0.3 A, irradiance: 5 %}}
"""


@rule(
    id="reading-current-low",
    summary="Short-circuit current read, against the least that the curve gives in that sun.",
    covers=("Dirt, shade, a broken cell or a bad joint",),
    level="warning",
    hazard="lost-energy",
    part="reading",
    basis=BASIS,
    explanation="Short-circuit current is the light that reaches the cells, turned into current: "
    "half the light, half the current. Where the meter shows much less than the sun allows, light "
    "is lost on the way (dirt, haze on the glass, shade), the irradiance was not read in the plane "
    "of the modules, or one string of several gives nothing. A shadow on some modules only hardly "
    "shows in it: shorted, the others push their current past them through bypass diodes.",
    fine="Where dirt, haze or a shadow is known and the reading is to show it. Read again "
    "afterwards.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("isc: 4.4 A", "isc: 3.2 A"),
)
def reading_current_low(study: Study) -> Iterator[Observation]:
    for reading in study.readings.at_arrays:
        taken = reading.taken
        if not reading.stands.isc_is_low:
            continue
        assert taken.true_isc is not None
        band, read = reading.expected.isc, taken.true_isc
        less = 1.0 - read.expected.number / band.expected.number
        yield Observation(
            message=f"`{reading.where}` read {read.expected} shorted where {band.low} to "
            f"{band.high} is expected {reading.expected.sun_words}, {less * 100:.0f} % less "
            f"than likely{_because(reading)}",
            on=reading.subjects,
            values=(read.high, band.low, band.expected),
            margin=read.high.number / band.low.number - 1.0,
            remedy=_remedy(reading),
        )


def _because(reading: ArrayReading) -> str:
    """Whole strings that give nothing, where the size points to them."""
    if _not_shorted(reading):
        return (
            f", though it has {reading.taken.voc} open: the short was not closed, or the clamp was "
            "around both leads or set to another kind"
        )
    if reading.stands.is_unlit and reading.explained.isc_slip is None:
        return ": nothing arrives, so the circuit is open, or the modules are covered"
    meant = reading.explained.meant_isc
    if meant is not None:
        return f": {meant} would be right, so the unit or the range was misread"
    point = reading.explained.isc_by_its_point
    if point is not None:
        return (
            f": {point} would be right, so the decimal point or the range was misread, or hardly "
            "any light arrives"
        )
    dark = reading.explained.dark_strings
    return (
        ""
        if dark is None
        else f": as with {dark} of {len(reading.taken.strings)} strings open or dark"
    )


def _not_shorted(reading: ArrayReading) -> bool:
    """True where hardly any current was read of what has its whole voltage."""
    stands = reading.stands
    if reading.taken.voc is None or stands.voc_is_low or reading.explained.isc_slip is not None:
        return False
    return stands.is_unlit


def _remedy(reading: ArrayReading) -> str:
    if reading.explained.meant_isc is not None:
        return "look at the unit and the range on the meter, and write what it showed"
    if reading.explained.isc_by_its_point is not None:
        return (
            "look at the decimal point and the range on the meter, and write what it showed; if it "
            "stands, look for covers, snow or shade on the modules, and read it again"
        )
    if _not_shorted(reading):
        return (
            "look whether the switch that shorts it is closed, set the clamp to direct current, "
            "zero it, and read again with it around one lead alone; if still nothing flows, a plug "
            "or joint of it holds no current"
        )
    if reading.stands.is_unlit:
        return (
            "look for a plug, switch or fuse that is open in it, and for what covers the modules; "
            "then read its open-circuit voltage, and this again"
        )
    if len(reading.taken.strings) > 1:
        return f"read the current of each string of `{reading.where}` in the same sun"
    if reading.expected.sun_by_sky:
        return (
            "look whether the modules lie as the plan says and at the hour, clean the glass, look "
            "for shade, and read it again with an irradiance meter in the plane of the modules"
        )
    return (
        "clean the glass, look for shade, hold the irradiance meter in the plane of the modules, "
        "and read both again within a minute"
    )
