"""What strings side by side push back into the lead of one, and the devices in that lead.

A string gives 5.2 A, in bright sun 6.5 A; two others push 13 A back (NEC 690.8(A)). 18 AWG may have
7 A before it, 16 AWG 10 A (NEC 240.4(D)).
"""

from __future__ import annotations

import pytest

from plans import array_plan
from wattproof.study.protection.answers import Allowed
from wattproof.testing import study_of
from wattproof.working import steps

THREE = (1, 2, 3)
MADE = "voltage: 600 V, style: gpv, dc: true, interrupt: 20 kA"


def pushed_back(size: str, inline: str = "") -> list[Allowed]:
    """Into the positive of the first lead, from its string on."""
    own = f", inline: [{inline}]" if inline else ""
    plan = array_plan(
        "".join(
            f"  s{k}: {{module: rigid-100, series: 1, mounting: open-rack, place: roof}}\n"
            for k in THREE
        ),
        "".join(
            f"  lead-{k}: {{from: s{k}, to: joint, cable: pv-10, length: 2 m, place: roof"
            f"{own if k == 1 else ''}}}\n"
            for k in THREE
        )
        + "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, place: roof}\n",
        "  joint: {rating: 50 A, voltage: 600 V}\n",
    )
    fuses = "".join(f"  f{amps}: {{rating: {amps} A, {MADE}}}\n" for amps in (10, 12, 20))
    plan = plan.replace("fuses:\n", f"fuses:\n{fuses}", 1).replace("10 AWG", size, 1)
    return [
        each
        for each in study_of(plan).protection.allowed
        if each.wire.name == "lead-1" and each.kind == "siblings" and each.part.pole == "positive"
    ]


@pytest.mark.parametrize(
    ("size", "inline", "verdict", "why"),
    [
        ("18 AWG", "", "not allowed", "13 A can last, and the wire carries 7 A"),
        ("18 AWG", "f10", "not allowed", "`f10` lets 10 A last, and at most 7 A protects it"),
        ("16 AWG", "f10", "cleared", "`f10` opens above 10 A"),
        ("16 AWG", "f12", "not allowed", "`f12` lets 12 A last, and at most 10 A protects it"),
        ("16 AWG", "f20, f10", "cleared", "`f20` and `f10` open above 10 A"),
        ("16 AWG", "f10, f20", "cleared", "`f10` and `f20` open above 10 A"),
        (
            "16 AWG",
            "f20, f12",
            "not allowed",
            "`f20` and `f12` let 12 A last, and at most 10 A protects it",
        ),
        ("10 AWG", "", "limited", "13 A at most, and the wire carries 30 A"),
    ],
)
def test_what_the_others_push_back_from_the_string_on(
    size: str, inline: str, verdict: str, why: str
) -> None:
    first = pushed_back(size, inline)[0]
    assert (first.verdict, first.why) == (verdict, why)


def test_the_smallest_of_two_devices_stands_in_the_working() -> None:
    first = pushed_back("16 AWG", "f20, f12")[0]
    [step] = steps(first.lasting)
    assert (step.symbol, step.unit) == ("In(lead-1)", "A")
    assert step.formula == "smallest of (In(f20); In(f12))"


def test_a_device_alone_stands_there_as_it_is() -> None:
    first = pushed_back("16 AWG", "f12")[0]
    assert (first.lasting.symbol, first.lasting.number) == ("In(f12)", 12.0)


@pytest.mark.parametrize(
    ("inline", "verdict"),
    [
        ("{f10: {from_end: to, distance: 30 cm}}", "short enough"),
        ("{f10: {from_end: to, distance: 190 cm}}", "not allowed"),
        ("f10", "not known"),
    ],
)
def test_a_device_of_a_lead_sits_near_the_joint(inline: str, verdict: str) -> None:
    """What the others push passes the stretch before it, which lets nothing open."""
    last = pushed_back("16 AWG", inline)[-1]
    assert last.part.end.component == "joint"
    assert last.verdict == verdict


def test_a_device_in_the_other_pole_of_a_string_opens_as_well() -> None:
    """Leads of one pole each, 16 AWG, and 10 A in the negative: the positive is behind it too."""
    lead = "place: roof, cable: pv-10, length: 2 m"
    plan = array_plan(
        "".join(f"  s{k}: {{module: rigid-100, series: 1, mounting: open-rack}}\n" for k in THREE),
        "".join(
            f"  plus-{k}: {{from: s{k}.positive, to: joint.positive, {lead}}}\n"
            f"  minus-{k}: {{from: s{k}.negative, to: joint.negative, {lead}"
            f"{', inline: [f10]' if k == 1 else ''}}}\n"
            for k in THREE
        )
        + "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, place: roof}\n",
        "  joint: {rating: 50 A, voltage: 600 V}\n",
    )
    plan = plan.replace("fuses:\n", f"fuses:\n  f10: {{rating: 10 A, {MADE}}}\n", 1)
    answers = study_of(plan.replace("10 AWG", "16 AWG", 1)).protection.allowed
    own = {
        a.wire.name: (a.verdict, round(a.lasting.number, 9), a.why)
        for a in answers
        if a.kind == "siblings"
    }
    assert own["plus-1"] == ("cleared", 10.0, "`f10` opens above 10 A")
    assert own["plus-2"] == ("not allowed", 13.0, "13 A can last, and the wire carries 10 A")
