"""Banks that a switch by hand joins, so that one starts the engine of the other."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, found, levels

BARE, OVER = "battery-fuse-missing", "fuse-over-conductor"

SELECTOR = build("boat-selector-and-starter")
OF_FIRST = (
    "fuses:\n",
    "fuses:\n  first-fuse: {rating: 225 A, style: class-t, voltage: 125 V, dc: true, "
    "interrupt: 20 kA}\n",
)
FIRST_RUN = "to: one-two-both.1.positive, cable: crank, length: 60 cm, place: battery-box, enclosed"
FUSED = edited(
    OF_FIRST,
    (
        f"{FIRST_RUN}: true}}",
        f"{FIRST_RUN}: false,\n    inline: [{{first-fuse: {{from_end: from, distance: 5 cm}}}}]}}",
    ),
    plan=SELECTOR,
)

RELAY = """\
switches:
  combiner: {rating: 120 A, voltage: 32 V, dc: true, load_break: true, closes_above: 13.3 V,
             opens_below: 12.75 V}
"""
RELAY_FUSES = """\
fuses:
  relay-a: {rating: 100 A, style: stud-mounted, voltage: 58 V, dc: true, interrupt: 10 kA}
  relay-b: {rating: 100 A, style: stud-mounted, voltage: 58 V, dc: true, interrupt: 10 kA}
"""
RELAY_RUN = """\
wires:
  relay-run: {from: first.positive, to: second.positive, cable: crank, length: 80 cm,
              place: battery-box, inline: [{relay-a: {from_end: from, distance: 5 cm}}, combiner,
                                           {relay-b: {from_end: to, distance: 5 cm}}]}
"""


def test_on_both_the_unfused_battery_feeds_the_starting_cable_of_the_other() -> None:
    [finding] = found(FUSED, BARE)
    assert finding.level == "note"
    assert finding.subjects == ("first-run", "second", "one-two-both")
    assert "`second` feeds `first-run` without a fuse while `one-two-both` joins it" in (
        finding.message
    )
    assert not found(FUSED.replace("enclosed: false", "enclosed: true"), BARE)


def test_a_cable_that_no_engine_could_be_started_by_needs_its_fuse() -> None:
    thin = edited((FIRST_RUN, FIRST_RUN.replace("crank", "charge")), plan=FUSED)
    [finding] = found(thin, BARE)
    assert finding.level == "error"
    assert "only `first-fuse`, the device of `first`, guards" in finding.message


def test_so_does_the_cable_behind_a_fuse_that_no_start_passes() -> None:
    assert levels(edited(("rating: 225 A", "rating: 125 A"), plan=FUSED), BARE) == ["error"]


def test_two_fuses_feed_a_starting_cable_that_needs_none() -> None:
    """100 A of the relay and 225 A of the first: more than 70 mm² in an engine space may have."""
    both = edited(
        ("switches:\n", RELAY), ("fuses:\n", RELAY_FUSES), ("wires:\n", RELAY_RUN), plan=FUSED
    )
    assert not [f for f in found(both, OVER) if f.subjects[0] in ("first-run", "second-run")]


def test_a_relay_beside_a_selector_joins_two_systems_too() -> None:
    both = edited(
        ("switches:\n", RELAY), ("fuses:\n", RELAY_FUSES), ("wires:\n", RELAY_RUN), plan=SELECTOR
    )
    assert not found(both, "low-voltage-switch-odd")
    [finding] = found(both, "relay-closes-in-sun")
    assert finding.subjects[0] == "combiner"


THIRD = """\
batteries:
  bow: {chemistry: flooded, nominal: 12 V, capacity: 110 Ah, max_charge_voltage: 14.8 V,
        short_circuit_current: 2 kA, place: battery-box}
"""


@pytest.mark.parametrize("relay", ["closes_above: 13.3 V,\n             opens_below: 12.75 V", ""])
def test_a_battery_behind_the_nearest_one_of_a_side_starts_nothing(relay: str) -> None:
    """Through 100 A of fuses, which 300 A would open, with a relay or a switch by hand."""
    third = edited(
        ("switches:\n", RELAY.replace("closes_above: 13.3 V,\n             opens_below: 12.75 V",
                                      relay or "poles: 1")),
        ("fuses:\n", RELAY_FUSES.replace("rating: 100", "rating: 80")),
        ("batteries:\n", THIRD),
        ("wires:\n", RELAY_RUN.replace("to: second.positive", "to: bow.positive") +
         "  bow-back: {from: first.negative, to: bow.negative, cable: crank, length: 80 cm,\n"
         "             place: battery-box}\n"),
        plan=SELECTOR,
    )  # fmt: skip
    assert not found(third, "cranking-cut-short")


TWIN = edited(
    ("switches:\n", "switches:\n  cross: {rating: 300 A, voltage: 32 V, dc: true}\n"),
    ("starters:\n", "starters:\n  other: {current: 300 A, place: engine}\n"),
    ("batteries:\n", THIRD),
    ("wires:\n", """\
wires:
  other-run: {from: bow.positive, to: other.positive, cable: crank, length: 2 m, place: engine,
              enclosed: true}
  other-back: {from: other.negative, to: bow.negative, cable: crank, length: 2 m, place: engine}
  bow-back: {from: first.negative, to: bow.negative, cable: crank, length: 80 cm,
             place: battery-box}
  cross-run: {from: starter.positive, to: cross, cable: crank, length: 1 m, place: engine,
              enclosed: true}
  cross-on: {from: cross, to: other.positive, cable: crank, length: 1 m, place: engine,
             enclosed: true}
"""),
    plan=SELECTOR,
)  # fmt: skip
HEATED = "cranking-cable-overheats"


def test_two_engines_that_a_switch_joins_each_start_by_both_batteries() -> None:
    assert not found(TWIN, HEATED)
    assert not found(TWIN, BARE)
    thin = edited(("to: cross, cable: crank", "to: cross, cable: lamp"), plan=TWIN)
    assert {f.subjects[0] for f in found(thin, HEATED)} == {"cross-run"}
    small = edited(("cross: {rating: 300 A", "cross: {rating: 60 A"), plan=TWIN)
    assert {f.subjects[0] for f in found(small, "cranking-switch-small")} == {"cross"}


def test_the_own_cable_of_an_engine_is_judged_beside_a_better_way_through_the_tie() -> None:
    thin = edited(("to: other.positive, cable: crank, length: 2 m", "to: other.positive, "
                   "cable: lamp, length: 2 m"), plan=TWIN)  # fmt: skip
    assert "other-run" in {f.subjects[0] for f in found(thin, HEATED)}
