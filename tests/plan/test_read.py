"""The plan reader: every mistake at its place, in plain words, all in one run."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import a_quarter_of
from plans import BASE, edited, unknown_at
from rule_runs import RULES
from wattproof.engine import check_file
from wattproof.plan import load_plan
from wattproof.remedies.proposals import of_capacity
from wattproof.source import PlanUnusable, Problem
from wattproof.testing import A_DAY, study_of


def problems(text: str, name: str = "plan.yaml") -> list[Problem]:
    with pytest.raises(PlanUnusable) as caught:
        load_plan(name, text=text)
    return caught.value.problems


def line_of(text: str, part: str) -> int:
    return text[: text.index(part)].count("\n") + 1


BARE = "wattproof: 1\nsetting: cabin\ncode: iec\n"
TAIL = BASE[BASE.index("strings:") :]


def test_the_base_plan_is_read_with_places() -> None:
    plan = load_plan("plan.yaml", text=BASE)
    assert plan.setting == "vehicle"
    voc = plan.datasheets.modules["rigid-100"].voc
    assert (voc.value, voc.text, voc.place.line) == (24.3, "24.3 V", line_of(BASE, "voc: 24.3"))
    assert plan.strings["roof-string"].at.line == line_of(BASE, "roof-string: {module")
    wire = plan.wires["charge-run"]
    assert wire.inline[0].device == "charge-fuse"
    assert wire.inline[0].distance is not None
    assert wire.inline[0].distance.value == pytest.approx(0.1)


MISTAKES = [
    # (old, new, line holds, message, instead)
    ("setting: vehicle", "setting: vehicel", "vehicel", "none of vehicle", "`vehicle`"),
    ("setting: vehicle\n", "", "wattproof", "has no `setting`", "one of vehicle, boat"),
    ("wattproof: 1\n", "", "setting", "which plan format", "wattproof: 1"),
    ("wattproof: 1", "wattproof: 2", "wattproof", "format 2", "newer version"),
    ("wattproof: 1", "wattproof: one", "wattproof", "no plan format", "write `wattproof: 1`"),
    ("code: nec-2023", "code: nec", "code", "none of", "nec-2023"),
    ("code: nec-2023", "code: NEC", "code", "none of", "`nec-2023`"),
    ("mounting: roof-gap", "mounting: bonded", "roof-string", "none of", "write `roof-bonded`"),
    (
        "mounting: roof-gap",
        "mounting: roof-gap, fixing: glued",
        "roof-string",
        "none of",
        "write `bonded`",
    ),
    (
        "mounting: roof-gap",
        "mounting: roof-gap, fixing: glued and screwed",
        "roof-string",
        "none of",
        "write `bolted-and-bonded`",
    ),
    ("coldest: -18 °C", "coldest: -18 to -20 °C", "coldest", "two values", "`-18 °C` or `-20 °C`"),
    ("coldest: -18 °C", "coldest: minus 18 °C", "coldest", "sign in letters", "`-18 °C`"),
    ("size: 10 AWG", "size: 10 AWG (6 mm²)", "pv-10: {", "two values", "`10 AWG` or `6 mm²`"),
    ("distance: 10 cm", "distance: 10", "distance", "no unit", "`10 cm`"),
    ("code: nec-2023", "code: NEC 2020", "code", "none of", "`nec-2023`"),
    ("code: nec-2023", "code: ABYC", "code", "none of", "`abyc-e11`"),
    ("code: nec-2023", "code: AS/NZS 3001", "code", "none of", "`as-nzs-3001`"),
    ("code: nec-2023", "code: VDE", "code", "none of", "`iec`"),
    ("voc: 24.3 V", "voc: “24.3 V”", "voc", "quotes that YAML does not know", "`24.3 V`"),
    ("to: house,", "to: house.plus,", "charge-run: {", "no terminal `plus`", "`house.positive`"),
    ("to: house,", "to: house.minus,", "charge-run: {", "no terminal", "`house.negative`"),
    ("to: house,", "to: house +,", "charge-run: {", "does not name", "`house.positive`"),
    ("to: house,", "to: House,", "charge-run: {", "does not name", "`house`"),
    ("to: tracker.pv", "to: tracker.solar", "home-run: {", "no terminal", "`tracker.pv`, for"),
    ("to: tracker.pv", "to: tracker.pv.neg", "home-run: {", "no terminal", "`tracker.pv.negative`"),
    ("fuses:\n", "fuzes:\n", "fuzes", "no key `fuzes`", "`fuses`"),
    ("voc: 24.3 V", "voc: 24.3", "voc", "has no unit", "24.3 V"),
    ("voc: 24.3 V", "voc: '24,3 V'", "voc", "decimal comma", "24.3 V"),
    ("voc: 24.3 V", "voc: 24.3 A", "voc", "not a voltage", "`… V`"),
    ("cable: pv-10,", "cable: 10-16 mm²,", "home-run: {", "not a name", "`10 mm²` or `16 mm²`"),
    ("max_output_current: 20 A", "outputs: 2", "outputs", "no key", "one output"),
    ("voc: 24.3 V", "voc: [1, 2]", "voc", "a list", "`… V`"),
    ("isc: 5.2 A", "isc: 5.2 A, isd: 3 A", "isd", "no key `isd`", "`isc`"),
    ("size: 10 AWG", "size: 4 mm", "pv-10: {", "outside diameter", "4 mm²"),
    ("chemistry: lithium-iron-phosphate", "chemistry: lead-acid", "lead-", "none of", "label says"),
    ("chemistry: lithium-iron-phosphate", "chemistry: lithium", "lithium", "none of", "LFP"),
    ("setting: vehicle", "setting: motorhome", "motorhome", "none of", "`vehicle`"),
    ("coldest: -18 °C", "coldest: 41 °C", "coldest", "is above `hottest: 40 °C`", "minus sign"),
    ("coldest: -18 °C", "coldest: 250 °C", "coldest", "between −70 °C and 60 °C", "its sign"),
    ("ambient: 35 °C", "ambient: 35 °C, coldest: 50 °C", "cabin: {", "is above `ambient", "minus"),
    ("voc_coefficient: -0.29", "voc_coefficient: -29", "voc_coefficient", "between", "point"),
    (
        "14.6 V}",
        "14.6 V, min_charge_temperature: 60 °C, max_temperature: 0 °C}",
        "14.6 V",
        "is above",
        "sign",
    ),
    ("module: rigid-100", "module: rigid-10", "rigid-10,", "no module", "`rigid-100`"),
    ("cable: pv-10", "cable: pv10", "pv10", "no cable", "`pv-10`"),
    ("place: cabin,", "place: cabins,", "cabins", "no place", "`cabin`"),
    ("cable: pv-10", "cable: tbd", "tbd", "no cable", "write `unknown`"),
    ("place: cabin,", "place: various,", "various", "no place", "write `unknown`"),
    ("to: tracker.pv", "to: tracker.vp", "tracker.vp", "no terminal", "tracker.pv"),
    ("to: tracker.pv", "to: tracker", "to: tracker,", "several terminals", "tracker.pv"),
    ("to: tracker.pv", "to: traker.pv", "traker", "no component", "`tracker.pv`"),
    ("to: house", "to: house.pv", "house.pv", "no terminal", "house"),
    ("series: 3", "series: 0", "roof-string: {", "whole number", "count"),
    ("series: 3", "series: 03", "roof-string: {", "whole number", "3"),
    ("series: 3", "series: 3, arrangement: 2s2p", "roof-string: {", "twice", "keep one"),
    ("series: 3", "arrangement: 2s2s", "2s2s", "not an arrangement", "4s2p"),
    ("series: 3", "arrangement: 3 in series", "3 in", "not an arrangement", "`3s`"),
    ("series: 3", "arrangement: 3 series 2 parallel", "3 ser", "not an arrangement", "`3s2p`"),
    ("series: 3", "series: 3 // all", "// all", "not a whole number", "`3`; a comment"),
    ("series: 3", "arrangement: 900s900p", "900s", "more than", "check"),
    ("kind: mppt", "kind: mpp", "tracker: {", "none of", "`mppt`"),
    ("dc: true", "dc: yes", "charge-fuse: {", "neither", "`true`"),
    ("  house: {", "  tracker: {", "tracker: {chemistry", "stands twice", "own name"),
    ("  house: {", "  House Bank: {", "House Bank", "not a name", "house-bank"),
    ("  house: {", "  chassis: {", "chassis: {", "is kept", "chassis-bar"),
    (
        "{charge-fuse: {from_end: to, distance: 10 cm}}",
        "{charge-fuse: {from_end: at, distance: 10 cm}}",
        "from_end: at",
        "none of from, to",
        "use one of",
    ),
    (
        "{charge-fuse: {from_end: to, distance: 10 cm}}",
        "{charge-fuse: {distance: 10 cm}}",
        "charge-fuse: {distance",
        "counts from an end",
        "from_end",
    ),
    (
        "{charge-fuse: {from_end: to, distance: 10 cm}}",
        "{charge-fuse: 10 cm}",
        "charge-fuse: 10",
        "does not tell the end",
        "from_end: …, distance: 10 cm",
    ),
    (
        "[{charge-fuse: {from_end: to, distance: 10 cm}}]",
        "[tracker]",
        "[tracker]",
        "cannot sit in a wire",
        "end one wire",
    ),
    ("14.6 V}", "14.6 V, shunt: charge-rum}", "charge-rum", "no wire", "`charge-run`"),
    ("length: 4 m", "length: -4 m", "home-run: {", "negative", "4 m"),
]


@pytest.mark.parametrize(("old", "new", "where", "message", "instead"), MISTAKES)
def test_a_mistake_is_one_problem(
    old: str, new: str, where: str, message: str, instead: str
) -> None:
    text = edited((old, new))
    mistaken = [p for p in problems(text) if message in p.message]
    assert len(mistaken) == 1, problems(text)
    assert mistaken[0].place.line == line_of(text, where)
    assert instead in mistaken[0].instead


SLOPPY = [
    ("kind: mppt", "kind: MPPT 100/20", "write `mppt`; what else its name tells"),
    ("setting: vehicle", "setting: Wohnmobil", "write `vehicle`"),
    ("module: rigid-100", "module: {pmax: 100 W}", "labels stand under `datasheets:`"),
    ("module: rigid-100", "module: 3x 100W", "how many there are as `series`"),
    ("cable: pv-10", "cable: 10 mm", "`10 mm²` if that is the area"),
    ("inline: [", "inline: 40A fuse, place: [", "name it in a list"),
]


@pytest.mark.parametrize(("old", "new", "instead"), SLOPPY)
def test_what_beginners_write_is_answered_with_what_to_write(
    old: str, new: str, instead: str
) -> None:
    text = edited().replace(old, new, 1)
    assert text != edited()
    assert any(instead in problem.instead for problem in problems(text)), problems(text)


MEANT = [
    ("series: 3", "series: 3, parallel: 2", "`arrangement: 3s2p` in the place of `series`"),
    ("series: 3", "parallel: 2", "`arrangement: 1s2p`"),
    ("series: 3", "number: 4", "`series: 4` if they are wired one after another"),
    ("14.6 V}", "14.6 V, parallel: 2}", "`arrangement: 2p`"),
    ("14.6 V}", "14.6 V, series: 4}", "`arrangement: 4s`"),
    ("14.6 V}", "14.6 V, voltage: 12 V}", "`nominal`"),
    ("datasheets:\n", "module: {}\ndatasheets:\n", "`datasheets: {modules: {roof-module:"),
    (
        "{chemistry: lithium-iron-phosphate,",
        "{vented_outside: true, chemistry: agm,",
        "told of its place: `site: {places: {locker: {vented: true}}}`",
    ),
    ("datasheets:\n", "modules: {a: {voc: 20 V}}\ndatasheets:\n", "under `datasheets: modules:`"),
    ("datasheets:\n", "panels: [100W]\ndatasheets:\n", "`strings: {roof: {module: roof-module"),
    ("datasheets:\n", "battery: 12v 100ah\ndatasheets:\n", "`batteries: {house: {chemistry: …"),
    ("datasheets:\n", "inverter: 1000w\ndatasheets:\n", "`inverters: {mains: {power: … W}}`"),
    ("datasheets:\n", "dc-dc: 30A\ndatasheets:\n", "{kind: vehicle-charger"),
    ("14.6 V}", "14.6 V, bms: 100 A}", "`max_discharge_current`"),
    ("series: 3", "series: 3, panel: x", "`module`"),
    ("voc: 24.3 V", "voc: 24.3 V, construction: flexible", "`build`"),
    ("datasheets:\n", "cables: {}\ndatasheets:\n", "`datasheets: cables:`"),
    ("datasheets:\n", "coldest: -5 °C\ndatasheets:\n", "`site:`"),
    ("voc: 24.3 V", "voc: 24.3 V, watts: 100 W", "`pmax`"),
    ("size: 10 AWG", "size: 10 AWG, gauge: 10 AWG", "`size`"),
    ("rating: 40 A", "rating: 40 A, amps: 40 A", "`rating`"),
    ("kind: mppt", "kind: mppt, max_pv_voltage: 100 V", "`max_input_voltage`"),
    ("length: 4 m", "length: 4 m, gauge: 10 AWG", "`datasheets: cables:`"),
    ("length: 4 m", "length: 4 m, fuse: charge-fuse", "`inline: [charge-fuse]`"),
    ("length: 4 m", "length: 4 m, fuse: 40 A", "`fuses: {run-fuse: {rating: 40 A}}`"),
    ("length: 4 m", "length: 4 m, breaker: 40", "`breakers: {run-breaker: {rating: 40 A}}`"),
    ("  modules:\n", "  panels:\n", "`modules`"),
    ("capacity: 100 Ah", "ah: 100 Ah", "`capacity`"),
    ("series: 3", "wiring: series", "`series: …` one after another"),
]


@pytest.mark.parametrize(("old", "new", "instead"), MEANT)
def test_a_key_of_another_name_is_understood(old: str, new: str, instead: str) -> None:
    found = [p for p in problems(edited((old, new))) if "has no key" in p.message]
    assert len(found) == 1
    assert instead in found[0].instead


def test_keys_that_stand_beside_their_part_are_told_to_be_below_it() -> None:
    text = edited(
        ("strings:\n", "strings:\n  bare:\n  module: rigid-100\n  series: 2\n"),
    )
    told = [(p.message, p.instead) for p in problems(text)]
    assert ("`bare` has no value", "write a value, or delete it") in told
    beside = "`module` stands beside `bare`, and belongs to it"
    assert (beside, "indent it by two spaces more than `bare`") in told


def test_every_hint_names_a_key_that_there_is() -> None:
    from wattproof.plan import (
        array,
        converting,
        datasheets,
        devices,
        energy,
        power,
        readings,
        root,
        site,
        splitting,
        starting,
        wiring,
    )
    from wattproof.plan.hints import other_words

    homes = (array, converting, datasheets, devices, energy, power, readings, root, site)
    homes += (splitting, starting, wiring)
    for model, words in other_words.RENAMED.items():
        owner = next(getattr(home, model) for home in homes if hasattr(home, model))
        keys = {f.alias or key for key, f in owner.model_fields.items()}
        assert set(words.values()) <= keys, model
        assert not set(words) & keys, model


def test_a_single_device_in_a_wire_is_a_list_of_one() -> None:
    inline = "[{charge-fuse: {from_end: to, distance: 10 cm}}]"
    plan = load_plan("plan.yaml", text=edited((f"inline: {inline}", "inline: charge-fuse")))
    assert [str(each.device) for each in plan.wires["charge-run"].inline] == ["charge-fuse"]
    [problem] = problems(edited((f"inline: {inline}", "inline: charge-fuse and more")))
    assert problem.message == "`inline` of wire `charge-run` is a list, since it may hold several"
    assert problems(edited((f"inline: {inline}", "inline: unknown")))
    [problem] = problems(edited((f"inline: {inline}", "inline: {charge-fuse: {from_end: to}}")))
    assert problem.instead == "write `inline: [{charge-fuse: {from_end: to}}]`"


@pytest.mark.parametrize("key", ["baterries", "battery"])
def test_what_stands_below_a_misspelt_family_is_told_in_the_same_run(key: str) -> None:
    text = edited(("batteries:", f"{key}:"), ("nominal: 12.8 V", "nominal: 12.8 Vh"))
    first, second = problems(text)
    assert (first.message, first.instead) == (f"a plan has no key `{key}`", "write `batteries`")
    assert "`12.8 Vh`" in second.message


def test_what_a_misspelt_key_holds_is_told_in_the_same_run() -> None:
    first, second = problems(edited(("capacity: 100 Ah", "capasity: 100 Ahh")))
    assert first.instead == "write `capacity`"
    assert "`100 Ahh`" in second.message


class TestBankCapacity:
    ONE = "capacity: 100 Ah"

    def bank(self, *capacity: str, layout: str = "arrangement: 2p") -> str:
        return edited((self.ONE, ", ".join(filter(None, (*capacity, layout)))))

    @pytest.mark.parametrize("layout", ["arrangement: 2p", "arrangement: 2s2p", ""])
    def test_that_of_the_bank_is_that_of_one_times_those_in_parallel(self, layout: str) -> None:
        count = 2 if layout else 1
        by_one = study_of(self.bank("capacity: 200 Ah", layout=layout)).battery.banks[0]
        by_all = study_of(
            self.bank(f"bank_capacity: {200 * count} Ah", layout=layout)
        ).battery.banks[0]
        assert by_all.capacity.number == by_one.capacity.number == count * 200 * 3600.0
        assert by_all.capacity_of_one.number == by_one.capacity_of_one.number
        assert str(by_all.battery.capacity) == "200 Ah"

    @pytest.mark.parametrize(
        ("told", "said"),
        [("400 Ah", "both are told"), ("200 Ah", "contradicts `capacity: 200 Ah`")],
    )
    def test_one_of_the_two_is_told(self, told: str, said: str) -> None:
        text = self.bank("capacity: 200 Ah", f"bank_capacity: {told}")
        [problem] = problems(text)
        assert said in problem.message
        assert problem.place.line == line_of(text, "bank_capacity")
        assert problem.instead == "keep one of the two"

    def test_a_remedy_writes_the_key_that_the_plan_tells(self) -> None:
        bank = study_of(self.bank("bank_capacity: 200 Ah")).battery.banks[0]
        assert str(of_capacity(bank, 150, 2)) == "`bank_capacity: 300 Ah` for `house`"
        bank = study_of(self.bank("capacity: 100 Ah")).battery.banks[0]
        assert str(of_capacity(bank, 150, 2)) == "`capacity: 150 Ah` for `house`"


PANEL = """\
wattproof: 1
setting: vehicle
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
fuses: {main: {rating: 60 A}}
distribution: {panel: PANEL}
loads: {fridge: {power: 60 W}, pump: {current: 4 A}}
datasheets: {cables: {two: {size: 1 mm²}, ten: {size: 10 mm²}}}
wires:
  feed: {from: house, to: panel, cable: ten, length: 1 m,
         inline: [{main: {from_end: from, distance: 10 cm}}]}
  fridge-run: {from: panel.cold, to: fridge, cable: two, length: 3 m}
  pump-run: {from: panel, to: pump, cable: two, length: 3 m}
