"""The current of a wire against the small plug in it."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, build
from rule_runs import found_beside_all as found
from wattproof.remedies.proposals import larger_plug
from wattproof.testing import study_of

PLUG = "small-plug-overloaded"
PLUGGED = RULES.rules[PLUG].sound


@pytest.mark.parametrize(
    ("plug", "level"),
    [
        # Two of 5.2 A in series: 1.25 × 5.2 A = 6.5 A.
        ("flat-two-pin, plug_rating: 6.5 A", None),
        ("flat-two-pin, plug_rating: 6.4 A", "error"),
        ("cigar, plug_rating: 6 A", "error"),  # what is printed wins
        ("genderless-50, plug_rating: 5 A", "error"),
        ("flat-two-pin", None),  # 10 A
        ("cigar", None),  # 8 A
        ("genderless-50", None),
    ],
)
def test_small_plugs(plug: str, level: str | None) -> None:
    plan = edited(("flat-two-pin, plug_rating: 15 A", plug), plan=PLUGGED)
    assert [f.level for f in found(plan, PLUG)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("isc", "plug", "level"),
    [
        ("8.0 A", "flat-two-pin", None),  # 10.0 A
        ("8.1 A", "flat-two-pin", None),  # by a hair: a question
        ("8.5 A", "flat-two-pin", "warning"),  # heavy ones exist
        ("16.1 A", "flat-two-pin", "error"),  # 20.1 A: none is that heavy
        ("6.4 A", "cigar", None),  # 8.0 A
        ("6.8 A", "cigar", "warning"),
        ("16.1 A", "genderless-50", None),
    ],
)
def test_plugs_without_a_rating(isc: str, plug: str, level: str | None) -> None:
    amps = float(isc.split()[0]) * 0.94
    plan = edited(
        ("flat-two-pin, plug_rating: 15 A", plug),
        ("isc: 5.2 A, imp: 4.9 A, pmax: 100 W", f"isc: {isc}, imp: {amps:.2f} A"),
        plan=PLUGGED,
    )
    findings = found(plan, PLUG)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all((f.verdict == "certain") == (f.level == "error") for f in findings)


@pytest.mark.parametrize(("rating", "level"), [("10 A", "note"), ("15 A", "error")])
def test_a_plug_whose_fuse_opens_first(rating: str, level: str) -> None:
    """8 A into the charger draw some 12 A through a plug of 10 A."""
    plan = edited(
        ("line-fuse: {rating: 15 A", f"line-fuse: {{rating: {rating}"),
        ("plug_rating: 20 A", "plug_rating: 10 A"),
        plan=build("vehicle-trailer-line-nec-2023"),
    )
    [finding] = found(plan, PLUG)
    assert finding.level == level
    assert ("its fuse opens before that" in finding.message) == (level == "note")


@pytest.mark.parametrize(("rating", "level"), [("10 A", "note"), ("15 A", "error")])
def test_the_plug_of_a_negative_alone_has_the_fuse_of_its_positive(rating: str, level: str) -> None:
    """Each pole drawn for itself: what comes back through it is what the fuse lets out."""
    plan = edited(
        ("line-fuse: {rating: 15 A", f"line-fuse: {{rating: {rating}"),
        ("plug_rating: 20 A", "plug_rating: 10 A"),
        ("line: {from: start, to: dc-charger.alternator,",
         "back: {from: start.negative, to: dc-charger.alternator.negative, cable: batt-6, "
         "length: 8 m, place: [engine, cabin], enclosed: true, plug: trailer-13, plug_rating: 10 A}"
         "\n  "
         "line: {from: start.positive, to: dc-charger.alternator.positive,"),
        plan=build("vehicle-trailer-line-nec-2023"),
    )  # fmt: skip
    told = {finding.subjects[0]: finding.level for finding in found(plan, PLUG)}
    assert told == {"line": level, "back": level}


def test_an_unmarked_plug_behind_a_fuse_is_held_to_what_it_carries() -> None:
    """What the fuse lets through it is asked for; what flows every day is likely too much."""
    plan = edited(
        ("plug: trailer-13, plug_rating: 20 A", "plug: cigar"),
        plan=build("vehicle-trailer-line-nec-2023"),
    )
    [finding] = found(plan, PLUG)
    assert (finding.level, finding.verdict) == ("warning", "likely")
    assert not found(plan, "device-behind-larger-fuse")


def test_a_plug_that_carries_it() -> None:
    plan = edited(("plug_rating: 15 A", "plug_rating: 5 A"), plan=PLUGGED)
    (finding,) = found(plan, PLUG)
    assert finding.margin == pytest.approx(1 - 6.5 / 5)
    assert "rated at least 7 A" in finding.remedy
    assert not found(edited(("plug_rating: 5 A", "plug_rating: 7 A"), plan=plan), PLUG)
    assert not found(edited((", plug: flat-two-pin, plug_rating: 15 A", ""), plan=PLUGGED), PLUG)


@pytest.mark.parametrize(
    ("plug", "rated"), [("trailer-7", 40.0), ("flat-two-pin", 30.0), ("genderless-50", 60.0)]
)
def test_no_plug_is_asked_for_that_none_makes(plug: str, rated: float) -> None:
    """Above what is printed on any of its kind it has to go."""
    plan = edited(("flat-two-pin, plug_rating: 15 A", plug), plan=PLUGGED)
    [wire] = [w for w in study_of(plan).plan.wires.values() if w.plug is not None]
    fits, too_much = larger_plug(wire, rated), larger_plug(wire, rated + 1.0)
    assert [c.key for c in fits.ways[0]] == ["plug_rating"]
    assert [c.key for c in too_much.ways[0]] == ["plug", "plug_rating"]
    assert f"no plug of that kind is made for {rated + 1:g} A" in too_much.words
