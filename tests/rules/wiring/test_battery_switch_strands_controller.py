"""Whether a controller can be parted from its battery while the array still feeds it."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES, found

MISSING = "array-switch-missing"
STRANDS = "battery-switch-strands-controller"
BOTH = RULES.rules[STRANDS].sound
STRANDED = RULES.rules[STRANDS].faulty.of(BOTH)


def test_a_switch_towards_the_battery_and_none_before_the_controller() -> None:
    [finding] = found(STRANDED, STRANDS)
    assert (finding.level, finding.subjects) == ("warning", ("bank-off", "tracker"))
    assert "`bank-off` can take the battery away from `tracker`" in finding.message
    assert not found(STRANDED, MISSING)  # one fault, one story
    assert not found(BOTH, STRANDS)
    [cabin] = found(edited(("setting: vehicle", "setting: cabin"), plan=STRANDED), STRANDS)
    assert cabin.level == "error"


def test_where_the_array_kills_it_is_told_as_that() -> None:
    """A battery switch alone leaves some 163 V on the controller for whoever works on it."""
    high = (("series: 3", "series: 6"), ("max_input_voltage: 100 V", "max_input_voltage: 250 V"))
    [finding] = found(edited(*high, plan=STRANDED), STRANDS)
    assert (finding.hazard, finding.deadly) == ("shock", True)
    [milder] = found(STRANDED, STRANDS)
    assert (milder.hazard, milder.deadly) == ("damage", False)


def test_a_small_portable_array_strands_nothing() -> None:
    plan = edited(("series: 3, mounting: roof-gap", "series: 2, mounting: ground, portable: true"),
                  plan=STRANDED)  # fmt: skip
    assert not found(plan, STRANDS)


BRANCH = """\
breakers:
  lamp-breaker: {rating: 10 A, voltage: 58 V, dc: true, poles: 1, interrupt: 5 kA}
busbars:
  bar: {rating: 100 A, voltage: 60 V}
loads:
  lamp: {current: 2 A}
wires:
  bar-run: {from: bar, to: house, cable: batt-8, length: 1 m, place: cabin, inline: [bank-off]}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 1 m, place: cabin, inline: [lamp-breaker]}
"""


def test_the_breaker_of_a_load_takes_no_battery_away() -> None:
    """Behind it there is a lamp, and the battery only by the way back."""
    plan = edited(
        ("to: house, cable: batt-8", "to: bar, cable: batt-8"),
        ("inline: [bank-off, {charge-fuse", "inline: [{charge-fuse"),
        ("wires:\n", BRANCH),
        plan=STRANDED,
    )
    [finding] = found(plan, STRANDS)
    assert finding.subjects == ("bank-off", "tracker")


def test_a_sole_battery_that_is_unplugged() -> None:
    """With a switch for the array it is a matter of order, and a note; else a warning."""
    pulled = edited(("house: {", "house: {removable: true, "), plan=BOTH)
    [note] = found(pulled, STRANDS)
    assert (note.level, note.subjects) == ("note", ("house", "tracker"))
    assert "`house` can be unplugged from `tracker`" in note.message
    bare = edited((",\n             inline: [pv-off]", ""), plan=pulled)
    assert "warning" in [f.level for f in found(bare, STRANDS)]
    held = edited(("kind: mppt,", "kind: mppt, holds_without_battery: true,"), plan=pulled)
    assert not found(held, STRANDS)


def test_no_label_helps_at_what_opens_by_itself() -> None:
    """The management of a battery does not read it, and opens in full sun."""
    relay = edited(("bank-off: {", "bank-off: {opened_by: house, "), plan=STRANDED)
    [finding] = found(relay, STRANDS)
    assert "label" not in finding.remedy
    assert "let what opens `bank-off` stop `tracker` before that" in finding.remedy
    [by_hand] = found(STRANDED, STRANDS)
    assert by_hand.remedy.endswith("a label at `bank-off`: array off first")
