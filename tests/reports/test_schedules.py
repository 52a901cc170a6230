"""Schedules: nothing missing and nothing twice, sums that add up, and outputs that are safe."""

from __future__ import annotations

import csv
import io
import math
import os
import re
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from plans import BASE, array_plan, data_of, edited
from reports.report_rules import GOLDEN
from reports.schedule_plans import EXAMPLES, FULL, HOSTILE, ROOT, rows, study_of, tables
from wattproof.loading import load_study
from wattproof.reports.schedules import csv as schedule_csv
from wattproof.reports.schedules import markdown as schedule_markdown
from wattproof.reports.schedules.csv import harmless
from wattproof.reports.schedules.formats import FORMATS, writer_of
from wattproof.reports.schedules.listing import Listing
from wattproof.reports.schedules.tables import _protection, tables_of
from wattproof.reports.writing.columns import WIDTH, width
from wattproof.reports.writing.tables import Table
from wattproof.views.schedules import schedules_of

VAN = ROOT / "examples" / "van-six-modules.yaml"
EVERY = pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
METRES = {"m": 1.0, "cm": 0.01, "ft": 0.3048}  # the international foot of 1959
FAMILIES = {
    "modules": ("strings",),
    "joints": ("combiners",),
    "controllers": ("controllers",),
    "batteries": ("batteries",),
    "chargers": ("chargers",),
    "inverters": ("inverters",),
    "loads": ("loads",),
    "busbars": ("busbars",),
    "panels": ("distribution",),
    "breakers": ("breakers",),
    "switches": ("switches",),
    "bonds": ("bonds",),
    "arresters": ("arresters",),
}


def listed(found: Sequence[Table]) -> Listing:
    return Listing("plan.yaml", "A plan", "nec-2023", "A code (2023)", found)


def rendered(plan: str | Path) -> dict[str, str]:
    listing = listed(tuple(tables(plan).values()))
    endings = {"text": "txt", "csv": "csv", "markdown": "md"}
    return {endings[word]: writer_of(word)(listing) for word in FORMATS}


def metres(text: str) -> float:
    number, unit = text.split()
    return float(number) * METRES[unit]


def parts(plan: str | Path, group: str) -> list[dict[str, str]]:
    return [row for row in rows(tables(plan)["parts"]) if row["group"] == group]


def row_of(plan: str | Path, key: str, name: str) -> dict[str, str]:
    [row] = [row for row in rows(tables(plan)[key]) if row["name"] == name]
    return row


@pytest.mark.parametrize("ending", ["txt", "csv", "md"])
def test_output_is_as_kept(ending: str) -> None:
    made = rendered(VAN)[ending]
    path = GOLDEN / f"schedule.{ending}"
    if os.environ.get("UPDATE_GOLDEN"):
        path.write_text(made, encoding="utf-8", newline="")
    assert made == path.read_bytes().decode()


