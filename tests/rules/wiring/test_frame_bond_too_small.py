"""Size of the conductors that tie the frames of modules to earth."""

from __future__ import annotations

import pytest

from rule_runs import found, sound

RULE = "frame-bond-too-small"


@pytest.mark.parametrize(("size", "count"), [("6 mm²", 0), ("10 AWG", 0), ("4 mm²", 1)])
def test_least_size(size: str, count: int) -> None:
    plan = sound(RULE, ("bond-8: {size: 8 AWG", f"bond-8: {{size: {size}"))
    assert len(found(plan, RULE)) == count


def test_aluminium_of_any_size() -> None:
    bond = "bond-8: {size: 8 AWG, material: "
    [finding] = found(sound(RULE, (bond + "copper", bond + "aluminium")), RULE)
    assert "is of aluminium, on frames in the rain" in finding.message


def test_by_the_building_code_it_follows_the_device_before_it() -> None:
    """NEC Table 250.122: 8 AWG behind more than 60 A, which 1.5625 x 45 A asks for."""
    large = ("isc: 5.2 A, imp: 4.9 A, pmax: 100 W", "isc: 45 A, imp: 42 A, pmax: 857 W")
    thin = ("bond-8: {size: 8 AWG", "bond-8: {size: 10 AWG")
    code = ("code: iec", "code: nec-2023")
    base = sound(RULE)
    assert not found(sound(RULE, large), RULE)
    if "code: iec" in base:
        assert not found(sound(RULE, large, thin), RULE)
        [finding] = found(sound(RULE, large, thin, code), RULE)
    else:
        [finding] = found(sound(RULE, large, thin), RULE)
    assert "at least 8 AWG of copper" in finding.message
    assert "use 8 AWG or larger" in finding.remedy
