"""What lasts in wires and devices, and how banks share in it, each case reckoned on paper."""

from __future__ import annotations

import math

import pytest

from external.battery_sides import HEAD, HOT, RESTING
from study.wiring.test_grounding_by_hand import study as small_study
from study.wiring.test_network import joined, lasting, packs
from wattproof.circuit import Conductor, Terminal
from wattproof.physics.conductors import copper_withstand_constant, warming_constant
from wattproof.study import Study
from wattproof.study.wiring.brief import Brief, heaviest
from wattproof.testing import study_of
from wattproof.working import Value, steps

BACK = """\
breakers:
  both: {rating: 30 A, voltage: 58 V, poles: 2, dc: true, interrupt: 20 kA}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
loads:
  lamp: {current: 5 A}
  heater: {current: 20 A}
wires:
  lamp-run: {from: house, to: lamp, cable: batt-8, length: 2 m, inline: [both]}
  heater-plus: {from: house.positive, to: heater.positive, cable: batt-8, length: 2 m}
  heater-minus: {from: heater.negative, to: lamp.negative, cable: batt-8, length: 1 m}
"""


def test_a_wire_or_device_carries_what_the_pole_with_more_does() -> None:
    """The heater comes back over the lamp's negative: 5 A there and 25 A back."""
    study = study_of(HEAD + BACK)
    wire, breaker = study.wiring.wires["lamp-run"], study.wiring.devices["both"]
    for amps in (wire.current, wire.operating, breaker.current):
        assert amps is not None
        assert amps.number == pytest.approx(25.0)


def test_currents_of_one_share_are_told_together() -> None:
    """Two loads on the bar share alike in the packs: one share times their sum."""
    side = packs([1.0, 3.0], load=30.0)
    side.ports["pump"] = -50.0
    joined(side, "pump-run", "bar", "pump")
    study = study_of(side.plan())
    [part] = [e for e in study.circuit.battery_side if e.name == "fuse-0"]
    amps = study.wiring.network.lasting(part)
    assert amps is not None
    ways = [1.0 / (RESTING / 3000.0 + 2 * m * HOT["batt-2"]) for m in (1.0, 3.0)]
    assert amps.number == pytest.approx(80.0 * ways[0] / sum(ways), rel=1e-3)
    told = [s.words for s in steps(amps) if s.words.startswith("share")]
    assert told == ["share of the current of load, pump that passes through fuse-0"]


LINE = """\
chargers:
  alternator: {kind: alternator, max_output_current: 150 A, charge_voltage: 14.4 V}
batteries:
  start: {chemistry: flooded, nominal: 12 V, capacity: 80 Ah}
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
wires:
  alternator-run: {from: alternator, to: start, cable: batt-2, length: 1 m}
  line: {from: start, to: house, cable: batt-8, length: METRES}
"""


def test_a_long_line_lets_no_more_through_than_an_alternator_s_voltage_drives() -> None:
    """14.4 V less the 12 V of an empty battery, over 10 m out and back, where the other is full."""
    study = study_of(HEAD + LINE.replace("METRES", "10 m"))
    ohms = 2 * (10.0 * HOT["batt-8"] + 1.0 * HOT["batt-2"])
    assert lasting(study, "line") == pytest.approx(2.4 / ohms, rel=1e-3)
    assert lasting(study, "alternator-run") == pytest.approx(150.0)


def test_a_short_line_carries_all_that_an_alternator_gives() -> None:
    """So does one of which nobody tells the length."""
    short = HEAD + LINE.replace("METRES", "1 m")
    untold = HEAD + LINE.replace(", length: METRES", "")
    for text in (short, untold):
        assert lasting(study_of(text), "line") == pytest.approx(150.0)


def test_an_alternator_that_tells_no_voltage_drives_what_is_usual_through_a_long_line() -> None:
    """14.2 V less 12 V, over the same 10 m."""
    text = HEAD + LINE.replace("METRES", "10 m").replace(", charge_voltage: 14.4 V", "")
    ohms = 2 * (10.0 * HOT["batt-8"] + 1.0 * HOT["batt-2"])
    assert lasting(study_of(text), "line") == pytest.approx(2.2 / ohms, rel=1e-3)


