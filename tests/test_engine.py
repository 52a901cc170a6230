"""The engine: levels, failures, acceptances, packs."""

from __future__ import annotations

import datetime
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from plans import BASE, edited
from wattproof import verdicts
from wattproof.engine import Result, check
from wattproof.finding import Caution, Hazard, Level, Signal
from wattproof.packs import RuleSet, load_pack
from wattproof.rule import Clause, Edit, Observation, Rule, option, rule
from wattproof.settings import of_call
from wattproof.study import Study
from wattproof.testing import A_DAY, check_text, study_of
from wattproof.working import declared

PRACTICE = {"common practice": Clause("common practice", "", "one does so", verified=True)}
META = {
    "summary": "A rule for tests.",
    "level": "error",
    "hazard": "damage",
    "part": "conductor",
    "basis": PRACTICE,
    "explanation": "It is only a test.",
    "sound": BASE,
    "faulty": Edit("series: 3", "series: 4"),
}


@rule(id="home-run-named", **META)
def home_run_named(study: Study) -> Iterator[Observation]:
    wire = study.wiring.wires["home-run"]
    current = wire.current
    assert current is not None
    yield Observation("the home run exists", on=(wire,), values=(current,), margin=-0.05)


@rule(id="breaks-half-way", **META)
def breaks_half_way(study: Study) -> Iterator[Observation]:
    yield Observation("seen before it broke", on=(study.wiring.wires["home-run"],))
    raise RuntimeError("this rule is broken")


@rule(id="breaks-on-thin-wire", **META)
def breaks_on_thin_wire(study: Study) -> Iterator[Observation]:
    """Finds the home run too thin, and breaks where it is thin and as long as usual."""
    wire = study.wiring.wires["home-run"]
    area = declared(wire.sheet.size, "A", "size of the home run")
    if area.number < 2.6e-6:
        yield Observation("it is thin", on=(wire,), values=(area, wire.length), margin=-0.05)
        if wire.length.number <= 5.0:
            raise RuntimeError("this rule is broken")


@dataclass(frozen=True)
class Limits:
    most: float = option(1.0, "A limit.")


@rule(id="has-a-limit", options=Limits, **META)
def has_a_limit(study: Study, limits: Limits) -> Iterator[Observation]:
    current = study.wiring.wires["home-run"].current
    assert current is not None
    if current > limits.most:
        yield Observation("over", on=(study.wiring.wires["home-run"],), values=(current,))


def run(text: str, *rules: Rule, **options: dict[str, float]) -> Result:
    rule_set = RuleSet({r.id: r for r in rules})
    settings = of_call({key.replace("_", "-"): value for key, value in options.items()})
    return check(study_of(text), rule_set, file="plan.yaml", today=A_DAY, settings=settings).result


def accepted(fields: str) -> str:
    return edited(("wires:\n", f"accepted:\n  - {{{fields}}}\nwires:\n"))


class TestFindings:
    def test_a_finding_carries_what_the_rule_says(self) -> None:
        [finding] = run(BASE, home_run_named).findings
        assert finding.subjects == ("home-run",)
        assert finding.place.line == BASE[: BASE.index("home-run:")].count("\n") + 1
        assert finding.basis == ("common practice: one does so",)
        assert finding.local
        assert finding.verdict == "certain"

    def test_certain_likely_and_a_question(self) -> None:
        """A cable whose voltage nobody tells: 600 V as is usual, 60 V at worst, 1000 V at best."""
        silent = edited(("insulation_temperature: 90 °C, voltage: 600 V", "")).replace(
            "kind: pv,", ""
        )

        def under(volts: float) -> Rule:
            def check(study: Study) -> Iterator[Observation]:
                wire = study.wiring.wires["home-run"]
                if wire.rated_voltage < volts:
                    yield Observation("too low", on=(wire,), values=(wire.rated_voltage,))

            return replace(home_run_named, check=check)

        assert "voltage" not in silent.split("pv-10:")[1].split("}")[0]
        [hard] = run(silent, under(2000.0)).findings
        [soft] = run(silent, under(800.0)).findings
        asked = run(silent, under(100.0))
        sound = run(silent, under(50.0))
        assert (hard.level, hard.verdict) == ("error", "certain")
        assert (soft.level, soft.verdict, soft.rule_level) == ("warning", "likely", "error")
        assert not asked.findings
        [question] = asked.questions
        assert question.subjects == ("pv-10",)
        assert [d.subjects for d in question.decides] == [("home-run",)]
        assert (sound.findings, sound.questions, sound.at_worst) == ((), (), 0)

    def test_options_have_defaults_and_can_be_set(self) -> None:
        assert len(run(BASE, has_a_limit).findings) == 1
        assert not run(BASE, has_a_limit, has_a_limit={"most": 50.0}).findings

    def test_an_assumption_names_the_rules_that_read_it(self) -> None:
        text = edited(("  coldest: -18 °C\n", ""))

        @rule(id="reads-cold", **META)
        def reads_cold(study: Study) -> Iterator[Observation]:
            if study.array.arrays[0].voc("coldest") > 1e6:
                yield Observation("never", on=(study.wiring.wires["home-run"],))

        result = run(text, reads_cold, home_run_named)
        [uses] = [u for a, u in result.uses.items() if a.key == "coldest temperature"]
        assert uses == ("reads-cold",)


