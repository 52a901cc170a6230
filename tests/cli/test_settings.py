"""Settings files: where they are found, what they may set, what is said of it, and hostile ones."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ruamel.yaml import YAML

from cli.calls import FAULTY, ROOT, SOUND, call, failing_pack, folder
from wattproof.cli.plans import find_plans
from wattproof.finding import Level
from wattproof.packs import PackFailure, RuleSet, discover
from wattproof.plan.schema import schema_text
from wattproof.settings import Setting, Settings, search
from wattproof.settings.read import load_settings
from wattproof.settings.schema import settings_schema
from wattproof.source import Place, PlanUnusable, Problem

RULES = discover()
NAME = "wattproof-settings.yaml"
HARD = "cold-voltage-over-controller"
SOFT = "voltage-drop-high"
CLIPS = "controller-clips"
GOOD = f"""\
wattproof-settings: 1
threshold: note
rules:
  {CLIPS}:
    off: true
    reason: all our vans are used in winter only
  {SOFT}: {{level: error}}
  pwm-voltage-wasted: {{options: {{wasted: 0.3}}}}
  array-voltage-touchable: {{level: note, options: {{volts: 50}}}}
"""
PLACE = Place("s.yaml", 1, 1, 1, 1)


def problems(tmp_path: Path, text: str, rules: RuleSet = RULES) -> list[Problem]:
    path = tmp_path / NAME
    path.write_text(text, encoding="utf-8")
    with pytest.raises(PlanUnusable) as caught:
        load_settings(str(path), rules)
    return caught.value.problems


def loaded(tmp_path: Path, text: str) -> Settings:
    path = tmp_path / NAME
    path.write_text(text, encoding="utf-8")
    return load_settings(str(path), RULES)


def repository(at: Path, settings: str | None = GOOD, **plans: str) -> Path:
    """A folder that is the top of a repository, with plans and a settings file."""
    (at / ".git").mkdir(parents=True)
    if settings is not None:
        (at / NAME).write_text(settings, encoding="utf-8")
    return folder(at, **plans)


class TestReading:
    def test_everything_that_can_be_set(self, tmp_path: Path) -> None:
        read = loaded(tmp_path, GOOD)
        assert read.least == "note"
        assert read.off[CLIPS].reason == "all our vans are used in winter only"
        assert read.levels[SOFT].value == "error"
        assert read.options_of("pwm-voltage-wasted") == {"wasted": 0.3}
        assert [s.rule for s in read.all_set()] == [
            "array-voltage-touchable",
            "array-voltage-touchable",
            CLIPS,
            "pwm-voltage-wasted",
            SOFT,
        ]
        places = {(s.rule, s.what): s.setting.place for s in read.all_set()}
        assert all(p is not None and p.file.endswith(NAME) for p in places.values())
        assert [p.line for p in places.values() if p] == [9, 9, 4, 8, 7]

    def test_nothing_need_be_set(self, tmp_path: Path) -> None:
        read = loaded(tmp_path, "wattproof-settings: 1\n")
        assert (read.least, list(read.all_set())) == ("warning", [])

    @pytest.mark.parametrize(
        ("rules", "line", "column", "message", "instead"),
        [
            ("controller-clip: {level: error}", 3, 3, "no rule `controller-clip`", f"`{CLIPS}`"),
            (
                "rule-failed: {off: true, reason: x}",
                3,
                3,
                "no rule `rule-failed`",
                "wattproof rule",
            ),
            ("Controller Clips: {level: error}", 3, 3, "is not the id of a rule", "rules` lists"),
            (f"{CLIPS}: {{off: true}}", 3, 3, "is switched off without a reason", "reason:"),
            (f"{CLIPS}: {{off: yes, reason: x}}", 3, 27, "neither `true` nor `false`", "`true`"),
            (f"{CLIPS}: {{of: true, reason: x}}", 3, 22, "has no key `of`", "`off`"),
            (f"{CLIPS}: off", 3, 21, "belong under keys", "off: true"),
            (f"{CLIPS}: {{level: loud}}", 3, 29, "none of error, warning, note", "use one of"),
            (f"{CLIPS}: {{options: {{time: 2}}}}", 3, 32, "has no option `time`", "`times`"),
            (f"{CLIPS}: {{options: {{times: 2 %}}}}", 3, 39, "not a plain number", "`0.02`"),
            (f"{CLIPS}: {{options: {{times: inf}}}}", 3, 39, "not a plain number", "0.03"),
            (f"{CLIPS}: {{options: {{times: 1_0}}}}", 3, 39, "not a plain number", "0.03"),
            (f"{CLIPS}: {{options: {{times: []}}}}", 3, 39, "one number", "0.03"),
            (f"{CLIPS}: {{options: 3}}", 3, 31, "not a mapping of options", "wrong: 0.08"),
            (f"{SOFT}: {{options: {{limit: 3}}}}", 3, 33, "no option `limit`", "it has none"),
            (f"{SOFT}: {{level: note}}", 3, 3, "is made a note without a reason", "reason:"),
            (f"{HARD}: {{off: true, reason: x}}", 3, 3, "hard limit", "delete `off`"),
            (f"{HARD}: {{level: note, reason: x}}", 3, 3, "hard limit", "delete `level`"),
            (
                f"{CLIPS}: {{level: error}}\n  {CLIPS}: {{level: note}}",
                4,
                3,
                "stands twice",
                "keep",
            ),
            (f"{CLIPS}: {{reason: }}", 3, 22, "has no value", "write a value"),
            (f"{CLIPS}: !!python/name:os.system {{}}", 3, 21, "the tag", "delete the tag"),
        ],
    )
    def test_a_mistake_is_told_at_its_place(
        self, tmp_path: Path, rules: str, line: int, column: int, message: str, instead: str
    ) -> None:
        [problem] = problems(tmp_path, f"wattproof-settings: 1\nrules:\n  {rules}\n")
        assert (problem.place.line, problem.place.column) == (line, column)
        assert message in problem.message
        assert instead in problem.instead

    @pytest.mark.parametrize(
        ("text", "line", "message"),
        [
            ("", 1, "a settings file is a mapping"),
            ("rules: {}\n", 1, "which settings file format"),
            ("wattproof: 1\n", 1, "no key `wattproof`"),
            ("wattproof-settings: 2\n", 1, "settings file format 2"),
            ("wattproof-settings: one\n", 1, "no settings file format"),
            ("wattproof-settings: 1\ncode: iec\n", 2, "no key `code`"),
            ("wattproof-settings: 1\nthreshold: all\n", 2, "none of error, warning, note"),
            ("wattproof-settings: 1\nrules: []\n", 2, "under a name of its own"),
            ("wattproof-settings: 1\nrules: {\n", 3, "breaks off"),
            ("wattproof-settings: 1\n---\nrules: {}\n", 2, "one YAML document"),
        ],
    )
    def test_a_mistake_of_the_whole_file(
        self, tmp_path: Path, text: str, line: int, message: str
    ) -> None:
        found = problems(tmp_path, text)
        assert any(p.place.line == line and message in p.message for p in found), found
        assert all("a plan" not in p.message + p.instead for p in found)

    def test_all_mistakes_are_told_at_once(self, tmp_path: Path) -> None:
        text = "wattproof-settings: 1\nthreshold: x\nrules:\n  a: {off: true}\n  b: {leve: error}\n"
        assert [p.place.line for p in problems(tmp_path, text)] == [2, 4, 5, 5]

    def test_a_rule_of_a_pack_that_failed_is_not_called_unknown(self, tmp_path: Path) -> None:
        broken = RuleSet(RULES.rules, (PackFailure("ill", "ill_pack", "it broke"),))
        path = tmp_path / NAME
        path.write_text("wattproof-settings: 1\nrules: {ill/some-rule: {level: error}}\n")
        assert not list(load_settings(str(path), broken).all_set())
        assert problems(tmp_path, path.read_text())

    def test_a_former_id_is_the_rule_s_and_counts_as_the_same(self, tmp_path: Path) -> None:
        from dataclasses import replace

        renamed = replace(RULES.rules[CLIPS], former_ids=("clipping",))
        rules = RuleSet({**RULES.rules, CLIPS: renamed})
        path = tmp_path / NAME
        path.write_text("wattproof-settings: 1\nrules:\n  clipping: {level: error}\n")
        assert list(load_settings(str(path), rules).levels) == [CLIPS]
        both = path.read_text() + f"  {CLIPS}: {{level: error}}\n"
        [problem] = problems(tmp_path, both, rules)
        assert "set twice" in problem.message


@pytest.mark.parametrize(
    ("own", "seen", "level", "held"),
    [
        ("warning", "warning", "error", "error"),
        ("warning", "note", "error", "error"),
        ("warning", "error", "warning", "error"),
        ("warning", "note", "warning", "warning"),
        ("error", "error", "note", "note"),
        ("error", "warning", "note", "note"),
        ("error", "note", "warning", "note"),
        ("error", "error", "warning", "warning"),
    ],
)
def test_which_level_holds(own: Level, seen: Level, level: Level, held: Level) -> None:
    settings = Settings(levels={"a-rule": Setting(level, PLACE)})
    assert settings.level_of("a-rule", own, seen) == held
    assert settings.level_of("another", own, seen) == seen


class TestWhichFileHolds:
    def test_the_nearest_and_no_other(self, tmp_path: Path) -> None:
        top = repository(tmp_path / "top")
        near = top / "a" / "b"
        near.mkdir(parents=True)
        assert search(str(near)).files == (str(top / NAME),)
        (top / "a" / NAME).write_text("wattproof-settings: 1\n")
        assert search(str(near)).files == (str(top / "a" / NAME),)

    def test_not_one_above_the_repository(self, tmp_path: Path) -> None:
        (tmp_path / NAME).write_text(GOOD)
        top = repository(tmp_path / "top", None)
        (top / "a").mkdir()
        found = search(str(top / "a"))
        assert (found.files, found.last) == ((), str(top))

    def test_a_folder_that_does_not_exist_has_none(self) -> None:
        assert search("no/such/folder").files == ()

    def test_each_plan_has_its_own(self, tmp_path: Path) -> None:
        top = repository(tmp_path, a__plan=FAULTY, b__plan=FAULTY)
        (top / "a" / NAME).write_text(f"wattproof-settings: 1\nrules: {{{SOFT}: {{level: error}}}}")
        done = call("check", ".", "--format", "json", cwd=top)
        first, second = (p["settings"] for p in json.loads(done.stdout)["plans"])
        assert (first["file"], first["threshold"]) == ("a/wattproof-settings.yaml", "warning")
        assert (second["file"], second["threshold"]) == ("wattproof-settings.yaml", "note")

    def test_standard_input_has_that_of_its_name(self, tmp_path: Path) -> None:
        top = repository(tmp_path, None)
        (top / "a").mkdir()
        (top / "a" / NAME).write_text("wattproof-settings: 2\n")
        plan = SOUND.encode()
        assert call("check", "-", stdin=plan, cwd=top).returncode == 0
        assert call("check", "-", "--name", "a/p.yaml", stdin=plan, cwd=top).returncode == 2

    def test_one_that_the_call_names_holds_for_all(self, tmp_path: Path) -> None:
        top = repository(tmp_path, "wattproof-settings: 2\n", plan=SOUND)
        (top / "shop.yaml").write_text(GOOD)
        done = call("check", ".", "--settings", "shop.yaml", "--format", "json", cwd=top)
        assert done.returncode == 0
        [plan] = json.loads(done.stdout)["plans"]
        assert plan["settings"]["file"] == "shop.yaml"

    def test_two_spellings_in_a_folder_are_refused(self, tmp_path: Path) -> None:
        top = repository(tmp_path, plan=SOUND)
        (top / "wattproof-settings.yml").write_text(GOOD)
        done = call("check", "plan.yaml", cwd=top)
        assert done.returncode == 2
        assert b"wattproof-settings.yml:1:1" in done.stdout

    @pytest.mark.parametrize("named", ["missing.yaml", ".", "-"])
    def test_a_file_that_is_none_is_unusable(self, tmp_path: Path, named: str) -> None:
        top = repository(tmp_path, None, plan=SOUND)
        done = call("check", "plan.yaml", "--settings", named, cwd=top)
        assert done.returncode == 2
        assert b"Traceback" not in done.stderr

    def test_a_link_that_leads_nowhere_is_not_passed_over(self, tmp_path: Path) -> None:
        top = repository(tmp_path, None, plan=SOUND)
        (top / NAME).symlink_to("gone.yaml")
        assert call("check", "plan.yaml", cwd=top).returncode == 2


@pytest.mark.parametrize(
    ("name", "text"),
    [
        (NAME, GOOD),
        ("wattproof-settings.yml", "wattproof: 1\nsetting: boat\n"),
        ("shop.yaml", GOOD),
        ("shop.yaml", "{wattproof-settings: 1, threshold: note}\n"),
    ],
)
def test_a_settings_file_is_no_plan(tmp_path: Path, name: str, text: str) -> None:
    folder(tmp_path, plan=SOUND)
    (tmp_path / name).write_text(text, encoding="utf-8")
    assert find_plans([str(tmp_path)], lambda plan: False) == [str(tmp_path / "plan.yaml")]


def test_a_settings_file_named_as_a_plan_is_told_so(tmp_path: Path) -> None:
    top = repository(tmp_path, plan=SOUND)
    done = call("check", "plan.yaml", NAME, cwd=top)
    assert done.returncode == 2
    assert b"holds settings" in done.stderr


class TestCheck:
    def test_a_rule_that_is_off_is_not_run_and_the_report_says_so(self, tmp_path: Path) -> None:
        top = repository(tmp_path, plan=SOUND)
        shown = call("check", "plan.yaml", cwd=top).stdout.decode()
        total = len(RULES.rules)
        left = sum(not rule.is_for("vehicle") for rule in RULES.rules.values())
        counted = f"{total - 1 - left} of {total} rules ran, {left} not for this setting, 1 off by"
        assert f"{counted} settings" in " ".join(shown.split())
        assert f"`{CLIPS}` is off: what it guards against was not looked for" in shown
        assert "Reason    all our vans are used in winter only" in shown
        assert "Where     wattproof-settings.yaml:4:3" in shown
        assert "no rule that ran found a fault" in shown
        assert max(map(len, shown.splitlines())) <= 80
        [plan] = json.loads(call("check", "plan.yaml", "--format", "json", cwd=top).stdout)["plans"]
        assert CLIPS not in plan["rules_ran"] + plan["rules_planned"]
        assert not plan["failed"]

    def test_sarif_has_it_as_overrides(self, tmp_path: Path) -> None:
        top = repository(tmp_path, plan=FAULTY)
        done = call("check", ".", "--format", "sarif", cwd=top)
        text = (ROOT / "tests/external/sarif-schema-2.1.0.json").read_text(encoding="utf-8")
        jsonschema.Draft7Validator(json.loads(text)).validate(json.loads(done.stdout))
        [run] = json.loads(done.stdout)["runs"]
        [invocation] = run["invocations"]
        found = {o["descriptor"]["id"]: o for o in invocation["ruleConfigurationOverrides"]}
        assert found[CLIPS]["configuration"] == {"enabled": False}
        assert found[CLIPS]["properties"]["setAt"] == ["wattproof-settings.yaml:4:3"]
        assert found[SOFT]["configuration"] == {"enabled": True, "level": "error"}
        assert found["pwm-voltage-wasted"]["configuration"]["parameters"] == {"wasted": 0.3}
        for rule_id, override in found.items():
            assert run["tool"]["driver"]["rules"][override["descriptor"]["index"]]["id"] == rule_id
        assert all("provenance" not in result for result in run["results"])

    def test_sarif_of_plans_under_unlike_settings_says_which_held(self, tmp_path: Path) -> None:
        top = repository(tmp_path, None, a__plan=FAULTY, b__plan=FAULTY)
        (top / "b" / NAME).write_text(GOOD)
        [run] = json.loads(call("check", ".", "--format", "sarif", cwd=top).stdout)["runs"]
        first, second = run["invocations"]
        assert "ruleConfigurationOverrides" not in first
        assert second["ruleConfigurationOverrides"]
        assert [r["provenance"]["invocationIndex"] for r in run["results"]] == [0, 1]

    @pytest.mark.parametrize("format", ["text", "json", "sarif"])
    def test_bad_settings_are_told_in_every_format(self, tmp_path: Path, format: str) -> None:
        top = repository(tmp_path, f"wattproof-settings: 1\nrules:\n  {HARD}: {{off: true}}\n")
        folder(top, plan=SOUND)
        done = call("check", "plan.yaml", "--format", format, cwd=top)
        assert (done.returncode, done.stderr) == (2, b"")
        assert b"hard limit" in done.stdout
        if format == "json":
            [plan] = json.loads(done.stdout)["plans"]
            assert (plan["problems"][0]["file"], plan["problems"][0]["line"]) == (NAME, 3)
        if format == "sarif":
            [note] = json.loads(done.stdout)["runs"][0]["invocations"][0][
                "toolExecutionNotifications"
            ]
            assert note["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == NAME

    def test_the_threshold_holds_unless_the_call_sets_one(self, tmp_path: Path) -> None:
        weak = SOUND.replace("length: 1 m", "length: 20 m")
        file = f"threshold: error\nrules: {{{SOFT}: {{level: note, reason: known}}}}\n"
        top = repository(tmp_path, f"wattproof-settings: 1\n{file}", plan=weak)
        (top / "none.yaml").write_text("wattproof-settings: 1\n")
        plain = call("check", "plan.yaml", "--settings", "none.yaml", cwd=top)
        assert (plain.returncode, SOFT.encode() in plain.stdout) == (1, True)
        eased = call("check", "plan.yaml", "--format", "json", cwd=top)
        [plan] = json.loads(eased.stdout)["plans"]
        levels = {f["level"] for f in plan["findings"] if f["rule"] == SOFT}
        assert levels == {"note"}
        assert call("check", "plan.yaml", "--level", "note", cwd=top).returncode == 1

    def test_an_option_of_the_call_wins(self, tmp_path: Path) -> None:
        file = f"wattproof-settings: 1\nrules: {{{HARD}: {{options: {{label_tolerance: 0.9}}}}}}\n"
        top = repository(tmp_path, file, plan=SOUND)
        assert call("check", "plan.yaml", cwd=top).returncode == 1
        option = f"{HARD}.label_tolerance=0.03"
        done = call("check", "plan.yaml", "--option", option, cwd=top)
        assert done.returncode == 0
        assert b"Where     the command line" in done.stdout

    def test_an_acceptance_of_a_rule_that_is_off_is_not_called_unused(self, tmp_path: Path) -> None:
        accepted = f"accepted:\n  - {{rule: {CLIPS}, where: tracker, reason: seen}}\n"
        top = repository(tmp_path, plan=SOUND + accepted)
        (top / "none.yaml").write_text("wattproof-settings: 1\n")
        assert b"acceptance-unused" not in call("check", "plan.yaml", cwd=top).stdout
        plain = call("check", "plan.yaml", "--settings", "none.yaml", cwd=top)
        assert b"acceptance-unused" in plain.stdout

    def test_a_pack_that_fails_wins_over_what_is_set_for_it(self, tmp_path: Path) -> None:
        packs = failing_pack(tmp_path / "packs", "def broken(:\n")
        file = "wattproof-settings: 1\nrules: {ill/ill-rule: {off: true, reason: x}}\n"
        top = repository(tmp_path / "top", file, plan=SOUND)
        assert call("check", "plan.yaml", cwd=top, packs=packs).returncode == 3

    def test_both_hooks_check_under_it(self, tmp_path: Path) -> None:
        hooks = YAML(typ="safe").load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
        top = repository(tmp_path, **{"van.plan": SOUND})
        (top / "other.yaml").write_text("services: {}\n", encoding="utf-8")
        for hook in hooks:
            program, *arguments = hook["entry"].split()
            assert program == "wattproof"
            files = (
                ["van.plan.yaml", "other.yaml", NAME] if hook.get("pass_filenames", True) else []
            )
            done = call(*arguments, *files, cwd=top)
            assert done.returncode == 0, hook["id"]
            assert b"1 off by settings" in done.stdout


class TestCommand:
    EFFECTIVE = jsonschema.Draft202012Validator(
        json.loads((ROOT / "schemas" / "effective.schema.json").read_text(encoding="utf-8"))
    )

    def _document(self, *arguments: str, cwd: Path, status: int = 0) -> Any:
        done = call("settings", *arguments, "--format", "json", cwd=cwd)
        assert done.returncode == status, done.stderr
        document = json.loads(done.stdout)
        self.EFFECTIVE.validate(document)
        return document

    def test_it_shows_what_is_set_and_where(self, tmp_path: Path) -> None:
        top = repository(tmp_path, a__plan=SOUND)
        option = "controller-clips.times=2"
        done = call("settings", "a/plan.yaml", "--option", option, cwd=top)
        shown = done.stdout.decode()
        assert done.returncode == 0
        for text in (
            "Settings  wattproof-settings.yaml",
            "Threshold note\nFrom      wattproof-settings.yaml:2:12",
            f"  * {CLIPS}: off\n    From      wattproof-settings.yaml:4:3\n    Reason    all our",
            f"  * {CLIPS}.times: 2, unless set 1.5\n    From      the command line",
            f"  * {SOFT}: level error, unless set warning",
            "69 of 70 rules run, 1 off by settings".replace(
                "69", str(len(RULES.rules) - 1)
            ).replace("70", str(len(RULES.rules))),
        ):
            assert text in shown
        assert max(map(len, shown.splitlines())) <= 80

    def test_json_has_all_origins(self, tmp_path: Path) -> None:
        top = repository(tmp_path)
        document = self._document("--level", "error", "--option", f"{CLIPS}.times=2", cwd=top)
        assert document["threshold_origin"] == {"kind": "call"}
        kinds = {(r["rule"], r["what"]): r["origin"]["kind"] for r in document["rules"]}
        assert kinds[CLIPS, "off"] == "file"
        assert kinds[CLIPS, "option"] == "call"
        whole = self._document("--all", cwd=top)
        assert {r["rule"] for r in whole["rules"]} == set(RULES.rules)
        assert {r["origin"]["kind"] for r in whole["rules"]} == {"file", "default"}

    def test_without_a_file_it_says_where_it_looked(self, tmp_path: Path) -> None:
        top = repository(tmp_path, None)
        shown = call("settings", cwd=top).stdout.decode()
        assert "Settings  none: no settings file" in shown
        assert str(top) in shown
        listed = call("settings", "--all", cwd=top).stdout.decode()
        assert all(f"  * {rule_id}: level " in listed for rule_id in RULES.rules)

    def test_a_plan_that_is_not_there_is_an_unusable_call(self, tmp_path: Path) -> None:
        done = call("settings", "no/plan.yaml", cwd=tmp_path)
        assert (done.returncode, done.stdout) == (2, b"")
        assert b"there is no plan or folder no/plan.yaml" in done.stderr

    def test_bad_settings_are_told(self, tmp_path: Path) -> None:
        top = repository(tmp_path, "wattproof-settings: 1\nthresh: note\n")
        done = call("settings", cwd=top)
        assert done.returncode == 2
        assert b"wattproof-settings.yaml:2:1" in done.stdout
        assert self._document(cwd=top, status=2)["problems"][0]["instead"] == "write `threshold`"


class TestSchema:
    def test_the_published_file_is_what_the_command_prints(self) -> None:
        published = (ROOT / "schemas" / "settings.schema.json").read_bytes()
        done = call("schema", "--of", "settings")
        assert (done.returncode, done.stdout) == (0, published)
        assert published.decode() == schema_text(settings_schema())
        assert call("schema", "--of", "van").returncode == 2

    def test_it_and_the_reader_are_of_one_mind(self, tmp_path: Path) -> None:
        schema = settings_schema()
        jsonschema.Draft202012Validator.check_schema(schema)
        validator = jsonschema.Draft202012Validator(schema)
        yaml = YAML(typ="safe", pure=True)
        validator.validate(yaml.load(GOOD))
        for bad in (
            "{}",
            "wattproof-settings: 2",
            "wattproof-settings: 1\nthreshold: all",
            "wattproof-settings: 1\ncolour: red",
            f"wattproof-settings: 1\nrules: {{{CLIPS}: {{off: true}}}}",
            f"wattproof-settings: 1\nrules: {{{CLIPS}: {{off: perhaps, reason: x}}}}",
            f"wattproof-settings: 1\nrules: {{{CLIPS}: {{level: loud}}}}",
            f"wattproof-settings: 1\nrules: {{{CLIPS}: {{options: {{times: two}}}}}}",
            "wattproof-settings: 1\nrules: {Some Rule: {level: error}}",
        ):
            assert not validator.is_valid(yaml.load(bad)), bad
            assert problems(tmp_path, bad)

    def test_every_key_is_in_the_documentation(self) -> None:
        page = (ROOT / "docs" / "settings.md").read_text(encoding="utf-8")
        schema = settings_schema()
        for model in (schema, schema["$defs"]["RuleSettings"]):
            for key in model["properties"]:
                assert f"\n`{key}`\n: " in page, key

    def test_every_key_is_described_with_an_example_that_is_valid(self) -> None:
        schema = settings_schema()
        for model in (schema, schema["$defs"]["RuleSettings"]):
            for key, child in model["properties"].items():
                assert child["description"], key
                inner = jsonschema.Draft202012Validator({**child, "$defs": schema["$defs"]})
                for example in child["examples"]:
                    inner.validate(example)


def damaged(text: str, source: random.Random) -> str:
    """A text with a few characters lost, doubled, or put in from elsewhere."""
    characters = list(text)
    for _ in range(source.randint(1, 6)):
        at = source.randrange(len(characters))
        strange = source.choice("{}[]:,&*!|>'\"%@`#-? \t\n\x00\u2028\ud800é0")
        match source.randrange(4):
            case 0:
                del characters[at]
            case 1:
                characters.insert(at, strange)
            case 2:
                characters[at] = strange
            case _:
                end = min(at + source.randint(1, 40), len(characters))
                characters[at:at] = characters[at:end]
    return "".join(characters)


@pytest.mark.parametrize("seed", range(400))
def test_a_damaged_file_gives_settings_or_problems(tmp_path: Path, seed: int) -> None:
    path = tmp_path / NAME
    text = damaged(GOOD, random.Random(seed))
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    try:
        load_settings(str(path), RULES)
    except PlanUnusable as unusable:
        assert unusable.problems
        for problem in unusable.problems:
            assert problem.message
            assert problem.place.file == str(path)


@pytest.mark.parametrize(
    "data", [b"", b"\xff\xfe", b"\x00", b"[" * 5000, b"&a [*a]", b"wattproof-settings: 1\n" * 3]
)
def test_no_file_gives_a_traceback(tmp_path: Path, data: bytes) -> None:
    top = repository(tmp_path, None, plan=SOUND)
    (top / NAME).write_bytes(data)
    for command in (["check", "plan.yaml"], ["settings"]):
        done = call(*command, cwd=top)
        assert done.returncode == 2
        assert b"Traceback" not in done.stderr
        assert b"wattproof-settings.yaml:" in done.stdout
