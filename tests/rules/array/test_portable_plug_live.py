"""Plugs of portable modules that fixed ones beside them keep live."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, faulty, found, levels, sound

LIVE = "portable-plug-live"


def test_a_flat_plug_beside_the_roof() -> None:
    [finding] = found(faulty(LIVE), LIVE)
    assert (finding.level, finding.hazard) == ("warning", "fire")
    assert finding.subjects == ("folding", "roof-string")
    assert "when `folding` is taken away, its plug stays live from `roof-string`" in finding.message
    assert not found(sound(LIVE), LIVE)


@pytest.mark.parametrize(
    ("plug", "expected"),
    [
        ("", ["note"]),  # nothing said
        ("plug: genderless-50, ", ["note"]),
        ("plug: flat-two-pin, ", ["warning"]),
        ("plug: trailer-7, ", ["warning"]),
    ],
)
def test_by_the_plug_of_its_lead(plug: str, expected: list[str]) -> None:
    text = build("teardrop-two-ways-in")
    lines = [
        line
        for line in text.splitlines()
        if "folding-tracker" not in line
        and "folding-fuse" not in line
        and "start_above_battery: 1.5 V" not in line
        and "fixed-lead" not in line
    ]
    keep = "       start_above_battery: 1.5 V, run_above_battery: 1 V, blocks_reverse: true}"
    at = next(n for n, line in enumerate(lines) if "fixed-tracker: {" in line)
    lines.insert(at + 1, keep)
    plan = "\n".join(lines).replace(
        "wires:\n",
        "combiners:\n  both: {joins: [fixed, folding], rating: 30 A, voltage: 100 V}\n"
        "wires:\n"
        f"  folding-lead: {{from: folding, to: both, cable: sun, {plug}length: 6 m}}\n"
        "  fixed-lead: {from: fixed, to: both, cable: sun, length: 1 m}\n"
        "  both-lead: {from: both, to: fixed-tracker.pv, cable: sun, length: 2 m, "
        "inline: [sun-off]}\n",
    )
    assert levels(plan, LIVE) == expected
    switch = ("length: 6 m}", "length: 6 m, inline: [fold-off]}")
    has = "switches:\n  fold-off: {rating: 20 A, voltage: 60 V, dc: true, poles: 2}\n"
    assert not found(edited(switch, ("switches:\n", has), plan=plan), LIVE)


def test_each_on_an_input_of_its_own_is_dead_when_it_is_apart() -> None:
    assert not found(build("teardrop-two-ways-in"), LIVE)


def test_in_series_the_circuit_opens_which_another_rule_tells() -> None:
    assert not found(faulty("portable-joined-to-roof"), LIVE)
