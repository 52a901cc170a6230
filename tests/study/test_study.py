"""The study: states, bounds, what each conductor carries and may carry, drops, ways out."""

from __future__ import annotations

import pytest

from plans import BASE, array_plan, edited
from wattproof.study import Study
from wattproof.study.assumptions.reading import all_harsh
from wattproof.study.wiring.wires import Carrying
from wattproof.testing import study_of
from wattproof.views.figures import figures_of
from wattproof.working import steps

HOME = "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"


def carrying(study: Study, wire: str) -> Carrying:
    found = study.wiring.wires[wire].carrying
    assert isinstance(found, Carrying)
    return found


class TestStates:
    def test_voltages_and_currents_of_the_base_plan(self) -> None:
        [array] = study_of(BASE).array.arrays
        assert array.voc("standard").number == pytest.approx(3 * 24.3)
        assert array.voc("coldest").number == pytest.approx(3 * 24.3 * (1 + 0.0029 * 43))
        assert array.isc("bright").number == pytest.approx(1.25 * 5.2)
        assert array.isc("standard").number == 5.2
        assert array.isc("coldest").number == pytest.approx(5.2 * (1 - 0.0005 * 43))
        hot = 40 + 36.25
        vmp = 3 * 20.4 * (1 + (-0.0036 - 0.0005) * (hot - 25))
        assert array.vmp("hottest").number == pytest.approx(vmp, rel=0.03)
        model = array.modules[0].model
        assert array.vmp("hottest").number == pytest.approx(3 * model.vmp(hot), rel=1e-6)
        assert array.power("standard").number == pytest.approx(3 * 20.4 * 4.9)

    def test_colder_is_never_lower_and_hotter_never_higher(self) -> None:
        volts = [
            study_of(edited(("coldest: -18 °C", f"coldest: {t} °C")))
            .array.arrays[0]
            .voc("coldest")
            .number
            for t in (-40, -20, 0, 10)
        ]
        assert volts == sorted(volts, reverse=True)

    def test_without_a_coefficient_the_table_of_the_body_of_rules_holds(self) -> None:
        [array] = study_of(edited(("voc_coefficient: -0.29 %/°C, ", ""))).array.arrays
        assert array.voc("coldest").number == pytest.approx(3 * 24.3 * 1.18)
        sources = [i.origin for s in steps(array.voc("coldest")) for i in s.inputs]
        assert any("690.7(A)" in getattr(o, "source", "") for o in sources)

    def test_a_factor_read_at_an_assumed_temperature_rests_on_the_assumption(self) -> None:
        plan = edited(("voc_coefficient: -0.29 %/°C, ", ""), ("  coldest: -18 °C\n", ""))
        [assumption] = study_of(plan).array.arrays[0].voc("coldest").assumptions
        assert assumption.key == "coldest temperature"

    def test_without_a_coldest_temperature_it_is_assumed_by_setting(self) -> None:
        [array] = study_of(edited(("  coldest: -18 °C\n", ""))).array.arrays
        assert array.voc("coldest").number == pytest.approx(3 * 24.3 * (1 + 0.0029 * 45))
        [assumption] = array.voc("coldest").assumptions
        assert assumption.key == "coldest temperature"

    def test_an_absolute_coefficient(self) -> None:
        [array] = study_of(edited(("-0.29 %/°C", "-70 mV/°C"))).array.arrays
        assert array.voc("coldest").number == pytest.approx(3 * (24.3 + 0.070 * 43))

    def test_current_at_maximum_power_from_power(self) -> None:
        [array] = study_of(edited(("imp: 4.9 A, ", ""))).array.arrays
        assert array.imp("standard").number == pytest.approx(100 / 20.4)

    def test_unlike_strings_are_bounded_on_the_safe_side(self) -> None:
        text = array_plan(
            "  a: {module: rigid-100, series: 2}\n  b: {module: rigid-100, series: 3}\n",
            HOME,
            "  joint: {joins: [a, b], rating: 30 A}\n",
        )
        [array] = study_of(text).array.arrays
        assert array.voc("standard").number == pytest.approx(3 * 24.3)
        assert array.vmp("standard").number == pytest.approx(2 * 20.4)
        assert array.isc("standard").number == pytest.approx(2 * 5.2)

    def test_short_and_long_form_give_the_same_figures(self) -> None:
        short = study_of(array_plan("  joint: {module: rigid-100, arrangement: 2s3p}\n", HOME))
        strings = "".join(f"  {n}: {{module: rigid-100, series: 2}}\n" for n in "abc")
        long = study_of(array_plan(strings, HOME, "  joint: {joins: [a, b, c], rating: 30 A}\n"))
        for state in ("standard", "coldest", "hottest"):
            assert short.array.arrays[0].voc(state).number == long.array.arrays[0].voc(state).number
            assert short.array.arrays[0].vmp(state).number == long.array.arrays[0].vmp(state).number
            assert short.array.arrays[0].isc(state).number == long.array.arrays[0].isc(state).number
        assert short.wiring.wires["home"].current is not None
        assert long.wiring.wires["home"].current is not None
        assert short.wiring.wires["home"].current.number == long.wiring.wires["home"].current.number


