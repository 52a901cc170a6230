"""Table and rows of curves: what they hold, and that they agree with the study."""

from __future__ import annotations

import csv
import io
import os
from dataclasses import replace
from itertools import groupby, pairwise
from pathlib import Path

import pytest

from reports.curve_plans import DRAWABLE, SHADED, SOUND, TWO_INPUTS, UNLIKE, example, inputs_of
from reports.report_rules import GOLDEN
from wattproof.reports.curves import csv as curves_csv
from wattproof.reports.curves import svg as curves_svg
from wattproof.reports.curves import text as curves_text
from wattproof.reports.curves.data import NotDrawn
from wattproof.reports.writing.columns import WIDTH, width
from wattproof.testing import study_of

GOLDEN_PLAN = next(path for path in DRAWABLE if path.stem == "van-six-modules")


@pytest.mark.parametrize("ending", ["txt", "csv", "svg"])
def test_output_is_as_kept(ending: str) -> None:
    title, inputs = example(GOLDEN_PLAN)
    made = {
        "txt": lambda: curves_text.render("van-six-modules.yaml", title, inputs),
        "csv": lambda: curves_csv.render(inputs),
        "svg": lambda: curves_svg.render(title, inputs),
    }[ending]()
    path = GOLDEN / f"curve.{ending}"
    if os.environ.get("UPDATE_GOLDEN"):
        path.write_text(made, encoding="utf-8", newline="\n")
    assert made == path.read_text(encoding="utf-8")


class TestRows:
    @pytest.mark.parametrize("path", DRAWABLE, ids=lambda p: p.stem)
    def test_power_is_voltage_times_current_and_current_falls(self, path: Path) -> None:
        rows = list(csv.DictReader(io.StringIO(curves_csv.render(example(path)[1]))))
        for (*_, state), curve in groupby(
            rows, key=lambda r: (r["controller"], r["shade"], r["state"])
        ):
            points = [[float(r[k]) for k in ("voltage_v", "current_a", "power_w")] for r in curve]
            for volts, amps, watts in points:
                assert watts == pytest.approx(volts * amps, abs=2e-4), state
            for (volts, amps, _), (more_volts, fewer_amps, _) in pairwise(points):
                assert volts < more_volts
                assert amps >= fewer_amps
            assert points[0][0] == 0.0
            assert points[-1][1] == 0.0

    def test_every_input_and_state_is_there_in_order(self) -> None:
        rows = list(csv.DictReader(io.StringIO(curves_csv.render(inputs_of(TWO_INPUTS)))))
        found = list(dict.fromkeys((r["controller"], r["state"]) for r in rows))
        states = ("standard", "coldest", "hottest")
        names = list(dict.fromkeys(name for name, _ in found))
        assert sorted(names) == ["small", "tracker"]
        assert found == [(name, state) for name in names for state in states]

    def test_the_greatest_power_is_a_row(self) -> None:
        [inputs] = inputs_of(SOUND)
        rows = list(csv.DictReader(io.StringIO(curves_csv.render([inputs]))))
        for state in inputs.states:
            highest = max(float(r["power_w"]) for r in rows if r["state"] == state.state)
            assert highest == pytest.approx(state.best.power, abs=1e-5)

    def test_shades_follow_the_states_with_their_name_and_state(self) -> None:
        rows = list(csv.DictReader(io.StringIO(curves_csv.render(inputs_of(SHADED)))))
        found = list(dict.fromkeys((r["shade"], r["state"]) for r in rows))
        assert found == [
            ("", "standard"),
            ("", "coldest"),
            ("", "hottest"),
            ("antenna", "standard"),
            ("roof-box", "hottest"),
            ("standard", "standard"),
            ("tree-beside-the-road-in-the-late-afternoon", "coldest"),
        ]

    def test_lines_end_with_a_line_feed_and_names_are_quoted(self) -> None:
        [inputs] = inputs_of(SOUND)
        text = curves_csv.render([replace(inputs, controller='a "b", c\nd')])
        assert "\r" not in text
        assert text.startswith("controller,state,shade,voltage_v,current_a,power_w\n")
        assert next(csv.DictReader(io.StringIO(text)))["controller"] == 'a "b", c\nd'


