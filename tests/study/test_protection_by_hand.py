"""What opens first, what a larger device would leave bare, what branch breakers have to break."""

from __future__ import annotations

import pytest

from external.battery_sides import HEAD
from plans import BASE as TRACKED
from plans import edited
from study.test_allowed import BASE
from study.test_answers_by_hand import LAMP
from wattproof.study.protection.larger_device import exposed
from wattproof.testing import study_of

IEC = ("code: nec-2023", "code: iec")


@pytest.mark.parametrize(
    ("fuse", "current", "first"),
    [
        ("40 A", "50 A", True),
        ("40 A", "40.1 A", True),
        ("40 A", "40 A", False),  # what it lets last is what flows
        ("45 A", "50 A", True),
        ("46 A", "50 A", False),  # 4 mm² carries 45 A in free air
    ],
)
@pytest.mark.parametrize("place", ["in it", "before it"])
def test_whether_a_device_opens_before_too_much_flows_for_long(
    fuse: str, current: str, first: bool, place: str
) -> None:
    """IEC 60364-5-52 B.52.12, 4 mm² of XLPE. The fuse is the lamp's own, or the one of the bank."""
    own = LAMP.replace("20 A", fuse)
    plan = edited(IEC, (LAMP, own), ("lamp: {current: 5 A}", f"lamp: {{current: {current}}}"),
                  plan=BASE)  # fmt: skip
    if place == "before it":
        inline = ",\n             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]"
        plan = edited((inline, ""), (f"  {own}\n", ""), ("rating: 100 A", f"rating: {fuse}"),
                      plan=plan)  # fmt: skip
    study = study_of(plan)
    assert study.protection.opens_first(study.wiring.wires["lamp-run"]) is first


@pytest.mark.parametrize(
    ("current", "first"), [("47 A", False), ("48 A", False), ("48.1 A", True), ("120 A", True)]
)
def test_what_opens_within_the_hour_needs_no_allowance_for_what_lasts(
    current: str, first: bool
) -> None:
    """By NEC 30 A protect 10 AWG, and for good it carries 30 A / 1.25; at 1.6 x 30 A they open."""
    own = LAMP.replace("20 A", "30 A")
    plan = edited((LAMP, own), ("lamp: {current: 5 A}", f"lamp: {{current: {current}}}"),
                  ("thin: {size: 4 mm²", "thin: {size: 10 AWG"), plan=BASE)  # fmt: skip
    study = study_of(plan)
    assert study.protection.opens_first(study.wiring.wires["lamp-run"]) is first


def test_where_nothing_flows_nothing_opens_first() -> None:
    plan = edited(IEC, ("busbars:\n", "busbars:\n  spare: {rating: 100 A}\n"), plan=BASE)
    plan += "  idle: {from: bar, to: spare, cable: thin, length: 1 m, place: cabin}\n"
    study = study_of(plan)
    assert study.wiring.wires["idle"].current is None
    assert not study.protection.opens_first(study.wiring.wires["idle"])


@pytest.mark.parametrize(
    ("rating", "left"),
    [(150.0, {}), (175.0, {}), (200.0, {"house-run": 200.0, "lamp-run": 200.0})],
)
def test_a_device_ahead_counts_only_where_it_is_the_smaller(
    rating: float, left: dict[str, float]
) -> None:
    """Behind 150 A of the bank's fuse 300 A at the lamp let no more last than that."""
    plan = edited(("to: lamp, cable: thin", "to: lamp, cable: thick"),
                  (LAMP, LAMP.replace("20 A", "300 A")), plan=BASE)  # fmt: skip
    study = study_of(plan)
    found = exposed(study.protection.guards, study.wiring.devices["house-fuse"], rating)
    assert {each.wire.name: each.through.number for each in found} == left


BRANCH = HEAD.replace("code: nec-2023", "code: abyc-e11").replace("vehicle", "boat") + """\
breakers:
  lamp-breaker: {rating: 20 A, voltage: 58 V, poles: 1, dc: true, interrupt: 3 kA}
fuses:
  main: {rating: 150 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  one: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
  two: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
loads:
  lamp: {current: 5 A}
wires:
  beside: {from: one, to: two, cable: batt-2, length: 0.3 m}
  lamp-run: {from: two, to: lamp, cable: batt-8, length: 1 m,
             inline: [{main: {from_end: from, distance: 10 cm}},
                      {lamp-breaker: {from_end: from, distance: 20 cm}}]}
"""  # fmt: skip


