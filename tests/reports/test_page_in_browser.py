"""The page in a real browser: it opens, links, sifts, sorts, prints, and fits a telephone."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from reports.browser import opened
from reports.curve_plans import SOUND
from reports.pages import EXAMPLES, HOSTILE, HOSTILE_PLAN, ROOT, page_at, page_text
from wattproof.reports.page import Paper

NAME = "the-run-of-cable-from-the-roof-of-the-old-workshop-to-the-box"
LONG_PLAN = SOUND.replace("home-run", NAME) + "# one line more of notes\n" * 1000
FAULTY = ROOT / "examples" / "faulty" / "van-cold-morning.yaml"


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The pages of all examples and of a hostile plan, as files."""
    folder = tmp_path_factory.mktemp("pages")
    texts = {path.stem: page_at(path) for path in EXAMPLES}
    texts["hostile"] = page_text(HOSTILE_PLAN)
    texts["long"] = page_text(LONG_PLAN)
    texts["unusable"] = page_text("wattproof: 1\nsettin: boat\nfuses: 3\n")
    for name, text in texts.items():
        (folder / f"{name}.html").write_text(text, encoding="utf-8")
    return {name: folder / f"{name}.html" for name in texts}


NAMES = [*(path.stem for path in EXAMPLES), "hostile", "long", "unusable"]


@pytest.mark.parametrize("name", NAMES)
def test_it_opens_without_complaint_and_fits_a_telephone(
    browser: Browser, pages: dict[str, Path], name: str
) -> None:
    with opened(browser, pages[name], width=360) as (page, complaints):
        assert page.evaluate("document.documentElement.scrollWidth") == 360
        page.evaluate("document.querySelectorAll('details').forEach((each) => each.open = true)")
        assert page.evaluate("document.documentElement.scrollWidth") == 360
        assert complaints == []


def test_the_first_screen_of_a_telephone_tells_the_danger(
    browser: Browser, pages: dict[str, Path]
) -> None:
    with opened(browser, pages[FAULTY.stem], width=360) as (page, _):
        assert page.locator(".panel .signal").inner_text() == "DO NOT CONNECT"
        last = page.locator(".glance li").last.bounding_box()
        assert last is not None
        assert last["y"] + last["height"] <= 800
        assert not page.locator("#contents ul").first.is_visible()
        assert not page.locator("#finding-1 .working").is_visible()
        for told in (".headline", ".caution .signal", ".remedy"):
            assert page.locator(f"#finding-1 {told}").first.is_visible()
        assert [each.is_visible() for each in page.locator(".glance .remedy").all()[:2]] == [
            True,
            False,
        ]


def test_a_picture_is_told_to_be_wider_than_the_screen_where_it_is(
    browser: Browser, pages: dict[str, Path]
) -> None:
    wide = (
        "document.querySelector('#one-line .drawing').scrollWidth"
        " > document.querySelector('#one-line .drawing').clientWidth"
    )
    told = {}
    for width in (360, 900):
        with opened(browser, pages["van-six-modules"], width=width) as (page, _):
            told[width] = page.locator("#one-line .push").is_visible()
            assert told[width] == page.evaluate(wide)
    assert told == {360: True, 900: False}


def test_a_key_stops_once_at_each_finding(browser: Browser, pages: dict[str, Path]) -> None:
    """In each of the three places where a finding is told: head, diagram and findings."""
    stops = (
        "(scope) => [...document.querySelectorAll(`${scope} a, ${scope} summary`)]"
        ".filter((each) => each.tabIndex >= 0 && each.checkVisibility()).length"
    )
    with opened(browser, pages[FAULTY.stem]) as (page, _):
        findings = page.locator("#findings .sheet").count()
        assert page.evaluate(stops, ".glance") == findings
        assert page.evaluate(stops, "#one-line svg") == findings
        assert page.evaluate(stops, "#findings") == findings


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
        page.locator(f"{target} .headline a").first.click()
        assert page.evaluate("location.hash").startswith("#component-")


def test_a_place_leads_to_its_line(browser: Browser, pages: dict[str, Path]) -> None:
    with opened(browser, pages[FAULTY.stem]) as (page, _):
        page.locator("#finding-1 summary").click()
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
        names = table.locator("tbody tr th:first-child").all_inner_texts()
        assert names == sorted(names)


def test_the_first_column_stays_in_sight(browser: Browser, pages: dict[str, Path]) -> None:
    with opened(browser, pages["long"], width=360) as (page, _):
        table = page.locator("section[aria-labelledby=table-conductors] .wide")
        first = table.locator("tbody th").first
        before = first.bounding_box()
        table.evaluate("(box) => { box.scrollLeft = 300; }")
        after = first.bounding_box()
        assert before is not None
        assert after is not None
        assert table.evaluate("(box) => box.scrollLeft") == 300
        assert after["x"] == before["x"]
        assert after["width"] < 150


def test_a_table_tells_sideways_rather_than_in_narrow_columns(
    browser: Browser, pages: dict[str, Path]
) -> None:
    with opened(browser, pages["van-six-modules"], width=360) as (page, _):
        rows = page.locator("section[aria-labelledby=table-parts] tbody tr")
        heights = rows.evaluate_all("(all) => all.map((row) => row.offsetHeight)")
        assert max(heights) < 200


