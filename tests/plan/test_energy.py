"""What a plan says of sun and use: how it is written, and what is said of mistakes."""

from __future__ import annotations

import pytest

from plans import BASE, edited
from wattproof.plan import load_plan
from wattproof.plan.checks import periods
from wattproof.plan.root import Plan
from wattproof.source import PlanUnusable, Problem

CONSUMERS = """\
loads:
  refrigerator: {power: 45 W}
  pump: {current: 4 A}
inverters:
  mains: {power: 300 W}
wires:
"""


def text_of(energy: str, latitude: str = "") -> str:
    site = ("  hottest: 40 °C\n", f"  hottest: 40 °C\n{latitude}")
    return edited(("wires:\n", CONSUMERS), site, plan=BASE) + "energy:\n" + energy


def plan_of(energy: str, latitude: str = "") -> Plan:
    return load_plan("plan.yaml", text=text_of(energy, latitude))


def problems(energy: str, latitude: str = "") -> list[Problem]:
    with pytest.raises(PlanUnusable) as unusable:
        plan_of(energy, latitude)
    return unusable.value.problems


SUN = "  sun_hours: {winter: 1.2 h, july-trip: 5 h}\n"


def test_values_are_kept_by_period_with_their_places() -> None:
    plan = plan_of(f"{SUN}  uses:\n    refrigerator: {{hours: {{winter: 6 h, july-trip: 11 h}}}}\n")
    energy = plan.energy
    assert energy is not None
    assert energy.sun_hours is not None
    assert periods(plan) == ("winter", "july-trip")
    assert energy.sun_hours.of("winter").value == pytest.approx(1.2 * 3600)
    hours = energy.uses["refrigerator"].hours
    assert hours is not None
    assert (hours.of("july-trip").text, hours.year) == ("11 h", None)
    assert hours.of("winter").place.line == hours.of("july-trip").place.line


def test_one_value_holds_in_every_period() -> None:
    plan = plan_of(f"{SUN}  uses: {{mains: {{energy: 300 Wh, switched_on: 90 min}}}}\n")
    assert plan.energy is not None
    use = plan.energy.uses["mains"]
    assert use.energy is not None
    assert use.switched_on is not None
    assert use.energy.of("winter").value == use.energy.of("july-trip").value == 300 * 3600
    assert use.switched_on.of("winter").value == 5400


@pytest.mark.parametrize(
    ("energy", "latitude", "expected"),
    [
        ("  sun_hours: 3 h\n", "", ("year",)),
        ("  standby: 1 W\n", "", ("year",)),
        ("  standby: 1 W\n", "  latitude: 47°\n", ("winter", "spring", "summer", "autumn")),
        ("  uses: {pump: {hours: {june: 1 h}}}\n", "  latitude: -33.5 °\n", ("june",)),
    ],
)
def test_periods_that_a_plan_tells_apart(
    energy: str, latitude: str, expected: tuple[str, ...]
) -> None:
    assert periods(plan_of(energy, latitude)) == expected


MISTAKES = [
    ("  sun_hours: 3\n", "has no unit", "`3 h`"),
    ("  sun_hours: 16 h\n", "`16 h` is more than 14 h", "check the number"),
    ("  sun_hours: {}\n", "this mapping is empty", "`winter`"),
    ("  sun_hours: {Winter: 3 h}\n", "Winter", "winter"),
    ("  sun_hours: [3 h]\n", "this is a list", ""),
    ("  uses: {pump: {hours: 25 h}}\n", "`25 h` is more than 24 h", ""),
    ("  uses: {pump: {}}\n", "for how many hours", "`hours: 5 h`"),
    ("  uses: {pump: {hours: 1 h, energy: 40 Wh}}\n", "the same thing twice", "keep one"),
    ("  uses: {pumpe: {hours: 1 h}}\n", "no load or inverter `pumpe`", "write `pump`"),
    ("  uses: {house: {hours: 1 h}}\n", "no load or inverter `house`", "`loads` or `inverters`"),
    ("  uses: {pump: {hours: 1 h, switched_on: 2 h}}\n", "`pump` is a load", "delete the key"),
    ("  uses: {pump: {hours: {winter: 1 h, july-trip: 2 h}}}\n", "neither a season", "`sun_hours`"),
    ("  uses: {pump: {hours: {sumer: 2 h}}}\n", "`sumer` is neither", "write `summer`"),
    (f"{SUN}  uses: {{pump: {{hours: {{winter: 1 h}}}}}}\n", "says nothing of `july-trip`", "0 h"),
    (
        f"{SUN}  uses: {{mains: {{energy: {{july-trip: 1 Wh}}}}}}\n",
        "says nothing of `winter`",
        "`winter: 0 Wh`",
    ),
    (
        f"{SUN}  uses: {{pump: {{hours: {{winter: 1 h, july-trip: 1 h, may: 1 h}}}}}}\n",
        "`sun_hours` has no period `may`",
        "add it to `sun_hours`",
    ),
    ("  sun_hour: 3 h\n", "has no key `sun_hour`", "write `sun_hours`"),
]


