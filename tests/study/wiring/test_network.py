"""Currents of the battery side: cases worked by hand, each with its twin in ngspice."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import a_quarter_of
from external.battery_sides import COLD, HOT, RESTING, BatterySide, Run, drawn
from found import found_alone
from plans import edited
from rule_runs import RULES, found
from wattproof.circuit import Conductor, Passage, Terminal
from wattproof.study import Study
from wattproof.testing import study_of
from wattproof.working import steps


def joined(side: BatterySide, name: str, start: str, end: str, metres: float = 1.0) -> None:
    """Both poles of 2 AWG between two parts."""
    for pole, own in (("positive", name), ("negative", f"{name}-back")):
        side.runs.append(Run(own, pole, start, end, "batt-2", metres))


def packs(leads: list[float], load: float = 120.0) -> BatterySide:
    """Packs of 3 kA side by side, each on a fuse of its own, and one load."""
    side = BatterySide(bars=["bar"], ports={"load": -load})
    for number, metres in enumerate(leads):
        side.packs[f"pack-{number}"] = 3000.0
        joined(side, f"lead-{number}", f"pack-{number}", "bar", metres)
        side.runs[-2].fuse, side.runs[-2].fuse_at = f"fuse-{number}", 0.1
    joined(side, "load-run", "bar", "load")
    return side


def lasting(study: Study, name: str) -> float:
    """The lasting current of a wire or device (A)."""
    parts = [e for e in study.circuit.battery_side if e.name == name]
    values = [v.number for p in parts if (v := study.wiring.network.lasting(p)) is not None]
    return max(values, default=0.0)


@pytest.mark.parametrize("number", [2, 3, 6])
def test_like_packs_carry_their_share_each(number: int, tmp_path: Path) -> None:
    side = packs([0.6] * number)
    study = study_of(side.plan())
    theirs = side.currents("load", tmp_path)
    for k in range(number):
        assert lasting(study, f"lead-{k}") == pytest.approx(120.0 / number)
        assert lasting(study, f"fuse-{k}") == pytest.approx(120.0 / number)
        assert lasting(study, f"lead-{k}-back") == pytest.approx(120.0 / number)
        assert abs(theirs[f"lead-{k}"]) * 120.0 == pytest.approx(120.0 / number, rel=1e-3)
    assert lasting(study, "load-run") == 120.0


def test_a_share_that_follows_from_likeness_rests_on_no_assumption() -> None:
    """Packs without a short-circuit current on the label share evenly all the same."""
    text = packs([0.6] * 3).plan().replace(", short_circuit_current: 3000 A", "")
    study = study_of(text)
    for wire in ("lead-0", "lead-1", "lead-2"):
        current = study.wiring.wires[wire].current
        assert current is not None
        assert current.number == pytest.approx(40.0)
        assert not current.assumptions


def test_unlike_leads_share_as_their_resistances_do(tmp_path: Path) -> None:
    """Each way is 13.4 V / 3 kA inside and both poles of its lead, hot; one figure for all."""
    metres = [0.5, 1.0, 3.0]
    ways = [1 / (RESTING / 3000 + 2 * m * HOT["batt-2"]) for m in metres]
    side = packs(metres)
    study = study_of(side.plan())
    theirs = side.currents("load", tmp_path)
    [sharing] = study.wiring.sharing
    for k, way in enumerate(ways):
        share = way / sum(ways)
        assert lasting(study, f"lead-{k}") == pytest.approx(120.0 * share, rel=1e-3)
        assert lasting(study, f"fuse-{k}") == pytest.approx(lasting(study, f"lead-{k}"))
        assert sharing.shares[k].number * 120.0 == pytest.approx(lasting(study, f"fuse-{k}"))
        assert abs(theirs[f"lead-{k}"]) == pytest.approx(share, rel=1e-3)
    assert found(side.plan(), "parallel-paths-unequal")


def two_banks() -> BatterySide:
    """House and engine battery on a link, each with a source and a load of its own."""
    side = BatterySide(bars=["house-bar", "engine-bar"])
    side.packs = {"house": 5000.0, "engine": 1500.0}
    side.ports = {"fridge": -100.0, "lamp": -10.0, "tracker-like": 30.0, "generator": 90.0}
    joined(side, "house-lead", "house", "house-bar", 0.5)
    joined(side, "engine-lead", "engine", "engine-bar", 0.5)
    joined(side, "link", "house-bar", "engine-bar", 4.0)
    joined(side, "fridge-run", "house-bar", "fridge")
    joined(side, "lamp-run", "engine-bar", "lamp")
    joined(side, "tracker-like-run", "house-bar", "tracker-like")
    joined(side, "generator-run", "engine-bar", "generator")
    return side


def test_a_link_carries_what_can_flow_through_it_and_not_all_loads(tmp_path: Path) -> None:
    """All 90 A of the one source where the battery on its own side is full, and no 110 A of loads.

    Of the 100 A that the house draws the engine battery gives what the resistances let it.
    """
    side = two_banks()
    # Two banks that are told apart by their labels, so that each may be full alone.
    text = side.plan().replace("engine: {chemistry: lithium-iron-phosphate, nominal: 12.8 V",
                               "engine: {chemistry: agm, nominal: 12 V")  # fmt: skip
    study = study_of(text)
    assert lasting(study, "link") == pytest.approx(90.0)
    draws = [
        v.number
        for e in study.circuit.battery_side
        if e.name == "link" and (v := study.wiring.network.lasting_of(e, "draw")) is not None
    ]
    house = RESTING / 5000 + 2 * 0.5 * HOT["batt-2"]
    engine = 12.9 / 1500 + 2 * 4.5 * HOT["batt-2"]
    assert max(draws) == pytest.approx(100.0 * house / (house + engine), rel=1e-3)
    assert max(draws) < 25.0
    side.packs["engine"] = 1500.0 * RESTING / 12.9  # the netlist has one voltage at rest
    assert abs(side.currents("fridge", tmp_path)["link"]) * 100 == pytest.approx(
        max(draws), rel=1e-3
    )


def test_two_equal_ways_carry_half_each(tmp_path: Path) -> None:
    side = packs([0.6], load=80.0)
    joined(side, "second-run", "bar", "load")
    study = study_of(side.plan())
    assert lasting(study, "load-run") == lasting(study, "second-run") == pytest.approx(40.0)
    assert abs(side.currents("load", tmp_path)["load-run"]) == pytest.approx(0.5, rel=1e-3)


def test_each_pack_cut_off_in_turn() -> None:
    """With one of three gone the others carry half each, and one of two all of it."""
    for number in (2, 3):
        study = study_of(packs([0.6] * number).plan())
        [fuse] = [e for e in study.circuit.battery_side if e.name == "fuse-0"]
        told = {c.name: c.current.number for c in study.wiring.network.when_cut_off(fuse)}
        rest = 120.0 / (number - 1)
        assert told == {f"pack-{k}": pytest.approx(rest) for k in range(1, number)}


def test_a_cut_off_that_leaves_less_is_not_told() -> None:
    """Two packs on one bar, one on the other beside the load: 2/3 of it through the link.

    With the one beside the load gone it is all of it; with one of the two gone, half.
    """
    side = BatterySide(bars=["bar", "far-bar"], ports={"load": -120.0})
    for number, place in enumerate(("bar", "bar", "far-bar")):
        side.packs[f"pack-{number}"] = 1000.0
        joined(side, f"lead-{number}", f"pack-{number}", place, 0.1)
        side.runs[-2].fuse, side.runs[-2].fuse_at = f"fuse-{number}", 0.05
    joined(side, "link", "bar", "far-bar", 0.1)
    joined(side, "load-run", "far-bar", "load")
    study = study_of(side.plan())
    assert 70.0 < lasting(study, "link") < 80.0
    [part, *_] = study.wiring.wires["link"].conductors
    assert {(c.name, round(c.current.number)) for c in study.wiring.network.when_cut_off(part)} == {
        ("pack-2", 120)
    }


def test_with_one_cut_off_what_is_drawn_and_what_is_given_add_up() -> None:
    """A source and one pack here, two packs and a load there: both go through the link.

    Of 100 A drawn a third and of 30 A given two thirds; with a pack there gone, half of each.
    """
    side = BatterySide(bars=["bar", "far-bar"], ports={"load": -100.0, "shore": 30.0})
    for number, place in enumerate(("bar", "far-bar", "far-bar")):
        side.packs[f"pack-{number}"] = 1000.0
        joined(side, f"lead-{number}", f"pack-{number}", place, 0.1)
        side.runs[-2].fuse, side.runs[-2].fuse_at = f"fuse-{number}", 0.05
    joined(side, "link", "bar", "far-bar", 0.1)
    joined(side, "load-run", "far-bar", "load")
    joined(side, "shore-run", "shore", "bar")
    study = study_of(side.plan())
    assert lasting(study, "link") == pytest.approx(100 / 3 + 30 * 2 / 3, rel=0.03)
    [part, *_] = study.wiring.wires["link"].conductors
    cut_off = study.wiring.network.when_cut_off(part)
    told = {c.name: c.current.number for c in cut_off}
    assert told == {f"pack-{k}": pytest.approx(50 + 15, rel=0.03) for k in (1, 2)}
    drawn, given, link = steps(cut_off[0].current)
    assert [(each.symbol, each.number) for each in (drawn, given)] == [
        ("Idraw", 100.0),
        ("Icharge", 30.0),
    ]
    assert link.formula == "network (Idraw + Icharge)"


def test_a_single_bank_has_none_beside_it_to_be_cut_off() -> None:
    study = study_of(packs([0.6]).plan())
    assert not any(study.wiring.network.when_cut_off(e) for e in study.circuit.battery_side)


def test_a_short_at_a_fuse_in_one_pole_counts_the_way_back(tmp_path: Path) -> None:
    """2 m of 2 AWG, the fuse halfway: 1 m there and 1 m back, cold."""
    side = packs([2.0])
    side.runs[0].fuse_at = 1.0
    study = study_of(side.plan())
    [fuse] = [e for e in study.circuit.battery_side if isinstance(e, Passage)]
    short = study.wiring.network.through(fuse)
    assert short is not None
    by_hand = RESTING / (RESTING / 3000 + 2 * 1.0 * COLD["batt-2"])
    assert short.current.number == pytest.approx(by_hand, rel=1e-3)
    side.runs[1].fuse, side.runs[1].fuse_at = "joint", 1.0
    theirs, _ = side.shorted("lead-0-after", "lead-0-back-before", tmp_path)
    assert short.current.number == pytest.approx(theirs, rel=5e-3)


def test_a_device_between_wires_counts_the_way_back_as_far_along() -> None:
    """1 m to the fuse, 2 m on, 3 m back in one piece: 1 m of it belongs to the fuse."""
    text = packs([1.0]).plan()
    text = edited(
        ("fuses:\n  fuse-0:", "fuses:\n  main:"),
        ("{from: pack-0.positive, to: bar.positive, cable: batt-2, length: 1 m, place: cabin, "
         "inline: [{fuse-0: {from_end: from, distance: 0.1 m}}]}",
         "{from: pack-0.positive, to: main, cable: batt-2, length: 1 m, place: cabin, "
         "pole: positive}\n"
         "  onward: {from: main, to: load.positive, cable: batt-2, length: 2 m, pole: positive}"),
        ("{from: pack-0.negative, to: bar.negative, cable: batt-2, length: 1 m, place: cabin}",
         "{from: pack-0.negative, to: load.negative, cable: batt-2, length: 3 m, place: cabin}"),
        ("  load-run: {from: bar.positive, to: load.positive, cable: batt-2, length: 1 m, "
         "place: cabin}\n", ""),
        ("  load-run-back: {from: bar.negative, to: load.negative, cable: batt-2, length: 1 m, "
         "place: cabin}\n", ""),
        ("busbars:\n  bar: {rating: 300 A}\n", ""),
        plan=text,
    )  # fmt: skip
    study = study_of(text)
    [fuse] = [e for e in study.circuit.battery_side if isinstance(e, Passage)]
    short = study.wiring.network.through(fuse)
    assert short is not None
    by_hand = RESTING / (RESTING / 3000 + 2 * 1.0 * COLD["batt-2"])
    assert short.current.number == pytest.approx(by_hand, rel=1e-3)
    at_load = study.wiring.network.short_at(Terminal("load", "", "positive"))
    assert at_load is not None
    whole = RESTING / (RESTING / 3000 + 6 * COLD["batt-2"])
    assert at_load.current.number == pytest.approx(whole, rel=1e-3)


def test_two_labels_that_mean_the_same_agree() -> None:
    """4 mΩ at 13.4 V at rest drive 3350 A."""
    by_current = packs([1.0]).plan().replace("3000 A", "3350 A")
    by_resistance = by_current.replace("short_circuit_current: 3350 A", "internal_resistance: 4 mΩ")
    amps = []
    for text in (by_current, by_resistance):
        study = study_of(text)
        short = study.wiring.network.short_at(Terminal("bar", "", "positive"))
        assert short is not None
        amps.append(short.current.number)
    assert amps[0] == pytest.approx(amps[1])
    assert amps[0] == pytest.approx(RESTING / (4e-3 + 2 * COLD["batt-2"]), rel=1e-3)


def test_what_nothing_feeds_carries_nothing() -> None:
    side = packs([1.0])
    study = study_of(side.plan())
    network = study.wiring.network
    assert network.short_at(Terminal("nowhere", "", "positive")) is None
    assert all(network.rated(part) is None for part in study.circuit.battery_side)


@settings(max_examples=a_quarter_of(25), deadline=None)
@given(st.integers(100, 10_000))
def test_kirchhoff_at_every_terminal(seed: int) -> None:
    """What comes to a terminal by wires and devices leaves it there, banks and ports counted."""
    side = drawn(seed)
    study = study_of(side.plan())
    network = study.wiring.network
    case = network._lasting._case(frozenset(study.battery.side.banks))
    for port, flow in case.flows.items():
        sums: dict[Terminal, float] = {}
        for link in case.mesh.links:
            amps = flow.in_link(link)
            sums[link.end] = sums.get(link.end, 0.0) + amps
            sums[link.start] = sums.get(link.start, 0.0) - amps
        for cell in case.mesh.cells:
            amps = flow.through(cell)
            sums[cell.positive] = sums.get(cell.positive, 0.0) + amps
            sums[cell.negative] = sums.get(cell.negative, 0.0) - amps
        sums[port.plus] += 1.0
        assert port.minus is not None
        sums[port.minus] -= 1.0
        assert max(abs(amps) for amps in sums.values()) < 1e-9


@settings(max_examples=a_quarter_of(25), deadline=None)
@given(st.lists(st.tuples(st.integers(0, 100), st.integers(1, 60)), min_size=1, max_size=8))
def test_a_tree_carries_what_hangs_on_it(nodes: list[tuple[int, int]]) -> None:
    """One bank, bars in a tree, a load on each: a link carries all loads behind it."""
    side = BatterySide(bars=["bar-0"], packs={"bank": 4000.0})
    joined(side, "lead", "bank", "bar-0")
    behind = {0: 0.0}
    above = {}
    for number, (place, amps) in enumerate(nodes, start=1):
        parent = place % number
        above[number] = parent
        side.bars.append(f"bar-{number}")
        side.ports[f"load-{number}"] = -float(amps)
        joined(side, f"link-{number}", f"bar-{parent}", f"bar-{number}")
        joined(side, f"run-{number}", f"bar-{number}", f"load-{number}")
        behind[number] = 0.0
    for number, (_, amps) in enumerate(nodes, start=1):
        here = number
        while True:
            behind[here] += amps
            if here == 0:
                break
            here = above[here]
    study = study_of(side.plan())
    for number in above:
        assert lasting(study, f"link-{number}") == pytest.approx(behind[number], rel=1e-12)
        assert lasting(study, f"link-{number}-back") == pytest.approx(behind[number], rel=1e-12)
    assert lasting(study, "lead") == pytest.approx(behind[0], rel=1e-12)


SHORT = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {cabin: {ambient: 35 °C, coldest: 5 °C}}}
datasheets:
  cables:
    big: {size: SIZE, kind: battery, material: copper, insulation_temperature: 105 °C,
          voltage: 600 V}
fuses:
  source-fuse: {rating: 150 A, voltage: 58 V, interrupt: 20 kA, style: class-t, dc: true}
chargers:
  source: {kind: KIND, max_output_current: AMPS A, charge_voltage: 14.4 V}
loads:
  fridge: {power: DRAW W, nominal: 12 V}
busbars:
  bar: {rating: 400 A, voltage: 48 V}
batteries:
BANKS
wires:
  fridge-run: {from: bar, to: fridge, cable: big, length: 1 m, place: cabin}
  source-run: {from: source, to: bar, cable: big, length: 3 m, place: cabin,
               inline: [{source-fuse: {from_end: to, distance: 10 cm}}]}
LEADS
"""
LABELS = {
    "lithium": "chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah, "
    "max_charge_current: 50 A, max_charge_voltage: 14.6 V, place: cabin",
    "lead": "chemistry: agm, nominal: 12 V, capacity: 100 Ah, place: cabin",
}
OF_BANKS = (
    "alternator-straight-to-lithium",
    "charge-below-freezing",
    "charge-current-over-battery",
    "charge-current-too-small",
    "charge-voltage-wrong",
    "lead-drawn-too-hard",
    "load-over-battery-discharge",
    "temperature-compensation-wrong",
)
"""Rules that judge a bank as a whole, which no layout of its leads can change."""


