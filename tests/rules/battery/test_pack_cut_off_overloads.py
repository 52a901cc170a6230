"""What the other packs' fuses and leads carry once one of several packs has cut off."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, faulty, found, sound
from wattproof.testing import check_text

CUT = "pack-cut-off-overloads"


def test_the_other_fuse_carries_all_of_it() -> None:
    """800 W / (0.9 × 11 V) = 80.8 A, which 100 A bear and 60 A do not."""
    [finding] = found(faulty(CUT), CUT)
    assert (finding.level, finding.subjects) == ("warning", ("port-fuse",))
    assert finding.message == (
        "if `starboard-pack` cuts off, fuse `port-fuse` (60 A) has to carry 80.8 A, and "
        "opens as well"
    )
    assert "use 90 A for `port-fuse`" in finding.remedy
    assert not found(sound(CUT), CUT)


@pytest.mark.parametrize(("rating", "n"), [("81 A", 0), ("80.7 A", 1), ("41 A", 1), ("40 A", 0)])
def test_what_its_share_is_too_much_for_is_said_elsewhere(rating: str, n: int) -> None:
    """Its share is 40.4 A."""
    plan = edited(("port-fuse: {rating: 60 A", f"port-fuse: {{rating: {rating}"), plan=faulty(CUT))
    assert len(found(plan, CUT)) == n


def test_a_lead_that_its_fuse_protects_stays_cool() -> None:
    """Without fuses a thin lead is told, and no more than as a warning."""
    bare = sound(CUT)
    for name in ("port", "starboard"):
        fuse = next(line for line in bare.splitlines() if f"{name}-fuse: {{rating" in line)
        bare = bare.replace(fuse + "\n", "").replace(
            f"inline: [{{{name}-fuse: {{from_end: from, distance: 5 cm}}}}]", "enclosed: true"
        )
    thin = bare.replace("port-pack, to: bar, cable: bank-1-0", "port-pack, to: bar, cable: batt-8")
    told = found(thin, CUT)
    assert [(f.level, f.subjects) for f in told] == [("warning", ("port-run",))]
    assert "is the most allowed" in told[0].message


def test_a_wire_of_which_nobody_tells_the_size_is_asked_about() -> None:
    """Whoever laid it may have reckoned with 185 A of the inverter by itself."""
    plan = """\
wattproof: 1
setting: vehicle
datasheets:
  cables:
    thick: {size: 4/0 AWG}
    thin: {size: 8 AWG}
batteries:
  coach: {chemistry: LiFePO4, nominal: 12.8 V, capacity: 100 Ah, arrangement: 2p}
  engine-battery: unknown
chargers:
  alternator: {kind: alternator, limited_to: 40 A}
switches:
  relay: unknown
inverters:
  inverter: {power: 2000 W, nominal: 12 V}
wires:
  inverter-run: {from: coach, to: inverter, cable: thick}
  alternator-run: {from: alternator, to: engine-battery}
  relay-run: {from: engine-battery, to: coach, inline: relay}
"""
    assert not found(plan, CUT)
    told = plan.replace("to: coach, inline", "to: coach, cable: thin, inline")
    assert [f.subjects for f in found(told.replace("8 AWG", "4 AWG"), CUT)] == [("relay-run",)]
    # of 6 AWG its share alone is too much, unless the wires are short
    assert set(asked(told.replace("8 AWG", "6 AWG"), CUT)) == {"length"}


def test_lead_batteries_that_nothing_parts_do_not_cut_off() -> None:
    plan = faulty(CUT).replace("lithium-iron-phosphate, nominal: 12.8 V", "agm, nominal: 12 V")
    assert found(plan, CUT)  # the fuse of the other may open
    fuse = next(line for line in plan.splitlines() if "starboard-fuse: {rating" in line)
    plan = plan.replace(fuse + "\n", "").replace(
        "inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}]", "enclosed: true"
    )
    assert not found(plan, CUT)


def test_a_bank_behind_a_relay_is_no_pack() -> None:
    """Its fuse may open when the house is switched off: nothing of its own hangs on that."""
    plan = edited(
        ("switches:\n", "switches:\n  relay: {rating: 140 A}\n"),
        ("inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}]",
         "inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}, relay]"),
        plan=faulty(CUT),
    )  # fmt: skip
    assert found(plan, CUT)
    assert not found(edited(("{rating: 140 A}", "{closes_above: 13 V}"), plan=plan), CUT)


def test_no_error_is_brought_by_a_pack_that_cuts_off() -> None:
    assert all(f.level != "error" for f in check_text(faulty(CUT)).each)
