"""Batteries in series that are declared apart: one bank with the sum of their voltages."""

from __future__ import annotations

from wattproof.circuit import Circuit, Terminal
from wattproof.kept import KeptEach, kept
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.working import Value, largest, smallest, total


@record
class SeriesBank(BankStudy):
    """Banks in series from the most positive on; it has the name of that one.

    Voltages add up. Of what all carry alike the weakest counts: charge, current, temperature.
    """

    members: tuple[BankStudy, ...] = ()

    @property
    def parts(self) -> tuple[BankStudy, ...]:
        """The batteries as declared, from the most positive on."""
        return self.members

    @property
    def in_series(self) -> int:
        """Batteries in series."""
        return sum(part.in_series for part in self.members)

    @property
    def twelves(self) -> float:
        """The voltage over all in units of 12 V."""
        return sum(part.twelves for part in self.members)

    @kept
    def nominal(self) -> Value:
        """Nominal voltage over all (V)."""
        volts = total([part.nominal for part in self.members])
        return volts.named(f"Unom({self.name}…)", f"nominal voltage over {self.all_names}", "V")

    @kept
    def capacity(self) -> Value:
        """Capacity (C): the smallest, since the same charge passes through all."""
        return self._weakest([part.capacity for part in self.members], "C", "capacity", "C")

    @kept
    def charge_limit(self) -> Value:
        """Largest charge current (A)."""
        limits = [part.charge_limit for part in self.members]
        return self._weakest(limits, "Icharge", "charge limit", "A")

    @property
    def is_lead(self) -> bool:
        """True where any of them is lead."""
        return any(part.is_lead for part in self.members)

    @kept
    def charge_voltage_limit(self) -> Value:
        """Highest charge voltage over all (V)."""
        return self._over([p.charge_voltage_limit for p in self.members], "Umax", "highest charge")

    @kept
    def charge_setting(self) -> Value:
        """The voltage (V) that what charges them is set to, where nothing tells it."""
        return self._over([p.charge_setting for p in self.members], "Uset", "charge setting")

    @property
    def empty_voltage(self) -> Value:
        """Voltage over all when they are empty (V)."""
        return self._over([p.empty_voltage for p in self.members], "Uempty", "empty voltage")

    @property
    def flat_at_rest(self) -> Value:
        """Voltage over all at rest (V) below which they are flat."""
        return self._over([p.flat_at_rest for p in self.members], "Uflat", "flat at rest")

    @kept
    def full_at(self) -> Value:
        """The least charge voltage at which all get full (V)."""
        return self._over([part.full_at for part in self.members], "Ufull", "least filling")

    @property
    def not_full_below(self) -> Value:
        """Voltage over all (V) below which no charger takes them for full."""
        return self._over([part.not_full_below for part in self.members], "Unotfull", "not full")

    @kept
    def resting_voltage(self) -> Value:
        """Voltage over all when charged and at rest (V)."""
        return self._over([part.resting_voltage for part in self.members], "Urest", "resting")

    @kept
    def low_voltage(self) -> Value:
        """Voltage over all at the end of discharge (V)."""
        return self._over([part.low_voltage for part in self.members], "Ulow", "low")

    @kept
    def depth_of_discharge(self) -> Value:
        """Share of the capacity that may be taken out: the smallest."""
        shares = [part.depth_of_discharge for part in self.members]
        return self._weakest(shares, "DoD", "depth of discharge", "%")

    @kept
    def lowest_charge(self) -> Value:
        """The lowest temperature (°C) at which all may be charged."""
        limits = [part.lowest_charge for part in self.members]
        words = f"lowest charge temperature of {self.all_names}"
        return largest(limits).named(f"Tmin({self.name}…)", words, "°C")

    def _over(self, volts: list[Value], symbol: str, words: str) -> Value:
        said = f"{words} voltage over {self.all_names}"
        return total(volts).named(f"{symbol}({self.name}…)", said, "V")

    def _weakest(self, values: list[Value], symbol: str, words: str, unit: str) -> Value:
        said = f"{words} of {self.all_names}"
        return smallest(values).named(f"{symbol}({self.name}…)", said, unit)


class Wholes:
    """Banks as what hangs on them sees them: batteries in series are one."""

    def __init__(self, circuit: Circuit, banks: dict[str, BankStudy]) -> None:
        self._circuit = circuit
        self._banks = banks
        self._made: KeptEach[tuple[str, ...], BankStudy] = KeptEach()

    @kept
    def all(self) -> tuple[BankStudy, ...]:
        """Every bank that is not below another, in the order of the plan."""
        below = {name for _, name in self._pairs}
        return tuple(self._made_of(self.down(n)) for n in self._banks if n not in below)

    def at(self, terminal: Terminal) -> list[BankStudy]:
        """The banks whose pole of that name is on the terminal's net.

        On a joint between batteries in series they are what is left of it on the other side. What
        has both poles sees no more than lies between them.
        """
        net = self._circuit.nets.net
        here = net(terminal)
        if terminal.pole != "positive":
            return [self._made_of(self._up(n)) for n in self._banks if self._ends[n][1] == here]
        is_bank = terminal.component in self._banks
        end = None if is_bank else net(Terminal(terminal.component, terminal.port, "negative"))
        found = []
        for name in self._banks:
            if self._ends[name][0] == here:
                chain = self.down(name)
                stops = [k for k, n in enumerate(chain) if self._ends[n][1] == end]
                found.append(self._made_of(chain[: stops[0] + 1] if stops else chain))
        return found

    def on(self, net: Terminal) -> list[BankStudy]:
        """The banks whose positive is on a net, down to the last of each."""
        names = [name for name in self._banks if self._ends[name][0] == net]
        return [self._made_of(self.down(name)) for name in names]

    def down(self, name: str) -> tuple[str, ...]:
        """Batteries in series from one on, towards the negative."""
        return self._along(name, dict(self._pairs))

    def _up(self, name: str) -> tuple[str, ...]:
        return self._along(name, {below: above for above, below in self._pairs})[::-1]

    def _along(self, name: str, onward: dict[str, str]) -> tuple[str, ...]:
        chain = [name]
        while (there := onward.get(chain[-1])) is not None and there not in chain:
            chain.append(there)
        return tuple(chain)

    def _made_of(self, names: tuple[str, ...]) -> BankStudy:
        if len(names) == 1:
            return self._banks[names[0]]

        def in_series() -> BankStudy:
            members = tuple(self._banks[name] for name in names)
            return SeriesBank(members[0].battery, members[0].assume, members)

        return self._made.of(names, in_series)

    @kept
    def _ends(self) -> dict[str, tuple[Terminal, Terminal]]:
        net = self._circuit.nets.net
        return {
            name: (net(Terminal(name, "", "positive")), net(Terminal(name, "", "negative")))
            for name in self._banks
        }

    @kept
    def _pairs(self) -> tuple[tuple[str, str], ...]:
        """Batteries with the one below: at a joint of as many as many, each with its like."""
        above: dict[Terminal, list[str]] = {}
        below: dict[Terminal, list[str]] = {}
        for name, (plus, minus) in self._ends.items():
            if plus != minus:
                above.setdefault(minus, []).append(name)
                below.setdefault(plus, []).append(name)
        return tuple(
            pair
            for joint, uppers in above.items()
            if len(uppers) == len(below.get(joint, ()))
            for pair in zip(uppers, below[joint], strict=True)
        )
