"""Chains of batteries: every battery is in one, and cross-tied ones do not make them countless."""

from __future__ import annotations

from plans import edited
from wattproof.testing import study_of


def ladder(rungs: int) -> str:
    """Pairs of batteries of 2 V in parallel, one pair after another in series."""
    batteries = "".join(
        f"  b{rung}-{side}: {{chemistry: agm, nominal: 2 V, capacity: 100 Ah}}\n"
        for rung in range(rungs)
        for side in "xy"
    )
    ties = "".join(
        f"  l{rung}-{side}{other}: {{from: b{rung}-{side}.negative, "
        f"to: b{rung + 1}-{other}.positive, cable: batt-8, length: 0.2 m}}\n"
        for rung in range(rungs - 1)
        for side, other in ("xx", "yy", "xy")
    )
    last = f"b{rungs - 1}"
    return edited(
        (
            "  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,\n"
            "          max_charge_current: 50 A, max_charge_voltage: 14.6 V}\n",
            batteries,
        ),
        (
            "{from: tracker.battery, to: house,",
            "{from: tracker.battery.positive, to: b0-x.positive,",
        ),
        (
            "wires:\n",
            f"wires:\n{ties}"
            "  top: {from: b0-x.positive, to: b0-y.positive, cable: batt-8, length: 0.2 m}\n"
            f"  end: {{from: {last}-x.negative, to: {last}-y.negative, cable: batt-8, "
            "length: 0.2 m}\n"
            f"  minus: {{from: tracker.battery.negative, to: {last}-x.negative, cable: batt-8, "
            "length: 1 m}\n",
        ),
    )


def test_every_battery_of_a_ladder_is_in_a_chain_and_the_chains_are_few() -> None:
    rungs = 30
    chains = [charged.banks for charged in study_of(ladder(rungs)).battery.charged]
    assert {len(chain) for chain in chains} == {rungs}
    assert len({bank.name for chain in chains for bank in chain}) == 2 * rungs
    assert len(chains) <= 2 * rungs
