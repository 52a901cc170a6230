"""The page in a real browser, as somebody uses it who has no terminal."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page

from amounts import amount
from browser.desk import Desk, example

pytestmark = pytest.mark.xdist_group("page")

FAULTY = "examples/faulty/van-cold-morning.yaml"
SOUND = "examples/van-six-modules.yaml"
ANSWERS = {
    "setting": "vehicle", "coldest": "-10 °C", "modules": "4", "voc": "22.4 V", "vmp": "18.6 V",
    "isc": "5.8 A", "imp": "5.4 A", "voc-coefficient": "-0.28 %/°C", "series-fuse": "15 A",
    "controller": "mppt", "length": "5 m", "input-voltage": "100 V", "output-current": "30 A",
    "battery": "agm", "nominal": "12 V", "capacity": "200 Ah",
}  # fmt: skip


def lay(desk: Desk, plan: str) -> str:
    """Lay an example on the desk; returns its text."""
    files = example(plan)
    desk.lay(files.pop(plan), plan, **files)
    return desk.text


def tab_to(page: Page, selector: str, most: int = 120) -> None:
    """Press the tabulator key until something has the focus."""
    for _ in range(most):
        if page.evaluate("(wanted) => document.activeElement.matches(wanted)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{selector} cannot be reached with the tabulator key")


def test_from_the_first_question_to_a_printed_bench_sheet_with_the_keyboard_alone(
    desk: Desk,
) -> None:
    """The first on the page of this file, which is as it opened."""
    page = desk.page
    tab_to(page, "#ask > summary")
    page.keyboard.press("Enter")
    page.wait_for_selector("#questions-form button")
    for key, answer in ANSWERS.items():
        tab_to(page, f"#ask-{key}")
        if page.evaluate("document.activeElement.tagName") == "SELECT":
            page.keyboard.type(answer)
        else:
            page.keyboard.insert_text(answer)
    tab_to(page, "#questions-form button")
    page.keyboard.press("Enter")
    page.wait_for_selector("#work:not([hidden])")
    desk.checked()
    assert "voc: 22.4 V" in desk.text
    assert "arrangement: open" in desk.text
    tab_to(page, "#choose")
    page.keyboard.press("Enter")
    page.wait_for_selector("#change:not([hidden]) button")
    desk.checked()
    assert "arrangement: open" not in desk.text
    tab_to(page, "details[data-shows=bench] > summary")
    page.keyboard.press("Enter")
    page.wait_for_selector("details[data-shows=bench] iframe")
    page.wait_for_selector("details[data-shows=bench]:not([aria-busy])")
    page.evaluate(
        "() => { const inner = document.querySelector('[data-shows=bench] iframe')"
        ".contentWindow; inner.addEventListener('beforeprint', () => "
        "{ document.documentElement.dataset.printed = inner.document.title; }); }"
    )
    tab_to(page, "details[data-shows=bench] .acts button")
    page.keyboard.press("Enter")
    page.wait_for_selector("html[data-printed]", state="attached")
    sheet = page.frame_locator("details[data-shows=bench] iframe")
    assert "Order of connection" in sheet.locator("body").inner_text()
    page.locator("details[data-shows=bench] > summary").click()
    assert desk.complaints == []


def test_the_tabulator_key_passes_through_the_editor(desk: Desk) -> None:
    lay(desk, SOUND)
    tab_to(desk.page, "#editor")
    before = desk.text
    desk.page.keyboard.press("Tab")
    for _ in range(3):
        if desk.page.evaluate("document.activeElement.id") != "editor":
            break
        desk.page.keyboard.press("Tab")
    assert desk.page.evaluate("document.activeElement.id") == "undo"
    assert desk.text == before


def test_a_plan_with_faults_is_mended_to_none_and_it_can_be_taken_back(desk: Desk) -> None:
    before = lay(desk, FAULTY)
    page = desk.page
    assert desk.signal == "DO NOT CONNECT"
    page.locator("#mend-all").click()
    page.wait_for_selector("#change:not([hidden])")
    desk.checked()
    assert desk.signal == "NOTHING FOUND"
    said = page.locator("#change").inner_text()
    assert "Isolate the battery" in said
    assert "WARNING" in said
    assert page.locator("#change pre .come").count() > 0
    page.locator("#change button", has_text="Undo").click()
    desk.checked()
    assert desk.text == before
    assert desk.signal == "DO NOT CONNECT"


def test_one_remedy_is_applied_with_one_press(desk: Desk) -> None:
    lay(desk, FAULTY)
    page = desk.page
    first = page.locator("#findings li").first
    words = first.locator(".what").inner_text()
    first.get_by_role("button", name="apply the remedy").click()
    page.wait_for_selector("#change:not([hidden])")
    desk.checked()
    assert words not in page.locator("#findings").inner_text()
    page.locator("#undo").click()
    desk.checked()
    assert words in page.locator("#findings").inner_text()


def test_a_layout_is_taken_with_one_press(desk: Desk) -> None:
    text = desk.page.evaluate(
        "(told) => wattproofPage.engine.call('begin', {with: [told]}).then((made) => made.text)",
        ANSWERS,
    )
    desk.lay(text)
    desk.unfold("layouts")
    body = desk.page.locator("details[data-shows=layouts]")
    assert "Take `" not in body.inner_text()
    body.get_by_role("button", name="Take 2s2p").click()
    desk.page.wait_for_selector("#change:not([hidden])")
    desk.checked()
    assert "arrangement: 2s2p" in desk.text
    body.locator("summary").first.click()


def test_findings_stand_at_their_lines_and_unfold(desk: Desk) -> None:
    lay(desk, FAULTY)
    page = desk.page
    first = page.locator("#findings li").first
    first.locator("summary").click()
    assert "Basis" in first.inner_text()
    first.get_by_role("button", name="to line").click()
    line = int(first.get_by_role("button", name="to line").inner_text().removeprefix("Line "))
    assert page.locator("#editor .cm-lint-marker-error").count() > 0
    shown = page.locator("#editor .cm-activeLine")
    assert shown.inner_text() == desk.text.split("\n")[line - 1]
    assert is_inside(shown, page.locator("#editor"))


def is_inside(one: Locator, other: Locator) -> bool:
    """Whether an element can be seen where another leaves room, and on the screen."""
    box, room = one.bounding_box(), other.bounding_box()
    assert box is not None
    assert room is not None
    size = one.page.viewport_size
    assert size is not None
    low = min(room["y"] + room["height"], size["height"])
    return max(room["y"], 0) <= box["y"] and box["y"] + box["height"] <= low


def test_what_is_going_on_is_said_where_one_looks(desk: Desk) -> None:
    """A remedy is tried for seconds, and an address tells who can read it."""
    lay(desk, FAULTY)
    desk.page.locator("#share").click()
    desk.page.wait_for_selector("#status:not(:empty)")
    top = desk.page.evaluate("document.querySelector('#status').getBoundingClientRect().top")
    assert 0 <= top < 800


def test_it_checks_while_somebody_types(desk: Desk) -> None:
    lay(desk, SOUND)
    assert desk.signal == "NOTHING FOUND"
    page = desk.page
    page.locator("#editor .cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("settin: boat\n")
    desk.checked()
    assert desk.signal == "CANNOT BE CHECKED"
    assert "settin" in page.locator("#problems").inner_text()
    page.locator("#problems button").first.click()
    for _ in range(3):
        page.keyboard.press("Control+z")
    desk.checked()
    assert desk.signal == "NOTHING FOUND"


def test_keys_are_completed_and_explained(desk: Desk) -> None:
    desk.lay("wattproof: 1\nsetting: vehicle\nsite:\n  \nstrings:\n  roof: {module: a, \n")
    page = desk.page
    page.locator("#editor .cm-content").click()
    page.keyboard.press("Control+Home")
    for _ in range(3):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("End")
    page.keyboard.press("Control+ ")
    listed = page.locator("#editor .cm-tooltip-autocomplete")
    listed.wait_for()
    assert "coldest" in listed.inner_text()
    assert "voc" not in listed.inner_text().split()
    page.keyboard.type("colde")
    page.wait_for_timeout(300)
    page.keyboard.press("Enter")
    assert "  coldest: " in desk.text
    page.keyboard.press("Control+End")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Control+ ")
    listed.wait_for()
    assert "series" in listed.inner_text()
    page.keyboard.press("Escape")
    page.locator("#editor .cm-line", has_text="setting").locator("span").first.hover()
    told = page.locator("#editor .explained")
    told.wait_for()
    assert told.inner_text().startswith("setting")


def test_files_are_opened_and_saved_as_they_are(desk: Desk, tmp_path: Path) -> None:
    files = example(SOUND)
    for name, text in files.items():
        (tmp_path / Path(name).name).write_bytes(text.replace("\n", "\r\n").encode())
    page = desk.page
    page.locator("#again").click()
    page.locator("#files").set_input_files([str(path) for path in sorted(tmp_path.iterdir())])
    page.wait_for_selector("#work:not([hidden])")
    desk.checked()
    assert desk.signal == "NOTHING FOUND"
    assert page.locator("#file option").count() == 2
    page.locator("#editor .cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("# mine\n")
    desk.checked()
    with page.expect_download() as saved:
        page.locator("#save").click()
    expected = "# mine\n" + files[SOUND]
    assert saved.value.suggested_filename == Path(SOUND).name
    assert Path(saved.value.path()).read_bytes() == expected.replace("\n", "\r\n").encode()
    desk.unfold("whole")
    with page.expect_download() as saved:
        page.locator("details[data-shows=whole] button", has_text="Save").click()
    assert saved.value.suggested_filename == "van-six-modules.html"
    assert Path(saved.value.path()).read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    page.locator("details[data-shows=whole] > summary").click()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_editor_is_as_dark_as_the_screen(desk: Desk, scheme: str) -> None:
    lay(desk, SOUND)
    desk.page.emulate_media(color_scheme=scheme)
    ground = desk.page.locator("#editor .cm-editor").evaluate(
        "(each) => getComputedStyle(each).backgroundColor"
    )
    assert ground == {"light": "rgb(255, 255, 255)", "dark": "rgb(21, 25, 28)"}[scheme]
    desk.page.emulate_media(color_scheme="light")


def test_work_without_bound_is_stopped_and_the_page_goes_on(desk: Desk) -> None:
    lay(desk, SOUND)
    page = desk.page
    starts = page.evaluate("wattproofPage.engine.starts")
    page.evaluate("wattproofPage.engine.seconds = 0.002")
    page.locator("#editor .cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("# more\n")
    desk.checked()
    assert desk.signal == "NOT FULLY CHECKED"
    assert "was stopped" in page.locator("#panel").inner_text()
    assert page.locator("#findings li").count() == 0
    page.evaluate("wattproofPage.engine.seconds = 20")
    page.keyboard.type("# and more\n")
    desk.checked()
    assert desk.signal == "NOTHING FOUND"
    assert page.evaluate("wattproofPage.engine.starts") == starts + 1


def test_memory_stays_bounded_over_many_checks(desk: Desk) -> None:
    """Of the program in its worker and of the page, together under 400 MB."""
    text = lay(desk, SOUND)
    files = {**example(SOUND)}
    for number in range(amount(15, 50)):
        files[SOUND] = f"# {number}\n{text}"
        desk.call("check", files, SOUND)
    lay(desk, FAULTY)
    worker = desk.page.evaluate("wattproofPage.engine.bytes")
    page = desk.page.evaluate("performance.memory.usedJSHeapSize")
    assert worker + page < 400e6


def test_what_was_typed_last_is_kept_on_the_device_until_it_is_forgotten(
    desk: Desk, site: Path
) -> None:
    page = desk.page
    lay(desk, SOUND)
    page.locator("#editor .cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("# mine")
    kept = desk.text
    desk.open((site / "index.html").as_uri())
    page.locator("#last-open").click()
    desk.checked()
    assert desk.text == kept
    page.locator("#again").click()
    page.locator("#last-forget").click()
    assert page.locator("#last").is_hidden()


def test_headings_are_in_order_and_everything_has_a_name(desk: Desk) -> None:
    lay(desk, FAULTY)
    desk.unfold("questions")
    page = desk.page
    levels = page.locator("h1, h2, h3").evaluate_all(
        "(heads) => heads.filter((h) => h.checkVisibility()).map((h) => Number(h.tagName[1]))"
    )
    assert levels[0] == 1
    assert levels.count(1) == 1
    unnamed = page.evaluate(
        "[...document.querySelectorAll('input, button, summary, select, iframe, [tabindex]')]"
        ".filter((each) => !(each.labels?.length || each.textContent.trim() || each.title"
        " || each.getAttribute('aria-label') || each.getAttribute('aria-labelledby')))"
        ".map((each) => each.outerHTML)"
    )
    assert unnamed == []
    page.locator("details[data-shows=questions] > summary").click()


def test_cautions_and_the_last_word_of_others_stand_where_the_verdict_stands(desk: Desk) -> None:
    lay(desk, FAULTY)
    said = desk.page.locator("#verdict").inner_text()
    assert "does not replace the local code" in said
    assert "Whom to ask" in said
    assert desk.page.locator("#findings .caution").count() > 0
    desk.lay("wattproof: 1\nfuses: 3\n")
    assert "does not replace the local code" in desk.page.locator("#verdict").inner_text()


def test_a_telephone_is_enough(desk: Desk) -> None:
    page = desk.page
    page.set_viewport_size({"width": 360, "height": 800})
    if page.locator("#again").is_visible():
        page.locator("#again").click()
    width = "document.documentElement.scrollWidth"
    assert page.evaluate(width) == 360
    if not page.locator("#questions-form").is_visible():
        page.locator("#ask > summary").click()
    page.wait_for_selector("#questions-form button")
    assert page.evaluate(width) == 360
    lay(desk, FAULTY)
    box = page.locator("#panel").bounding_box()
    assert box is not None
    assert 0 <= box["y"] < 800
    for shows in ("layouts", "diagram", "curves", "questions", "bench", "whole"):
        desk.unfold(shows)
        assert page.evaluate(width) == 360, shows
    page.locator("#mend-all").click()
    page.wait_for_selector("#change:not([hidden])")
    assert page.evaluate(width) == 360
    assert re.search(r"\w", page.locator("#change").inner_text())


def test_nothing_was_complained_of(desk: Desk) -> None:
    """Runs last on the page of this file: neither an error nor a breach of the policy."""
    assert desk.complaints == []
