"""Alarms that were wrong once, one test each: none of them may come back.

What is sound in each is common practice unless a source is named.
"""

from __future__ import annotations

import pytest

from found import found_alone, told_of_nothing
from plans import BASE, EXAMPLES, edited
from rule_runs import RULES, all_found, asked, build, faulty, found
from wattproof.codes import body
from wattproof.engine import check_file
from wattproof.physics.cell_temperature import Mounting, cell_temperature
from wattproof.physics.conductors import conductor_of_gauge
from wattproof.testing import A_DAY, study_of

CHART = [  # size, ampere, feet there and back of the 3 % and 10 % columns for 12 V
    ("14 AWG", 5.0, 30.0), ("12 AWG", 10.0, 20.0), ("10 AWG", 15.0, 20.0), ("8 AWG", 20.0, 25.0)
]  # fmt: skip


@pytest.mark.parametrize(("size", "amps", "feet"), CHART)
def test_marine_drop_is_reckoned_by_the_constant_of_the_marine_standard(
    size: str, amps: float, feet: float
) -> None:
    """ABYC E-11 (11.14.2.6): CM = 10.75 I L / E. 12 V less 3 % of drop is what charts print."""
    mils = {"14 AWG": 4110.0, "12 AWG": 6530.0, "10 AWG": 10380.0, "8 AWG": 16510.0}[size]
    code = body("abyc-e11")
    per_metre = code.drop_resistance("critical", conductor_of_gauge(size.split()[0]))
    assert per_metre is not None
    drop = per_metre.value * feet * 0.3048 * amps
    assert drop == pytest.approx(10.75 * amps * feet / mils, rel=2e-3)
    assert code.drop_resistance("charge", conductor_of_gauge("8")) is None  # not the body's limit


@pytest.mark.parametrize(
    "name",
    [
        "boat-relay-and-bilge-pump",  # start and house bank of unlike size, joined by a relay
        "boat-selector-and-starter",  # the same by a switch; cranking cable without a fuse
        "boat-one-module-pulse-width",  # one 36-cell module on a pulse-width controller
        "boat-flooded-equalised",  # branch breakers by the marine table
        "van-building-and-marine",  # 4/0 AWG behind 300 A in a van
        "boat-equalised-halves",  # loads on one of two batteries with an equaliser
    ],
)
def test_what_is_common_and_sound(name: str) -> None:
    assert set(all_found(build(name)).values()) <= {"note"}


def test_what_a_controller_throws_away_is_told_at_standard_conditions() -> None:
    """3 × 20.4 V × 4.9 A = 299.9 W; 10 A at 14.2 V are 142 W of them."""
    plan = edited(("max_output_current: 20 A", "max_output_current: 10 A"))
    [finding] = found(plan, "controller-clips")
    assert "158 W of 300 W are left unused" in finding.message


@pytest.mark.parametrize("mounting", ["roof-gap", "ground"])
def test_cells_over_a_gap_or_on_the_ground_are_as_warm_as_measured_ones(
    mounting: Mounting,
) -> None:
    """36 K over air in full sun and light wind, not 49 and 58 K."""
    assert cell_temperature(40.0, 1000.0, mounting) - 40.0 == pytest.approx(36.0, abs=1.0)


@pytest.mark.parametrize("code", ["nec-2023", "iec", "abyc-e11", "iso-13297", "as-nzs-3001"])
def test_insulation_that_is_too_hot_swallows_no_graver_finding(code: str) -> None:
    setting = "boat" if code in ("abyc-e11", "iso-13297") else "vehicle"
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("setting: vehicle", f"setting: {setting}"),
        ("insulation_temperature: 105 °C", "insulation_temperature: 60 °C"),
        ("cabin: {ambient: 35 °C}", "cabin: {ambient: 65 °C}"),
        ("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 150 A"),
    )
    for rule in ("insulation-too-cool", "fuse-over-conductor"):
        assert [f.level for f in found(plan, rule)] == ["error"], rule


@pytest.mark.parametrize("code", ["nec-2023", "iec"])
def test_a_wire_that_does_not_say_how_it_is_laid_is_read_as_is_usual_and_listed(code: str) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"))
    told = plan.replace("cable: batt-8,", "cable: batt-8, run: free-air,")
    conduit = plan.replace("cable: batt-8,", "cable: batt-8, run: conduit,")
    may = [study_of(p).wiring.wires["charge-run"].carrying.value.number  # type: ignore[union-attr]
           for p in (plan, told, conduit)]  # fmt: skip
    assert may[0] == may[1] >= may[2]
    assumed = {a.subject for a in check_file("p.yaml", RULES, today=A_DAY, text=plan).uses
               if a.key == "run of a wire"}  # fmt: skip
    assert "charge-run" in assumed


def test_the_breaker_of_a_load_takes_no_battery_away() -> None:
    plan = edited(
        ("wires:\n", "breakers:\n  lamp-breaker: {rating: 10 A, voltage: 65 V, dc: true, "
         "interrupt: 5 kA, style: toggle-breaker}\nloads:\n  lamp: {current: 2 A}\n"
         "wires:\n  lamp-run: {from: house, to: lamp, cable: batt-8, length: 1 m, place: cabin,\n"
         "             inline: [{lamp-breaker: {from_end: from, distance: 10 cm}}]}\n"),
    )  # fmt: skip
    assert not found(plan, "battery-switch-strands-controller")
    assert not found(plan, "battery-taken-away-in-sun")


def test_a_feeder_in_a_panel_of_unknown_run_is_asked_and_no_error() -> None:
    assert not asked(BASE, "battery-fuse-missing")


def plans_with_faults() -> list[tuple[str, str]]:
    paths = sorted((EXAMPLES / "faulty").glob("*.yaml"))
    texts = [(str(p), p.read_text(encoding="utf-8")) for p in paths]
    return texts + [(f"{rule}.yaml", faulty(rule)) for rule in sorted(RULES.rules)[::5]]


def test_no_message_tells_a_current_of_nothing_or_a_temperature_that_none_has() -> None:
    """Nor do those of published builds, which `external/test_builds.py` checks."""
    for name, text in plans_with_faults():
        assert not told_of_nothing(found_alone(name, text, RULES)), name
