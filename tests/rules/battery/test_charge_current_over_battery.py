"""The current of all sources that can charge a bank at once, against what it stands."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, found
from wattproof.engine import check
from wattproof.packs import RuleSet
from wattproof.settings import of_call
from wattproof.testing import A_DAY, check_text, study_of

CHARGE = "charge-current-over-battery"
SUN = RULES.rules[CHARGE].sound
"""600 W on a 40 A tracker, 100 Ah of lithium that stands 50 A."""


@pytest.mark.parametrize(
    ("limit", "level"),
    [
        ("40 A", None),  # at it
        ("39.9 A", "warning"),
        ("32 A", "warning"),  # at 1.25 × 32 A
        ("31.9 A", "error"),
    ],
)
def test_at_just_over_and_far_over_the_limit(limit: str, level: str | None) -> None:
    plan = edited(("max_charge_current: 50 A", f"max_charge_current: {limit}"), plan=SUN)
    assert [f.level for f in found(plan, CHARGE)] == ([level] if level else [])


def with_chargers(chargers: str, wires: str, *edits: tuple[str, str]) -> str:
    return edited(
        ("controllers:\n", f"chargers:\n{chargers}controllers:\n"),
        ("wires:\n", f"wires:\n{wires}"),
        *edits,
        plan=SUN,
    )


SHORE = "  shore-charger: {kind: shore, max_output_current: 20 A, charge_voltage: 14.2 V}\n"
SHORE_RUN = "  shore-run: {from: shore-charger, to: house, cable: batt-6, length: 1 m}\n"


def test_all_sources_add_up_with_numbers_margin_and_a_setting_that_holds() -> None:
    plan = with_chargers(SHORE, SHORE_RUN)
    [finding] = found(plan, CHARGE)
    assert finding.message == (
        "`house` gets 60 A when all charge at once (`tracker` 40 A, `shore-charger` 20 A); "
        "50 A is the most that it may get"
    )
    assert finding.level == "warning"
    assert finding.margin == pytest.approx(-0.2)
    assert "set `tracker` to at most 30 A and write `limited_to: 30 A`" in finding.remedy
    limited = edited(("max_output_current: 40 A", "max_output_current: 40 A, limited_to: 30 A"),
                     plan=plan)  # fmt: skip
    assert not found(limited, CHARGE)


def test_sources_that_never_work_together_do_not_add_up() -> None:
    plan = with_chargers(SHORE.replace("}", ", never_with: tracker}"), SHORE_RUN)
    assert not found(plan, CHARGE)
    [finding] = found(edited(("20 A, charge_voltage", "60 A, charge_voltage"), plan=plan), CHARGE)
    assert "`house` gets 60 A" in finding.message
    assert finding.remedy == "use a bank that may be charged with at least 60 A for `house`"


@pytest.mark.parametrize(("amps", "in_turn"), [("48 A", True), ("60 A", False)])
def test_in_turn_only_where_each_alone_is_not_too_much(amps: str, in_turn: bool) -> None:
    """The tracker gives 2 A, which is not worth a setting."""
    small = edited(("max_output_current: 40 A", "max_output_current: 2 A"),
                   plan=with_chargers(SHORE.replace("20 A, charge", f"{amps}, charge"),
                                      SHORE_RUN))  # fmt: skip
    [finding] = found(small.replace("max_charge_current: 50 A", "max_charge_current: 48 A"), CHARGE)
    assert ("let them charge one at a time" in finding.remedy) is in_turn


def test_an_array_gives_no_more_than_it_has() -> None:
    """200 W over 12.8 V are 15.6 A, whatever the tracker is rated for."""
    small = edited(("series: 3", "series: 1"), ("current: 50 A", "current: 15 A"), plan=SUN)
    [finding] = found(small, CHARGE)
    assert "`house` gets 15.6 A" in finding.message
    assert not found(edited(("15 A, max_charge_v", "16 A, max_charge_v"), plan=small), CHARGE)


def test_a_pulse_width_controller_gives_the_short_circuit_current_at_most() -> None:
    plan = edited(
        ("kind: mppt", "kind: pwm"),
        ("series: 3", "series: 1"),
        ("max_charge_current: 50 A", "max_charge_current: 10 A"),
        plan=SUN,
    )
    [finding] = found(plan, CHARGE)
    assert "`house` gets 10.2 A" in finding.message


def test_without_a_label_the_chemistry_decides_and_an_error_needs_more() -> None:
    bare = edited(("max_charge_current: 50 A, ", ""), plan=SUN)
    assert not found(bare, CHARGE)  # 0.5 A for each of 100 Ah
    lead = edited(("lithium-iron-phosphate", "flooded"), plan=bare)
    [finding] = found(
        edited(("max_output_current: 40 A", "max_output_current: 30 A"), plan=lead), CHARGE
    )
    assert (finding.level, finding.verdict) == ("warning", "likely")  # 30 A against 20 A
    [worse] = found(
        edited(("max_output_current: 40 A", "max_output_current: 46 A"), plan=lead), CHARGE
    )
    assert (worse.level, worse.verdict) == ("error", "certain")  # over 1.25 × 35 A


ALTERNATOR = "  alternator: {kind: alternator, max_output_current: 90 A, charge_voltage: 14.4 V}\n"
ALTERNATOR_RUN = "  alternator-run: {from: alternator, to: house, cable: batt-6, length: 1 m}\n"


@pytest.mark.parametrize(
    ("edits", "fires"),
    [
        ([], True),
        ([("max_charge_current: 50 A, ", "")], True),  # lithium: 0.5 A for each Ah
        ([("max_charge_current: 50 A, ", ""), ("lithium-iron-phosphate", "agm"),
          ("max_output_current: 40 A", "max_output_current: 30 A")], False),
        ([("lithium-iron-phosphate", "agm")], True),  # its label says 50 A
    ],
)  # fmt: skip
def test_an_alternator_on_a_lead_battery_without_a_label(
    edits: list[tuple[str, str]], fires: bool
) -> None:
    plan = with_chargers(ALTERNATOR, ALTERNATOR_RUN, *edits)
    assert bool(found(plan, CHARGE)) == fires


def test_parallel_banks_share_by_capacity_and_identical_ones_by_number() -> None:
    pair = edited(
        ("capacity: 100 Ah,", "capacity: 100 Ah, arrangement: 2p,"),
        ("max_charge_current: 50 A", "max_charge_current: 20 A"),
        plan=SUN,
    )
    assert not found(pair, CHARGE)  # 40 A against 2 × 20 A
    apart = edited(
        ("batteries:\n",
         "batteries:\n"
         "  second: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 300 Ah,\n"
         "           max_charge_current: 20 A, max_charge_voltage: 14.6 V}\n"),
        ("wires:\n", "wires:\n  link: {from: house, to: second, cable: batt-6, length: 20 cm}\n"),
        plan=SUN,
    )  # fmt: skip
    [finding] = found(apart, CHARGE)
    assert finding.subjects[0] == "second"
    assert "gets 30 A as its share" in finding.message  # 300 of 400 Ah


def test_the_share_that_is_an_error_can_be_set() -> None:
    plan = edited(("max_charge_current: 50 A", "max_charge_current: 35 A"), plan=SUN)
    rules = RuleSet({CHARGE: RULES.rules[CHARGE]})
    settings = of_call({CHARGE: {"wrong": 1.1}})
    result = check(study_of(plan), rules, file="plan.yaml", today=A_DAY, settings=settings).result
    assert [f.level for f in result.each] == ["error"]


SELECTOR = """\
selectors:
  one-two: {rating: 200 A, voltage: 32 V, dc: true, both: BOTH}