class TestBackflow:
    def flows(self, arrangement: str) -> list[float | None]:
        text = array_plan(f"  joint: {{module: rigid-100, arrangement: {arrangement}}}\n", HOME)
        found = study_of(text).array.arrays[0].backflows
        return [b.current.number if b.current is not None else None for b in found]

    def test_one_string_has_none(self) -> None:
        assert self.flows("3s") == [None]

    def test_of_three_strings_two_push_into_the_third(self) -> None:
        assert self.flows("2s3p") == pytest.approx([2 * 1.25 * 5.2] * 3)

    def test_in_groups_in_series_only_the_own_group_pushes(self) -> None:
        assert self.flows("3p2s") == pytest.approx([2 * 1.25 * 5.2] * 6)

    def test_a_string_fuse_limits_it(self) -> None:
        strings = "".join(f"  {n}: {{module: rigid-100, series: 2}}\n" for n in "abcde")
        wires = "".join(
            f"  lead-{n}: {{from: {n}, to: joint, cable: pv-10, length: 1 m, inline: [f-{n}]}}\n"
            for n in "abcde"
        )
        text = array_plan(strings, wires + HOME, "  joint: {rating: 50 A}\n").replace(
            "fuses:\n",
            "fuses:\n" + "".join(f"  f-{n}: {{rating: 10 A, style: gpv}}\n" for n in "abcde"),
            1,
        )
        [array] = study_of(text).array.arrays
        for backflow in array.backflows:
            assert backflow.current is not None
            assert backflow.unlimited is not None
            assert backflow.current.number == 10.0
            assert backflow.unlimited.number == pytest.approx(4 * 1.25 * 5.2)
            assert [d.name for d in backflow.devices] == [f"f-{backflow.string.name}"]


