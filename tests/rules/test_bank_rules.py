"""Rules on what banks are joined to, charged with and drawn by: limits, levels, numbers by hand."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import check_examples, check_text

RULES = discover()
UNLIKE = "unlike-batteries-joined"
VOLTAGE = "charge-voltage-wrong"
COLD = "charge-below-freezing"
DRAWN = "load-over-battery-discharge"
EACH = "each-pack-unfused"
CUT_OFF = "lithium-cut-off-in-sun"
PATHS = "parallel-paths-unequal"
ALL = (UNLIKE, VOLTAGE, COLD, DRAWN, EACH, CUT_OFF, PATHS)


def sound(rule: str) -> str:
    return RULES.rules[rule].sound


def faulty(rule: str) -> str:
    return RULES.rules[rule].faulty.of(sound(rule))


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


def levels(plan: str, rule: str) -> list[str]:
    return [f.level for f in found(plan, rule)]


@pytest.mark.parametrize("rule", ALL)
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Unlike batteries.

PORT = "port-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah"


def port_pack(chemistry: str, nominal: str, capacity: str) -> tuple[str, str]:
    return PORT, f"port-pack: {{chemistry: {chemistry}, nominal: {nominal}, capacity: {capacity}"


@pytest.mark.parametrize(
    ("capacity", "expected"),
    [("90 Ah", []), ("89 Ah", ["warning"]), ("111 Ah", []), ("112 Ah", ["warning"])],
)
def test_capacity_in_parallel(capacity: str, expected: list[str]) -> None:
    """1 − 90/100 is the tenth that may be; 1 − 100/112 is 10.7 %."""
    plan = edited(port_pack("lithium-iron-phosphate", "12.8 V", capacity), plan=sound(UNLIKE))
    assert levels(plan, UNLIKE) == expected


def test_unlike_capacity_tells_both_and_equal_ones_hold() -> None:
    [finding] = found(faulty(UNLIKE), UNLIKE)
    assert "differ by 33.33 % in capacity" in finding.message
    assert finding.subjects == ("port-pack", "starboard-pack")
    assert finding.margin == pytest.approx(1 - (1 - 100 / 150) / 0.1)
    assert "batteries of 150 Ah for both" in finding.remedy


def test_lithium_beside_lead_is_an_error() -> None:
    plan = edited(port_pack("agm", "12 V", "100 Ah"), plan=sound(UNLIKE))
    [finding] = found(plan, UNLIKE)
    assert finding.level == "error"
    assert "`port-pack` (agm) and `starboard-pack` (lithium-iron-phosphate)" in finding.message
    assert "of at most 50 A" in finding.remedy


SWITCH = (
    ("switches:\n", "switches:\n  joiner: {rating: 200 A, voltage: 32 V, dc: true}\n"),
    ("inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}]",
     "inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}, joiner]"),
)  # fmt: skip
STARBOARD = PORT.replace("port-pack", "starboard-pack")


def test_start_and_house_lead_behind_a_switch_are_milder() -> None:
    lead = edited(
        port_pack("agm", "12 V", "100 Ah"),
        (STARBOARD, "starboard-pack: {chemistry: flooded, nominal: 12 V, capacity: 100 Ah"),
        plan=sound(UNLIKE),
    )
    assert levels(lead, UNLIKE) == ["error"]
    [finding] = found(edited(*SWITCH, plan=lead), UNLIKE)
    assert finding.level == "warning"
    assert "in parallel through `joiner`" in finding.message
    mixed = edited(port_pack("agm", "12 V", "100 Ah"), *SWITCH, plan=sound(UNLIKE))
    assert levels(mixed, UNLIKE) == ["error"]  # a switch does not help lithium


def in_series(*edits: tuple[str, str]) -> str:
    """Two packs in series across the tracker."""
    plan = sound(VOLTAGE)
    start, end = plan.index("batteries:\n"), plan.index("wires:\n")
    pack = (
        "{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,\n"
        "        max_charge_current: 50 A, max_charge_voltage: 14.6 V}\n"
    )
    plan = plan[:start] + f"batteries:\n  top: {pack}  low: {pack}" + plan[end:]
    start = plan.index("  charge-run:")
    return edited(
        *edits,
        plan=plan[:start]
        + "  charge-run: {from: tracker.battery.positive, to: top.positive, cable: batt-8,\n"
        "               length: 1 m, inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}\n"
        "  link: {from: top.negative, to: low.positive, cable: batt-8, length: 20 cm}\n"
        "  back: {from: low.negative, to: tracker.battery.negative, cable: batt-8, length: 1 m}\n",
    )


def test_series_is_stricter_with_capacity() -> None:
    assert not found(in_series(), UNLIKE)
    low = "low: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: "
    plan = in_series((f"{low}100 Ah", f"{low}80 Ah"))
    [finding] = found(plan, UNLIKE)
    assert finding.level == "error"
    assert "joined in series" in finding.message


def test_a_charger_between_banks_joins_nothing() -> None:
    assert not found(sound("alternator-overloaded"), UNLIKE)  # AGM, vehicle charger, lithium


# Charge voltage.


def set_to(volts: str, *edits: tuple[str, str]) -> str:
    return edited(("charge_voltage: 14.2 V", f"charge_voltage: {volts}"), *edits,
                  plan=sound(VOLTAGE))  # fmt: skip


@pytest.mark.parametrize(
    ("volts", "expected"),
    [("14.6 V", []), ("14.7 V", ["error"]), ("13.8 V", []), ("13.7 V", ["warning"])],
)
def test_voltage_against_the_label(volts: str, expected: list[str]) -> None:
    assert levels(set_to(volts), VOLTAGE) == expected


def test_voltage_numbers_margin_and_a_setting_that_holds() -> None:
    [finding] = found(faulty(VOLTAGE), VOLTAGE)
    assert finding.message == ("`tracker` charges `house` to 15.2 V, and at most 14.6 V is right")
    assert finding.margin == pytest.approx(1 - 15.2 / 14.6)
    assert "to at most 14.6 V" in finding.remedy
    [low] = found(set_to("13.5 V"), VOLTAGE)
    assert low.message == "`house` is charged to 13.5 V at most, and gets full from 13.8 V on"
    assert low.margin == pytest.approx(13.5 / 13.8 - 1)
    assert not found(set_to("13.8 V"), VOLTAGE)


NO_LABEL = ("max_charge_voltage: 14.6 V, ", "")


@pytest.mark.parametrize(
    ("chemistry", "volts", "expected"),
    [
        ("lithium-iron-phosphate", "14.6 V", []),
        ("lithium-iron-phosphate", "14.7 V", ["warning"]),  # rests on the chemistry's band
        ("lithium-iron-phosphate", "14.9 V", ["error"]),  # over what any maker allows
        ("gel", "14.4 V", []),
        ("gel", "14.9 V", ["error"]),
        ("agm", "14.7 V", []),
        ("agm", "13.9 V", ["warning"]),
        ("flooded", "15.5 V", ["warning"]),
        ("flooded", "16.3 V", ["error"]),
    ],
)
def test_voltage_by_chemistry(chemistry: str, volts: str, expected: list[str]) -> None:
    plan = set_to(volts, NO_LABEL, ("chemistry: lithium-iron-phosphate", f"chemistry: {chemistry}"))
    assert levels(plan, VOLTAGE) == expected


@pytest.mark.parametrize(
    ("volts", "n"), [("29.2 V", 0), ("29.3 V", 1), ("27.6 V", 0), ("27.5 V", 1)]
)
def test_twice_for_a_bank_in_series(volts: str, n: int) -> None:
    bank = set_to(volts, ("capacity: 100 Ah", "capacity: 100 Ah, arrangement: 2s"))
    assert len(found(bank, VOLTAGE)) == n
    separate = in_series(("charge_voltage: 14.2 V", f"charge_voltage: {volts}"))
    assert len(found(separate, VOLTAGE)) == n


def test_a_voltage_that_is_not_stated_or_a_low_label_says_nothing() -> None:
    unsaid = edited(("charge_voltage: 14.2 V", "nominal: 12 V"), plan=sound(VOLTAGE))
    assert not found(unsaid, VOLTAGE)
    low = set_to("13.6 V", ("max_charge_voltage: 14.6 V", "max_charge_voltage: 13.6 V"))
    assert not found(low, VOLTAGE)


SHORE = """\
chargers:
  shore: {kind: shore, max_output_current: 10 A%s}