class TestWhole:
    @EVERY
    def test_every_conductor_once(self, path: Path) -> None:
        plan = data_of(path)
        found = [row["name"] for row in rows(tables(path)["conductors"])]
        assert found == [*plan["wires"], *plan.get("bonds", {})]

    @EVERY
    def test_every_device_once(self, path: Path) -> None:
        plan = data_of(path)
        panels = plan.get("distribution", {}).items()
        ways = [f"{name}.{way}" for name, panel in panels for way in panel["ways"]]
        single = [n for family in ("fuses", "breakers", "switches") for n in plan.get(family, {})]
        found = [row["name"] for row in rows(tables(path)["devices"])]
        assert sorted(found) == sorted([*single, *ways])
        counted = [row for row in rows(tables(path)["parts"]) if row["group"] == "fuses"]
        packs = [b for b in plan.get("batteries", {}).values() if "each_pack" in b]
        more = sum(int(b["arrangement"].rstrip("p")) - 1 for b in packs)
        fuses = len(plan.get("fuses", {})) + len(ways) + more
        assert sum(int(row["amount"]) for row in counted) == fuses

    @EVERY
    def test_every_component_once_in_the_parts_of_its_family(self, path: Path) -> None:
        plan = data_of(path)
        listed = rows(tables(path)["parts"])
        for group, families in FAMILIES.items():
            own = [row["for"].split(", ") for row in listed if row["group"] == group]
            declared = [name for family in families for name in plan.get(family, {})]
            assert sorted(name for names in own for name in names) == sorted(declared), group

    @EVERY
    def test_every_component_and_each_end_has_a_label(self, path: Path) -> None:
        plan = data_of(path)
        labels = Counter(row["component"] for row in rows(tables(path)["labels"]))
        for family in ("controllers", "batteries", "busbars", "inverters", "combiners", "fuses"):
            assert all(labels[name] == 1 for name in plan.get(family, {})), family
        for name, wire in plan["wires"].items():
            both = not any(str(wire[end]).endswith("tive") for end in ("from", "to"))
            both = both and "pole" not in wire
            ends = 4 if both else 2
            devices = [next(iter(i)) if isinstance(i, dict) else i for i in wire.get("inline", ())]
            for device in devices:
                families = (plan.get(f, {}) for f in ("switches", "breakers"))
                declared = next((f[device] for f in families if device in f), {})
                ends += 4 if both and declared.get("poles", 1) == 2 else 2
            assert labels[name] == ends, name

    @EVERY
    def test_no_cell_is_empty(self, path: Path) -> None:
        for table in tables(path).values():
            assert all(c.text.strip() for row in table.rows for c in row.cells), table.key

    def test_rows_name_the_component_that_a_link_leads_to(self) -> None:
        found = tables(VAN)
        assert [row.component for row in found["devices"].rows][-2:] == [
            "panel.lights",
            "pack-fuse",
        ]
        by_parts = {rows(found["parts"])[k]["for"]: r for k, r in enumerate(found["parts"].rows)}
        assert by_parts["tracker"].component == "tracker"
        assert by_parts["port, starboard"].component == ""

    def test_numbers_sort_before_words(self) -> None:
        cells = [row.cells[13] for row in tables(FULL)["conductors"].rows]
        ordered = sorted(cells, key=lambda cell: cell.sort_key)
        assert [c.number for c in ordered[:3]] == [0.4, 1.0, 1.0]
        assert ordered[-1].text == "not stated"


