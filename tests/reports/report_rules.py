"""Rules made for testing reports: one for each level and certainty, and one that fails."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wattproof.engine import Result, check_file
from wattproof.packs import RuleSet
from wattproof.reports.findings.run import Run
from wattproof.rule import (
    Clause,
    Edit,
    Observation,
    Related,
    Rule,
    danger,
    notice,
    option,
    practice,
    rule,
)
from wattproof.settings import NOTHING_SET, Settings, of_call
from wattproof.study import Study
from wattproof.testing import A_DAY
from wattproof.working import declared, tabled

GOLDEN = Path(__file__).parent / "golden"
PLAN = (GOLDEN / "faulty.yaml").read_text(encoding="utf-8")


def _about(name: str, **more: Any) -> dict[str, Any]:
    return {
        "id": name,
        "summary": "A number against a limit.",
        "level": "error",
        "hazard": "fire",
        "part": "conductor",
        "basis": {"nec-2023": Clause("Clause 7.1", "2023", "a number stays in its limit", False)},
        "explanation": "A number above its limit does harm. This text is long enough to be wrapped "
        "in a report that keeps to eighty columns.",
        "sound": "wattproof: 1\n",
        "faulty": Edit("1", "2"),
        **more,
    }


@dataclass(frozen=True)
class Limits:
    """What a project may set."""

    largest: float = option(20.0, "Current in A from which the rule speaks.")


@rule(
    **_about(
        "wire-over-limit",
        caution=danger("It can set fire to what is around it."),
        options=Limits,
        acceptable=False,
        former_ids=("wire-too-hot",),
    )
)
def wire_over_limit(study: Study, limits: Limits) -> Iterator[Observation]:
    wire = study.wiring.wires["home-run"]
    limit = tabled(limits.largest, "A", "Imax", "largest current", "Table 1, row 7")
    assert wire.current is not None
    if wire.current > limit:
        yield Observation(
            message=f"`home-run` carries {wire.current} and may carry {limit}",
            on=(wire, study.plan.combiners["roof-joint"]),
            values=(wire.current, limit),
            margin=1 - wire.current.number / limit.number,
            remedy="use a larger size",
            related=(Related(study.plan.setting.place, "where it must work"),),
        )


@rule(**_about("array-over-input", hazard="damage", part="controller"))
def array_over_input(study: Study) -> Iterator[Observation]:
    [array] = study.array.arrays
    limit = declared(array.controller.max_input_voltage, "Umax", "highest input voltage")
    cold = array.voc("coldest")
    if cold > limit:
        yield Observation(
            message=f"{cold} is over {limit}",
            on=(array.controller, *array.all_strings),
            values=(cold, limit),
            margin=1 - cold.number / limit.number,
            remedy="put fewer in series",
        )


@rule(
    **_about(
        "fuse-not-known",
        level="warning",
        hazard="shock",
        part="overcurrent",
        basis={"common practice": practice("a device states what it breaks")},
        local="the maker of the fuse",
    )
)
def fuse_not_known(study: Study) -> Iterator[Observation]:
    yield Observation(
        message="what `charge-fuse` breaks cannot be told",
        on=(study.plan.fuses["charge-fuse"],),
    )


@rule(
    **_about(
        "wire-loses-power",
        level="warning",
        hazard="lost-energy",
        basis={"common practice": practice("little is lost on the way")},
        caution=notice("Energy is lost."),
    )
)
def wire_loses_power(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        if wire.loss is not None and wire.drop is not None:
            yield Observation(
                message=f"`{wire.name}` loses {wire.loss}",
                on=(wire,),
                values=(wire.drop, wire.loss),
                level="note" if wire.name == "charge-run" else None,
            )


@rule(**_about("always-fails", part="plan"))
def always_fails(study: Study) -> Iterator[Observation]:
    yield Observation(message="seen before it failed", on=(study.plan.fuses["charge-fuse"],))
    raise KeyError("no\nsuch {thing} [here](there)")


RULES = RuleSet(
    {r.id: r for r in (wire_over_limit, array_over_input, fuse_not_known, wire_loses_power)}
)
FAILING = RuleSet({r.id: r for r in (always_fails, wire_over_limit)})
NOTHING_FOUND = RuleSet({"wire-over-limit": wire_over_limit})


def result_of(
    text: str = PLAN,
    rules: RuleSet = RULES,
    *,
    file: str = "faulty.yaml",
    settings: Settings = NOTHING_SET,
) -> Result:
    """The result of a plan's text by some of these rules."""
    return check_file(file, rules, today=A_DAY, text=text, settings=settings)


def run_of(*results: Result, status: int = 1) -> Run:
    """A check with these results."""
    return Run(results, status, RULES)


def sound_result() -> Result:
    """A result without a finding."""
    text = PLAN[: PLAN.index("accepted:")]
    settings = of_call({"wire-over-limit": {"largest": 100.0}})
    return result_of(text, NOTHING_FOUND, settings=settings)


def only(*rules: Rule) -> RuleSet:
    """A set of some rules."""
    return RuleSet({r.id: r for r in rules})
