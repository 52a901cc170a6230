"""What the program says of published builds, against what an electrician says of them.

Counted by cause: findings of one cause are one line, whatever their number. `builds/measured.yaml`
holds what is asked (`aims`) and what was reached last (`reached`). The figures may only get better;
UPDATE_GOLDEN=1 writes better ones down.
"""

from __future__ import annotations

import os
from functools import cache
from typing import Any

import pytest
from ruamel.yaml import YAML

from external.published_builds import (
    DOUBTFUL,
    FALSE,
    HAZARDS,
    JUDGEMENTS,
    KEPT,
    TRIVIAL,
    USEFUL,
    Build,
    Measured,
    builds,
    measure,
    read,
    share,
    source_of,
)
from found import told_of_nothing
from wattproof.packs import discover

BUILDS = builds()
NAMES = [build.name for build in BUILDS]


@cache
def _measured(name: str) -> Measured:
    """Each build is checked once for all that is asked of it here."""
    return measure(BUILDS[NAMES.index(name)])


def checked(build: Build) -> Measured:
    return _measured(build.name)


def measured() -> tuple[Measured, ...]:
    return tuple(checked(build) for build in BUILDS)


def reached() -> dict[str, Any]:
    """The figures of today, as they are kept."""
    groups = [g for m in measured() for g in m.groups]
    errors = [g for g in groups if g.level == "error"]
    warnings = [g for g in groups if g.level == "warning"]
    true = (USEFUL, TRIVIAL)
    grave = [
        f"{m.build.name}: {fault.what}"
        for m in measured()
        for fault in m.missed
        if fault.hazard in ("fire", "shock")
    ]
    return {
        "lines": {
            level: {
                j: sum(g.level == level and g.line.judged == j for g in groups) for j in JUDGEMENTS
            }
            for level in ("error", "warning", "note")
        },
        "errors true": round(share(errors, true), 3),
        "warnings true": round(share(warnings, true), 3),
        "true and useful": round(share([*errors, *warnings], (USEFUL,)), 3),
        "gravest first": sum(m.gravest_first for m in measured()),
        "faults of fire and shock missed": grave,
        "other faults missed": [
            f"{m.build.name}: {fault.what}"
            for m in measured()
            for fault in m.missed
            if fault.hazard not in ("fire", "shock")
        ],
    }


@pytest.mark.parametrize("build", BUILDS, ids=NAMES)
class TestData:
    """What a build and its judgement must hold."""

    def test_a_plan_names_its_source(self, build: Build) -> None:
        comment = " ".join(source_of(build))
        assert "Transcribed from: " in comment
        assert "https://" in comment or "http://" in comment
        assert "Read on 20" in comment

    def test_the_judgement_is_whole(self, build: Build) -> None:
        rules = set(discover().rules)
        for fault in build.faults:
            assert fault.hazard in HAZARDS, fault
            assert fault.told_by, fault
            assert {known.partition("/")[0] for known in fault.told_by} <= rules, fault
            assert fault.why, fault
        assert build.sound
        assert build.look_up
        seen = set()
        for line in build.lines:
            assert line.rule in rules, f"no rule {line.rule}"
            assert line.judged in JUDGEMENTS, line
            assert line.why, line
            for first in line.of:
                assert (line.rule, first) not in seen, f"judged twice: {line.rule} of {first}"
                seen.add((line.rule, first))

    def test_a_plan_can_be_checked_to_the_end(self, build: Build) -> None:
        result = checked(build).result
        assert not result.problems, [str(p) for p in result.problems]
        assert not result.failed, [f.message for f in result.findings]

    def test_everything_that_is_found_is_judged(self, build: Build) -> None:
        m = checked(build)
        ask = "\n".join(f"  {f.level} {f.rule} of {f.subjects[0]}: {f.message}" for f in m.unjudged)
        assert not m.unjudged, (
            f"judge in builds/{build.name}.judged.yaml, under `after`, as one of "
            f"{', '.join(JUDGEMENTS)}:\n{ask}"
        )

    def test_all_outputs_say_the_same(self, build: Build) -> None:
        assert not checked(build).disagreements

    def test_no_message_tells_a_current_of_nothing(self, build: Build) -> None:
        assert not told_of_nothing(checked(build).result)


def test_ten_builds_at_least_of_every_kind() -> None:
    texts = "\n".join(build.text for build in BUILDS)
    assert len(BUILDS) >= 10
    for kind in (
        *("setting: vehicle", "setting: boat", "setting: cabin"),
        *("kind: mppt", "kind: pwm", "kind: vehicle-charger"),
        *("chemistry: lithium-iron-phosphate", "chemistry: flooded", "chemistry: agm"),
        *("nominal: 12 V", "nominal: 24 V", "nominal: 48 V", "AWG", "mm²", "series:", "parallel"),
    ):
        assert kind in texts, kind


@pytest.mark.whole
def test_the_figures_only_get_better() -> None:
    kept, now = read(KEPT), reached()
    was = kept["reached"]
    worse = [
        f"{name}: {was[name]} before, {now[name]} now"
        for name in ("errors true", "warnings true", "true and useful", "gravest first")
        if now[name] < was[name] - 0.0005
    ]
    worse += [
        f"{name}: {fault}"
        for name in ("faults of fire and shock missed", "other faults missed")
        for fault in now[name]
        if fault not in was[name]
    ]
    assert not worse, "\n".join(worse)
    if os.environ.get("UPDATE_GOLDEN"):
        kept["reached"] = now
        writer = YAML()
        writer.width = 100
        with KEPT.open("w", encoding="utf-8") as file:
            file.write(HEAD)
            writer.dump(kept, file)


HEAD = """\
# What is asked of the published builds, and what was reached last. Shares of lines, one for each
# cause; "gravest first" counts builds. UPDATE_GOLDEN=1 and tests/external/test_builds.py write it.
"""


def test_what_is_asked_stands_beside_what_is_reached() -> None:
    kept = read(KEPT)
    assert set(kept["aims"]) <= set(kept["reached"])
    assert kept["aims"]["gravest first"] == len(BUILDS)


@pytest.mark.whole
def test_shares_count_lines_and_not_findings() -> None:
    for m in measured():
        assert sum(len(g.findings) for g in m.groups) + len(m.unjudged) == len(m.result.each)
        assert len({g.line for g in m.groups}) == len(m.groups)
        for group in m.groups:
            assert group.is_true == (group.line.judged not in (DOUBTFUL, FALSE))