@pytest.mark.parametrize(
    ("beside", "branch"),
    [
        ("chemistry: agm", 2500.0),
        ("chemistry: lithium-iron-phosphate", None),
    ],
)
def test_what_a_branch_breaker_breaks_goes_by_all_batteries_together(
    beside: str, branch: float | None
) -> None:
    """ABYC E-11 table IV-A: 2 kA of one are in the row of 3 kA, with the other 4 kA in the last.

    The table is for lead alone.
    """
    plan = BRANCH.replace("two: {chemistry: agm", f"two: {{{beside}")
    if branch is None:
        plan = plan.replace("phosphate, nominal: 12 V", "phosphate, nominal: 12.8 V")
    duties = {duty.name: duty for duty in study_of(plan).protection.duties}
    duty = duties["lamp-breaker"]
    assert (duty.branch.value if duty.branch is not None else None) == branch
    assert duties["main"].branch is None
    assert duty.backed_by == ("main",)
    assert set(duty.banks) == {"one", "two"}


WAYS = "ways: {one: {fuse: 15 A, style: blade}, two: {fuse: 10 A, style: blade}}"
PANEL = edited(
    ("loads:\n", f"distribution:\n  panel: {{rating: 20 A, voltage: 60 V, {WAYS}}}\nloads:\n"
     "  fan: {current: 9 A}\n  pump: {current: 12 A}\n"),
    ("fuses:\n", "fuses:\n  feed-fuse: {rating: 40 A, voltage: 125 V, style: class-t, "
     "interrupt: 20 kA, dc: true}\n  spare-fuse: {rating: 60 A, voltage: 125 V, style: class-t, "
     "interrupt: 20 kA, dc: true}\n"),
    plan=BASE,
) + (
    "  panel-run: {from: bar, to: panel, cable: thick, length: 1 m, place: cabin,\n"
    "              inline: [{feed-fuse: {from_end: from, distance: 10 cm}}]}\n"
    "  fan-run: {from: panel.one, to: fan, cable: thin, length: 1 m, place: cabin}\n"
    "  pump-run: {from: panel.two, to: pump, cable: thin, length: 1 m, place: cabin}\n"
)  # fmt: skip
SECOND = (
    "  more-run: {from: bar, to: panel, cable: thick, length: 1 m, place: cabin,\n"
    "             inline: [{spare-fuse: {from_end: from, distance: 10 cm}}]}\n"
)


def test_a_panel_draws_what_its_ways_do_and_is_fed_behind_one_fuse() -> None:
    """9 and 12 A of 20; the fuse in its own wire is the one before it, not that of the bank."""
    [panel] = study_of(PANEL).protection.panels
    assert panel.drawn is not None
    assert panel.drawn.number == 21.0
    assert panel.is_overloaded
    assert panel.before is not None
    assert panel.before.name == "feed-fuse"
    assert panel.held.through.number == 25.0  # of its ways together
    assert (panel.held.name, panel.held.what) == ("panel", "panel")


def test_of_two_wires_that_feed_a_panel_neither_is_the_one_before_it() -> None:
    [panel] = study_of(PANEL + SECOND).protection.panels
    assert panel.before is None


def test_a_panel_whose_wire_has_no_fuse_of_its_own_has_none_before_it() -> None:
    bare = edited((",\n              inline: [{feed-fuse: {from_end: from, distance: 10 cm}}]", ""),
                  plan=PANEL)  # fmt: skip
    [panel] = study_of(bare).protection.panels
    assert panel.before is None