class TestSums:
    @EVERY
    def test_cable_is_what_the_plan_declares_rounded_up(self, path: Path) -> None:
        plan = data_of(path)
        needed: dict[str, float] = {}
        for wire in plan["wires"].values():
            single = "pole" in wire or any(str(wire[e]).endswith("tive") for e in ("from", "to"))
            whole = metres(wire["length"]) * (1 if single else 2) * wire.get("parallel", 1)
            needed[wire["cable"]] = needed.get(wire["cable"], 0.0) + whole
        found = {row["part"].split(",")[0]: int(row["amount"]) for row in parts(path, "cable")}
        assert found == {name: math.ceil(round(whole, 6)) for name, whole in needed.items()}

    @EVERY
    def test_ends_are_two_for_each_stretch(self, path: Path) -> None:
        study = study_of(path)
        stretches = sum(w.parallel * len(w.conductors) for w in study.wiring.wires.values())
        ends = sum(int(row["amount"]) for row in parts(path, "terminal ends"))
        plugged = 0
        for row in parts(path, "connectors"):
            positive, negative = map(int, re.findall(r"\d+", row["note"]))
            assert int(row["amount"]) == max(positive, negative)
            plugged += positive + negative
        assert ends + plugged == 2 * (stretches + len(study.plan.bonds))

    @EVERY
    def test_modules_are_those_of_the_strings(self, path: Path) -> None:
        def count(string: dict[str, Any]) -> int:
            numbers = re.findall(r"\d+", str(string.get("arrangement", string.get("series", 1))))
            return len(string["modules"]) if "modules" in string else math.prod(map(int, numbers))

        whole = sum(count(s) for s in data_of(path).get("strings", {}).values())
        assert sum(int(row["amount"]) for row in parts(path, "modules")) == whole

    @pytest.mark.parametrize(
        ("arrangement", "count", "leads"),
        [("2p", 2, 2), ("3s", 3, 1), ("4s2p", 8, 2), ("4p2s", 8, 4), ("1s", 1, 1)],
    )
    def test_short_forms_of_strings(self, arrangement: str, count: int, leads: int) -> None:
        plan = array_plan(
            f"  short: {{module: rigid-100, arrangement: {arrangement}}}\n",
            "  home-run: {from: short, to: tracker.pv, cable: pv-10, length: 4 m}\n",
        )
        [row] = parts(plan, "modules")
        assert int(row["amount"]) == count
        assert arrangement in row["note"]
        pieces = [r["pieces"] for r in rows(tables(plan)["labels"]) if r["component"] == "short"]
        assert pieces == [str(leads), str(leads)]

    @pytest.mark.parametrize(
        ("arrangement", "count"), [("2p", 2), ("4s", 4), ("4s2p", 8), ("4p2s", 8)]
    )
    def test_short_forms_of_banks(self, arrangement: str, count: int) -> None:
        plan = edited(("capacity: 100 Ah", f"capacity: 100 Ah, arrangement: {arrangement}"))
        [row] = parts(plan, "batteries")
        assert int(row["amount"]) == count
        assert row["note"] == f"{arrangement}: the links between them are not in the plan"

    @pytest.mark.parametrize(
        ("length", "whole"),
        [("2 m", "4"), ("2.01 m", "5"), ("0.1 m", "1"), ("82.0209973753 ft", "50")],
    )
    def test_lengths_are_rounded_up_to_whole_metres(self, length: str, whole: str) -> None:
        plan = edited(("length: 4 m", f"length: {length}"))
        [row] = [r for r in parts(plan, "cable") if r["part"].startswith("pv-10")]
        assert row["amount"] == whole

    def test_a_sum_that_is_whole_but_for_the_last_bit_is_not_rounded_up_further(self) -> None:
        lengths = [1.1, 2.2, 0.2]  # 2.2 + 4.4 + 0.4 is 7.000000000000001 in floats
        assert 2 * lengths[0] + 2 * lengths[1] + 2 * lengths[2] > 7
        wires = "".join(
            f"  w{k}: {{from: s{k}, to: joint, cable: pv-10, length: {length} m}}\n"
            for k, length in enumerate(lengths)
        )
        run = "  home-run: {from: joint, to: tracker.pv, cable: batt-8, length: 4 m}\n"
        strings = "".join(f"  s{k}: {{module: rigid-100, series: 3}}\n" for k in range(3))
        plan = array_plan(strings, wires + run, "  joint: {joins: [s0, s1, s2]}\n")
        [row] = [r for r in parts(plan, "cable") if r["part"].startswith("pv-10")]
        assert row["amount"] == "7"

    def test_alike_devices_are_counted_together_however_they_are_written(self) -> None:
        together = [row for row in parts(FULL, "fuses") if row["for"].startswith("load-fuse")]
        assert [(row["amount"], row["for"]) for row in together] == [
            ("2", "load-fuse-too, load-fuse")
        ]

    def test_cable_is_told_in_feet_too_where_the_plan_tells_them(self) -> None:
        plan = BASE.replace("length: 4 m", "length: 13 ft").replace("length: 1 m", "length: 3 ft")
        told = [row["note"] for row in parts(plan, "cable")]
        assert any(note.startswith("26 ft (7.92 m) before rounding up") for note in told), told

    def test_cable_without_a_length_is_named_and_not_guessed(self) -> None:
        [row] = [r for r in parts(FULL, "cable") if r["part"].startswith("thin")]
        # 2 (3 + 1 + 1 + 1 + 2 + 2 + 1) m of wires, and 0.4 m of one bond
        assert row["amount"] == "23"
        assert "length of tie not stated, not counted" in row["note"]

    def test_connectors_are_counted_by_what_they_mate_with(self) -> None:
        found = {row["part"]: row for row in parts(FULL, "connectors")}
        branch = found["style branch, make B"]  # two conductors in parallel for each pole
        assert (branch["amount"], branch["unit"], branch["for"]) == ("2", "pairs", "home-run")
        negative = found["style locking-pv, make A"]
        assert negative["note"] == "for 0 positive and 1 negative ends of wires"
        positive = found["style not stated, make not stated"]
        assert positive["note"] == "for 1 positive and 0 negative ends of wires"

    def test_busbars_are_counted_by_pole(self) -> None:
        [row] = parts(FULL, "busbars")
        assert (row["amount"], row["unit"]) == ("2", "bars")


