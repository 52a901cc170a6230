"""The devices that cut a place off all banks, by hand, with parts of the mesh away."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.circuit import Part, Passage, Terminal, build_circuit
from wattproof.plan import load_plan
from wattproof.study.battery.least_cut import LeastCuts

# bank one -- 100 A -- bar -- 30 A -- far        bank two -- 60 A -- bar
PLAN = edited(
    (
        "\nbatteries:\n",
        """
busbars:
  bar: {rating: 200 A}
  far: {rating: 200 A}
batteries:
  two: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah}
""",
    ),
    (
        "\nfuses:\n",
        """
fuses:
  f100: {rating: 100 A, voltage: 58 V, style: bolt-down, dc: true}
  f60: {rating: 60 A, voltage: 58 V, style: bolt-down, dc: true}
  f30: {rating: 30 A, voltage: 58 V, style: bolt-down, dc: true}
  f20: {rating: 20 A, voltage: 58 V, style: bolt-down, dc: true}
""",
    ),
    (
        "\nwires:\n",
        """
wires:
  one-run: {from: house, to: bar, cable: batt-8, length: 1 m, inline: [f100]}
  two-run: {from: two, to: bar, cable: batt-8, length: 1 m, inline: [f60]}
  far-run: {from: bar, to: far, cable: batt-8, length: 1 m, inline: [f30]}
  far-tie: {from: two, to: far, cable: batt-8, length: 1 m, inline: [f20]}
""",
    ),
)


CIRCUIT = build_circuit(load_plan("plan.yaml", text=PLAN))
NONE: frozenset[Part] = frozenset()


def at(component: str) -> Terminal:
    return Terminal(component, "", "positive")


def positives() -> list[Part]:
    """What joins the banks and the bars by their positives."""
    return [
        part
        for part in CIRCUIT.battery_side
        if part.start.pole == "positive" and part.name != "charge-run"
    ]


def named(name: str) -> Part:
    [part] = (part for part in positives() if part.name == name)
    return part


def last_of(wire: str) -> Part:
    """The stretch of a wire that ends at the far bar."""
    [part] = (part for part in positives() if part.name == wire and part.end == at("far"))
    return part


@pytest.fixture
def cuts() -> LeastCuts:
    return LeastCuts(positives(), [at("house"), at("two")])


def names(cut: tuple[Passage, ...] | None) -> list[str] | None:
    return None if cut is None else [str(device.name) for device in cut]


def test_of_a_whole_mesh(cuts: LeastCuts) -> None:
    whole = cuts.without(NONE)
    assert names(whole.cut(at("bar"))) == ["f100", "f20", "f60"]  # 180 A; 190 with f30
    assert names(whole.cut(at("far"))) == ["f20", "f30"]
    assert whole.cut(at("two")) == ()
    assert names(whole.first) == ["f100", "f20", "f60"]
    assert [whole.is_before_all(at(name)) for name in ("house", "two", "bar")] == [
        True,
        True,
        False,
    ]
    assert cuts.without(NONE) is whole


def test_without_a_device(cuts: LeastCuts) -> None:
    assert names(cuts.without(NONE, named("f60")).cut(at("bar"))) == ["f100", "f20"]
    assert names(cuts.without(NONE, named("f20")).cut(at("far"))) == ["f30"]


def test_without_a_stretch_between_a_device_and_a_bar(cuts: LeastCuts) -> None:
    """Behind the device there is what it lets through, and at the bar what the other way does."""
    stretch = last_of("far-run")
    parted = cuts.without(NONE, stretch)
    assert names(parted.cut(at("far"))) == ["f20"]
    assert names(parted.cut(stretch.start)) == ["f30"]
    assert names(parted.cut(at("bar"))) == ["f100", "f60"]


def test_a_place_that_no_bank_reaches(cuts: LeastCuts) -> None:
    away = frozenset({last_of("far-run"), last_of("far-tie")})
    assert cuts.without(away).cut(at("far")) is None
    assert not cuts.without(away).is_before_all(at("far"))