def test_a_line_lets_no_more_through_where_the_other_bank_is_none() -> None:
    """The alternator of a vehicle that the plan does not tell, straight over the line."""
    text = HEAD + LINE.replace("METRES", "10 m").replace("  start: ", "  spare: ")
    text = text.replace(
        "to: start, cable: batt-2, length: 1 m", "to: house, cable: batt-8, length: 9 m"
    )
    text = text.replace("  line: {from: start, to: house", "  line: {from: spare, to: lamp")
    text += "loads:\n  lamp: {current: 5 A}\n"
    ohms = 2 * 9.0 * HOT["batt-8"]
    assert lasting(study_of(text), "alternator-run") == pytest.approx(2.4 / ohms, rel=1e-3)


def test_what_charges_the_other_bank_gives_no_more_over_a_long_line_to_this_one() -> None:
    """A mains charger at the full house bank: 14.4 V less 12 V over the line, not its 40 A."""
    shore = "chargers:\n  shore: {kind: shore, max_output_current: 80 A, charge_voltage: 14.4 V}"
    text = HEAD + LINE.replace("METRES", "10 m").replace("chargers:", shore)
    text += "  shore-run: {from: shore, to: house, cable: batt-2, length: 1 m}\n"
    text = text.replace("max_output_current: 150 A", "max_output_current: 10 A")
    ohms = 2 * (10.0 * HOT["batt-8"] + 1.0 * HOT["batt-2"])
    assert lasting(study_of(text), "line") == pytest.approx(2.4 / ohms, rel=1e-3)
    assert lasting(study_of(text), "shore-run") == pytest.approx(80.0)


@pytest.mark.parametrize("plug", ["trailer-7", "trailer-13"])
def test_a_line_to_a_trailer_is_some_metres_long_where_nobody_tells_it(plug: str) -> None:
    """6 m, as is usual from an alternator to the bank of a trailer."""
    text = HEAD + LINE.replace("length: METRES", f"plug: {plug}")
    ohms = 2 * (6.0 * HOT["batt-8"] + 1.0 * HOT["batt-2"])
    assert lasting(study_of(text), "line") == pytest.approx(2.4 / ohms, rel=1e-3)


@pytest.mark.parametrize("number", [1, 2])
def test_a_share_rests_on_what_is_inside_the_packs_that_share(number: int) -> None:
    """Of one pack nothing: whatever is inside it, all comes through it."""
    side = packs([1.0, 2.0][:number])
    joined(side, "second-run", "bar", "load", 3.0)
    study = study_of(side.plan())
    [part] = study.wiring.wires["load-run"].conductors
    share = study.wiring.network.share_of(part, Terminal("load", "", "positive"))
    assert share is not None
    assert share.number == pytest.approx(0.75)
    inputs = steps(share)[-1].formula
    leads = ["Ri(pack-0)", "Ri(pack-1)", "Rhot(lead-0)", "Rhot(lead-1)"]
    assert [each for each in leads if each in inputs] == (leads if number == 2 else [])
    assert "Rhot(load-run)" in inputs


LINKED = """\
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          short_circuit_current: 3 kA}
  upper: {chemistry: agm, nominal: 6 V, capacity: 100 Ah, short_circuit_current: 3 kA}
  lower: {chemistry: agm, nominal: 6 V, capacity: 100 Ah, short_circuit_current: 3 kA}
chargers:
  shore: {kind: shore, max_output_current: 40 A}
  second: {kind: shore, max_output_current: 25 A}
loads:
  lamp: {current: 10 A}
wires:
  row: {from: upper.negative, to: lower.positive, cable: batt-2, length: 0.2 m}
  link-plus: {from: house.positive, to: upper.positive, cable: batt-2, length: 2 m}
  link-minus: {from: house.negative, to: lower.negative, cable: batt-2, length: 2 m}
  shore-run: {from: shore, to: house, cable: batt-2, length: 1 m}
  second-plus: {from: second.positive, to: upper.positive, cable: batt-2, length: 1 m}
  second-minus: {from: second.negative, to: lower.negative, cable: batt-2, length: 1 m}
  lamp-plus: {from: lamp.positive, to: upper.positive, cable: batt-2, length: 1 m}
  lamp-minus: {from: lamp.negative, to: lower.negative, cable: batt-2, length: 1 m}
"""