def of_one(label: str, arrangement: str) -> tuple[str, str]:
    """A bank in the short form."""
    lead = "  lead: {from: bank, to: bar, cable: big, length: 50 cm, place: cabin}"
    return f"  bank: {{{label}, arrangement: {arrangement}}}", lead


def side_by_side(label: str, number: int) -> tuple[str, str]:
    """The same as batteries of their own on alike leads."""
    banks = [f"  bank-{k}: {{{label}}}" for k in range(number)]
    leads = [
        f"  lead-{k}: {{from: bank-{k}, to: bar, cable: big, length: 50 cm, place: cabin}}"
        for k in range(number)
    ]
    return "\n".join(banks), "\n".join(leads)


def in_a_row(label: str) -> tuple[str, str]:
    """Two in series, declared apart."""
    return f"  upper: {{{label}}}\n  lower: {{{label}}}", (
        "  plus: {from: upper.positive, to: bar.positive, cable: big, length: 50 cm}\n"
        "  link: {from: lower.positive, to: upper.negative, cable: big, length: 20 cm}\n"
        "  minus: {from: lower.negative, to: bar.negative, cable: big, length: 50 cm}"
    )


def verdicts(form: tuple[str, str], **values: str) -> set[tuple[str, str]]:
    """Rules of whole banks that a plan breaks, with their levels."""
    text = SHORT.replace("BANKS", form[0]).replace("LEADS", form[1])
    for key, value in values.items():
        text = text.replace(key, value)
    found = found_alone("plan.yaml", text, RULES).findings
    return {(f.rule, f.level) for f in found if f.rule in OF_BANKS}


