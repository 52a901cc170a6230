"""Remedies tried in the plan, and findings about one component told as one story."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

import wattproof.engine
import wattproof.trials
from plans import edited
from wattproof.engine import Result, check_file
from wattproof.packs import RuleSet, discover
from wattproof.plan import load_plan
from wattproof.plan.amend import Change
from wattproof.plan.references import components
from wattproof.reports import text
from wattproof.rule import Edit, Observation, Remedy, Rule
from wattproof.study import Study
from wattproof.testing import A_DAY, check_text
from wattproof.trials import _is_told

THIN = edited(
    ("size: 8 AWG", "size: 16 AWG"),
    ("max_output_current: 20 A", "max_output_current: 20 A, low_temperature_cutoff: true"),
)


def found(result: Result) -> dict[str, int]:
    return {finding.rule: number for number, finding in enumerate(result.findings)}


def test_a_remedy_is_tried_and_tells_what_else_it_clears() -> None:
    result = check_text(THIN)
    thin = result.findings[found(result)["conductor-too-small"]]
    [trial] = thin.trials
    assert trial.changes == (Change("charge-run", "cable.size", "10 AWG"),)
    assert thin.identity in trial.clears


def test_one_remedy_for_all_that_is_wrong_with_a_wire() -> None:
    result = check_text(THIN)
    numbers = found(result)
    [story] = [story for story in result.stories if story.component == "charge-run"]
    told = {result.findings[number].rule for number in story.findings}
    assert {"conductor-too-small", "fuse-over-conductor"} <= told
    assert story.findings[0] == min(story.findings) == numbers["conductor-too-small"]
    assert story.changes, "no remedy clears them all"
    mended = check_text(THIN.replace("size: 16 AWG", f"size: {story.changes[0].text}"))
    assert not told & {finding.rule for finding in mended.findings}
    shown = " ".join(text.render([result]).split())
    assert f"are about `charge-run`. Tried: `size: {story.changes[0].text}` for the cable" in shown


def test_a_sound_plan_is_tried_nowhere(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("a trial was made")

    monkeypatch.setattr(wattproof.trials, "amended", never)
    assert not check_text(discover().rules["conductor-too-small"].sound).findings


def rule_set(remedy: Remedy) -> RuleSet:
    """A rule that dislikes a fuse of 40 A, and one that dislikes one of 20 A."""

    def forty(study: Study) -> Iterator[Observation]:
        fuse = study.plan.fuses["charge-fuse"]
        if fuse.rating.value == 40.0:
            yield Observation(message="40 A is disliked", on=(fuse,), remedy=remedy)

    def twenty(study: Study) -> Iterator[Observation]:
        fuse = study.plan.fuses["charge-fuse"]
        if fuse.rating.value == 20.0:
            yield Observation(message="20 A is disliked", on=(fuse,))

    def made(name: str, check: object) -> Rule:
        edit = Edit("", "")
        return Rule(name, "", "warning", "fire", "overcurrent", {}, "", "", edit, check)  # type: ignore[arg-type]

    return RuleSet({"forty": made("forty", forty), "twenty": made("twenty", twenty)})


def tried(*texts: str, key: str = "rating") -> Result:
    ways = tuple((Change("charge-fuse", key, each),) for each in texts)
    return check_text(edited(), rule_set(Remedy("use another", ways)))


def test_what_a_remedy_brings_is_told() -> None:
    result = tried("20 A", "30 A")
    first, second = result.findings[0].trials
    assert [b.message for b in first.brings] == ["20 A is disliked"]
    assert not second.brings
    shown = " ".join(text.render([result]).split())
    assert (
        "`rating: 20 A` for `charge-fuse`: written into the plan, it clears this, but then: "
        "20 A is disliked (twenty)"
    ) in shown
    assert "`rating: 30 A` for `charge-fuse`: written into the plan, it clears this; it" in shown


def test_a_remedy_that_clears_nothing_is_told() -> None:
    result = tried("58 V", key="voltage")
    assert not result.findings[0].trials[0].clears
    assert "it does not clear this alone" in " ".join(text.render([result]).split())


@pytest.mark.parametrize(("text_", "key"), [("40 V", "rating"), ("40 A", "colour")])
def test_a_remedy_that_cannot_be_written_is_not_tried(text_: str, key: str) -> None:
    result = tried(text_, key=key)
    assert result.findings[0].trials == ()
    assert result.findings[0].remedy == "use another"


def test_trials_end_at_their_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(wattproof.engine, "MAX_TRIALS", 1)
    assert len(tried("20 A", "30 A").findings[0].trials) == 1


def test_a_large_plan_is_tried_less_often(monkeypatch: pytest.MonkeyPatch) -> None:
    size = sum(1 for _ in components(load_plan("plan.yaml", text=edited())))
    monkeypatch.setattr(wattproof.trials, "MAX_COMPONENTS", 2 * size)
    assert len(tried("20 A", "30 A", "35 A").findings[0].trials) == 2


def test_remedies_can_be_left_untried() -> None:
    result = check_file("plan.yaml", discover(), today=A_DAY, text=THIN, try_remedies=False)
    assert any(f.ways for f in result.findings)
    assert not any(f.trials for f in result.findings)
    assert not any(story.changes for story in result.stories)


def test_a_finding_is_not_new_where_another_of_several_alike_is_named() -> None:
    """The joint stays; of equal strings the check may name another once a lead has its fuse."""
    known = {("unlike-voltage-in-parallel", ("joint", "s4", "s3")): 1}
    assert _is_told(("unlike-voltage-in-parallel", ("joint", "s2", "s3")), 1, known)
    assert not _is_told(("unlike-voltage-in-parallel", ("joint", "s2", "s3")), 0, known)
    assert not _is_told(("unlike-voltage-in-parallel", ("box", "s2")), 1, known)
    assert not _is_told(("unlike-current-in-series", ("joint", "s4", "s3")), 1, known)