OUTLET = HEAD + """\
batteries:
  house: {chemistry: agm, nominal: 24 V, capacity: 100 Ah}
converters:
  down: {input_nominal: 24 V, output_nominal: 12 V, max_output_current: 30 A}
fuses:
  lamp-fuse: {rating: 20 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
switches:
  off: {rating: 25 A, voltage: 32 V, dc: true, poles: 1}
busbars:
  bar: {rating: 28 A}
loads:
  lamp: {current: 5 A}
  fan: {current: 5 A}
wires:
  in: {from: house, to: down.input, cable: batt-8, length: 1 m}
  out: {from: down.output, to: bar, cable: batt-8, length: 1 m, inline: [off]}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 1 m,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""  # fmt: skip
FAN = "  fan-run: {from: bar, to: fan, cable: batt-8, length: 1 m}\n"


@pytest.mark.parametrize(("fan", "amps", "source"), [("", 20.0, ""), (FAN, 30.0, "down")])
def test_what_a_converter_feeds_stands_what_it_gives_or_what_is_fused_behind(
    fan: str, amps: float, source: str
) -> None:
    """30 A of the converter; with the lamp alone its fuse of 20 A lets no more through for long."""
    held = {each.name: each for each in study_of(OUTLET + fan).protection.held}
    for name, what, rating in (("off", "switch", 25.0), ("bar", "bar", 28.0)):
        own = held[name]
        assert (own.what, own.rating.number, own.through.number) == (what, rating, amps)
        assert own.source == source
        assert [device.name for device in own.devices] == ([] if source else ["lamp-fuse"])
        assert (own.reason is not None) is (amps > rating)


SERIES = HEAD + """\
batteries:
  upper: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
  lower: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
