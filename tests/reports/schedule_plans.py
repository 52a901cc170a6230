"""Plans of which schedules are tested, and the schedules and tables of a plan."""

from __future__ import annotations

from pathlib import Path

from wattproof.circuit import build_circuit
from wattproof.plan import load_plan
from wattproof.reports.schedules.tables import tables_of
from wattproof.reports.writing.tables import Table
from wattproof.study import Study
from wattproof.views.schedules import schedules_of

ROOT = Path(__file__).parents[2]
EXAMPLES = [*sorted((ROOT / "examples").glob("*.yaml")), *sorted(ROOT.glob("examples/faulty/*"))]

HOSTILE = '=cmd|" /C calc"!A0 <img src=x onerror=alert(1)> `a` \\ | **b** [c](d) &amp; $e$'

# Much that the plan language allows and that no example has.
FULL = """\
wattproof: 1
title: "=1+1 | <b>"
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    one: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, voc_coefficient: -0.29 %/°C,
          connector: {style: locking-pv, make: A}}
    other: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, pmax: 100 W, voc_coefficient: -0.29 %/°C}
  cables:
    pv-10: {size: 10 AWG, kind: pv}
    thin: {size: 6 mm²}
    thick: {size: 120 mm²}
    fine: {size: 0.1 mm²}
strings:
  roof: {module: one, arrangement: 4s2p}
  back: {module: one, arrangement: 4p2s}
  mixed: {modules: [one, other]}
combiners:
  joint: {joins: [roof, back], kind: branch-connector, connector: {style: branch, make: B}}
controllers:
  tracker: {kind: mppt, max_input_voltage: 150 V, max_output_current: 30 A, load_current: 15 A,
            charge_voltage: 28.4 V}
  small: {kind: pwm, max_input_voltage: 100 V, max_output_current: 10 A}
batteries:
  house: {chemistry: agm, nominal: 6 V, capacity: 100 Ah, arrangement: 4s2p,
          max_charge_voltage: 7.2 V}
  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, arrangement: 2p}
fuses:
  string-fuse: {rating: 10 A}
  load-fuse: {rating: 5 A, style: blade, voltage: 32 V}
  load-fuse-too: {rating: 5000 mA, style: blade, voltage: 32 V}
switches:
  array-off: {rating: 30 A, load_break: false, poles: 2}
  bank-off: {rating: 30 A}
breakers:
  between: {rating: 30 A, poles: 2, polarised: true}
busbars:
  bar: {}
distribution:
  panel: {voltage: 32 V, ways: {load: {fuse: 5 A, style: blade}, line: {fuse: 10 A}}}
  panel-b: {ways: {load: {fuse: 7 A}}}
loads:
  pump: {current: 2 A, nominal: 24 V, note: "NOTE"}
  lamp: {current: 2 A}
  radio: {current: 1 A}
  clock: {power: 1 W}
wires:
  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 16 ft, parallel: 2,
             inline: [array-off, {string-fuse: {from_end: to, distance: 10 cm}}]}
  back-run: {from: mixed, to: small.pv, cable: thin, length: 3 m, plug: cigar}
  start-run: {from: small.battery, to: start, cable: thin, length: 1 m}
  charge-run: {from: tracker.battery, to: between, cable: thick, length: 1 m}
  charge-run-b: {from: between, to: bar, cable: thick, length: 1 m}
  bank-plus: {from: house.positive, to: bar.positive, cable: thick, length: 1 m,
              inline: [bank-off]}
  bank-minus: {from: house.negative, to: bar.negative, cable: thick, length: 1 m}
  feed: {from: bar, to: panel, cable: thin, length: 1 m}
  feed-b: {from: bar, to: panel-b, cable: thin, length: 1 m}
  pump-run: {from: panel.load, to: pump, cable: thin, length: 2 m, plug: cigar, plug_rating: 8 A}
  lamp-run: {from: panel-b.load, to: lamp, cable: thin, length: 2 m, inline: [load-fuse-too]}
  radio-run: {from: tracker.load, to: radio, cable: thin, length: 1 m, inline: [load-fuse]}
  clock-run: {from: panel.line, to: clock, cable: fine, length: 1 m}
bonds:
  tie: {from: bar.negative, to: chassis, cable: thin}
  start-tie: {from: start.negative, to: chassis, cable: thin, length: 40 cm}
arresters:
  surge: {across: tracker.pv, voltage: 200 V}
"""


def study_of(plan: str | Path) -> Study:
    """The study of a file, or of the text of a plan."""
    if isinstance(plan, Path):
        return Study(build_circuit(load_plan(str(plan))))
    return Study(build_circuit(load_plan("plan.yaml", text=plan)))


def tables(plan: str | Path) -> dict[str, Table]:
    """The tables of a plan by their keys."""
    return {table.key: table for table in tables_of(schedules_of(study_of(plan)))}


def rows(table: Table) -> list[dict[str, str]]:
    """The rows of a table as texts by their headings."""
    headings = [column.heading for column in table.columns]
    return [dict(zip(headings, (c.text for c in r.cells), strict=True)) for r in table.rows]