class TestTable:
    @pytest.mark.parametrize("path", DRAWABLE, ids=lambda p: p.stem)
    def test_80_columns_and_nothing_hangs_over(self, path: Path) -> None:
        title, inputs = example(path)
        for line in curves_text.render(path.name, title, inputs).splitlines():
            assert width(line) <= WIDTH
            assert line == line.rstrip()

    def test_hostile_words_are_made_harmless(self) -> None:
        [inputs] = inputs_of(SOUND)
        hostile = replace(inputs, controller="\x1b[31m" + "long-name-" * 12)
        text = curves_text.render("plan.yaml", "a\u202eb", [hostile])
        assert "\x1b" not in text
        assert "\u202e" not in text
        assert max(map(width, text.splitlines())) <= WIDTH

    def test_lesser_maxima_are_listed(self) -> None:
        assert "a lesser maximum" not in curves_text.render("p", "", inputs_of(SOUND))
        shown = curves_text.render("p", "", inputs_of(UNLIKE))
        assert shown.count("a lesser maximum") == 1
        row = next(line for line in shown.splitlines() if line.startswith("a lesser maximum"))
        assert row.count(" W") == 3

    def test_shades_have_columns_of_their_own_as_the_figures_tell(self) -> None:
        inputs = inputs_of(SHADED)
        shown = curves_text.render("p", "", inputs)
        assert max(map(width, shown.splitlines())) <= WIDTH
        assert shown.count("lost to the shade") == 2
        assert "Under shade `snow` the array of `tracker` gives nothing" in " ".join(shown.split())
        [shaded, *_] = study_of(SHADED).curves.curves[0].shades
        antenna = inputs[0].shades[0]
        assert antenna.best.power == shaded.power.number
        assert antenna.lost == str(shaded.lost)
        assert shaded.operating is not None
        assert antenna.work is not None
        assert antenna.work.spot.power == shaded.operating.power.number

    def test_what_holds_the_controller_back(self) -> None:
        shown = curves_text.render("p", "", inputs_of(TWO_INPUTS))
        rows = [line.split("  ") for line in shown.splitlines() if "held back by" in line]
        found = {cell.strip() for row in rows for cell in row if cell.strip()}
        assert {"does not work", "its voltages", "nothing"} <= found

    def test_a_voltage_that_is_too_high_is_said_with_its_states(self) -> None:
        shown = " ".join(curves_text.render("p", "", inputs_of(TWO_INPUTS)).split())
        # A roof with a gap heats its cells less than was thought: 21.2 V are left when hot.
        assert "gives more than 20 V (standard, coldest, hottest). Do not connect it" in shown

    def test_a_pulse_width_controller_is_held_by_its_battery(self) -> None:
        shown = curves_text.render("p", "", inputs_of(SOUND.replace("kind: mppt", "kind: pwm")))
        [row] = [line for line in shown.splitlines() if "held back by" in line]
        assert row.count("battery voltage") == 3

    def test_a_charge_voltage_that_nothing_says_is_not_made_up(self) -> None:
        inputs = inputs_of(SOUND)
        [curves] = inputs
        states = tuple(replace(state, work=None) for state in curves.states)
        shown = curves_text.render("p", "", [replace(curves, states=states)])
        assert shown.count("not known") == 4
        shown = " ".join(shown.split())
        assert "nothing says to which voltage it charges" in shown

    def test_assumptions_say_what_to_write(self) -> None:
        shown = " ".join(curves_text.render("p", "", inputs_of(SOUND)).split())
        assert "37 cells in series. To settle it, write cells_in_series." in shown

    def test_what_cannot_be_drawn_is_said_in_words(self) -> None:
        missing = [NotDrawn("a", (("m", "it cannot be"),)), NotDrawn("b", ())]
        shown = " ".join(curves_text.render("p", "", inputs_of(SOUND), missing).split())
        assert "input of `a` cannot be drawn: on the label of `m`, it cannot be." in shown
        assert "input of `b` cannot be drawn: no curve passes" in shown
        assert "no curve could be drawn" not in shown
        assert "so there is no curve" in curves_text.render("p", "", [])
