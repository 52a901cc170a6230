"""Shorts that more than one bank feeds, and places beside others, by Ohm's law on paper."""

from __future__ import annotations

import pytest

from external.battery_sides import COLD, RESTING, BatterySide, Run
from rule_runs import found
from study.wiring.test_network import joined, packs
from wattproof.circuit import Passage, Terminal
from wattproof.study import Study
from wattproof.study.wiring.shorts import Short
from wattproof.testing import study_of
from wattproof.working import steps

METRE = COLD["batt-2"]
"""Of one pole of 2 AWG, cold (Ω/m)."""


def inside(amps: float) -> float:
    """Resistance of a pack by its short-circuit current (Ω)."""
    return RESTING / amps


def device(study: Study, name: str) -> Passage:
    [found] = [e for e in study.circuit.battery_side if isinstance(e, Passage) and e.name == name]
    return found


def three_packs() -> BatterySide:
    """Of 1, 2 and 4 kA on leads of 1 m; the fuse of the first is 10 cm from its post."""
    side = packs([1.0, 1.0, 1.0])
    side.packs = {"pack-0": 1000.0, "pack-1": 2000.0, "pack-2": 4000.0}
    return side


def test_what_passes_a_fuse_into_its_own_pack_is_of_the_others_alone() -> None:
    """Beside the fuse the others meet at the bar, then go 90 cm there and back."""
    study = study_of(three_packs().plan())
    short = study.wiring.network.through_from(device(study, "fuse-0"), start=False)
    assert short is not None
    siemens = {k: 1.0 / (inside(amps) + 2 * METRE) for k, amps in ((1, 2000.0), (2, 4000.0))}
    both = sum(siemens.values())
    amps = RESTING / (1.0 / both + 2 * 0.9 * METRE)
    assert short.current.number == pytest.approx(amps, rel=1e-3)
    assert {bank.name: part.number for bank, part in short.banks} == pytest.approx(
        {f"pack-{k}": amps * own / both for k, own in siemens.items()}, rel=1e-3
    )
    assert symbols(short) == ["Ik(pack-1→fuse-0)", "Ik(pack-2→fuse-0)"]
    whole, own = steps(short.current)[-2:]
    assert whole.symbol == "Ik(lead-0)"
    assert whole.words == "what all banks together drive into a short at lead-0"
    assert own.words == "prospective current through fuse-0"
    assert own.formula == "network (Ik(lead-0))"


def symbols(short: Short) -> list[str]:
    return [part.symbol for _, part in short.banks]


def test_what_all_drive_names_every_pack_and_every_way() -> None:
    study = study_of(three_packs().plan())
    short = study.wiring.network.short_at(Terminal("load", "", "positive"))
    assert short is not None
    siemens = [1.0 / (inside(amps) + 2 * METRE) for amps in (1000.0, 2000.0, 4000.0)]
    amps = RESTING / (1.0 / sum(siemens) + 2 * METRE)
    assert short.current.number == pytest.approx(amps, rel=1e-3)
    own = [part.number for _, part in short.banks]
    assert own == pytest.approx([amps * each / sum(siemens) for each in siemens], rel=1e-3)
    [whole] = [step for step in steps(short.current) if step.symbol == "Ik(load)"]
    assert whole.formula.count("Urest") == 3
    assert whole.formula.count("Ri(") == 3
    assert whole.formula.count("Rcold(load-run") == 2


def test_a_single_pack_is_told_as_a_sum() -> None:
    study = study_of(packs([1.0]).plan())
    network, load = study.wiring.network, Terminal("load", "", "positive")
    ohms = network.resistance([study.battery.side.banks["pack-0"]], load)
    assert ohms is not None
    assert ohms.number == pytest.approx(inside(3000.0) + 4 * METRE, rel=1e-3)
    [told] = steps(ohms.named("R", "resistance", "Ω"))[-1:]
    assert told.formula.startswith("Ri(pack-0) + Rcold(lead-0)")
    short = network.short_at(load)
    assert short is not None
    assert steps(short.current)[-1].formula.startswith("Urest(pack-0) / (Ri(pack-0) + ")


def test_two_packs_side_by_side_are_solved_together() -> None:
    study = study_of(packs([1.0, 2.0]).plan())
    network, load = study.wiring.network, Terminal("load", "", "positive")
    ohms = network.resistance(list(study.battery.side.banks.values()), load)
    assert ohms is not None
    one, other = inside(3000.0) + 2 * METRE, inside(3000.0) + 4 * METRE
    assert ohms.number == pytest.approx(one * other / (one + other) + 2 * METRE, rel=1e-3)


@pytest.mark.parametrize("ends", [("pack-0", "bar"), ("bar", "pack-0")])
def test_the_place_opposite_lies_as_far_along_a_longer_way_back(ends: tuple[str, str]) -> None:
    """A quarter of 2 m there, so a quarter of 4 m back, whichever way that wire is declared."""
    side = packs([2.0])
    side.runs[0].fuse_at = 0.5
    side.runs[1] = Run("lead-0-back", "negative", *ends, "batt-2", 4.0)
    study = study_of(side.plan())
    short = study.wiring.network.through(device(study, "fuse-0"))
    assert short is not None
    by_hand = RESTING / (inside(3000.0) + (0.5 + 1.0) * METRE)
    assert short.current.number == pytest.approx(by_hand, rel=1e-3)


