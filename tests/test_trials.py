"""Remedies tried in the plan, and findings about one component told as one story."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

import wattproof.engine
import wattproof.remedies.trials
from plans import EXAMPLES, edited
from wattproof.engine import Result, check_file
from wattproof.packs import RuleSet, discover
from wattproof.plan import load_plan
from wattproof.plan.amend import Addition, Change
from wattproof.plan.references import components
from wattproof.remedies.trials import is_told
from wattproof.reports.findings import brief, text
from wattproof.rule import Edit, Observation, Remedy, Rule
from wattproof.study import Study
from wattproof.testing import A_DAY, check_text

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
    assert trial.changes == (Change("charge-run", "cable.size", "8 AWG"),)  # its fuse wants that
    assert thin.identity in trial.clears


def test_one_remedy_for_all_that_is_wrong_with_a_wire() -> None:
    result = check_text(THIN)
    numbers = found(result)
    [story] = [story for story in result.stories if story.component == "charge-run"]
    told = {result.findings[number].rule for number in story.findings}
    assert {"conductor-too-small", "fuse-over-conductor"} <= told
    # The fuse that lets the wire burn stands before the wire that is too small: the graver first.
    assert story.findings[0] == min(story.findings) == numbers["fuse-over-conductor"]
    assert story.changes, "no remedy clears them all"
    mended = check_text(THIN.replace("size: 16 AWG", f"size: {story.changes[0].text}"))
    assert not told & {finding.rule for finding in mended.findings}
    shown = " ".join(text.render([result]).split())
    assert f"are about `charge-run`. Tried: `size: {story.changes[0].text}` for the cable" in shown


def test_a_sound_plan_is_tried_nowhere(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("a trial was made")

    monkeypatch.setattr(wattproof.remedies.trials, "amended", never)
    assert not check_text(discover().rules["conductor-too-small"].sound).findings


def disliking(name: str, *ratings: float, remedy: Remedy | str = "") -> Rule:
    """A rule that dislikes some ratings (A) of the fuse."""

    def check(study: Study) -> Iterator[Observation]:
        fuse = study.plan.fuses["charge-fuse"]
        if fuse.rating.value in ratings:
            message = f"{fuse.rating.value:g} A is disliked"
            yield Observation(message=message, on=(fuse,), remedy=remedy)

    edit = Edit("", "")
    return Rule(name, "", "warning", "fire", "overcurrent", {}, "", "", edit, check)


def rule_set(*rules: Rule) -> RuleSet:
    return RuleSet({rule.id: rule for rule in rules})


def tried(*texts: str, key: str = "rating") -> Result:
    ways = tuple((Change("charge-fuse", key, each),) for each in texts)
    forty = disliking("forty", 40.0, remedy=Remedy("use another", ways))
    return check_text(edited(), rule_set(forty, disliking("twenty", 20.0)))


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
    short = " ".join(brief.render([result]).split())
    assert "(tried: it clears this, but then: 20 A is disliked)" in short


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
    monkeypatch.setattr(wattproof.remedies.trials, "MAX_COMPONENTS", 2 * size)
    assert len(tried("20 A", "30 A", "35 A").findings[0].trials) == 2


def test_remedies_can_be_left_untried() -> None:
    result = check_file("plan.yaml", discover(), today=A_DAY, text=THIN, try_remedies=False)
    assert any(f.ways for f in result.findings)
    assert not any(f.trials for f in result.findings)
    assert not any(story.changes for story in result.stories)


def test_a_finding_is_not_new_where_another_of_several_alike_is_named() -> None:
    """The joint stays; of equal strings the check may name another once a lead has its fuse."""
    known = {("unlike-voltage-in-parallel", ("joint", "s4", "s3")): 1}
    assert is_told(("unlike-voltage-in-parallel", ("joint", "s2", "s3")), 1, known)
    assert not is_told(("unlike-voltage-in-parallel", ("joint", "s2", "s3")), 0, known)
    assert not is_told(("unlike-voltage-in-parallel", ("box", "s2")), 1, known)
    assert not is_told(("unlike-current-in-series", ("joint", "s4", "s3")), 1, known)


def test_a_story_tells_what_clears_most_of_it_with_what_that_asks_for_in_turn() -> None:
    result = check_file(str(EXAMPLES / "faulty" / "van-cold-morning.yaml"), discover(), today=A_DAY)
    [run] = [s for s in result.stories if s.component == "charge-run"]
    assert run.clears == run.findings
    changed = {change.target for change in run.changes}
    assert ("charge-run", "cable.size") in changed
    assert ("charge-fuse", "interrupt") in changed  # thicker wire lets more through the fuse
    [tracker] = [s for s in result.stories if s.component == "tracker"]
    [switch] = [change for change in tracker.changes if isinstance(change, Addition)]
    assert dict(switch.values)["rating"] == "15 A"  # 14 A, twice the current, by two strings


def test_a_story_of_which_a_part_has_no_computed_remedy() -> None:
    other = Remedy("use 30 A", ((Change("charge-fuse", "rating", "30 A"),),))
    rules = rule_set(
        disliking("first", 40.0, remedy=other),
        disliking("second", 40.0, 30.0),
        disliking("third", 40.0),
    )
    result = check_text(edited(), rules)
    [story] = result.stories
    assert story.changes == other.ways[0]
    assert [result.findings[number].rule for number in story.clears] == ["first", "third"]
    shown = " ".join(text.render([result]).split())
    assert "`rating: 30 A` for `charge-fuse` clears 1 and 3 and brings nothing new" in shown


def test_a_remedy_of_one_finding_alone_is_no_remedy_of_its_story() -> None:
    other = Remedy("use 30 A", ((Change("charge-fuse", "rating", "30 A"),),))
    rules = rule_set(disliking("first", 40.0, remedy=other), disliking("second", 40.0, 30.0))
    [story] = check_text(edited(), rules).stories
    assert (story.changes, story.clears) == ((), ())


def test_what_was_read_before_is_not_brought_by_a_change() -> None:
    """Three in series were read, and the remedy puts fewer there."""
    plan = edited(
        ("max_input_voltage: 100 V", "max_input_voltage: 80 V"),
    ) + (
        "readings:\n  open: {at: tracker.pv, voc: 67 V, irradiance: 850 W/m², "
        "back_temperature: 48 °C}\n"
    )
    [finding] = [f for f in check_text(plan).findings if f.rule == "cold-voltage-over-controller"]
    fewer = finding.trials[0]
    assert "series" in {change.target[1] for change in fewer.changes}
    assert finding.identity in fewer.clears
    assert not [b for b in fewer.brings if b.rule.startswith("reading")]
