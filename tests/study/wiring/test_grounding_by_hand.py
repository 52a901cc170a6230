"""What is tied to ground and where, each plan so small that it can be read with a finger."""

from __future__ import annotations

import pytest

from external.battery_sides import HEAD
from wattproof.study import Study
from wattproof.testing import study_of

MADE = "voltage: 58 V, interrupt: 20 kA, style: class-t, dc: true"
MODULES = """\
datasheets:
  modules:
    hundred: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W}
"""
PARTS = """\
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
  start: {chemistry: agm, nominal: 12 V, capacity: 70 Ah}
busbars:
  bar: {rating: 100 A}
loads:
  lamp: {current: 2 A}
  pump: {current: 3 A}
"""
PLUS = """\
lamp-plus: from: house.positive, to: lamp.positive
pump-plus: from: house.positive, to: pump.positive
"""
MINUS = """\
lamp-minus: from: lamp.negative, to: house.negative
pump-minus: from: pump.negative, to: house.negative
"""
TWO = """\
lamp-plus: from: house.positive, to: lamp.positive
lamp-minus: from: lamp.negative, to: house.negative
pump-plus: from: start.positive, to: pump.positive
pump-minus: from: pump.negative, to: start.negative
"""
"""A lamp on one battery, a pump on the other, nothing between."""


def study(
    parts: str, wires: str, bonds: str = "", setting: str = "vehicle", start: str = ""
) -> Study:
    """Wires and bonds as lines of `name: what`; 8 AWG and 1 m where they say nothing else.

    start: of what make and voltage the second battery is.
    """
    text = HEAD.replace("datasheets:\n", MODULES) + PARTS + parts
    text = text.replace("setting: vehicle", f"setting: {setting}")
    if start:
        text = text.replace("start: {chemistry: agm, nominal: 12 V", f"start: {{{start}")
    for family, lines in (("wires", wires), ("bonds", bonds)):
        runs = [line.split(": ", 1) for line in lines.strip().splitlines()]
        text += f"{family}:\n" if runs else ""
        for name, run in runs:
            more = "" if "cable:" in run else ", cable: batt-8"
            length = ", length: 1 m" if family == "wires" else ""
            text += f"  {name.strip()}: {{{run}{more}{length}}}\n"
    return study_of(text)


# Controllers with a common positive.

ARRAY = """\
strings:
  roof: {module: hundred, series: 1, mounting: roof-gap}
controllers:
  sun: {kind: mppt, max_input_voltage: 60 V, max_output_current: 20 A, charge_voltage: 14.2 V}
"""
SUN = """\
home: from: roof, to: sun.pv
plus: from: sun.battery.positive, to: house.positive
minus: from: sun.battery.negative, to: house.negative
"""
REGULATOR = ARRAY.replace("kind: mppt", "kind: pwm, load_current: 10 A, common: positive")
CHASSIS = "a: from: house.negative, to: chassis"
BODY = "lamp-minus: from: lamp.negative, to: chassis\n" + MINUS.splitlines()[1]
LAMP = "lamp-plus: from: sun.load.positive, to: lamp.positive\n"
BACK = "lamp-minus: from: lamp.negative, to: sun.load.negative\n"
PUMP = "pump-plus: from: house.positive, to: pump.positive\n"
PUMP_BACK = "pump-minus: from: pump.negative, to: house.negative\n"


def tied(wires: str, bonds: str = "", parts: str = REGULATOR) -> list[tuple[str, str, bool]]:
    poles = study(parts, SUN + wires, bonds).wiring.tied_poles
    assert {pole.controller.name for pole in poles} <= {"sun"}
    return [(pole.port, pole.ground, pole.sure) for pole in poles]