batteries:
  spare: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
"""


@pytest.mark.parametrize("both", ["true", "false"])
@pytest.mark.parametrize(("amps", "over"), [("50 A", False), ("51 A", True)])
def test_a_selector_leads_all_that_charges_to_one_bank(both: str, amps: str, *, over: bool) -> None:
    """Of two banks for 50 A each: half of it each with both, all of it with one of them alone."""
    chargers = f"  shore: {{kind: shore, max_output_current: {amps}, charge_voltage: 14.2 V}}\n"
    wires = (
        "  one: {from: house.positive, to: one-two.1.positive, cable: batt-6, length: 1 m}\n"
        "  two: {from: spare.positive, to: one-two.2.positive, cable: batt-6, length: 1 m}\n"
        "  back: {from: house.negative, to: spare.negative, cable: batt-6, length: 1 m}\n"
        "  out: {from: shore.positive, to: one-two.common.positive, cable: batt-6, length: 1 m}\n"
        "  out-back: {from: shore.negative, to: house.negative, cable: batt-6, length: 1 m}\n"
    )
    plan = with_chargers(
        chargers,
        wires,
        ("batteries:\n", SELECTOR.replace("BOTH", both)),
        ("max_output_current: 40 A", "max_output_current: 40 A, limited_to: 0.1 A"),
    )
    findings = [f for f in found(plan, CHARGE) if f.subjects[0] == "spare"]
    assert len(findings) == over
    for finding in findings:
        assert finding.message == (
            "`spare` gets 51 A with `one-two` on it alone when all charge at once (`shore` 51 A); "
            "50 A is the most that it may get"
        )


@pytest.mark.parametrize(
    ("both", "on", "charged"),
    [
        ("true", "spare", {"house", "spare"}),
        ("false", "spare", {"spare"}),
        ("false", "one-two.common", {"house", "spare"}),
        ("false", "house", {"house"}),
    ],
)
def test_a_selector_that_never_joins_both_keeps_their_chargers_apart(
    both: str, on: str, charged: set[str]
) -> None:
    """Told of what they charge with, and of the voltage and its temperature, too."""
    wires = (
        "  one: {from: house.positive, to: one-two.1.positive, cable: batt-6, length: 1 m}\n"
        "  two: {from: spare.positive, to: one-two.2.positive, cable: batt-6, length: 1 m}\n"
        "  back: {from: house.negative, to: spare.negative, cable: batt-6, length: 1 m}\n"
        "  drawn: {from: one-two.common.positive, to: lamp.positive, cable: batt-6, length: 1 m}\n"
        "  drawn-back: {from: lamp.negative, to: house.negative, cable: batt-6, length: 1 m}\n"
        f"  out: {{from: shore.positive, to: {on}.positive, cable: batt-6, length: 1 m}}\n"
        "  out-back: {from: shore.negative, to: house.negative, cable: batt-6, length: 1 m}\n"
    )
    shore = "  shore: {kind: shore, max_output_current: 20 A, charge_voltage: 15.2 V}\n"
    plan = with_chargers(
        shore,
        wires,
        ("batteries:\n", f"loads:\n  lamp: {{current: 2 A}}\n{SELECTOR.replace('BOTH', both)}"),
    )
    side = study_of(plan).battery.side
    by = {b.name for b in side.wholes for s, _ in side.charges(b) if s.name == "shore"}
    assert by == charged
    told = [f.subjects for f in found(plan, "charge-voltage-wrong")]
    assert {name for names in told if "shore" in names for name in names} == {"shore", *charged}


def behind_a_line(size: str, length: str) -> str:
    """AGM of a trailer, at the end of a line from the car's battery and its alternator of 90 A."""
    return f"""\
wattproof: 1
setting: vehicle
code: iec
datasheets:
  cables:
    thick: {{size: 35 mm², kind: battery, insulation_temperature: 105 °C}}
    line: {{size: {size}, kind: battery, insulation_temperature: 105 °C}}
switches:
  relay: {{rating: 60 A, voltage: 24 V, dc: true, closes_above: 13.4 V, opens_below: 12.8 V}}
fuses:
  car-fuse: {{rating: 60 A, style: stud-mounted, voltage: 58 V, interrupt: 10 kA}}
  trailer-fuse: {{rating: 60 A, style: stud-mounted, voltage: 58 V, interrupt: 10 kA}}
batteries:
  car: {{chemistry: agm, nominal: 12 V, capacity: 80 Ah}}
  trailer: {{chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 20 A}}
chargers:
  alternator: {{kind: alternator, max_output_current: 90 A, nominal: 12 V, charge_voltage: 14.4 V}}
wires:
  engine: {{from: alternator, to: car, cable: thick, length: 50 cm}}
  to-relay: {{from: car.positive, to: relay, cable: line, length: 50 cm, inline: [car-fuse]}}
  line-plus: {{from: relay, to: trailer.positive, cable: line, length: {length},
              inline: [{{trailer-fuse: {{from_end: to, distance: 10 cm}}}}]}}
  line-minus: {{from: car.negative, to: trailer.negative, cable: line, length: {length}}}
"""


