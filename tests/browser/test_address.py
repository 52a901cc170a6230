"""The page from a server: offline after the first visit, and plans that come in its address."""

from __future__ import annotations

import base64
import zlib
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Error, Page

from browser.desk import Desk, desk_in, example, packed, served

pytestmark = [pytest.mark.xdist_group("page"), pytest.mark.whole]

TRIES = 50
"""How often frames are counted that may be replaced meanwhile, as a section is shown anew."""
SOUND = "examples/van-two-modules.yaml"


@pytest.fixture(scope="module")
def address(site: Path) -> Iterator[str]:
    with served(site) as found:
        yield found


@pytest.fixture(scope="module")
def online(browser: Browser, address: str) -> Iterator[Online]:
    context = browser.new_context()
    opened = Online(context.new_page())
    opened.open(address)
    yield opened
    context.close()


class Online(Desk):
    """A page from a server, and all that the browser asked for."""

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.asked: list[tuple[str, str]] = []
        page.on("request", lambda request: self.asked.append((request.method, request.url)))


def go(desk: Desk, hash: str, until: str) -> None:
    """Go to an address that differs after its `#`, as a link does, until the page has read it."""
    desk.page.evaluate(
        "(hash) => { document.getElementById('came').textContent = '';"
        " document.getElementById('status').className = ''; location.hash = hash; }",
        hash,
    )
    desk.page.wait_for_selector(until, state="attached")


def test_a_plan_travels_in_the_address(browser: Browser, address: str, online: Online) -> None:
    files = example(SOUND)
    online.page.evaluate("(given) => wattproofPage.lay(given)", {"plan": SOUND, "files": files})
    online.checked()
    online.page.locator("#share").click()
    online.page.wait_for_selector("#address-row:not([hidden])")
    shared = online.page.locator("#address").input_value()
    assert shared.startswith(f"{address}#plan=")
    assert len(shared) < 8000
    with desk_in(browser, shared) as other:
        other.page.wait_for_selector("#work:not([hidden])")
        other.checked()
        assert other.text == files[SOUND]
        assert other.page.evaluate("wattproofPage.desk.files") == files
        assert other.signal == online.signal
        assert "somebody else" in other.page.locator("#came").inner_text()
        assert other.complaints == []


def bomb() -> str:
    """An address that is short, and long when it is unpacked."""
    squeezed = zlib.compressobj(9, zlib.DEFLATED, -15)
    data = squeezed.compress(b"0" * 200_000_000) + squeezed.flush()
    return "plan=" + base64.urlsafe_b64encode(data).decode().rstrip("=")


MARKUP = "<img src=x onerror=alert(1)><script>alert(2)</script>"
PLAN = f"wattproof: 1\ntitle: '{MARKUP}'\nsetting: '{MARKUP}'\nfuses:\n  '{MARKUP}': {{}}\n"
DEEP = "wattproof: 1\nsite: " + "{a: " * 400 + "1" + "}" * 400 + "\n"
LAUGHS = "wattproof: 1\na0: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 12)
)
DESKS = {
    "markup": {"plan": "plan.yaml", "files": {"plan.yaml": PLAN}},
    "markup-in-the-name": {"plan": MARKUP, "files": {MARKUP: "wattproof: 1\n"}},
    "deep": {"plan": "plan.yaml", "files": {"plan.yaml": DEEP}},
    "aliases": {"plan": "plan.yaml", "files": {"plan.yaml": LAUGHS}},
    "not-yaml": {"plan": "plan.yaml", "files": {"plan.yaml": "\u0000\u202e\ud83d {[" * 50}},
    "tag": {"plan": "a.yaml", "files": {"a.yaml": "wattproof: 1\nsite: !!python/name:os.system x"}},
    "parts-elsewhere": {
        "plan": "a.yaml", "files": {"a.yaml": "wattproof: 1\nparts: [/lib, ../../etc/passwd]\n"},
    },
}  # fmt: skip
REFUSED = {
    "bomb": "",
    "not-whole": "plan=AAAA%%%%",
    "not-deflated": "plan=" + base64.urlsafe_b64encode(b"no such thing").decode(),
    "too-long": "plan=" + "A" * 500_000,
    "no-desk": packed([1, 2, 3]),
    "no-files": packed({"plan": "plan.yaml", "files": {}}),
    "many-files": packed({"plan": "0", "files": {str(n): "" for n in range(500)}}),
    "no-text": packed({"plan": "a", "files": {"a": {"toString": "x"}}}),
    "way-out": packed({"plan": "../../lib/x.py", "files": {"../../lib/x.py": "x"}}),
    "turned-name": packed({"plan": "a\u202elmay", "files": {"a\u202elmay": "x"}}),
    "prototype": packed(b'{"plan": "__proto__", "files": {"__proto__": "x"}}'),
    "not-utf-8": packed(b'{"plan": "a", "files": {"a": "\xff"}}'),
}


def in_frames(page: Page, selector: str) -> int:
    """How many such elements the frames of a page hold, once none of them is replaced."""
    for _ in range(TRIES):
        frames = [frame for frame in page.frames[1:] if not frame.is_detached()]
        try:
            return sum(frame.locator(selector).count() for frame in frames)
        except Error as replaced:
            if "detached" not in replaced.message:
                raise
    raise AssertionError("the frames of the page are replaced without end")


@pytest.mark.parametrize("name", DESKS)
def test_a_hostile_plan_in_the_address_is_text_and_nothing_else(online: Online, name: str) -> None:
    online.complaints.clear()
    go(online, packed(DESKS[name]), "#came:not(:empty)")
    online.checked()
    assert online.signal in ("CANNOT BE CHECKED", "NOT FULLY CHECKED")
    page = online.page
    assert page.locator("main img:not(.cm-widgetBuffer), main script").count() == 0
    for shows in ("diagram", "whole"):
        online.unfold(shows)
        assert in_frames(page, "img, script") == 0
        page.locator(f"details[data-shows={shows}] > summary").click()
    assert online.complaints == []
    assert page.evaluate("wattproofPage.engine.starts") == 1


@pytest.mark.parametrize("name", REFUSED)
def test_an_address_that_holds_no_plan_is_refused(online: Online, name: str) -> None:
    online.complaints.clear()
    go(online, REFUSED[name] or bomb(), "#status.wrong")
    assert "holds no plan that can be read" in online.page.locator("#status").inner_text()
    assert online.page.locator("#work").is_hidden()
    assert online.complaints == []


def test_nothing_was_loaded_from_elsewhere_and_nothing_was_sent(
    online: Online, address: str
) -> None:
    """Of all that was done on the page of this file until here."""
    assert {method for method, _ in online.asked} == {"GET"}
    own = (address, f"blob:{address}")
    assert all(url.startswith(own) or url == "data:," for _, url in online.asked), online.asked
    assert not any("plan=" in url for _, url in online.asked)


def test_after_the_first_visit_no_network_is_needed(online: Online, address: str) -> None:
    """Runs last, since it takes the network away."""
    online.complaints.clear()
    online.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    online.page.context.set_offline(True)
    online.page.goto("about:blank")
    online.open(address)
    files = example(SOUND)
    online.page.evaluate("(given) => wattproofPage.lay(given)", {"plan": SOUND, "files": files})
    online.checked()
    assert online.signal in ("NOTHING FOUND", "LOOK AGAIN")
    assert online.complaints == []