fuses:
  a: {rating: 100 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
  b: {rating: 150 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
loads:
  lamp: {current: 5 A}
  fan: {current: 5 A}
wires:
  link: {from: upper.negative, to: lower.positive, cable: batt-2, length: 20 cm}
  lamp-plus: {from: upper.positive, to: lamp.positive, cable: batt-2, length: 1 m, inline: [a]}
  fan-plus: {from: upper.positive, to: fan.positive, cable: batt-2, length: 1 m, inline: [b]}
  lamp-minus: {from: lamp.negative, to: lower.negative, cable: batt-2, length: 1 m}
  fan-minus: {from: fan.negative, to: lower.negative, cable: batt-2, length: 1 m}
"""  # fmt: skip


@pytest.mark.parametrize(
    ("edit", "limit"),
    [
        (("", ""), 150.0),
        ((", inline: [b]", ""), None),  # a way out has no device
        ((", inline: [a]", ""), None),
    ],
)
def test_the_link_of_a_row_is_held_to_the_largest_of_its_ways_out(
    edit: tuple[str, str], limit: float | None
) -> None:
    guards = study_of(SERIES.replace(*edit) if edit[0] else SERIES).protection.link_guards
    found = {guard.wire.name: guard.rating.number for guard in guards}
    assert found == ({} if limit is None else {"link": limit})


@pytest.mark.parametrize(
    ("current", "charger", "verdict", "reason"),
    [
        # 8 AWG carries 40 A on terminals of 60 °C, and no more than 40 A may stand before it.
        ("40 A", "", "limited", None),
        ("60 A", "", "not allowed", "no device"),
        ("60 A", "[{small: {from_end: from, distance: 10 cm}}]", "cleared", None),
        ("60 A", "[{large: {from_end: from, distance: 10 cm}}]", "not allowed", "too large"),
    ],
)
def test_what_a_converter_gives_is_judged_by_itself(
    current: str, charger: str, verdict: str, reason: str | None
) -> None:
    """No bank is behind it; the stretch after the fuse, or all of the wire."""
    made = "voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true"
    text = OUTLET.replace("fuses:\n", f"fuses:\n  small: {{rating: 40 A, {made}}}\n"
                          f"  large: {{rating: 50 A, {made}}}\n")  # fmt: skip
    text = text.replace("30 A}", f"{current}}}").replace(
        "bar: {rating: 28 A}", "bar: {rating: 99 A}"
    )
    inline = f", inline: {charger}" if charger else ""
    text = text.replace(", inline: [off]", inline)
    answers = [
        each for each in study_of(text).protection.allowed
        if each.wire.name == "out" and each.kind == "output"
    ]  # fmt: skip
    decided = answers[-1]
    assert (decided.verdict, decided.reason) == (verdict, reason)
    assert decided.sources == ("down",)


@pytest.mark.parametrize(("breaks", "too_low"), [("2.5 kA", False), ("2.4 kA", True)])
def test_a_branch_breaker_that_breaks_just_what_the_table_asks(breaks: str, too_low: bool) -> None:
    """2500 A, behind a main fuse that can break the whole of it."""
    plan = BRANCH.replace("interrupt: 3 kA", f"interrupt: {breaks}")
    duties = {duty.name: duty for duty in study_of(plan).protection.duties}
    duty = duties["lamp-breaker"]
    assert duty.prospective.number > 2500.0
    assert duty.too_low is too_low


@pytest.mark.parametrize(
    ("inline", "through", "devices"),
    [
        ("{house-fuse: {from_end: from, distance: 10 cm}}, off", 20.0, ["lamp-fuse"]),
        ("off, {house-fuse: {from_end: to, distance: 10 cm}}", None, []),
    ],
)
def test_a_switch_is_held_to_what_is_fused_before_or_behind_it(
    inline: str, through: float | None, devices: list[str]
) -> None:
    """Behind the bank's 100 A, and all that hangs there is the lamp's 20 A; before any, to none."""
    plan = edited(
        ("busbars:\n", "switches:\n  off: {rating: 30 A, voltage: 32 V, dc: true, poles: 1}\n"
         "busbars:\n"),
        ("inline: [{house-fuse: {from_end: from, distance: 10 cm}}]", f"inline: [{inline}]"),
        ("inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]", "inline: [lamp-fuse]"),
        plan=BASE,
    )  # fmt: skip
    held = {each.name: each for each in study_of(plan).protection.held}
    assert (held["off"].through.number if "off" in held else None) == through
    assert ([device.name for device in held["off"].devices] if "off" in held else []) == devices


@pytest.mark.parametrize(
    ("metres", "weak"), [(0.6, "tracker"), (0.5, "tracker"), (0.4, ""), (0.1, "")]
)
def test_a_fuse_that_sits_as_near_to_a_controller_as_to_its_battery(
    metres: float, weak: str
) -> None:
    """In a wire of 1 m, so far from the battery: at half way it is no better than beyond."""
    plan = TRACKED.replace("distance: 10 cm", f"distance: {metres:g} m")
    [way] = study_of(plan).protection.exits
    assert way.weak_end == weak
    assert way.length.number == pytest.approx(metres)


CHARGED = HEAD + """\
fuses:
  lamp-fuse: {rating: 20 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
busbars:
  bar: {rating: 300 A}
chargers:
  shore: {kind: shore, max_output_current: 60 A}
loads:
  lamp: {current: 5 A}
wires:
  trunk: {from: house, to: bar, cable: batt-8, length: 2 m}
  shore-run: {from: shore, to: bar, cable: batt-8, length: 1 m}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 1 m,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""  # fmt: skip


def test_what_a_charger_gives_before_any_device_is_told_as_of_the_bank() -> None:
    """60 A into 40 A of 8 AWG, and no fuse between: what the bank drives there is told of both.

    Its way out through the charger's wire ends without one, and that is the graver of the two.
    """
    answers = study_of(CHARGED).protection.allowed
    for wire in ("trunk", "shore-run"):
        own = {a.kind: a for a in answers if a.wire.name == wire and a.kind in ("bank", "output")}
        bank, output = own["bank"], own["output"]
        assert (output.verdict, output.reason) == ("not allowed", "no device")
        assert (bank.verdict, bank.reason) == ("not allowed", "no device")
        assert output.why == bank.why == "nothing opens between the battery and this stretch"
        assert output.devices == bank.devices == ()
        assert output.drives is not None
        assert output.drives.number == 60.0
        assert output.bare is not None
        assert tuple(output.bare) == pytest.approx((3.0, 3.0))  # 2 m and 1 m in a row


def test_a_charger_beside_a_way_to_a_fuse_that_is_too_far() -> None:
    """The charger sits at the battery itself: what it gives passes no wire of the lamp's."""
    plan = CHARGED.replace("from: shore, to: bar", "from: shore, to: house")
    answers = study_of(plan).protection.allowed
    [bank] = [a for a in answers if a.wire.name == "trunk" and a.kind == "bank"]
    assert (bank.verdict, bank.reason) == ("not allowed", "too far")
    assert [device.name for device in bank.devices] == ["lamp-fuse"]
    [output] = [a for a in answers if a.wire.name == "trunk" and a.kind == "output"]
    assert (output.verdict, output.reason, output.why) == (bank.verdict, bank.reason, bank.why)
    assert [device.name for device in output.devices] == ["lamp-fuse"]
    assert output.bare is not None
    assert tuple(output.bare) == pytest.approx((2.1, 2.1))


SHARED = HEAD + """\
fuses:
  one-fuse: {rating: 100 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
  two-fuse: {rating: 100 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
  pump-fuse: {rating: 150 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  one: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
  two: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
busbars:
  bar: {rating: 300 A}
loads:
  heater: {current: 15 A}
  pump: {current: 15 A}
wires:
  one-plus: {from: one.positive, to: bar.positive, cable: batt-2, length: 30 cm,
             inline: [{one-fuse: {from_end: from, distance: 10 cm}}]}
  two-plus: {from: two.positive, to: bar.positive, cable: batt-2, length: 30 cm,
             inline: [{two-fuse: {from_end: from, distance: 10 cm}}]}
  between: {from: one.negative, to: two.negative, cable: batt-2, length: 10 cm}
  heater-plus: {from: bar.positive, to: heater.positive, cable: batt-2, length: 1 m}
  pump-plus: {from: bar.positive, to: pump.positive, cable: batt-2, length: 1 m,
              inline: [{pump-fuse: {from_end: from, distance: 10 cm}}]}
  heater-minus: {from: heater.negative, to: bar.negative, cable: batt-2, length: 1 m}
  pump-minus: {from: pump.negative, to: bar.negative, cable: batt-2, length: 1 m}
  left: {from: bar.negative, to: one.negative, cable: batt-8, length: 2 m}
  right: {from: one.negative, to: bar.negative, cable: batt-8, length: 2 m}
"""  # fmt: skip


def test_two_ways_back_share_what_all_packs_together_let_through() -> None:
    """200 A of both fuses at the heater, and 150 A of those at the pump: half of 200 A each."""
    answers = study_of(SHARED).protection.allowed
    for wire in ("left", "right"):
        [back] = [a for a in answers if a.wire.name == wire and a.kind == "return"]
        assert back.lasting.number == pytest.approx(100.0)
        assert {device.name for device in back.devices} == {"one-fuse", "two-fuse"}
        assert back.brings is not None
        assert back.brings.name == "heater-plus"
    alone = {a.wire.name: a for a in answers if a.kind == "return" and "minus" in a.wire.name}
    assert {name: a.lasting.number for name, a in alone.items()} == {
        "heater-minus": 200.0,
        "pump-minus": 150.0,
    }
    assert {name: a.fed_at for name, a in alone.items()} == {
        "heater-minus": "bar",
        "pump-minus": "bar",
    }


FUSES = "".join(
    f"  {name}: {{rating: {amps} A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}}\n"
    for name, amps in (("first", 20), ("second", 15), ("third", 18))
)


@pytest.mark.parametrize("inline", ["first, second, off", "second, first, off"])
def test_of_two_fuses_before_an_outlets_switch_the_smaller_counts(inline: str) -> None:
    plan = edited(("fuses:\n", "fuses:\n" + FUSES), ("[off]", f"[{inline}]"), plan=OUTLET)
    held = {each.name: each for each in study_of(plan).protection.held}
    assert held["off"].through.number == 15.0
    assert held["bar"].through.number == 15.0


@pytest.mark.parametrize(("fuse", "amps"), [("", 42.0), (", inline: [third]", 33.0)])
def test_two_outlets_on_one_bar_give_what_both_do_or_both_fuses_let_through(
    fuse: str, amps: float
) -> None:
    """30 A behind 15 A, and 12 A behind no fuse or behind 18 A; a fan without one behind the bar.

    Where one has no fuse nothing is let through for long but what both give.
    """
    plan = edited(
        ("fuses:\n", "fuses:\n" + FUSES),
        ("[off]", "[second, off]"),
        ("  down: {", "  beside: {input_nominal: 24 V, output_nominal: 12 V, "
         "max_output_current: 12 A}\n  down: {"),
        ("  out: {", "  beside-in: {from: house, to: beside.input, cable: batt-8, length: 1 m}\n"
         f"  other: {{from: beside.output, to: bar, cable: batt-8, length: 1 m{fuse}}}\n  out: {{"),
        plan=OUTLET,
    )  # fmt: skip
    held = {each.name: each for each in study_of(plan + FAN).protection.held}
    assert held["bar"].through.number == amps
    assert held["bar"].source == ("" if fuse else "beside and down")