wires:
  shore-run: {from: shore, to: house, cable: batt-8, length: 1 m}
"""


def test_one_source_that_fills_it_is_enough() -> None:
    low = set_to("13.5 V", ("wires:\n", SHORE % ", charge_voltage: 14.4 V"))
    assert not found(low, VOLTAGE)
    assert not found(set_to("13.5 V", ("wires:\n", SHORE % "")), VOLTAGE)  # it may fill it
    [finding] = found(set_to("13.5 V", ("wires:\n", SHORE % ", charge_voltage: 14.8 V")), VOLTAGE)
    assert finding.subjects == ("shore", "house")


# Cold.

NO_CUT_OFF = ("low_temperature_cutoff: true", "low_temperature_cutoff: false")


def cold(*edits: tuple[str, str], label: str = ", min_charge_temperature: 0 °C") -> str:
    return edited(
        ("low_temperature_cutoff: true", f"low_temperature_cutoff: false{label}, place: cabin"),
        ("blocks_reverse: true", "blocks_reverse: true, low_temperature_cutoff: false"),
        *edits,
        plan=sound(COLD),
    )


def test_cold_is_an_error_where_everything_is_stated() -> None:
    [finding] = found(cold(), COLD)
    assert (finding.level, finding.certainty) == ("error", "computed")
    assert finding.message == (
        "`house` gets as cold as -18 °C and may be charged from 0 °C on; nothing stops `tracker` "
        "below that"
    )
    assert "write `low_temperature_cutoff: true` there" in finding.remedy
    assert "`coldest: 0 °C` or more" in finding.remedy


@pytest.mark.parametrize(
    "edit",
    [
        ("low_temperature_cutoff: false}\nbatteries", "low_temperature_cutoff: true}\nbatteries"),
        ("cutoff: false, min_charge", "cutoff: true, min_charge"),
        ("cabin: {ambient: 35 °C}", "cabin: {ambient: 35 °C, coldest: 0 °C}"),
        ("min_charge_temperature: 0 °C", "min_charge_temperature: -18 °C"),
        ("site: {coldest: -18 °C", "site: {coldest: 1 °C"),
        ("chemistry: lithium-iron-phosphate", "chemistry: agm"),
    ],
)
def test_each_remedy_and_other_reasons_make_it_silent(edit: tuple[str, str]) -> None:
    assert not found(cold(edit), COLD)


@pytest.mark.parametrize("edit", [
    ("cabin: {ambient: 35 °C}", "cabin: {ambient: 35 °C, coldest: -1 °C}"),
    ("min_charge_temperature: 0 °C", "min_charge_temperature: -17 °C"),
])  # fmt: skip
def test_just_under(edit: tuple[str, str]) -> None:
    assert levels(cold(edit), COLD) == ["error"]


def test_what_is_not_stated_makes_it_a_warning() -> None:
    assert levels(cold(label=""), COLD) == ["warning"]
    silent = edited((", low_temperature_cutoff: true", ""), plan=sound(COLD))
    [finding] = found(silent, COLD)
    assert (finding.level, finding.certainty) == ("warning", "assumed")
    assert {a.key for a in finding.assumptions} == {"charge temperature", "cut-off in the cold"}


def test_every_source_must_stop() -> None:
    stops = (
        "low_temperature_cutoff: false}\nbatteries",
        "low_temperature_cutoff: true}\nbatteries",
    )
    [finding] = found(cold(stops, ("wires:\n", SHORE % "")), COLD)
    assert "nothing stops `shore` below" in finding.message
    both = cold(stops, ("wires:\n", SHORE % ", low_temperature_cutoff: true"))
    assert not found(both, COLD)


# What is drawn.


def gives(limit: str, *edits: tuple[str, str]) -> str:
    return edited(("max_discharge_current: 100 A", f"max_discharge_current: {limit}"), *edits,
                  plan=sound(DRAWN))  # fmt: skip


@pytest.mark.parametrize(
    ("limit", "expected"),
    [("80.9 A", []), ("80.8 A", ["warning"]), ("64.7 A", ["warning"]), ("64.6 A", ["error"])],
)
def test_drawn_against_the_pack(limit: str, expected: list[str]) -> None:
    """800 W / (0.9 × 11 V) = 80.81 A; an error from 1.25 × 64.6 A on."""
    assert levels(gives(limit), DRAWN) == expected


@pytest.mark.parametrize(("limit", "n"), [("50.6 A", 0), ("50.5 A", 1)])
def test_parallel_packs_never_share_equally(limit: str, n: int) -> None:
    """2 × 50.5 A × 0.8 = 80.8 A."""
    plan = gives(limit, ("capacity: 100 Ah", "capacity: 100 Ah, arrangement: 2p"))
    findings = found(plan, DRAWN)
    assert len(findings) == n
    for finding in findings:
        assert finding.message == (
            "80.81 A is drawn from `house` when everything runs (`mains` 80.81 A), and it may give "
            "80.8 A"
        )
        assert "at least 51 A each, of 2" in finding.remedy


def test_loads_and_load_terminals_count_too() -> None:
    pump = (
        ("inverters:\n", "loads: {pump: {current: 5 A, nominal: 12 V}}\ninverters:\n"),
        ("wires:\n", "wires:\n  pump-run: {from: %s, to: pump, cable: batt-8, length: 1 m}\n"),
    )
    for at in ("bar", "tracker.load"):
        edits = (pump[0], (pump[1][0], pump[1][1] % at))
        [finding] = found(gives("85 A", *edits), DRAWN)
        assert "85.81 A is drawn" in finding.message
        assert not found(gives("86 A", *edits), DRAWN)


def test_drawn_without_a_label() -> None:
    bare = ("max_discharge_current: 100 A, ", "")
    assert not found(edited(bare, plan=sound(DRAWN)), DRAWN)  # 1 A for each of 100 Ah
    small = edited(bare, ("capacity: 100 Ah", "capacity: 40 Ah"), plan=sound(DRAWN))
    [finding] = found(small, DRAWN)
    assert (finding.level, finding.certainty) == ("warning", "assumed")
    lead = edited(("chemistry: lithium-iron-phosphate", "chemistry: agm"), plan=small)
    assert not found(lead, DRAWN)  # lead has no switch inside


# A fuse at each pack.


def test_packs_joined_bare() -> None:
    [finding] = found(faulty(EACH), EACH)
    assert finding.level == "warning"
    assert finding.message == (
        "no fuse or breaker parts `port-pack`, `starboard-pack` from each other, 200 Ah of lithium "
        "in parallel"
    )
    assert "on the post of each of `port-pack`, `starboard-pack`" in finding.remedy
    assert not found(sound(EACH), EACH)


@pytest.mark.parametrize(
    ("one", "level"),
    [("250 Ah", "warning"), ("251 Ah", "error")],  # 500 Ah and just above, with 250 Ah
)
def test_large_banks_on_boats(one: str, level: str) -> None:
    plan = faulty(EACH).replace("length: 15 cm", "length: 8 cm").replace("100 Ah", "250 Ah")
    plan = plan.replace("code: nec-2023", "code: abyc-e11").replace("250 Ah", one, 1)
    assert levels(plan, EACH) == [level]
    assert levels(plan.replace("code: abyc-e11", "code: nec-2023"), EACH) == ["warning"]


def test_long_bare_ways_are_a_missing_battery_fuse_instead() -> None:
    plan = faulty(EACH).replace("length: 15 cm", "length: 60 cm")
    assert not found(plan, EACH)
    assert found(plan, "battery-fuse-missing")


def test_lead_is_left_alone() -> None:
    lead = faulty(EACH).replace("lithium-iron-phosphate", "agm").replace("12.8 V", "12 V")
    assert not found(lead, EACH)


def test_packs_in_short_form_without_fuses_of_their_own() -> None:
    bare = gives("100 A", ("capacity: 100 Ah", "capacity: 100 Ah, arrangement: 4p"))
    [finding] = found(bare, EACH)
    assert finding.message == (
        "no fuse or breaker parts the 4 packs of `house` from each other, 400 Ah of lithium in "
        "parallel"
    )
    assert finding.level == "warning"
    assert "`each_pack: {fuse: …}`" in finding.remedy
    each = bare.replace("arrangement: 4p", "arrangement: 4p, each_pack: {fuse: pack-fuse}")
    each = each.replace(
        "fuses:\n",
        "fuses:\n  pack-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA}\n",
        1,
    )
    assert not found(each, EACH)


# The battery disconnects.


def test_the_bare_array_on_the_loads() -> None:
    """24.3 V × (1 + 0.0029 × 43) = 27.33 V."""
    [finding] = found(faulty(CUT_OFF), CUT_OFF)
    assert finding.level == "warning"
    assert (
        "passes up to 27.33 V of the array to the loads, which stand about 16 V" in finding.message
    )
    assert finding.margin == pytest.approx(1 - 27.33 / 16, abs=1e-3)
    assert finding.subjects == ("regulator", "house", "lights")


@pytest.mark.parametrize(
    "edit",
    [
        ("holds_without_battery: false", "holds_without_battery: true"),
        ("kind: pwm", "kind: mppt"),
        ("chemistry: lithium-iron-phosphate", "chemistry: agm"),
        ("nominal: 12.8 V", "nominal: 25.6 V"),  # 24 V loads stand 32 V
    ],
)
def test_a_tracker_lead_and_a_voltage_that_loads_stand_are_silent(edit: tuple[str, str]) -> None:
    plan = faulty(CUT_OFF)
    if "25.6" in edit[1]:
        plan = edited(("nominal: 12 V", "nominal: 24 V"), plan=plan)
    assert not found(edited(edit, plan=plan), CUT_OFF)


def test_without_loads_nothing_is_harmed() -> None:
    plan = faulty(CUT_OFF)
    start = plan.index("  lights-run:")
    plan = plan[:start].replace("loads:\n  lights: {current: 3 A, nominal: 12 V}\n", "")
    fuse = next(line for line in plan.splitlines() if "load-fuse:" in line)
    assert not found(plan.replace(fuse + "\n", ""), CUT_OFF)


# Unequal ways.

OHM_PER_METRE = 0.505e-3  # of stranded 1 AWG at 75 °C, NEC Chapter 9 Table 8
RIGHT = "right-run: {from: right, to: bar, cable: bank-1, length: "


def test_a_long_lead_gives_less() -> None:
    """Each way is 3 mΩ inside and both poles of its lead, at the table's 75 °C."""
    [finding] = found(faulty(PATHS), PATHS)
    assert finding.level == "warning"
    assert finding.subjects == ("left", "middle", "right")
    short, long = (1 / (3e-3 + 2 * metres * OHM_PER_METRE) for metres in (0.6, 3.0))
    shares = [value.number for value in finding.values[1:]]
    assert shares == pytest.approx([v / (2 * short + long) for v in (short, short, long)], rel=0.01)
    assert sum(shares) == pytest.approx(1.0)
    assert "`left` gives 38.49 %, `middle` gives 38.49 %, `right` gives 23.02 %" in finding.message
    assert "cables of one length and size" in finding.remedy
    assert not found(sound(PATHS), PATHS)