@settings(max_examples=a_quarter_of(20), deadline=None)
@given(
    st.sampled_from(sorted(LABELS)),
    st.integers(2, 4),
    st.sampled_from(["alternator", "shore"]),
    st.integers(20, 250),
    st.integers(50, 4000),
    st.sampled_from(["2 AWG", "2/0 AWG"]),
)
def test_every_form_of_a_bank_has_the_same_verdicts(
    kind: str, number: int, source: str, amps: int, draw: int, size: str
) -> None:
    """Three in the short form are three on alike leads."""
    values = {"KIND": source, "AMPS": str(amps), "DRAW": str(draw), "SIZE": size}
    short = verdicts(of_one(LABELS[kind], f"{number}p"), **values)
    assert verdicts(side_by_side(LABELS[kind], number), **values) == short


@settings(max_examples=a_quarter_of(15), deadline=None)
@given(
    st.sampled_from(sorted(LABELS)),
    st.integers(20, 250),
    st.integers(50, 4000),
    st.sampled_from(["14.4 V", "26.8 V", "28.4 V", "29.6 V"]),
)
def test_two_in_series_declared_apart_are_one_bank(
    kind: str, amps: int, draw: int, volts: str
) -> None:
    values = {"nominal: 12 V}\nbusbars": "nominal: 24 V}\nbusbars", "KIND": "shore"}
    values |= {"AMPS": str(amps), "DRAW": str(draw), "SIZE": "2/0 AWG", "14.4 V": volts}
    assert verdicts(in_a_row(LABELS[kind]), **values) == verdicts(
        of_one(LABELS[kind], "2s"), **values
    )