def test_assumptions_are_told_below_each_other_on_a_telephone(
    browser: Browser, pages: dict[str, Path]
) -> None:
    read = "(box) => box.scrollWidth - box.clientWidth"
    with opened(browser, pages["van-six-modules"], width=360) as (page, _):
        box = page.locator("#assumed .wide")
        assert box.evaluate(read) == 0
        head = box.locator("td").first.evaluate(
            "(cell) => getComputedStyle(cell, '::before').content"
        )
        assert "Of" in head
        assert box.get_by_role("row").count() > 3
        assert box.get_by_role("cell").count() > 12


def test_from_anywhere_a_link_leads_to_the_contents(
    browser: Browser, pages: dict[str, Path]
) -> None:
    with opened(browser, pages["long"], width=360) as (page, _):
        page.evaluate("window.scrollTo(0, document.body.scrollHeight / 2)")
        link = page.get_by_role("link", name="Contents", exact=True)
        box = link.bounding_box()
        assert box is not None
        assert 0 < box["y"] < 800
        link.click()
        assert page.evaluate("document.getElementById('contents').getBoundingClientRect().top") >= 0
        assert page.evaluate("window.scrollY") < 800


def test_in_a_plan_of_a_thousand_lines_the_last_has_its_number(
    browser: Browser, pages: dict[str, Path]
) -> None:
    with opened(browser, pages["long"]) as (page, _):
        last = len(LONG_PLAN.split("\n"))
        line = page.locator(f"#file-1-line-{last - 1}")
        assert line.inner_text() == "# one line more of notes"
        assert last > 1000
        room = "(line) => parseFloat(getComputedStyle(line.parentElement).paddingLeft)"
        assert line.evaluate(room) >= 45


def test_printed_tables_repeat_their_heads(browser: Browser, pages: dict[str, Path]) -> None:
    """A button in a head keeps chromium from repeating it; so it is none when printed."""
    with opened(browser, pages["van-six-modules"]) as (page, _):
        page.emulate_media(media="print")
        head = page.locator("section[aria-labelledby=table-labels] thead")
        style = "(each, name) => getComputedStyle(each)[name]"
        assert head.evaluate(style, "display") == "table-header-group"
        assert head.evaluate(style, "breakInside") == "avoid"
        button = head.locator("button").first
        assert button.evaluate(style, "display") == "contents"
        first = page.locator("section[aria-labelledby=table-labels] tbody th").first
        assert first.evaluate(style, "position") == "static"
        assert page.locator(".up").is_hidden()


@pytest.mark.parametrize("name", ["van-six-modules", "cabin-unfused-strings", "long"])
def test_a_printed_picture_fits_a_sheet(
    browser: Browser, pages: dict[str, Path], name: str
) -> None:
    with opened(browser, pages[name], width=690) as (page, _):
        page.emulate_media(media="print")
        for size in page.locator(".drawing svg").evaluate_all(
            "(all) => all.map((each) => each.getBoundingClientRect().toJSON())"
        ):
            assert size["width"] <= 690
            assert size["height"] <= 235 / 25.4 * 96 + 1


def test_curves_are_dark_on_a_dark_screen(browser: Browser, pages: dict[str, Path]) -> None:
    ground = "(svg) => getComputedStyle(svg.querySelector('rect')).fill"
    with opened(browser, pages["van-six-modules"]) as (page, _):
        picture = page.locator("#curves svg").first
        assert picture.evaluate(ground) == "rgb(255, 255, 255)"
        page.emulate_media(color_scheme="dark")
        assert picture.evaluate(ground) == "rgb(23, 25, 27)"
        page.emulate_media(color_scheme="dark", media="print")
        assert picture.evaluate(ground) == "rgb(255, 255, 255)"


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


SMALLEST = """() => {
  let least = 99;
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const element = walker.currentNode.parentElement;
    const silent = ["STYLE", "SCRIPT", "style", "title", "desc"].includes(element.tagName);
    if (silent || !walker.currentNode.data.trim() || !element.getClientRects().length) continue;
    const scale = element.ownerSVGElement ? element.getScreenCTM().a : 1;
    least = Math.min(least, parseFloat(getComputedStyle(element).fontSize) * scale);
  }
  return least * 0.75;
}"""


@pytest.mark.parametrize(
    ("paper", "name", "sheets"),
    [("bench", "van-six-modules", 4), ("bench", FAULTY.stem, 3), ("full", FAULTY.stem, None)],
)
def test_no_type_on_paper_is_under_eight_points(
    browser: Browser, tmp_path: Path, paper: Paper, name: str, sheets: int | None
) -> None:
    [plan] = [path for path in EXAMPLES if path.stem == name]
    file = tmp_path / "sheets.html"
    file.write_text(page_at(plan, paper), encoding="utf-8")
    with opened(browser, file, width=695) as (page, complaints):
        page.emulate_media(media="print")
        assert page.evaluate(SMALLEST) >= 7.99
        printed = page.pdf(prefer_css_page_size=True)
        assert complaints == []
    if sheets is not None:
        assert len(re.findall(rb"/Type\s*/Page\b", printed)) <= sheets


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
    "h1", ".kind", ".panel .signal", ".glance .error .hazard", ".glance .warning .hazard",
    ".glance a", ".marks", ".error .marks strong", ".warning .marks strong", "dt", "dd",
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