def test_beside_a_full_bank_a_row_in_series_takes_all_that_is_given() -> None:
    """The row's two batteries are one bank: with the house full, all 40 A go over the link to it.

    With the row full, 25 A come the other way; the row is never half full. Through the link
    between its two batteries all that both chargers give.
    """
    study = study_of(HEAD + LINKED)
    assert lasting(study, "link-plus") == lasting(study, "link-minus") == pytest.approx(40.0)
    assert lasting(study, "row") == pytest.approx(65.0)
    given = {
        along: study.wiring.network.lasting_of(part, "charge", along=along)
        for part in study.circuit.battery_side
        if isinstance(part, Conductor) and part.name == "link-plus"
        for along in ("shore", "second")
    }
    assert {k: v.number for k, v in given.items() if v is not None} == pytest.approx(
        {"shore": 40.0, "second": 25.0}
    )


def test_a_row_alone_is_one_bank() -> None:
    """With nothing beside it neither of its two is ever full alone: 65 A less what is drawn."""
    text = HEAD + LINKED
    drop = ("  house:", "          short_circuit_current: 3 kA}", "  link-", "  shore")
    text = "\n".join(line for line in text.splitlines() if not line.startswith(drop)) + "\n"
    study = study_of(text)
    assert lasting(study, "row") == pytest.approx(25.0)


@pytest.mark.parametrize(("fuse", "told"), [("one", ["one"]), ("two", ["two"]), ("", [])])
def test_lead_batteries_are_cut_off_where_a_device_stands_at_their_post(
    fuse: str, told: list[str]
) -> None:
    """No management parts them; a fuse on the only way from a post does."""
    text = HEAD + PAIR.replace("beside-plus: {from: one", "beside-plus: {from: bar").replace(
        "to: two.positive", "to: bar.positive"
    )
    text = text.replace("switches:\n", "busbars:\n  bar: {rating: 300 A}\nswitches:\n")
    text = text.replace(
        "  beside-plus: {from: bar.positive, to: bar.positive", "  gone: {from: bar, to: winch"
    )
    for name in ("one", "two"):
        inline = ", inline: [off]" if name == fuse else ""
        text += (
            f"  {name}-plus: {{from: {name}.positive, to: bar.positive, cable: batt-2, "
            f"length: 1 m{inline}}}\n"
        )
    text = text.replace("lamp-run: {from: two, to: lamp", "lamp-run: {from: bar, to: lamp")
    text += "  bar-minus: {from: bar.negative, to: one.negative, cable: batt-2, length: 1 m}\n"
    study = study_of(text)
    [part] = study.wiring.wires["one-plus"].conductors[:1]
    [other] = study.wiring.wires["two-plus"].conductors[:1]
    found = {c.name for p in (part, other) for c in study.wiring.network.when_cut_off(p)}
    assert sorted(found) == told


def test_a_cut_off_is_told_beside_a_battery_that_stands_apart() -> None:
    """What the third drives passes neither of the two packs; with one of these gone, all does."""
    side = packs([1.0, 1.0])
    side.packs["apart"] = 1000.0
    side.ports["lamp"] = -5.0
    joined(side, "lamp-run", "apart", "lamp")
    study = study_of(side.plan())
    [fuse] = [e for e in study.circuit.battery_side if e.name == "fuse-0"]
    [cut] = study.wiring.network.when_cut_off(fuse)
    assert (cut.name, cut.current.number) == ("pack-1", pytest.approx(120.0))
    [whole] = [step for step in steps(cut.current) if step.symbol == "Idraw"]
    assert whole.number == 125.0


