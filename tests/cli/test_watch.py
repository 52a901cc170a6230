"""wattproof watch in the real browser: a page that follows its file, and how the program ends."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from cli.calls import FAULTY, ROOT, SOUND, SOURCES, UNUSABLE, call

pytestmark = pytest.mark.skipif(os.name == "nt", reason="ends programs by a signal of Unix")
SIGNAL = ".panel .signal"
MANY = (ROOT / "examples" / "faulty" / "van-cold-morning.yaml").read_text(encoding="utf-8")


def heard() -> None:
    """Let control-C be heard; it is ignored where tests run in the background."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def without_numbers(words: str) -> str:
    return re.sub(r"[\d.]+", "", words)


@contextmanager
def watching(plan: Path, *options: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The program at work, and the address that it tells."""
    with subprocess.Popen(
        [sys.executable, "-u", "-m", "wattproof", "watch", plan.name, *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=plan.parent,
        env={**os.environ, "PYTHONPATH": SOURCES},
        encoding="utf-8",
        preexec_fn=heard,
    ) as process:
        try:
            assert process.stdout is not None
            yield process, process.stdout.readline().strip()
        finally:
            if process.poll() is None:
                process.kill()


def ended(process: subprocess.Popen[str]) -> tuple[int, str, str]:
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=20)
    return process.returncode, out, err


@contextmanager
def shown(browser: Browser, address: str, width: int = 1100) -> Iterator[tuple[Page, list[str]]]:
    """The page, with all that it complains of and all that it asks of others."""
    context = browser.new_context(viewport={"width": width, "height": 700})
    page, complaints = context.new_page(), []
    host = urlsplit(address).netloc
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on(
        "request",
        lambda request: (
            None if urlsplit(request.url).netloc == host else complaints.append(request.url)
        ),
    )
    page.goto(address)
    try:
        yield page, complaints
    finally:
        context.close()


def test_a_page_follows_its_file_and_control_c_ends_it(browser: Browser, tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(SOUND, encoding="utf-8")
    with watching(plan) as (process, address):
        assert re.fullmatch(r"http://127\.0\.0\.1:\d+/[\w-]{32}/", address)
        with shown(browser, address) as (page, complaints):
            signal_ = page.locator(SIGNAL)
            expect(signal_).to_have_text("NOTHING FOUND")
            plan.write_text(FAULTY, encoding="utf-8")
            expect(signal_).to_have_text("FIX FIRST")
            plan.write_text(UNUSABLE, encoding="utf-8")
            expect(signal_).to_have_text("CANNOT BE CHECKED")
            expect(page.locator("#problems")).to_contain_text("has no unit")
            plan.unlink()
            expect(page.locator("#problems")).to_contain_text("cannot be read")
            beside = tmp_path / "new.yaml"
            beside.write_text(SOUND, encoding="utf-8")
            beside.replace(plan)
            expect(signal_).to_have_text("NOTHING FOUND")
            settings = tmp_path / "wattproof-settings.yaml"
            settings.write_text("wattproof-settings: 1\nrules: {no-rule: {}}\n", encoding="utf-8")
            expect(page.locator("#problems")).to_contain_text("no-rule")
            settings.unlink()
            expect(signal_).to_have_text("NOTHING FOUND")
            assert complaints == []
            status, out, err = ended(process)
            assert (status, err) == (0, "")
            assert "FIX FIRST" in out
            expect(page.locator(".live.ended")).to_contain_text("has ended")


def test_files_of_labels_are_followed_those_too_that_come_later(
    browser: Browser, tmp_path: Path
) -> None:
    source = ROOT / "examples" / "van-six-modules.yaml"
    labels = (ROOT / "examples" / "parts" / "heron-labels.yaml").read_text(encoding="utf-8")
    plan, parts = tmp_path / "plan.yaml", tmp_path / "parts"
    plan.write_text(source.read_text(encoding="utf-8"), encoding="utf-8")
    with watching(plan) as (process, address), shown(browser, address) as (page, complaints):
        expect(page.locator("#problems")).to_contain_text("heron-labels.yaml")
        parts.mkdir()
        (parts / "heron-labels.yaml").write_text(labels, encoding="utf-8")
        expect(page.locator(SIGNAL)).to_have_text("NOTHING FOUND")
        (parts / "heron-labels.yaml").write_text(labels + "modules: 3\n", encoding="utf-8")
        expect(page.locator(SIGNAL)).to_have_text("CANNOT BE CHECKED")
        assert complaints == []
        assert ended(process)[0] == 0


@pytest.mark.parametrize("width", [360, 1100])
def test_what_is_unfolded_sifted_and_scrolled_stays(
    browser: Browser, tmp_path: Path, width: int
) -> None:
    """Also where a finding above is gone, so that all below it move up and are renumbered."""
    plan = tmp_path / "plan.yaml"
    plan.write_text(MANY, encoding="utf-8")
    with watching(plan) as (process, address), shown(browser, address, width) as (page, _):
        sheets = page.locator("#findings .sheet")
        before = sheets.count()
        about = sheets.last.get_attribute("data-about")
        last = page.locator(f'[data-about="{about}"]')
        page.get_by_label("Notes").uncheck()
        page.get_by_label("Notes").check()
        last.locator("summary").click()
        page.evaluate("document.querySelector('.drawing').scrollLeft = 40")
        page.evaluate(
            "(name) => { const at = document.querySelector(`[data-about='${name}']`);"
            " window.scrollBy(0, at.getBoundingClientRect().top - 120); }",
            about,
        )
        top = last.evaluate("(each) => each.getBoundingClientRect().top")
        left = page.evaluate("document.querySelector('.drawing').scrollLeft")
        said = last.locator(".headline").inner_text()
        assert "series: 4" in MANY
        plan.write_text(MANY.replace("series: 4", "series: 2", 1), encoding="utf-8")
        expect(page.locator("html")).to_have_attribute("data-page", "2")
        page.wait_for_load_state("load")
        assert sheets.count() != before
        assert last.locator("details").get_attribute("open") is not None
        assert last.evaluate("(each) => each.getBoundingClientRect().top") == pytest.approx(
            top, abs=2
        )
        assert page.evaluate("document.querySelector('.drawing').scrollLeft") == left
        assert without_numbers(last.locator(".headline").inner_text()) == without_numbers(said)
        page.get_by_label("Holding the words").fill("cable")
        some = page.locator("#findings .sheet:visible").count()
        plan.write_text(plan.read_text(encoding="utf-8") + "# a note\n", encoding="utf-8")
        expect(page.locator("html")).to_have_attribute("data-page", "3")
        assert page.get_by_label("Holding the words").input_value() == "cable"
        assert page.locator("#findings .sheet:visible").count() == some
        assert page.evaluate("document.documentElement.scrollWidth") == width
        assert ended(process)[0] == 0


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], b"Missing argument"),
        (["missing.yaml"], b"there is no file missing.yaml"),
        (["."], b"there is no file ."),
        (["-"], b"there is no file -"),
        (["wattproof-settings.yaml"], b"holds settings"),
        (["plan.yaml", "--port", "70000"], b"--port"),
        (["plan.yaml", "--option", "no-rule.x=1"], b"no-rule"),
    ],
)
def test_calls_that_cannot_be_followed(tmp_path: Path, arguments: list[str], said: bytes) -> None:
    (tmp_path / "plan.yaml").write_text(SOUND, encoding="utf-8")
    (tmp_path / "wattproof-settings.yaml").write_text("wattproof-settings: 1\n", encoding="utf-8")
    done = call("watch", *arguments, cwd=tmp_path)
    assert done.returncode == 2
    assert said in done.stderr
    assert b"Traceback" not in done.stderr


def test_a_port_that_is_taken_is_said(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(SOUND, encoding="utf-8")
    with watching(plan) as (process, address):
        port = str(urlsplit(address).port)
        done = call("watch", "plan.yaml", "--port", port, cwd=tmp_path)
        assert done.returncode == 2
        assert f"the port {port} cannot be had".encode() in done.stderr
        assert ended(process)[0] == 0