@pytest.mark.parametrize(
    ("size", "length", "amps"),
    [
        # (14.4 V − 12 V) over the copper there and back, hot: 48 mΩ of 10 mm².
        ("10 mm²", "8 m", 50.0),  # 62 A; of 90 A its share is 5/9
        ("10 mm²", "20 m", None),
        ("2.5 mm²", "10 m", None),
    ],
)
def test_a_long_line_leaves_an_alternator_less(size: str, length: str, amps: float | None) -> None:
    """What its voltage drives through the copper, where that is less than the bank's share."""
    study = study_of(behind_a_line(size, length))
    [charging] = [c for c in study.charging.of_banks if c.bank.name == "trailer"]
    wires = [study.wiring.wires[name] for name in ("engine", "to-relay", "line-plus", "line-minus")]
    per_pole = (2, 1, 1, 1)
    ohms = sum(
        n * w.hot_resistance_over(w.length.number).number
        for n, w in zip(per_pole, wires, strict=True)
    )
    by_copper = (14.4 - 12.0) / ohms
    assert charging.current.number == pytest.approx(amps or by_copper, rel=1e-6)
    assert (by_copper < 50.0) == (amps is None)


@pytest.mark.parametrize(
    ("fuse", "amps", "n"),
    [("60 A", 50.0, 1), ("40 A", 40.0, 1), ("20 A", 20.0, 0), ("15 A", 15.0, 0)],
)
def test_an_alternator_gives_no_more_than_the_fuse_in_its_line_lets_through(
    fuse: str, amps: float, n: int
) -> None:
    """The share of 90 A is 50 A; a fuse of the car's line that is smaller opens before that."""
    plan = behind_a_line("10 mm²", "8 m").replace(
        "car-fuse: {rating: 60 A", f"car-fuse: {{rating: {fuse}"
    )
    [charging] = [c for c in study_of(plan).charging.of_banks if c.bank.name == "trailer"]
    assert charging.current.number == pytest.approx(amps)
    told = found(plan, "charge-current-over-battery")
    assert len([f for f in told if f.subjects[0] == "trailer"]) == n


