"""The list of checked plans in a real browser: two hundred of them, searched, sifted and sorted."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from amounts import amount
from cli.calls import FAULTY, SOUND, UNUSABLE, call, folder
from corpus.generated import plans as generated_plans
from reports.browser import opened
from reports.pages import HOSTILE, HOSTILE_PLAN
from wattproof.engine import examine
from wattproof.packs import discover
from wattproof.reports.page.fingerprint import fingerprint
from wattproof.reports.site import Entry, File, Revision, Site
from wattproof.reports.site import page as site_page
from wattproof.testing import A_DAY
from wattproof.views.facts import facts_of

COUNT = 200
CHECKED = amount(20, COUNT)
"""How many of them are plans of their own; the others are those again, under other names."""
SHOWN = "tbody tr:visible"


def entry(file: str, text: str) -> Entry:
    """What the list tells of a plan given as text."""
    study, result = examine(
        file, discover(), today=A_DAY, shown_as=file, text=text, try_remedies=False
    )
    return Entry(
        file=file,
        page=f"pages/{file}.html",
        result=result,
        fingerprint=fingerprint({file: text}),
        facts=facts_of(study) if study is not None else None,
        files=(File(file, f"plans/{file}", text),),
        revision=Revision("0123456789abcdef0123456789abcdef01234567", as_kept=True),
    )


@pytest.fixture(scope="module")
def entries() -> list[Entry]:
    texts = [*generated_plans(CHECKED - 3), HOSTILE_PLAN, "wattproof: 1\nfuses: 3\n"]
    texts.append(SOUND.replace("setting:", "title: The quiet one\nsetting:"))
    own = [entry(f"plan-{number:03}.yaml", text) for number, text in enumerate(texts)]
    more = COUNT - len(own)
    return own + [
        own[number % len(own)]._replace(file=f"again-{number:03}.yaml") for number in range(more)
    ]


@pytest.fixture(scope="module")
def site(entries: list[Entry], tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("site") / "index.html"
    file.write_text(site_page.render(Site(HOSTILE, entries)), encoding="utf-8")
    return file


@pytest.mark.parametrize("width", [360, 768, 1100])
def test_two_hundred_plans_fit_the_screen(browser: Browser, site: Path, width: int) -> None:
    with opened(browser, site, width=width) as (page, complaints):
        assert page.locator(SHOWN).count() == COUNT
        assert page.evaluate("document.documentElement.scrollWidth") == width
        assert complaints == []


def test_what_hostile_plans_say_is_shown_and_not_run(browser: Browser, site: Path) -> None:
    shown = " ".join(HOSTILE.replace("\u202e", "<U+202E>").split())
    with opened(browser, site) as (page, complaints):
        assert page.locator("h1").inner_text() == shown
        page.get_by_label("Holding the words").fill("onerror")
        assert page.locator(SHOWN).count() > 0
        assert page.locator("tbody tr:visible th a").first.inner_text() == shown
        assert page.locator("img, b, iframe").count() == 0
        assert complaints == []


def test_plans_are_found_by_words_and_by_verdict(browser: Browser, site: Path) -> None:
    with opened(browser, site) as (page, _):
        search, status = page.get_by_label("Holding the words"), page.get_by_role("status")
        search.fill("quiet one vehicle 12.8")
        quiet = page.locator(SHOWN).count()
        assert 0 < quiet < COUNT
        assert status.inner_text() == f"{quiet} of {COUNT} plans are shown."
        search.fill("no plan has such words")
        assert page.locator(SHOWN).count() == 0
        search.fill("")
        nothing = page.locator("tbody tr[data-signal='NOTHING FOUND']").count()
        page.get_by_role("checkbox", name="NOTHING FOUND").uncheck()
        assert page.locator(SHOWN).count() == COUNT - nothing
        told = page.locator(".sieve .tick", has_text="NOTHING FOUND").inner_text()
        assert int(told.split()[-1]) == nothing


def test_plans_are_sorted_by_any_column(browser: Browser, site: Path, entries: list[Entry]) -> None:
    powers = [e.facts.power.number for e in entries if e.facts and e.facts.power]
    with opened(browser, site) as (page, complaints):
        for head in page.locator("thead button").all():
            head.click()
        page.get_by_role("button", name="Power").click()
        shown = page.eval_on_selector_all(
            "tbody td[data-head=Power][data-number]",
            "(cells) => cells.map((each) => Number(each.dataset.number))",
        )
        assert shown == pytest.approx(sorted(powers))
        assert complaints == []


def test_without_a_script_it_is_a_plain_table_of_all(browser: Browser, site: Path) -> None:
    with opened(browser, site, script=False) as (page, _):
        assert page.locator(SHOWN).count() == COUNT
        assert not page.locator(".sieve").is_visible()


def test_it_is_read_row_by_row_and_keys_stop_at_what_leads_on(browser: Browser, site: Path) -> None:
    with opened(browser, site, width=360) as (page, _):
        assert page.get_by_role("row").count() == COUNT
        assert page.get_by_role("rowheader").count() == COUNT
        first = page.locator("tbody tr").first
        assert first.locator("a").count() == 2


def test_pages_lead_back_and_plans_can_be_taken_along(browser: Browser, tmp_path: Path) -> None:
    """The site as the command writes it, with file names of any sign."""
    folder(tmp_path / "plans", sound=SOUND, unusable=UNUSABLE)
    odd = tmp_path / "plans" / "a 'b' #1 ?<i>.yaml"
    odd.write_text(FAULTY, encoding="utf-8")
    call("index", "plans", "-o", "site", "--title", "Our vans", cwd=tmp_path)
    with opened(browser, tmp_path / "site" / "index.html", width=360) as (page, complaints):
        assert page.locator("h1").inner_text() == "Our vans"
        assert page.locator(SHOWN).count() == 3
        for number in range(3):
            page.locator("tbody th a").nth(number).click()
            shown = page.locator(".facts code").first.inner_text()
            assert page.evaluate("document.documentElement.scrollWidth") == 360
            with page.expect_download() as loading:
                page.locator(".facts a[download]").click()
            text = loading.value.path().read_text(encoding="utf-8")
            assert fingerprint({"": text}) == shown
            page.get_by_role("link", name="All plans").click()
            page.wait_for_url(re.compile(r"index\.html$"))
            assert shown in page.locator("tbody").inner_text()
        assert [each for each in complaints if "/plans/" not in each] == []
