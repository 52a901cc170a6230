"""What a meter should show: the judge of readings finds nothing inside, and something outside."""

from __future__ import annotations

import pytest

from plans import EXAMPLES, edited
from wattproof.loading import load_study
from wattproof.quantities import Quantity, read_quantity
from wattproof.source import Place, Text
from wattproof.study import Study
from wattproof.study.readings.should_show import AtArray, Sky
from wattproof.testing import study_of
from wattproof.views.expected import sheet_of

SUN, CELLS = "850 W/m²", "48 °C"


def told(text: str, dimension: str) -> Quantity:
    return read_quantity(Text.at(text, Place("", 1, 1, 1, 1)), dimension)


def sky(sun: str = SUN, cells: str = CELLS) -> Sky:
    return Sky(told(sun, "irradiance"), None, told(cells, "temperature"))


def at(study: Study, where: str, sky_: Sky) -> AtArray:
    return next(found for found in study.readings.expected(sky_) if found.where == where)


def read_back(value: float, key: str, unit: str, back: str = "back_temperature: 48 °C") -> Study:
    """The base plan with a reading, on a skin that keeps the back as warm as the cells."""
    return study_of(
        edited(("mounting: roof-gap", "mounting: roof-bonded"))
        + f"readings: {{r: {{at: roof-string, {key}: {value:.1f} {unit}, irradiance: {SUN}, "
        f"{back}}}}}\n"
    )


@pytest.mark.parametrize(("key", "unit"), [("voc", "V"), ("isc", "A")])
def test_the_band_is_the_judge_s_own_to_the_last_digit(key: str, unit: str) -> None:
    study = study_of(edited(("mounting: roof-gap", "mounting: roof-bonded")))
    shown = getattr(at(study, "roof-string", sky()), key)
    for value, is_low, is_high in (
        (shown.least.number, False, False),
        (shown.least.number - 0.1, True, False),
        (shown.most.number, False, False),
        (shown.most.number + 0.1, False, True),
        (shown.likely.number, False, False),
    ):
        [reading] = read_back(value, key, unit).readings.at_arrays
        assert getattr(reading.stands, f"{key}_is_low") is is_low, value
        assert getattr(reading.stands, f"{key}_is_high") is is_high, value


def test_the_smallest_loss_is_what_the_first_value_below_the_band_lacks() -> None:
    shown = at(study_of(edited()), "roof-string", sky()).voc
    assert shown is not None
    first_below = shown.least.number - 0.1
    assert shown.finds == pytest.approx(1.0 - first_below / shown.likely.number)
    assert 0.0 < shown.finds < shown.surely < 0.2


def test_a_colder_sky_shows_more_and_a_dimmer_one_less() -> None:
    study = study_of(edited())
    warm, cool = (at(study, "roof-string", sky(cells=c)) for c in ("60 °C", "10 °C"))
    dim = at(study, "roof-string", sky(sun="400 W/m²"))
    bright = at(study, "roof-string", sky(sun="1000 W/m²"))
    assert warm.voc is not None
    assert cool.voc is not None
    assert warm.voc.likely.number < cool.voc.likely.number
    assert dim.isc is not None
    assert bright.isc is not None
    assert dim.isc.likely.number == pytest.approx(0.4 * bright.isc.likely.number, rel=0.02)


def test_a_joint_shows_the_voltage_of_one_string_and_the_current_of_all() -> None:
    study = load_study(str(EXAMPLES / "van-six-modules.yaml"))
    port, joint = at(study, "port", sky()), at(study, "roof-joint", sky())
    assert port.voc is not None
    assert joint.voc is not None
    assert joint.voc.likely.number == pytest.approx(port.voc.likely.number, rel=1e-6)
    assert port.isc is not None
    assert joint.isc is not None
    assert joint.isc.likely.number == pytest.approx(2.0 * port.isc.likely.number, rel=1e-3)


def test_too_little_sun_has_no_band() -> None:
    found = at(study_of(edited()), "roof-string", sky(sun="100 W/m²"))
    assert found.voc is None
    assert found.isc is None


def test_a_bank_shows_its_voltage_at_rest_and_in_charge() -> None:
    [bank] = study_of(edited()).readings.expected_at_banks(sky())
    assert bank.where == "house"
    assert bank.empty.number < bank.resting.number < 14.6
    assert bank.most is not None
    assert bank.most.number == pytest.approx(14.6)


def test_the_order_is_battery_strings_joints_input_operation_charge() -> None:
    study = load_study(str(EXAMPLES / "van-six-modules.yaml"))
    headings = [step.heading for step in sheet_of(study, sky()).steps]
    wanted = (
        "Before the first value",
        "Each battery at rest",
        "Open-circuit voltage of each string, by itself",
        "Short-circuit current of each string",
        "Open-circuit voltage at each joint",
        "Open-circuit voltage where the array meets its controller",
        "Insulation of the array",
        "In operation, at the solar input",
        "In charge, at the posts of each battery",
    )
    assert [h for h in headings if h in wanted] == list(wanted)
    steps = sheet_of(study, sky()).steps
    assert all(step.caution is not None for step in steps if "string" in step.heading)


def test_without_a_sky_a_table_takes_its_place() -> None:
    sheet = sheet_of(study_of(edited()), Sky())
    step = next(s for s in sheet.steps if "string" in s.heading)
    [grid] = step.grids
    assert len(grid.rows) == 3
    assert all(len(cells) == len(grid.across) == 3 for _, cells in grid.rows)
    assert step.boxes[0].finds.startswith("finds a loss of ")


@pytest.mark.parametrize("name", [path.stem for path in sorted(EXAMPLES.glob("*.yaml"))])
def test_every_example_has_a_sheet(name: str) -> None:
    study = load_study(str(EXAMPLES / f"{name}.yaml"))
    sheet = sheet_of(study, sky())
    boxes = [box for step in sheet.steps for box in step.boxes]
    assert boxes
    assert all(box.right for box in boxes)


def test_a_label_that_belongs_to_no_curve_has_no_band() -> None:
    study = study_of(edited(("isc: 5.2 A, imp: 4.9 A", "isc: 5.2 A, imp: 5.19 A")))
    for found in study.readings.expected(sky()):
        assert found.voc is None or found.voc.least.number < found.voc.most.number


@pytest.mark.parametrize(
    ("chemistry", "least"), [("agm", 11.8), ("flooded", 11.8), ("lithium-iron-phosphate", 11.5)]
)
def test_the_sheet_and_the_check_call_the_same_voltage_flat(chemistry: str, least: float) -> None:
    nominal = "12.8 V" if chemistry.startswith("lithium") else "12 V"
    plan = edited(("lithium-iron-phosphate, nominal: 12.8 V", f"{chemistry}, nominal: {nominal}"))
    [bank] = study_of(plan).readings.expected_at_banks(sky())
    assert bank.empty.number == pytest.approx(least)


def test_a_pulse_width_controller_holds_the_array_at_whatever_its_battery_has() -> None:
    plan = edited(("kind: mppt", "kind: pwm"), ("series: 3", "series: 1"))
    steps = sheet_of(study_of(plan), sky()).steps
    boxes = [box for step in steps for box in step.boxes if box.what == "voltage in operation"]
    assert [box.right for box in boxes] == ["that of its battery, at most 14.2 V"]
