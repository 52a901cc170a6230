"""Tables of arrays, sun and use, readings and settings: what they hold agrees with the study."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest

from plans import edited
from reports.curve_plans import SHADED, inputs_of
from wattproof.circuit import build_circuit
from wattproof.plan import load_plan
from wattproof.reports.page import array_tables, energy_tables, reading_tables
from wattproof.reports.settings import tables as settings_tables
from wattproof.reports.writing.tables import Table
from wattproof.settings import NOTHING_SET, Setting, Settings, of_call
from wattproof.source import Place
from wattproof.study import Study
from wattproof.testing import study_of

ROOT = Path(__file__).parents[2]
CABIN = Study(build_circuit(load_plan(str(ROOT / "examples" / "cabin-eight-modules.yaml"))))


def rows_of(tables: Iterable[Table], key: str) -> list[dict[str, str]]:
    """The rows of a table by its headings."""
    [table] = [each for each in tables if each.key == key]
    heads = [column.heading for column in table.columns]
    return [dict(zip(heads, (c.text for c in row.cells), strict=True)) for row in table.rows]


class TestArrays:
    def test_a_row_for_each_state_and_shade_with_where_the_controller_works(self) -> None:
        inputs = inputs_of(SHADED)
        rows = rows_of(array_tables.tables_of(inputs), "arrays")
        assert [row["state"] for row in rows] == [curve.words for curve in inputs[0].curves]
        assert len(rows) == 7
        for row, curve in zip(rows, inputs[0].curves, strict=True):
            assert row["Voc"] == f"{curve.open_voltage:.3g} V"
            assert row["lost to shade"] == (curve.lost if curve.shade else "does not apply")
            assert curve.work is not None
            assert row["held back by"] == curve.work.held_by

    def test_a_voltage_that_is_too_high_says_so(self) -> None:
        text = SHADED.replace("max_input_voltage: 100 V", "max_input_voltage: 60 V")
        assert text != SHADED
        rows = rows_of(array_tables.tables_of(inputs_of(text)), "arrays")
        assert rows[1]["Voc"].endswith(", too high")

    def test_without_shade_nothing_is_said_of_it(self) -> None:
        rows = rows_of(array_tables.tables_of(inputs_of(edited())), "arrays")
        assert "lost to shade" not in rows[0]

    def test_no_table_without_a_curve(self) -> None:
        assert list(array_tables.tables_of([])) == []


class TestSunAndUse:
    def test_every_period_has_what_is_used_and_what_the_sun_brings(self) -> None:
        [energy] = CABIN.energy.balances
        rows = rows_of(energy_tables.tables_of(CABIN.energy.balances), "energy")
        assert [row["period"] for row in rows] == ["winter", "spring", "summer", "autumn"]
        for row, balance in zip(rows, energy.balances, strict=True):
            assert row["used a day"] == str(balance.used)
            assert row["harvest, at least"] == str(balance.least)
            assert row["harvest, at most"] == str(balance.most)
            assert row["under the clearest sky"] == str(balance.limit)

    def test_how_long_the_bank_lasts_and_on_what_that_rests(self) -> None:
        [row] = rows_of(energy_tables.tables_of(CABIN.energy.balances), "autonomy")
        [energy] = CABIN.energy.balances
        assert row["lasts without sun, days"] == str(energy.autonomy)
        assert row["most is used"] == "in summer"
        assert "usable energy" in row["rests on assumptions"]

    def test_what_is_not_known_is_said(self) -> None:
        plan = edited() + "energy: {uses: {}}\n"
        rows = rows_of(energy_tables.tables_of(study_of(plan).energy.balances), "energy")
        assert {row["harvest, at least"] for row in rows} == {"not known"}

    def test_no_table_for_a_plan_that_says_nothing_of_it(self) -> None:
        assert list(energy_tables.tables_of(study_of(edited()).energy.balances)) == []


def read(text: str) -> list[dict[str, str]]:
    """The rows of readings at arrays of the base plan with one reading."""
    study = study_of(f"{edited()}readings:\n  r: {{{text}}}\n")
    return rows_of(reading_tables.tables_of(study.readings), "readings")


SUNNY = "irradiance: 900 W/m², back_temperature: 45 °C"


class TestReadings:
    def test_what_was_read_stands_beside_its_band(self) -> None:
        rows = rows_of(reading_tables.tables_of(CABIN.readings), "readings")
        first = CABIN.readings.at_arrays[0]
        assert rows[0]["read"] == str(first.taken.voc)
        assert rows[0]["at least"] == str(first.expected.voc.low)
        assert rows[0]["expected"] == str(first.expected.voc.expected)
        assert rows[0]["at most"] == str(first.expected.voc.high)
        assert rows[0]["stands"] == "as expected"
        assert rows[-1]["quantity"] == "power"

    def test_every_reading_of_the_plan_is_in_one_of_the_tables(self) -> None:
        tables = list(reading_tables.tables_of(CABIN.readings))
        named = {row.cells[0].text for table in tables for row in table.rows}
        assert named == set(map(str, CABIN.plan.readings))

    @pytest.mark.parametrize(
        ("reading", "stands"),
        [
            (f"at: roof-string, voc: 40 V, {SUNNY}", "low"),
            (f"at: roof-string, voc: 90 V, {SUNNY}", "high"),
            (f"at: roof-string, isc: 2 A, {SUNNY}", "low"),
            (f"at: roof-string, isc: 9 A, {SUNNY}", "high"),
            (f"at: roof-string, voc: -60 V, {SUNNY}", "poles or probes swapped"),
            ("at: roof-string, isc: 4 A", "not decided: the sun was not read"),
            ("at: roof-string, voc: 60 V, irradiance: 50 W/m²", "not decided: too little sun"),
        ],
    )
    def test_how_a_reading_stands(self, reading: str, stands: str) -> None:
        [row] = read(reading)
        assert row["stands"] == stands

    def test_joints_and_charging_are_taken_to_full_load(self) -> None:
        rows = rows_of(reading_tables.tables_of(CABIN.readings), "service")
        joint = CABIN.readings.at_joints[0]
        assert rows[0]["taken to full load"] == str(joint.drop)
        assert rows[0]["current in it"] == "13.4 A"
        assert rows[-1]["taken to full load"] == str(CABIN.readings.of_charging[0].lost)

    def test_no_table_without_readings(self) -> None:
        assert list(reading_tables.tables_of(study_of(edited()).readings)) == []


class TestSettings:
    def test_what_was_set_with_reason_and_place(self) -> None:
        place = Place("wattproof-settings.yaml", 3, 1, 3, 9)
        settings = Settings(off={"plug-polarity-unsure": Setting(True, place, "no such plugs")})
        [row] = rows_of(settings_tables.tables_of(settings), "set")
        assert (
            row["set"] == "`plug-polarity-unsure` is off: what it guards against was not looked for"
        )
        assert row["reason"] == "no such plugs"
        assert row["where"] == str(place)

    def test_an_option_of_the_call(self) -> None:
        settings = of_call({"voltage-drop-high": {"array": 0.05}})
        [row] = rows_of(settings_tables.tables_of(settings), "set")
        assert row["set"] == "`voltage-drop-high.array` is 0.05"
        assert row["where"] == "the command line"

    def test_nothing_set_nothing_shown(self) -> None:
        assert list(settings_tables.tables_of(NOTHING_SET)) == []
