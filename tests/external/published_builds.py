"""Published builds of small installations, what is judged of each, and what a check says of them.

A build is a plan in `builds/`, transcribed from a published write-up with what its author told and
nothing more; the plan names its source. `<build>.judged.yaml` beside it holds, under `before`, what
an electrician finds by the write-up alone, written down before the program was run on it; under
`after`, one judgement for each cause that the program reports.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

from ruamel.yaml import YAML

from one_judge import disagreements
from wattproof.engine import Result, examine
from wattproof.finding import LEVELS, Finding
from wattproof.packs import discover
from wattproof.question import Decided
from wattproof.testing import A_DAY

FOLDER = Path(__file__).parent / "builds"
KEPT = FOLDER / "measured.yaml"
TYPICAL = Path(__file__).parent / "typical"
"""Invented plans of kinds that are rare among the builds, in the same form."""

USEFUL, TRIVIAL, DOUBTFUL, FALSE = JUDGEMENTS = (
    "true-useful",
    "true-trivial",
    "doubtful",
    "false",
)
HAZARDS = ("fire", "shock", "damage", "lost-energy")


class Fault(NamedTuple):
    """What is judged wrong with a build by its write-up alone.

    sure: False where something may be there that the author did not mention; a question tells it
    as well as a finding then. told_by: rules, or rule/component, any of which tells it.
    """

    what: str
    hazard: str
    sure: bool
    told_by: tuple[str, ...]
    why: str

    def in_finding(self, finding: Finding | Decided) -> bool:
        """True where a finding tells it."""
        return any(
            rule == finding.rule and (not part or part in finding.subjects)
            for rule, _, part in (known.partition("/") for known in self.told_by)
        )


class Line(NamedTuple):
    """A judgement of what the program reports: one cause, however many findings tell it.

    of: the first components of these findings.
    """

    rule: str
    of: tuple[str, ...]
    judged: str
    why: str


class Group(NamedTuple):
    """Findings of one cause, at the gravest of their levels, with the judgement of them."""

    line: Line
    level: str
    findings: tuple[Finding, ...]

    @property
    def is_true(self) -> bool:
        return self.line.judged in (USEFUL, TRIVIAL)


class Build(NamedTuple):
    """A transcribed build and what is judged of it."""

    name: str
    text: str
    faults: tuple[Fault, ...]
    sound: tuple[str, ...]
    look_up: tuple[str, ...]
    lines: tuple[Line, ...]

    def line_of(self, finding: Finding) -> Line | None:
        """The judgement of a finding, by its rule and its first component."""
        for line in self.lines:
            if line.rule == finding.rule and finding.subjects[0] in line.of:
                return line
        return None


class Measured(NamedTuple):
    """What a check of a build gives, against what is judged of it."""

    build: Build
    result: Result
    groups: tuple[Group, ...]
    unjudged: tuple[Finding, ...]
    disagreements: tuple[str, ...]

    @property
    def missed(self) -> tuple[Fault, ...]:
        """The judged faults that nothing tells, the gravest first."""
        return tuple(f for f in self.build.faults if not any(self._telling(f)))

    @property
    def gravest_first(self) -> bool:
        """True where what stands first tells the gravest fault; nothing to tell is told first.

        Where nothing but notes is found, it is the first of them, or the first question has to
        tell it, of what may be there unmentioned.
        """
        gravest = next(iter(self.build.faults), None)
        if gravest is None:
            return True
        found = [f for f in self.result.findings if f.level != "note"]
        first = next(iter([*found, *self.result.findings]), None)
        if first is not None and any(map(gravest.in_finding, first.each)):
            return True
        asked = next(iter(self.result.questions), None)
        return (
            not found
            and not gravest.sure
            and asked is not None
            and any(map(gravest.in_finding, asked.decides))
        )

    def _telling(self, fault: Fault) -> Iterator[Finding | Decided]:
        """Findings that tell it; of what may be there unmentioned, questions too."""
        yield from (f for f in self.result.each if fault.in_finding(f))
        if not fault.sure:
            decided = (d for q in self.result.questions for d in q.decides)
            yield from (d for d in decided if fault.in_finding(d))


def builds(folder: Path = FOLDER) -> list[Build]:
    """All builds of a folder, by name."""
    return [
        _build(path)
        for path in sorted(folder.glob("*.yaml"))
        if path != KEPT and not path.name.endswith(".judged.yaml")
    ]


def read(path: Path) -> Any:
    """A data file."""
    return YAML(typ="safe").load(path.read_text(encoding="utf-8"))


def measure(build: Build) -> Measured:
    """Check a build with all rules as installed, under no settings."""
    study, result = examine(
        f"{build.name}.yaml", discover(), today=A_DAY, text=build.text, try_remedies=False
    )
    judged: dict[Line, list[Finding]] = {}
    unjudged = []
    for finding in result.each:
        line = build.line_of(finding)
        if line is None:
            unjudged.append(finding)
        else:
            judged.setdefault(line, []).append(finding)
    groups = tuple(
        Group(line, min((f.level for f in told), key=LEVELS.index), tuple(told))
        for line, told in judged.items()
    )
    outputs = tuple(disagreements(study, result.findings, result.questions)) if study else ()
    return Measured(build, result, groups, tuple(unjudged), outputs)


def share(groups: Iterable[Group], judgements: Iterable[str]) -> float:
    """The share of groups that are judged so; 1 where there are none."""
    all_of_them = list(groups)
    wanted = set(judgements)
    so = [g for g in all_of_them if g.line.judged in wanted]
    return len(so) / len(all_of_them) if all_of_them else 1.0


def source_of(build: Build) -> list[str]:
    """The lines of the comment above a plan."""
    return re.findall(r"^# ?(.*)$", build.text.split("wattproof:")[0], re.MULTILINE)


def _build(path: Path) -> Build:
    judged = read(path.with_suffix(".judged.yaml"))
    before = judged["before"]
    return Build(
        path.stem,
        path.read_text(encoding="utf-8"),
        tuple(
            Fault(f["fault"], f["hazard"], f["sure"], tuple(f["told_by"]), f["why"])
            for f in before["faults"]
        ),
        tuple(before["sound"]),
        tuple(before["look_up"]),
        tuple(Line(a["rule"], tuple(a["of"]), a["judged"], a["why"]) for a in judged["after"]),
    )
