"""The page of a plan: nothing is lost, every link leads somewhere, nothing of a plan can run."""

from __future__ import annotations

import base64
import hashlib
import re
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import pytest

from found import found_in_file
from reports.curve_plans import SHADED
from reports.pages import EXAMPLES, HOSTILE, HOSTILE_PLAN, ROOT, RULES, page_at, page_text
from wattproof.engine import check_file
from wattproof.reports.findings.telling import all_at_once, numbered_findings
from wattproof.reports.page import render
from wattproof.reports.page.contents import page_of
from wattproof.settings import Setting, Settings
from wattproof.testing import A_DAY


class Read(HTMLParser):
    """Ids, links, attributes and texts of a page; tags must close as they open."""

    VOID = frozenset({"meta", "br", "input"})

    def __init__(self, text: str) -> None:
        super().__init__()
        self.ids: Counter[str] = Counter()
        self.links: list[str] = []
        self.tags: Counter[str] = Counter()
        self.attributes: Counter[str] = Counter()
        self.open: list[str] = []
        self.text = ""
        self.policy = ""
        self.feed(text)
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        for key, value in attrs:
            self.attributes[key] += 1
            if key == "id":
                self.ids[value or ""] += 1
            if key == "href":
                self.links.append(value or "")
        if tag == "meta" and dict(attrs).get("http-equiv") == "Content-Security-Policy":
            self.policy = dict(attrs)["content"] or ""
        if tag not in self.VOID and not self.get_starttag_text().endswith("/>"):
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not {"script", "style"} & set(self.open):
            self.text += data


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_link_leads_somewhere_and_no_id_stands_twice(path: Path) -> None:
    page = Read(page_at(path))
    assert [name for name, count in page.ids.items() if count > 1] == []
    assert all(link.startswith("#") and link[1:] in page.ids for link in page.links)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_everything_that_was_found_and_assumed_is_on_it(path: Path) -> None:
    result = found_in_file(path)
    page = Read(page_at(path))
    said = " ".join(page.text.split())
    for finding in result.findings:
        for text in (finding.message, finding.explanation, finding.remedy, *finding.basis):
            assert " ".join(text.replace("`", "").split()) in said
        if finding.caution is not None:
            assert finding.caution.text.replace("`", "") in said
    assert sum(name.startswith("finding-") for name in page.ids) == len(result.findings)
    if at_once := all_at_once(result, numbered_findings(result)):
        assert " ".join(at_once.replace("`", "").split()) in said
    for assumption in result.uses:
        assert " ".join(assumption.says.replace("`", "").split()) in said
    assert "does not replace the local code" in said


@pytest.mark.parametrize("path", EXAMPLES[:1] + EXAMPLES[-1:], ids=lambda p: p.stem)
def test_nothing_is_fetched_and_only_its_own_script_may_run(path: Path) -> None:
    text = page_at(path)
    page = Read(text)
    assert page.policy.startswith("default-src 'none'; style-src 'sha256-")
    for tag in ("style", "script"):
        for block in re.findall(rf"<{tag}[^>]*>(.*?)</{tag}>", text, re.DOTALL):
            digest = base64.b64encode(hashlib.sha256(block.encode()).digest()).decode()
            assert f"'sha256-{digest}'" in page.policy
    assert not page.tags.keys() & {"link", "img", "iframe", "object", "embed", "base"}
    assert not page.attributes.keys() & {"src", "style", "srcset", "action", "background"}
    assert not [key for key in page.attributes if key.startswith("on")]


def test_a_hostile_plan_is_shown_and_not_obeyed() -> None:
    text = page_text(HOSTILE_PLAN)
    page = Read(text)
    assert page.tags["script"] == 1
    assert page.tags["img"] == page.tags["b"] == page.tags["i"] == 0
    assert HOSTILE.replace("\u202e", "<U+202E>") in page.text
    assert "<script>alert(2)</script>" in page.text
    assert "49" not in re.findall(r"<h1>(.*?)</h1>", text)[0]