"""


@pytest.mark.parametrize("told", ["unknown", "{ways: unknown}", "{rating: 60 A}"])
def test_a_panel_of_unknown_ways_has_those_that_hang_on_it(told: str) -> None:
    """A load has a fuse of its own there, whether its wire names the way or the panel alone."""
    text = PANEL.replace("PANEL", told)
    plan = load_plan("plan.yaml", text=text)
    assert list(plan.distribution["panel"].ways) == ["cold", "pump-run"]
    result = check_file("plan.yaml", RULES, today=A_DAY, text=text)
    assert not result.problems
    assert not [f for f in result.each if f.level == "error"]
    assert not [f for f in result.each if f.rule == "branch-fuse-missing"]
    asked = {label.subject for q in result.questions for label in q.labels}
    assert {"cold", "pump-run"} <= asked
    for finding in result.each:
        assert "pump-run" not in finding.message or finding.verdict == "certain"


@pytest.mark.parametrize(
    ("ways", "instead"),
    [
        ("ways: {lamps: 5 A}", ["write `lamps: {fuse: 5 A}`"]),
        ("lamps: 5 A", ["its ways stand under `ways`: write `ways: {lamps: {fuse: 5 A}}`"]),
    ],
)
def test_a_way_that_could_not_be_read_is_not_called_missing(ways: str, instead: list[str]) -> None:
    text = edited(
        ("wires:\n", f"distribution:\n  box: {{{ways}}}\nloads:\n  lamp: {{current: 3 A}}\n"
         "wires:\n  feed: {from: house, to: box, cable: batt-8, length: 1 m}\n"
         "  lamp-run: {from: box.lamps, to: lamp, cable: batt-8, length: 1 m}\n"),
    )  # fmt: skip
    assert [p.instead for p in problems(text)] == instead


def test_a_second_value_behind_a_comma_is_shown_in_brackets() -> None:
    [problem] = problems(edited(("place: cabin,\n", "place: cabin, roof,\n")))
    assert problem.message == "`roof` stands behind a comma and has no value"
    assert problem.instead == "write `roof: …`; or `place: [cabin, roof]`, if that has both"


def test_ways_that_are_told_are_all_there_are() -> None:
    text = PANEL.replace("PANEL", "{ways: {cold: {fuse: 15 A}}}").replace("panel.cold", "panel.ice")
    [problem] = problems(text)
    assert problem.message == "`panel` has no terminal `ice`"


@pytest.mark.parametrize("family", ["readings", "wires", "strings", "loads", "shade"])
def test_a_list_where_names_belong_is_shown_the_form(family: str) -> None:
    found = problems(f"wattproof: 1\nsetting: boat\n{family}:\n  - {{x: 1}}\n")
    [problem] = [p for p in found if "under a name of its own" in p.message]
    assert problem.place.line == 4
    assert problem.instead.startswith(f"give each a name: `{family}: {{")
    assert not re.search("[0-9]", problem.instead)


def test_a_value_where_keys_belong_is_shown_the_form() -> None:
    [problem] = problems("wattproof: 1\nsetting: boat\nfuses:\n  main: 40 A\n")
    assert problem.message == "fuse `main` is `40 A`, and its values belong under keys"
    assert problem.instead == "write `main: {rating: 40 A}`"
    [problem] = problems("wattproof: 1\nsetting: boat\nfuses:\n  main: big\n")
    assert problem.instead == "write `main: {rating: … A}`"


class TestDecimalCommas:
    @pytest.mark.parametrize(
        ("old", "new", "instead"),
        [
            ("voc: 24.3 V", "voc: 24,3 V", "`24.3 V`"),
            ("length: 4 m", "length: 4,5 m", "`4.5 m`"),
            ("rating: 40 A", "rating: 1,500 A", "`1500 A` if the comma marks thousands"),
            ("voc_coefficient: -0.29 %/°C", "voc_coefficient: -0,29 %/°C", "`-0.29 %/°C`"),
        ],
    )
    def test_between_braces(self, old: str, new: str, instead: str) -> None:
        text = edited((old, new))
        [problem] = problems(text)
        assert "decimal comma" in problem.message
        assert instead in problem.instead
        assert problem.place.line == line_of(text, new)

    def test_it_hides_nothing_else(self) -> None:
        text = edited(("voc: 24.3 V", "voc: 24,3 V"), ("kind: mppt", "kind: mpp"))
        assert [p.place.line for p in problems(text)] == [
            line_of(text, "24,3 V"),
            line_of(text, "kind: mpp"),
        ]


def test_problems_of_the_text_and_of_the_plan_come_in_one_run() -> None:
    text = edited(
        ("wattproof: 1\n", ""),
        ("coldest: -18 °C", "coldest: -18 °C\n  coldest: -20 °C"),
        ("setting: vehicle", "setting: vehicle\ntitle:"),
        ("kind: mppt", "kind: mpp"),
        ("cable: pv-10", "cable: pv-11"),
    )
    words = [p.message for p in problems(text)]
    for part in ("which plan format", "stands twice", "has no value", "`mpp`", "no cable `pv-11`"):
        assert sum(part in each for each in words) == 1, (part, words)
    assert len(words) == 5


def test_all_mistakes_of_a_file_come_in_one_run() -> None:
    text = edited(
        ("coldest: -18 °C", "coldest: -18"),
        ("voc: 24.3 V", "voc: 24.3 A"),
        ("kind: mppt", "kind: mpp"),
        ("cable: pv-10", "cable: pv-11"),
        ("to: house", "to: hause"),
    )
    assert [p.place.line for p in problems(text)] == [
        line_of(text, "coldest"),
        line_of(text, "voc:"),
        line_of(text, "kind: mpp"),
        line_of(text, "pv-11"),
        line_of(text, "hause"),
    ]


def test_a_component_that_could_not_be_read_is_not_called_missing() -> None:
    text = edited(("voc: 24.3 V", "voc: 24.3"))
    assert len(problems(text)) == 1


def test_a_device_sits_in_one_place() -> None:
    text = edited(
        (
            "place: [roof, cabin]}",
            "place: [roof, cabin], inline: [charge-fuse]}",
        )
    )
    [problem] = problems(text)
    assert "already sits in wire `home-run`" in problem.message


def test_a_switch_of_two_poles_is_named_in_one_of_the_wires_of_its_poles() -> None:
    home = next(line for line in BASE.splitlines() if line.startswith("  home-run:"))
    pole = home.replace("from: roof-string,", "from: roof-string.POLE,").replace(
        ".pv,", ".pv.POLE,"
    )
    drawn = "\n".join(
        line.replace("home-run", name).replace("POLE", name).replace("}", ", inline: [pv-off]}")
        for line, name in ((pole, "positive"), (pole, "negative"))
    )
    off = "switches:\n  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2}\nwires:\n"
    twice = edited(("wires:\n", off), (home, drawn))
    [problem] = problems(twice)
    assert problem.instead.startswith(
        "take it out of `negative`: by its `poles` it opens the other"
    )
    [problem] = problems(twice.replace("poles: 2", "poles: 1"))
    assert problem.instead == "declare a device for each place"


def test_a_load_gives_current_or_power() -> None:
    text = edited(("wires:\n", "loads:\n  lamp: {current: 1 A, power: 12 W}\nwires:\n"))
    assert "current or its power" in problems(text)[0].message


def test_numbers_of_components_are_bounded() -> None:
    strings = "".join(f"  s{i}: {{module: rigid-100}}\n" for i in range(10_001))
    text = edited(("  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}\n", strings))
    assert any("more than 10,000 components" in p.message for p in problems(text)) or any(
        "50,000" in p.message for p in problems(text)
    )


class TestPartsFiles:
    PARTS = """\