@pytest.mark.parametrize(("metres", "alike"), [(1.0, True), (3.0, False)])
def test_what_alike_packs_carry_rests_on_how_many_they_are(metres: float, alike: bool) -> None:
    study = study_of(packs([1.0, metres]).plan())
    [part] = study.wiring.wires["lead-0-back"].conductors
    amps = study.wiring.network.lasting(part)
    assert amps is not None
    [share] = [step.formula for step in steps(amps) if step.symbol == "s(lead-0-back)"]
    assert ("Ri(pack-1)" in share) is not alike


def test_what_lasts_is_named_for_its_part_and_of_one_kind_for_what_it_is() -> None:
    study = study_of(packs([1.0]).plan())
    [run] = study.wiring.wires["load-run"].conductors
    network = study.wiring.network
    whole, drawn = network.lasting(run), network.lasting_of(run, "draw")
    assert whole is not None
    assert drawn is not None
    assert (whole.symbol, whole.words) == ("I(load-run)", "lasting current in load-run")
    assert drawn.symbol == "I(load)"
    assert network.lasting_of(run, "charge") is None


# What runs for minutes.


def brief(steady: float, seconds: float) -> Brief:
    return Brief(Value(steady, "A"), Value(seconds, "s"))


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(59.0, "59 s"), (60.0, "1 min"), (63.0, "1.05 min"), (90.0, "1.5 min"), (300.0, "5 min")],
)
def test_how_long_it_runs_in_words(seconds: float, words: str) -> None:
    assert brief(0.0, seconds).runs == words


def test_what_warms_a_conductor_as_much() -> None:
    """Between what lasts, 10 A, and all of it, 50 A, as far as it warms in 60 s."""
    k = copper_withstand_constant(30.0, 90.0)
    share = 1.0 - math.exp(-60.0 / warming_constant(10.0, 40.0, k))
    assert 0.05 < share < 0.95
    amps = math.sqrt(10.0**2 + share * (50.0**2 - 10.0**2))
    air, stands, carries = Value(30.0, "°C"), Value(90.0, "°C"), Value(40.0, "A")
    found = brief(10.0, 60.0).in_conductor(Value(50.0, "A"), carries, 10.0, air, stands)
    assert found.number == pytest.approx(amps)
    # Where no more runs than lasts, or the air is as hot as the insulation stands: as it is.
    for current, hot in ((10.0, stands), (50.0, air)):
        whole = Value(current, "A")
        assert brief(10.0, 60.0).in_conductor(whole, carries, 10.0, air, hot).number == current


@pytest.mark.parametrize(
    ("steady", "seconds", "amps"),
    [(10.0, 300.0, 100.0), (110.0, 300.0, 110.0), (10.0, 301.0, 130.0)],
)
def test_what_contacts_are_rated_for(steady: float, seconds: float, amps: float) -> None:
    """130 A are 100 for up to five minutes, and not less than what lasts."""
    found = brief(steady, seconds).in_contacts(Value(130.0, "A"))
    assert found.number == pytest.approx(amps)


@pytest.mark.parametrize(
    ("style", "seconds", "steady", "amps"),
    [
        ("bolt-down", 300.0, 10.0, 137.5 / 1.25),
        ("bolt-down", 301.0, 10.0, 137.5 / 1.1),
        ("stud-mounted", 60.0, 10.0, 110.0),
        ("class-t", 60.0, 10.0, 125.0),
        (None, 60.0, 10.0, 125.0),
        ("bolt-down", 60.0, 120.0, 120.0),
    ],
)
def test_what_holds_while_it_runs(
    style: str | None, seconds: float, steady: float, amps: float
) -> None:
    found = brief(steady, seconds).in_overcurrent_device(Value(137.5, "A"), style)
    assert found.number == pytest.approx(amps)


def test_of_several_the_most_that_lasts_and_the_longest_run() -> None:
    assert heaviest([]) is None
    assert heaviest([brief(1.0, 2.0), None]) is None
    for order in ((0, 1), (1, 0)):
        each = [brief(10.0, 60.0), brief(20.0, 30.0)]
        found = heaviest([each[k] for k in order])
        assert found is not None
        assert (found.steady.number, found.seconds.number) == (20.0, 60.0)


