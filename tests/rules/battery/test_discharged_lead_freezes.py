"""Lead that is drawn down in frost, against the temperature at which it freezes then."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

RULE = "discharged-lead-freezes"
COLD = "cabin: {coldest: -15 °C"


@pytest.mark.parametrize(
    ("taken", "coldest", "told"),
    [
        ("50 %", "-15 °C", []),
        ("50 %", "-25 °C", []),  # at which a half full one freezes
        ("50 %", "-26 °C", ["warning"]),
        ("75 %", "-15 °C", []),
        ("80 %", "-15 °C", ["warning"]),  # -13.4 °C
        ("80 %", "-13 °C", []),
        ("100 %", "-8 °C", ["warning"]),
        ("100 %", "-7 °C", []),
        ("20 %", "-40 °C", []),
    ],
)
def test_by_what_is_taken_out_and_how_cold_it_gets(
    taken: str, coldest: str, told: list[str]
) -> None:
    edits = (("depth_of_discharge: 50 %", f"depth_of_discharge: {taken}"),)
    plan = sound(RULE, *edits, (COLD, f"cabin: {{coldest: {coldest}"))
    assert levels(plan, RULE) == told


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("depth_of_discharge: 80 %, ", ""),  # a half at most, and nothing says that it runs down
        ("chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, nominal: 12.8 V"),
        ("coldest: -18 °C, ", ""),
    ],
)
def test_nothing_is_found_by_what_is_taken(old: str, new: str) -> None:
    plan = faulty(RULE).replace(COLD + ", ", "cabin: {")
    assert levels(plan, RULE) == ["warning"]
    assert not found(edited((old, new), plan=plan), RULE)


def test_a_bank_that_the_winter_empties() -> None:
    """Use that the sun does not cover; what is left then is a half of it as usual."""
    energy = "energy: {sun_hours: {winter: 0.5 h}}\nloads:\n  lamp: {current: 5 A}\n"
    run = "  lamp-run: {from: house, to: lamp, cable: batt-8, length: 1 m, place: cabin}\n"
    plan = sound(RULE, ("depth_of_discharge: 50 %, ", ""), (COLD, "cabin: {coldest: -30 °C"))
    assert not found(plan, RULE)
    plan = plan.replace("batteries:\n", f"{energy}batteries:\n").replace(
        "wires:\n", f"wires:\n{run}"
    )
    use = plan.replace("energy: {sun", "energy: {uses: {lamp: {hours: 20 h}}, sun")
    [finding] = found(use, RULE)
    assert "as happens where it runs down in winter, it freezes at about -25 °C" in (
        finding.message.replace("−", "-")
    )
    assert not found(use.replace("hours: 20 h", "hours: 1 h"), RULE)


def test_the_remedies_hold() -> None:
    [finding] = found(faulty(RULE), RULE)
    assert [[(c.component, c.key, c.text) for c in way] for way in finding.ways] == [
        [("house", "depth_of_discharge", "75 %")],
        [("house", "place.coldest", "-13 °C")],
    ]
