"""Which standard fuses a remedy names: the usual one and the range that will do."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build
from rules.wiring.plans import BANK
from wattproof.remedies.fuse_sizes import FuseSizes, fuse_sizes
from wattproof.testing import study_of

LAMP = edited(
    ("inverters:\n", "loads: {lamp: {current: LOAD}}\ninverters:\n"),
    ("switches:\n", "switches:\n  off: {rating: SWITCH}\n"),
    ("wires:\n", "wires:\n  lamp-run: {from: main-bar, to: lamp, cable: batt-8, length: 1 m, "
     "place: cabin, inline: [off]}\n"),
    plan=BANK,
)  # fmt: skip


def sizes(code: str, load: str, switch: str, **more: float) -> FuseSizes | None:
    plan = LAMP.replace("code: nec-2023", f"code: {code}")
    study = study_of(plan.replace("LOAD", load).replace("SWITCH", switch))
    return fuse_sizes((study.wiring.wires["lamp-run"],), study, **more)


@pytest.mark.parametrize(
    ("code", "load", "words"),
    [
        ("nec-2023", "12 A", "15 A (15 to 40 A will do)"),  # 1.25 x 12 A = 15 A
        ("nec-2023", "13 A", "20 A (20 to 40 A will do)"),
        ("abyc-e11", "12.5 A", "20 A (15 to 80 A will do)"),  # none asked, a quarter more is cool
        ("nec-2023", "32 A", "40 A"),
    ],
)
def test_the_smallest_that_stays_cool_and_what_protects(code: str, load: str, words: str) -> None:
    found = sizes(code, load, "200 A")
    assert found is not None
    assert found.words == words


def test_no_larger_than_the_switch_in_the_same_way() -> None:
    found = sizes("nec-2023", "12 A", "25 A")
    assert found is not None
    assert (found.usual, found.most, found.weak) == (15.0, 25.0, ())


def test_a_switch_that_the_load_itself_asks_too_much_of_is_to_be_stronger() -> None:
    found = sizes("nec-2023", "20 A", "20 A")
    assert found is not None
    assert found.weak == ("off",)
    assert found.and_stronger == ", with `off` rated at least 25 A"
    assert [(c.component, c.key, c.text) for c in found.stronger] == [("off", "rating", "25 A")]


def test_it_outlasts_what_is_behind_it_where_the_wire_allows() -> None:
    found = sizes("nec-2023", "12 A", "200 A", over=20.0)
    assert found is not None
    assert found.usual == 25.0
    larger = sizes("nec-2023", "12 A", "200 A", over=60.0)
    assert larger is not None
    assert larger.usual == 15.0


def test_none_where_no_rating_does_both() -> None:
    assert sizes("nec-2023", "35 A", "200 A") is None


def test_in_the_way_of_a_starter_it_bears_the_start() -> None:
    """300 A for some seconds are borne by 150 A; behind it 70 mm² is protected by 300 A."""
    study = study_of(build("boat-selector-and-starter"))
    for name in ("first-run", "second-run"):
        found = fuse_sizes((study.wiring.wires[name],), study)
        assert found is not None
        assert found.words == "150 A (150 to 300 A will do)"


@pytest.mark.parametrize(
    ("plug", "usual"),
    [("cigar, plug_rating: 8 A", 6.0), ("trailer-7", 25.0), ("trailer-13", 20.0)],
)
def test_a_small_plug_is_spared_though_the_fuse_opens_in_use(plug: str, usual: float) -> None:
    """20 A ask for 25 A; a plug that bears less is not led more by a remedy."""
    plugged = LAMP.replace("inline: [off]", f"inline: [off], plug: {plug}")
    study = study_of(plugged.replace("LOAD", "20 A").replace("SWITCH", "200 A"))
    found = fuse_sizes((study.wiring.wires["lamp-run"],), study)
    assert found is not None
    assert found.usual == usual


TWO_BARE = """\
wattproof: 1
setting: vehicle
code: nec-2023
datasheets:
  modules:
    folding: {pmax: 60 W, voc: 22 V, vmp: 18 V, isc: 3.6 A, imp: 3.3 A}
  cables:
    ten: {size: 10 AWG}
strings:
  array: {module: folding, portable: true}
controllers:
  duo: {kind: mppt, max_output_current: 5.9 A}
batteries:
  one: {chemistry: agm, nominal: 12 V, capacity: 60 Ah}
  two: {chemistry: agm, nominal: 12 V, capacity: 60 Ah}
wires:
  lead: {from: array, to: duo.pv, cable: ten, length: 1 m}
  one-run: {from: duo.battery, to: one, cable: ten, length: 1 m}
  two-run: {from: duo.battery, to: two, cable: ten, length: 1 m}
"""


def test_it_outlasts_a_bank_that_only_the_fuse_itself_can_part() -> None:
    """Two lead batteries on one controller of 5.9 A: each takes all of it once the other's fuse is
    open, which is more than the half for which 5 A would do."""
    study = study_of(TWO_BARE)
    found = fuse_sizes((study.wiring.wires["one-run"],), study)
    assert found is not None
    assert found.usual >= 5.9
