"""The rating of the device that feeds a conductor against the largest that protects it."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable
from itertools import combinations

import pytest

from plans import edited
from rule_runs import asked, build, found, found_beside_all, levels, sound
from rules.protection.plans import CHARGE, FUSED, on_selector, packs, panel
from wattproof.circuit import Conductor, Passage, Source, Terminal
from wattproof.study import Study
from wattproof.study.assumptions.ratings import device_rating
from wattproof.testing import study_of

CONDUCTOR = "fuse-over-conductor"


@pytest.mark.parametrize(
    ("code", "rating", "level"),
    [
        ("nec-2023", "40 A", None),  # 8 AWG on 60 °C terminals: 40 A
        ("nec-2023", "41 A", "warning"),
        ("nec-2023", "50 A", "warning"),  # on terminals marked for 75 °C
        ("nec-2023", "51 A", "error"),
        # 80 A in 30 °C air, × sqrt((105 − 35)/75) = 77.29 A; the next size is 80 A
        ("abyc-e11", "80 A", None),
        ("abyc-e11", "81 A", "error"),
    ],
)
def test_largest_device_by_body_of_rules(code: str, rating: str, level: str | None) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"), ("rating: 40 A", f"rating: {rating}"),
                  plan=CHARGE)  # fmt: skip
    assert levels(plan, CONDUCTOR) == ([level] if level else [])


def test_small_conductors_are_held_to_their_cap() -> None:
    plan = edited(("8 AWG", "14 AWG"), ("rating: 40 A", "rating: 20 A"), plan=CHARGE)  # fmt: skip
    [finding] = found(plan, CONDUCTOR)
    assert "15 A is the largest that protects it" in finding.message


def test_over_conductor_shows_numbers_margin_and_remedies_that_hold() -> None:
    plan = edited(("rating: 40 A", "rating: 60 A"), plan=CHARGE)
    [finding] = found(plan, CONDUCTOR)
    assert finding.subjects == ("charge-run", "charge-fuse")
    assert (
        "`charge-run` (8 AWG) is guarded by `charge-fuse`, 60 A; 40 A is the largest"
        in finding.message
    )
    assert finding.margin == pytest.approx(-0.5)
    assert finding.verdict == "certain"
    assert finding.remedy == "use 40 A in place of `charge-fuse`; or use 6 AWG for `charge-run`"
    assert not found(CHARGE, CONDUCTOR)
    assert not found(edited(("batt-8: {size: 8 AWG", "batt-8: {size: 6 AWG"), plan=plan), CONDUCTOR)


def test_where_the_smaller_device_would_not_carry_the_current_the_wire_is_what_changes() -> None:
    plan = edited(("batt-8: {size: 8 AWG", "batt-8: {size: 10 AWG"), plan=CHARGE)
    [finding] = found(plan, CONDUCTOR)
    assert finding.remedy == "use 8 AWG for `charge-run`"  # 30 A, and 1.25 × 30 A flow


def test_assumed_heat_makes_a_warning_unless_it_fails_in_any_case() -> None:
    hot = edited(("cabin: {ambient: 35 °C}", "cabin: {}"), ("105 °C", "75 °C"),
                 ("rating: 40 A", "rating: 60 A"), plan=CHARGE)  # fmt: skip
    [finding] = found(hot, CONDUCTOR)
    assert (finding.level, finding.verdict) == ("error", "certain")  # the terminals limit it
    [worse] = found(edited(("rating: 60 A", "rating: 150 A"), plan=hot), CONDUCTOR)
    assert (worse.level, worse.verdict) == ("error", "certain")


def test_a_metal_that_is_not_stated_is_asked() -> None:
    plan = edited(("kind: battery, material: copper,", "kind: battery,"), plan=CHARGE)
    assert not found(plan, CONDUCTOR)
    assert asked(plan, CONDUCTOR) == ["conductor material"]


LAMP = "  lamp-run: {from: bar, to: lamp, cable: b-14, length: 2 m, place: cabin, inline: [LAMP]}\n"


def lamp(place: str, cable: str = "b-14") -> str:
    return LAMP.replace("LAMP", place).replace("b-14", cable)


AT_BAR = "{lamp-fuse: {from_end: from, distance: 10 cm}}"
FAR = "{lamp-fuse: {from_end: to, distance: 10 cm}}"


def test_parallel_packs_feed_what_lies_behind_them_with_the_sum_of_their_fuses() -> None:
    bare = LAMP.replace(", inline: [LAMP]", "").replace("b-14", "b-4")
    plan = packs(2, 60, "b-2-0", bare).replace(
        "  lamp-fuse: {rating: 10 A, voltage: 32 V, style: blade}\n", ""
    )
    [finding] = found(plan, CONDUCTOR)
    assert finding.subjects == ("lamp-run", "fuse-1", "fuse-2")
    assert (
        "`fuse-1` and `fuse-2` together, 120 A; 70 A is the largest that protects it"
        in finding.message
    )
    assert "put a device of 10 A (10 to 70 A will do) into `lamp-run` where it leaves `bar`" in (
        finding.remedy
    )
    assert not found(plan.replace("rating: 60 A", "rating: 30 A"), CONDUCTOR)


def test_three_packs_feed_the_lead_of_each_from_its_far_end_too() -> None:
    assert not found(packs(2, 70, "b-4", lamp(AT_BAR)), CONDUCTOR)
    assert not found(packs(3, 70, "b-4", lamp(AT_BAR)), CONDUCTOR)  # a short opens both at once
    weak = packs(3, 70, "b-4", lamp(AT_BAR)).replace(
        "capacity: 100 Ah", "capacity: 100 Ah, short_circuit_current: 600 A"
    )
    findings = found(weak, CONDUCTOR)
    assert [f.subjects[0] for f in findings] == ["pack-run-1", "pack-run-2", "pack-run-3"]
    assert findings[0].subjects == ("pack-run-1", "fuse-2", "fuse-3")
    assert "140 A; 70 A is the largest" in findings[0].message
    assert "into `pack-run-1` where it leaves `bar`" in findings[0].remedy


@pytest.mark.parametrize(
    ("inline", "length", "level", "certainty"),
    [
        (AT_BAR, "2 m", None, ""),
        ("{lamp-fuse: {from_end: from, distance: 46 cm}}", "2 m", None, ""),  # at the limit
        ("{lamp-fuse: {from_end: from, distance: 47 cm}}", "2 m", "error", "certain"),
        (FAR, "2 m", "error", "certain"),
        ("lamp-fuse", "2 m", None, ""),  # asked
        ("lamp-fuse", "46 cm", None, ""),
    ],
)
def test_the_wire_before_its_own_fuse(
    inline: str, length: str, level: str | None, certainty: str
) -> None:
    plan = packs(2, 60, "b-2-0", lamp(inline).replace("2 m", length))
    findings = found(plan, CONDUCTOR)
    assert [(f.level, f.verdict) for f in findings] == ([(level, certainty)] if level else [])


def test_the_wire_before_its_own_fuse_tells_how_much_and_what_to_do() -> None:
    [finding] = found(packs(2, 60, "b-2-0", lamp(FAR)), CONDUCTOR)
    assert finding.message.startswith("1.9 m of `lamp-run` (14 AWG) before `lamp-fuse` is guarded")
    assert (
        "only by `fuse-1` and `fuse-2`, 120 A; 15 A is the largest that protects it"
        in finding.message
    )
    assert finding.remedy == "put `lamp-fuse` within 0.46 m of `bar`"


def test_a_way_of_a_panel_guards_its_wire_and_the_short_feed_is_guarded_by_the_ways() -> None:
    [finding] = found(panel(), CONDUCTOR)
    assert finding.subjects == ("spare-run", "pump")
    assert "`spare-run` (14 AWG) is guarded by `pump`, 30 A; 15 A is the largest" in finding.message
    assert (
        finding.remedy
        == "use 10 A (10 to 15 A will do) in place of `pump`; or use 10 AWG for `spare-run`"
    )


def test_the_long_feed_of_a_panel_needs_a_device_of_its_own() -> None:
    feed, way = found(panel(("length: 40 cm", "length: 3 m")), CONDUCTOR)
    assert feed.subjects[0] == "feed"
    assert (
        "put a device of 35 A (20 to 40 A will do) into `feed` where it leaves `bar`" in feed.remedy
    )
    assert way.subjects == ("spare-run", "pump")


def test_two_fused_cables_between_the_same_ends_add_up_behind_them() -> None:
    rest = (
        "  second-run: {from: pack-1, to: bar, cable: b-4, length: 1 m, place: cabin, "
        "inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}\n"
        "  lamp-run: {from: bar, to: lamp, cable: b-4, length: 2 m, place: cabin}\n"
    )
    plan = packs(1, 60, "b-4", rest)
    assert not found(plan, CONDUCTOR)  # 60 A + 10 A on 4 AWG, 70 A
    [finding] = found(plan.replace("rating: 10 A", "rating: 20 A"), CONDUCTOR)
    assert finding.subjects == ("lamp-run", "fuse-1", "lamp-fuse")
    assert "80 A; 70 A is the largest" in finding.message


def test_two_wires_of_one_cable_behind_one_fuse_are_one_cause() -> None:
    plan = edited(
        ("from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,",
         "from: tracker.battery.positive, to: house.positive, cable: batt-8, length: 1 m, "
         "place: cabin,"),
        ("wires:\n", "wires:\n  return: {from: tracker.battery.negative, to: house.negative, "
                     "cable: batt-8, length: 1 m, place: cabin}\n"),
        ("rating: 40 A", "rating: 60 A"),
        plan=CHARGE,
    )  # fmt: skip
    [finding] = found(plan, CONDUCTOR)
    assert finding.subjects == ("charge-run", "charge-fuse", "return")
    assert "`charge-run` (8 AWG) and its return `return` are guarded by" in finding.message
    assert "for `charge-run` and `return`" in finding.remedy
    assert not found(plan, "negative-smaller-than-positive")  # which is of the same cause
    thinner = ("tracker.battery.negative, to: house.negative, cable: batt-8",
               "tracker.battery.negative, to: house.negative, cable: batt-12")  # fmt: skip
    sheet = ("    batt-8:", "    batt-12: {size: 12 AWG, kind: battery, material: copper, "
             "insulation_temperature: 105 °C}\n    batt-8:")  # fmt: skip
    plan = edited(thinner, sheet, plan=plan)
    assert [f.subjects for f in found(plan, CONDUCTOR)] == [("charge-run", "charge-fuse")]
    assert [f.subjects[0] for f in found(plan, "negative-smaller-than-positive")] == ["return"]


def test_a_string_fuse_that_its_own_lead_does_not_stand() -> None:
    plan = edited(
        ("isc: 6 A, imp: 5.6 A, pmax: 114 W", "isc: 12 A, imp: 11.2 A, pmax: 228 W"),
        ("max_series_fuse: 15 A", "max_series_fuse: 30 A"),
        (
            "    pv-8:",
            "    thin: {size: 14 AWG, kind: pv, insulation_temperature: 90 °C}\n    pv-8:",
        ),
        ("middle, to: roof-joint, cable: pv-10", "middle, to: roof-joint, cable: thin"),
        ("middle-fuse: {rating: 10 A", "middle-fuse: {rating: 25 A"),
        plan=FUSED,
    )
    [finding] = found(plan, CONDUCTOR)
    assert finding.subjects == ("middle-lead", "middle-fuse")
    assert "25 A; 15 A is the largest that protects it" in finding.message


def test_every_stretch_is_fed_from_its_worse_end() -> None:
    guards = {
        (g.wire.name, g.part.start.port, g.part.end.port): [d.name for d in g.limiting]
        for g in study_of(packs(3, 70, "b-4", lamp(AT_BAR))).protection.guards
    }
    assert guards["pack-run-1", "", "#0a"] == []  # the post itself
    assert guards["pack-run-1", "#0b", ""] == ["fuse-2", "fuse-3"]
    assert guards["lamp-run", "", "#0a"] == ["fuse-1", "fuse-2", "fuse-3"]
    assert guards["lamp-run", "#0b", ""] == ["lamp-fuse"]


def random_net(rng: random.Random) -> str:
    """Banks and bars joined at random, with fuses in some of the wires; a lamp somewhere."""
    banks = [f"bank-{n}" for n in range(rng.randint(1, 3))]
    bars = [f"bar-{n}" for n in range(rng.randint(1, 3))]
    nodes = rng.sample(banks + bars, len(banks) + len(bars))
    ends = [(nodes[n], nodes[rng.randrange(n)]) for n in range(1, len(nodes))]
    ends += [tuple(rng.sample(nodes, 2)) for _ in range(rng.randint(0, 3))]  # type: ignore[misc]
    fuses, wires = [], []
    for number, (start, end) in enumerate((*ends, (rng.choice(nodes), "lamp"))):
        here = [f"f-{number}-{k}" for k in range(rng.choice((0, 1, 1, 2)))]
        fuses += [f"  {f}: {{rating: {rng.choice((10, 20, 30, 50, 70))} A}}\n" for f in here]
        inline = f", inline: [{', '.join(here)}]" if here else ""
        wires.append(f"  w-{number}: {{from: {start}, to: {end}, cable: c, length: 1 m{inline}}}\n")
    bank = "{chemistry: agm, nominal: 12 V, capacity: 100 Ah}"
    return (
        "wattproof: 1\nsetting: vehicle\ncode: nec-2023\n"
        "datasheets: {cables: {c: {size: 4 AWG, kind: marine}}}\n"
        f"batteries:\n{''.join(f'  {b}: {bank}{chr(10)}' for b in banks)}"
        f"busbars:\n{''.join(f'  {b}: {{}}{chr(10)}' for b in bars)}"
        f"{'fuses:' + chr(10) if fuses else ''}{''.join(fuses)}"
        f"loads: {{lamp: {{current: 1 A}}}}\nwires:\n{''.join(wires)}"
    )


def flooded(elements: Iterable[Conductor | Passage], sources: list[Terminal]) -> set[Terminal]:
    seen, grown = set(sources), True
    while grown:
        grown = False
        for e in elements:
            if (e.start in seen) != (e.end in seen):
                seen |= {e.start, e.end}
                grown = True
    return seen


def least_sum(study: Study, part: Conductor) -> float:
    """By trying every set of devices: the least ratings that keep banks off the worse end."""
    positive = [
        e
        for e in study.circuit.elements
        if not isinstance(e, Source) and e.pole == "positive" and e is not part
    ]
    devices = [e for e in positive if isinstance(e, Passage)]
    sources = [Terminal(bank.name, "", "positive") for bank in study.battery.banks]
    sums = []
    for end in {part.start, part.end} & flooded(positive, sources):
        cuts = (c for n in range(len(devices) + 1) for c in combinations(devices, n))
        sums.append(
            min(
                (
                    sum(device_rating(d).number for d in cut)
                    for cut in cuts
                    if end not in flooded([e for e in positive if e not in cut], sources)
                ),
                default=math.inf,
            )
        )
    return max(sums)


@pytest.mark.parametrize("seed", range(40))
def test_guards_against_trying_every_cut(seed: int) -> None:
    rng = random.Random(seed)
    plan = random_net(rng)
    while plan.count("rating") > 7:  # of which every subset is tried
        plan = random_net(rng)
    study = study_of(plan)
    guarded = {guard.part: guard.rating.number for guard in study.protection.guards}
    positive = [
        c for c in study.circuit.elements if isinstance(c, Conductor) and c.pole == "positive"
    ]
    assert set(guarded) == set(positive)
    assert guarded == {part: least_sum(study, part) for part in positive}


def test_one_that_is_too_large_and_too_far_is_told_by_what_comes_before_it() -> None:
    """What the main fuse lets through there is the graver, and one change mends both."""
    plan = build("van-chassis-returns")
    far = edited(
        ("box-feed: {from: leisure,", "box-feed: {from: stud,"),
        ("inline: [{panel-fuse: {from_end: from, distance: 10 cm}}]",
         "inline: [{panel-fuse: {from_end: to, distance: 10 cm}}]"),
        ("panel-fuse: {rating: 40 A", "panel-fuse: {rating: 80 A"),
        ("fuses:\n", "fuses:\n  main-fuse: {rating: 200 A, style: class-t, voltage: 125 V, "
         "interrupt: 20 kA, dc: true}\n"),
        ("wires:\n", "busbars:\n  stud: {rating: 250 A, voltage: 32 V}\nwires:\n  stud-run: "
         "{from: leisure, to: stud, cable: main, length: 50 cm, place: van, pole: positive,\n"
         "             inline: [{main-fuse: {from_end: from, distance: 0 cm}}]}\n"),
        ("  strap: {", "  main: {size: 95 mm², type: FLRY-B, material: copper}\n    strap: {"),
        plan=plan,
    )  # fmt: skip
    [finding] = found_beside_all(far, CONDUCTOR, tried=True)
    assert finding.message.startswith("2.4 m of `box-feed` (10 mm²) before `panel-fuse`")
    assert "200 A" in finding.message
    assert "put `panel-fuse` within 0.2 m of `stud`, of " in finding.remedy
    [trial] = finding.trials
    assert trial.clears


def test_what_a_bank_drives_is_told_before_what_a_charger_gives() -> None:
    """A fuse too large for its wire, with an alternator on the same net."""
    plan = edited(
        ("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 80 A"),
        ("wires:\n", "chargers:\n  alternator: {kind: alternator, max_output_current: 100 A}\n"
                     "wires:\n  bay: {from: alternator, to: house, cable: batt-8, length: 2 m}\n"),
        plan=sound(CONDUCTOR),
    )  # fmt: skip
    [finding] = [f for f in found(plan, CONDUCTOR) if f.subjects[0] == "charge-run"]
    assert "is guarded by `charge-fuse`, 80 A" in finding.message


CRANK = (
    "to: starter.positive, cable: crank, length: 2 m, place: [battery-box, engine], enclosed: true"
)


def test_a_starting_cable_may_have_a_fuse_that_is_too_large_for_its_load_as_well_as_none() -> None:
    """400 A before 70 mm², which carries 284 A there; a thin lead behind it is no such cable."""
    fuse = (
        "  start-fuse: {rating: 400 A, style: class-t, voltage: 125 V, interrupt: 20 kA, dc: true}"
    )
    plan = edited(
        (CRANK, f"{CRANK}, inline: [{{start-fuse: {{from_end: from, distance: 5 cm}}}}]"),
        ("fuses:\n", f"fuses:\n{fuse}\n"),
        plan=build("boat-selector-and-starter"),
    )
    assert not found(plan, CONDUCTOR)
    assert not found(plan, "negative-smaller-than-positive")
    lamp = "  wipers-run: {from: starter, to: wipers, cable: lamp, length: 1 m, place: engine}\n"
    wipers = ("loads:\n", "loads:\n  wipers: {current: 4 A}\n")
    plan = edited(wipers, ("  sun-lead:", f"{lamp}  sun-lead:"), plan=plan)
    told = {finding.subjects[0] for finding in found(plan, CONDUCTOR)}
    assert {"wipers-run", "crank-run"} <= told


def test_banks_on_a_selector_add_up_where_it_has_a_position_for_both() -> None:
    """300 A of each on 4/0 AWG; what hangs behind the bar, near its fuses, is no fault of its own.

    ABYC E-11, 105 °C outside an engine space: 445 A, and the next size is 450 A.
    """
    [finding] = found(on_selector(), CONDUCTOR)
    assert finding.message == (
        "`common-run` (4/0 AWG) is guarded by `first-fuse` and `second-fuse` together, 600 A; "
        "450 A is the largest that protects it"
    )
    assert not found(on_selector(("both: true", "both: false")), CONDUCTOR)
    larger = on_selector(
        ("both: true", "both: false"), ("first-fuse: {rating: 300", "first-fuse: {rating: 500")
    )
    assert {f.subjects[0] for f in found(larger, CONDUCTOR)} == {"first-run", "common-run"}


def test_what_charges_does_not_add_to_what_is_drawn_behind_a_short_wire() -> None:
    """10 cm to fuses of 250 and 80 A for what draws, and of 200 A for what only charges."""
    near = on_selector(
        (
            "to: plus.positive, cable: g4-0, length: 1 m}",
            "to: plus.positive, cable: g4-0, length: 5 cm}",
        )
    )
    assert not found(near, CONDUCTOR)
    more = (("panel-fuse: {rating: 80 A", "panel-fuse: {rating: 201 A"),)
    assert found(edited(*more, plan=near), CONDUCTOR)


@pytest.mark.parametrize(
    ("style", "output", "remedy"),
    [
        # 14 AWG is protected by 20 A; a blade fuse is run at 80 % of its rating or less
        ("blade", "16 A", "use 20 A in place of `charge-fuse`; or use about 6 AWG"),
        ("blade", "20 A", "use about 6 AWG"),
        ("bolt-down", "20 A", "use 20 A in place of `charge-fuse`; or use about 6 AWG"),
        ("bolt-down", "25 A", "use about 6 AWG"),
    ],
)
def test_a_smaller_fuse_carries_what_one_of_its_make_may(
    style: str, output: str, remedy: str
) -> None:
    """And none is put beside one in the same wire that carries too much for a smaller one."""
    plan = edited(
        ("code: nec-2023", "code: iec"),
        ("rating: 40 A, voltage: 58 V, style: bolt-down",
         f"rating: 80 A, voltage: 32 V, style: {style}"),
        ("max_output_current: 20 A", f"max_output_current: {output}"),
        ("batt-8: {size: 8 AWG", "batt-8: {size: 14 AWG"),
    )  # fmt: skip
    [finding] = found(plan, CONDUCTOR)
    assert finding.remedy == f"{remedy} for `charge-run`"
    way = finding.ways[0]
    changed = edited((f"rating: 80 A, voltage: 32 V, style: {style}",
                      f"rating: {way[0].text}, voltage: 32 V, style: {style}"),
                     plan=plan) if way[0].component == "charge-fuse" else plan  # fmt: skip
    assert changed == plan or not found(changed, "fuse-under-load")


@pytest.mark.parametrize("cables", [("8 AWG", "8 AWG"), ("batt-8", "twin")])
def test_two_wires_of_alike_cables_behind_one_fuse_are_one_cause(cables: tuple[str, str]) -> None:
    """Whether one sheet names both, each its own, or the wires tell their sizes themselves."""
    plus, minus = cables
    plan = edited(
        ("  cables:\n", "  cables:\n    twin: {size: 8 AWG, kind: battery, material: copper, "
                         "insulation_temperature: 105 °C}\n"),
        ("from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,",
         f"from: tracker.battery.positive, to: house.positive, cable: {plus}, length: 1 m, "
         "place: cabin,"),
        ("wires:\n", "wires:\n  return: {from: tracker.battery.negative, to: house.negative, "
                     f"cable: {minus}, length: 1 m, place: cabin}}\n"),
        ("rating: 40 A", "rating: 300 A"),
        plan=CHARGE,
    )  # fmt: skip
    [finding] = found(plan, CONDUCTOR)
    assert finding.subjects == ("charge-run", "charge-fuse", "return")
    assert not found(plan, "negative-smaller-than-positive")