wattproof: 1
datasheets:
  modules:
    from-parts: {voc: 20 V, vmp: 16 V, isc: 5 A, imp: 4.5 A}
"""

    def plan(self, tmp_path: Path, part: str) -> str:
        text = edited(("site:\n", f"parts: {part}\nsite:\n"))
        path = tmp_path / "plan.yaml"
        path.write_text(text, encoding="utf-8")
        return str(path)

    def test_datasheets_come_from_a_file_beside_the_plan(self, tmp_path: Path) -> None:
        (tmp_path / "labels.yaml").write_text(self.PARTS, encoding="utf-8")
        plan = load_plan(self.plan(tmp_path, "labels.yaml"))
        sheet = plan.datasheets.modules["from-parts"]
        assert sheet.at.file.endswith("labels.yaml")

    def test_a_name_in_both_is_a_problem(self, tmp_path: Path) -> None:
        text = self.PARTS.replace("from-parts", "rigid-100")
        (tmp_path / "labels.yaml").write_text(text, encoding="utf-8")
        with pytest.raises(PlanUnusable, match="is also at"):
            load_plan(self.plan(tmp_path, "labels.yaml"))

    @pytest.mark.parametrize("part", ["../outside.yaml", "a/../../outside.yaml", "/etc/passwd"])
    def test_parts_do_not_leave_the_tree(self, tmp_path: Path, part: str) -> None:
        folder = tmp_path / "inner"
        folder.mkdir()
        (tmp_path / "outside.yaml").write_text(self.PARTS, encoding="utf-8")
        with pytest.raises(PlanUnusable, match="outside the folder tree"):
            load_plan(self.plan(folder, part))

    def test_a_link_does_not_lead_out_of_the_tree(self, tmp_path: Path) -> None:
        folder = tmp_path / "inner"
        folder.mkdir()
        (tmp_path / "outside.yaml").write_text(self.PARTS, encoding="utf-8")
        (folder / "link.yaml").symlink_to(tmp_path / "outside.yaml")
        with pytest.raises(PlanUnusable, match="outside the folder tree"):
            load_plan(self.plan(folder, "link.yaml"))

    def test_within_a_repository_parts_may_be_shared(self, tmp_path: Path) -> None:
        (tmp_path / ".git").mkdir()
        (tmp_path / "labels.yaml").write_text(self.PARTS, encoding="utf-8")
        folder = tmp_path / "plans"
        folder.mkdir()
        plan = load_plan(self.plan(folder, "../labels.yaml"))
        assert "from-parts" in plan.datasheets.modules

    def test_mistakes_in_a_parts_file_stand_at_their_place_there(self, tmp_path: Path) -> None:
        text = self.PARTS.replace("voc: 20 V", "voc: 20")
        (tmp_path / "labels.yaml").write_text(text, encoding="utf-8")
        with pytest.raises(PlanUnusable) as caught:
            load_plan(self.plan(tmp_path, "labels.yaml"))
        [problem] = caught.value.problems
        assert problem.place.file.endswith("labels.yaml")
        assert problem.place.line == 4

    def test_a_missing_parts_file(self, tmp_path: Path) -> None:
        with pytest.raises(PlanUnusable, match="cannot be read"):
            load_plan(self.plan(tmp_path, "none.yaml"))


WORDS = st.sampled_from(
    ["1", "3 V", "-2 m", "true", "{}", "[]", "[a, b]", "{a: 1}", "x y", "10 AWG", "4s2p", "''", "~"]
)


@settings(max_examples=a_quarter_of(150), deadline=None)
@given(st.data())
def test_any_value_at_any_key_gives_a_plan_or_problems(data: st.DataObject) -> None:
    """Replace any one value of the base plan by something else: never anything but problems."""
    lines = BASE.split("\n")
    number = data.draw(st.integers(0, len(lines) - 1))
    line = lines[number]
    if ": " in line:
        key, _, _ = line.partition(": ")
        lines[number] = f"{key}: {data.draw(WORDS)}"
    try:
        load_plan("plan.yaml", text="\n".join(lines))
    except PlanUnusable as unusable:
        assert unusable.problems
        assert all(p.message for p in unusable.problems)


def test_nothing_ends_at_a_device_that_sits_in_a_wire() -> None:
    lamp = "loads:\n  lamp: {current: 5 A}\nwires:\n"
    run = "  lamp-run: {from: charge-fuse.load, to: lamp, cable: pv-10, length: 1 m}\n"
    with pytest.raises(PlanUnusable) as refused:
        load_plan("plan.yaml", text=edited(("wires:\n", lamp + run)))
    [problem] = refused.value.problems
    assert (
        problem.message == "`charge-fuse` sits in wire `charge-run`, so nothing else can end at it"
    )
    assert "branch off at a busbar" in problem.instead


@pytest.mark.parametrize(
    ("entry", "key", "near"),
    [
        (
            "accepted:\n  - {rule: voltage-drop-high, where: home-run, reasn: winter}\n",
            "reasn",
            "reason",
        ),
        (
            "shade:\n  mast: {shadows: [{string: roof-string, light: 20 %, grups: 1}]}\n",
            "grups",
            "groups",
        ),
    ],
)
def test_unknown_keys_in_entries_of_lists(entry: str, key: str, near: str) -> None:
    [problem] = problems(edited(("wires:\n", f"{entry}wires:\n")))
    assert f"has no key `{key}`" in problem.message
    assert problem.instead == f"write `{near}`"


@pytest.mark.parametrize(
    ("shadow", "message"),
    [
        ("module: 4, light: 20 %", "`roof-string` has no module 4: there are 3"),
        ("module: 1, groups: 3, light: 20 %", "no module of `roof-string` has 3 groups of cells"),
        ("light: 120 %", "a shadow leaves no more than all of the light"),
    ],
)
def test_shadows_on_what_is_not_there(shadow: str, message: str) -> None:
    plan = edited(
        ("wires:\n", f"shade:\n  mast: {{shadows: [{{string: roof-string, {shadow}}}]}}\nwires:\n"),
        ("max_system_voltage: 600 V", "max_system_voltage: 600 V, bypass_diodes: 2"),
    )
    [problem] = problems(plan)
    assert message in problem.message


class TestValuesThatNobodyKnows:
    """`unknown` is the same as leaving the key out, but said."""

    @pytest.mark.parametrize(
        ("old", "new", "name", "key"),
        [
            ("voc: 24.3 V", "voc: unknown", "rigid-100", "voc"),
            ("imp: 4.9 A, pmax: 100 W,", "imp: unknown,", "rigid-100", "imp"),
            ("max_series_fuse: 15 A", "connector: unknown", "rigid-100", "connector"),
            ("size: 10 AWG", "size: unknown", "pv-10", "size"),
            ("material: copper", "material: unknown", "batt-8", "material"),
            ("module: rigid-100", "module: unknown", "roof-string", "module"),
            ("series: 3", "arrangement: unknown", "roof-string", "arrangement"),
            ("mounting: roof-gap", "mounting: unknown", "roof-string", "mounting"),
            ("rating: 40 A", "rating: unknown", "charge-fuse", "rating"),
            ("dc: true", "dc: unknown", "charge-fuse", "dc"),
            (
                "max_input_voltage: 100 V",
                "max_input_voltage: unknown",
                "tracker",
                "max_input_voltage",
            ),
            ("nominal: 12.8 V", "nominal: unknown", "house", "nominal"),
            ("length: 4 m", "length: unknown", "home-run", "length"),
            ("cable: pv-10", "cable: unknown", "home-run", "cable"),
            ("place: cabin,", "place: unknown,", "charge-run", "place"),
            ("place: [roof, cabin]", "place: [roof, unknown]", "home-run", "place"),
            ("ambient: 65 °C", "ambient: unknown", "roof", "ambient"),
            ("coldest: -18 °C", "coldest: unknown", "", "coldest"),
            (
                "from_end: to, distance: 10 cm",
                "from_end: to, distance: unknown",
                "charge-run",
                "inline.charge-fuse.distance",
            ),
        ],
    )
    def test_are_read_and_known_by_their_place(
        self, old: str, new: str, name: str, key: str
    ) -> None:
        text = edited((old, new))
        plan = load_plan("plan.yaml", text=text)
        place = unknown_at(plan, name, key)
        assert place is not None
        assert text.split("\n")[place.line - 1][place.column - 1 :].startswith("unknown")
        assert len(list(plan.unknowns())) == 1

    def test_a_component_may_hold_nothing_else(self) -> None:
        whole = "{rating: 40 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}"
        plan = load_plan(
            "plan.yaml", text=edited((f"charge-fuse: {whole}", "charge-fuse: unknown"))
        )
        assert unknown_at(plan, "charge-fuse", "") is not None
        empty = load_plan("plan.yaml", text=edited((f"charge-fuse: {whole}", "charge-fuse: {}")))
        fuses = [read.fuses["charge-fuse"] for read in (plan, empty)]
        assert {key: getattr(fuses[0], key) for key in ("rating", "style", "dc")} == {
            key: getattr(fuses[1], key) for key in ("rating", "style", "dc")
        }

    def test_some_modules_of_a_string(self) -> None:
        text = edited(("module: rigid-100, series: 3", "modules: [rigid-100, unknown]"))
        plan = load_plan("plan.yaml", text=text)
        assert plan.strings["roof-string"].modules == ("rigid-100", "unknown")
        assert unknown_at(plan, "roof-string", "modules") is not None

    def test_a_section_of_which_nothing_is_known_is_as_one_left_out(self) -> None:
        for section in ("energy", "site"):
            told = load_plan("plan.yaml", text=BARE + f"{section}: unknown\n")
            assert getattr(told, section) == getattr(load_plan("plan.yaml", text=BARE), section)
        [*_, last] = problems(BASE[: BASE.index("datasheets:")] + "datasheets: unknown\n" + TAIL)
        assert "there is no cable" in last.message or "there is no module" in last.message

    def test_what_is_called_unknown_stays_a_name(self) -> None:
        """Plans that were written before the word meant anything keep their meaning."""
        text = edited(("pv-10: {size", "unknown: {size"), ("cable: pv-10", "cable: unknown"))
        plan = load_plan("plan.yaml", text=text)
        assert plan.wires["home-run"].cable == "unknown"
        assert not list(plan.unknowns())
        text = edited(
            ("    cabin: {ambient", "    unknown: {ambient"),
            ("[roof, cabin]", "[roof, unknown]"),
            ("place: cabin,", "place: unknown,"),
        )
        plan = load_plan("plan.yaml", text=text)
        assert plan.wires["home-run"].place == ("roof", "unknown")
        assert plan.wires["charge-run"].place == ("unknown",)
        assert not list(plan.unknowns())

    @pytest.mark.parametrize(
        ("old", "new", "message", "instead"),
        [
            ("setting: vehicle", "setting: unknown", "none of vehicle", "boat"),
            ("length: 4 m", "length: 4 m, pole: unknown", "none of positive", "positive"),
            ("from: roof-string", "from: unknown", "no component `unknown`", "declare"),
            (
                "wires:\n",
                "loads: unknown\nwires:\n",
                "is not told by `unknown`",
                "told: {loads: part}",
            ),
        ],
    )
    def test_what_must_be_told(self, old: str, new: str, message: str, instead: str) -> None:
        [problem] = problems(edited((old, new)))
        assert message in problem.message
        assert instead in problem.instead


class TestPlansThatTellAPart:
    def test_all_of_it_unless_said(self) -> None:
        told = load_plan("plan.yaml", text=BASE).told
        assert not told.partly
        assert told.place is None

    def test_of_everything(self) -> None:
        told = load_plan("plan.yaml", text=edited(("code: nec-2023", "told: part"))).told
        assert told.is_part("fuses")
        assert told.is_part("wires")
        assert told.place is not None

    def test_of_some_families(self) -> None:
        text = edited(("code: nec-2023", "told: {fuses: part, switches: part, wires: whole}"))
        told = load_plan("plan.yaml", text=text).told
        assert told.partly == {"fuses", "switches"}

    def test_every_family_is_one_of_the_plan(self) -> None:
        from wattproof.plan import references, told

        assert set(told.FAMILIES) == set(references.FAMILIES) - {"readings"}

    @pytest.mark.parametrize(
        ("told", "message", "instead"),
        [
            ("some", "neither `part` nor `whole`", "told: part"),
            ("{fuzes: part}", "no family `fuzes`", "`fuses`"),
            ("{fuses: 3}", "neither", "told: part"),
            ("[fuses]", "does not say", "told: {fuses: part}"),
        ],
    )
    def test_mistakes(self, told: str, message: str, instead: str) -> None:
        [problem] = problems(edited(("code: nec-2023", f"told: {told}")))
        assert message in problem.message
        assert instead in problem.instead


@pytest.mark.parametrize("entry", ["{}", "[]", "{distance: 1 cm}", "{from_end: to}"])
def test_an_entry_of_a_wire_without_a_device_is_told_at_its_line(entry: str) -> None:
    """Found by inputs changed at random: it ended the check as a fault of the program."""
    sound = (Path(__file__).parents[1] / "cli" / "plans" / "sound.yaml").read_text("utf-8")
    text = re.sub(r"inline: \[pv-off\]", f"inline: [{entry}]", sound)
    assert text != sound
    with pytest.raises(PlanUnusable) as raised:
        load_plan("plan.yaml", text=text)
    assert all(problem.place.line > 1 for problem in raised.value.problems)
    assert all(problem.instead for problem in raised.value.problems)


def test_a_terminal_that_is_not_named_is_named_by_what_is_at_the_other_end() -> None:
    text = edited(("tracker.pv,", "tracker,"), ("from: tracker.battery", "from: tracker"))
    told = [(p.message, p.instead) for p in problems(text)]
    assert [message for message, _ in told] == ["`tracker` has several terminals"] * 2
    assert {instead.split(",")[0] for _, instead in told} == {
        "write `tracker.pv`",
        "write `tracker.battery`",
    }


@pytest.mark.parametrize(
    ("written", "instead"),
    [
        ("from: starter, to: charger.input", "write `charger.alternator`, for `starter`"),
        ("from: charger.vehicle, to: starter", "write `charger.alternator`, for `starter`"),
        ("from: charger.output, to: starter", "write `charger.battery`, for `starter`"),
        ("from: charger, to: starter", "write `charger.battery`, for `starter`"),
        (
            "from: starter, to: charger",
            "write `charger.alternator` where `starter` feeds it, `charger.battery` where it "
            "charges that",
        ),
    ],
)
@pytest.mark.parametrize("kind", ["vehicle-charger", "nonsense"])
def test_the_sides_of_a_vehicle_charger_are_not_taken_for_each_other(
    written: str, instead: str, kind: str
) -> None:
    text = edited(
        ("batteries:\n", "batteries:\n  starter: {chemistry: agm, nominal: 12 V}\n"),
        (
            "controllers:\n",
            f"controllers:\n  charger: {{kind: {kind}, max_output_current: 30 A}}\n",
        ),
        ("wires:\n", f"wires:\n  engine: {{{written}, cable: batt-8, length: 3 m}}\n"),
    )
    assert instead in [p.instead for p in problems(text) if "terminal" in p.message]


def test_the_pole_that_was_written_stays_and_devices_on_the_way_are_looked_through() -> None:
    text = edited(
        ("from: tracker.battery, to: house", "from: tracker.negative, to: house.negative"),
        ("to: tracker.pv,", "to: pv-off,"),
        ("fuses:\n", "switches:\n  pv-off: {rating: 30 A}\nfuses:\n"),
        ("wires:\n", "wires:\n  rest: {from: pv-off, to: tracker, cable: pv-10, length: 1 m}\n"),
    )
    assert [p.instead for p in problems(text)] == [
        "write `tracker.pv`, for `roof-string`",
        "write `tracker.battery.negative`, for `house`",
    ]


@pytest.mark.parametrize(("sign", "word"), [("+", "positive"), ("-", "negative")])
def test_a_name_with_a_sign_is_answered_with_its_pole(sign: str, word: str) -> None:
    (problem,) = problems(edited(("home-run:", f"home{sign}:")))
    assert problem.instead == f"write `home-{word}`"


@pytest.mark.parametrize(
    ("more", "message", "instead"),
    [
        ("datasheets: {modules: {a: {connector: mc4}}}", "`connector` is `mc4`", "{style: …"),
        ("site: cold", "`site` is `cold`", "site: {coldest: … °C"),
        ("accepted: all", "`accepted` is `all`", "[{rule: …"),
        ("accepted: [all]", "`accepted` is `all`", "[{rule: …"),
        (
            "inverter_chargers: {combi: {max_pv_voltage: 450 V}}",
            "no key `max_pv_voltage`",
            "a controller of its own",
        ),
    ],
)
def test_the_form_is_shown_where_another_is_written(more: str, message: str, instead: str) -> None:
    [problem] = [p for p in problems(f"{BARE}{more}\n") if message in p.message]
    assert instead in problem.instead


def test_modules_of_which_nobody_knows_more_than_that_they_are_there() -> None:
    """The word for what nobody knows stands for a whole string as well."""
    known = PANEL.replace("PANEL", "unknown") + (
        "  sun-run: {from: roof, to: tracker.pv}\n"
        "  charge-run: {from: tracker.battery, to: house}\n"
        "strings: {roof: unknown}\ncontrollers: {tracker: unknown}\n"
    )
    result = check_file("plan.yaml", RULES, today=A_DAY, text=known)
    assert not result.problems
    assert problems(known.replace("roof: unknown", "roof: {}"))


def test_a_charger_on_the_way_of_a_panel_is_answered_with_its_terminals() -> None:
    """Also where its kind could not be read, so that nothing else tells that it has two sides."""
    text = PANEL.replace("PANEL", "unknown") + (
        "  in-run: {from: panel.booster, to: booster.input}\n"
        "  out-run: {from: booster.output, to: house}\n"
        "controllers: {booster: {kind: dc-dc charger}}\n"
    )
    answers = [
        "write `booster.alternator`, for `panel`",
        "write `booster.battery`, for `house`",
        "write `vehicle-charger`",
    ]
    assert [problem.instead for problem in problems(text)] == answers
    told = text.replace("booster.input", "booster.alternator").replace(".output", ".battery")
    untold = told.replace("{kind: dc-dc charger}", "unknown")
    [answer] = problems(untold)
    assert answer.instead == "write `kind: vehicle-charger` for `booster`, which then has it"


@pytest.mark.parametrize(
    ("word", "plug"),
    [("SAE", "flat-two-pin"), ("cigarette lighter", "cigar"), ("7-way", "trailer-7"),
     ("13-pin", "trailer-13")],
)  # fmt: skip
def test_words_for_small_plugs(word: str, plug: str) -> None:
    text = PANEL.replace("PANEL", "unknown")
    told = text.replace("to: fridge, cable: two", f"to: fridge, plug: {word}, cable: two")
    assert [problem.instead for problem in problems(told)] == [f"write `{plug}`"]