def test_two_in_series_have_the_voltage_of_both() -> None:
    """2 × 12.8 V; 1200 W behind 2 x 1 m and 1.2 m; a short over both through both."""
    form = in_a_row(LABELS["lithium"])
    text = SHORT.replace("BANKS", form[0]).replace("LEADS", form[1])
    for key, value in {"KIND": "shore", "AMPS": "30", "DRAW": "1200", "SIZE": "2 AWG",
                       "nominal: 12 V}\nbus": "nominal: 24 V}\nbus",
                       "14.4 V": "28.4 V"}.items():  # fmt: skip
        text = text.replace(key, value)
    study = study_of(text)
    [bank] = study.battery.side.wholes
    assert bank.nominal.number == pytest.approx(25.6)
    assert bank.capacity.number == pytest.approx(100 * 3600)
    assert [part.name for part in bank.parts] == ["upper", "lower"]
    current = study.wiring.wires["fridge-run"].current
    assert current is not None
    low, ohms = bank.low_voltage.number, (2 * 1.0 + 0.5 + 0.2 + 0.5) * HOT["batt-2"]
    by_hand = (low - (low * low - 4 * ohms * 1200) ** 0.5) / (2 * ohms)
    assert current.number == pytest.approx(by_hand, rel=1e-6)
    assert lasting(study, "link") == pytest.approx(current.number)
    short = study.wiring.network.short_at(Terminal("bar", "", "positive"))
    assert short is not None
    inside = 2 * RESTING / 3500  # 35 A for each Ah, as is usual where no label tells it
    wires = (0.5 + 0.2 + 0.5) * COLD["batt-2"]
    assert short.current.number == pytest.approx(2 * RESTING / (inside + wires), rel=1e-3)
    assert [(b.name, round(a.number)) for b, a in short.banks] == [
        ("upper", round(short.current.number))
    ]


