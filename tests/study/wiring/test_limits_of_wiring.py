"""Wires, devices and sources at the limits of what is asked of them, and just beyond."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from plans import edited
from rules.protection.plans import packs
from study.test_several_members import BOAT, source
from study.wiring.test_grounding_by_hand import MADE
from study.wiring.test_grounding_by_hand import study as small_study
from wattproof.circuit import Terminal
from wattproof.physics.conductors import ConductorSize
from wattproof.study.wiring.arresters import Arrested
from wattproof.study.wiring.busbars import _sorted
from wattproof.study.wiring.discharging import Drawn
from wattproof.study.wiring.matched import _transported
from wattproof.study.wiring.plugged import _circuit_of
from wattproof.study.wiring.ports import MOST_EXCLUSIVE, at_once
from wattproof.study.wiring.size_words import _between_gauges
from wattproof.testing import study_of
from wattproof.working import Value


@pytest.mark.parametrize(("printed", "wakes"), [(200.0, True), (200.1, False), (150.0, True)])
def test_an_arrester_wakes_up_to_twice_what_its_parts_stand(printed: float, wakes: bool) -> None:
    """Made for 200 V beside an input of 100 V it still protects; made for more it sleeps on."""
    arrester = cast(Any, SimpleNamespace(name="arrester"))
    rated, cold, stands = Value(printed, "V"), Value(80.0, "V"), Value(100.0, "V")
    assert Arrested(arrester, "pv", "tracker", True, rated, cold, stands).wakes is wakes


@pytest.mark.parametrize(("nominal", "volts"), [("26 V", 32.0), ("26.1 V", 80.0)])
def test_up_to_which_bank_a_device_without_a_mark_is_taken_for_one_of_24_volts(
    nominal: str, volts: float
) -> None:
    plan = edited(
        (
            "voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true",
            "interrupt: 10 kA, dc: true",
        ),
        ("nominal: 12.8 V", f"nominal: {nominal}"),
        ("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"),
        ("max_charge_voltage: 14.6 V", "max_charge_voltage: 29.2 V"),
    )
    found = study_of(plan).wiring.devices["charge-fuse"].rated_voltage
    assert found is not None
    assert found.number == volts


@pytest.mark.parametrize(("air", "hot"), [("89 °C", False), ("90 °C", True), ("91 °C", True)])
@pytest.mark.parametrize("size", ["10 AWG", "600 mm²"])
def test_air_as_hot_as_the_insulation_stands(size: str, air: str, hot: bool) -> None:
    """With a table that allows nothing there, and for a size of which no table says anything."""
    plan = edited(("roof: {ambient: 65 °C", f"roof: {{ambient: {air}"),
                  ("pv-10: {size: 10 AWG", f"pv-10: {{size: {size}"))  # fmt: skip
    assert study_of(plan).wiring.wires["home-run"].too_hot is hot


def test_insulation_that_may_not_be_in_an_engine_space_is_too_hot_there() -> None:
    """E-11 allows no current to 60 °C insulation there, though the air is cooler."""
    plan = edited(
        ("cabin: {ambient: 30 °C}", "cabin: {ambient: 40 °C, engine_space: true}"),
        plan=BOAT.replace("insulation_temperature: 105 °C", "insulation_temperature: 60 °C"),
    )
    assert study_of(plan).wiring.wires["lamp-run"].too_hot
    assert not study_of(BOAT).wiring.wires["lamp-run"].too_hot


def test_the_sun_on_a_roof_counts_under_its_height_alone() -> None:
    """NEC 310.15(B)(2): 33 K on a pipe less than 23 mm over it."""
    for height, degrees in (("22.9 mm", 44.0 + 33.0), ("23 mm", 65.0)):
        plan = edited(("roof: {ambient: 65 °C", f"roof: {{ambient: 65 °C, over_roof: {height}"),
                      ("length: 4 m,", "length: 4 m, run: conduit,"),
                      ("hottest: 40 °C", "hottest: 44 °C"))  # fmt: skip
        assert study_of(plan).wiring.wires["home-run"].ambient.number == degrees


@pytest.mark.parametrize("count", [MOST_EXCLUSIVE, MOST_EXCLUSIVE + 1])
def test_so_many_sources_that_are_never_on_together_are_all_counted(count: int) -> None:
    """A ring of them: up to twelve, every other one; with more it falls to the safe side."""
    ring = [source(f"s{n}", f"s{(n + 1) % count}") for n in range(count)]
    counts = at_once([(each, 10.0) for each in ring])
    assert sum(counts) == (count // 2 if count == MOST_EXCLUSIVE else count)


def test_of_two_sources_that_are_never_on_together_the_larger_counts() -> None:
    """Whichever of the two names the other, and in whatever order; of two apart both."""
    one, other = source("one", "other"), source("other", "none")
    for pair in ([(one, 10.0), (other, 20.0)], [(other, 20.0), (one, 10.0)]):
        assert [amps for (_, amps), on in zip(pair, at_once(pair), strict=True) if on] == [20.0]
    assert at_once([(one, 10.0), (source("third", "none"), 20.0)]) == [True, True]
    assert at_once([(one, 10.0)]) == [True]
    assert at_once([]) == []


def test_the_next_larger_size_may_be_a_little_larger_only() -> None:
    """350 kcmil is 177 mm²; the tables in mm² go on with 185."""
    plan = edited(
        ("code: nec-2023", "code: iec"), ("batt-8: {size: 8 AWG", "batt-8: {size: 350 kcmil")
    )
    larger = [w.size.name for w in study_of(plan).wiring.wires["charge-run"].larger_sizes()]
    assert larger == ["185 mm²", "240 mm²", "300 mm²"]


@pytest.mark.parametrize(
    ("gives", "takes", "amps"),
    [
        ([(1.0, 30.0), (0.5, 20.0)], [(0.0, 10.0), (0.2, 40.0)], 10.0 + 20.0 * 0.8 + 20.0 * 0.3),
        ([(1.0, 10.0), (0.5, 40.0)], [(0.0, 30.0), (0.2, 40.0)], 10.0 + 20.0 * 0.5 + 20.0 * 0.3),
        ([(1.0, 30.0)], [(0.0, 10.0)], 10.0),
        ([(0.2, 30.0)], [(0.5, 10.0)], 0.0),
        ([], [(0.0, 10.0)], 0.0),
    ],
)
def test_what_sources_give_to_consumers_by_their_shares(
    gives: list[tuple[float, float]], takes: list[tuple[float, float]], amps: float
) -> None:
    """The source with the largest share serves the consumer with the smallest first."""
    assert _transported(gives, takes) == pytest.approx(amps)


def test_without_a_bank_or_a_way_there_is_no_resistance() -> None:
    """3.35 mΩ inside: 13.4 V drive 4000 A; at the posts themselves nothing is added."""
    plan = edited(
        ("max_charge_current: 50 A", "max_charge_current: 50 A, short_circuit_current: 4 kA")
    )
    study = study_of(plan)
    banks, network = list(study.battery.banks), study.wiring.network
    post = Terminal("house", "", "positive")
    at_post = network.resistance(banks, post)
    assert at_post is not None
    assert at_post.number == pytest.approx(13.4 / 4000.0)
    assert network.resistance([], post) is None
    assert network.resistance(banks, Terminal("nowhere", "", "positive")) is None


@pytest.mark.parametrize(("second", "amps"), [("100 Ah", 30.0), ("200 Ah", 60.0)])
def test_of_two_unlike_packs_each_takes_all_when_the_other_is_full(
    second: str, amps: float
) -> None:
    """60 A into two alike are 30 A each to the end; of unlike ones one is full before the other."""
    shore = "chargers:\n  shore: {kind: shore, max_output_current: 60 A, charge_voltage: 14.4 V}\n"
    run = "  shore-run: {from: shore, to: bar, cable: b-4, length: 2 m, place: cabin}\n"
    plan = edited(
        ("loads:\n", f"{shore}loads:\n"),
        ("  pack-2: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah",
         f"  pack-2: {{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: {second}"),
        plan=packs(2, 100, "b-4", run),
    )  # fmt: skip
    wires = study_of(plan).wiring.wires
    for lead in ("pack-run-1", "pack-run-2"):
        current = wires[lead].current
        assert current is not None
        assert current.number == pytest.approx(amps)


@pytest.mark.parametrize(
    ("area", "words"),
    [
        (0.1, "below 24 AWG"),
        (6.0, "between 10 and 9 AWG"),
        (120.0, "between 4/0 AWG and 250 kcmil"),
        (130.0, "between 250 kcmil and 300 kcmil"),
        (300.0, "500 kcmil or above"),
    ],
)
def test_a_size_in_square_millimetres_among_gauges(area: float, words: str) -> None:
    """By ASTM B258: 10 AWG is 5.26 mm², 9 AWG 6.63, 4/0 107.2; 250 kcmil 126.7, 500 253.4."""
    assert _between_gauges(ConductorSize(area)) == words


def test_what_is_drawn_for_long_leaves_out_what_runs_for_minutes() -> None:
    bank: Any = SimpleNamespace(name="house")
    lamp, pump, winch = (
        SimpleNamespace(name=name, short_duty=duty)
        for name, duty in (("lamp", None), ("pump", None), ("winch", "2 min"))
    )
    amps = {each.name: Value(a, "A") for each, a in ((lamp, 10.0), (pump, 20.0), (winch, 100.0))}

    def for_long(*drawing: SimpleNamespace) -> float | None:
        consumers = tuple((each, amps[each.name]) for each in drawing)
        found = Drawn((bank,), cast(Any, consumers), Value(130.0, "A")).for_long
        return None if found is None else found.number

    assert for_long(lamp, pump, winch) == 30.0
    assert for_long(lamp, pump) == 130.0
    assert for_long(winch) is None


@pytest.mark.parametrize(("kind", "circuit"), [("shore", "battery"), ("alternator", "alternator")])
def test_to_which_circuit_a_plug_belongs(kind: str, circuit: str) -> None:
    source_of = (
        "chargers:\n  source: {kind: KIND, max_output_current: 60 A, charge_voltage: 14.4 V}\n"
    )
    run = "  source-run: {from: source, to: bar, cable: thick, length: 2 m, place: cabin}\n"
    plan = edited(
        ("loads:\n", f"{source_of.replace('KIND', kind)}loads:\n"),
        ("wires:\n", f"wires:\n{run}"),
        plan=BOAT,
    )
    study = study_of(plan)
    assert _circuit_of(study.wiring.wires["source-run"], lambda _: None, study.circuit) == circuit
    assert _circuit_of(study.wiring.wires["lamp-run"], lambda _: None, study.circuit) == "battery"


def test_each_source_gives_its_own_output() -> None:
    chargers = "".join(
        f"  {name}: {{kind: shore, max_output_current: {amps} A, charge_voltage: 14.4 V}}\n"
        for name, amps in (("small", 30), ("large", 60))
    )
    runs = "".join(
        f"  {name}-run: {{from: {name}, to: bar, cable: b-4, length: 2 m, place: cabin}}\n"
        for name in ("small", "large")
    )
    plan = edited(("loads:\n", f"chargers:\n{chargers}loads:\n"), plan=packs(2, 100, "b-4", runs))
    network = study_of(plan).wiring.network
    given = {str(c.name): network.output(c).number for c in network.circuit.plan.chargers.values()}
    assert given == {"small": 30.0, "large": 60.0}


def test_of_legs_with_one_current_the_first_by_name_comes_first() -> None:
    legs = [("b", Value(2.0, "A")), ("c", Value(3.0, "A")), ("a", Value(2.0, "A"))]
    assert [name for name, _ in _sorted(legs)] == ["c", "a", "b"]


def test_of_the_poles_of_a_bar_the_one_that_carries_more_is_told() -> None:
    """The lamp comes back past it."""
    wires = (
        "z: from: house.positive, to: bar.positive\na: from: bar.positive, to: lamp.positive\n"
        "y: from: house.negative, to: bar.negative\nb: from: bar.positive, to: pump.positive\n"
        "back: from: lamp.negative, to: house.negative\n"
        "pump-back: from: pump.negative, to: bar.negative\n"
    )
    [bar] = small_study("", wires).wiring.busbars
    assert [(name, amps.number) for name, amps in bar.legs] == [("z", 5.0), ("b", 3.0), ("a", 2.0)]
    alone = wires.replace("b: from: bar.positive", "b: from: house.positive")
    [bar] = small_study("", alone).wiring.busbars
    assert [name for name, _ in bar.legs] == ["pump-back", "y"]


def test_a_fuse_between_two_wires_is_no_end_on_its_own_stud() -> None:
    fuse = f"fuses:\n  main: {{rating: 30 A, {MADE}}}\n"
    wires = (
        "plus: from: house.positive, to: main.line, pole: positive\n"
        "on: from: main.load, to: lamp.positive, pole: positive\n"
        "back: from: lamp.negative, to: house.negative\n"
    )
    found = {stud.shown: stud.ends for stud in small_study(fuse, wires).wiring.crowded}
    assert (found["main.line.positive"], found["main.load.positive"]) == (("plus",), ("on",))