class TestConductors:
    def test_both_systems_of_size(self) -> None:
        size = {r["cable"]: r["in the other system"] for r in rows(tables(FULL)["conductors"])}
        # ASTM B258: 10 AWG is 5.261 mm²; 9 AWG 6.63 mm²; 4/0 AWG 107.2 mm²; 24 AWG 0.205 mm²
        assert size == {
            "pv-10": "5.26 mm²",
            "thin": "between 10 and 9 AWG",
            "thick": "between 4/0 AWG and 250 kcmil",
            "fine": "below 24 AWG",
        }

    def test_lengths_of_conductors_in_parallel(self) -> None:
        row = row_of(FULL, "conductors", "home-run")
        assert row["length one way"] == "16 ft (4.88 m)"
        assert row["conductor in all"] == "19.5 m"
        assert row_of(FULL, "conductors", "bank-plus")["conductor in all"] == "1 m"

    def test_each_stretch_tells_what_protects_it(self) -> None:
        assert row_of(VAN, "conductors", "bank-run")["protected by"] == (
            "house to bank-fuse, 0.15 m: nothing before bank-fuse 175 A (near enough); "
            "bank-fuse to main-bar, 0.45 m: bank-fuse 175 A"
        )
        assert row_of(VAN, "conductors", "fridge-run")["protected by"] == "panel.fridge 15 A"

    def test_what_is_not_known_is_not_called_protected(self) -> None:
        # A breaker whose label is not told breaks 3 kA, as is usual; the bank drives 5.2 kA there.
        assert row_of(FULL, "conductors", "radio-run")["protected by"] == (
            "tracker.load to load-fuse: between 30 A (perhaps cannot break a short there: look it "
            "up); load-fuse to radio: load-fuse 5 A"
        )
        assert row_of(FULL, "conductors", "radio-run")["lasting current"] == "1 A"
        negative = row_of(FULL, "conductors", "bank-minus")
        assert negative["protected by"] == "nothing in the negative"

    def test_missing_label_values_are_not_guessed_and_assumptions_are_named(self) -> None:
        row = row_of(FULL, "conductors", "feed")
        missing = ("sold as", "metal", "insulation", "place")
        assert {row[heading] for heading in missing} == {"not stated"}
        assert "capacity there" in row["rests on assumptions"]

    def test_numbers_are_those_of_the_study(self) -> None:
        study = study_of(VAN)
        found = {r.component: r for r in tables(VAN)["conductors"].rows}
        headings = [c.heading for c in tables(VAN)["conductors"].columns]
        for name, wire in study.wiring.wires.items():
            cell = dict(zip(headings, found[name].cells, strict=True))
            assert wire.current is not None
            assert wire.drop is not None
            assert cell["lasting current"].number == wire.current.number
            assert cell["voltage drop"].number == wire.drop.number


class TestDevices:
    def test_a_fuse_in_a_wire(self) -> None:
        row = row_of(VAN, "devices", "bank-fuse")
        assert (row["sits in"], row["distance"]) == ("bank-run", "15 cm (0.15 m)")
        assert (row["measured from"], row["place"]) == ("house", "cabin")
        assert (row["interrupt rating"], row["fault current there"]) == ("20 kA", "14.6 kA")
        assert row["protects"] == "bank-run, inverter-run"
        assert row["load-break"] == "does not apply"

    def test_a_switch(self) -> None:
        row = row_of(FULL, "devices", "array-off")
        assert (row["load-break"], row["poles"]) == ("no", "2")
        assert row["opens pole"] == "positive and negative"
        assert row["cuts off"] == "array at tracker"
        assert row["distance"] == "not stated"
        assert row_of(FULL, "devices", "bank-off")["load-break"] == "not stated"

    def test_a_breaker_between_wires(self) -> None:
        row = row_of(FULL, "devices", "between")
        assert row["sits in"] == "charge-run, charge-run-b"
        assert row["cuts off"] == "tracker from its battery"
        assert row["kind"] == "breaker, polarised"

    def test_ways_of_two_panels_of_one_name(self) -> None:
        """Ways may be called `load` or `line` like the sides of a device."""
        ratings = {
            name: row_of(FULL, "devices", name)["rating"]
            for name in ("panel.load", "panel.line", "panel-b.load")
        }
        assert ratings == {"panel.load": "5 A", "panel.line": "10 A", "panel-b.load": "7 A"}

    def test_an_unstated_rating_is_not_taken_from_the_style(self) -> None:
        row = row_of(FULL, "devices", "panel.load")
        assert row["interrupt rating"] == "not stated"
        assert row["DC voltage rating"] == "32 V"
        assert row_of(FULL, "devices", "panel-b.load")["DC voltage rating"] == "not stated"

    def test_fault_current_of_a_string_fuse_is_what_the_other_strings_drive(self) -> None:
        plan = array_plan(
            "".join(f"  s{n}: {{module: rigid-100, series: 3}}\n" for n in (1, 2, 3)),
            "".join(
                f"  w{n}: {{from: s{n}, to: joint, cable: pv-10, length: 1 m, inline: [f{n}]}}\n"
                for n in (1, 2, 3)
            )
            + "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n",
            "  joint: {joins: [s1, s2, s3]}\n",
        )
        fuses = "".join(f"  f{n}: {{rating: 15 A, style: gpv}}\n" for n in (1, 2, 3))
        plan = plan.replace("\nfuses:\n", f"\nfuses:\n{fuses}")
        [array] = study_of(plan).array.arrays
        flows = {f.string.name: f.unlimited for f in array.backflows}
        rated = row_of(plan, "devices", "f1")
        assert flows["s1"] is not None
        assert rated["fault current there"] == str(flows["s1"])
        assert rated["protects"] == "modules of s1"
        too_large = plan.replace("f1: {rating: 15 A", "f1: {rating: 20 A")
        assert row_of(too_large, "devices", "f1")["protects"] == "none"