def test_what_hangs_on_load_terminals_comes_through_the_controller() -> None:
    """12 A in the lamp's wire, and in the controller's own where that is more than it gives."""
    lamp = "  lamp-run: {from: tracker.load, to: lamp, cable: batt-8, length: 3 m, place: cabin}\n"
    for amps, own in (("12 A", 20.0), ("28 A", 28.0)):
        text = edited(
            ("  charge-run", f"{lamp}  charge-run"),
            ("wires:\n", f"loads:\n  lamp: {{current: {amps}}}\nwires:\n"),
        )
        study = study_of(text)
        assert lasting(study, "lamp-run") == float(amps.split()[0])
        assert lasting(study, "charge-run") == own


def test_the_rating_counts_only_where_it_is_more_than_what_flows() -> None:
    """60 A in the controller's own wire, whose array gives some 22 A; 12 A in a lamp's."""
    lamp = "  lamp-run: {from: house, to: lamp, cable: batt-8, length: 3 m, place: cabin}\n"
    text = edited(
        ("max_output_current: 20 A", "max_output_current: 60 A"),
        ("series: 3", "series: 2"),
        ("  charge-run", f"{lamp}  charge-run"),
        ("wires:\n", "loads:\n  lamp: {current: 12 A}\nwires:\n"),
    )
    study = study_of(text)
    network = study.wiring.network
    assert lasting(study, "charge-run") < 30.0
    for part in study.wiring.wires["charge-run"].conductors:
        rated = network.rated(part)
        assert rated is not None
        assert rated.number == 60.0
    assert lasting(study, "lamp-run") == 12.0
    assert {network.rated(part) for part in study.wiring.wires["lamp-run"].conductors} == {None}