class TestWires:
    def test_the_worst_place_on_the_way_governs(self) -> None:
        study = study_of(edited(("place: [roof, cabin]}", "place: [roof, cabin], run: conduit}")))
        assert carrying(study, "home-run").value.number == pytest.approx(40 * 0.65)
        cooler = study_of(edited(("place: [roof, cabin]}", "place: cabin, run: conduit}")))
        assert carrying(cooler, "home-run").value.number == pytest.approx(30.0)

    def test_where_it_is_not_told_how_a_wire_is_laid_it_lies_in_free_air_and_that_is_listed(
        self,
    ) -> None:
        untold = study_of(BASE)
        told = study_of(edited(("place: [roof, cabin]}", "place: [roof, cabin], run: free-air}")))
        laid = [carrying(study, "home-run").value.number for study in (untold, told)]
        assert laid == [30.0, 30.0]  # 55 A × 0.65, and the terminals' 30 A
        assert "run" in {assumption.key for assumption in untold.noted}

    def test_a_conduit_close_over_a_sunny_roof_is_in_hotter_air_by_the_building_code(self) -> None:
        def air(place: str, run: str = "conduit", code: str = "nec-2023") -> float:
            study = study_of(
                edited(
                    ("roof: {ambient: 65 °C", f"roof: {{ambient: 45 °C{place}"),
                    ("place: [roof, cabin]}", f"place: [roof, cabin], run: {run}}}"),
                    ("code: nec-2023", f"code: {code}"),
                )
            )
            return study.wiring.wires["home-run"].ambient.number

        assert air("") == 45.0
        assert air(", over_roof: 15 mm") == 40.0 + 33.0
        assert air(", over_roof: 30 mm") == 45.0
        assert air(", over_roof: 15 mm", run="free-air") == 45.0
        assert air(", over_roof: 15 mm", code="iec") == 45.0

    def test_photovoltaic_cable_has_the_resistance_of_tinned_copper(self) -> None:
        plain = study_of(edited(("size: 10 AWG, kind: pv", "size: 10 AWG, kind: building")))
        ratio = (
            study_of(BASE).wiring.wires["home-run"].resistance_per_metre.number
            / plain.wiring.wires["home-run"].resistance_per_metre.number
        )
        assert 1.03 < ratio < 1.1

    def test_two_conductors_in_parallel_carry_twice(self) -> None:
        one = study_of(BASE)
        two = study_of(
            edited(("cable: batt-8, length: 1 m,", "cable: batt-8, length: 1 m, parallel: 2,"))
        )
        assert (
            carrying(two, "charge-run").value.number <= 2 * carrying(one, "charge-run").value.number
        )
        assert two.wiring.wires["charge-run"].resistance.number == pytest.approx(
            one.wiring.wires["charge-run"].resistance.number / 2
        )

    def test_a_metal_not_stated_is_copper_as_usual_and_copper_clad_at_worst(self) -> None:
        sure = study_of(BASE).wiring.wires["charge-run"]
        study = study_of(edited(("material: copper, ", "")))
        usual = study.wiring.wires["charge-run"]
        worst = study.read_as(all_harsh("high")).wiring.wires["charge-run"]
        assert usual.resistance.number == pytest.approx(sure.resistance.number)
        assert worst.resistance.number == pytest.approx(1.6 * sure.resistance.number, rel=1e-3)

    def test_unmarked_insulation_and_place_are_assumed(self) -> None:
        text = edited(
            ("kind: pv, insulation_temperature: 90 °C, ", "material: copper, "),
            ("length: 4 m, place: [roof, cabin]}", "length: 4 m}"),
        )
        found = carrying(study_of(text), "home-run")
        assert {a.key for a in found.value.assumptions} == {"ambient", "insulation temperature"}
        assert found.value.number == 30.0  # the terminals' 30 A; 40 A × 0.82 would be more

    def test_a_size_that_no_table_holds_is_said_in_words(self) -> None:
        study = study_of(edited(("size: 10 AWG", "size: 500 mm²")))
        assert isinstance(study.wiring.wires["home-run"].carrying, str)

    def test_drop_is_out_and_back_and_a_single_pole_one_way(self) -> None:
        study = study_of(BASE)
        wire = study.wiring.wires["home-run"]
        assert wire.drop is not None
        assert wire.drop.number == pytest.approx(2 * 4.9 * wire.resistance.number)
        single = study_of(
            array_plan(
                "  s: {module: rigid-100}\n",
                "  plus: {from: s, to: tracker.pv, pole: positive, cable: pv-10, length: 4 m}\n"
                "  minus: {from: s, to: tracker.pv, pole: negative, cable: pv-10, length: 4 m}\n",
            )
        )
        plus = single.wiring.wires["plus"]
        assert plus.drop is not None
        assert plus.drop.number == pytest.approx(4.9 * plus.resistance.number)


BUS = """\
busbars:
  bar: {}
inverters:
  ac: {power: 600 W, efficiency: 90 %, low_voltage: 11 V}
loads:
  lamp: {current: 2 A}
chargers:
  shore: {kind: shore, max_output_current: 15 A}
fuses:
"""
BUS_WIRES = """\
wires:
  bank-run: {from: house, to: bar, cable: batt-8, length: 1 m}
  ac-run: {from: bar, to: ac, cable: batt-8, length: 1 m}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 1 m}
  shore-run: {from: shore, to: bar, cable: batt-8, length: 1 m}
"""