def test_a_plan_that_cannot_be_checked_has_its_problems_on_the_page() -> None:
    page = Read(page_text("wattproof: 1\nsettin: boat\nfuses: 3\n"))
    assert "This plan cannot be checked as it is" in page.text
    assert "nothing is known of this plan" in page.text
    assert "settin" in page.text
    assert "order" not in page.ids
    assert "schedules" not in page.ids


def test_sun_and_use_and_readings_are_on_it_where_the_plan_has_them() -> None:
    [cabin] = [path for path in EXAMPLES if path.stem == "cabin-eight-modules"]
    ids = Read(page_at(cabin)).ids
    assert {"energy", "table-autonomy", "readings", "table-service", "table-arrays"} <= ids.keys()
    without = Read(page_at(EXAMPLES[0])).ids
    assert not {"energy", "readings", "set"} & without.keys()


def test_shades_have_a_picture_and_rows() -> None:
    [van] = [path for path in EXAMPLES if path.stem == "van-six-modules"]
    page = Read(page_at(van))
    assert "curves-2-title" in page.ids
    assert "shade antenna, standard test conditions" in page.text
    assert "lost to the shade" in page.text


def test_a_label_without_a_curve_is_said() -> None:
    [boat] = [path for path in EXAMPLES if path.stem == "boat-thin-cable"]
    page = Read(page_at(boat))
    assert "curves" in page.ids
    assert "The curves at the solar input of regulator cannot be drawn" in page.text
    assert "table-arrays" not in page.ids


def test_a_shade_that_leaves_nothing_is_said() -> None:
    assert "Under shade snow the array of tracker gives nothing" in Read(page_text(SHADED)).text


def test_what_was_set_stands_beside_the_verdict() -> None:
    text = EXAMPLES[0].read_text(encoding="utf-8")
    off = Settings(off={"plug-polarity-unsure": Setting(True, None, "no <b>such</b> plugs")})
    result = check_file(str(EXAMPLES[0]), RULES, today=A_DAY, text=text, settings=off)
    made = render(page_of(None, result, {}))
    assert made.index('id="verdict"') < made.index('id="set"') < made.index('id="plan"')
    assert "no &lt;b&gt;such&lt;/b&gt; plugs" in made
    assert "<code>plug-polarity-unsure</code> is off" in made


def test_every_section_is_in_the_contents() -> None:
    for path in EXAMPLES:
        text = page_at(path)
        sections = re.findall(r'<section id="([^"]+)"', text)
        contents = text[text.index("<nav") : text.index("</nav>")]
        assert all(f'href="#{name}"' in contents for name in sections)


def test_the_documents_tell_of_every_section() -> None:
    texts = [page_at(path) for path in EXAMPLES] + [page_text("wattproof: 1\nsettin: boat\n")]
    told = (ROOT / "docs" / "reports.md").read_text(encoding="utf-8").splitlines()
    for heading in {h for text in texts for h in re.findall(r"<h2[^>]*>(.*?)</h2>", text)}:
        assert heading in told


def test_a_sound_plan_is_not_called_safe() -> None:
    page = Read(page_at(EXAMPLES[0]))
    assert "no rule found a fault" in page.text
    assert "what the plan declares, not the installation itself" in page.text
    assert "findings" not in page.ids


def test_a_failed_rule_gives_no_verdict_of_soundness() -> None:
    from wattproof.packs import PackFailure, RuleSet

    broken = RuleSet(RULES.rules, (PackFailure("alder", "alder_rules", "ImportError: gone"),))
    page = Read(page_text(EXAMPLES[0].read_text(encoding="utf-8"), str(EXAMPLES[0]), broken))
    assert "a part of the check failed" in page.text


def test_the_same_plan_gives_the_same_page() -> None:
    text, name = EXAMPLES[0].read_text(encoding="utf-8"), str(EXAMPLES[0])
    assert page_text(text, name) == page_text(text, name)