def test_every_answer_of_an_array_is_none() -> None:
    from plans import BASE

    study = study_of(BASE)
    network = study.wiring.network
    [part] = [e for e in study.circuit.elements if isinstance(e, Conductor) and e.name == "home-run"
              and e.pole == "positive"]  # fmt: skip
    assert network.lasting(part) is None
    assert network.short_along(part) is None
    assert network.when_cut_off(part) == ()


SHARED_NEGATIVE = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -10 °C, hottest: 40 °C, places: {cabin: {ambient: 35 °C}}}
datasheets:
  cables:
    batt-2: {size: 2 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
batteries:
  house: {chemistry: agm, nominal: 24 V, capacity: 100 Ah, short_circuit_current: 3 kA}
  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
converters:
  down: {input_nominal: 24 V, output_nominal: 12 V, max_output_current: 20 A}
wires:
  feed: {from: house, to: down.input, cable: batt-2, length: 150 cm, place: cabin}
  out: {from: down.output, to: start, pole: positive, cable: batt-2, length: 2 m, place: cabin}
  back: {from: start, to: house, pole: negative, cable: batt-2, length: 3 m, place: cabin}
"""


def test_the_other_pole_of_an_output_is_the_negative_that_a_converter_shares() -> None:
    """12.9 V at rest through 2 m to the output, 1.5 m of the input's negative and 3 m back."""
    network = study_of(SHARED_NEGATIVE).wiring.network
    short = network.short_at(Terminal("down", "output", "positive"))
    assert short is not None
    by_hand = 12.9 / (12.9 / 2000.0 + (2.0 + 1.5 + 3.0) * COLD["batt-2"])
    assert short.current.number == pytest.approx(by_hand, rel=1e-3)
    assert [bank.name for bank, _ in short.banks] == ["start"]
    at_input = network.short_at(Terminal("down", "input", "positive"))
    assert at_input is not None
    by_hand = 25.8 / (25.8 / 3000.0 + 2 * 1.5 * COLD["batt-2"])
    assert at_input.current.number == pytest.approx(by_hand, rel=1e-3)
