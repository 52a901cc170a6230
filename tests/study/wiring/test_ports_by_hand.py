"""What gives and draws current at which terminals: arrays, isolators, load terminals, lengths."""

from __future__ import annotations

import pytest

from external.battery_sides import HEAD
from study.wiring.test_grounding_by_hand import TWO, study
from study.wiring.test_network import lasting
from study.wiring.test_shorts_by_hand import device, three_packs
from wattproof.study import Study
from wattproof.study.wiring.ports import Port
from wattproof.testing import study_of

SUN = """\
strings:
  left: {module: hundred, series: 1, mounting: roof-gap}
  right: {module: hundred, series: 2, mounting: roof-gap}
controllers:
  sun: {kind: mppt, inputs: {east: {max_input_voltage: 60 V}, west: {max_input_voltage: 90 V}},
        max_output_current: 90 A, charge_voltage: 14.2 V}
"""
ROOF = (
    "left-run: from: left, to: sun.east\nright-run: from: right, to: sun.west\n"
    "charge: from: sun.battery, to: house\n"
)


def port_of(found: Study, name: str, kind: str = "charge") -> Port:
    [port] = [p for p in found.wiring.network.ports if p.name == name and p.kind == kind]
    return port


@pytest.mark.parametrize(("output", "most"), [("90 A", None), ("20 A", 20.0), ("10 A", 10.0)])
def test_a_tracker_gives_what_its_arrays_do_at_their_best(output: str, most: float | None) -> None:
    """One and two modules, each at its coldest voltage and 1.25 times 4.9 A, into 12 V.

    No more than it is rated for, where the arrays could give more.
    """
    found = study(SUN.replace("90 A", output), TWO + ROOF)
    arrays = found.array.arrays
    assert len(arrays) == 2
    watts = sum(a.all_strings[0].vmp("coldest").number * 4.9 * 1.25 for a in arrays)
    port = port_of(found, "sun")
    assert port.current.number == pytest.approx(most or watts / 12.0)
    assert port.rated.number == float(output.removesuffix(" A"))
    assert lasting(found, "charge") == pytest.approx(most or watts / 12.0)
    small = [p.name for p in found.wiring.network.under_rating]
    assert small == ([] if most else ["sun"])
    [part] = [e for e in found.circuit.battery_side if e.name == "charge" and e.pole == "positive"]
    rated = found.wiring.network.rated(part)
    assert (rated.number if rated is not None else None) == (None if most else 90.0)


def test_into_banks_side_by_side_the_lower_voltage_counts() -> None:
    """12 V beside 12.8 V: the more current is into 12 V."""
    for voltage in ("12.8 V", "11 V"):
        chemistry = "lithium-iron-phosphate" if voltage == "12.8 V" else "agm"
        wires = (
            TWO
            + ROOF
            + (
                "beside-plus: from: house.positive, to: start.positive\n"
                "beside-minus: from: house.negative, to: start.negative\n"
            )
        )
        found = study(SUN, wires, start=f"chemistry: {chemistry}, nominal: {voltage}")
        watts = sum(a.all_strings[0].vmp("coldest").number * 4.9 * 1.25 for a in found.array.arrays)
        least = 11.0 if voltage == "11 V" else 12.0
        assert port_of(found, "sun").current.number == pytest.approx(watts / least)


def test_a_pulse_width_controller_passes_on_the_currents_of_its_arrays() -> None:
    """1.25 × 5.2 A of each, and no more than its rating."""
    pwm = SUN.replace("kind: mppt", "kind: pwm")
    assert port_of(study(pwm, TWO + ROOF), "sun").current.number == pytest.approx(2 * 6.5)
    small = study(pwm.replace("90 A", "12 A"), TWO + ROOF)
    assert port_of(small, "sun").current.number == 12.0


LOADS = """\
strings:
  roof: {module: hundred, series: 1, mounting: roof-gap}
controllers:
  sun: {kind: mppt, max_input_voltage: 60 V, max_output_current: 30 A, charge_voltage: 14.2 V,
        load_current: 10 A}
"""
ON_LOAD = (
    "home: from: roof, to: sun.pv\ncharge: from: sun.battery, to: house\n"
    "out: from: sun.load, to: bar\n"
    "lamp-run: from: bar, to: lamp\npump-run: from: bar, to: pump\n"
)


def test_what_hangs_on_load_terminals_is_handed_on() -> None:
    """2 and 3 A out of them, and as much out of the battery beside what is charged."""
    found = study(LOADS, ON_LOAD)
    given, drawn = (port_of(found, "sun.load", kind) for kind in ("charge", "draw"))
    for port, end in ((given, "load"), (drawn, "battery")):
        assert port.current.number == 5.0
        assert port.minus is not None
        assert (port.plus.port, port.minus.port) == (end, end)
        assert (port.plus.pole, port.minus.pole) == ("positive", "negative")
    assert lasting(found, "out") == 5.0
    assert lasting(found, "lamp-run") == 2.0
    [part] = [e for e in found.circuit.battery_side if e.name == "charge" and e.pole == "positive"]
    taken = found.wiring.network.lasting_of(part, "draw")
    assert taken is not None
    assert taken.number == 5.0
    idle = study(LOADS, ON_LOAD.split("out:")[0] + TWO)
    assert not [p for p in idle.wiring.network.ports if p.name == "sun.load"]


ISOLATOR = """\
chargers:
  alternator: {kind: alternator, max_output_current: 60 A}
  second: {kind: alternator, max_output_current: 25 A}
diode_isolators:
  split: {rating: 120 A, outputs: [one, two], drop: 0.5 V}
"""
SPLIT = (
    "feed: from: alternator.positive, to: split.input\n"
    "more: from: second.positive, to: split.input\n"
    "to-house: from: split.one, to: house.positive\nto-start: from: split.two, to: start.positive\n"
)


