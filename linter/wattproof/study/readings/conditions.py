"""In what sun, how hot and with what meter a reading was taken: each as a band.

Where the reading does not say, the band is as wide as the truth may be, and narrows as soon as it
is written. Cells in the sun are never cooler than the air.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from wattproof.kept import kept
from wattproof.physics.cell_temperature import MOUNTINGS, Mounting, cell_temperature
from wattproof.physics.modules import STANDARD_IRRADIANCE
from wattproof.plan.readings import Reading
from wattproof.quantities import Quantity, si_unit
from wattproof.record import record
from wattproof.study.array.strings import StringStudy
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.modules import MOUNTING
from wattproof.study.assumptions.readings import (
    NO_BACK_TEMPERATURE,
    NO_IRRADIANCE,
    NO_METER,
    NO_TEMPERATURE,
    ROOF_OVER_AIR,
    THERMOMETER,
)
from wattproof.study.limits import exceeds
from wattproof.study.site.climate import HOTTEST_AIR, Climate
from wattproof.working import Value, declared, tabled

ON_SOMETHING: Final = ("roof-gap", "roof-bonded", "ground")
"""Mountings with a surface under the modules that the sun heats."""


@record
class Band:
    """The least, the likeliest and the most that something may be."""

    low: Value
    expected: Value
    high: Value

    def named(self, symbol: str, words: str, unit: str) -> Band:
        """The band with its three numbers named."""
        return Band(
            self.low.named(f"{symbol}min", f"{words}, at least", unit),
            self.expected
            if self.expected.origin is not None
            else self.expected.named(symbol, words, unit),
            self.high.named(f"{symbol}max", f"{words}, at most", unit),
        )

    def times(self, factor: float) -> Band:
        """The band of a share of it."""
        return Band(factor * self.low, factor * self.expected, factor * self.high)


HOTTEST_BACK: Final = 95.0
"""°C that no module in the sun is hotter than."""
STANDARD_SUN: Final = tabled(
    STANDARD_IRRADIANCE, "W/m²", "Gstc", "sun of a label", "standard test conditions, IEC 61215"
)
NOTHING: Final = 0.5
"""V on either side of zero that a meter shows of nothing; a cell gives about as much."""

Corner = Callable[[Band], Value]
"""Which number of a band is meant."""


def low(band: Band) -> Value:
    """The least."""
    return band.low


def expected(band: Band) -> Value:
    """The likeliest."""
    return band.expected


def high(band: Band) -> Value:
    """The most."""
    return band.high


def half_digit(written: Quantity) -> Value:
    """What a display may hide: half of the last digit written, in the unit of the quantity."""
    unit = si_unit(written.dimension)
    return tabled(written.resolution / 2.0, unit, "δ", "half of the last digit", "as written")


@dataclass(eq=False)
class Conditions:
    """Sun, cells and meter of one reading.

    told_cells: temperature of the cells (°C), where a sheet of what to expect is made for one.
    elsewhere: the sun (W/m²) where the reading tells no irradiance but it is known all the same, by
    another reading taken together with it or by a clear sky.
    """

    reading: Reading
    climate: Climate
    assume: Assumer
    told_cells: Value | None = None
    elsewhere: Band | None = None

    @property
    def name(self) -> str:
        """The reading's name."""
        return str(self.reading.name)

    @property
    def sun_known(self) -> bool:
        """True where the reading tells the irradiance, or what it follows from."""
        return self.sun_measured or self.elsewhere is not None

    @property
    def sun_measured(self) -> bool:
        """True where the reading itself tells the irradiance."""
        return self.reading.irradiance is not None

    @property
    def temperature_known(self) -> bool:
        """True where the reading tells any temperature that the cells follow."""
        return self._back is not None or self._air is not None

    @property
    def back_known(self) -> bool:
        """True where the reading tells the temperature of the back of a module."""
        return self._back is not None

    @property
    def _back(self) -> Quantity | None:
        """Temperature of the back as written; None, too, where no module is so hot."""
        written = self.reading.back_temperature
        return written if written is not None and written.value <= HOTTEST_BACK else None

    @property
    def _air(self) -> Quantity | None:
        """Temperature of the air as written; None, too, where no air is so hot."""
        written = self.reading.air_temperature
        return written if written is not None and written.value <= HOTTEST_AIR else None

    @kept
    def sun(self) -> Band:
        """Irradiance (W/m²)."""
        written = self.reading.irradiance
        if written is None and self.elsewhere is not None:
            return self.elsewhere
        if written is None:
            least, likely, most = (self._unknown_sun(w) for w in ("least", "likely", "most"))
            return Band(least, likely, most)
        shown = declared(written, "G", f"irradiance at {self.name}")
        off = self._meter("irradiance")
        return Band(shown * (1.0 - off), shown, shown * (1.0 + off)).named(
            f"G({self.name})", f"irradiance at {self.name}", "W/m²"
        )

    def cells(self, string: StringStudy, sun: Band) -> Band:
        """Temperature of the cells of a string (°C) in some sun (W/m²)."""
        mounting: Mounting = next(
            m for m in MOUNTINGS if m == (string.source.string.mounting or MOUNTING.value)
        )
        band = self._cells_of(mounting, string, sun)
        return band.named(f"Tcell({self.name})", f"cells at {self.name}", "°C")

    def volts(self, shown: Value, written: Quantity) -> Band:
        """What a voltage shown, as it is written, may truly be (V)."""
        off, half = self._meter("voltage"), half_digit(written)
        band = Band(shown * (1.0 - off) - half, shown, shown * (1.0 + off) + half)
        return band.named(shown.symbol, shown.words, "V")

    def amps(self, shown: Value, written: Quantity) -> Band:
        """What a current shown, as it is written, may truly be (A)."""
        off, half = self._meter("current"), half_digit(written)
        aside = self.zero_drift + half
        band = Band(shown * (1.0 - off) - aside, shown, shown * (1.0 + off) + aside)
        return band.named(shown.symbol, shown.words, "A")

    def watts(self, shown: Value, written: Quantity) -> Band:
        """What a power shown on a display, as it is written, may truly be (W)."""
        off, half = self._meter("power"), half_digit(written)
        band = Band(shown * (1.0 - off) - half, shown, shown * (1.0 + off) + half)
        return band.named(shown.symbol, shown.words, "W")

    @property
    def zero_drift(self) -> Value:
        """What the clamp may show with no current in it (A)."""
        return self._meter("zero")

    def _meter(self, which: str) -> Value:
        meter, unsaid = self.reading.meter, NO_METER[which]
        written = getattr(meter, which) if meter is not None else None
        if written is None:
            return self.assume.value(unsaid, self.name, self.reading.at)
        return declared(written, unsaid.symbol, unsaid.words)

    def _unknown_sun(self, which: str) -> Value:
        return self.assume.value(NO_IRRADIANCE, self.name, self.reading.at, kind=which)

    def _cells_of(self, mounting: Mounting, string: StringStudy, sun: Band) -> Band:
        likely, of_back, of_air = sun.expected.number, self._back, self._air
        if self.told_cells is not None:
            return Band(self.told_cells - _spot(), self.told_cells, self.told_cells + _spot())
        if of_back is not None:
            back = declared(of_back, "Tback", f"back at {self.name}")
            over = MOUNTINGS[mounting].cell_to_back * likely / STANDARD_IRRADIANCE
            source = f"King, Boyson, Kratochvil, SAND2004-3535 (2004), eq. 12, {mounting}"
            warmer = tabled(over, "K", "ΔTback", "cells over the back", source)
            spot = _spot()
            at_cells = back + warmer
            return Band(at_cells - spot, at_cells, at_cells + spot)
        if of_air is not None:
            air = declared(of_air, "Tair", f"air at {self.name}")
            calm = cell_temperature(0.0, sun.high.number, mounting, wind=0.0)
            calm += ROOF_OVER_AIR.value if mounting in ON_SOMETHING else 0.0
            usual = cell_temperature(0.0, likely, mounting)
            return Band(
                air + self._over_air(0.0, "ΔTmin"),
                air + self._over_air(usual, "ΔT"),
                air + self._over_air(calm, "ΔTmax"),
            )
        cold, hot = string.cells("coldest").number, string.cells("hottest").number
        return Band(*(self._of_site(t) for t in (cold, (cold + hot) / 2.0, hot)))

    def _over_air(self, number: float, symbol: str) -> Value:
        return self.assume.value(
            NO_BACK_TEMPERATURE, self.name, self.reading.at, number=number, symbol=symbol
        )

    def _of_site(self, number: float) -> Value:
        return self.assume.value(NO_TEMPERATURE, self.name, self.reading.at, number=number)


def is_low(true: Band, curve: Band) -> bool:
    """True where the most that was read lies under the least that is expected."""
    return exceeds(curve.low, true.high)


def is_high(true: Band, curve: Band) -> bool:
    """True where the least that was read lies over the most that is expected."""
    return exceeds(true.low, curve.high)


def overlap(true: Band, curve: Band) -> bool:
    """True where what was read may be what is expected: neither low nor high."""
    return not is_low(true, curve) and not is_high(true, curve)


def _spot() -> Value:
    """What one spot on a back differs from all cells (K)."""
    words = "one spot against all cells"
    return tabled(THERMOMETER.value, "K", "ΔTspot", words, THERMOMETER.source)
