"""Large plans from a fixed seed: several controllers, banks, panels, and whatever hangs on them.

They are drawn, not checked: parts of all families, joined in most of the ways that a plan allows.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import pairwise

SEED = 20261125
HEAD = """\
wattproof: 1
title: {title}
setting: cabin
code: nec-2023
site: {{coldest: -10 °C, hottest: 38 °C}}
datasheets:
  modules:
    m-200: {{voc: 24.9 V, vmp: 20.9 V, isc: 10.2 A, imp: 9.6 A, max_series_fuse: 20 A}}
    m-90: {{voc: 22.1 V, vmp: 18.4 V, isc: 5.2 A, imp: 4.9 A, max_series_fuse: 15 A}}
  cables:
    thin: {{size: 12 AWG, kind: marine, material: copper, insulation_temperature: 105 °C}}
    thick: {{size: 70 mm², kind: battery, material: copper, insulation_temperature: 105 °C}}
"""
FAMILIES = (
    "strings", "combiners", "fuses", "breakers", "switches", "controllers", "batteries", "busbars",
    "distribution", "inverters", "loads", "chargers", "bonds", "arresters", "wires",
)  # fmt: skip
WORDS = ("roof", "stern", "port", "main", "forward", "galley", "of-the-old-workshop", "b", "east")


class LargePlan:
    """One random plan."""

    def __init__(self, dice: random.Random, number: int) -> None:
        self.dice = dice
        self.title = f"Large plan {number} {'with a long title ' * dice.choice((0, 0, 6))}".strip()
        self.families: dict[str, list[str]] = {family: [] for family in FAMILIES}
        self.count = 0

    def text(self) -> str:
        """The plan."""
        bars = [self.bar() for _ in range(self.dice.choice((1, 1, 2, 3)))]
        for upper, lower in pairwise(bars):
            self.wire(upper, lower)
            if self.dice.random() < 0.2:
                self.wire(lower, upper)  # a ring
        for _ in range(self.dice.choice((1, 2, 3, 4))):
            self.battery(self.dice.choice(bars))
        for _ in range(self.dice.choice((1, 2, 3, 5))):
            self.controller(self.dice.choice(bars))
        for _ in range(self.dice.choice((0, 1, 2))):
            self.alternator(self.dice.choice(bars))
        for _ in range(self.dice.choice((0, 1, 2, 4))):
            self.consumer(self.dice.choice(bars))
        for _ in range(self.dice.choice((0, 1, 1, 2))):
            self.panel(self.dice.choice(bars))
        if self.dice.random() < 0.6:
            self.bond(self.dice.choice(bars))
        if self.dice.random() < 0.2:
            self.lone_system()
        lines = [HEAD.format(title=self.title)]
        for family, entries in self.families.items():
            lines += [f"{family}:", *entries] if entries else []
        return "\n".join(lines) + "\n"

    def add(self, family: str, body: str, kind: str) -> str:
        """Declare something. Returns its name."""
        self.count += 1
        name = f"{self.dice.choice(WORDS)}-{kind}-{self.count}"
        self.families[family].append(f"  {name}: {{{body}}}")
        return name

    def wire(self, start: str, to: str, cable: str = "thick", more: str = "") -> None:
        """Join two terminals, some with devices in the wire."""
        inline = [self.device() for _ in range(self.dice.choice((0, 0, 1, 1, 2)))]
        places = [
            f"{{{d}: {{from_end: {self.dice.choice(('from', 'to'))}, distance: 10 cm}}}}"
            if len(inline) == 1 and self.dice.random() < 0.7
            else d
            for d in inline
        ]
        devices = f", inline: [{', '.join(places)}]" if inline else ""
        parallel = ", parallel: 2" if self.dice.random() < 0.1 else ""
        plug = ", plug: flat-two-pin" if self.dice.random() < 0.05 else ""
        length = self.dice.choice(("0.4 m", "12 ft", "7.5 m"))
        body = f"from: {start}, to: {to}, cable: {cable}, length: {length}"
        self.add("wires", f"{body}{devices}{parallel}{plug}{more}", "run")

    def device(self) -> str:
        """A fuse, breaker or switch."""
        family = self.dice.choice(("fuses", "breakers", "switches"))
        more = ", poles: 2" if family != "fuses" and self.dice.random() < 0.4 else ""
        return self.add(family, f"rating: 40 A, voltage: 125 V, dc: true{more}", family[:-1])

    def bar(self) -> str:
        """A busbar."""
        return self.add("busbars", "rating: 250 A", "bar")

    def battery(self, bar: str) -> None:
        """A bank at a bar, some with a lead for each pole."""
        layout = self.dice.choice(("", ", arrangement: 2p", ", arrangement: 4p"))
        name = self.add(
            "batteries", f"chemistry: agm, nominal: 12 V, capacity: 90 Ah{layout}", "bank"
        )
        if self.dice.random() < 0.3:
            self.wire(f"{name}.positive", f"{bar}.positive")
            self.wire(f"{bar}.negative", f"{name}.negative")
        elif self.dice.random() < 0.3:
            between = self.device()
            self.wire(name, between)
            self.wire(between, bar)
        else:
            self.wire(name, bar)

    def controller(self, bar: str) -> None:
        """A controller with its array; some with a load or an alternator."""
        kind = self.dice.choice(("mppt", "mppt", "pwm", "vehicle-charger"))
        rated = "max_input_voltage: 150 V, max_output_current: 30 A, charge_voltage: 14.2 V"
        name = self.add("controllers", f"kind: {kind}, {rated}", "tracker")
        self.wire(f"{name}.battery", bar)
        self.array(f"{name}.pv")
        if kind == "vehicle-charger":
            start = self.add(
                "batteries", "chemistry: agm, nominal: 12 V, capacity: 70 Ah", "starter"
            )
            source = self.add(
                "chargers", "kind: alternator, max_output_current: 90 A", "alternator"
            )
            self.wire(source, start)
            self.wire(start, f"{name}.alternator")
        elif self.dice.random() < 0.3:
            self.load(f"{name}.load")
        if self.dice.random() < 0.3:
            port = self.dice.choice(("pv", "battery"))
            self.add("arresters", f"across: {name}.{port}, voltage: 200 V", "arrester")

    def array(self, target: str) -> None:
        """Strings in one of the ways that they are joined."""
        shape = self.dice.choice(("one", "joint", "joint", "joint", "plugged", "series", "groups"))
        count = 1 if shape == "one" else self.dice.choice((2, 2, 3, 4, 6))
        strings = [self.string() for _ in range(count)]
        if shape == "one":
            self.wire(strings[0], target, "thin")
        elif shape == "series":
            for left, right in pairwise(strings):
                self.wire(f"{left}.negative", f"{right}.positive", "thin")
            self.wire(f"{strings[0]}.positive", f"{target}.positive", "thin")
            self.wire(f"{strings[-1]}.negative", f"{target}.negative", "thin")
        else:
            self.joined(strings, target, plugged=shape == "plugged", groups=shape == "groups")

    def joined(self, strings: list[str], target: str, *, plugged: bool, groups: bool) -> None:
        """Strings at a joint, or at two joints that meet in a third."""
        kind = self.dice.choice(("branch-connector", "combiner-box", "terminal-block"))
        if groups and len(strings) > 3:
            half = len(strings) // 2
            joints = [self.joint(strings[:half], plugged), self.joint(strings[half:], plugged)]
            whole = self.add("combiners", f"kind: {kind}, rating: 60 A", "joint")
            for joint in joints:
                self.wire(joint, whole, "thin")
        else:
            whole = self.joint(strings, plugged)
        self.wire(whole, target)

    def joint(self, strings: list[str], plugged: bool) -> str:
        """Strings at one joint."""
        kind = self.dice.choice(("branch-connector", "combiner-box", "terminal-block"))
        joins = f"joins: [{', '.join(strings)}], " if plugged else ""
        joint = self.add("combiners", f"{joins}kind: {kind}, rating: 60 A", "joint")
        if not plugged:
            for string in strings:
                self.wire(string, joint, "thin")
        return joint

    def string(self) -> str:
        """A string, uniform, mixed, by short form, or with a blocking diode."""
        body = self.dice.choice(
            (
                "module: m-200, series: 2",
                "module: m-90",
                "modules: [m-200, m-90, m-200]",
                "module: m-90, arrangement: 2s3p",
                "module: m-200, arrangement: 2p2s",
                "module: m-200, series: 2, blocking_diode: 0.5 V",
            )
        )
        return self.add("strings", body, "string")

    def alternator(self, bar: str) -> None:
        """A charger at a bar."""
        kind = self.dice.choice(("alternator", "shore"))
        self.wire(self.add("chargers", f"kind: {kind}, max_output_current: 50 A", kind), bar)

    def consumer(self, bar: str) -> None:
        """An inverter or a load at a bar."""
        if self.dice.random() < 0.4:
            self.wire(bar, self.add("inverters", "power: 1500 W, nominal: 12 V", "inverter"))
        else:
            self.load(bar)

    def load(self, feed: str) -> None:
        """A load, its wire drawn from either end."""
        note = self.dice.choice(("", ", note: a refrigerator that hums in the night"))
        name = self.add("loads", f"current: 4 A, nominal: 12 V{note}", "load")
        ends = (feed, name) if self.dice.random() < 0.7 else (name, feed)
        self.wire(*ends, "thin")

    def panel(self, bar: str) -> None:
        """A panel with ways, most of them used, some twice."""
        count = self.dice.choice((1, 2, 3, 5, 8))
        ways = ", ".join(f"way-{n}: {{fuse: {10 + n} A, style: blade}}" for n in range(count))
        name = self.add("distribution", f"rating: 100 A, ways: {{{ways}}}", "panel")
        self.wire(bar, name)
        for n in range(count):
            for _ in range(self.dice.choice((0, 1, 1, 1, 2))):
                self.load(f"{name}.way-{n}")

    def bond(self, bar: str) -> None:
        """A bond, and now and then a load that returns through the chassis."""
        ground = self.dice.choice(("chassis", "water", "earth"))
        self.add("bonds", f"from: {bar}.negative, to: {ground}, cable: thick, length: 1 m", "bond")
        if ground == "chassis" and self.dice.random() < 0.5:
            name = self.add("loads", "power: 60 W, nominal: 12 V", "lamp")
            self.wire(f"{bar}.positive", f"{name}.positive", "thin")
            self.wire(f"{name}.negative", "chassis", "thin")

    def lone_system(self) -> None:
        """Something that nothing joins to the rest."""
        bank = self.add("batteries", "chemistry: agm, nominal: 24 V, capacity: 50 Ah", "lone")
        self.wire(bank, self.add("inverters", "power: 300 W, nominal: 24 V", "lone-inverter"))


def plans(count: int) -> Iterator[str]:
    """Texts of plans, the same ones at every call."""
    dice = random.Random(SEED)
    for number in range(count):
        yield LargePlan(dice, number).text()