@pytest.mark.parametrize(("length", "n"), [("1.4 m", 0), ("2 m", 1)])
def test_up_to_a_fifth(length: str, n: int) -> None:
    """1.4 m: 3.606 / 4.414 mΩ are 18 % under; 2 m: 3.606 / 5.02 mΩ are 28 %."""
    plan = edited((f"{RIGHT}60 cm", f"{RIGHT}{length}"), plan=sound(PATHS))
    assert len(found(plan, PATHS)) == n


def in_a_row(back: str) -> str:
    """Left, middle and right joined post to post by 1 m; all is taken from the left positive."""
    plan = sound(PATHS)
    start = plan.index("  left-run:")
    fuses = [
        line for line in plan.splitlines() if line.startswith(("  left-f", "  mid", "  right-f"))
    ]
    for line in (line for line in fuses if "-fuse: {rating: 50 A" in line):
        plan = plan.replace(line + "\n", "")
    start = plan.index("  charge-run:")
    links = "".join(
        f"  {a}-{b}-{pole}: {{from: {a}.{pole}, to: {b}.{pole}, cable: bank-1, length: 1 m}}\n"
        for a, b in (("left", "middle"), ("middle", "right"))
        for pole in ("positive", "negative")
    )
    plan = plan[:start] + (
        "  out: {from: left.positive, to: tracker.battery.positive, cable: batt-8, length: 1 m,\n"
        "        inline: [{charge-fuse: {from_end: from, distance: 10 cm}}]}\n"
        f"  back: {{from: {back}.negative, to: tracker.battery.negative, cable: batt-8, "
        f"length: 1 m}}\n{links}"
    )
    return plan.replace("busbars:\n  bar: {rating: 250 A, voltage: 60 V}\n", "")


