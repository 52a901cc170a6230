"""The pages that are made from the program leave nothing out, and examples give what texts say."""

from __future__ import annotations

import importlib
import pkgutil
import re
import shutil
import statistics
import subprocess
import sys
from pathlib import Path

import pytest

from codes.same_plan import BODIES, EXPECTED
from wattproof import __version__
from wattproof.cli.app import build_app
from wattproof.cli.folder_search import is_plan
from wattproof.codes import DISTANCE_KINDS, DROP_KINDS, FORBIDDABLE
from wattproof.plan.schema import plan_schema
from wattproof.study import assumptions
from wattproof.testing import check_text

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
sys.path[:0] = [str(DOCS), str(DOCS / "_ext")]

pytest.importorskip("sphinx")

import made  # noqa: E402
import wattproof_docs  # noqa: E402
from wattproof_docs import bodies, demands, language, rules, silence  # noqa: E402
from wattproof_docs.markdown import plain  # noqa: E402
from wattproof_docs.run import NotShown, shown  # noqa: E402


@pytest.fixture(scope="module")
def generated(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("generated")
    (folder / "rules").mkdir()
    (folder / "rules" / "gone.md").write_text("of a rule that is no more", encoding="utf-8")
    wattproof_docs.generate(folder)
    return folder


@pytest.fixture(scope="module")
def keys() -> str:
    """The key reference."""
    return language.page()


def checked(path: str) -> set[str]:
    return {f.rule for f in check_text((DOCS / path).read_text(encoding="utf-8")).findings}


def test_a_page_of_a_rule_shows_wrong_beside_right_before_anything_else(generated: Path) -> None:
    for rule in rules.built_in().rules.values():
        page = (generated / "rules" / f"{rule.id}.md").read_text(encoding="utf-8")
        order = ['<p class="wrong">', '<p class="right">', "A check says: **", "## Why"]
        order += ["## When it is fine as it is", "## Basis"]
        assert sorted(map(page.index, order)) == [page.index(each) for each in order], rule.id
        assert f"(part-{rule.part}.md)" in page
        assert "(by-hazard.md#" in page
        assert f"since version {rule.since}" in page
        assert all(clause.says.split()[0] in page for clause in rule.basis.values())
        wrong, right = re.findall(r"```{code-block} yaml\n(.*?)```", page, re.DOTALL)
        assert "emphasize-lines" in wrong + right, rule.id
        assert wrong != right


def test_no_rule_is_of_a_version_that_is_still_to_come() -> None:
    def numbers(version: str) -> tuple[int, ...]:
        return tuple(map(int, version.split(".")))

    for rule in rules.built_in().rules.values():
        assert numbers(rule.since) <= numbers(__version__), rule.id
    log = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    dated = re.findall(r"^## (\d+\.\d+\.\d+), \d{4}-\d\d-\d\d$", log, flags=re.MULTILINE)
    assert __version__ in dated
    assert {rule.since for rule in rules.built_in().rules.values()} <= set(dated)
    project = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    assert f'version = "{__version__}"' in project


def test_a_rule_that_may_be_accepted_says_when_that_is_fine() -> None:
    for rule in rules.built_in().rules.values():
        assert bool(rule.fine) == rule.acceptable, rule.id


@pytest.mark.skipif(shutil.which("groff") is None, reason="groff, which reads it, is not there")
def test_the_manual_page_is_read_without_a_warning() -> None:
    page = DOCS / "man" / "wattproof.1"
    call = ["groff", "-man", "-Kutf8", "-Tutf8", "-ww", str(page)]
    done = subprocess.run(call, capture_output=True, encoding="utf-8", check=True)
    assert done.stderr == ""
    bare = re.sub(r"\x1b\[[\d;]*m|.\x08", "", done.stdout)
    for command in build_app().registered_commands:
        name = command.name or getattr(command.callback, "__name__", "")
        assert f"wattproof {name} " in bare


def test_what_is_open_to_see_of_a_page_of_a_rule_is_short(generated: Path) -> None:
    """At most half of what pages had once: a median of 1211 words."""
    words = []
    for path in (generated / "rules").glob("*.md"):
        if path.stem in rules.built_in().rules:
            shown = path.read_text(encoding="utf-8").split("<details")[0]
            words.append(len(shown.split()))
    assert statistics.median(words) <= 605


def test_tables_are_told_to_whoever_hears_them(tmp_path: Path) -> None:
    source, built = tmp_path / "source", tmp_path / "built"
    source.mkdir()
    (source / "conf.py").write_text(
        "import sys\n"
        f"sys.path.insert(0, {str(DOCS / '_ext')!r})\n"
        "from wattproof_docs import tables\n"
        'extensions = ["myst_parser"]\n'
        "def setup(app):\n"
        "    app.add_transform(tables.Captions)\n"
        '    app.connect("html-page-context", tables.told)\n',
        encoding="utf-8",
    )
    grid = "| Body | Figure |\n| --- | --- |\n| one | 2 |\n"
    page = f"# Page\n\n## Losses\n\n{grid}\n## More\n\nTable: What is left.\n\n{grid}"
    (source / "index.md").write_text(page, encoding="utf-8")
    call = [sys.executable, "-m", "sphinx", "-W", "-q", "-b", "html", str(source), str(built)]
    subprocess.run(call, check=True)
    html = (built / "index.html").read_text(encoding="utf-8")
    heard, seen = re.findall(r"<caption([^>]*)><span class=\"caption-text\">([^<]*)", html)
    assert heard == (' class="unseen"', "Losses")
    assert seen == ("", "What is left.")
    assert html.count('<th scope="col" class="head') == 4
    assert html.count('<th scope="row" class="stub') == 2


def test_every_rule_is_in_the_indexes(generated: Path) -> None:
    texts = [
        (generated / name).read_text(encoding="utf-8")
        for name in ("rules/by-hazard.md", "rules/by-clause.md", "tables/rules.md")
    ]
    for rule in rules.built_in().rules.values():
        assert all(f"[`{rule.id}`]" in text for text in texts), rule.id


def test_a_page_of_a_rule_that_is_gone_goes(generated: Path) -> None:
    assert not (generated / "rules" / "gone.md").exists()


def test_every_key_of_the_plan_language_is_explained_and_has_an_anchor(keys: str) -> None:
    explained = re.findall(r'^- <a id="[\w.]+\.(\w+)"></a>\*\*`(\w+)`\*\*: \S', keys, re.MULTILINE)
    schema = plan_schema()
    declared = [key for model in schema["$defs"].values() for key in model.get("properties", {})]
    declared += [*schema["properties"], "from_end", "distance"]
    assert sorted(key for _, key in explained) == sorted(declared)
    assert all(end == key for end, key in explained)


def test_the_key_reference_leads_to_itself_only_where_there_is_something(keys: str) -> None:
    anchors = re.findall(r'<a id="([^"]+)">', keys)
    headings = [
        heading.lower().replace(" ", "-")
        for heading in re.findall(r"^#+ (.*)$", keys, flags=re.MULTILINE)
    ]
    assert len(set(anchors + headings)) == len(anchors + headings)
    links = re.findall(r'<a href="#([^"]+)">|\]\(#([^)]+)\)', keys)
    assert len(links) > 400
    assert {raw or slug for raw, slug in links} <= {*anchors, *headings}


def test_what_is_kept_of_made_documents_is_not_stale() -> None:
    """`python docs/made.py` writes them anew."""
    stale = [
        path.name for path, text in made.made().items() if path.read_text(encoding="utf-8") != text
    ]
    assert not stale


def test_every_assumed_figure_is_listed(generated: Path) -> None:
    text = (generated / "tables" / "silence.md").read_text(encoding="utf-8")
    for each in pkgutil.iter_modules(assumptions.__path__, f"{assumptions.__name__}."):
        for figure in silence.figures_of(importlib.import_module(each.name)):
            assert f"| {plain(figure.words)} | " in text, figure


def test_every_key_with_an_assumption_is_a_key_of_the_language() -> None:
    schema = plan_schema()
    figures = [each for table in silence.SECTIONS.values() for each in silence.figures_of(table)]
    for each in (each for each in figures if each.settles):
        model, key = each.settles.split(".")
        assert key in schema["$defs"][model]["properties"], each.settles


def test_the_first_plan_of_the_tutorial_has_the_one_mistake_that_its_text_tells_of() -> None:
    assert checked("tutorial/hut-four-in-series.yaml") == {"cold-voltage-over-controller"}


def test_the_mended_plan_of_the_tutorial_has_no_finding() -> None:
    assert checked("tutorial/hut-two-strings.yaml") == set()


def test_numbers_in_the_text_of_the_tutorial_are_those_of_the_run() -> None:
    status, call = {"status": "1"}, "check --full docs/tutorial/hut-four-in-series.yaml"
    finding = shown(call, ROOT, {**status, "finding": "cold-voltage-over-controller"})
    assert "4 ×" in finding
    assert "24.0 V" in finding
    assert "put at most 3 in series instead of 4, such as 2 with the rest" in finding
    assert "100 V input limit" in finding
    assert "reached at 11 °C" in finding
    curve = shown("curve docs/tutorial/hut-two-strings.yaml", ROOT, {})
    held = next(line for line in curve.splitlines() if "held back by" in line)
    assert held.split("held back by")[1].split() == ["nothing", "output", "current", "nothing"]


def test_the_accepted_finding_stays_visible() -> None:
    finding = shown(
        "check --full docs/findings/cellar.yaml", ROOT, {"finding": "voltage-drop-high"}
    )
    assert "Accepted" in finding


def test_a_run_that_does_not_give_what_a_page_shows_is_refused() -> None:
    call = "check docs/tutorial/hut-two-strings.yaml"
    for options in ({"status": "1"}, {"finding": "voltage-drop-high"}, {"from": "No such line"}):
        with pytest.raises(NotShown):
            shown(call, ROOT, options)


def test_the_page_on_diagrams_shows_one_with_marks() -> None:
    [call] = re.findall(r"^```\{drawing\} (.*)$", (DOCS / "one-line.md").read_text("utf-8"), re.M)
    picture = shown(call, ROOT, {})
    assert picture.startswith("<svg ")
    assert "error 1<" in picture


def test_the_hook_of_a_commit_takes_plans_of_any_name_among_other_files(tmp_path: Path) -> None:
    hooks = (ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8")
    touched = hooks[: hooks.index("- id: wattproof-project")]
    assert "entry: wattproof check --among-others" in touched
    assert "types: [yaml]" in touched
    for example in (ROOT / "examples").glob("*.yaml"):
        assert is_plan(str(example)), example
    for name, text in (
        ("labels.yaml", "wattproof: 1\ndatasheets: {modules: {}}\n"),
        ("wattproof-settings.yaml", "wattproof-settings: 1\n"),
        ("build.yml", "jobs: {}\n"),
    ):
        (tmp_path / name).write_text(text, encoding="utf-8")
        assert not is_plan(str(tmp_path / name)), name


def test_the_page_on_bodies_shows_one_plan_under_each(generated: Path) -> None:
    text = (generated / "tables" / "same-plan.md").read_text(encoding="utf-8")
    rows = {tuple(re.findall(r"`([^`]+)`", line)[:2]): line for line in text.splitlines()}
    for (rule, subject), levels in EXPECTED.items():
        cells = [cell.strip() for cell in rows[rule, subject].strip("|").split("|")[2:]]
        assert cells == [level or "–" for level in levels], rule
    assert all(f"`{code}`" in text for code in BODIES)


def test_the_page_on_bodies_words_all_that_their_data_name(generated: Path) -> None:
    text = (generated / "tables" / "bodies.md").read_text(encoding="utf-8")
    for kind in (*DISTANCE_KINDS, *DROP_KINDS, *FORBIDDABLE):
        worded = {**bodies.DISTANCE_WORDS, **bodies.DROP_WORDS, **demands.BAN_WORDS}[kind]
        assert worded.casefold() in text.casefold(), kind