@pytest.mark.parametrize(("energy", "message", "instead"), MISTAKES)
def test_mistakes(energy: str, message: str, instead: str) -> None:
    [problem] = problems(energy)
    assert message in problem.message
    assert instead in problem.instead
    assert problem.place.line > text_of("").count("\n")


@pytest.mark.parametrize(
    ("edit", "message"),
    [
        (("  hottest: 40 °C\n", "  hottest: 40 °C\n  latitude: 91°\n"), "`91°` is more than 90 °"),
        (("  hottest: 40 °C\n", "  hottest: 40 °C\n  latitude: 47\n"), "has no unit"),
        (("series: 3", "series: 3, tilt: 30°"), "does not say where the modules look"),
        (("series: 3", "series: 3, tilt: -30°, facing: south"), "is negative"),
        (("series: 3", "series: 3, tilt: 30°, facing: sout"), "is none of"),
        (("capacity: 100 Ah", "capacity: 100 Ah, depth_of_discharge: 120 %"), "cannot give 120 %"),
        (("capacity: 100 Ah", "capacity: 100 Ah, depth_of_discharge: 0 %"), "cannot give 0 %"),
    ],
)
def test_mistakes_elsewhere(edit: tuple[str, str], message: str) -> None:
    with pytest.raises(PlanUnusable) as unusable:
        load_plan("plan.yaml", text=edited(edit))
    [problem] = unusable.value.problems
    assert message in problem.message


def test_a_level_string_needs_no_direction() -> None:
    load_plan("plan.yaml", text=edited(("series: 3", "series: 3, tilt: 0°")))


def test_a_use_of_what_could_not_be_read_is_no_second_problem() -> None:
    text = edited(("wires:\n", "loads: {pump: {current: 4}}\nwires:\n"))
    with pytest.raises(PlanUnusable) as unusable:
        load_plan("plan.yaml", text=text + "energy: {uses: {pump: {hours: 1 h}}}\n")
    assert len(unusable.value.problems) == 1


def test_a_sky_is_one_word_or_one_for_each_period() -> None:
    plan = plan_of("  sky: mixed\n", "  latitude: 47°\n")
    assert plan.energy is not None
    assert plan.energy.sky is not None
    assert plan.energy.sky.of("july", "summer") == "mixed"
    assert periods(plan) == ("winter", "spring", "summer", "autumn")
    told = plan_of("  sky: {winter: dull, july: sunny}\n", "  latitude: 47°\n").energy
    assert told is not None
    assert told.sky is not None
    assert [told.sky.of(*each) for each in (("january", "winter"), ("july", "summer"))] == [
        "dull",
        "sunny",
    ]
    assert told.sky.of("may", "spring") is None


@pytest.mark.parametrize(
    ("energy", "message", "instead"),
    [
        ("  sky: overcast\n", "`overcast` is none of sunny, mixed, dull", ""),
        (
            "  sky: {wintr: dull}\n  uses: {pump: {hours: {july: 1 h}}}\n",
            "`wintr` is neither",
            "winter",
        ),
        ("  sky: {}\n", "this mapping is empty", "winter"),
        ("  sun_hours: 3 h\n  sky: dull\n", "`sky` says it again", "keep `sun_hours`"),
    ],
)
def test_mistakes_in_a_sky(energy: str, message: str, instead: str) -> None:
    [problem] = problems(energy, "  latitude: 47°\n")
    assert message in problem.message
    assert instead in problem.instead


def test_a_height_above_the_sea_is_below_the_highest_villages() -> None:
    [problem] = problems("  standby: 1 W\n", "  latitude: 47°\n  height: 8000 m\n")
    assert "8000 m" in problem.message
