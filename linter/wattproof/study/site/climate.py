"""Temperatures and factors that hold for the whole site."""

from __future__ import annotations

from typing import NamedTuple

from wattproof.codes import BodyOfRules, TableValue
from wattproof.kept import KeptEach, kept
from wattproof.physics.cell_temperature import MOUNTINGS, Mounting, cell_temperature
from wattproof.physics.modules import STANDARD_IRRADIANCE, STANDARD_TEMPERATURE
from wattproof.plan.root import Plan
from wattproof.quantities import Quantity
from wattproof.source import Place
from wattproof.study.assumptions import Assumer
from wattproof.working import Assumption, Value, assumed, declared, tabled

_KING = "King, Boyson, Kratochvil, SAND2004-3535 (2004), eq. 11 and 12, table 1, wind 1 m/s"
HOTTEST_AIR = 60.0
"""°C in the shade that no air is hotter than, as plans have it too; on record are 57."""
NOCT_AIR = 20.0  # °C
NOCT_IRRADIANCE = 800.0  # W/m²
REAR_LIGHT = 135.0 / 1000.0
_REAR_SOURCE = "IEC 61215-1:2021, bifacial nameplate irradiance, from memory"


TROPICS = 25.0  # degrees of latitude
MILDEST_OF_TROPICS = 14.0  # °C
COOLER_BY_DEGREE = 0.4
MILDEST_ANYWHERE = 25.0  # °C
_RECORDS = "lowest air on record at island stations, rounded up, from memory"


class ColdestTold(NamedTuple):
    """The coldest air as a plan tells it, and the latitude beside it, where that is told."""

    name: str
    at: Place
    air: Quantity
    latitude: Quantity | None


class Climate:
    """Air and cell temperatures by state, each with where it comes from."""

    def __init__(self, plan: Plan, code: BodyOfRules, assume: Assumer) -> None:
        self.plan = plan
        self.code = code
        self.assume = assume
        self._cells: KeptEach[tuple[str, str, str], Value] = KeptEach()

    @kept
    def standard(self) -> Value:
        """Cell temperature at standard test conditions (°C)."""
        source = "standard test conditions, IEC 61215"
        return tabled(STANDARD_TEMPERATURE, "°C", "Tstc", "standard cell temperature", source)

    @kept
    def coldest(self) -> Value:
        """Cells on the coldest bright morning: as cold as the air (°C)."""
        written = self.plan.site.coldest
        if written is None:
            return self.assume.coldest()
        return declared(written, "Tcold", "coldest air with daylight")

    @property
    def coldest_told(self) -> ColdestTold | None:
        """The coldest air as the plan tells it; None where it does not."""
        air = self.plan.site.coldest
        if air is None:
            return None
        return ColdestTold("coldest", air.place, air, self.plan.site.latitude)

    @property
    def mildest(self) -> Value:
        """How cold it gets at least on the mildest coasts of the latitude (°C).

        In the tropics, and without a latitude, on the mildest of all.
        """
        latitude = self.plan.site.latitude
        beyond = abs(latitude.value) - TROPICS if latitude is not None else -1.0
        if beyond < 0.0:
            words = "coldest air of the mildest islands"
            return tabled(MILDEST_ANYWHERE, "°C", "Tmild", words, _RECORDS)
        number = MILDEST_OF_TROPICS - COOLER_BY_DEGREE * beyond
        return tabled(number, "°C", "Tmild", "coldest air of the mildest coasts", _RECORDS)

    @kept
    def hottest_air(self) -> Value:
        """Hottest air in the shade (°C)."""
        written = self.plan.site.hottest
        if written is None:
            return self.assume.hottest()
        return declared(written, "Thot", "hottest air")

    @kept
    def irradiance_factor(self) -> Value:
        """Factor on short-circuit current for sun brighter than 1000 W/m²."""
        return from_table(self.code.irradiance_factor, "kbright")

    @kept
    def rear_light(self) -> Value:
        """Light on the back of a module, as a share of that on its front."""
        words = "light on the back, as a share of that on the front"
        return tabled(REAR_LIGHT, "", "krear", words, _REAR_SOURCE)

    def hot_cells(
        self, mounting: str, noct: Quantity | None = None, unstated: Assumption | None = None
    ) -> Value:
        """Cells at 1000 W/m² in the hottest air, by mounting (°C).

        noct: nominal operating cell temperature (°C) of their modules, where the label tells it:
        it counts where the mounting is an open rack, or where it makes them hotter.
        unstated: where the mounting is taken, and not told.
        """
        key = (mounting, unstated.subject if unstated is not None else "", str(noct))
        return self._cells.of(key, lambda: self._hot_cells(mounting, unstated, noct))

    def _hot_cells(
        self, mounting: str, unstated: Assumption | None, noct: Quantity | None
    ) -> Value:
        kind: Mounting = next(m for m in MOUNTINGS if m == mounting)
        rise = cell_temperature(0.0, STANDARD_IRRADIANCE, kind)
        words = f"rise of cells over air, {kind}"
        source = f"{_KING}, {kind}"
        risen = (
            tabled(rise, "K", "ΔTcell", words, source)
            if unstated is None
            else assumed(rise, "K", "ΔTcell", words, unstated)
        )
        if noct is not None and unstated is None:
            rated = self._rise_by_label(noct)
            if kind == "open-rack" or rated.number > risen.number:
                risen = rated
        return (self.hottest_air + risen).named("Tcell", f"hot cells, {kind}", "°C")

    @staticmethod
    def _rise_by_label(noct: Quantity) -> Value:
        """Rise of cells over air at 1000 W/m² (K), from the temperature that a label tells."""
        source = "IEC 61215: 800 W/m², air of 20 °C, wind of 1 m/s, open rack"
        told = declared(noct, "NOCT", "nominal operating cell temperature")
        air = tabled(NOCT_AIR, "°C", "Tnoct", "air at nominal operation", source)
        scale = tabled(
            STANDARD_IRRADIANCE / NOCT_IRRADIANCE, "", "knoct", "full sun over that", source
        )
        return ((told - air) * scale).named("ΔTcell", "rise of cells over air, by the label", "K")


def from_table(value: TableValue, symbol: str) -> Value:
    """A figure of a body of rules as a traced number."""
    unit = {"ohm/m": "Ω/m", "ohm": "Ω"}.get(value.unit, value.unit)
    return tabled(value.value, unit, symbol, value.what, value.cited)
