"""From a plan to its study: problems of values and of the circuit in one run, and no false ones."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.loading import load_study
from wattproof.source import PlanUnusable

UNLIKE = ("kind: mppt", "kind: mppt, nominal: 24 V")
"""Joined to a battery of 12.8 V: wrong as drawn."""


def messages(*edits: tuple[str, str]) -> list[str]:
    with pytest.raises(PlanUnusable) as caught:
        load_study("plan.yaml", text=edited(*edits))
    return [problem.message for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (("voc: 24.3 V", "voc: 24.3"), "has no unit"),
        (("mounting: roof-gap", "mounting: roof-gab"), "none of open-rack"),
        (("dc: true", "dc: yes"), "neither `true` nor `false`"),
        (("coldest: -18 °C", "coldest: 250 °C"), "temperature of air"),
        (("place: cabin,", "place: cabins,"), "no place `cabins`"),
        (("setting: vehicle", "setting: vehicle\ntitle:"), "has no value"),
        (("isc: 5.2 A", "isc: 5,2 A"), "decimal comma"),
    ],
)
def test_what_is_wrong_with_a_value_hides_nothing_that_is_wrong_as_drawn(
    edit: tuple[str, str], words: str
) -> None:
    found = messages(edit, UNLIKE)
    assert len(found) == 2
    assert sum(words in message for message in found) == 1
    assert sum("unlike nominal voltages" in message for message in found) == 1


@pytest.mark.parametrize(
    "edit",
    [
        ("to: house", "to: hause"),
        ("  home-run: {from: roof-string", "  home-run: {form: roof-string"),
        ("series: 3", "series: three"),
        ("nominal: 12.8 V", "nominal: 12.8"),
        ("cable: pv-10", "cable: pv-11"),
        ("setting: vehicle", "setting: vehicel"),
        ("fuses:\n", "fuzes:\n"),
    ],
)
def test_what_joins_the_plan_is_not_guessed_at(edit: tuple[str, str]) -> None:
    """Where it cannot be read, nothing is said of what is drawn."""
    edits = (edit,) if "nominal" in edit[0] else (edit, UNLIKE)
    assert not [message for message in messages(*edits) if "unlike" in message]


def test_an_unknown_nominal_voltage_contradicts_nothing() -> None:
    plan = edited(UNLIKE, ("nominal: 12.8 V", "nominal: unknown"))
    study = load_study("plan.yaml", text=plan)
    assert study.plan.unknown_at("house", "nominal") is not None