@pytest.mark.parametrize("bond", ["", "house", "start"])
def test_an_isolator_may_pass_all_on_by_either_output(bond: str) -> None:
    """85 A of both alternators by the one or the other; each feeds its own cable.

    They come back through the engine: to the battery that is fed, and at the input to the one that
    is bonded, where its negative is not the other's as well.
    """
    bonds = f"a: from: {bond}.negative, to: chassis" if bond else ""
    tie = "tie: from: house.negative, to: start.negative\n"
    found = study(ISOLATOR, TWO + SPLIT + ("" if bond else tie), bonds)
    assert lasting(found, "feed") == 60.0
    assert lasting(found, "more") == 25.0
    for wire in ("to-house", "to-start"):
        [part] = found.wiring.wires[wire].conductors
        given = found.wiring.network.lasting_of(part, "charge")
        assert given is not None
        assert given.number == 85.0
    ports = [p for p in found.wiring.network.ports if p.plus.component == "split"]
    assert [(p.name, p.kind, p.plus.port) for p in ports] == [
        ("alternator", "draw", "input"),
        ("second", "draw", "input"),
        ("alternator", "charge", "one"),
        ("second", "charge", "one"),
        ("alternator", "charge", "two"),
        ("second", "charge", "two"),
    ]
    ends = {p.plus.port: p.minus.component for p in ports if p.minus is not None}
    assert ends["one"] == "house"
    assert ends["two"] == "start"
    if bond:
        assert ends["input"] == bond


@pytest.mark.parametrize(
    ("inline", "lengths"),
    [
        ("[{a: {from_end: from, distance: 1 m}}, b, {c: {from_end: to, distance: 0.5 m}}]",
         [1.0, 0.0, 3.5, 0.5]),
        ("[a, {b: {from_end: from, distance: 2 m}}, {c: {from_end: to, distance: 0.5 m}}]",
         [0.0, 2.0, 2.5, 0.5]),
        ("[{a: {from_end: from, distance: 1 m}}, {b: {from_end: from, distance: 3 m}}, c]",
         [1.0, 2.0, 0.0, 2.0]),
    ],
)  # fmt: skip
@pytest.mark.parametrize("turned", [False, True])
def test_what_is_left_of_a_wire_lies_behind_the_device_whose_place_is_not_told(
    inline: str, lengths: list[float], turned: bool
) -> None:
    """Of 5 m, seen from the battery; written from the lamp it lies before that device."""
    made = "{rating: 50 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}"
    fuses = "fuses:\n" + "".join(f"  {name}: {made}\n" for name in "abc")
    ends = ("lamp", "house") if turned else ("house", "lamp")
    text = (
        HEAD
        + fuses
        + (
            "batteries:\n  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n"
            "loads:\n  lamp: {current: 2 A}\nwires:\n"
            f"  run: {{from: {ends[0]}.positive, to: {ends[1]}.positive, cable: batt-8, "
            f"length: 5 m, inline: {inline}}}\n"
            "  back: {from: lamp.negative, to: house.negative, cable: batt-8, length: 5 m}\n"
        )
    )
    found = study_of(text)
    own = [found.wiring.network.lengths[c] for c in found.wiring.wires["run"].conductors]
    if turned:  # the first of the two stretches that are not told is the farther one
        k = next(i for i, metres in enumerate(lengths) if not metres)
        lengths = [*lengths[:k], lengths[k + 1], lengths[k], *lengths[k + 2 :]]
    assert own == pytest.approx(lengths)
    assert sum(own) == pytest.approx(5.0)


def test_a_device_has_to_break_what_the_worse_of_its_sides_drives() -> None:
    """From its own pack of 1 kA less than from the others, of 2 and 4 kA, into that pack."""
    found = study_of(three_packs().plan())
    network, fuse = found.wiring.network, device(found, "fuse-0")
    sides = [network.through_from(fuse, start=start) for start in (True, False)]
    amps = [side.current.number for side in sides if side is not None]
    assert len(amps) == 2
    most = network.through(fuse)
    assert most is not None
    assert most.current.number == max(amps) > 2 * min(amps)


def test_a_way_out_of_a_battery_goes_on_through_load_terminals() -> None:
    """Through the controller to the fuse behind it, 1 m and 1 m of wire; where there is one.

    It ends at the controller as well, and not once more by the wire that it went out on.
    """
    fuses = "fuses:\n  own: {rating: 10 A, voltage: 58 V, style: class-t, interrupt: 20 kA}\n"
    inline = ", inline: [{own: {from_end: to, distance: 0 m}}]"
    fused = ON_LOAD.replace("out: from: sun.load, to: bar", f"out: from: sun.load, to: bar{inline}")
    for wires, told in ((fused, [("own", 2.0)]), (ON_LOAD.split("out:")[0], [])):
        found = study(fuses + LOADS, wires).protection.exits
        assert [(w.reaches, w.span.most) for w in found if w.device is not None] == told
        assert [(w.reaches, w.span.most) for w in found if w.device is None] == [("sun", 1.0)]


def test_a_tracker_gives_what_all_strings_of_its_array_do() -> None:
    """Two alike on one input: twice what one gives."""
    sun = SUN.replace("right: {module: hundred, series: 2", "right: {module: hundred, series: 1")
    wires = (
        "left-run: from: left, to: sun.east\nright-run: from: right, to: sun.east\n"
        "charge: from: sun.battery, to: house\n"
    )
    found = study(sun, TWO + wires)
    [array] = found.array.arrays
    [first, second] = array.all_strings
    watts = (first.vmp("coldest").number + second.vmp("coldest").number) * 4.9 * 1.25
    assert port_of(found, "sun").current.number == pytest.approx(watts / 12.0)
