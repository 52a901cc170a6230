"""Banks: what they are, and how they are joined."""

from __future__ import annotations

from collections.abc import Iterable

from wattproof.circuit import Circuit, Terminal
from wattproof.kept import kept
from wattproof.plan.boxes import PowerBox
from wattproof.plan.fields import Named
from wattproof.plan.heating import Heater
from wattproof.plan.power import Charger, Controller, is_alternator
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.batteries import NO_CHARGE_TEMPERATURE, NO_CUTOFF_IN_THE_COLD
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.compensation import Compensation, compensations, rise_in
from wattproof.study.battery.freezing import LeadInFrost, in_frost
from wattproof.study.battery.joined import (
    ChargedBanks,
    JoinedBanks,
    PackCount,
    charged_banks,
    joined_banks,
    pack_counts,
)
from wattproof.study.battery.positive_net import PositiveNet
from wattproof.study.battery.side import BatterySide, Source
from wattproof.study.site import SiteSection
from wattproof.study.site.places import coldest_cells_of, coldest_of, heated
from wattproof.working import Value


class BatterySection:
    """Banks, and all that is joined to them."""

    def __init__(self, circuit: Circuit, assume: Assumer, site: SiteSection) -> None:
        self._circuit = circuit
        self._assume = assume
        self._site = site

    @kept
    def side(self) -> BatterySide:
        """Banks, sources and loads."""
        return BatterySide(self._circuit, self._assume, self._rise_in_cold)

    @property
    def banks(self) -> tuple[BankStudy, ...]:
        """Every bank."""
        return tuple(self.side.banks.values())

    @kept
    def positive_net(self) -> PositiveNet:
        """All that is joined to the positive terminals of banks."""
        return PositiveNet(self.banks, self._circuit)

    @kept
    def joined(self) -> tuple[JoinedBanks, ...]:
        """Every two banks that conductors join."""
        return tuple(joined_banks(self.side, self._circuit))

    @kept
    def pack_counts(self) -> tuple[PackCount, ...]:
        """Batteries in series and in parallel, where there is a limit to how many."""
        return tuple(pack_counts(self.side, self.joined, self._assume))

    @kept
    def charged(self) -> tuple[ChargedBanks, ...]:
        """What every source charges."""
        return tuple(charged_banks(self.side, self._circuit))

    def sources_of(self, bank: BankStudy) -> tuple[Source, ...]:
        """What charges a bank, alone, in series with others or through isolators."""
        without = {str(each.component.name) for each in self._circuit.unused if each.end}
        over = (each.source for each in self.charged if bank in each.banks)
        by_wire = [source for source in over if str(source.name) not in without]
        feeding = self.side.feeding(Terminal(bank.name, "", "positive"))
        through = [source for source in feeding if self.side.may_reach(source, bank)]
        return tuple({str(source.name): source for source in (*by_wire, *through)}.values())

    @kept
    def compensations(self) -> tuple[Compensation, ...]:
        """Sources that say whether their voltage follows the temperature of a bank."""
        return tuple(compensations(self.side, self._circuit.plan, self._site.climate))

    def _rise_in_cold(self, source: Controller | Charger, bank: BankStudy) -> Value | None:
        """What a source raises the voltage of a bank by in its coldest air (V).

        None of lithium, of a source that does not say that it follows the temperature, and where
        it never gets cold.
        """
        if not (bank.is_lead and source.compensates_temperature):
            return None
        rise = rise_in(source, bank, self.coldest_cells_of(bank))
        return rise if rise.number > 0.0 else None

    def coldest_cells_of(self, bank: BankStudy) -> Value:
        """How cold a bank gets (°C): as its air, or as the heater that warms it keeps it."""
        return coldest_cells_of(bank.battery, self._circuit, self._site.climate)

    def heaters_of(self, bank: BankStudy) -> tuple[tuple[Heater, Value], ...]:
        """The heaters of a bank that are fed, each with the temperature that it keeps (°C)."""
        return tuple(heated(bank.battery, self._circuit))

    def may_stop_in_the_cold(self, bank: BankStudy, sources: Iterable[Named]) -> bool:
        """True where something is taken to stop the charge of a bank in the cold.

        sources: what charges it and does not say that it stops. Where all say outright that they
        do not, nothing does.
        """
        parts = [bank.battery, *(s for s in sources if not is_alternator(s))]
        silent = [part for part in parts if "low_temperature_cutoff" not in part.model_fields_set]
        if not silent:
            return False
        place = self._circuit.plan.site.places.get(bank.battery.place or "")
        told = self._circuit.plan.site.coldest is not None or (place and place.coldest is not None)
        silence = NO_CUTOFF_IN_THE_COLD._replace(guess=not told)
        asked = silent[0]
        return self._assume.is_so(silence, str(asked.name), asked.at, usual=False)[0]

    @kept
    def boxes_in_the_cold(self) -> tuple[tuple[PowerBox, Value, Value], ...]:
        """Power boxes that say outright that they charge on in the cold.

        Each with the coldest air around it and the least at which its battery, taken as lithium, is
        charged (°C).
        """
        plan, climate = self._circuit.plan, self._site.climate
        return tuple(
            (
                box,
                coldest_of(box, plan, climate),
                self._assume.value(NO_CHARGE_TEMPERATURE, str(box.name), box.at),
            )
            for box in plan.power_boxes.values()
            if "low_temperature_cutoff" in box.model_fields_set and not box.low_temperature_cutoff
        )

    @kept
    def in_frost(self) -> tuple[LeadInFrost, ...]:
        """Banks of lead whose coldest is told, and when they freeze."""
        found = (in_frost(bank, self.coldest_cells_of(bank)) for bank in self.banks)
        return tuple(each for each in found if each is not None)

    def coldest_of(self, bank: BankStudy) -> Value:
        """Coldest air around a bank (°C)."""
        return coldest_of(bank.battery, self._circuit.plan, self._site.climate)

    def hottest_of(self, bank: BankStudy) -> Value:
        """Hottest air around a bank (°C)."""
        from wattproof.study.battery.compensation import hottest_around

        return hottest_around(bank, self._circuit.plan, self._site.climate)