class TestLabels:
    def markings(self, plan: str | Path) -> dict[tuple[str, str], str]:
        return {(r["component"], r["goes on"]): r["marking"] for r in rows(tables(plan)["labels"])}

    def test_what_must_not_be_opened_under_load(self) -> None:
        marked = self.markings(FULL)
        assert "do not open under load" in marked["array-off", "array-off"]
        assert "load break: not stated" in marked["bank-off", "bank-off"]
        assert "under load" not in self.markings(VAN)["array-off", "array-off"]
        assert "do not unplug under load" in marked["home-run", "+ end at joint"]
        assert "unplug" not in marked["home-run", "+ end at tracker.pv"]

    def test_the_highest_voltage_is_never_rounded_down(self) -> None:
        for path in EXAMPLES:
            study = study_of(path)
            for row in schedules_of(study).labels:
                for volts in row.rests_on:
                    shown = [
                        int(n) for text in row.markings for n in re.findall(r"max (\d+)", text)
                    ]
                    assert all(0 <= n - volts.number < 1 for n in shown), row.component

    def test_each_piece_tells_what_its_own_stretch_joins(self) -> None:
        printed = [
            (r["goes on"], r["name to print"])
            for r in rows(tables(VAN)["labels"])
            if r["component"] == "bank-run"
        ]
        assert printed == [
            ("+ end at house", "bank-run + house to bank-fuse"),
            ("+ end at bank-fuse", "bank-run + house to bank-fuse"),
            ("+ end at bank-fuse", "bank-run + bank-fuse to main-bar"),
            ("+ end at main-bar", "bank-run + bank-fuse to main-bar"),
            ("− end at house", "bank-run − house to main-bar"),
            ("− end at main-bar", "bank-run − house to main-bar"),
        ]

    def test_a_marking_that_rests_on_an_assumption_says_so(self) -> None:
        labels = rows(tables(FULL)["labels"])
        resting = {r["component"] for r in labels if r["rests on assumptions"] == "marking"}
        assert "start-run" in resting
        assert not resting & {"feed", "charge-run", "home-run"}


