"""Whether a cable that sun or rain reaches is made for it."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, found, found_beside_all, sound

OUTDOORS = "cable-not-for-outdoors"


@pytest.mark.parametrize(
    ("kind", "outdoor", "series", "level"),
    [
        ("building", "outdoor: false", "3", "error"),  # 82 V cold
        ("building", "outdoor: false", "2", "warning"),  # 54.7 V
        ("automotive", "outdoor: false", "2", "warning"),
        ("building", "outdoor: true", "3", None),
        ("pv", "outdoor: false", "3", "note"),  # a mark against what such a cable is made for
        ("marine", "outdoor: false", "3", "note"),
        ("pv", "outdoor: true", "3", None),
    ],
)
def test_kind_and_mark(kind: str, outdoor: str, series: str, level: str | None) -> None:
    plan = edited(
        ("kind: building", f"kind: {kind}"), ("outdoor: true", outdoor),
        ("series: 3", f"series: {series}"), plan=sound(OUTDOORS),
    )  # fmt: skip
    findings = found(plan, OUTDOORS)
    assert [f.level for f in findings] == ([level] if level else [])
    if level:
        assert findings[0].subjects == ("home-run",)
        assert "use PV cable" in findings[0].remedy


@pytest.mark.parametrize("covered", [", run: conduit", ", enclosed: true"])
def test_not_stated_is_asked(covered: str) -> None:
    """In a pipe, or of a kind that is made for either."""
    silent = edited((",\n            outdoor: true", ""), plan=sound(OUTDOORS))
    in_pipe = edited(("length: 4 m", f"length: 4 m{covered}"), plan=silent)
    for plan in (in_pipe, edited(("kind: building", "kind: automotive"), plan=silent)):
        assert not found(plan, OUTDOORS)
        assert asked(plan, OUTDOORS) == ["mark for outdoors"]


@pytest.mark.parametrize(
    ("type_", "pipe", "level"),
    [
        ("THWN-2", ", run: conduit", None),  # for wet places; a pipe keeps the sun off
        ("THWN-2", "", "warning"),
        ("THHN", ", run: conduit", "note"),
    ],
)
def test_building_cable_for_wet_places_may_lie_in_a_pipe(
    type_: str, pipe: str, level: str | None
) -> None:
    plan = edited(
        ("kind: building", f"type: {type_}, kind: building"),
        (",\n            outdoor: true", ""),
        ("length: 4 m", f"length: 4 m{pipe}"),
        plan=sound(OUTDOORS),
    )
    assert [f.level for f in found(plan, OUTDOORS)] == ([level] if level else [])


def test_building_cable_in_the_open_that_says_nothing_is_likely_for_indoors() -> None:
    silent = edited((",\n            outdoor: true", ""), plan=sound(OUTDOORS))
    [finding] = found(silent, OUTDOORS)
    assert (finding.level, finding.verdict) == ("warning", "likely")


@pytest.mark.parametrize(
    ("place", "fires"),
    [
        ("{ambient: 50 °C, wet: true}", True),
        ("{ambient: 50 °C}", False),
    ],
)
def test_places(place: str, fires: bool) -> None:
    plan = edited(("outdoor: true", "outdoor: false"), ("{ambient: 50 °C, sunlight: true}", place),
                  plan=sound(OUTDOORS))  # fmt: skip
    assert bool(found(plan, OUTDOORS)) is fires


def test_in_conduit_it_is_a_note() -> None:
    plan = edited(
        ("outdoor: true", "outdoor: false"), ("length: 4 m,", "length: 4 m, run: conduit,"),
        plan=sound(OUTDOORS),
    )  # fmt: skip
    assert [f.level for f in found(plan, OUTDOORS)] == ["note"]


@pytest.mark.parametrize(("size", "printed"), [("10 AWG", "PV WIRE"), ("6 mm²", "H1Z2Z2-K")])
def test_a_type_that_is_printed_gives_way_to_one_for_the_sun(size: str, printed: str) -> None:
    plan = edited(
        ("size: 10 AWG, kind: building", f"type: THHN, size: {size}, kind: building"),
        ("outdoor: true", "outdoor: false"),
        plan=sound(OUTDOORS),
    )
    [finding] = found_beside_all(plan, OUTDOORS, tried=True)
    assert [str(change) for way in finding.ways for change in way] == [
        f"`{said}` for the cable of `home-run`"
        for said in (f"type: {printed}", "kind: pv", "outdoor: true")
    ]
    assert [len(trial.clears) for trial in finding.trials] == [1]
