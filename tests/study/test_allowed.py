"""The one judge of protection: reasons, distances, the device that is named, all outputs alike."""

from __future__ import annotations

import pytest

from one_judge import disagreements
from plans import EXAMPLES, edited
from study.test_several_members import BOAT
from wattproof.engine import check_file
from wattproof.finding import Finding
from wattproof.loading import load_study
from wattproof.packs import discover
from wattproof.study.battery import positive_net
from wattproof.study.protection.answers import Allowed, worst_of
from wattproof.study.protection.spans import span_of
from wattproof.testing import A_DAY, check_text, study_of
from wattproof.views.schedules.conductors import conductor_rows

RULES = discover()
NEGATIVES = "negative-smaller-than-positive"

BASE = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -5 °C, hottest: 40 °C, places: {cabin: {ambient: 30 °C}}}
datasheets:
  cables:
    thick: {size: 2/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
            voltage: 600 V}
    pv: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    thin: {size: 4 mm², kind: battery, material: copper, insulation_temperature: 105 °C,
           voltage: 600 V}
fuses:
  house-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  lamp-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A}
busbars:
  bar: {rating: 250 A}
loads:
  lamp: {current: 5 A}
wires:
  house-run: {from: house, to: bar, cable: thick, length: 50 cm, place: cabin,
              inline: [{house-fuse: {from_end: from, distance: 10 cm}}]}
  lamp-run: {from: bar, to: lamp, cable: thin, length: 3 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""
START = (
    ("  house: {", "  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n  house: {"),
    ("batteries:", "switches:\n  split: {rating: 200 A, voltage: 32 V, dc: true, poles: 1}\n"
                   "batteries:"),
)  # fmt: skip


def found(plan: str) -> list[Finding]:
    return list(check_text(plan, RULES).findings)


def fires(plan: str) -> list[str]:
    return sorted(
        f.rule
        for f in found(plan)
        if f.rule in ("battery-fuse-missing", "fuse-over-conductor", "each-pack-unfused")
    )


def reasons(plan: str, wire: str) -> list[str | None]:
    """For each stretch of a wire's positive, the reason of what decides there."""
    study = study_of(plan)
    answers: dict[object, list[Allowed]] = {}
    for answer in study.protection.allowed:
        if answer.wire.name == wire and answer.kind != "return":
            answers.setdefault(answer.part, []).append(answer)
    decided = [worst_of(own) for own in answers.values()]
    return [each.reason for each in decided if each is not None]


def test_a_sound_side_has_no_reason() -> None:
    assert not fires(BASE)
    assert not any(a.reason for a in study_of(BASE).protection.allowed)


class TestWhatEndsAStretch:
    @pytest.mark.parametrize("inline", ["[split]", "[{split: {from_end: from, distance: 1 m}}]"])
    @pytest.mark.parametrize(("length", "level"), [("5 m", "error"), ("40 cm", None)])
    def test_a_relay_between_two_batteries_is_no_fuse(
        self, inline: str, length: str, level: str | None
    ) -> None:
        if length == "40 cm" and "1 m" in inline:
            inline = inline.replace("1 m", "10 cm")
        link = (
            f"  link: {{from: start, to: house, cable: thick, length: {length}, place: cabin, "
            f"inline: {inline}}}\n"
        )
        plan = edited(*START, plan=BASE) + link
        levels = {
            (f.level, f.hazard)
            for f in found(plan)
            if f.rule == "battery-fuse-missing" and "link" in f.subjects
        }
        assert levels == ({(level, "fire")} if level else set())

    def test_a_stretch_through_relay_joints_and_wires_is_as_long_as_its_parts(self) -> None:
        wires = (
            "  one: {from: start, to: split.line, cable: thick, length: 20 cm, place: cabin}\n"
            "  two: {from: split.load, to: stud, cable: thick, length: 20 cm, place: cabin}\n"
            "  three: {from: stud, to: house, cable: thick, length: 20 cm, place: cabin}\n"
        )
        plan = edited(*START, ("  bar: {", "  stud: {rating: 250 A}\n  bar: {"), plan=BASE) + wires
        ways = [w for w in study_of(plan).protection.ways.all if w.exit.to_bank]
        assert [w.exit.span.most for w in ways] == pytest.approx([0.6, 0.6])
        assert {w.reason for w in ways} == {"no device"}

    def test_an_unknown_place_is_between_nothing_and_the_wire(self) -> None:
        plan = edited(
            ("[{house-fuse: {from_end: from, distance: 10 cm}}]", "[house-fuse]"),
            ("to: bar, cable: thick, length: 50 cm", "to: bar, cable: thick, length: 2 m"),
            plan=BASE,
        )
        [way] = study_of(plan).protection.ways.all
        assert tuple(way.exit.span) == (0.0, 2.0)
        assert (way.verdict, way.reason) == ("not known", None)

    def test_two_unknown_places_of_one_wire_add_up_to_it(self) -> None:
        plan = edited(
            *START,
            ("[{house-fuse: {from_end: from, distance: 10 cm}}]", "[split, house-fuse]"),
            plan=BASE,
        )
        wire = study_of(plan).wiring.wires["house-run"]
        parts = [c for c in wire.conductors if c.pole == "positive"]
        assert len(parts) == 3
        assert tuple(span_of(parts)) == pytest.approx((0.5, 0.5))
        assert tuple(span_of(parts[:2])) == pytest.approx((0.0, 0.5))


class TestWhichDeviceIsNamed:
    def test_a_wires_own_fuse_before_the_one_behind_the_bar(self) -> None:
        plan = edited(("lamp-fuse: {rating: 20 A", "lamp-fuse: {rating: 50 A"), plan=BASE)
        [finding] = [f for f in found(plan) if f.rule == "fuse-over-conductor"]
        assert finding.subjects == ("lamp-run", "lamp-fuse")
        assert "in place of `lamp-fuse`" in finding.remedy
        assert "house-fuse" not in finding.message
        assert set(reasons(plan, "lamp-run")) == {"too large"}

    def test_one_behind_a_switch_near_the_bar_counts(self) -> None:
        plan = edited(
            *START,
            (
                "inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]",
                "inline: [{split: {from_end: from, distance: 5 cm}}, "
                "{lamp-fuse: {from_end: from, distance: 10 cm}}]",
            ),
            plan=BASE,
        ).replace("  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n", "")
        assert not fires(plan)
        far = plan.replace("lamp-fuse: {from_end: from, distance: 10 cm", "lamp-fuse: {from_end: "
                           "from, distance: 60 cm")  # fmt: skip
        assert fires(far) == ["fuse-over-conductor"]
        assert reasons(far, "lamp-run")[:2] == ["too far", "too far"]


class TestOtherSources:
    def second(self, lead: str, inline: str) -> str:
        wires = (
            f"  start-run: {{from: start, to: bar, cable: thick, length: {lead}, place: cabin"
            f"{inline}}}\n"
        )
        return edited(
            START[0],
            ("to: bar, cable: thick, length: 50 cm", "to: bar, cable: thick, length: 30 cm"),
            plan=BASE,
        ) + wires  # fmt: skip

    def test_an_unfused_lead_is_not_excused_by_the_fuse_of_another(self) -> None:
        plan = self.second("2 m", "")
        [finding] = [f for f in found(plan) if f.rule == "battery-fuse-missing"]
        assert finding.level == "error"
        assert "the device of `house`" in finding.message or "lamp" in finding.message
        assert "of `start`" in finding.remedy
        assert "house-fuse" not in finding.remedy
        others = {w.reason for w in study_of(plan).protection.ways.all if w.owners}
        assert others == {"belongs to another source"}

    def test_a_fuse_in_the_negative_alone_is_named(self) -> None:
        plan = edited(
            ("  house-run: {from: house, to: bar,", "  house-minus: {from: house.negative, "
             "to: bar.negative,"),
            plan=BASE,
        ) + (
            "  house-plus: {from: house.positive, to: bar.positive, cable: thick, length: 1 m, "
            "place: cabin}\n"
            "  pump-run: {from: bar, to: pump, cable: thick, length: 1 m, place: cabin}\n"
        )  # fmt: skip
        plan = plan.replace("loads:\n", "loads:\n  pump: {current: 5 A}\n")
        [finding] = [f for f in found(plan) if f.rule == "battery-fuse-missing"]
        assert "with `house-fuse` in the negative only" in finding.message
        assert "only in the other pole" in reasons(plan, "pump-run")

    def test_an_alternator_is_judged_beside_a_small_bank_fuse(self) -> None:
        plan = edited(
            ("house-fuse: {rating: 100 A", "house-fuse: {rating: 20 A"),
            ("batteries:", "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A, "
             "charge_voltage: 14.4 V}\nbatteries:"),
            (",\n             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]", ""),
            plan=BASE,
        ).replace("  lamp-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
                  "dc: true}\n", "")  # fmt: skip
        plan += "  alt-run: {from: alternator, to: bar, cable: thick, length: 1 m, place: cabin}\n"
        own = [f for f in found(plan) if f.rule == "fuse-over-conductor"]
        assert [f.subjects[0] for f in own] == ["lamp-run"]
        assert "is fed with 90 A by `alternator`" in own[0].message


MODULES = """\
strings:
  roof: {module: rigid, series: 1, mounting: roof-gap}
datasheets:
  modules:
    rigid: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
            voc_coefficient: -0.29 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
"""


class TestLoadTerminals:
    PLAN = edited(
        ("batteries:", "controllers:\n  regulator: {kind: pwm, max_input_voltage: 50 V, "
         "max_output_current: 30 A, load_current: 20 A, charge_voltage: 14.2 V}\nbatteries:"),
        ("from: bar, to: lamp", "from: regulator.load, to: lamp"),
        ("datasheets:\n", MODULES),
        plan=BASE,
    ) + (
        "  home-run: {from: roof, to: regulator.pv, cable: pv, length: 2 m, place: cabin}\n"
        "  charge-run: {from: regulator.battery, to: bar, cable: thick, length: 1 m, "
        "place: cabin}\n"
    )  # fmt: skip

    def test_a_fused_circuit_is_sound(self) -> None:
        assert not [f for f in found(self.PLAN) if "lamp-run" in f.subjects]

    def test_no_fuse_behind_them_leaves_the_one_before(self) -> None:
        plan = edited(
            (",\n             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]", ""),
            ("  lamp-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
             "dc: true}\n", ""),
            plan=self.PLAN,
        )  # fmt: skip
        [finding] = [f for f in found(plan) if f.rule == "fuse-over-conductor"]
        assert finding.subjects[:2] == ("lamp-run", "house-fuse")


class TestNegatives:
    def plan(self, cable: str) -> str:
        """Two banks, each with a fuse of its own; their negatives meet at the bar."""
        wires = (
            f"  start-minus: {{from: start.negative, to: bar.negative, cable: {cable}, "
            "length: 1 m, place: cabin}\n"
            "  start-plus: {from: start.positive, to: bar.positive, cable: thick, length: 1 m, "
            "place: cabin, inline: [{start-fuse: {from_end: from, distance: 10 cm}}]}\n"
        )
        return edited(
            START[0],
            ("fuses:\n", "fuses:\n  start-fuse: {rating: 100 A, voltage: 125 V, style: class-t, "
             "interrupt: 20 kA, dc: true}\n"),
            plan=BASE,
        ) + wires  # fmt: skip

    def test_a_thin_one_between_banks_is_told(self) -> None:
        rule = "negative-smaller-than-positive"
        assert not [f for f in found(self.plan("thick")) if f.rule == rule]
        [finding] = [f for f in found(self.plan("thin")) if f.rule == rule]
        assert finding.subjects[0] == "start-minus"
        assert finding.level == "error"


class TestNegativesSideBySide:
    """Two negatives from one bank to one bar: what comes back parts by their resistances."""

    def plan(self, cable: str, first: str, second: str, fuse: int = 100) -> str:
        return edited(
            ("house-fuse: {rating: 100 A", f"house-fuse: {{rating: {fuse} A"),
            ("  house-run: {from: house, to: bar, cable: thick, length: 50 cm",
             "  one-back: {from: house.negative, to: bar.negative, "
             f"cable: {cable}, length: {first}, place: cabin}}\n"
             "  two-back: {from: house.negative, to: bar.negative, "
             f"cable: {cable}, length: {second}, place: cabin}}\n"
             "  house-run: {from: house.positive, to: bar.positive, cable: thick, length: 50 cm"),
            plan=BASE,
        )  # fmt: skip

    def answers(self, plan: str) -> dict[str, Allowed]:
        return {
            answer.wire.name: answer
            for answer in study_of(plan).protection.allowed
            if answer.kind == "return" and answer.wire.name in ("one-back", "two-back")
        }

    def test_alike_ones_take_half_each(self) -> None:
        """100 A over two of 4 mm², which a device of 50 A does not protect."""
        answers = self.answers(self.plan("thin", "1 m", "1 m"))
        for answer in answers.values():
            assert answer.lasting.number == pytest.approx(50.0)
            assert (answer.verdict, answer.reason) == ("not allowed", "too large")
        every = [f for whole in found(self.plan("thin", "1 m", "1 m")) for f in whole.each]
        told = [f for f in every if f.rule == NEGATIVES]
        assert {f.subjects[0] for f in told} == {"one-back", "two-back"}
        assert {f.level for f in told} == {"error"}

    def test_the_shorter_takes_more(self) -> None:
        """1 m beside 3 m of one cable: three quarters and a quarter of 100 A."""
        answers = self.answers(self.plan("thin", "1 m", "3 m"))
        assert answers["one-back"].lasting.number == pytest.approx(75.0)
        assert answers["two-back"].lasting.number == pytest.approx(25.0)

    def test_thick_ones_are_sound(self) -> None:
        answers = self.answers(self.plan("thick", "1 m", "1 m"))
        assert {answer.verdict for answer in answers.values()} == {"cleared"}
        assert not [f for f in found(self.plan("thick", "1 m", "1 m")) if f.rule == NEGATIVES]

    def test_the_schedule_shows_it(self) -> None:
        study = study_of(self.plan("thin", "1 m", "1 m"))
        rows = {row.name: row for row in conductor_rows(study)}
        [shown] = rows["one-back"].protections
        assert (shown.verdict, shown.of_return) == ("too large", True)
        assert [name for name, _ in shown.devices] == ["house-fuse"]


class TestManyRings:
    """Beyond MAX_MESH the first devices of all batteries count together, and that is told."""

    PLAN = edited(
        START[0],
        ("fuses:\n", "fuses:\n  start-fuse: {rating: 100 A, voltage: 125 V, style: class-t, "
         "interrupt: 20 kA, dc: true}\n"),
        plan=BASE,
    ) + (
        "  start-run: {from: start, to: bar, cable: thick, length: 50 cm, place: cabin, "
        "inline: [{start-fuse: {from_end: from, distance: 10 cm}}]}\n"
    )  # fmt: skip

    def test_no_less_than_every_cut_tried(self, monkeypatch: pytest.MonkeyPatch) -> None:
        exact = study_of(self.PLAN).protection.allowed
        monkeypatch.setattr(positive_net, "MAX_MESH", 2)
        study = study_of(self.PLAN)
        bounded = study.protection.allowed
        assert len(exact) == len(bounded)
        assert study.battery.positive_net.is_bounded
        for one, other in zip(exact, bounded, strict=True):
            assert one.part.name == other.part.name
            assert other.lasting.number >= one.lasting.number * (1 - 1e-9)
        lamp = [a for a in bounded if a.wire.name == "lamp-run" and a.kind == "bank"]
        assert max(a.lasting.number for a in lamp) <= 200.0

    def test_it_is_told(self, monkeypatch: pytest.MonkeyPatch) -> None:
        plan = self.PLAN.replace("cable: thick, length: 50 cm", "cable: thin, length: 50 cm")
        sound = {f.rule for f in found(plan)}
        monkeypatch.setattr(positive_net, "MAX_MESH", 2)
        bounded = found(plan)
        assert sound <= {f.rule for f in bounded}
        told = [a.key for f in bounded for v in f.values for a in v.assumptions]
        assert "ways through rings" in told


def test_two_feeds_of_a_panel_let_through_what_both_do() -> None:
    """40 A and 40 A into a panel of 60 A: 80 A, and its ways of 100 A do not limit that."""
    ways = "ways: {one: {fuse: 50 A, style: blade}, two: {fuse: 50 A, style: blade}}"
    plan = edited(
        ("fuses:\n", "fuses:\n  port-feed: {rating: 40 A, voltage: 125 V, style: class-t, "
         "interrupt: 20 kA, dc: true}\n  other-feed: {rating: 40 A, voltage: 125 V, "
         "style: class-t, interrupt: 20 kA, dc: true}\n"),
        ("loads:\n", f"distribution:\n  panel: {{rating: 60 A, voltage: 60 V, {ways}}}\nloads:\n"),
        plan=BASE,
    ) + "".join(
        f"  {name}-run: {{from: bar, to: panel, cable: thick, length: 1 m, place: cabin, "
        f"inline: [{{{name}-feed: {{from_end: from, distance: 10 cm}}}}]}}\n"
        for name in ("port", "other")
    )  # fmt: skip
    [panel] = study_of(plan).protection.panels
    assert panel.held.through.number == 80.0
    assert panel.held.reason == "would open a switch rated below"
    [finding] = [f for f in found(plan) if f.rule == "panel-over-rating"]
    assert "80 A" in finding.message
    one = plan.replace("other-feed: {rating: 40 A", "other-feed: {rating: 10 A")
    assert study_of(one).protection.panels[0].held.through.number == 50.0


def test_a_panel_without_a_fuse_before_it_has_the_sum_of_its_ways() -> None:
    ways = "ways: {one: {fuse: 15 A, style: blade}, two: {fuse: 10 A, style: blade}}"
    plan = edited(
        ("loads:\n", f"distribution:\n  panel: {{rating: 20 A, voltage: 60 V, {ways}}}\nloads:\n"),
        (",\n              inline: [{house-fuse: {from_end: from, distance: 10 cm}}]", ""),
        ("  house-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
         "dc: true}\n", ""),
        plan=BASE,
    )  # fmt: skip
    plan += "  panel-run: {from: bar, to: panel, cable: thick, length: 1 m, place: cabin}\n"
    [panel] = study_of(plan).protection.panels
    assert panel.held.through.number == 25.0


def test_devices_in_its_way_open_before_a_wire_carries_too_much() -> None:
    study = study_of(BASE)
    wires = study.wiring.wires
    assert study.protection.is_cleared(wires["lamp-run"])
    assert study.protection.is_cleared(wires["house-run"])
    large = study_of(edited(("lamp-fuse: {rating: 20 A", "lamp-fuse: {rating: 50 A"), plan=BASE))
    assert not large.protection.is_cleared(large.wiring.wires["lamp-run"])


FILES = [*sorted(EXAMPLES.glob("*.yaml"))]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_all_outputs_of_an_example_say_the_same(path: object) -> None:
    result = check_file(str(path), RULES, today=A_DAY, try_remedies=False)
    assert not list(disagreements(load_study(str(path)), result.findings, result.questions))


def test_a_negative_that_carries_what_its_own_positive_does_is_judged_with_it() -> None:
    """200 A may last in both poles of the lamp's wire, which has no fuse of its own: one answer."""
    bare = (",\n             inline: [{lamp-fuse: {from_end: from, distance: 4 cm}}]", "")
    answers = study_of(edited(bare, plan=BOAT)).protection.allowed
    assert "bank" in {a.kind for a in answers if a.wire.name == "lamp-run"}
    assert "return" not in {a.kind for a in answers if a.wire.name == "lamp-run"}