def test_a_device_of_the_other_pole_at_that_place_is_opposite() -> None:
    """The negative has its own breaker at a quarter: the short lies between the two."""
    side = packs([2.0])
    side.runs[0].fuse_at = 0.5
    side.runs[1] = Run("lead-0-back", "negative", "pack-0", "bar", "batt-2", 4.0, "fuse-1", 1.0)
    study = study_of(side.plan())
    for name in ("fuse-0", "fuse-1"):
        short = study.wiring.network.through(device(study, name))
        assert short is not None
        by_hand = RESTING / (inside(3000.0) + (0.5 + 1.0) * METRE)
        assert short.current.number == pytest.approx(by_hand, rel=1e-3)


def test_a_side_without_a_pack_has_no_short() -> None:
    side = BatterySide(packs={"pack-0": 3000.0}, bars=["bar", "other"], ports={"load": -5.0})
    joined(side, "lead-0", "pack-0", "bar")
    joined(side, "load-run", "other", "load")
    network = study_of(side.plan()).wiring.network
    assert network.short_at(Terminal("load", "", "positive")) is None
    assert network.short_at(Terminal("bar", "", "positive")) is not None


@pytest.mark.parametrize("pole", [0, 1])
def test_a_fuse_in_either_pole_has_the_same_short_to_break(pole: int) -> None:
    """10 cm from a post of 3 kA, there and back."""
    side = packs([2.0])
    side.runs[0].fuse = ""
    side.runs[pole].fuse, side.runs[pole].fuse_at = "main", 0.1
    text = side.plan()
    [duty] = study_of(text).protection.duties
    by_hand = RESTING / (inside(3000.0) + 2 * 0.1 * METRE)
    assert duty.prospective.number == pytest.approx(by_hand, rel=1e-3)
    assert not duty.too_low
    assert not found(text, "fuse-interrupt-low")
    assert found(text.replace("interrupt: 20 kA", "interrupt: 2 kA"), "fuse-interrupt-low")


def test_two_ways_from_one_pack_are_side_by_side() -> None:
    """1 m beside 3 m are three quarters of a metre, there and back."""
    side = packs([1.0])
    joined(side, "second-run", "bar", "load", 3.0)
    study = study_of(side.plan())
    network, load = study.wiring.network, Terminal("load", "", "positive")
    ohms = network.resistance([study.battery.side.banks["pack-0"]], load)
    assert ohms is not None
    by_hand = inside(3000.0) + 2 * METRE + 2 * 0.75 * METRE
    assert ohms.number == pytest.approx(by_hand, rel=1e-3)
    short = network.short_at(load)
    assert short is not None
    assert short.current.number == pytest.approx(RESTING / by_hand, rel=1e-3)


def test_the_share_of_a_pack_says_what_it_is_a_share_of() -> None:
    side = packs([1.0, 2.0, 4.0])
    study = study_of(side.plan())
    network = study.wiring.network
    [port] = [p for p in network.ports if p.name == "load"]
    shares = network.shares(list(study.battery.side.banks.values()), port)
    assert shares is not None
    assert shares[0].words == "share of pack-0 in what load draws"
    assert sum(share.number for share in shares) == pytest.approx(1.0)


def test_of_two_packs_of_other_voltages_each_drives_by_its_own() -> None:
    """13.4 V beside 12.9 V, each 3 kA and 1 m there and back, into a short 1 m behind the bar."""
    lithium = "pack-1: {chemistry: lithium-iron-phosphate, nominal: 12.8 V"
    text = packs([1.0, 1.0]).plan()
    assert lithium in text
    study = study_of(text.replace(lithium, "pack-1: {chemistry: agm, nominal: 12 V"))
    short = study.wiring.network.short_at(Terminal("load", "", "positive"))
    assert short is not None
    volts = (RESTING, 12.9)
    own = [1.0 / (each / 3000.0 + 2 * METRE) for each in volts]
    load = 1.0 / (2 * METRE)
    bar = sum(u * g for u, g in zip(volts, own, strict=True)) / (sum(own) + load)
    assert short.current.number == pytest.approx(bar * load, rel=1e-3)
    assert [part.number for _, part in short.banks] == pytest.approx(
        [(u - bar) * g for u, g in zip(volts, own, strict=True)], rel=1e-3
    )


def test_a_bond_to_the_chassis_has_no_resistance() -> None:
    """From the bar 1 m to the pack that is tied; to the other as far, and 2 m back."""
    text = packs([1.0, 1.0]).plan()
    text += "bonds:\n  a: {from: pack-0.negative, to: chassis, cable: batt-2}\n"
    short = study_of(text).wiring.network.to_chassis(Terminal("bar", "", "positive"))
    assert short is not None
    ways = [inside(3000.0) + metres * METRE for metres in (1.0, 3.0)]
    assert short.current.number == pytest.approx(sum(RESTING / way for way in ways), rel=1e-3)