@pytest.mark.parametrize(
    ("wires", "bonds", "told"),
    [
        ("", "", []),
        ("tie: from: sun.pv.negative, to: house.negative", "", [("pv", "", True)]),
        ("tie: from: sun.load.negative, to: house.negative", "", [("load", "", True)]),
        (
            "one: from: sun.pv.negative, to: house.negative\n"
            "two: from: sun.load.negative, to: house.negative",
            "",
            [("pv", "", True), ("load", "", True)],
        ),
        # Only the array is tied: what else is, is not known.
        ("", "a: from: sun.pv.negative, to: chassis", [("pv", "chassis", False)]),
        ("", "a: from: house.negative, to: chassis", []),
        # Two grounds, of which the battery's negative has the second.
        (
            "",
            "a: from: sun.pv.negative, to: earth\nb: from: sun.pv.negative, to: water\n"
            "c: from: house.negative, to: water",
            [("pv", "water", True)],
        ),
        (
            "",
            "a: from: sun.pv.negative, to: earth\nc: from: house.negative, to: water",
            [("pv", "earth", False)],
        ),
    ],
)
def test_a_negative_that_is_tied_past_the_controller(
    wires: str, bonds: str, told: list[tuple[str, str, bool]]
) -> None:
    wires = LAMP + BACK + PUMP + PUMP_BACK + wires
    assert tied(wires, bonds) == told
    assert not tied(wires, bonds, REGULATOR.replace("common: positive", "common: negative"))


@pytest.mark.parametrize(
    ("wires", "bonds", "told"),
    [
        # Its positive is not that of the controller.
        (PLUS + MINUS, "", []),
        (PLUS + MINUS.replace("house.negative", "chassis", 1), CHASSIS, []),
        (LAMP + PUMP + MINUS, "", [("load", "", True)]),
        # Over the body, which the battery's negative is tied to, or is not.
        (LAMP + PUMP + BODY, CHASSIS, [("load", "chassis", True)]),
        # Both come back past it, and are told once.
        (LAMP + PUMP.replace("house", "sun.load") + MINUS, "", [("load", "", True)]),
        (LAMP + PUMP.replace("house", "sun.load") + BODY, CHASSIS, [("load", "chassis", True)]),
    ],
)
def test_a_load_that_comes_back_past_the_switch(
    wires: str, bonds: str, told: list[tuple[str, str, bool]]
) -> None:
    assert tied(wires, bonds) == told


# Arrays.


@pytest.mark.parametrize(
    ("kind", "bond", "grounded"),
    [
        ("mppt", "sun.pv.negative", True),
        ("mppt", "sun.pv.positive", True),
        ("mppt, isolated: true", "sun.pv.negative", True),
        # Tied at the battery: where the negative runs through.
        ("mppt", "house.negative", True),
        ("mppt", "house.positive", False),
        ("mppt, common: negative", "house.negative", True),
        ("mppt, common: positive", "house.negative", False),
        ("mppt, isolated: true", "house.negative", False),
        ("mppt, isolated: true, common: negative", "house.negative", False),
        ("pwm", "house.negative", False),
        ("pwm, common: negative", "house.negative", True),
    ],
)
def test_whether_an_array_is_tied_to_ground(kind: str, bond: str, grounded: bool) -> None:
    parts = ARRAY.replace("kind: mppt", f"kind: {kind}")
    found = study(parts, SUN + PLUS + MINUS, f"a: from: {bond}, to: chassis")
    [array] = found.array.arrays
    assert bool(found.wiring.grounded_poles(array)) is grounded


# Negatives of banks.


def of_grounds(found: Study, *, likely: bool = False) -> list[tuple[tuple[str, ...], list[str]]]:
    grounds = found.wiring.likely_grounds if likely else found.wiring.grounds
    return [(g.banks, [str(tie.name) for tie in g.ties]) for g in grounds]


ONE_NEGATIVE = "between: from: house.negative, to: start.negative, cable: batt-2"


