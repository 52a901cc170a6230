"""Each device in the way of the current: the voltage and current it meets, and what it stands."""

from __future__ import annotations

from wattproof.circuit import Passage, is_overcurrent
from wattproof.codes import BodyOfRules, DeviceStyle, style
from wattproof.kept import kept
from wattproof.plan.amend import Change
from wattproof.plan.arc_faults import ArcFaultDevice
from wattproof.plan.devices import Breaker, Device, Distribution, Fuse, Switch, Way
from wattproof.plan.splitting import Selector
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import exceeds, exceeds_mark
from wattproof.study.site.climate import from_table
from wattproof.study.wiring.brief import Brief
from wattproof.study.wiring.device_voltages import of_bank, rated_voltage
from wattproof.study.wiring.loading import Loading
from wattproof.study.wiring.wires import Side
from wattproof.working import Value, largest, tabled

DIRECT_VOLTAGE = 32.0
"""Printed voltage (V) up to which a part is for vehicles and boats: none for mains prints so
little (common practice)."""
MAINS_VOLTAGE = 110.0
"""V: from which the voltage on a switch may be that of mains (common practice)."""
ONLY_DIRECT = (150.0, 160.0, 1500.0)
"""Voltages (V) above that which switches for arrays have, and none for mains (common practice)."""
BLADES = ("blade", "mini-blade", "large-blade")
BLADE_FACTOR = 1.25


def rated(passage: Passage, amps: float) -> Change:
    """What a plan holds where a fuse or breaker has another rating (A)."""
    text = f"{amps:g} A"
    if isinstance(passage.device, Way):
        return Change(passage.end.component, f"ways.{passage.name}.fuse", text)
    return Change(passage.name, "rating", text)


@record
class DeviceStudy:
    """A fuse, breaker, switch or panel way.

    loading: the current in it, and the voltage across it when open. array: the array that it
    belongs to, on the array side. panel: the panel of a panel way. nominal: the bank's nominal
    voltage (V), on the battery side.
    """

    passages: tuple[Passage, ...]
    side: Side
    loading: Loading
    array: ArrayStudy | None
    assume: Assumer
    panel: Distribution | None = None
    nominal: Value | None = None

    @property
    def volts(self) -> Value | None:
        """The highest voltage (V) across it when open; None where nothing is known to drive it."""
        return self.loading.volts

    @property
    def current(self) -> Value | None:
        """The largest lasting current (A) in it; None where nothing flows."""
        return self.loading.currents.largest

    @property
    def brief(self) -> Brief | None:
        """What of its current lasts, where the rest runs for minutes."""
        return self.loading.currents.brief

    @property
    def device(self) -> Device | Way:
        """As the plan declares it."""
        return self.passages[0].device

    @property
    def name(self) -> str:
        """Its name."""
        return str(self.device.name)

    @property
    def at(self) -> Place:
        """Where the plan names it."""
        return self.device.at

    @property
    def kind(self) -> str:
        """What it is, in a word."""
        kinds = {
            Fuse: "fuse",
            Breaker: "breaker",
            Switch: "switch",
            Selector: "selector switch",
            ArcFaultDevice: "arc-fault device",
            Way: "panel way",
        }
        return kinds[type(self.device)]

    @property
    def is_switch(self) -> bool:
        """True for a switch, one that selects too."""
        return isinstance(self.device, Switch)

    @property
    def is_arc_device(self) -> bool:
        """True for a device that opens on an arc, which has contacts as a switch has."""
        return isinstance(self.device, ArcFaultDevice)

    @property
    def is_overcurrent(self) -> bool:
        """True where it opens by itself."""
        return is_overcurrent(self.passages[0])

    @property
    def style(self) -> DeviceStyle | None:
        """Its style, where declared."""
        named = getattr(self.device, "style", None)
        return style(named) if named is not None else None

    @property
    def dc(self) -> bool | None:
        """Whether it is marked for DC; None where the plan does not say."""
        return getattr(self.device, "dc", None)

    @property
    def unmarked_for_dc(self) -> str | None:
        """Why its printed voltage may be one of alternating current, in words; None where not.

        A style that is made for alternating current, unless its voltage is that of a vehicle, and a
        switch of a voltage as mains have it, are good for direct current only where the label says
        so. What only switches for direct current have tells itself.
        """
        if self.dc is not None or self.rated_voltage is None or self.rated_voltage.assumptions:
            return None
        is_low = self.rated_voltage <= DIRECT_VOLTAGE
        if self.style is not None and not self.style.dc_by_make and not is_low:
            return f"is a {self.style.title}, which is made for alternating current"
        may_be_mains = self.rated_voltage >= MAINS_VOLTAGE
        if self.is_switch and may_be_mains and self.rated_voltage.number not in ONLY_DIRECT:
            return "has a voltage as isolators for alternating current have it"
        return None

    @property
    def polarised(self) -> bool:
        """True for a breaker that is marked with a line and a load side."""
        return bool(getattr(self.device, "polarised", False))

    @property
    def load_break(self) -> bool | None:
        """Whether a switch may be opened under load; None where the plan does not say."""
        return getattr(self.device, "load_break", None)

    @kept
    def rating(self) -> Value:
        """Rated current (A)."""
        return device_rating(self.passages[0])

    @property
    def is_overloaded(self) -> bool:
        """True where its lasting current is over its rating."""
        if self.current is None:
            return False
        eased = self.current if self.brief is None else self.brief.in_contacts(self.current)
        return exceeds(eased, self.rating)

    @property
    def is_over_voltage(self) -> bool:
        """True where it meets more than its rated voltage; False where one is not known."""
        rated = self.rated_voltage
        return rated is not None and self.volts is not None and exceeds_mark(self.volts, rated)

    def least_rating(self, current: Value, code: BodyOfRules) -> Value:
        """The rating (A) that bears a lasting current (A) by a body of rules.

        A blade fuse is run at 80 % of its rating or less, whatever the body asks.
        """
        factor = from_table(code.continuous_factor, "kcontinuous")
        made = self.style
        if made is not None and made.name in BLADES and factor.number < BLADE_FACTOR:
            source = "common practice of makers: at most 80 % of the rating"
            factor = tabled(BLADE_FACTOR, "", "kblade", "allowance for a blade fuse", source)
        words = f"least rating of {self.name}"
        lasting = current if self.brief is None else self.brief.steady
        least = factor * lasting
        if self.brief is not None:
            least = largest(
                [least, self.brief.in_overcurrent_device(current, made.name if made else None)]
            )
        return least.named(f"Inmin({self.name})", words, "A")

    def is_too_small(self, code: BodyOfRules) -> bool:
        """True for an overcurrent device that opens, or nearly so, at its lasting current."""
        current = self.current
        return current is not None and exceeds(self.least_rating(current, code), self.rating)

    @kept
    def rated_voltage(self) -> Value | None:
        """Rated DC voltage (V): printed, or the least of its style, or as is usual where it is.

        None for a style that is made for alternating current unless it is marked.
        """
        printed_on = self.panel if self.panel is not None else self.device
        circuits = "array" if self.side == "array" else of_bank(self.nominal)
        return rated_voltage(self.device, printed_on, self.style, circuits, self.assume)