class TestCsv:
    @EVERY
    def test_it_is_read_back_as_written(self, path: Path) -> None:
        for table in tables(path).values():
            text = schedule_csv.render(listed([table]))
            assert text.endswith("\r\n")
            header, *found = csv.reader(io.StringIO(text, newline=""), strict=True)
            assert len(header) == len(set(header)) == len(table.columns)
            assert len(found) == len(table.rows)
            for line, row in zip(found, table.rows, strict=True):
                assert len(line) == len(header)
                for text_read, cell in zip(line, row.cells, strict=True):
                    if cell.number is None:
                        assert text_read == harmless(cell.text)
                    else:
                        assert float(text_read) == pytest.approx(cell.number, abs=1e-6)

    def test_all_tables_in_one_have_the_table_before_them(self) -> None:
        found = tables(VAN)
        lines = list(csv.DictReader(io.StringIO(rendered(VAN)["csv"], newline=""), strict=True))
        counts = Counter(line["table"] for line in lines)
        assert counts == {key: len(table.rows) for key, table in found.items()}
        own = {line["name"]: line for line in lines if line["table"] == "conductors"}
        assert own["home-run"]["length one way (m)"] == "4.8768"
        assert own["home-run"]["amount"] == ""

    @pytest.mark.parametrize(
        ("text", "shown"),
        [
            ("=1+1", "'=1+1"),
            ("+30 A", "'+30 A"),
            ("-x", "'-x"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("  =1", "'  =1"),
            ("＝1", "'＝1"),
            ("a=b", "a=b"),
            ("", ""),
        ],
    )
    def test_formulas_are_made_texts(self, text: str, shown: str) -> None:
        assert harmless(text) == shown


class TestHostile:
    PLAN = FULL.replace('"NOTE"', repr(HOSTILE).replace("\\\\", "\\"))

    def test_no_cell_of_a_sheet_begins_a_formula(self) -> None:
        text = schedule_csv.render(listed(tuple(tables(self.PLAN).values())))
        cells = [c for line in csv.reader(io.StringIO(text, newline=""), strict=True) for c in line]
        assert any(HOSTILE in cell for cell in cells)
        assert not [c for c in cells if c.lstrip()[:1] in tuple("=+@-") and c]

    def test_markdown_has_the_cells_it_should_and_no_html(self) -> None:
        pytest.importorskip("markdown_it")
        for plan in (self.PLAN, *EXAMPLES):
            for table in tables(plan).values():
                assert cells_of(table) == [[c.text for c in row.cells] for row in table.rows]

    def test_lines_stay_in_their_columns_whatever_the_names(self) -> None:
        long = BASE.replace("charge-fuse", "a" + "-very-long-name" * 12)
        for plan in (self.PLAN, long, *EXAMPLES):
            for line in rendered(plan)["txt"].splitlines():
                assert width(line) <= WIDTH, line


def cells_of(table: Table) -> list[list[str]]:
    """The texts of the cells below the headings as a Markdown program reads them."""
    from markdown_it import MarkdownIt

    text = schedule_markdown.render(Listing("plan.yaml", HOSTILE, "", "A code", [table]))
    tokens = MarkdownIt("commonmark").enable("table").parse(text)
    kinds = {child.type for token in tokens for child in token.children or ()}
    assert kinds <= {"text", "text_special", "code_inline"}, kinds
    assert not any(token.type.startswith("html") for token in tokens)
    assert [t.type for t in tokens].count("th_open") == (len(table.columns) if table.rows else 0)
    found: list[list[str]] = []
    for before, token in pairwise(tokens):
        if token.type == "tr_open":
            found.append([])
        if before.type == "td_open":
            found[-1].append("".join(child.content for child in token.children or ()))
    return found[1:]


def test_a_plan_without_devices_says_so() -> None:
    plan = edited(
        (
            "fuses:\n  charge-fuse: {rating: 40 A, voltage: 58 V, style: bolt-down, "
            "interrupt: 10 kA, dc: true}\n",
            "",
        ),
        (",\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]", ""),
    )
    made = rendered(plan)
    assert "The plan has no devices." in made["txt"]
    assert "The plan has no devices." in made["md"]


def test_one_table_is_the_same_as_in_all() -> None:
    schedules = schedules_of(study_of(VAN))
    [one] = tables_of(schedules, "parts")
    assert one == tables_of(schedules)[2]


GUESSED = """\
wattproof: 1
setting: vehicle
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
fuses: {main: {rating: 80 A, interrupt: 5 kA}}
loads: {fridge: {power: 60 W}}
datasheets: {cables: {feed-cable: CABLE}}
wires:
  feed: {from: house, to: fridge, cable: feed-cable, length: 1 m,
         inline: [{main: {from_end: from, distance: 10 cm}}]}
"""


@pytest.mark.parametrize(
    ("cable", "words"),
    [
        ("{size: 6 mm²}", "main 80 A (too large for it)"),
        ("{size: 10 mm²}", "main 80 A (likely too large for it)"),
        ("unknown", "main 80 A"),
    ],
)
def test_a_fuse_is_too_large_only_as_surely_as_its_finding_says(cable: str, words: str) -> None:
    """What rests on a guess is no fact of a list; it has the word that the finding has."""
    study = load_study("plan.yaml", text=GUESSED.replace("CABLE", cable))
    [row] = [r for r in schedules_of(study).conductors if r.name == "feed"]
    told = [_protection(p) for p in row.protections]
    assert any(words in each for each in told), told
    assert (row.size == "unknown") == (row.other_size == "unknown") == (cable == "unknown")
