"""What is told of each layout, the same in every output: a row of figures, and few sentences."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.choosing.closing import doubts, shade_words
from wattproof.choosing.joining import open_arrays
from wattproof.choosing.layouts import LIGHT, ONE_SHADED, Input, Layouts, Tried
from wattproof.choosing.needs import Needs, Run
from wattproof.finding import HAZARDS, Finding, Hazard
from wattproof.reports.writing.tables import Cell, Column, Field, Table, plain
from wattproof.reports.writing.wording import HAZARD_SHORT, numbered
from wattproof.words import enumerated, quoted
from wattproof.working import Value

FITS: Final = "fits"
BASIS: Final = (
    "Each is checked by all rules, as a plan of its own. Order: without an error, then by power "
    "over the states ({weights}); of those within 3 % of it first what warns of no danger, then "
    "what has fewer parts."
)


def summary(layouts: Layouts) -> str:
    """How many there are, how many fit, and what was left out."""
    count, fit = len(layouts.tried), len(layouts.fitting)
    fits = "one fits" if fit == 1 else "none fits" if fit == 0 else f"{fit} fit"
    said = f"{numbered(count, 'layout')}, of which {fits}"
    if layouts.unchecked:
        said += (
            f"; {layouts.unchecked} more were not checked: those that share the modules less "
            "evenly, or have as many in series as one that has too much or too little voltage"
        )
    if len(open_arrays(layouts.plan)) > 1:
        said += "; strings of unlike voltage do not meet on one input"
    return f"{said}."


def basis(layouts: Layouts) -> str:
    """By what they are ordered."""
    weights = layouts.weights
    words = ", ".join(
        f"{name if name != 'shade' else 'shade, all cases together,'} {share * 100.0:.0f} %"
        for name, share in weights.items()
    )
    return BASIS.format(weights=words)


def shade_basis(layouts: Layouts) -> str:
    """What shade was reckoned with where the plan tells none; empty where it does."""
    if any(ONE_SHADED in each.power for each in layouts.tried):
        return (
            f"The plan tells no shade, so one module has {LIGHT} of the light; of unlike strings, "
            "the one where that costs most."
        )
    return ""


def taken(layouts: Layouts) -> str:
    """What is taken of labels that nobody told; empty where they are all told."""
    if not layouts.taken:
        return ""
    return f"{' '.join(layouts.taken)} Look that up first: by it a layout fits or fails."


def outcome(tried: Tried) -> str:
    """Whether it fits, and what is found in it by hazard."""
    counts = [f"{HAZARD_SHORT[h]} {n}" for h, n in _by_hazard(tried)]
    listed = f" ({', '.join(counts)})" if counts else ""
    return f"{'fails' if tried.reason is not None else FITS}{listed}"


def found(tried: Tried) -> str:
    """What is found, by hazard, and the first of it; empty where nothing grave is."""
    words = reason(tried)
    counts = ", ".join(f"{HAZARD_SHORT[h]} {n}" for h, n in _by_hazard(tried))
    return f"{counts}: {words}" if words else ""


def _by_hazard(tried: Tried) -> Iterator[tuple[Hazard, int]]:
    for hazard in HAZARDS:
        if hazard in tried.by_hazard:
            yield hazard, tried.by_hazard[hazard]


def reason(tried: Tried) -> str:
    """The first reason why it fails, or the first warning; empty where there is none."""
    first = tried.reason or next((f for f in tried.own if f.level == "warning"), None)
    if first is None:
        return ""
    likely = "likely: " if first.verdict == "likely" else ""
    return f"{likely}{first.message}"


def figures(tried: Tried) -> Iterator[tuple[str, str]]:
    """Label and text of each line of figures."""
    for each in tried.inputs:
        where = f" at `{each.name}`" if len(tried.inputs) > 1 else ""
        yield f"Voltage{where}", _voltage(each)
        yield f"Current{where}", _current(each)
    yield "Power", "; ".join(f"{watts} {shade_words(s)}" for s, watts in tried.power.items())
    if tried.energy:
        days = (f"{name} {_kwh(low)} to {_kwh(high)}" for name, (low, high) in tried.energy.items())
        yield "A day", ", ".join(days)
    yield "Needs", "; ".join(needs(tried))
    if loose := taken_away(tried):
        yield "Removable", loose


def _voltage(each: Input) -> str:
    of = f"for which one of {each.limit} is sold" if each.to_choose[0] else f"of {each.limit}"
    of += ", which is assumed" if each.is_guessed else ""
    cold = f"{each.cold} in the cold, {of}"
    if each.needed is None:
        return f"{cold}; {each.hot} at the hottest noon"
    return f"{cold}; {each.hot} at the hottest noon, {each.needed} needed to charge"


def _current(each: Input) -> str:
    takes = f" of {each.takes}" if each.takes is not None else ""
    said = f"{each.current}{takes} in bright sun"
    if each.output is None:
        return said
    if each.to_choose[1]:
        return f"{said}; up to {each.output} to the battery"
    gives = f" of {each.gives}" if each.gives is not None else ""
    return f"{said}; {each.output}{gives} to the battery"


def _kwh(joules: Value) -> str:
    return f"{joules.number / 3.6e6:.2g} kWh"


def needs(tried: Tried) -> Iterator[str]:
    """What it takes to build it."""
    wanted = tried.needs
    yield from (_run(run) for run in wanted.runs)
    if wanted.fused:
        yield f"a fuse in each of {numbered(wanted.fused, 'string')}: {wanted.fuses}"
    for count, of, amps in _joints(wanted):
        joints = "a joint" if count == 1 else f"{count} joints"
        each = "" if count == 1 else " each"
        yield f"{joints} of {of}{each} for {amps}, in each pole"
    yield f"{numbered(wanted.pairs, 'pair')} of connectors"
    for name, volts, amps in wanted.switches:
        where = f" before `{name.removeprefix('array at ')}`" if len(wanted.switches) > 1 else ""
        yield f"a switch{where} for {volts} and {amps}"


def _joints(wanted: Needs) -> Iterator[tuple[int, int, Value]]:
    """Alike joints together."""
    alike: dict[tuple[int, str], list[tuple[int, Value]]] = {}
    for count, of, amps in wanted.joints:
        alike.setdefault((of, str(amps)), []).append((count, amps))
    for (of, _), held in alike.items():
        yield sum(count for count, _ in held), of, held[0][1]


def _run(run: Run) -> str:
    told = "taken as " if run.assumed else ""
    if run.drop is None:
        return f"no single size for `{run.wire}` ({told}{run.length}): conductors in parallel"
    lost = f", {run.loss}" if run.loss is not None else ""
    return f"{run.size} for `{run.wire}` ({told}{run.length}): {run.drop} lost{lost}"


def taken_away(tried: Tried) -> str:
    """Whether what is removable may be taken away; empty where nothing is."""
    names = [str(n) for n, s in tried.study.plan.strings.items() if s.portable]
    if not names:
        return ""
    if not tried.kept:
        return f"{quoted(names)} may be taken away"
    return _kept(tried.kept[0])


def _kept(finding: Finding) -> str:
    return f"{finding.when}: {finding.message}"


def rest(layouts: Layouts) -> str:
    """What is wrong with the plan whatever the layout."""
    found = [f for f in layouts.rest.findings if f.acceptance is None and f.level != "note"]
    found += [f for f in layouts.always if f.level != "note"]
    told = {f.identity for f in doubts(layouts)[:1]}
    found = [f for f in found if f.identity not in told]
    if not found:
        return ""
    listed = "; ".join(f.message for f in found[:2])
    more = f", and {len(found) - 2} more" if len(found) > 2 else ""
    end = "" if f"{listed}{more}".endswith("?") else "."
    return f"Whatever the layout: {listed}{more}{end} `wattproof check` tells all of it."


def table_of(layouts: Layouts) -> Table:
    """All layouts side by side."""
    states = list(dict.fromkeys(s for each in layouts.tried for s in each.power))
    fields: list[Field[Tried]] = [
        Field(Column("layout"), lambda t: Cell(t.name)),
        Field(Column("outcome"), lambda t: Cell(outcome(t))),
        Field(Column("cold", "V", "right"), lambda t: _worst_cold(t)),
        Field(Column("hot", "V", "right"), lambda t: _worst_hot(t)),
        Field(Column("current", "A", "right"), lambda t: _largest(t)),
    ]
    fields += [_power_field(state) for state in states]
    fields += [
        Field(Column("parts", "", "right"), lambda t: Cell(str(t.needs.parts), t.needs.parts)),
        Field(Column("first reason"), lambda t: Cell(reason(t) or "none")),
    ]
    return plain("layouts", "Layouts", "None.", layouts.tried, fields, lambda t: "")


def _power_field(state: str) -> Field[Tried]:
    def read(tried: Tried) -> Cell:
        watts = tried.power.get(state)
        return Cell(f"{watts.number:.0f}", watts.number) if watts is not None else Cell("not known")

    return Field(Column(state, "W", "right"), read)


def _worst_cold(tried: Tried) -> Cell:
    worst = max(tried.inputs, key=lambda i: i.cold.number / i.limit.number)
    return Cell(f"{worst.cold.number:.1f} of {worst.limit.number:.0f}", worst.cold.number)


def _worst_hot(tried: Tried) -> Cell:
    asked = [i for i in tried.inputs if i.needed is not None]
    if not asked:
        return Cell(f"{min(i.hot.number for i in tried.inputs):.1f}")
    worst = min(asked, key=lambda i: i.hot.number - (i.needed.number if i.needed else 0.0))
    assert worst.needed is not None
    return Cell(f"{worst.hot.number:.1f}, needs {worst.needed.number:.1f}", worst.hot.number)


def _largest(tried: Tried) -> Cell:
    amps = max(i.current.number for i in tried.inputs)
    return Cell(f"{amps:.1f}", amps)


def kinds(layouts: Layouts) -> str:
    """What is laid out: how many modules of which kind, and where they may lead."""
    strings = open_arrays(layouts.plan)
    return enumerated(f"{s.count} × `{s.module}` (`{n}`)" for n, s in strings.items())
