"""Whether each of several lithium packs in parallel has a fuse or breaker of its own."""

from __future__ import annotations

import pytest

from rule_runs import faulty, found, levels, sound
from rules.battery.plans import gives

EACH = "each-pack-unfused"


def test_packs_joined_bare() -> None:
    [finding] = found(faulty(EACH), EACH)
    assert finding.level == "warning"
    assert finding.message == (
        "`port-pack`, `starboard-pack`, 200 Ah of lithium in parallel, have no fuse or breaker each"
    )
    assert "on the post of each of `port-pack`, `starboard-pack`" in finding.remedy
    assert not found(sound(EACH), EACH)


@pytest.mark.parametrize(
    ("one", "level"),
    [("250 Ah", "warning"), ("251 Ah", "error")],  # 500 Ah and just above, with 250 Ah
)
def test_large_banks_on_boats(one: str, level: str) -> None:
    plan = faulty(EACH).replace("length: 15 cm", "length: 8 cm").replace("100 Ah", "250 Ah")
    plan = plan.replace("code: nec-2023", "code: abyc-e11").replace("250 Ah", one, 1)
    assert levels(plan, EACH) == [level]
    assert levels(plan.replace("code: abyc-e11", "code: nec-2023"), EACH) == ["warning"]


def test_long_bare_ways_are_a_missing_battery_fuse_instead() -> None:
    plan = faulty(EACH).replace("length: 15 cm", "length: 60 cm")
    assert not found(plan, EACH)
    assert found(plan, "battery-fuse-missing")


def test_lead_is_left_alone() -> None:
    lead = faulty(EACH).replace("lithium-iron-phosphate", "agm").replace("12.8 V", "12 V")
    assert not found(lead, EACH)


def test_packs_in_short_form_without_fuses_of_their_own() -> None:
    bare = gives("100 A", ("capacity: 100 Ah", "capacity: 100 Ah, arrangement: 4p"))
    [finding] = found(bare, EACH)
    assert finding.message == (
        "the 4 packs of `house`, 400 Ah of lithium in parallel, have no fuse or breaker each"
    )
    assert finding.level == "warning"
    assert "`each_pack: {fuse: …}`" in finding.remedy
    each = bare.replace("arrangement: 4p", "arrangement: 4p, each_pack: {fuse: pack-fuse}")
    each = each.replace(
        "fuses:\n",
        "fuses:\n  pack-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA}\n",
        1,
    )
    assert not found(each, EACH)