class TestBatterySide:
    def study(self, *edits: tuple[str, str]) -> Study:
        return study_of(
            edited(
                ("fuses:\n", BUS),
                ("wires:\n", BUS_WIRES),
                ("from: tracker.battery, to: house,", "from: tracker.battery, to: bar,"),
                *edits,
            )
        )

    def current(self, study: Study, wire: str) -> float:
        current = study.wiring.wires[wire].current
        assert current is not None
        return current.number

    def test_each_conductor_carries_what_lies_behind_it(self) -> None:
        study = self.study()
        inverter = 600 / (0.9 * 11)
        assert self.current(study, "charge-run") == 20.0
        assert self.current(study, "shore-run") == 15.0
        assert self.current(study, "lamp-run") == 2.0
        assert self.current(study, "ac-run") == pytest.approx(inverter)
        assert self.current(study, "bank-run") == pytest.approx(inverter + 2.0)

    def test_no_battery_gets_as_low_as_a_cut_off_for_another_system_voltage(self) -> None:
        """A lithium bank of 12.8 V is empty at 11.5 V, of which an inverter gets 85 % at least."""
        study = self.study(("low_voltage: 11 V", "low_voltage: 5 V"))
        assert self.current(study, "ac-run") == pytest.approx(600 / (0.9 * 0.85 * 11.5))

    def test_charging_counts_where_it_is_more(self) -> None:
        study = self.study(("power: 600 W", "power: 60 W"))
        assert self.current(study, "bank-run") == 35.0

    def test_a_limit_set_in_the_controller_counts(self) -> None:
        study = self.study(
            ("max_output_current: 20 A", "max_output_current: 20 A, limited_to: 8 A")
        )
        assert self.current(study, "charge-run") == 8.0

    def test_in_a_ring_alike_conductors_carry_half(self) -> None:
        study = self.study(
            (
                "  lamp-run:",
                "  second: {from: house, to: bar, cable: batt-8, length: 1 m}\n  lamp-run:",
            )
        )
        assert self.current(study, "bank-run") == pytest.approx((600 / (0.9 * 11) + 2.0) / 2)
        assert self.current(study, "second") == self.current(study, "bank-run")

    def test_sources_that_charge_a_bank(self) -> None:
        study = self.study()
        [bank] = study.battery.banks
        charges = study.battery.side.charges(bank)
        assert sorted((str(c.name), v.number) for c, v in charges) == [
            ("shore", 15.0),
            ("tracker", 20.0),
        ]

    def test_a_bank_multiplies_its_label(self) -> None:
        text = edited(("capacity: 100 Ah,", "capacity: 100 Ah, arrangement: 2s3p,"))
        [bank] = study_of(text).battery.banks
        assert bank.nominal.number == pytest.approx(25.6)
        assert bank.capacity.number == pytest.approx(300 * 3600)
        assert bank.charge_limit.number == pytest.approx(150)
        assert bank.charge_voltage_limit.number == pytest.approx(29.2)

    def test_a_charge_limit_that_is_not_stated_follows_from_chemistry(self) -> None:
        [bank] = study_of(edited(("max_charge_current: 50 A, ", ""))).battery.banks
        assert bank.charge_limit.number == pytest.approx(100.0)
        assert bank.charge_limit.assumptions


class TestWaysOut:
    def test_the_first_device_and_its_distance(self) -> None:
        [way] = study_of(BASE).protection.exits
        assert way.device is not None
        assert (way.device.name, way.span.most) == ("charge-fuse", pytest.approx(0.1))

    def test_a_way_without_a_device(self) -> None:
        text = edited(
            (",\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}", "}"),
            (
                "fuses:\n  charge-fuse: {rating: 40 A, voltage: 58 V, style: bolt-down, "
                "interrupt: 10 kA, dc: true}\n",
                "",
            ),
        )
        [way] = study_of(text).protection.exits
        assert way.device is None
        assert way.reaches == "tracker"

    def test_devices_between_a_bank_and_a_wire(self) -> None:
        guards = {
            g.wire.name: [d.name for d in g.devices] for g in study_of(BASE).protection.guards
        }
        assert guards == {"charge-run": ["charge-fuse"]}


def test_every_figure_can_be_shown_with_its_working() -> None:
    figures = list(figures_of(study_of(BASE)))
    assert len(figures) > 30
    for figure in figures:
        assert figure.subject
        assert str(figure.value)
        for step in steps(figure.value):
            assert step.formula
            assert step.substituted
            assert step.symbol


class TestNoted:
    def keys(self, text: str) -> set[str]:
        return {assumption.key for assumption in study_of(text).noted}

    def test_the_mains_side_is_told_where_there_is_one(self) -> None:
        assert "alternating current" not in self.keys(BASE)
        inverter = "inverters:\n  mains: {power: 300 W}\nwires:\n"
        run = "  inverter-run: {from: house, to: mains, cable: batt-8, length: 1 m}\n"
        assert "alternating current" in self.keys(edited(("wires:\n", inverter + run)))
        for kind, expected in (("shore", True), ("alternator", False)):
            charger = f"chargers:\n  other: {{kind: {kind}, max_output_current: 20 A}}\nwires:\n"
            run = "  other-run: {from: other, to: house, cable: batt-8, length: 1 m}\n"
            told = "alternating current" in self.keys(edited(("wires:\n", charger + run)))
            assert told == expected

    def test_the_gauge_of_automotive_cable_may_be_another(self) -> None:
        assert "gauge" not in self.keys(BASE)
        automotive = ("size: 8 AWG, kind: battery", "size: 8 AWG, kind: automotive")
        assert "gauge" in self.keys(edited(automotive))
        metric = ("size: 8 AWG, kind: battery", "size: 10 mm², kind: automotive")
        assert "gauge" not in self.keys(edited(metric))