def test_the_longest_of_several_runs_on_one_way() -> None:
    text = HEAD + BACK.replace("lamp: {current: 5 A}", "lamp: {current: 5 A, short_duty: 2 min}")
    text = text.replace("{current: 20 A}", "{current: 20 A, short_duty: 5 min}")
    text = text.replace("loads:\n", "loads:\n  fan: {current: 3 A}\n")
    text += (
        "  fan-plus: {from: house.positive, to: fan.positive, cable: batt-8, length: 1 m}\n"
        "  fan-minus: {from: fan.negative, to: lamp.negative, cable: batt-8, length: 1 m}\n"
    )
    study = study_of(text)
    [back] = [
        e
        for e in study.wiring.wires["lamp-run"].conductors
        if e.pole == "negative" and e.end.component == "lamp"
    ]
    found = study.wiring.network.brief(back)
    assert found is not None
    assert (found.steady.number, found.seconds.number) == (3.0, 300.0)
    assert study.wiring.network.brief(study.wiring.wires["fan-plus"].conductors[0]) is None


# How packs share.

PAIR = """\
batteries:
  one: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
  two: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
switches:
  off: {rating: 200 A, voltage: 32 V, dc: true, poles: 1}
loads:
  lamp: {current: 10 A}
  winch: {current: 50 A}
wires:
  beside-plus: {from: one.positive, to: two.positive, cable: batt-2, length: 1 m}
  beside-minus: {from: one.negative, to: two.negative, cable: batt-2, length: 1 m}
  lamp-run: {from: two, to: lamp, cable: batt-8, length: 1 m}
"""
ON_POSTS = "  winch-run: {from: one, to: winch, cable: batt-2, length: 1 m}\n"
ACROSS = (
    "  winch-plus: {from: one.positive, to: winch.positive, cable: batt-2, length: 1 m}\n"
    "  winch-minus: {from: two.negative, to: winch.negative, cable: batt-2, length: 1 m}\n"
)
APART = (
    "  winch-plus: {from: one.positive, to: winch.positive, cable: batt-2, length: 1 m}\n"
    "  winch-minus: {from: one.negative, to: winch.negative, cable: batt-2, length: 1 m}\n"
)


def of_pair(wires: str, *edits: tuple[str, str]) -> Study:
    text = HEAD + PAIR + wires
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    return study_of(text)


@pytest.mark.parametrize(("wires", "posts"), [(ON_POSTS, "one"), (APART, "one"), (ACROSS, None)])
def test_on_whose_posts_the_largest_is(wires: str, posts: str | None) -> None:
    """From the posts of one, the other's way is 2 m longer; across both, the two are alike."""
    [sharing] = of_pair(wires).wiring.sharing
    assert sharing.at.name == "winch"
    assert (sharing.posts_of.name if sharing.posts_of is not None else None) == posts
    one = 12.9 / 2000.0
    ways = (1.0 / one, 1.0 / (one + 2 * HOT["batt-2"])) if posts else (1.0, 1.0)
    assert [share.number for share in sharing.shares] == pytest.approx(
        [way / sum(ways) for way in ways], rel=1e-3
    )


@pytest.mark.parametrize(
    "edit",
    [
        ("winch: {current: 50 A}", "winch: {current: 49.9 A}"),
        ("two: {chemistry: agm, nominal: 12 V, capacity: 100 Ah",
         "two: {chemistry: agm, nominal: 12 V, capacity: 90 Ah"),
        ("length: 1 m}\n  beside-minus", "length: 1 m, inline: [off]}\n  beside-minus"),
    ],
)  # fmt: skip
def test_where_a_pair_is_none_or_it_does_not_matter(edit: tuple[str, str]) -> None:
    assert not of_pair(ON_POSTS, edit).wiring.sharing