class TestImpossibleLabels:
    """What rests on a label which cannot be right is a question."""

    @staticmethod
    def compare(part: str) -> Rule:
        def check_current(study: Study) -> Iterator[Observation]:
            current = study.wiring.wires["home-run"].current
            assert current is not None
            yield Observation("too much", on=(study.wiring.wires["home-run"],), values=(current,))

        return replace(home_run_named, check=check_current, part=part)

    def test_what_reads_the_doubtful_value_is_a_question(self) -> None:
        text = edited(("imp: 4.9 A", "imp: 5.6 A"))
        result = run(text, self.compare("conductor"))
        assert not result.findings
        [question] = result.questions
        assert question.line == "the label of `rigid-100`, which cannot be right: decides damage"

    def test_rules_on_labels_are_what_finds_it(self) -> None:
        text = edited(("imp: 4.9 A", "imp: 5.6 A"))
        [finding] = run(text, self.compare("module")).findings
        assert (finding.verdict, finding.level) == ("certain", "error")

    def test_a_label_that_can_be_leaves_verdicts_alone(self) -> None:
        [finding] = run(BASE, self.compare("conductor")).findings
        assert (finding.verdict, finding.level) == ("certain", "error")


class TestFailures:
    def test_a_rule_that_raises_does_not_silence_the_others(self) -> None:
        result = run(BASE, breaks_half_way, home_run_named)
        assert result.failed
        assert result.ran == ("home-run-named",)
        assert result.planned == ("breaks-half-way", "home-run-named")
        messages = [f.message for f in result.findings]
        assert "seen before it broke" in messages
        assert any("`breaks-half-way` failed" in m and "RuntimeError" in m for m in messages)

    def test_a_wrong_option_is_a_failure_of_the_rule(self) -> None:
        result = run(BASE, has_a_limit, has_a_limit={"least": 1.0})
        assert result.failed

    @pytest.mark.parametrize("alone", [0, 60])
    def test_a_rule_that_fails_where_labels_are_tried_is_a_failure_and_no_question(
        self, alone: int, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """alone: how many labels are tried each alone; of more, those of one kind together."""
        monkeypatch.setattr(verdicts, "MOST_ALONE", alone)
        text = edited(
            ("pv-10: {size: 10 AWG", "pv-10: {size: unknown"),
            (
                "cable: pv-10, length: 4 m, place: [roof",
                "cable: pv-10, length: unknown, place: [roof",
            ),
        )
        result = run(text, breaks_on_thin_wire)
        assert result.failed
        decided = {d.rule for q in result.questions for d in q.decides}
        assert "rule-failed" not in decided

    def test_a_failure_cannot_be_accepted(self) -> None:
        text = accepted("rule: rule-failed, where: plan, reason: no matter")
        result = run(text, breaks_half_way)
        assert all(f.acceptance is None for f in result.findings)
        assert result.failed


class TestAcceptances:
    BARE = "rule: home-run-named, where: home-run, reason: only for the summer"
    FIELDS = BARE + ", margin: 5 %"

    def accept(self, fields: str, *rules: Rule) -> Result:
        return run(accepted(fields), *(rules or (home_run_named,)))

    def test_an_accepted_finding_stays_visible(self) -> None:
        [finding] = self.accept(self.FIELDS + ", by: the owner, until: 2027-01-01").findings
        assert finding.acceptance is not None
        assert finding.acceptance.reason == "only for the summer"
        assert finding.acceptance.until == "2027-01-01"

    @pytest.mark.parametrize(
        ("fields", "rule_id"),
        [
            ("rule: home-run-named, where: home-run", "acceptance-without-reason"),
            (FIELDS + ", until: 2026-06-30", "acceptance-ended"),
            (FIELDS.replace("where: home-run", "where: charge-run"), "acceptance-unused"),
            (FIELDS.replace("home-run-named", "no-such-rule"), "acceptance-unknown"),
            (BARE + ", margin: 2 %", "acceptance-outgrown"),
            (BARE, "acceptance-without-margin"),
        ],
    )
    def test_what_does_not_count_is_itself_a_finding(self, fields: str, rule_id: str) -> None:
        findings = self.accept(fields).findings
        assert {f.rule for f in findings} == {"home-run-named", rule_id}
        assert all(f.acceptance is None for f in findings)

    def test_the_last_day_still_counts(self) -> None:
        [finding] = self.accept(self.FIELDS + f", until: {A_DAY.isoformat()}").findings
        assert finding.acceptance is not None

    def test_a_margin_that_is_no_worse_still_counts(self) -> None:
        [finding] = self.accept(self.FIELDS).findings
        assert finding.acceptance is not None

    def test_where_no_margin_is_stored_the_check_says_what_to_store(self) -> None:
        told = [f for f in self.accept(self.BARE).findings if f.rule == "acceptance-without-margin"]
        assert [f.remedy for f in told] == ["look at it again, and write `margin: 5 %`"]

    @pytest.mark.parametrize(
        ("level", "hazard", "signal", "may"),
        [
            ("error", "fire", None, False),
            ("error", "shock", None, False),
            ("error", "damage", "DANGER", False),
            ("error", "damage", "NOTICE", True),
            ("warning", "fire", None, True),
        ],
    )
    def test_fire_shock_and_death_cannot_be_accepted(
        self, level: Level, hazard: Hazard, signal: Signal | None, may: bool
    ) -> None:
        """One list, made from what the rules say of themselves."""
        caution = Caution(signal, "Somebody is hurt.") if signal is not None else None
        made = replace(home_run_named, level=level, hazard=hazard, caution=caution)
        assert made.acceptable == may

    def test_a_hard_limit_cannot_be_accepted(self) -> None:
        hard = replace(home_run_named, acceptable=False)
        findings = self.accept(self.FIELDS, hard).findings
        assert {f.rule for f in findings} == {"home-run-named", "acceptance-refused"}
        assert all(f.acceptance is None for f in findings)

    def test_a_former_id_still_works(self) -> None:
        renamed = replace(home_run_named, former_ids=("old-name",))
        [finding] = self.accept(self.FIELDS.replace("home-run-named", "old-name"), renamed).findings
        assert finding.acceptance is not None


GOOD = """
from wattproof.rule import Clause, Edit, Observation, rule

@rule(id="{id}", summary="s", level="note", hazard="legal", part="plan", basis={{}},
      explanation="e", sound="", faulty=Edit("a", "b"))
def found(study):
    yield Observation("here", on=(study.wiring.wires["home-run"],))
"""


class TestPacks:
    @pytest.fixture
    def pack(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):  # type: ignore[no-untyped-def]
        monkeypatch.syspath_prepend(str(tmp_path))

        def make(name: str, **modules: str) -> str:
            folder = tmp_path / name
            folder.mkdir()
            (folder / "__init__.py").write_text("")
            for module, text in modules.items():
                (folder / f"{module}.py").write_text(text)
            return name

        yield make
        for name in [n for n in sys.modules if n.startswith("pack_")]:
            del sys.modules[name]

    def test_ids_of_other_packs_carry_their_name(self, pack) -> None:  # type: ignore[no-untyped-def]
        rule_set = load_pack("harbour", pack("pack_a", one=GOOD.format(id="too-long")))
        assert list(rule_set.rules) == ["harbour/too-long"]
        result = check(study_of(BASE), rule_set, file="p", today=A_DAY).result
        assert [f.rule for f in result.findings] == ["harbour/too-long"]

    def test_a_module_that_cannot_be_imported_is_a_finding(self, pack) -> None:  # type: ignore[no-untyped-def]
        name = pack("pack_b", bad="import no_such_thing", good=GOOD.format(id="fine"))
        rule_set = load_pack("harbour", name)
        assert list(rule_set.rules) == ["harbour/fine"]
        result = check(study_of(BASE), rule_set, file="p", today=A_DAY).result
        assert result.failed
        [failure] = [f for f in result.findings if f.rule == "rule-failed"]
        assert "pack_b.bad" in failure.message
        assert "`harbour`" in failure.message

    def test_a_pack_that_does_not_exist_is_a_finding(self) -> None:
        rule_set = load_pack("harbour", "pack_missing")
        assert [f.pack for f in rule_set.failures] == ["harbour"]

    def test_two_claims_of_one_id_name_both(self, pack) -> None:  # type: ignore[no-untyped-def]
        name = pack("pack_c", one=GOOD.format(id="same"), two=GOOD.format(id="same"))
        rule_set = load_pack("harbour", name)
        assert "both claim `harbour/same`" in rule_set.failures[0].reason

    def test_a_rule_with_a_bad_id_is_a_failure(self, pack) -> None:  # type: ignore[no-untyped-def]
        rule_set = load_pack("harbour", pack("pack_d", one=GOOD.format(id="Not_Good")))
        assert rule_set.failures


def test_today_decides_when_an_acceptance_ends() -> None:
    text = accepted(TestAcceptances.FIELDS + ", until: 2026-12-31")
    rule_set = RuleSet({home_run_named.id: home_run_named})
    study = study_of(text)
    before = check(study, rule_set, file="p", today=datetime.date(2026, 12, 31)).result
    after = check(study, rule_set, file="p", today=datetime.date(2027, 1, 1)).result
    assert [f.rule for f in before.findings] == ["home-run-named"]
    assert "acceptance-ended" in {f.rule for f in after.findings}


class TestToldInPart:
    """What a plan that tells a part does not mention may be there all the same."""

    def test_an_absent_fuse_is_a_question_then(self) -> None:
        fuse = ",\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]"
        bare = edited((fuse, ""))
        whole = check_text(bare)
        part = check_text(bare.replace("wattproof: 1\n", "wattproof: 1\ntold: {fuses: part}\n"))
        assert "battery-fuse-missing" in {f.rule for f in whole.each}
        assert "battery-fuse-missing" not in {f.rule for f in part.each}
        assert part.questions[0].line.startswith("whether there is a fuse or breaker for")
