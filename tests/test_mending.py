"""Plans mended in their text: what was found is gone, and nothing as grave has come.

Over the faulty example of each rule, the faulty examples and the dangerous changes of the sound
ones. A sample in the ordinary run; WATTPROOF_LONG=1 takes them all.
"""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest

from found import found_alone
from mutations.test_mutations import CASES as DANGEROUS
from mutations.test_mutations import mutated
from plans import EXAMPLES, edited, text_of
from wattproof.engine import Result
from wattproof.finding import LEVELS, Finding
from wattproof.mending import Mended, mended
from wattproof.packs import discover
from wattproof.plan import load_plan
from wattproof.plan.amend import Change
from wattproof.remedies.trials import READ_BEFORE, gravest_of, is_told
from wattproof.testing import A_DAY

LONG = bool(os.environ.get("WATTPROOF_LONG"))
RULES, CHANGES = (1, 1) if LONG else (12, 30)
"""Of so many rules and dangerous changes one is taken."""
ALL = discover()


def texts() -> Iterator[tuple[str, str]]:
    """Every plan that is mended: what it is, and its text."""
    for path in sorted((EXAMPLES / "faulty").glob("*.yaml")):
        yield path.stem, path.read_text(encoding="utf-8")
    for name, rule in sorted(ALL.rules.items())[::RULES]:
        yield name, rule.faulty.of(rule.sound)
    for name, mutation in DANGEROUS[::CHANGES]:
        yield f"{name}-{mutation.name}", text_of(mutated(name, mutation) or {})


def mend(text: str) -> Mended:
    return mended("plan.yaml", text, ALL, today=A_DAY, shown_as="plan.yaml")


def clearable(result: Result) -> Iterator[Finding]:
    """Findings of which a remedy was tried that clears them and brings nothing at all."""
    for finding in result.findings:
        ids = set(finding.identities)
        if any(ids <= set(t.clears) and not t.brings for t in finding.trials):
            yield finding


CASES = list(texts())


@pytest.mark.parametrize(("name", "text"), CASES, ids=[name for name, _ in CASES])
def test_what_is_found_goes_and_nothing_as_grave_comes(name: str, text: str) -> None:
    made = mend(text)
    before, after = gravest_of(made.before.each), gravest_of(made.after.each)
    for done in made.mends:
        for finding in done.clears:
            for identity in finding.identities:
                level = before.get(identity, LEVELS.index(finding.level))
                assert not is_told(identity, level, after), (identity, done.changes)
    gravest = min(before.values(), default=0)
    parts = {f.rule: f.part for f in made.after.findings}
    for identity, level in after.items():
        if not is_told(identity, level, before) and parts[identity[0]] != READ_BEFORE:
            assert level > gravest, (identity, LEVELS[level])
    assert len(after) <= len(before)
    left = gravest_of(made.after.findings)
    for finding in clearable(made.before):
        told = is_told(finding.identity, LEVELS.index(finding.level), left)
        assert not told, (finding.message, finding.ways, made.refused)
    again = found_alone("plan.yaml", made.text, ALL)
    assert [f.message for f in again.findings] == [f.message for f in made.after.findings]
    assert (made.text == text) == (not made.mends)


def test_a_story_is_mended_as_one() -> None:
    text = (EXAMPLES / "faulty" / "van-cold-morning.yaml").read_text(encoding="utf-8")
    made = mend(text)
    assert not made.after.findings
    first = made.mends[0]
    assert {"fuse-over-conductor", "conductor-too-small"} <= {f.rule for f in first.clears}
    assert "size: 4 AWG" in made.text
    assert "interrupt: 6 kA" in made.text  # thicker wire lets more through the fuse


def test_only_what_is_named_is_mended() -> None:
    text = (EXAMPLES / "faulty" / "van-cold-morning.yaml").read_text(encoding="utf-8")
    rule = "charge-below-freezing"

    def pick(result: Result) -> set[tuple[str, tuple[str, ...]]]:
        return {i for f in result.findings if f.rule == rule for i in f.identities}

    made = mended("plan.yaml", text, ALL, today=A_DAY, shown_as="plan.yaml", pick=pick)
    [done] = made.mends
    assert [f.rule for f in done.clears] == [rule]
    assert made.text.replace(", low_temperature_cutoff: true", "") == text


def test_what_stands_in_a_shared_file_is_told_and_the_rest_is_mended() -> None:
    old = "    batt-8: {size: 8 AWG"
    shared = edited((old, "    batt-8: &thick {size: 14 AWG")).replace(
        "strings:\n", "    spare: *thick\nstrings:\n", 1
    )
    made = mend(shared)
    told = [r for r in made.refused if isinstance(r.change, Change) and "cable" in r.change.key]
    assert told, made.mends
    assert "anchor `&thick`" in told[0].why
    assert "`size:" in told[0].by_hand
    load_plan("plan.yaml", text=made.text)


def test_a_plan_with_a_cable_that_nobody_knows_is_mended_all_the_same() -> None:
    text = edited(
        ("cable: batt-8, length: 1 m", "cable: unknown, length: 1 m"),
        ("max_output_current: 20 A", "max_output_current: 70 A"),
    )
    made = mend(text)
    assert made.mends
    assert not made.refused
    assert "cable: unknown" in made.text


def test_a_sound_plan_stays_as_it_is() -> None:
    text = ALL.rules["conductor-too-small"].sound
    made = mend(text)
    assert (made.text, made.mends) == (text, ())


def test_the_way_that_a_rule_names_first_is_taken_though_it_brings_a_note() -> None:
    """A current that can be set today, not a label of 60 A written on a battery of 18 A."""
    text = edited(
        ("max_output_current: 20 A", "max_output_current: 60 A"),
        ("capacity: 100 Ah", "capacity: 60 Ah"),
    )
    text = text.replace("max_charge_current: 50 A", "max_charge_current: 18 A")
    made = mend(text)
    [done] = [m for m in made.mends if m.clears[0].rule == "charge-current-over-battery"]
    assert next(c.target for c in done.changes) == ("tracker", "limited_to")
    assert "max_charge_current: 18 A" in made.text


def test_a_fuse_that_is_put_in_outlasts_a_pack_that_cuts_off() -> None:
    """Of two packs joined by a relay: the fuses between them carry all the load then."""
    name, mutation = next(
        (n, m) for n, m in DANGEROUS if n == "van-six-modules" and "no fuse to a second" in m.name
    )
    made = mend(text_of(mutated(name, mutation) or {}))
    assert [f.rule for f in made.mends[0].clears] == ["battery-fuse-missing"]
    assert not made.after.findings


@pytest.mark.parametrize(
    ("rule", "written"),
    [
        ("buried-cable-unsuited", "direct_burial: true"),
        ("compensation-odd", "compensation: -24 mV/°C"),
        ("isolator-drop-undercharges", "sensed: true"),
        ("pack-cut-off-overloads", "port-fuse: {rating: 90 A"),
    ],
)
def test_a_value_that_a_remedy_names_is_written(rule: str, written: str) -> None:
    text = ALL.rules[rule].faulty.of(ALL.rules[rule].sound)
    made = mend(text)
    assert written in made.text
    assert rule not in {finding.rule for finding in made.after.findings}
