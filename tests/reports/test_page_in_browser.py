"""The page in a real browser: it opens, links, sifts, sorts, prints, and fits a telephone."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from reports.browser import chromium, opened
from reports.pages import EXAMPLES, HOSTILE, HOSTILE_PLAN, ROOT, page_at, page_text

FAULTY = ROOT / "examples" / "faulty" / "van-cold-morning.yaml"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The pages of all examples and of a hostile plan, as files."""
    folder = tmp_path_factory.mktemp("pages")
    texts = {path.stem: page_at(path) for path in EXAMPLES}
    texts["hostile"] = page_text(HOSTILE_PLAN)
    texts["unusable"] = page_text("wattproof: 1\nsettin: boat\nfuses: 3\n")
    for name, text in texts.items():
        (folder / f"{name}.html").write_text(text, encoding="utf-8")
    return {name: folder / f"{name}.html" for name in texts}


NAMES = [*(path.stem for path in EXAMPLES), "hostile", "unusable"]


@pytest.mark.parametrize("name", NAMES)
def test_it_opens_without_complaint_and_fits_a_telephone(
    browser: Browser, pages: dict[str, Path], name: str
) -> None:
    with opened(browser, pages[name], width=360) as (page, complaints):
        assert page.evaluate("document.documentElement.scrollWidth") == 360
        page.evaluate("document.querySelectorAll('details').forEach((each) => each.open = true)")
        assert page.evaluate("document.documentElement.scrollWidth") == 360
        assert complaints == []


def test_what_a_hostile_plan_says_is_shown_and_not_run(
    browser: Browser, pages: dict[str, Path]
) -> None:
    with opened(browser, pages["hostile"]) as (page, complaints):
        assert page.locator("h1").inner_text() == " ".join(
            HOSTILE.replace("\u202e", "<U+202E>").split()
        )
        assert complaints == []


def test_findings_are_sifted_and_a_link_to_one_shows_it(
    browser: Browser, pages: dict[str, Path]
) -> None:
    with opened(browser, pages[FAULTY.stem]) as (page, _):
        sheets = page.locator("#findings .sheet")
        every = sheets.count()
        assert page.locator("#findings .sheet:visible").count() == every > 5
        page.get_by_label("Errors").uncheck()
        shown = page.locator("#findings .sheet:visible")
        assert 0 < shown.count() < every
        assert page.locator("#findings .sheet.error:visible").count() == 0
        assert page.get_by_role("status").inner_text() == (
            f"{shown.count()} of {every} findings are shown."
        )
        page.get_by_label("Holding the words").fill("voltage-drop-high")
        assert shown.count() == 1
        page.evaluate("location.hash = '#finding-1'")
        page.wait_for_function("!document.getElementById('finding-1').hidden")
        assert page.locator("#findings .sheet:visible").count() == every
        assert page.locator("#finding-1").is_visible()


def test_marks_in_the_diagram_lead_to_findings_and_back(
    browser: Browser, pages: dict[str, Path]
) -> None:
    with opened(browser, pages[FAULTY.stem]) as (page, _):
        page.locator("#one-line svg a").first.click()
        target = page.evaluate("location.hash")
        assert target.startswith("#finding-")
        page.locator(f"{target} h4 a").first.click()
        assert page.evaluate("location.hash").startswith("#component-")


def test_a_place_leads_to_its_line(browser: Browser, pages: dict[str, Path]) -> None:
    with opened(browser, pages[FAULTY.stem]) as (page, _):
        link = page.locator("#finding-1 a", has_text=FAULTY.name).first
        line = int(link.inner_text().split(":")[-2])
        link.click()
        found = page.locator(page.evaluate("location.hash")).inner_text()
        assert found == FAULTY.read_text(encoding="utf-8").splitlines()[line - 1].strip("\n")