@pytest.mark.parametrize(
    ("wires", "bonds", "told"),
    [
        ("", "a: from: house.negative, to: chassis", [(("house",), ["a"])]),
        ("", "a: from: house.positive, to: chassis", []),
        # Apart but for the ground itself: two, each with its own tie.
        (
            "",
            "a: from: house.negative, to: chassis\nb: from: start.negative, to: chassis",
            [(("house",), ["a"]), (("start",), ["b"])],
        ),
        (
            ONE_NEGATIVE,
            "a: from: house.negative, to: chassis\nb: from: start.negative, to: water",
            [(("house", "start"), ["a", "b"])],
        ),
        # The earth is a ground of its own.
        (
            ONE_NEGATIVE,
            "a: from: house.negative, to: earth\nb: from: start.negative, to: chassis",
            [(("house", "start"), ["a"]), (("house", "start"), ["b"])],
        ),
        # A wire to the body is a tie from a battery or a bar, and none from a lamp.
        (
            "w: from: house.negative, to: chassis\nbody: from: lamp.negative, to: chassis",
            "",
            [(("house",), ["w"])],
        ),
        (
            "w: from: chassis, to: bar.negative\nhome: from: bar.negative, to: start.negative",
            "a: from: house.negative, to: chassis",
            [(("house",), ["a"]), (("start",), ["w"])],
        ),
    ],
)
def test_the_negatives_that_are_tied(
    wires: str, bonds: str, told: list[tuple[tuple[str, ...], list[str]]]
) -> None:
    assert of_grounds(study("", TWO + wires, bonds)) == told


def test_the_largest_wire_on_a_negative_is_the_one_with_the_most_copper() -> None:
    """2 AWG between two of 8 AWG, in whatever order; the positive's do not count."""
    thick = "thick: from: start.negative, to: bar.negative, cable: batt-2"
    thin = "thin: from: house.negative, to: bar.negative"
    plus = "plus: from: house.positive, to: start.positive, cable: batt-2"
    for order in ((thin, thick, plus), (plus, thick, thin)):
        [ground] = study("", "\n".join(order), CHASSIS).wiring.grounds
        assert ground.largest is not None
        assert ground.largest.name == "thick"
    [ground] = study("", TWO + plus, CHASSIS).wiring.grounds
    assert ground.largest is not None
    assert ground.largest.name == "lamp-minus"


@pytest.mark.parametrize(
    ("kind", "sure", "likely"),
    [
        ("common: negative", True, True),
        ("", False, True),
        ("isolated: true", False, False),
        ("common: positive", False, False),
    ],
)
def test_a_vehicle_charger_joins_the_negatives_that_it_has_in_common(
    kind: str, sure: bool, likely: bool
) -> None:
    """The engine's battery is on its input, the house on its output, tied at the house alone."""
    parts = (
        "controllers:\n  engine: {kind: vehicle-charger, max_output_current: 20 A, "
        f"max_input_voltage: 60 V{', ' if kind else ''}{kind}}}\n"
    )
    wires = (
        f"{TWO}in: from: start.positive, to: engine.alternator.positive\n"
        "in-back: from: start.negative, to: engine.alternator.negative\n"
        "out: from: engine.battery.positive, to: house.positive\n"
        "out-back: from: engine.battery.negative, to: house.negative"
    )
    found = study(parts, wires, "a: from: house.negative, to: chassis")
    alone, both = [(("house",), ["a"])], [(("house", "start"), ["a"])]
    assert of_grounds(found) == (both if sure else alone)
    assert of_grounds(found, likely=True) == (both if likely else alone)


# What brings a fault back to another bank's tie.

FUSES = (
    f"fuses:\n  small: {{rating: 30 A, {MADE}}}\n  large: {{rating: 80 A, {MADE}}}\n"
    f"  other: {{rating: 60 A, {MADE}}}\n"
)
FUSED = (
    "lamp-plus: from: start.positive, to: lamp.positive, inline: [small]\n"
    "pump-plus: from: start.positive, to: pump.positive, inline: [large]\n"
    "lamp-minus: from: lamp.negative, to: start.negative\n"
    "pump-minus: from: pump.negative, to: start.negative\n"
    "house-plus: from: house.positive, to: bar.positive, inline: [other]\n"
    "bar-plus: from: bar.positive, to: start.positive\n"
)


@pytest.mark.parametrize(
    ("wires", "thinnest"),
    [
        ("one: from: start.negative, to: house.negative", "one"),
        # Two in a row: the thinner of them, whichever comes first.
        (
            "one: from: start.negative, to: bar.negative, cable: batt-2\n"
            "two: from: bar.negative, to: house.negative",
            "two",
        ),
        (
            "one: from: start.negative, to: bar.negative\n"
            "two: from: bar.negative, to: house.negative, cable: batt-2",
            "one",
        ),
        # A thin direct one beside a stout way round.
        (
            "one: from: start.negative, to: bar.negative, cable: batt-2\n"
            "two: from: bar.negative, to: house.negative, cable: batt-2\n"
            "thin: from: start.negative, to: house.negative",
            "one",
        ),
    ],
)
def test_the_way_from_a_bank_to_the_tie_of_another(wires: str, thinnest: str) -> None:
    found = study(FUSES, FUSED + wires, "a: from: house.negative, to: chassis")
    [way] = found.wiring.ways_to_ties
    assert (way.bank, way.tie.name, way.thinnest.name) == ("start", "a", thinnest)
    assert way.opens.number == 80.0