def test_from_three_on_it_matters_anyhow() -> None:
    """A third beside them, with 10 A the most that is drawn; a switch that joins it or not."""
    third = (
        "  third-plus: {from: two.positive, to: three.positive, cable: batt-2, length: 1 m}\n"
        "  third-minus: {from: two.negative, to: three.negative, cable: batt-2, length: 1 m}\n"
    )
    more = (
        "  three: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}\n"
    )
    edit = ("batteries:\n", f"batteries:\n{more}")
    small = ("winch: {current: 50 A}", "winch: {current: 9 A}")
    for wires in (third, third.replace("length: 1 m}", "length: 1 m, inline: [off]}", 1)):
        [sharing] = of_pair(ON_POSTS + wires, edit, small).wiring.sharing
        assert sharing.at.name == "lamp"
        assert {bank.name for bank in sharing.banks} == {"one", "two", "three"}
        assert sum(share.number for share in sharing.shares) == pytest.approx(1.0)
        assert sharing.posts_of is not None
        assert sharing.posts_of.name == "two"


ROW = """\
batteries:
  upper: {chemistry: agm, nominal: 6 V, capacity: 100 Ah, max_discharge_current: 80 A}
  lower: {chemistry: agm, nominal: 6 V, capacity: 100 Ah, max_discharge_current: 60 A}
loads:
  lamp: {current: 10 A}
wires:
  row: {from: upper.negative, to: lower.positive, cable: batt-2, length: 0.2 m}
  plus: {from: lamp.positive, to: upper.positive, cable: batt-2, length: 1 m}
  minus: {from: lamp.negative, to: lower.negative, cable: batt-2, length: 1 m}
"""


@pytest.mark.parametrize(
    ("gone", "limits"),
    [("", [60.0]), (", max_discharge_current: 80 A", []), (", max_discharge_current: 60 A", [])],
)
def test_what_a_row_may_give_is_what_its_weakest_may(gone: str, limits: list[float]) -> None:
    """Of lead nothing is taken where a label tells nothing: one silent label leaves it open."""
    text = HEAD + (ROW.replace(gone, "") if gone else ROW)
    found = study_of(text).wiring.discharging
    assert [each.limit.number for each in found] == limits
    assert all(each.current.number == 10.0 for each in found)


def test_lithium_whose_label_tells_nothing_gives_an_ampere_for_each_ampere_hour() -> None:
    [drawn] = study_of(packs([1.0]).plan()).wiring.discharging
    assert drawn.limit.number == pytest.approx(100.0)


@pytest.mark.parametrize(("marked", "stands"), [("60", 60.0), ("120", 105.0)])
def test_what_warms_a_wire_briefly_may_warm_it_up_to_what_stands_least(
    marked: str, stands: float
) -> None:
    """Insulation of 105 °C on terminals of 60 °C, or on such that stand more than it does."""
    text = HEAD + BACK.replace("lamp: {current: 5 A}", "lamp: {current: 50 A, short_duty: 2 min}")
    run = "to: lamp, cable: batt-8, length: 2 m"
    text = text.replace(run, f"{run}, terminal_temperature: {marked} °C")
    wire = study_of(text).wiring.wires["lamp-run"]
    assert wire.brief is not None
    assert wire.current is not None
    asked = wire.asks(wire.current)[1][0]
    air = wire.ambient
    assert not isinstance(wire.carrying, str)
    own = wire.brief.in_conductor(
        wire.current, wire.carrying.value, wire.area_mm2, air, Value(stands, "°C")
    )
    assert asked.number == pytest.approx(own.number)
    assert asked.number < wire.current.number


def test_what_passes_without_a_battery_comes_beside_what_one_gives() -> None:
    """The pump is driven by the charger alone, and shares the lamp's way back: 2 and 3 A."""
    study = small_study(
        "chargers:\n  shore: {kind: shore, max_output_current: 9 A}\n",
        "lamp-plus: from: house.positive, to: lamp.positive\n"
        "lamp-minus: from: lamp.negative, to: bar.negative\n"
        "back: from: bar.negative, to: house.negative\n"
        "pump-plus: from: shore.positive, to: pump.positive\n"
        "pump-minus: from: pump.negative, to: bar.negative\n"
        "shore-back: from: house.negative, to: shore.negative\n",
    )
    assert lasting(study, "back") == 5.0
    assert lasting(study, "pump-plus") == 3.0