def test_tables_are_sorted_by_number_and_by_word(browser: Browser, pages: dict[str, Path]) -> None:
    with opened(browser, pages["van-six-modules"]) as (page, _):
        table = page.locator("section[aria-labelledby=table-conductors] table")
        head = table.locator("th", has_text="length one way")
        column = head.evaluate("(cell) => cell.cellIndex")
        head.locator("button").click()
        assert head.get_attribute("aria-sort") == "ascending"
        read = (
            "(table, column) => [...table.tBodies[0].rows]"
            ".map((row) => Number(row.cells[column].dataset.number))"
        )
        lengths = page.evaluate(
            f"({read})(document.querySelector("
            f"'section[aria-labelledby=table-conductors] table'), {column})"
        )
        assert lengths == sorted(lengths)
        assert len(set(lengths)) > 2
        head.locator("button").press("Enter")
        assert head.get_attribute("aria-sort") == "descending"
        name = table.locator("th", has_text="name").first
        name.locator("button").click()
        names = table.locator("tbody tr td:first-child").all_inner_texts()
        assert names == sorted(names)


@pytest.mark.parametrize("script", [True, False], ids=["script", "no-script"])
def test_print_shows_every_section_and_every_working(
    browser: Browser, pages: dict[str, Path], script: bool
) -> None:
    with opened(browser, pages[FAULTY.stem], script=script) as (page, _):
        sections = page.locator("main > section")
        page.emulate_media(media="print")
        if script:
            page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
        for index in range(sections.count()):
            assert sections.nth(index).is_visible()
        wanted = {"verdict", "one-line", "findings", "curves", "assumed", "schedules", "order"}
        assert wanted <= set(sections.evaluate_all("(all) => all.map((each) => each.id)"))
        assert page.locator(".sieve").is_hidden()
        assert page.locator("nav").is_hidden()
        working = page.locator("#finding-1 .working")
        assert working.evaluate("(list) => list.getBoundingClientRect().height") > 20


def test_without_script_nothing_is_missing(browser: Browser, pages: dict[str, Path]) -> None:
    with opened(browser, pages[FAULTY.stem], script=False) as (page, complaints):
        assert page.locator(".sieve").is_hidden()
        assert page.locator("#findings .sheet:visible").count() > 5
        assert complaints == []


def test_the_first_key_leads_past_the_head(browser: Browser, pages: dict[str, Path]) -> None:
    with opened(browser, pages[FAULTY.stem]) as (page, _):
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.textContent") == "To the verdict"
        page.keyboard.press("Enter")
        assert page.evaluate("location.hash") == "#verdict"


def test_headings_and_regions_are_in_order(browser: Browser, pages: dict[str, Path]) -> None:
    with opened(browser, pages[FAULTY.stem]) as (page, _):
        levels = page.locator("h1, h2, h3, h4").evaluate_all(
            "(heads) => heads.map((head) => Number(head.tagName[1]))"
        )
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(after - before <= 1 for before, after in pairwise(levels))
        unnamed = page.evaluate(
            "[...document.querySelectorAll('input, button, summary, svg[role], [tabindex]')]"
            ".filter((each) => !(each.labels?.length || each.textContent.trim()"
            " || each.getAttribute('aria-label'))).length"
        )
        assert unnamed == 0


WORDS = (
    "h1", ".kind", ".marks", ".error .marks strong", ".warning .marks strong", "dt", "dd",
    "nav a", ".caution .signal", ".caution p + p", "summary",
)  # fmt: skip


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_stand_out_from_their_ground(
    browser: Browser, pages: dict[str, Path], scheme: str
) -> None:
    """Contrast of at least 4.5 to 1 (WCAG 2.1, success criterion 1.4.3)."""
    with opened(browser, pages[FAULTY.stem]) as (page, _):
        page.emulate_media(color_scheme=scheme)
        for choice in WORDS:
            ratio = page.locator(choice).first.evaluate(_CONTRAST)
            assert ratio >= 4.5, f"{choice} in {scheme}: {ratio:.2f}"


_CONTRAST = """(element) => {
  const numbers = (colour) => colour.match(/[0-9.]+/g).map(Number);
  const bright = (colour) => {
    const [r, g, b] = numbers(colour).slice(0, 3).map((part) => {
      const share = part / 255;
      return share <= 0.03928 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  let ground = element;
  const clear = (each) => numbers(getComputedStyle(each).backgroundColor)[3] === 0;
  while (ground !== document.documentElement && clear(ground)) ground = ground.parentElement;
  const pair = [bright(getComputedStyle(element).color),
                bright(getComputedStyle(ground).backgroundColor)];
  return (Math.max(...pair) + 0.05) / (Math.min(...pair) + 0.05);
}"""