@pytest.mark.parametrize(
    ("wires", "bonds"),
    [
        ("one: from: start.negative, to: house.negative", ""),
        ("one: from: start.negative, to: house.negative", "a: from: house.negative, to: earth"),
        ("", "a: from: house.negative, to: chassis"),
        # Over the body alone is no way of wires.
        (
            "one: from: start.negative, to: chassis\ntwo: from: house.negative, to: chassis",
            "",
        ),
    ],
)
def test_no_such_way(wires: str, bonds: str) -> None:
    assert not study(FUSES, FUSED + wires, bonds).wiring.ways_to_ties


def test_a_breaker_of_both_poles_guards_the_positive_that_it_stands_on() -> None:
    breaker = (
        "breakers:\n  both: {rating: 40 A, voltage: 58 V, interrupt: 20 kA, dc: true, poles: 2}\n"
    )
    wires = (
        "run: from: start, to: bar, inline: [both]\n"
        "lamp-plus: from: house.positive, to: lamp.positive\n"
        "lamp-minus: from: lamp.negative, to: house.negative\n"
        "one: from: start.negative, to: house.negative"
    )
    found = study(breaker, wires, CHASSIS)
    [way] = found.wiring.ways_to_ties
    assert (way.bank, way.opens.number) == ("start", 40.0)


def test_a_bank_without_a_fuse_on_its_positive_opens_nothing() -> None:
    """The fuses stand in the positive of the other one, and in a negative."""
    wires = TWO.replace("house.positive", "house.positive, inline: [other]").replace(
        "start.negative", "start.negative, inline: [small]"
    )
    wires += "back: from: start.negative, to: house.negative"
    assert not study(FUSES, wires, CHASSIS).wiring.ways_to_ties


# Positives.


@pytest.mark.parametrize(
    ("more", "bonds", "told"),
    [
        ("kind: mppt", "a: from: house.positive, to: earth", [("house", "a", True, False, ())]),
        (
            "kind: mppt",
            "a: from: house.positive, to: earth\nb: from: house.positive, to: water\n"
            "c: from: start.positive, to: water",
            [("house", "a", True, False, ()), ("start", "c", True, False, ())],
        ),
        ("kind: mppt", "a: from: house.negative, to: earth", []),
        # Of an array: shorted by its own negative at the same ground.
        (
            "kind: mppt, isolated: true",
            "a: from: sun.pv.positive, to: earth\nb: from: sun.pv.negative, to: earth",
            [("sun", "a", True, True, ())],
        ),
        (
            "kind: mppt, isolated: true",
            "a: from: sun.pv.positive, to: earth\nb: from: sun.pv.negative, to: water",
            [],
        ),
        # By the battery's negative, which it joins inside, as it says or as is usual.
        (
            "kind: mppt",
            "a: from: sun.pv.positive, to: earth\nb: from: house.negative, to: earth",
            [("sun", "a", False, False, ("negative",))],
        ),
        (
            "kind: mppt, common: negative",
            "a: from: sun.pv.positive, to: earth\nb: from: house.negative, to: earth",
            [("sun", "a", True, False, ("negative",))],
        ),
        (
            "kind: pwm",
            "a: from: sun.pv.positive, to: earth\nb: from: house.negative, to: earth",
            [("sun", "a", True, False, ("positive", "negative"))],
        ),
        # Elsewhere than what it joins: told, and joined to nothing.
        (
            "kind: mppt, common: negative",
            "a: from: sun.pv.positive, to: earth\nb: from: house.negative, to: water",
            [("sun", "a", False, False, ())],
        ),
        # Of two ties the one that shorts.
        (
            "kind: mppt",
            "a: from: sun.pv.positive, to: earth\nc: from: sun.pv.positive, to: water\n"
            "b: from: house.negative, to: water",
            [("sun", "c", False, False, ("negative",))],
        ),
    ],
)
def test_positives_at_a_ground(
    more: str, bonds: str, told: list[tuple[str, str, bool, bool, tuple[str, ...]]]
) -> None:
    wires = SUN + TWO
    found = study(ARRAY.replace("kind: mppt", more), wires, bonds)
    assert [
        (str(t.on.name), str(t.tie.name), t.sure, t.own, t.joined)
        for t in found.wiring.tied_positives
    ] == told