def test_a_row_taken_off_at_one_end_and_at_opposite_ends() -> None:
    [finding] = found(in_a_row("left"), PATHS)
    shares = [value.number for value in finding.values[1:]]
    assert shares[0] > shares[1] > shares[2]
    assert not found(in_a_row("right"), PATHS)


def test_two_packs_lead_of_unlike_kind_and_a_short_form_are_left_alone() -> None:
    assert not found(sound(UNLIKE).replace("length: 60 cm", "length: 3 m", 1), PATHS)
    mixed = faulty(PATHS).replace("capacity: 100 Ah", "capacity: 200 Ah", 1)
    assert not found(mixed, PATHS)  # another rule tells of that


def test_a_source_of_another_system_never_charges() -> None:
    """A second source that is set right hides no other."""
    charger = "  idle: {kind: shore, max_output_current: 10 A, charge_voltage: VOLTS}\n"
    plan = edited(
        ("batteries:\n", f"chargers:\n{charger}batteries:\n"),
        ("wires:\n", "wires:\n  idle-run: {from: idle, to: house, cable: batt-8, length: 1 m}\n"),
        plan=sound(VOLTAGE),
    )
    assert not found(plan.replace("VOLTS", "13.9 V"), VOLTAGE)
    [finding] = found(plan.replace("VOLTS", "7.2 V"), VOLTAGE)
    assert finding.level == "warning"
    assert finding.message == ("`idle` is set to 7.2 V, which never charges `house` of 12.8 V")
    assert "to 13.8 V or a little more, if it can" in finding.remedy


@pytest.mark.parametrize(("length", "n"), [("5 m", 0), ("14 m", 1)])
def test_the_drop_is_a_share_of_the_whole_series(length: str, n: int) -> None:
    """Two per cent of 25.6 V is 0.51 V, and the return of the lower pack is on the way."""
    plan = in_series(("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"))
    plan = plan.replace("cable: batt-8, length: 1 m}", f"cable: batt-8, length: {length}}}")
    findings = found(plan, "voltage-drop-high")
    assert len(findings) == n
    assert all("of 25.6 V" in f.message for f in findings)


def test_a_thin_link_between_batteries_in_series() -> None:
    """30 A of the tracker, and a fuse of 40 A, through 14 AWG for 15 A."""
    cable = "{size: 14 AWG, kind: battery, material: copper, insulation_temperature: 105 °C}"
    thin = ("    batt-8:", f"    thin-14: {cable}\n    batt-8:")
    link = "low.positive, cable: batt-8"
    for rule in ("conductor-too-small", "fuse-over-conductor"):
        assert not found(in_series(), rule)
        [finding] = found(in_series(thin).replace(link, "low.positive, cable: thin-14"), rule)
        assert finding.subjects[0] == "link"