def test_a_fuse_that_it_passes_by_limits_no_alternator() -> None:
    plan = behind_a_line("10 mm²", "8 m").replace(
        "car-fuse: {rating: 60 A", "car-fuse: {rating: 15 A"
    )
    past = "  past: {from: car.positive, to: relay, cable: line, length: 50 cm}\n"
    plan = plan.replace("  line-plus:", f"{past}  line-plus:")
    [charging] = [c for c in study_of(plan).charging.of_banks if c.bank.name == "trailer"]
    assert charging.current.number == pytest.approx(50.0)


def test_modules_with_a_regulator_of_their_own_count() -> None:
    """Two that pass on 9 A each into a pack that stands 6 A; they counted for nothing."""
    plan = """
wattproof: 1
setting: portable
datasheets: {modules: {folding: {pmax: 120 W, isc: 9 A, build: folding, regulated: true}}}
strings: {set: {module: folding, arrangement: 1s2p}}
batteries: {house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 20 Ah,
                    max_charge_current: 6 A}}
wires: {lead: {from: set, to: house, length: 5 m}}
"""
    [finding] = found(plan, CHARGE)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert "(`set` 18 A)" in finding.message


@pytest.mark.parametrize(
    ("chemistry", "limit", "gets"),
    [
        ("agm", "75 A", ""),  # half of 80 Ah an hour at the most (common practice)
        ("agm", "30 A", "40 A"),
        ("lithium-iron-phosphate", "75 A", "150 A"),
    ],
)
def test_lead_takes_from_an_alternator_what_it_can(chemistry: str, limit: str, gets: str) -> None:
    """An alternator holds its voltage, and forces its 150 A into nothing."""
    plan = f"""
wattproof: 1
setting: vehicle
batteries: {{start: {{chemistry: {chemistry}, nominal: 12 V, capacity: 80 Ah,
                     max_charge_current: {limit}}}}}
chargers: {{alternator: {{kind: alternator, nominal: 12 V, max_output_current: 150 A}}}}
wires: {{run: {{from: alternator, to: start, cable: 50 mm², length: 1 m}}}}
"""
    messages = [finding.message for finding in found(plan, CHARGE)]
    assert [f"gets {gets} when" in message for message in messages] == ([True] if gets else [])


UNTOLD = """\
wattproof: 1
setting: cabin
code: nec-2023
told: part
batteries: {{bank: {{chemistry: flooded, nominal: 48 V{capacity}}}}}
chargers: {{shore: {{kind: shore, max_output_current: 120 A, feeds: bank}}}}
"""


def test_of_a_bank_of_untold_capacity_it_is_asked() -> None:
    """A bank that is drawn as one battery may be of many cells: 120 A is little for 1,000 Ah."""
    result = check_text(UNTOLD.format(capacity=""))
    assert CHARGE not in {f.rule for f in result.findings}
    asked = {q.asks for q in result.questions if CHARGE in {f.rule for f in q.decides}}
    assert "the capacity of `bank`" in asked
    [finding] = found(UNTOLD.format(capacity=", capacity: 100 Ah"), CHARGE)
    assert finding.level == "error"