# Switches in negatives.

SWITCH = "switches:\n  off: {rating: 50 A, voltage: 32 V, dc: true, poles: 1}\n"


@pytest.mark.parametrize(
    ("wires", "bonds", "told"),
    [
        (
            "back: from: lamp.negative, to: house.negative, inline: [off]\n"
            "pump-back: from: pump.negative, to: house.negative",
            "a: from: house.negative, to: chassis",
            [("house", "a", "chassis", ["lamp"])],
        ),
        (
            "back: from: bar.negative, to: house.negative, inline: [off]\n"
            "lamp-back: from: lamp.negative, to: bar.negative\n"
            "pump-back: from: pump.negative, to: bar.negative",
            "a: from: house.negative, to: chassis",
            [("house", "a", "chassis", ["lamp", "pump"])],
        ),
        # The tie is behind the switch: all is parted from it.
        (
            "back: from: bar.negative, to: house.negative, inline: [off]\n"
            "lamp-back: from: lamp.negative, to: bar.negative\n"
            "pump-back: from: pump.negative, to: bar.negative",
            "a: from: bar.negative, to: chassis",
            [],
        ),
        (
            "back: from: lamp.negative, to: house.negative, inline: [off]\n"
            "pump-back: from: pump.negative, to: house.negative",
            "",
            [],
        ),
        # Another battery behind it, or another way back around it.
        (
            "back: from: bar.negative, to: house.negative, inline: [off]\n"
            "lamp-back: from: lamp.negative, to: bar.negative\n"
            "pump-back: from: pump.negative, to: bar.negative\n"
            "start-back: from: start.negative, to: bar.negative\n"
            "start-plus: from: start.positive, to: lamp.positive",
            "a: from: house.negative, to: chassis",
            [],
        ),
        (
            "back: from: lamp.negative, to: house.negative, inline: [off]\n"
            "again: from: lamp.negative, to: house.negative\n"
            "pump-back: from: pump.negative, to: house.negative",
            "a: from: house.negative, to: chassis",
            [],
        ),
        # Nothing that works is behind it.
        (
            f"{MINUS}back: from: bar.negative, to: house.negative, inline: [off]",
            "a: from: house.negative, to: chassis",
            [],
        ),
        # What it opens is joined to the body as well.
        (
            "back: from: bar.negative, to: house.negative, inline: [off]\n"
            "lamp-back: from: lamp.negative, to: bar.negative\n"
            "pump-back: from: pump.negative, to: bar.negative\n"
            "body: from: bar.negative, to: chassis",
            "a: from: house.negative, to: chassis",
            [],
        ),
    ],
)
def test_a_switch_in_a_negative(
    wires: str, bonds: str, told: list[tuple[str, str, str, list[str]]]
) -> None:
    found = study(SWITCH, PLUS + wires, bonds).wiring.tied_switches
    assert [
        (t.bank, str(t.tie.name), t.ground, [str(part.name) for part in t.behind]) for t in found
    ] == told
    assert {str(t.device.name) for t in found} <= {"off"}


@pytest.mark.parametrize(
    ("more", "by_itself"),
    [("", False), (", opens_below: 11 V", True), (", opened_by: house", True)],
)
def test_what_opens_by_itself(more: str, by_itself: bool) -> None:
    wires = PLUS + MINUS.replace("house.negative", "house.negative, inline: [off]", 1)
    parts = SWITCH.replace("poles: 1", f"poles: 1{more}")
    [tied] = study(parts, wires, "a: from: house.negative, to: chassis").wiring.tied_switches
    assert tied.by_itself is by_itself
